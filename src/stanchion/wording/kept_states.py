"""Words for earlier states of a job: why and when each was kept, and what restoring it would change."""

from __future__ import annotations

import datetime as dt

from stanchion.job.diff import differences
from stanchion.job.model import Job
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.changes import changes_in_words

REASONS = {
    "session-start": "start of a session",
    "while-working": "while working",
    "edited-by-hand": "edited by hand",
    "before-upgrade": "before a new format",
    "replaced-by-mine": "theirs, replaced",
    "replaced-by-theirs": "mine, replaced",
    "merged-mine": "mine, before a merge",
    "merged-theirs": "theirs, before a merge",
    "before-bringing-back": "before bringing back",
}


def reason_words(reason: str) -> str:
    """Why a state was kept.

    >>> reason_words("session-start"), reason_words("of-a-later-version")
    ('start of a session', 'of a later version')
    """
    return REASONS.get(reason, reason.replace("-", " "))


def when_words(at: dt.datetime, today: dt.date) -> str:
    """When a state was kept: the time, and the day where that is another one.

    >>> when_words(dt.datetime(2026, 5, 31, 14, 5, 7), dt.date(2026, 5, 31))
    '14:05:07'
    >>> when_words(dt.datetime(2026, 5, 30, 9, 0), dt.date(2026, 5, 31))
    '30 May 09:00'
    >>> when_words(dt.datetime(2025, 5, 30, 9, 0), dt.date(2026, 5, 31))
    '30 May 2025'
    """
    if at.date() == today:
        return f"{at:%H:%M:%S}"
    return f"{at:%d %b %H:%M}" if at.year == today.year else f"{at:%d %b %Y}"


def what_it_changes(now: Job, state: Job, units: Units = METRIC) -> tuple[str, ...]:
    """What bringing a state back changes, a line each; empty if it equals the present one."""
    return changes_in_words(differences(now, state), state, units)
