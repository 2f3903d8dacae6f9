"""Runs: the settings recorded with one when it is logged, the job as it was ridden, and changes in between."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Iterator
from dataclasses import fields, replace

from stanchion.base.errors import BadEdit
from stanchion.job.change import ChangeToRide
from stanchion.job.diff import Difference, differences
from stanchion.job.edit import Edit, apply, value_at
from stanchion.job.model import SIDES, Adjuster, Clicker, Job, Leg, Path, Rear, Run
from stanchion.job.proof import differences_of, made

FACTS = frozenset(
    {
        "air_gap_least_mm",
        "click_mm",
        "damper_rod_mm",
        "eye_to_eye_mm",
        "gas_volume_ml",
        "linkage",
        "motion_ratio",
        "pitch_mm",
        "reading_in",
        "reading_out",
        "shaft_mm",
        "stanchion_inner_mm",
        "stanchion_outer_mm",
        "stroke_mm",
        "total",
        "total_clicks",
        "total_turns",
        "travel_mm",
        "wheel_travel_mm",
    }
)
"""Fields of fork and shock that are facts of the machine: one that is entered later was true before, too."""
POSITIONS = frozenset({"fork_height_mm", "length_adjuster_mm", "now"})
"""Fields that are read where they stand: the first reading of one is a record, not a change."""


def new_run(job: Job, time: str, date: dt.date | None = None) -> Run:
    """A run to be filled in, with the present settings of the job, in the session of the run before on that day.

    Args:
        job: the job as it is ridden.
        time: when the run begins, as it is shown.
        date: its day; None: that of the job.
    """
    last = job.runs[-1] if job.runs else Run()
    session = job.job.session if not job.runs else last.session if last.date == date else ""
    return Run(date=date, session=session, time=time, marker_from=last.marker_from, front=job.front, rear=job.rear)


_CLOCK = re.compile(r"([0-9]{1,2})[:.]([0-9]{2})", re.ASCII)


def began_at(job: Job, run: Run) -> dt.datetime | None:
    """Day and time at which a run began; None: the time is not known.

    >>> began_at(Job(), Run(date=dt.date(2026, 5, 31), time="09:40"))
    datetime.datetime(2026, 5, 31, 9, 40)
    """
    match = _CLOCK.fullmatch(run.time.strip())
    if match is None or int(match[1]) > 23 or int(match[2]) > 59:
        return None
    return dt.datetime.combine(run.date or job.job.date, dt.time(int(match[1]), int(match[2])))


def as_set(job: Job) -> Run:
    """A run with the present settings of a job, and nothing else."""
    return Run(front=job.front, rear=job.rear)


def is_blank(run: Run) -> bool:
    """Whether a run holds nothing yet but what logging fills in."""
    of_itself = Run(date=run.date, session=run.session, time=run.time)
    return run == replace(of_itself, marker_from=run.marker_from, change=run.change, front=run.front, rear=run.rear)


def as_ridden(job: Job, run: Run) -> Job:
    """The job with the settings recorded with a run; other fields are as in the job."""
    return replace(job, front=run.front or job.front, rear=run.rear or job.rear)


def changes_between(job: Job, earlier: Run, later: Run) -> tuple[Difference, ...]:
    """What was changed at fork and shock from one run to another; computed, never stored.

    A fact of the machine, or a position, that was only recorded in between is omitted, and so is another base setting:
    nothing is turned for it.

    Args:
        job: the job the runs belong to.
        earlier: the first run.
        later: the second run.
    """
    return _changes(as_ridden(job, earlier), as_ridden(job, later))


def _changes(earlier: Job, later: Job) -> tuple[Difference, ...]:
    found = differences(earlier, later)
    return tuple(change for change in found if change.path[-1] != "base" and not only_recorded(change))


def only_recorded(change: Difference) -> bool:
    """Whether a difference is a fact of the machine that was true before it was recorded, or a position read for the
    first time: so is how its linkage was read, as long as none of the readings is another than before."""
    if "points" in change.path:
        return change.old is None or isinstance(change.old, str)
    if change.path[-1] in POSITIONS:
        return change.old is None
    return change.path[-1] in FACTS and change.old in (None, ())


def with_moves(run: Run, changes: Iterable[ChangeToRide]) -> Run:
    """A run with the positions that were recorded only after it, as the changes made since began from them.

    Args:
        run: the run.
        changes: the changes made after it, the first one first.
    """
    if run.front is None or run.rear is None:
        return run
    then = Job(front=run.front, rear=run.rear)
    for move in (move for change in changes for move in differences_of(change)):
        try:
            if move.path[-1] in POSITIONS and move.old is not None and value_at(then, move.path) is None:
                then = apply(then, Edit(move.path, move.old))
        except BadEdit:  # the machine had no such part then
            continue
    return replace(run, front=then.front, rear=then.rear)


def run_as_left(job: Job, at: int) -> Run:
    """A run, with what is known of its positions by the changes the machine has that were not ridden yet."""
    return with_moves(job.runs[at], made(job))


def changes_before(job: Job, at: int) -> tuple[Difference, ...]:
    """What was changed at fork and shock between the run before and this one; nothing for the first."""
    if not 0 < at < len(job.runs):
        return ()
    return changes_between(job, job.runs[at - 1], job.runs[at])


def changes_since(job: Job, at: int) -> tuple[Difference, ...]:
    """What was changed at fork and shock since a run was ridden.

    A fact of the machine, or a position, that was only recorded since is omitted.
    """
    return _changes(as_ridden(job, run_as_left(job, at)), job)


def run_as_set(job: Job) -> int | None:
    """The latest run that was ridden with the settings the machine has now; None: no run was. One that was begun, and
    of which nothing was read yet, does not count."""
    for at in range(len(job.runs) - 1, -1, -1):
        run = job.runs[at]
        if run.front is not None and run.rear is not None and not is_blank(run) and not changes_since(job, at):
            return at
    return None


def ridden_at(job: Job, path: Path) -> tuple[float | None, ...]:
    """The position of an adjuster, or a height, in each run; None where it was not recorded or was counted in something
    else than now.

    Args:
        job: the job.
        path: where the position is in the job.
    """
    counted = counted_in(job, path)
    return tuple(
        value_at(job, ("runs", at, *path)) if counted_in(job, ("runs", at, *path)) == counted else None
        for at in range(len(job.runs))
    )


def first_ridden(job: Job, path: Path) -> float | None:
    """The position of an adjuster, or a height, in the first run in which it was recorded; None: in none."""
    return next((one for one in ridden_at(job, path) if one is not None), None)


def base_positions(job: Job) -> dict[Path, float]:
    """The base of each adjuster where there is one: the one that was set, else its position in the first run.

    Args:
        job: the job; the right leg counts only where legs are entered apart.

    Returns:
        The base by the path of its field.
    """
    found = {}
    for part in adjusters(job):
        base = value_at(job, (*part, "base"))
        if base is None:
            base = first_ridden(job, (*part, "now"))
        if base is not None:
            found[(*part, "base")] = base
    return found


def adjusters(job: Job) -> Iterator[Path]:
    """The path of every clicker and preload adjuster; of the right leg only where legs are entered apart."""
    sides = SIDES if job.front.split else SIDES[:1]
    parts: list[tuple[Path, Leg | Rear]] = [(("front", side), job.front.leg(side)) for side in sides]
    parts.append((("rear",), job.rear))
    for at, record in parts:
        for field in fields(record):
            if isinstance(getattr(record, field.name), (Adjuster, Clicker)):
                yield (*at, field.name)


def counted_in(job: Job, path: Path) -> object:
    """What an adjuster is counted in; nothing for a height."""
    if path[-1] != "now":
        return None
    return value_at(job, (*path[:-1], "counting" if path[-2] in ("adjuster", "collar") else "unit"))
