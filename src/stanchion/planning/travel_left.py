"""What leaves 10 mm of fork travel on the brakes: the air gap, the rate or the pressure, and what each does to sag.

Each way is tried on a copy of the job, so that a trial of it, and the job made from it, say the same.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import Literal

from stanchion.base.record import record
from stanchion.job.edit import Edit, apply
from stanchion.job.measured import noted
from stanchion.job.model import SIDES, STATES, Job, Path, Side, State
from stanchion.job.spec import Progressive
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.criteria.thresholds import (
    AIR_GAP_READING_MM,
    GAUGE_STEP_BAR,
    LEFT_ON_THE_BRAKES_MM,
    MOST_BRAKING_G,
    RATE_STEPS_N_PER_MM,
    SLACK,
    USUAL_AIR_GAP_MM,
)
from stanchion.judgement.predict.brakes import entered_or_usual, fork_left
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.problems import Problem
from stanchion.mechanics.oil_level import oil_area, oil_for_gap
from stanchion.planning.braking_of_runs import BrakingOfRuns, braking_to_look_at
from stanchion.planning.travel_left_sure import Moved, SettingSure, brakings_moved, setting_sure, slope
from stanchion.planning.whatif import WhatIf, compare

WayKind = Literal["air_gap", "rate", "pressure"]
MOST_STEPS = 160
"""No way is looked for further from what is set than so many steps."""


@record(kw_only=True)
class SagThen:
    """Front sag in one state, now and to expect."""

    state: State
    now: Figure
    then: Figure
    target: tuple[float, float] | None

    @property
    def out(self) -> bool:
        """Whether it is to be expected outside its target."""
        return self._outside(self.then)

    @property
    def was_out(self) -> bool:
        """Whether it is outside now."""
        return self._outside(self.now)

    def _outside(self, sag: Figure) -> bool:
        if self.target is None or sag.value is None:
            return False
        return not self.target[0] - SLACK <= sag.value <= self.target[1] + SLACK


@record(kw_only=True)
class WayThere:
    """One change of the fork that leaves the travel wanted."""

    kind: WayKind
    now: Figure
    """What is set: of legs that stand apart the left one's, or that of the one that has it."""
    then: Figure
    """What to set; absent with the reason where none does it."""
    sure: SettingSure | None = None
    """How sure that is; None where no reading it rests on has a known uncertainty."""
    oil_ml: Figure = absent("no_figure")
    """Oil to add to each leg, below 0: to take out; of an air gap only."""
    left_mm: Figure
    """Travel left then, by the worse of a slow and a fast stroke."""
    sags: tuple[SagThen, ...] = ()

    @property
    def told(self) -> bool:
        """Whether the readings tell the setting from what is set: its uncertainty is no larger than the change."""
        if self.sure is None or self.now.value is None or self.then.value is None:
            return True
        return self.sure.expanded <= abs(self.then.value - self.now.value) + SLACK


@record(kw_only=True)
class TravelLeft:
    """What of its travel the fork keeps on the brakes, and what leaves the travel wanted."""

    wanted_mm: float
    slow_g: Figure
    """Deceleration it is worked out for: with the fork's air squeezed slowly, and fast."""
    fast_g: Figure
    markers: int
    """How many fork markers that deceleration is from; 0: it is the braking looked at."""
    left_mm: Figure
    """Travel left as the machine is set, by the worse of both."""
    ways: tuple[WayThere, ...]


def travel_left(job: Job, profiles: Profiles, ridden: BrakingOfRuns | None) -> TravelLeft:
    """What leaves LEFT_ON_THE_BRAKES_MM of fork travel: at the braking entered, else that of the runs' markers,
    else the usual one.

    Args:
        job: the job.
        profiles: bands and targets.
        ridden: the braking that the markers of the runs stand for.
    """
    of = entered_or_usual(job) if ridden is None else braking_to_look_at(job, profiles, ridden)
    slow_g, fast_g = (
        absent("bumps_or_reading") if (one.value or 0.0) > MOST_BRAKING_G else one for one in (of.slow_g, of.fast_g)
    )
    left = _left(job, profiles, slow_g, fast_g)
    ways: tuple[WayThere, ...] = ()
    if left.known:
        markers = [run.at for run in ridden.known] if ridden is not None and of.source == "ridden" else []
        moved = brakings_moved(job, profiles, (slow_g.value or 0.0, fast_g.value or 0.0), markers)
        ways = tuple(_way(one, job, profiles, (slow_g, fast_g), moved) for one in _knobs(job))
    return TravelLeft(
        wanted_mm=LEFT_ON_THE_BRAKES_MM, slow_g=slow_g, fast_g=fast_g, markers=of.markers, left_mm=left, ways=ways
    )


