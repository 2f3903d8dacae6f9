"""The rear end of a job as mechanics computes it: shock spring, gas and linkage.

What is not entered is left out of the calculation and listed in `without`.
"""

from __future__ import annotations

from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Job, Rear
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.end_model import LONGEST_TRAVEL_MM, Equilibrium, hanging_known
from stanchion.judgement.results.assessment import RearFigures
from stanchion.judgement.results.codes import LeftOut
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.equilibrium import Limit
from stanchion.mechanics.limits import G_N
from stanchion.mechanics.linkage import Linkage
from stanchion.mechanics.rear import (
    RearEnd,
    full_wheel_travel,
    rear_position,
    rear_travel,
    rear_wheel_force,
    with_preload,
)
from stanchion.mechanics.rear_change import rear_preload_for_sag
from stanchion.mechanics.solve import bracketed_root


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

    @property
    def full_travel_mm(self) -> float:
        """Travel up to which the rear end is computed."""
        return self._rear.travel_mm

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

    def preload_at_springs(self, sag_mm: float, vertical_n: float) -> float | None:
        """Preload to add for a sag; None where none gives it."""
        return self.preload_for(sag_mm, vertical_n)

    def preload_for(self, sag_mm: float, vertical_n: float) -> float | None:
        """Preload to add for a sag; None where none gives it."""
        rear = self._rear
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
    rate = recorded(recorded_rear.spring.rate_n_per_mm, ("rear", "spring", "rate_n_per_mm"))
    ratio = (
        Figure(0.0) if linkage is not None and figures.motion_ratio.problem != "linkage_ratio" else figures.motion_ratio
    )
    computable = derive(lambda *_: 0.0, rate, figures.spring.preload_now_mm, ratio)
    travel_mm, end_unknown = LONGEST_TRAVEL_MM, None
    rear: RearEnd | None = None
    reach_mm = 0.0
    unsprung_kg = job.weights.rear_unsprung_kg
    hanging_n = -(unsprung_kg or 0.0) * G_N
    top_out = recorded_rear.top_out
    stiff, length = top_out.rate_n_per_mm, top_out.works_over_mm
    has_top_out = top_out.fitted == "yes" and stiff is not None and length is not None
    if computable.known and linkage is not None:
        stroke_mm = _stroke(recorded_rear, linkage)
        if stroke_mm is not None and stroke_mm <= 0.0:
            computable = absent("packers_fill_travel")
        else:
            travel_mm, end_unknown = _travel(linkage, recorded_rear.wheel_travel_mm, stroke_mm)
            rear = RearEnd(
                rate_n_per_mm=rate.value or 0.0,
                preload_mm=figures.spring.preload_now_mm.value or 0.0,
                linkage=linkage,
                travel_mm=travel_mm,
                gas_force_n=figures.gas_force_n.value or 0.0,
                top_out_rate_n_per_mm=(stiff or 0.0) if has_top_out else 0.0,
                top_out_mm=(length or 0.0) if has_top_out else 0.0,
            )
            reach_mm = _reach(rear) if has_top_out else 0.0
    left_out: dict[LeftOut, bool] = {
        "unsprung_rear": unsprung_kg is None,
        "gas": not figures.gas_force_n.known,
        "travel_rear": recorded_rear.wheel_travel_mm is None and recorded_rear.stroke_mm is None,
        "top_out": top_out.fitted == "yes" and not has_top_out,
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
    )


def _stroke(rear: Rear, linkage: Linkage) -> float | None:
    """Stroke less rigid packers; where no stroke is recorded, shock travel at full wheel travel less the packers."""
    packers = rear.packers_mm or 0.0
    if rear.stroke_mm is not None:
        return rear.stroke_mm - packers
    if packers and rear.wheel_travel_mm is not None:
        return linkage.shock_travel(min(rear.wheel_travel_mm, linkage.covered_mm)) - packers
    return None


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
