"""The fork of a job as mechanics computes it: springs of steel or air, top-out spring, trapped air and rake.

What is not entered is left out of the calculation and listed in `without`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import SIDES, Front, Job, Leg, Side, TopOut
from stanchion.judgement.ends.air_leg import AirLaw, air_of_leg
from stanchion.judgement.ends.end_model import LONGEST_TRAVEL_MM, Equilibrium, hanging_known
from stanchion.judgement.ends.outside import outside_mpa, pressure_in
from stanchion.judgement.ends.spring_law import SpringLaw, law_of_leg
from stanchion.judgement.ends.stops import fork_stop, without_force
from stanchion.judgement.ends.top_out_bench import as_it_counts
from stanchion.judgement.results.assessment import FrontFigures, PreloadFigures
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.left_out import LeftOut
from stanchion.mechanics.air_spring import AirSpring, with_more_in_outer, with_more_pressure
from stanchion.mechanics.equilibrium import SAG_TOLERANCE_MM, Limit, fork_position
from stanchion.mechanics.fork import Fork, ForkLeg, TrappedAir, force_and_rate, fork_of, with_added_preload, with_rate
from stanchion.mechanics.fork_change import preload_for_sag, rate_for_sag
from stanchion.mechanics.gas import ADIABATIC, ML_MM3, circle_area, least_air_volume, temperature_ratio
from stanchion.mechanics.limits import G_N
from stanchion.mechanics.load import cosine_of_rake
from stanchion.mechanics.oil_level import oil_area
from stanchion.mechanics.shock import BAR_MPA
from stanchion.mechanics.solve import falling_root
from stanchion.mechanics.spring_curve import SpringCurve, least_rate

MOST_SQUEEZED = 1e6
"""Largest compression ratio for which trapped air is computed (our own limit). Air that full travel would compress
further is left out, because its force would soon overflow."""


@record(kw_only=True)
class ForkModel:
    """The fork; an EndModel."""

    fork: Fork | None
    """None where it cannot be computed."""
    computable: Figure
    omitted: tuple[LeftOut, ...]
    cosine: float
    """Of the rake; 1 where no rake is recorded."""
    hanging_n: float
    """Load along the fork with the wheel hanging [N], 0 or less."""
    unloaded: Equilibrium
    hanging: Figure
    end_unknown: Figure | None
    adjusted: tuple[bool, ...]
    """For each leg, whether an adjuster changes its preload; without any adjuster, whether it has a spring."""
    tube_area_mm2: float | None
    """Area of the tube that holds the air [mm²]."""
    impossible: tuple[tuple[Side, str], ...] = ()
    """Legs whose recorded air is impossible, with the code of the finding; that air is left out."""

    @property
    def top_out_reach_mm(self) -> float:
        """Travel below which a top-out spring works."""
        legs = self.fork.legs if self.fork else ()
        return max((leg.top_out_mm for leg in legs if leg.top_out_rate_n_per_mm > 0.0), default=0.0)

    @property
    def sprung_by_air(self) -> bool:
        """Whether the fork can be computed, and air springs a leg of it."""
        return bool(self.air_springs)

    @property
    def air_springs(self) -> tuple[AirSpring, ...]:
        """The air of each leg that it springs; none where the fork cannot be computed."""
        legs = self.fork.legs if self.fork else ()
        return tuple(leg.air_spring for leg in legs if leg.air_spring is not None)

    def rate(self, travel_mm: float) -> float:
        """Rate along the fork at that travel."""
        return force_and_rate(self._fork, travel_mm)[1]

    @property
    def full_travel_mm(self) -> float:
        """Travel up to which the fork is computed."""
        return self._fork.travel_mm

    @property
    def measured_to_mm(self) -> float:
        """Travel at which the first of its springs is compressed as far as it was measured."""
        legs = self.fork.legs if self.fork else ()
        ends = (leg.curve.known_to_mm - leg.preload_mm for leg in legs if leg.curve is not None)
        return max(0.0, min(ends, default=math.inf))

    def along(self, vertical_n: float) -> float:
        """The part of a vertical load that acts along the fork."""
        return vertical_n * self.cosine

    def equilibrium(self, vertical_n: float) -> Equilibrium:
        """Where the fork comes to rest under a vertical load."""
        return _equilibrium(self._fork, self.along(vertical_n))

    def force(self, travel_mm: float) -> float:
        """Force along the fork at that travel."""
        return force_and_rate(self._fork, travel_mm)[0]

    def sag_with(self, added_mm: float, vertical_n: float) -> float:
        """Sag after adding preload at the adjusted legs; full travel where the fork then bottoms."""
        changed = with_added_preload(self._fork, *(added_mm if adjusted else 0.0 for adjusted in self.adjusted))
        loaded = _equilibrium(changed, self.along(vertical_n))
        if loaded.limit is Limit.BOTTOMED:
            return changed.travel_mm
        return loaded.travel_mm - _equilibrium(changed, self.hanging_n).travel_mm

    def with_preload(self, added_mm: float) -> ForkModel:
        """The fork with that much more preload at every spring."""
        fork = with_added_preload(self._fork, added_mm)
        return replace(self, fork=fork, unloaded=_equilibrium(fork, self.hanging_n))

    def without_top_out(self) -> ForkModel:
        """The fork without its top-out springs."""
        legs = tuple(replace(leg, top_out_rate_n_per_mm=0.0, top_out_mm=0.0) for leg in self._fork.legs)
        fork = replace(self._fork, legs=legs)
        return replace(self, fork=fork, unloaded=_equilibrium(fork, self.hanging_n))

    def with_rate(self, rate_n_per_mm: float) -> ForkModel:
        """The fork with that one rate in each leg that has a spring, preloads unchanged."""
        fork = with_rate(self._fork, rate_n_per_mm)
        return replace(self, fork=fork, unloaded=_equilibrium(fork, self.hanging_n))

    def rate_for(self, sag_mm: float, vertical_n: float) -> float | None:
        """The one rate of each spring for a sag, preloads unchanged; None where none gives it."""
        if not 0.0 < sag_mm < self._fork.travel_mm:
            return None
        return rate_for_sag(self._fork, sag_mm, self.along(vertical_n), self.hanging_n)

    def with_pressure(self, added_bar: float) -> ForkModel:
        """The fork with that much more pressure, at its present temperature, in the main chamber of every leg that is
        sprung by air."""
        return self._with_air(lambda air: with_more_pressure(air, added_bar * BAR_MPA))

    def with_outer_pressure(self, added_bar: float) -> ForkModel:
        """The fork with that much more pressure in every outer chamber."""
        return self._with_air(lambda air: with_more_in_outer(air, added_bar * BAR_MPA))

    def warmed(self, ratio: float) -> ForkModel:
        """The fork with the absolute temperature of all its air, springs and trapped, times that."""
        return self._with_air(
            lambda air: replace(air, temperature_ratio=air.temperature_ratio * ratio),
            lambda air: replace(air, temperature_ratio=air.temperature_ratio * ratio),
        )

    def under(self, ambient_mpa: float) -> ForkModel:
        """The fork, set and closed as it is, taken to where that is the pressure outside."""
        return self._with_air(
            lambda air: replace(air, ambient_mpa=ambient_mpa), lambda air: replace(air, ambient_mpa=ambient_mpa)
        )

    def squeezed(self, exponent: float) -> ForkModel:
        """The fork in a fast stroke: its air springs with that exponent, its trapped air losing no heat."""
        return self._with_air(lambda air: replace(air, exponent=exponent), lambda air: replace(air, exponent=ADIABATIC))

    def _with_air(
        self, change: Callable[[AirSpring], AirSpring], trapped: Callable[[TrappedAir], TrappedAir] | None = None
    ) -> ForkModel:
        legs = []
        for leg in self._fork.legs:
            sprung = None if leg.air_spring is None else change(leg.air_spring)
            air = leg.air if leg.air is None or trapped is None else trapped(leg.air)
            legs.append(replace(leg, air_spring=sprung, air=air))
        fork = fork_of(legs, self._fork.travel_mm)
        return replace(self, fork=fork, unloaded=_equilibrium(fork, self.hanging_n))

    def preload_at_springs(self, sag_mm: float, vertical_n: float) -> float | None:
        """Preload to add at every spring for a sag; None where none gives it."""
        if not 0.0 < sag_mm < self._fork.travel_mm:
            return None
        return preload_for_sag(self._fork, sag_mm, self.along(vertical_n), self.hanging_n)

    def preload_for(self, sag_mm: float, vertical_n: float) -> float | None:
        """Preload to add at the adjusted legs for a sag; None where none gives it."""
        fork, at_all = self._fork, self.preload_at_springs(sag_mm, vertical_n)
        sprung = [leg.rate_n_per_mm for leg in fork.legs]
        adjusted = sum(rate for rate, moved in zip(sprung, self.adjusted, strict=True) if moved)
        if at_all is None or adjusted == sum(sprung):
            return at_all
        # One leg moves and the other stays: it takes more, and one of the springs may come loose on the way.
        guess = at_all * sum(sprung) / adjusted
        most = 10.0 * (abs(guess) + fork.travel_mm)
        found = falling_root(
            lambda added: self.sag_with(added, vertical_n) - sag_mm,
            guess,
            slope=-adjusted / sum(sprung),
            low=-most,
            high=most,
        )
        return (
            found if found is not None and abs(self.sag_with(found, vertical_n) - sag_mm) < SAG_TOLERANCE_MM else None
        )

    @property
    def _fork(self) -> Fork:
        if self.fork is None:
            raise OutOfRange("number of legs", 0, "1 or more: ask `computable` first")
        return self.fork


def fork_model(job: Job, figures: FrontFigures) -> ForkModel:
    """The fork as it can be computed from a job.

    Rake, unsprung mass, travel, top-out spring, air and the solids in the air space are left out where they are not
    recorded, and listed in `without`. The top-out spring acts in the legs recorded as having it, the trapped air in
    every leg.

    Args:
        job: the job.
        figures: preload of its legs, as front_figures gives them.
    """
    front = job.front
    sides = SIDES if front.split else SIDES[:1]
    laws = {side: law_of_leg(front, side) for side in sides if front.leg(side).coil_fitted}
    springs = [figure for side in laws for figure in (laws[side].known, figures.leg(side).preload_now_mm)]
    aired = {side: air_of_leg(job, side) for side in sides if front.leg(side).air.fitted}
    springs += [aired[side].known for side in aired]
    computable = derive(_known, *springs) if springs else absent("fork_without_spring")
    travel_mm = LONGEST_TRAVEL_MM
    if front.travel_mm is not None:
        travel_mm = front.travel_mm - (front.packers_mm or 0.0)
    if computable.known and travel_mm <= 0.0:
        computable = absent("packers_fill_travel")
    airs = [_air(front, front.leg(side), travel_mm, outside_mpa(job)) for side in sides]
    rake_deg, unsprung_kg = job.geometry.rake_deg, job.weights.front_unsprung_kg
    cosine = 1.0 if rake_deg is None else cosine_of_rake(rake_deg)
    hanging_n = -(unsprung_kg or 0.0) * G_N * cosine
    fork = None
    adjusted = tuple(front.leg(side).coil_fitted and front.leg(side).adjuster.counting != "none" for side in SIDES)
    if not any(adjusted):
        adjusted = tuple(front.leg(side).coil_fitted for side in SIDES)
    if computable.known:
        # Legs entered as one differ where only one of them has the top-out spring.
        each = zip(SIDES, sides if front.split else sides * 2, airs if front.split else airs * 2, strict=True)
        legs = (_leg(front, s, (laws.get(of), aired.get(of)), figures.leg(s), air.air) for s, of, air in each)
        fork = fork_of(tuple(legs), travel_mm)
    inner, outer = front.stanchion_inner_mm, front.stanchion_outer_mm
    by_coil = [side for side in sides if not front.leg(side).air.fitted]
    air_left_out = any(air.air is None for side, air in zip(sides, airs, strict=True) if side in by_coil)
    no_diameter = (inner is None or outer is None) and any(front.leg(side).air_gap_mm is not None for side in by_coil)
    left_out: dict[LeftOut, bool] = {
        "rake": rake_deg is None,
        "unsprung_front": unsprung_kg is None,
        "travel_front": front.travel_mm is None,
        "top_out": front.top_out.fitted == "unknown"
        or (front.top_out.fitted == "yes" and _top_out(front.top_out) is None),
        "stop": without_force(front.stops),
        "air": air_left_out and not no_diameter,
        "air_diameter": air_left_out and no_diameter,
        "solids": any(
            air.air is not None and front.leg(side).solids_ml is None for side, air in zip(sides, airs, strict=True)
        ),
    }
    return ForkModel(
        fork=fork,
        computable=computable,
        omitted=tuple(code for code, out in left_out.items() if out),
        cosine=cosine,
        hanging_n=hanging_n,
        unloaded=_equilibrium(fork, hanging_n) if fork else Equilibrium(0.0, Limit.NONE),
        hanging=hanging_known(front.top_out, ("front", "top_out"), computable, weighed=unsprung_kg is not None),
        end_unknown=None if front.travel_mm is not None else Figure(needs=(("front", "travel_mm"),)),
        adjusted=adjusted,
        tube_area_mm2=None
        if inner is None
        else derive(oil_area, Figure(inner), Figure(front.damper_rod_mm or 0.0)).value,
        impossible=tuple((side, air.problem) for side, air in zip(sides, airs, strict=True) if air.problem),
    )


# --- one leg ------------------------------------------------------------------------------------------------------


def _known(*_: float) -> float:
    return 0.0


def _top_out(top_out: TopOut) -> tuple[float, float] | None:
    """Rate and length of a top-out spring, where there is one and both are recorded."""
    top_out = as_it_counts(top_out)
    rate, length = top_out.rate_n_per_mm, top_out.works_over_mm
    if top_out.fitted != "yes" or rate is None or length is None:
        return None
    return rate, length


def _leg(
    front: Front,
    side: Side,
    laws: tuple[SpringLaw | None, AirLaw | None],
    figures: PreloadFigures,
    air: TrappedAir | None,
) -> ForkLeg:
    """One leg, with its preload at the stop; sprung by coil or air, or without a main spring where there is no law."""
    law, sprung = laws
    spring, now = None if law is None else law.spring, figures.preload_now_mm.value
    top_out = _top_out(front.top_out_of(side))
    stiff, length = top_out or (0.0, 0.0)
    if spring is None or now is None:
        air_spring = None if sprung is None else sprung.spring
        stop = fork_stop(front)
        return ForkLeg(top_out_rate_n_per_mm=stiff, top_out_mm=length, air=air, air_spring=air_spring, stop=stop)
    return ForkLeg(
        rate_n_per_mm=least_rate(spring),
        preload_mm=now if top_out is None else now - (figures.read_at_mm or 0.0),
        top_out_rate_n_per_mm=stiff,
        top_out_mm=length,
        air=air,
        curve=spring if isinstance(spring, SpringCurve) else None,
        stop=fork_stop(front),
    )


class _Air(NamedTuple):
    air: TrappedAir | None
    problem: str = ""
    """Code of the finding that says why the recorded air is impossible."""


def _air(front: Front, leg: Leg, travel_mm: float, here_mpa: float) -> _Air:
    """The trapped air; left out where the travel is not known, since its volume depends on the travel."""
    gap, outer, inner = leg.air_gap_mm, front.stanchion_outer_mm, front.stanchion_inner_mm
    if gap is None or outer is None or inner is None or front.travel_mm is None or travel_mm <= 0.0:
        return _Air(None)
    bleed = leg.bleed
    there_mpa = pressure_in(bleed.closed_in)
    closed_at = bleed.at_mm or 0.0
    if closed_at > travel_mm:
        return _Air(None, "bled_beyond_travel")
    ratio = 1.0
    if bleed.temperature_c is not None and front.temperature_c is not None:
        ratio = temperature_ratio(bleed.temperature_c, front.temperature_c)
    try:
        least = least_air_volume(inner, gap, (leg.solids_ml or 0.0) * ML_MM3, front.damper_rod_mm or 0.0)
    except OutOfRange:
        return _Air(None, "air_no_room")
    area_mm2 = circle_area(outer)
    if least * MOST_SQUEEZED < least + area_mm2 * travel_mm:
        return _Air(None, "air_no_room")
    closed_mpa = (here_mpa if there_mpa is None else there_mpa) + (bleed.pressure_bar or 0.0) * BAR_MPA
    if closed_mpa <= 0.0:  # less than nothing: the gauge or the altitude is wrong
        return _Air(None)
    return _Air(
        TrappedAir(
            area_mm2=area_mm2,
            least_volume_mm3=least,
            closed_mpa=closed_mpa,
            ambient_mpa=here_mpa,
            closed_at_mm=closed_at,
            temperature_ratio=ratio,
        )
    )


def _equilibrium(fork: Fork, load_n: float) -> Equilibrium:
    position = fork_position(fork, load_n)
    return Equilibrium(position.travel_mm, position.limit)
