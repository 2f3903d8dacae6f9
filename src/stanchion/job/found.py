"""The machine as it was found: a record apart from the settings of the job, which change afterwards."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from stanchion.job.diff import Difference
from stanchion.job.edit import Edit, apply, value_at
from stanchion.job.measured import SAG_NOTES
from stanchion.job.model import SIDES, AsFound, Job, Path, Sag, SagEnd
from stanchion.job.runs import adjusters

AT: Path = ("found",)
"""The path of the record."""
HEIGHTS: tuple[Path, ...] = (("front", "fork_height_mm"), ("rear", "length_adjuster_mm"))


def found_path(path: Path) -> Path:
    """Where the record holds a setting or reading of the job.

    >>> found_path(("rear", "rebound", "now")), found_path(("found", "rear_cold_bar"))
    (('found', 'rear', 'rebound', 'now'), ('found', 'rear_cold_bar'))
    """
    return path if path[:1] == AT else (*AT, *path)


def found_value(job: Job, path: Path) -> Any:
    """The setting or reading as it was found; None or empty: not taken."""
    return value_at(job, found_path(path))


def positions(job: Job) -> Iterator[Path]:
    """Where the position of each adjuster, both heights and the pressures of air springs are in a job."""
    yield from ((*part, "now") for part in adjusters(job))
    yield from HEIGHTS
    yield from pressures(job)


def pressures(job: Job) -> Iterator[Path]:
    """Where the pressures of what is sprung by air are; of the right leg only where legs are entered apart."""
    for side in SIDES if job.front.split else SIDES[:1]:
        air = job.front.leg(side).air
        yield from (("front", side, "air", name) for name in (air.pumped if air.fitted else ()))
    air = job.rear.air
    yield from (("rear", "air", name) for name in (air.pumped if air.fitted else ()))


def all_recorded(job: Job, today: dt.date) -> AsFound:
    """Everything that is recorded now, as it was found; tyre pressures as they were taken before."""
    tyres = job.found or AsFound()
    return replace(tyres, on=today, front=job.front, rear=job.rear, sag=job.sag)


def with_taken(job: Job, path: Path, today: dt.date) -> AsFound:
    """The record with one more setting or reading as the job has it now.

    Args:
        job: the job.
        path: where it is in the job; a pressure is in the record itself.
        today: the date of a new record.
    """
    found = job.found or AsFound()
    if found.on is None:
        found = replace(_begun(job, today), front_cold_bar=found.front_cold_bar, rear_cold_bar=found.rear_cold_bar)
    if path[:1] == AT:
        return found
    whole = path[:-1] if path[-1] == "now" else path  # an adjuster with how it is counted
    names = [path, *((*path[:3], note) for note in SAG_NOTES if path[-1] in ("down_mm", "up_mm"))]
    kept = replace(job, found=found)
    for at in [whole] if path[0] != "sag" else names:
        kept = apply(kept, Edit(found_path(at), value_at(job, at)))
    return kept.found or found


def _begun(job: Job, today: dt.date) -> AsFound:
    """A record in which no position and no sag is taken yet."""
    blank = job
    at_c = {(*path[:-1], "set_at_c") for path in pressures(job)}
    for path in (*positions(job), *at_c):
        blank = apply(blank, Edit(path, None))
    ends = {end: SagEnd(gauge=job.sag.end(end).gauge) for end in ("front", "rear")}
    sag = Sag(**ends, tape_resolution_mm=job.sag.tape_resolution_mm, fuel=job.sag.fuel)
    return AsFound(on=today, front=blank.front, rear=blank.rear, sag=sag)


def is_taken(found: AsFound | None) -> bool:
    """Whether anything of the machine as found is recorded."""
    return found is not None and found != AsFound(on=found.on)


def found_otherwise(before: Job, job: Job) -> tuple[Difference, ...]:
    """The positions, heights and pressures that were found otherwise than an earlier job left them, where known."""
    known = ((path, value_at(before, path), found_value(job, path)) for path in positions(job))
    return tuple(Difference(path, old, new) for path, old, new in known if None not in (old, new) and old != new)
