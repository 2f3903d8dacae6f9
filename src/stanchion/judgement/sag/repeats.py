"""Repeats of one sag reading: whether one of them lies so far off that it spoils the mean."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median

from stanchion.job.model import STATES, End, Path, SagEnd
from stanchion.judgement.criteria.thresholds import REPEATS_APART_DIVISIONS, REPEATS_APART_MM, SLACK
from stanchion.judgement.results.findings import Finding, Severity


def repeat_findings(recorded: SagEnd, end: End, tape_mm: float) -> Iterator[Finding]:
    """A warning for each reading whose repeats lie far apart, at the repeat that is furthest off.

    Args:
        recorded: the readings of one end.
        end: which end.
        tape_mm: smallest division of the tape.
    """
    limit = max(REPEATS_APART_MM, REPEATS_APART_DIVISIONS * tape_mm)
    for path, readings in _repeated(recorded, end):
        apart = max(readings) - min(readings)
        if apart > limit + SLACK:
            odd = _furthest(readings)
            values = {"apart_mm": apart, "odd_mm": readings[odd], "count": float(len(readings)), "path": (*path, odd)}
            yield Finding("repeat_far_off", Severity.WARNING, (*path, odd), values)


def _repeated(recorded: SagEnd, end: End) -> Iterator[tuple[Path, tuple[float, ...]]]:
    if len(recorded.hanging_mm) > 1 and recorded.gauge == "length":
        yield ("sag", end, "hanging_mm"), recorded.hanging_mm
    for state in STATES:
        readings = recorded.static if state == "static" else recorded.rider
        for name, taken in (("down_mm", readings.down_mm), ("up_mm", readings.up_mm)):
            if len(taken) > 1:
                yield ("sag", end, state, name), taken


def _furthest(readings: tuple[float, ...]) -> int:
    """Which repeat is furthest from the middle one; of two equally far, the later, which was just taken.

    >>> _furthest((577.0, 569.0, 578.0)), _furthest((577.0, 569.0))
    (1, 1)
    """
    middle = median(readings)
    return max(range(len(readings)), key=lambda at: (abs(readings[at] - middle), at))
