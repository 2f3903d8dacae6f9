"""Findings on values that are unlikely in the unit of their field: a question, not an error.

The ranges are in data/plausible.toml with their scopes and sources.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from operator import attrgetter
from typing import Any

from stanchion.base.bundled import shipped_data
from stanchion.base.record import record
from stanchion.base.toml import trusted_tables
from stanchion.job.edit import spec_at
from stanchion.job.model import SIDES, Job, Path
from stanchion.job.spec import Kind, Many, Number
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.units.known_units import exact_factors

_RATE = ("spring", "rate_n_per_mm")


@record
class Expected:
    """The usual range of a field."""

    path: Path
    kind: Kind
    low: float
    high: float
    get: Callable[[Any], Any]


def implausible(job: Job) -> Iterator[Finding]:
    """One finding for each recorded value outside its usual range, with the unit it may have been meant in."""
    alone = _only_spring(job)
    for expected in _expected(job.front.split):
        value = expected.get(job)
        if value is None:
            continue
        if alone is not None and expected.path[0] == "front" and expected.path[2:] == _RATE:
            if expected.path[:2] != alone:
                continue
            expected = replace(expected, low=2.0 * expected.low, high=2.0 * expected.high)  # noqa: PLW2901
        if isinstance(value, tuple):
            for position, item in enumerate(value):
                if not expected.low <= item <= expected.high:
                    yield _finding(job, expected, (*expected.path, position), item)
        elif not expected.low <= value <= expected.high:
            yield _finding(job, expected, expected.path, value)


def _only_spring(job: Job) -> Path | None:
    """Path of the leg with the only spring of the fork. That spring replaces two, so its usual rate is doubled."""
    if not job.front.split:
        return None
    sprung = [side for side in SIDES if job.front.leg(side).spring_fitted]
    return ("front", sprung[0]) if len(sprung) == 1 else None


def _finding(job: Job, expected: Expected, path: Path, value: float) -> Finding:
    values: dict[str, object] = {
        "path": path,
        "kind": expected.kind,
        "value": value,
        "low": expected.low,
        "high": expected.high,
    }
    meant = [(unit, value * factor) for unit, factor in exact_factors(expected.kind)]
    usual = [one for one in meant if expected.low <= one[1] <= expected.high]
    if usual:
        middle = math.sqrt(expected.low * expected.high)
        unit, likely = min(usual, key=lambda one: abs(math.log(one[1] / middle)))
        values |= {"typed": value, "unit": unit, "meant": likely}
    if path[0] == "front" and path[1] == "left" and not job.front.split:
        values["both_legs"] = True
    return Finding("implausible", Severity.WARNING, path, values)


@cache
def _expected(split: bool) -> tuple[Expected, ...]:
    """The usual range of every field, with the patterns of plausible.toml expanded."""
    rows = trusted_tables(shipped_data("plausible.toml").decode("utf-8"))["range"]
    found = []
    for row in rows:
        for pattern in row["at"]:
            for name in _expanded(pattern, split):
                path: Path = tuple(name.split("."))
                spec = spec_at(path)
                number = spec.item if isinstance(spec, Many) else spec
                if not isinstance(number, Number):
                    raise TypeError(f"plausible.toml: {name} is not a number")
                found.append(Expected(path, number.kind, row["low"], row["high"], attrgetter(name)))
    return tuple(found)


def _expanded(pattern: str, split: bool) -> tuple[str, ...]:
    if "*" not in pattern:
        return (pattern,)
    legs = ("left", "right") if split else ("left",)
    names = legs if pattern.startswith("front.") else ("front", "rear")
    return tuple(pattern.replace("*", name) for name in names)
