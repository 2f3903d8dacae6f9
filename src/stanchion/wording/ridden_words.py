"""When a run was ridden and with which settings, in words."""

from __future__ import annotations

import datetime as dt

from stanchion.base.text import clean
from stanchion.job.model import Job, Run
from stanchion.planning.ridden_as import RiddenAs, since
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.changes import changes_in_words

LONGEST = 160


def began_words(job: Job, run: Run) -> str:
    """Session and time of a run, with its day where that is not the day of the job.

    >>> began_words(Job(), Run(session="Practice 2", time="10:40"))
    'Practice 2 10:40'
    """
    day = run.date.isoformat() if run.date is not None and run.date != job.job.date else ""
    return " ".join(filter(None, (clean(run.session, 30).strip(), day, clean(run.time, 20).strip())))


def ridden_as_words(job: Job, of: RiddenAs, units: Units = METRIC) -> str:
    """Settings that a run may have been ridden with, and what was changed since.

    >>> ridden_as_words(Job(), RiddenAs(what="now", front=Job().front, rear=Job().rear))
    'as set now'
    """
    names = {"now": "as set now", "before": "as before the last change", "found": "as found"}
    name = names.get(of.what, f"as run {of.run + 1}")
    changes = changes_words(job, of, units)
    return f"{name} (since then: {changes})" if changes else name


def changes_words(job: Job, of: RiddenAs, units: Units = METRIC) -> str:
    """What was changed from those settings to the present ones; empty: nothing."""
    return clean("; ".join(changes_in_words(since(job, of), job, units)), LONGEST)


def question_of_run(at: int, began: dt.datetime | None, changed: dt.datetime | None, key: str) -> str:
    """The question whether a run was ridden with the present settings.

    Args:
        at: the run, from 0.
        began: when it began, if that is before the last change.
        changed: when the settings were last changed.
        key: the key that answers otherwise.

    >>> question_of_run(2, None, None, "^R")
    'Ridden as set now? Changed since run 2: press ^R if it was ridden as before.'
    >>> began, changed = dt.datetime(2026, 5, 30, 9, 40), dt.datetime(2026, 5, 31, 0, 11)
    >>> question_of_run(0, began, changed, "^R").partition(": press")[0]
    'Ridden as set now? It began on 2026-05-30 at 09:40, before the last change, on 2026-05-31 at 00:11'
    """
    why = f"Changed since run {at}"
    if began is not None and changed is not None:
        if began.date() == changed.date():
            why = f"It began at {began:%H:%M}, before the last change, at {changed:%H:%M}"
        else:
            why = f"It began on {began:%Y-%m-%d at %H:%M}, before the last change, on {changed:%Y-%m-%d at %H:%M}"
    return f"Ridden as set now? {why}: press {key} if it was ridden as before."
