"""The springs and rebound settings that an end has and had."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from stanchion.job.model import SIDES, End, Front, Job, Rear
from stanchion.job.spec import Rate

Positions = tuple[tuple[float | None, str], ...]
"""Where the rebound adjusters of an end stand, and what is counted."""


def spring_rates(part: Front | Rear) -> tuple[Rate, ...]:
    """The rates of the coil springs of an end; empty where one is not known, or air or a second spring works too."""
    if isinstance(part, Rear):
        springs = [] if part.air.fitted else [part.spring]
    else:
        springs = [part.leg(side).spring for side in SIDES if part.leg(side).coil_fitted]
        if any(part.leg(side).air.fitted for side in SIDES):
            return ()
    rates = tuple(spring.rate_n_per_mm for spring in springs if spring.rate_n_per_mm is not None)
    return () if len(rates) < len(springs) or any(spring.second.fitted for spring in springs) else rates


def rebound_positions(part: Front | Rear) -> Positions:
    """Where its rebound adjusters stand; empty where none is known."""
    clickers = [part.rebound] if isinstance(part, Rear) else [part.leg(side).rebound for side in SIDES]
    found = tuple((clicker.now, clicker.unit) for clicker in clickers)
    return found if any(now is not None for now, _ in found) else ()


Earlier = Literal["run", "found", "job"]
"""Settings of before: of a run, of the machine as found, of the job before."""


def earlier_settings(job: Job, previous: Job | None, end: End) -> Iterator[tuple[Earlier, Front | Rear]]:
    """The settings that an end was recorded with, the latest first.

    Args:
        job: the job.
        previous: the job it was carried from; None: not known.
        end: which end.
    """
    for run in reversed(job.runs):
        part = run.front if end == "front" else run.rear
        if part is not None:
            yield "run", part
    if job.found is not None:
        part = job.found.front if end == "front" else job.found.rear
        if part is not None:
            yield "found", part
    if previous is not None:
        yield "job", previous.front if end == "front" else previous.rear
