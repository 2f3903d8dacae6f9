"""A second spring that works with a main spring: their curve together, and how far each can be compressed."""

from __future__ import annotations

import math
from typing import NamedTuple

from stanchion.base.errors import OutOfRange
from stanchion.job.model import Path, Spring
from stanchion.judgement.ends.coil_data import coil_data
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.spring_curve import RateOrCurve
from stanchion.mechanics.two_springs import TwoSprings, end_to_end, side_by_side


class Openings(NamedTuple):
    """How far each of two springs can be compressed by itself, from its own free length; to its solid length."""

    main_mm: Figure
    second_mm: Figure


def openings(spring: Spring, at: Path) -> Openings:
    """What each spring has between its free and its solid length.

    Args:
        spring: the main spring with a second one.
        at: its path.
    """
    second, below = spring.second, (*at, "second")
    solid = coil_data(spring.coils, (*at, "coils")).solid_length_mm
    free = recorded(spring.free_length_mm, (*at, "free_length_mm"))
    own = recorded(second.free_length_mm, (*below, "free_length_mm"))
    if second.arranged == "end_to_end":
        between = second.divider_mm or 0.0
        free = derive(lambda both, one: both - one - between, free, own)
    own_solid = recorded(second.solid_length_mm, (*below, "solid_length_mm"))
    return Openings(derive(_above_zero, free, solid), derive(_above_zero, own, own_solid))


def _above_zero(free_mm: float, solid_mm: float) -> float:
    """What is between them; the least that counts where they contradict, which is a finding of its own."""
    return max(free_mm - solid_mm, 1e-3)


class Closing(NamedTuple):
    """How far each of two springs end to end gives way; infinite where nothing recorded limits it."""

    main_mm: float
    second_mm: float
    by_stop: bool
    """Whether a stop takes the softer one before its coils touch."""


def closing(spring: Spring, at: Path, main_n_per_mm: float) -> Closing | None:
    """Where each of two springs end to end closes; None where that is not known of the softer one.

    Args:
        spring: the main spring with a second one.
        at: its path.
        main_n_per_mm: rate of the main spring.
    """
    each = [math.inf if mm.value is None else mm.value for mm in openings(spring, at)]
    second = spring.second
    softer = 0 if main_n_per_mm < (second.rate_n_per_mm or 0.0) else 1
    stop = math.inf if second.stop_mm is None else second.stop_mm
    by_stop = stop < each[softer]
    each[softer] = min(each[softer], stop)
    return None if math.isinf(each[softer]) else Closing(each[0], each[1], by_stop)


def gap(spring: Spring, at: Path) -> Figure:
    """Compression of the main spring at which the spring beside it is reached: as recorded, else by what the second is
    shorter, where both stand on the same seat."""
    second, below = spring.second, (*at, "second")
    if second.gap_mm is not None or spring.free_length_mm is None or second.free_length_mm is None:
        return recorded(second.gap_mm, (*below, "gap_mm"))
    return Figure(max(0.0, spring.free_length_mm - second.free_length_mm))


def together(spring: Spring, at: Path, main: RateOrCurve) -> TwoSprings | Figure:
    """What both springs do as one, or an absent figure with what that waits for.

    Args:
        spring: the main spring with a second one.
        at: its path.
        main: rate or curve of the main spring alone.
    """
    second, below = spring.second, (*at, "second")
    if second.rate_n_per_mm is None:
        return recorded(None, (*below, "rate_n_per_mm"))
    if second.arranged == "side_by_side":
        after = gap(spring, at)
        if after.value is None:
            return after
        try:
            return side_by_side(main, second.rate_n_per_mm, after.value)
        except OutOfRange:  # a curve so flat in one place that nothing is left of it in floats
            return absent("out_of_range")
    if not isinstance(main, float | int):
        return absent("end_to_end_one_rate")
    closes = closing(spring, at, main)
    if closes is None:
        return recorded(None, (*below, "stop_mm"))
    return end_to_end(main, second.rate_n_per_mm, closes.main_mm, closes.second_mm)


def second_closes_first(spring: Spring, at: Path) -> bool:
    """Whether of two springs side by side the second one, past its gap, is the first whose coils touch."""
    if spring.second.arranged != "side_by_side":
        return False
    own = openings(spring, at)
    beside = derive(lambda after, mm: after + mm, gap(spring, at), own.second_mm).value
    return beside is not None and own.main_mm.value is not None and beside < own.main_mm.value


def usable_travel(spring: Spring, at: Path, main: RateOrCurve | None) -> Figure:
    """How far both springs together can be compressed before the coils of what still gives way touch.

    Side by side without the lengths of the second, that of the main spring.

    Args:
        spring: the main spring with a second one.
        at: its path.
        main: rate or curve of the main spring alone; None: not known.
    """
    own = openings(spring, at)
    if spring.second.arranged == "side_by_side":
        beside = derive(lambda after, mm: after + mm, gap(spring, at), own.second_mm)
        return derive(min, own.main_mm, beside) if beside.known else own.main_mm
    closes = closing(spring, at, main) if isinstance(main, float | int) else None
    if closes is None:
        return derive(lambda one, other: one + other, own.main_mm, own.second_mm)
    total = closes.main_mm + closes.second_mm
    return (
        derive(lambda _: 0.0, own.main_mm if math.isinf(closes.main_mm) else own.second_mm)
        if math.isinf(total)
        else Figure(total)
    )
