"""The words of changes that are judged by riding: what was changed, what is expected, and the rider's verdict."""

from __future__ import annotations

from stanchion.job.change import ExpectedEffect
from stanchion.job.model import Job, Run
from stanchion.job.runs import as_ridden, changes_before
from stanchion.job.spec import Kind
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show
from stanchion.wording.changes import changes_in_words
from stanchion.wording.finding_tables import ProofWords, Words

PROOF: ProofWords = {
    "changed_together": Words(
        "Several changes at once",
        "{count:count} changes at once since run {run:count}: which of them helped will not be known. Ride with one "
        "of them, then the next.",
    ),
    "ridden_together": Words(
        "Several changes ridden at once",
        "Run {run:count} was ridden with {count:count} changes at once: which of them made it better or worse is "
        "not known.",
    ),
    "changed_before_verdict": Words(
        "Changed again before the verdict",
        "Run {run:count} has no verdict on its change, and the machine was changed again since. Ask the rider: "
        "better, same or worse?",
    ),
}
"""The words for findings on changes that are judged by riding."""

VERDICT_WORDS = {"not_said": "no verdict", "better": "better", "same": "the same", "worse": "worse"}
"""How a verdict is named."""

_EXPECTED = (
    ("front_static_mm", "front static sag"),
    ("front_rider_mm", "front rider sag"),
    ("rear_static_mm", "rear static sag"),
    ("rear_rider_mm", "rear rider sag"),
    ("fork_brakes_mm", "fork travel used, on the brakes"),
    ("trail_mm", "trail"),
)


def changed_for_run(job: Job, at: int, units: Units = METRIC) -> str:
    """What a run was ridden with for the first time, with both positions; empty for nothing."""
    ridden = as_ridden(job, job.runs[at])
    return "; ".join(changes_in_words(changes_before(job, at), ridden, units, both=True))


def expected_words(expected: ExpectedEffect, units: Units = METRIC) -> str:
    """What is expected of a change; empty where nothing is known.

    >>> expected_words(ExpectedEffect(rear_rider_mm=31.0, trail_mm=96.0))
    'rear rider sag 31.0 mm, trail 96.0 mm'
    """
    known = ((name, getattr(expected, field)) for field, name in _EXPECTED)
    return ", ".join(f"{name} {show(value, Kind.LENGTH, units)}" for name, value in known if value is not None)


def question_of_verdict(at: int, key: str) -> str:
    """What is asked once a run with a change was logged."""
    return f"Run {at + 1}: better, same or worse? {key}"


def verdict_alone(run: Run) -> str:
    """The verdict on a run against the one before it; empty where none was given.

    >>> verdict_alone(Run(verdict="better")), verdict_alone(Run(verdict="same"))
    ('better than the run before', 'the same as the run before')
    >>> from stanchion.job.change import RiddenChange
    >>> verdict_alone(Run(verdict="better", change=RiddenChange(at_once=2.0)))
    'better than the run before, unclear: 2 changes at once'
    """
    if run.verdict == "not_said":
        return ""
    words = f"{VERDICT_WORDS[run.verdict]} {'as' if run.verdict == 'same' else 'than'} the run before"
    apart = int((run.change.at_once if run.change is not None else None) or 1)
    return f"{words}, unclear: {apart} changes at once" if apart > 1 else words


def verdict_words(run: Run, at: int) -> str:
    """The verdict on a run with its number; empty where none was given.

    >>> verdict_words(Run(verdict="worse"), 2)
    'Run 3: worse than the run before'
    """
    alone = verdict_alone(run)
    return alone and f"Run {at + 1}: {alone}"