def _left(job: Job, profiles: Profiles, slow_g: Figure, fast_g: Figure) -> Figure:
    if slow_g.value is None or fast_g.value is None:
        return slow_g if slow_g.value is None else fast_g
    return fork_left(job, assess(job, profiles), slow_g.value, fast_g.value)


# --- what can be changed ------------------------------------------------------------------------------------------


@record(kw_only=True)
class _Knob:
    """Something of this fork that can be set in steps; more steps leave more travel."""

    kind: WayKind
    now: Figure
    at: tuple[tuple[Path, float], ...]
    """Each field with what it holds."""
    stepped: Callable[[float, int], float]
    """The value so many steps from another."""
    low: float
    high: float
    none_does: Problem

    def edits(self, steps: int) -> tuple[Edit, ...]:
        """The edits for so many steps."""
        return tuple(Edit(path, self.stepped(value, steps)) for path, value in self.at)

    @property
    def reach(self) -> tuple[int, int]:
        """The fewest and the most steps that keep every value inside the limits."""
        return -self._within(-1), self._within(1)

    def _within(self, way: int) -> int:
        for steps in range(1, MOST_STEPS + 1):
            if not all(self.low <= edit.value <= self.high for edit in self.edits(way * steps)):
                return steps - 1
        return MOST_STEPS


def _knobs(job: Job) -> Iterator[_Knob]:
    sides: tuple[Side, ...] = SIDES if job.front.split else SIDES[:1]
    legs = [(side, job.front.leg(side)) for side in sides]
    if any(leg.air.fitted for _, leg in legs):
        by_air = [
            (("front", side, "air", "pressure_bar"), leg.air.pressure_bar, leg.air.most_bar)
            for side, leg in legs
            if leg.air.fitted
        ]
        most = min((bar for _, _, bar in by_air if bar is not None), default=math.inf)
        pressure = [(path, bar) for path, bar, _ in by_air]
        yield _knob("pressure", pressure, _more(GAUGE_STEP_BAR), (GAUGE_STEP_BAR, most), "no_pressure_leaves_it")
        return
    gaps = [(("front", side, "air_gap_mm"), leg.air_gap_mm) for side, leg in legs]
    least, most_mm = USUAL_AIR_GAP_MM
    manual_mm = job.front.air_gap_least_mm
    within = (least if manual_mm is None else manual_mm, most_mm)
    yield _knob("air_gap", gaps, _more(-AIR_GAP_READING_MM), within, "no_gap_leaves_it")
    springs = [(side, leg.spring) for side, leg in legs if leg.coil_fitted]
    rates = [
        (("front", side, "spring", "rate_n_per_mm"), spring.rate_n_per_mm)
        for side, spring in springs
        if not isinstance(spring.rate_n_per_mm, Progressive)
    ]
    if springs and len(rates) == len(springs) and not any(s.second.fitted or s.coils.tester for _, s in springs):
        known = [rate for _, rate in rates if rate is not None]
        limits = (0.5 * min(known), 2.0 * max(known)) if known else (0.0, math.inf)
        yield _knob("rate", rates, _sold, limits, "no_rate_leaves_it")


def _knob(
    kind: WayKind,
    fields: Sequence[tuple[Path, float | None]],
    stepped: Callable[[float, int], float],
    limits: tuple[float, float],
    none_does: Problem,
) -> _Knob:
    path, value = fields[0]
    now = recorded(value, path)
    for other, also in fields[1:]:
        now = derive(lambda one, _: one, now, recorded(also, other))
    known = tuple((at, one) for at, one in fields if one is not None)
    return _Knob(kind=kind, now=now, at=known, stepped=stepped, low=limits[0], high=limits[1], none_does=none_does)


def _more(step: float) -> Callable[[float, int], float]:
    return lambda value, steps: round(value + steps * step, 6)


def _sold(rate: float, steps: int) -> float:
    """The rate so many steps of those sold from a rate, which itself may be none of them."""
    step = RATE_STEPS_N_PER_MM["front"][0]
    if steps == 0:
        return rate
    beside = math.floor(rate / step + SLACK) if steps > 0 else math.ceil(rate / step - SLACK)
    return (beside + steps) * step


