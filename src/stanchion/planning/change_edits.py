"""The edits that make one change of an adjuster, height, air gap, pressure or spring on this machine, or why it cannot
be made.

No position goes beyond its range: where that is not recorded, it has to be counted first.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from typing import Literal

from stanchion.base.record import record
from stanchion.job.edit import Edit
from stanchion.job.ends import STEPS
from stanchion.job.model import SIDES, Adjuster, AirLeg, Clicker, Coils, End, Job, Path, Side, Spring
from stanchion.judgement.criteria.riders_words import ChangeRow, Condition
from stanchion.judgement.criteria.thresholds import (
    ADJUSTER_STEP,
    AIR_GAP_READING_MM,
    GAUGE_STEP_BAR,
    LEAST_DAMPER_CHANGE,
    LEAST_HEIGHT_CHANGE_MM,
    MOST_HEIGHT_ADDED_MM,
    RATE_STEPS_N_PER_MM,
    SLACK,
    USUAL_AIR_GAP_MM,
)
from stanchion.judgement.ends.points_law import link_rise
from stanchion.judgement.results.assessment import Assessment, PreloadFigures
from stanchion.judgement.results.findings import Finding
from stanchion.judgement.springs.stock import Stock, StockSpring

Hindrance = Literal[
    "not_recorded",
    "range_unknown",
    "step_unknown",
    "closed",
    "open",
    "fully_in",
    "fully_out",
    "no_adjuster",
    "pressure_most",
    "pressure_least",
    "gap_least",
    "gap_most",
    "tubes_flush",
    "at_datum",
    "at_limit",
    "no_one_rate",
    "not_in_stock",
    "condition",
    "travel_used_up",
    "sag_first",
    "doubt_first",
    "sag_at_edge",
    "sag_against",
    "sag_leaves",
    "sag_further",
    "brings_fault",
]
"""Why a change is not offered."""


@record(kw_only=True)
class Hindered:
    """A change that is not offered, and why."""

    why: Hindrance
    needs: Path | None = None
    """The reading that is missing for it."""
    finding: Finding | None = None
    """What the job says against it."""
    condition: Condition | None = None
    """What does not hold."""


Made = tuple[Edit, ...] | Hindered | None
"""The edits of a change; why it cannot be made; None where the machine has nothing to change there."""


def change_edits(job: Job, assessment: Assessment, row: ChangeRow, stock: Stock | None = None) -> Made:
    """The edits that make a change as far as this machine allows, at most by the row's amount.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        row: the change.
        stock: the springs to hand; None, or none for that end: any that is sold.
    """
    part = row.do.removeprefix(f"{row.end}_").rpartition("_")[0]
    more = row.do.endswith(("more", "stiffer"))
    if part in ("compression", "fast_compression", "rebound"):
        return _dampers(job, row, part, more=more)
    if part == "preload":
        return _preload(job, assessment, row, more=more)
    if part == "spring":
        return _springs(job, row, stock, more=more)
    if part == "air_gap":
        return _air_gap(job, row.mm if more else -row.mm)
    return _height(job, row)


def _sides(job: Job) -> tuple[Side, ...]:
    return SIDES if job.front.split else SIDES[:1]


# --- dampers ------------------------------------------------------------------------------------------------------


def _dampers(job: Job, row: ChangeRow, part: str, *, more: bool) -> Made:
    """More damping is further in: fewer clicks out."""
    if row.end == "rear":
        name = {"compression": "low_speed_compression", "fast_compression": "high_speed_compression"}.get(part, part)
        clickers: list[tuple[Path, Clicker]] = [(("rear", name), getattr(job.rear, name))]
    else:
        name = "high_speed_compression" if part == "fast_compression" else part
        clickers = [(("front", side, name), getattr(job.front.leg(side), name)) for side in _sides(job)]
    if part == "fast_compression" and all(one.now is None and one.total is None for _, one in clickers):
        return None
    set_ones = [(at, one) for at, one in clickers if one.now is not None]
    if not set_ones or (len(set_ones) < len(clickers) and not job.front.dampers_split):
        return Hindered(why="not_recorded", needs=next((*at, "now") for at, one in clickers if one.now is None))
    by = math.inf
    for at, one in set_ones:
        now = one.now or 0.0
        room = now if more else None if one.total is None else one.total - now
        if room is None:
            return Hindered(why="range_unknown", needs=(*at, "total"))
        by = min(by, _most(row, one), room)
    if by < min(LEAST_DAMPER_CHANGE[one.unit] for _, one in set_ones) - SLACK:
        return Hindered(why="closed" if more else "open", needs=(*set_ones[0][0], "now"))
    return tuple(Edit((*at, "now"), round((one.now or 0.0) + (-by if more else by), 6)) for at, one in set_ones)


def _most(row: ChangeRow, clicker: Clicker) -> float:
    return row.clicks if clicker.unit == "clicks" else row.turns


# --- preload, pressure --------------------------------------------------------------------------------------------


def _preload(job: Job, assessment: Assessment, row: ChangeRow, *, more: bool) -> Made:
    airs = _airs(job, row.end)
    if airs:
        return _pressure(airs, row.bar if more else -row.bar)
    if row.end == "rear":
        adjusters: list[tuple[Path, Adjuster, PreloadFigures]] = [
            (("rear", "collar"), job.rear.collar, assessment.rear.spring)
        ]
    else:
        adjusters = [
            (("front", side, "adjuster"), job.front.leg(side).adjuster, assessment.front.leg(side))
            for side in _sides(job)
            if job.front.leg(side).coil_fitted
        ]
    turned = [(at, one, of) for at, one, of in adjusters if one.counting != "none"]
    if not turned:
        return Hindered(why="no_adjuster") if adjusters else None
    by_mm = row.mm
    for at, one, of in turned:
        hindered, room_mm = _room(at, one, of, more=more)
        if hindered is not None:
            return hindered
        by_mm = min(by_mm, room_mm)
    edits = [_turned(at, one, of, by_mm if more else -by_mm) for at, one, of in turned]
    if all(edit is None for edit in edits):
        return Hindered(why="fully_in" if more else "fully_out", needs=(*turned[0][0], "now"))
    return tuple(edit for edit in edits if edit is not None)


def _airs(job: Job, end: End) -> list[tuple[Path, AirLeg]]:
    if end == "rear":
        return [(("rear", "air"), job.rear.air)] if job.rear.air.fitted else []
    return [(("front", side, "air"), job.front.leg(side).air) for side in _sides(job) if job.front.leg(side).air.fitted]


def _pressure(airs: Iterable[tuple[Path, AirLeg]], by_bar: float) -> Made:
    edits = []
    for at, air in airs:
        if air.pressure_bar is None:
            return Hindered(why="not_recorded", needs=(*at, "pressure_bar"))
        if by_bar > 0.0 and air.most_bar is None:
            return Hindered(why="range_unknown", needs=(*at, "most_bar"))
        room = (air.most_bar or 0.0) - air.pressure_bar if by_bar > 0.0 else air.pressure_bar - GAUGE_STEP_BAR
        steps = math.floor(min(abs(by_bar), room) / GAUGE_STEP_BAR + SLACK)
        if steps < 1:
            why: Hindrance = "pressure_most" if by_bar > 0.0 else "pressure_least"
            return Hindered(why=why, needs=(*at, "pressure_bar"))
        then = air.pressure_bar + math.copysign(steps * GAUGE_STEP_BAR, by_bar)
        edits.append(Edit((*at, "pressure_bar"), round(then, 6)))
    return tuple(edits)


def _room(at: Path, adjuster: Adjuster, of: PreloadFigures, *, more: bool) -> tuple[Hindered | None, float]:
    """What hinders an adjuster, and the preload that is left in a direction."""
    if adjuster.now is None:
        return Hindered(why="not_recorded", needs=(*at, "now")), 0.0
    if not _step_mm(adjuster, of) or _inwards(adjuster) == 0:
        return Hindered(why="step_unknown", needs=(*at, adjuster.step_name)), 0.0
    left = of.headroom_in_mm if more else of.headroom_out_mm
    if left.value is None:
        return Hindered(why="range_unknown", needs=next(iter(left.needs), (*at, adjuster.total_name))), 0.0
    return None, left.value


def _step_mm(adjuster: Adjuster, of: PreloadFigures) -> float | None:
    """Preload of the least that is turned: by what it counts, a click, or a quarter of a turn, ring or mm read."""
    out, into, range_mm = adjuster.reading_out, adjuster.reading_in, of.adjuster_range_mm.value
    if adjuster.from_out:
        return of.step_mm
    if out is None or into is None or out == into or range_mm is None:
        return None
    return ADJUSTER_STEP * range_mm / abs(out - into)


def _inwards(adjuster: Adjuster) -> int:
    """Which way what is read goes as preload is added: 1 up, -1 down, 0 not known."""
    if adjuster.from_out:
        return 1
    out, into = adjuster.reading_out, adjuster.reading_in
    return 0 if out is None or into is None or out == into else 1 if into > out else -1


def _turned(at: Path, adjuster: Adjuster, of: PreloadFigures, by_mm: float) -> Edit | None:
    """The adjuster turned by a preload, in whole steps and not beyond its ends; None where that is less than a step."""
    steps = math.floor(abs(by_mm) / (_step_mm(adjuster, of) or math.inf) + SLACK)
    if steps < 1 or adjuster.now is None:
        return None
    each = STEPS.get(adjuster.counting, ADJUSTER_STEP)
    then = adjuster.now + math.copysign(steps * each, by_mm) * _inwards(adjuster)
    low, high = adjuster.ends
    if (low is not None and then < low - SLACK) or (high is not None and then > high + SLACK):
        return None
    return Edit((*at, "now"), round(then, 6))


# --- springs ------------------------------------------------------------------------------------------------------


def _springs(job: Job, row: ChangeRow, stock: Stock | None, *, more: bool) -> Made:
    if row.end == "rear":
        springs: list[tuple[Path, Spring]] = [] if job.rear.air.fitted else [(("rear", "spring"), job.rear.spring)]
        count = 1
    else:
        fitted = [side for side in SIDES if job.front.leg(side).coil_fitted]
        springs = [(("front", side, "spring"), job.front.leg(side).spring) for side in _sides(job) if side in fitted]
        count = len(fitted)
    if not springs:
        return None
    to_hand = [one for _, one in stock.of(row.end) if one.count >= count] if stock else []
    if stock and stock.of(row.end) and not to_hand:
        return Hindered(why="not_in_stock", needs=(*springs[0][0], "rate_n_per_mm"))
    edits: list[Edit] = []
    for at, spring in springs:
        rate = spring.rate_n_per_mm
        if rate is None:
            return Hindered(why="not_recorded", needs=(*at, "rate_n_per_mm"))
        if not isinstance(rate, float | int) or spring.second.fitted or spring.coils.tester:
            return Hindered(why="no_one_rate", needs=(*at, "rate_n_per_mm"))
        then = _next_rate(spring, rate, row.steps if more else -row.steps, row.end, to_hand)
        if then is None:
            return Hindered(why="not_in_stock", needs=(*at, "rate_n_per_mm"))
        edits.append(Edit((*at, "rate_n_per_mm"), then))
        if spring.coils != Coils():
            edits.append(Edit((*at, "coils"), Coils()))
    return tuple(edits)


def _next_rate(spring: Spring, rate: float, steps: float, end: End, to_hand: Iterable[StockSpring]) -> float | None:
    """The next rate of the springs to hand that have the length of this one; where there are none to hand, the rate so
    many steps on of those that are sold."""
    rates = [(one.rate_n_per_mm, one.free_length_mm) for one in to_hand]
    if rates:
        fitting = [
            one
            for one, free_mm in rates
            if isinstance(one, float | int)
            and free_mm in (None, spring.free_length_mm)
            and (one - rate) * steps > SLACK
        ]
        return min(fitting, key=lambda one: abs(one - rate), default=None)
    step = RATE_STEPS_N_PER_MM[end][0]
    beside = math.floor(rate / step + SLACK) if steps > 0.0 else math.ceil(rate / step - SLACK)
    then = round((beside + steps) * step, 6)
    return then if then > 0.0 else None


# --- air gap, heights ---------------------------------------------------------------------------------------------


def _air_gap(job: Job, by_mm: float) -> Made:
    legs = [(side, leg.air_gap_mm) for side in _sides(job) if not (leg := job.front.leg(side)).air.fitted]
    if not legs:
        return None
    least, most = USUAL_AIR_GAP_MM
    if job.front.air_gap_least_mm is not None:
        least = job.front.air_gap_least_mm
    for side, gap in legs:
        at: Path = ("front", side, "air_gap_mm")
        if gap is None:
            return Hindered(why="not_recorded", needs=at)
        room = most - gap if by_mm > 0.0 else gap - least
        if room < AIR_GAP_READING_MM - SLACK:
            return Hindered(why="gap_most" if by_mm > 0.0 else "gap_least", needs=at)
        by_mm = math.copysign(min(abs(by_mm), room), by_mm)
    return tuple(Edit(("front", side, "air_gap_mm"), round((gap or 0.0) + by_mm, 6)) for side, gap in legs)


_FORK_HEIGHT: Path = ("front", "fork_height_mm")
_SHOCK_LENGTH: Path = ("rear", "length_adjuster_mm")


def _height(job: Job, row: ChangeRow) -> Made:
    """Tubes that stand higher above the yoke lower the front; a longer shock raises the rear, or another link where
    the shock has no length adjuster and the linkage goes by its points."""
    front = row.end == "front"
    by_link = () if front or job.rear.length_adjuster_mm is not None else _link(job, row)
    if by_link:
        return by_link
    at, now = (_FORK_HEIGHT, job.front.fork_height_mm) if front else (_SHOCK_LENGTH, job.rear.length_adjuster_mm)
    if now is None:
        return Hindered(why="not_recorded", needs=at)
    adds = row.do in ("front_lower", "rear_higher")
    room = MOST_HEIGHT_ADDED_MM - now if adds else now
    by = min(row.mm, room)
    if by < LEAST_HEIGHT_CHANGE_MM - SLACK:
        why: Hindrance = "at_limit" if adds else "tubes_flush" if front else "at_datum"
        return Hindered(why=why, needs=at)
    return (Edit(at, round(now + (by if adds else -by), 6)),)


def _link(job: Job, row: ChangeRow) -> tuple[Edit, ...]:
    """Another length of the link, the way that moves the rear as wanted; nothing where that is not known."""
    now, arm_mm = job.rear.link_mm, job.swingarm.pivot_to_axle_mm
    if now is None:
        return ()
    rise = link_rise(replace(job.rear, link_mm=now + row.mm), now, arm_mm).value
    if not rise:
        return ()
    longer = (rise > 0.0) is (row.do == "rear_higher")
    return (Edit(("rear", "link_mm"), round(now + (row.mm if longer else -row.mm), 6)),)
