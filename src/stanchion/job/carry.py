"""Carrying a job forward to the next occasion: its setup, without what was measured and noted."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from stanchion.base.text import clean
from stanchion.job.aboard import balance_alone, same_rider, share_on_front
from stanchion.job.damping import Damping
from stanchion.job.edit import Edit, apply, spec_at
from stanchion.job.measured import carried_along
from stanchion.job.model import Job, Occasion, Readings, SagEnd
from stanchion.job.name_match import match_key
from stanchion.job.runs import base_positions
from stanchion.job.shut_in import carried_from_there
from stanchion.job.spec import Number, Text

_NAME = spec_at(("job", "carried_from"))
LONGEST_NAME = _NAME.longest if isinstance(_NAME, Text) else None

_SHARE = spec_at(("weights", "rider_front_share_pct"))
_OF_THE_DAY = ("sag", "found", "runs")


def carried(job: Job, file_name: str, today: dt.date) -> Job:
    """A new job that starts from an earlier one.

    Machine, rider, venue with its altitude, the last session, use, the whole setup and upkeep are kept, and where no
    base was set, the positions of the first run become it; so is how sag is read (gauge, tape), and the length with the
    wheel hanging while nothing changed it. Air keeps its amount, and is noted to be from there. Other sag readings, the
    fuel they were taken with, the machine as found, runs, notes, attached files, and which torques were done are
    cleared, for they belong to the day; so do comments and keys that this version does not know under [sag], [found]
    and [[runs]]. The new job is no sample, and has no id until its file is made: it is another job.

    Args:
        job: the job to start from.
        file_name: the name of its file, recorded as the origin of the new job.
        today: the date of the new job.
    """
    based = carried_from_there(job)
    for path, base in base_positions(job).items():
        based = apply(based, Edit(path, base))
    return replace(
        based,
        job=replace(
            based.job,
            date=today,
            session=job.runs[-1].session if job.runs else job.job.session,
            carried_from=file_name[:LONGEST_NAME],
            carried_id=job.job.id,
            id="",
            sample=False,
            notes="",
        ),
        upkeep=replace(
            carried_along(job), torques=tuple(replace(t, done=False, initials="") for t in job.upkeep.torques)
        ),
        runs=(),
        attached=(),
        found=None,
        damping=Damping(),
        sag=replace(job.sag, front=_unread(job.sag.front), rear=_unread(job.sag.rear), fuel=""),
        unknown=tuple((path, value) for path, value in job.unknown if path[0] not in _OF_THE_DAY),
        comments=tuple(one for one in job.comments if one.path[:1] not in [(name,) for name in _OF_THE_DAY]),
    )


def another_rider(job: Job, earlier: Job) -> bool:
    """Whether a job names another rider than an earlier one, or gives another mass for the rider."""
    now, then = job.job, earlier.job
    if not same_rider(clean(now.rider), clean(then.rider)):
        return True
    return now.rider_mass_kg != then.rider_mass_kg and None not in (now.rider_mass_kg, then.rider_mass_kg)


def without_aboard(job: Job, earlier: Job) -> Job:
    """The job without what was weighed with the rider aboard, level and lifted: it is true of the earlier rider only.

    Where another mass is given for the new rider, and no share of the rider on the front wheel is entered, it has the
    earlier rider's share by those scales, to estimate from until the new rider is weighed.
    """
    weights = replace(
        job.weights, front_aboard_kg=None, rear_aboard_kg=None, aboard_rider_kg=None, aboard_rider_at="both"
    )
    if job.job.rider_mass_kg not in (None, earlier.job.rider_mass_kg) and weights.rider_front_share_pct is None:
        weights = replace(weights, rider_front_share_pct=_share_kept(earlier))
    return replace(job, weights=weights, balance=balance_alone(job))


def _share_kept(job: Job) -> float | None:
    """The rider's share on the front wheel by the scales [%]; None where it is not known, or cannot be right."""
    share = share_on_front(job)
    if share is None or not isinstance(_SHARE, Number) or not _SHARE.low <= share <= _SHARE.high:
        return None
    return round(share, 1)


def identified(job: Job, identity: str) -> Job:
    """The job with another id."""
    return job if job.job.id == identity else replace(job, job=replace(job.job, id=identity))


def may_be_source(job: Occasion, other: Occasion) -> bool:
    """Whether a job found under the name in `carried_from` can be the one this was carried forward from.

    Two ids decide it. Files from before ids were written are distinguished as far as possible: by the machine.

    >>> may_be_source(Occasion(carried_id="a1"), Occasion(id="b2"))
    False
    """
    if job.carried_id and other.id:
        return job.carried_id == other.id
    named = match_key(job.machine), match_key(other.machine)
    return not all(named) or named[0] == named[1]


def _unread(end: SagEnd) -> SagEnd:
    kept = end.hanging_mm if end.hanging_holds and end.gauge == "length" else ()
    return replace(end, hanging_mm=kept, hanging_holds=bool(kept), static=Readings(), rider=Readings())
