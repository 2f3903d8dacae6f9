"""Merging the runs of two states of one job into one list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence

from stanchion.job.model import Run

Key = tuple[str, int]
"""When the run began, and which of the runs that began then it is."""
JoinRun = Callable[[Run, Run, Run], Run | None]
"""Joins a run that both changed since the ancestor (ancestor, left, right); None where it cannot."""


def joined_runs(
    base: Sequence[Run] | None, left: tuple[Run, ...], right: tuple[Run, ...], join: JoinRun
) -> tuple[Run, ...]:
    """All runs of both, in the order they were ridden as far as it is known.

    A run is known again by when it began. Where the ancestor has it, what one changed is changed, and what one took
    away and the other left alone is gone. Everything else is kept: two runs that began at one time and differ stand
    both.

    Args:
        base: the runs of the common ancestor; None: not known.
        left: the runs of one.
        right: the runs of the other.
        join: joins one run that both changed.
    """
    if left == right or (base is not None and right == tuple(base)):
        return left
    if base is not None and left == tuple(base):
        return right
    olds = _keyed(base or ())
    ones, others = _keyed(left), _keyed(right)
    kept: list[Run] = []
    for key in _in_order(ones, others):
        kept += _kept(olds.get(key), ones.get(key), others.get(key), join)
    return tuple(kept)


def _kept(old: Run | None, one: Run | None, other: Run | None, join: JoinRun) -> list[Run]:
    """The state of one run."""
    if one == other:
        return [] if one is None else [one]
    if old is not None:
        if old in (one, other):
            changed = other if one == old else one
            return [] if changed is None else [changed]
        joined = None if one is None or other is None else join(old, one, other)
        if joined is not None:
            return [joined]
    return sorted((run for run in (one, other) if run is not None), key=repr)


def _keyed(runs: Iterable[Run]) -> dict[Key, Run]:
    seen: Counter[str] = Counter()
    keyed = {}
    for run in runs:
        keyed[(run.time, seen[run.time])] = run
        seen[run.time] += 1
    return keyed


def _in_order(ones: dict[Key, Run], others: dict[Key, Run]) -> list[Key]:
    """The keys of both: each list's own order is kept between those in both, and by time where both have new ones."""
    common = [key for key in ones if key in others]
    if common != [key for key in others if key in ones]:
        return sorted({**ones, **others})
    order: list[Key] = []
    remaining = [list(ones), list(others)]
    for anchor in (*common, None):
        between = []
        for keys in remaining:
            end = len(keys) if anchor is None else keys.index(anchor)
            between.append(keys[:end])
            del keys[: end + 1]
        order += between[0] + between[1] if not (between[0] and between[1]) else sorted(between[0] + between[1])
        if anchor is not None:
            order.append(anchor)
    return order
