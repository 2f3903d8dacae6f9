"""The rear end of a job as mechanics computes it: shock spring, gas and linkage.

What is not entered is left out of the calculation and listed in `without`.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Job
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.along_shock import shock_top_out, stroke_left
from stanchion.judgement.ends.end_model import LONGEST_TRAVEL_MM, Equilibrium, hanging_known
from stanchion.judgement.ends.outside import outside_mpa
from stanchion.judgement.ends.rear import air_of_shock, law_of_air
from stanchion.judgement.ends.shock_gas import gas_of
from stanchion.judgement.ends.spring_law import law_of_shock
from stanchion.judgement.ends.stops import shock_stop, without_force
from stanchion.judgement.results.assessment import RearFigures
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.left_out import LeftOut
from stanchion.mechanics.air_spring import AirSpring, with_more_in_outer, with_more_pressure
from stanchion.mechanics.equilibrium import Limit
from stanchion.mechanics.gas import ADIABATIC, circle_area
from stanchion.mechanics.limits import G_N
from stanchion.mechanics.linkage import Linkage
from stanchion.mechanics.rear import (
    RearEnd,
    full_wheel_travel,
    rear_position,
    rear_travel,
    rear_wheel_force,
    rear_wheel_rate,
    with_preload,
    with_shock_spring,
)
from stanchion.mechanics.rear_change import rear_preload_for_sag, rear_rate_for_sag
from stanchion.mechanics.shock import BAR_MPA
from stanchion.mechanics.solve import bracketed_root
from stanchion.mechanics.spring_curve import least_rate


@record(kw_only=True)
class RearModel:
    """The rear end; an EndModel."""

    rear: RearEnd | None
    """None where it cannot be computed."""
    computable: Figure
    omitted: tuple[LeftOut, ...]
    hanging_n: float
    """Load with the wheel hanging [N], 0 or less."""
    unloaded: Equilibrium
    hanging: Figure
    end_unknown: Figure | None
    top_out_reach_mm: float
    """Wheel travel below which a top-out spring in the shock works."""
    gas_area_mm2: float = 0.0
    """Area of the shaft, on which the gas of the damper pushes [mm²]; 0 where it is not known."""

    @property
    def full_travel_mm(self) -> float:
        """Travel up to which the rear end is computed."""
        return self._rear.travel_mm

    @property
    def measured_to_mm(self) -> float:
        """Wheel travel at which its spring is compressed as far as it was measured."""
        rear = self.rear
        if rear is None or rear.curve is None:
            return math.inf
        along_mm, links = rear.curve.known_to_mm - rear.preload_mm, rear.linkage
        if along_mm >= links.shock_travel(rear.travel_mm):
            return math.inf
        if along_mm <= 0.0:
            return 0.0
        return bracketed_root(lambda wheel: links.shock_travel(wheel) - along_mm, 0.0, rear.travel_mm)

    def along(self, vertical_n: float) -> float:
        """The load itself: rear sag is vertical."""
        return vertical_n

    def equilibrium(self, vertical_n: float) -> Equilibrium:
        """Where the wheel comes to rest under a vertical load."""
        return _equilibrium(self._rear, vertical_n)

    def force(self, travel_mm: float) -> float:
        """Vertical force at the wheel at that travel."""
        return rear_wheel_force(self._rear, travel_mm)

    def sag_with(self, added_mm: float, vertical_n: float) -> float:
        """Sag after adding preload; full travel where the wheel then bottoms."""
        changed = with_preload(self._rear, self._rear.preload_mm + added_mm)
        loaded_mm, limit = rear_travel(changed, vertical_n)
        return loaded_mm if limit is Limit.BOTTOMED else loaded_mm - rear_travel(changed, self.hanging_n)[0]

    def with_preload(self, added_mm: float) -> RearModel:
        """The rear end with that much more preload."""
        rear = with_preload(self._rear, self._rear.preload_mm + added_mm)
        return replace(self, rear=rear, unloaded=_equilibrium(rear, self.hanging_n))

    def without_top_out(self) -> RearModel:
        """The rear end without the top-out spring of its shock."""
        rear = replace(self._rear, top_out_rate_n_per_mm=0.0, top_out_mm=0.0)
        return replace(self, rear=rear, unloaded=_equilibrium(rear, self.hanging_n), top_out_reach_mm=0.0)

    def with_rate(self, rate_n_per_mm: float) -> RearModel:
        """The rear end with a spring of that one rate, preload unchanged."""
        rear = with_shock_spring(self._rear, rate_n_per_mm, self._rear.preload_mm)
        return replace(self, rear=rear, unloaded=_equilibrium(rear, self.hanging_n))

    def rate_for(self, sag_mm: float, vertical_n: float) -> float | None:
        """The one rate of the spring for a sag, preload unchanged; None where none gives it."""
        if not 0.0 < sag_mm < self._rear.travel_mm:
            return None
        return rear_rate_for_sag(self._rear, sag_mm, vertical_n, self.hanging_n)

    @property
    def air_springs(self) -> tuple[AirSpring, ...]:
        """The air that springs the shock; none where a coil spring does, or it cannot be computed."""
        air = None if self.rear is None else self.rear.curve
        return (air,) if isinstance(air, AirSpring) else ()

    def rate(self, travel_mm: float) -> float:
        """Rate at the wheel at that travel."""
        return rear_wheel_rate(self._rear, travel_mm)

    def with_pressure(self, added_bar: float) -> RearModel:
        """The rear end with that much more pressure, at its present temperature, in the main chamber."""
        return self._with_air(lambda air: with_more_pressure(air, added_bar * BAR_MPA))

    def with_outer_pressure(self, added_bar: float) -> RearModel:
        """The rear end with that much more pressure in its outer chamber."""
        return self._with_air(lambda air: with_more_in_outer(air, added_bar * BAR_MPA))

    def warmed(self, ratio: float) -> RearModel:
        """The rear end with the absolute temperature of its air, and of the gas of its damper, times that."""

        def warm(air: AirSpring) -> AirSpring:
            return replace(air, temperature_ratio=air.temperature_ratio * ratio)

        outside_n = sum(air.ambient_mpa for air in self.air_springs) * self.gas_area_mm2
        return self._with_air(warm, warm, lambda one_n: (one_n + outside_n) * ratio - outside_n)

    def under(self, ambient_mpa: float) -> RearModel:
        """The rear end, set as it is, taken to where that is the pressure outside."""

        def taken(air: AirSpring) -> AirSpring:
            return replace(air, ambient_mpa=ambient_mpa)

        before_mpa = sum(air.ambient_mpa for air in self.air_springs)
        return self._with_air(taken, taken, lambda one_n: one_n + self.gas_area_mm2 * (before_mpa - ambient_mpa))

    def squeezed(self, exponent: float) -> RearModel:
        """The rear end in a fast stroke: its air with that exponent, the gas of its damper losing no heat."""
        return self._with_air(lambda air: replace(air, exponent=exponent), lambda gas: replace(gas, exponent=ADIABATIC))

    def _with_air(
        self,
        change: Callable[[AirSpring], AirSpring],
        gas: Callable[[AirSpring], AirSpring] | None = None,
        one_force: Callable[[float], float] | None = None,
    ) -> RearModel:
        rear = self._rear
        if gas is not None and rear.gas is not None:
            rear = replace(rear, gas=gas(rear.gas))
        if one_force is not None and rear.gas_force_n > 0.0:
            rear = replace(rear, gas_force_n=max(0.0, one_force(rear.gas_force_n)))
        if isinstance(rear.curve, AirSpring):
            air = change(rear.curve)
            rear = replace(rear, curve=air, rate_n_per_mm=air.least_rate_n_per_mm)
        return self if rear is self._rear else replace(self, rear=rear, unloaded=_equilibrium(rear, self.hanging_n))

    def preload_at_springs(self, sag_mm: float, vertical_n: float) -> float | None:
        """Preload to add for a sag; None where none gives it."""
        return self.preload_for(sag_mm, vertical_n)

    def preload_for(self, sag_mm: float, vertical_n: float) -> float | None:
        """Preload to add for a sag; None where none gives it."""
        rear = self._rear
        if isinstance(rear.curve, AirSpring):
            return None  # air has no preload
        if not 0.0 < sag_mm < rear.travel_mm:
            return None
        preload = rear_preload_for_sag(rear, sag_mm, vertical_n, self.hanging_n)
        return None if preload is None else preload - rear.preload_mm

    @property
    def _rear(self) -> RearEnd:
        if self.rear is None:
            raise OutOfRange("rear end", 0, "one that can be computed: ask `computable` first")
        return self.rear


def rear_model(job: Job, figures: RearFigures, linkage: Linkage | None) -> RearModel:
    """The rear end as it can be computed from a job.

    Unsprung mass, gas, travel and a fitted top-out spring are left out where they are not recorded, and listed in
    `without`.

    Args:
        job: the job.
        figures: the shock's figures, as rear_figures gives them.
        linkage: the linkage, as rear_figures gives it.
    """
    recorded_rear = job.rear
    air = air_of_shock(job)
    law = law_of_shock(recorded_rear) if air is None else law_of_air(air)
    preload = figures.spring.preload_now_mm if air is None else Figure(0.0)
    ratio = (
        Figure(0.0) if linkage is not None and figures.motion_ratio.problem != "linkage_ratio" else figures.motion_ratio
    )
    computable = derive(lambda *_: 0.0, law.known, preload, ratio)
    travel_mm, end_unknown = LONGEST_TRAVEL_MM, None
    rear: RearEnd | None = None
    reach_mm = 0.0
    unsprung_kg = job.weights.rear_unsprung_kg
    hanging_n = -(unsprung_kg or 0.0) * G_N
    top_out = recorded_rear.top_out
    sprung_out = shock_top_out(recorded_rear)
    stiff, length = sprung_out or (0.0, 0.0)
    gas = gas_of(recorded_rear, outside_mpa(job))
    if computable.known and linkage is not None and law.spring is not None:
        stroke_mm = stroke_left(recorded_rear, linkage)
        if stroke_mm is not None and stroke_mm <= 0.0:
            computable = absent("packers_fill_travel")
        else:
            travel_mm, end_unknown = _travel(linkage, recorded_rear.wheel_travel_mm, stroke_mm)
            rear = RearEnd(
                rate_n_per_mm=least_rate(law.spring),
                curve=law.curve,
                preload_mm=preload.value or 0.0,
                linkage=linkage,
                travel_mm=travel_mm,
                gas_force_n=gas.constant_n,
                gas=gas.spring,
                stop=shock_stop(recorded_rear, stroke_mm),
                top_out_rate_n_per_mm=stiff,
                top_out_mm=length,
            )
            reach_mm = _reach(rear) if sprung_out else 0.0
    left_out: dict[LeftOut, bool] = {
        "unsprung_rear": unsprung_kg is None,
        "stop": without_force(recorded_rear.stops),
        "gas": not figures.gas_force_n.known and air is None,
        "travel_rear": recorded_rear.wheel_travel_mm is None and recorded_rear.stroke_mm is None,
        "top_out": top_out.fitted == "yes" and sprung_out is None,
    }
    return RearModel(
        rear=rear,
        computable=computable,
        omitted=tuple(code for code, out in left_out.items() if out),
        hanging_n=hanging_n,
        unloaded=_equilibrium(rear, hanging_n) if rear else Equilibrium(0.0, Limit.NONE),
        hanging=hanging_known(top_out, ("rear", "top_out"), computable, weighed=unsprung_kg is not None),
        end_unknown=end_unknown,
        top_out_reach_mm=reach_mm,
        gas_area_mm2=0.0 if recorded_rear.shaft_mm is None else circle_area(recorded_rear.shaft_mm),
    )


def _travel(linkage: Linkage, wheel_mm: float | None, stroke_mm: float | None) -> tuple[float, Figure | None]:
    """Wheel travel that can be used and computed, and why full travel is not known (None where it is)."""
    covered = linkage.covered_mm
    if wheel_mm is None and stroke_mm is None:
        return min(covered, LONGEST_TRAVEL_MM), Figure(needs=(("rear", "wheel_travel_mm"),))
    travel = full_wheel_travel(linkage, wheel_mm, stroke_mm)
    reached = wheel_mm is not None and wheel_mm <= covered + SLACK
    if stroke_mm is not None and not reached:
        reached = travel < covered or stroke_mm <= linkage.shock_travel(covered) + SLACK
    return travel, None if reached else absent("beyond_measured")


def _reach(rear: RearEnd) -> float:
    links = rear.linkage
    if links.shock_travel(rear.travel_mm) <= rear.top_out_mm:
        return rear.travel_mm
    return bracketed_root(lambda z: links.shock_travel(z) - rear.top_out_mm, 0.0, rear.travel_mm)


def _equilibrium(rear: RearEnd, load_n: float) -> Equilibrium:
    position = rear_position(rear, load_n)
    return Equilibrium(position.travel_mm, position.limit, position.only_one)
