"""Changes judged by riding, a line each: what was changed, what for, what is expected, and the rider's verdict."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from stanchion.base.text import clean
from stanchion.job.change import ChangeToRide, ExpectedEffect, RiddenChange
from stanchion.job.model import Job
from stanchion.job.proof import differences_of
from stanchion.job.spec import specs_of
from stanchion.judgement.work.proof import verdict_wanted
from stanchion.report.json_data import JsonData, plain_value
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.changes import changes_in_words
from stanchion.wording.complaint_labels import complaints_words
from stanchion.wording.proof_sentences import changed_for_run, expected_words, verdict_alone

TITLE = "Changes judged by riding"
NO_VERDICT = "no verdict yet: ask the rider, better, same or worse"
UNRECORDED = "no change recorded"
_LONGEST = 400
_EXPECTED = tuple(specs_of(ExpectedEffect))


def changes_judged(job: Job, units: Units = METRIC) -> Iterator[tuple[str, str]]:
    """A row for each change that a run was ridden with and that has a verdict or waits for one, then for each that no
    run was ridden with yet."""
    for at, run in enumerate(job.runs):
        wanted = verdict_wanted(job, at)
        if run.change is None and run.verdict == "not_said" and not wanted:
            continue
        verdict = verdict_alone(run) or (NO_VERDICT if wanted else "")
        yield f"Run {at + 1}:", _words(changed_for_run(job, at, units) or UNRECORDED, run.change, verdict, units)
    for change in job.changes:
        changed = "; ".join(changes_in_words(differences_of(change), job, units, both=True))
        if change.made_on is None:
            head, ending = "To be made:", ""
        else:
            head, ending = "To be ridden:", f"made {change.made_on.isoformat()} {change.made_at}".rstrip()
        yield head, _words(changed or UNRECORDED, change, ending, units)


def _words(changed: str, change: RiddenChange | ChangeToRide | None, ending: str, units: Units) -> str:
    """One change in a line; what is not known of it is left out."""
    told = complaints_words(change.complaints) if change is not None else ""
    expected = expected_words(change.expected, units) if change is not None else ""
    parts = (changed, told and f"for: {told}", expected and f"expected: {expected}", ending)
    return clean(". ".join(part[:1].upper() + part[1:] for part in parts if part) + ".", _LONGEST)


def waiting_json(data: JsonData, job: Job) -> list[dict[str, Any]]:
    """The changes that no run was ridden with yet: each setting before and after, what for, and what is expected."""
    return [
        {
            **data.of(f"changes.{at}", change, ("made_on", "made_at")),
            "complaints": plain_value(change.complaints),
            "moves": plain_value(change.moves),
            "expected": data.of(f"changes.{at}.expected", change.expected, _EXPECTED),
        }
        for at, change in enumerate(job.changes)
    ]
