"""The fork of a job as mechanics computes it: springs, top-out spring, trapped air and rake.

What is not entered is left out of the calculation and listed in `without`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import SIDES, Front, Job, Leg, Side, TopOut
from stanchion.judgement.ends.end_model import LONGEST_TRAVEL_MM, Equilibrium, hanging_known
from stanchion.judgement.results.assessment import FrontFigures, PreloadFigures
from stanchion.judgement.results.codes import LeftOut
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.equilibrium import SAG_TOLERANCE_MM, Limit, fork_position
from stanchion.mechanics.fork import Fork, ForkLeg, TrappedAir, force_and_rate, with_added_preload
from stanchion.mechanics.fork_change import preload_for_sag
from stanchion.mechanics.gas import ATMOSPHERE_MPA, ML_MM3, circle_area, least_air_volume, temperature_ratio
from stanchion.mechanics.limits import G_N
from stanchion.mechanics.load import cosine_of_rake
from stanchion.mechanics.shock import BAR_MPA
from stanchion.mechanics.solve import falling_root

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
    def full_travel_mm(self) -> float:
        """Travel up to which the fork is computed."""
        return self._fork.travel_mm

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
    springs = [figure for side in sides for figure in _springs_wait_for(front, side, figures.leg(side))]
    computable = derive(_known, *springs) if springs else absent("fork_without_spring")
    travel_mm = LONGEST_TRAVEL_MM
    if front.travel_mm is not None:
        travel_mm = front.travel_mm - (front.packers_mm or 0.0)
    if computable.known and travel_mm <= 0.0:
        computable = absent("packers_fill_travel")
    airs = [_air(front, front.leg(side), travel_mm) for side in sides]
    rake_deg, unsprung_kg = job.geometry.rake_deg, job.weights.front_unsprung_kg
    cosine = 1.0 if rake_deg is None else cosine_of_rake(rake_deg)
    hanging_n = -(unsprung_kg or 0.0) * G_N * cosine
    fork = None
    adjusted = tuple(front.leg(side).spring_fitted and front.leg(side).adjuster.counting != "none" for side in SIDES)
    if not any(adjusted):
        adjusted = tuple(front.leg(side).spring_fitted for side in SIDES)
    if computable.known:
        of_sides = [_leg(front, side, figures.leg(side), air.air) for side, air in zip(sides, airs, strict=True)]
        fork = Fork(tuple(of_sides if front.split else of_sides * 2), travel_mm)
    inner, outer = front.stanchion_inner_mm, front.stanchion_outer_mm
    air_left_out = any(air.air is None for air in airs)
    no_diameter = (inner is None or outer is None) and any(front.leg(side).air_gap_mm is not None for side in sides)
    left_out: dict[LeftOut, bool] = {
        "rake": rake_deg is None,
        "unsprung_front": unsprung_kg is None,
        "travel_front": front.travel_mm is None,
        "top_out": front.top_out.fitted == "unknown"
        or (front.top_out.fitted == "yes" and _top_out(front.top_out) is None),
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
        tube_area_mm2=None if inner is None else circle_area(inner),
        impossible=tuple((side, air.problem) for side, air in zip(sides, airs, strict=True) if air.problem),
    )


# --- one leg ------------------------------------------------------------------------------------------------------


def _known(*_: float) -> float:
    return 0.0


def _springs_wait_for(front: Front, side: Side, figures: PreloadFigures) -> Iterator[Figure]:
    leg = front.leg(side)
    if leg.spring_fitted:
        yield recorded(leg.spring.rate_n_per_mm, ("front", side, "spring", "rate_n_per_mm"))
        yield figures.preload_now_mm


def _top_out(top_out: TopOut) -> tuple[float, float] | None:
    """Rate and length of a top-out spring, where there is one and both are recorded."""
    rate, length = top_out.rate_n_per_mm, top_out.works_over_mm
    if top_out.fitted != "yes" or rate is None or length is None:
        return None
    return rate, length


def _leg(front: Front, side: Side, figures: PreloadFigures, air: TrappedAir | None) -> ForkLeg:
    """One leg, with its preload at the stop."""
    leg = front.leg(side)
    rate, now = leg.spring.rate_n_per_mm, figures.preload_now_mm.value
    top_out = _top_out(front.top_out_of(side))
    stiff, length = top_out or (0.0, 0.0)
    if not leg.spring_fitted or rate is None or now is None:
        return ForkLeg(top_out_rate_n_per_mm=stiff, top_out_mm=length, air=air)
    at_stop = now if top_out is None else now - (figures.read_at_mm or 0.0)
    return ForkLeg(rate_n_per_mm=rate, preload_mm=at_stop, top_out_rate_n_per_mm=stiff, top_out_mm=length, air=air)


class _Air(NamedTuple):
    air: TrappedAir | None
    problem: str = ""
    """Code of the finding that says why the recorded air is impossible."""


def _air(front: Front, leg: Leg, travel_mm: float) -> _Air:
    """The trapped air; left out where the travel is not known, since its volume depends on the travel."""
    gap, outer, inner = leg.air_gap_mm, front.stanchion_outer_mm, front.stanchion_inner_mm
    if gap is None or outer is None or inner is None or front.travel_mm is None or travel_mm <= 0.0:
        return _Air(None)
    bleed = leg.bleed
    closed_at = bleed.at_mm or 0.0
    if closed_at > travel_mm:
        return _Air(None, "bled_beyond_travel")
    ratio = 1.0
    if bleed.temperature_c is not None and front.temperature_c is not None:
        ratio = temperature_ratio(bleed.temperature_c, front.temperature_c)
    try:
        least = least_air_volume(inner, gap, (leg.solids_ml or 0.0) * ML_MM3)
    except OutOfRange:
        return _Air(None, "air_no_room")
    area_mm2 = circle_area(outer)
    if least * MOST_SQUEEZED < least + area_mm2 * travel_mm:
        return _Air(None, "air_no_room")
    return _Air(
        TrappedAir(
            area_mm2=area_mm2,
            least_volume_mm3=least,
            closed_mpa=ATMOSPHERE_MPA + (bleed.pressure_bar or 0.0) * BAR_MPA,
            closed_at_mm=closed_at,
            temperature_ratio=ratio,
        )
    )


def _equilibrium(fork: Fork, load_n: float) -> Equilibrium:
    position = fork_position(fork, load_n)
    return Equilibrium(position.travel_mm, position.limit)