# --- the least change that does it --------------------------------------------------------------------------------


def _way(knob: _Knob, job: Job, profiles: Profiles, at_g: tuple[Figure, Figure], moved: Sequence[Moved]) -> WayThere:
    if not knob.now.known:
        return WayThere(kind=knob.kind, now=knob.now, then=knob.now, oil_ml=knob.now, left_mm=knob.now)
    found = _steps(lambda steps: _left(_set(job, knob.edits(steps)), profiles, *at_g).value, *knob.reach)
    if found is None:
        none = absent(knob.none_does)
        return WayThere(kind=knob.kind, now=knob.now, then=none, oil_ml=none, left_mm=none)
    edits = knob.edits(found)
    changed = _set(job, edits)
    then, chosen_g = Figure(edits[0].value), (at_g[0].value or 0.0, at_g[1].value or 0.0)

    def left_after(steps: int) -> float | None:
        return _left(_set(job, knob.edits(steps)), profiles, *at_g).value

    beside = found - 1 if found > knob.reach[0] else found + 1
    by_value = slope(
        (edits[0].value, left_after(found)),
        (knob.edits(beside)[0].value, left_after(beside)) if abs(found) < MOST_STEPS else (0.0, None),
    )
    return WayThere(
        kind=knob.kind,
        now=knob.now,
        then=then,
        sure=setting_sure(changed, profiles, chosen_g, moved, by_value) if found else None,
        oil_ml=_oil(job, then, knob.now) if knob.kind == "air_gap" else absent("no_figure"),
        left_mm=_left(changed, profiles, *at_g),
        sags=tuple(_sags(compare(job, changed, profiles))) if found else (),
    )


def _set(job: Job, edits: tuple[Edit, ...]) -> Job:
    changed = job
    for edit in edits:
        changed = apply(changed, edit)
    for edit in edits:
        changed = noted(changed, edit.path, job, tried=True)
    return changed


def _steps(left: Callable[[int], float | None], least: int, most: int) -> int | None:
    """The fewest steps that leave the travel wanted; None where none does, or where even the least leave more.

    Args:
        left: travel left after so many steps, more of them leaving more; None where it cannot be computed.
        least: fewest steps there are, 0 or less.
        most: most there are, 0 or more.

    >>> _steps(lambda steps: 4.0 + 0.7 * steps, -9, 99), _steps(lambda steps: 20.0 + 0.7 * steps, -99, 9)
    (9, -14)
    >>> _steps(lambda steps: None if steps > 5 else 4.0, -9, 99) is None
    True
    """

    def known(steps: int) -> float:
        """What is left; where it cannot be computed, because there is no room for the air, more than is wanted."""
        mm = left(steps)
        return mm if mm is not None else math.inf if steps > 0 else -math.inf

    wanted, now = LEFT_ON_THE_BRAKES_MM - SLACK, known(0)
    low, high = (least, 0) if now >= wanted else (0, most)
    at_low, at_high = (known(low), now) if now >= wanted else (now, known(high))
    if low == high or at_low >= wanted or at_high < wanted:
        return None
    halve = False
    while high - low > 1:
        middle = (low + high) // 2
        if not halve and math.isfinite(at_low) and math.isfinite(at_high):
            middle = low + math.ceil((wanted - at_low) / (at_high - at_low) * (high - low))
        middle, halve = max(low + 1, min(middle, high - 1)), not halve
        there = known(middle)
        if there >= wanted:
            high, at_high = middle, there
        else:
            low, at_low = middle, there
    return high if math.isfinite(at_high) else None


def _oil(job: Job, then: Figure, now: Figure) -> Figure:
    """Oil for the change of the gap: in the ring between tube and rod where a rod is measured."""
    front = job.front
    inner = recorded(front.stanchion_inner_mm, ("front", "stanchion_inner_mm"))
    area = derive(oil_area, inner, Figure(front.damper_rod_mm)) if front.damper_rod_mm else derive(oil_area, inner)
    return derive(lambda new, old, mm2: oil_for_gap(new - old, mm2), then, now, area)


def _sags(seen: WhatIf) -> Iterator[SagThen]:
    for state in STATES:
        for basis in ("captured", "predicted"):
            row = seen.row(("front",), f"{state}_{basis}")
            if row.present.known and row.changed.known:
                target = seen.changed.sag.front.state(state).target
                yield SagThen(state=state, now=row.present, then=row.changed, target=target)
                break
