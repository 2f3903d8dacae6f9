"""A machine's jobs over some weekends, made by hand: an invented machine, with figures that come out round."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from judgement_jobs import FULL, put, sag_end
from stanchion.job.model import Front, Job, Rear, Run, Sag

MACHINE = "Grey Mule"


def ridden(job: Job, time: str, lap_s: float | None, fork_mm: float | None = None, **more: object) -> Run:
    """A run with the settings of the job stamped on it."""
    run = Run(time=time, best_lap_s=lap_s, front_marker_mm=fork_mm, front=job.front, rear=job.rear)
    return replace(run, **more)  # type: ignore[arg-type]


def occasion(
    day: int, *, machine: str = MACHINE, rider: str = "B. T.", venue: str = "Gravel Loop", **changes: object
) -> Job:
    """The machine on a day in May 2026, with values put at dotted paths, written with __ for the dots."""
    about = replace(FULL.job, machine=machine, rider=rider, venue=venue, date=dt.date(2026, 5, day))
    fork: Front = replace(FULL.front, travel_mm=120.0)
    shock: Rear = replace(FULL.rear, stroke_mm=64.0)
    return put(replace(FULL, job=about, front=fork, rear=shock), **{"rear__rebound__now": 10.0, **changes})


def weekends() -> dict[str, Job]:
    """Three occasions of one machine, spelt differently, and one of another machine; by file name."""
    first = occasion(3)
    stiffer = put(first, rear__rebound__now=14.0)
    first = replace(
        put(stiffer, front__left__adjuster__now=6.0),
        runs=(
            ridden(occasion(3), "10:20", 92.4, 112.0, rear_marker_mm=44.0, said="Dives on the brakes."),
            ridden(stiffer, "11:40", 91.8, 108.0, rear_marker_mm=46.0, front_hot_bar=2.3),
        ),
    )
    second = occasion(10, machine=" grey  MULE", venue="Lake Ring", front__left__adjuster__now=8.0)
    second = replace(
        put(second, rear__rebound__now=14.0),
        sag=Sag(front=sag_end(18.0, 30.0), rear=sag_end(7.5, 29.5)),
        runs=(ridden(put(second, rear__rebound__now=14.0), "9:05", 90.1, 102.0),),
    )
    third = occasion(17, rider="C. U.", front__left__adjuster__now=8.0, rear__rebound__now=14.0)
    other = occasion(10, machine="Red Heron", rider="D. V.")
    return {"c.toml": third, "b.toml": second, "a.toml": first, "x.toml": other}
