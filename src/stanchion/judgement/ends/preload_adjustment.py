"""How preload can be changed at one end, and how far."""

from __future__ import annotations

from collections.abc import Sequence

from stanchion.base.record import record
from stanchion.job.model import SIDES, Front, Leg, Rear, Side
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import LEAST_COLLAR_EFFECT, NOT_SHOWN_MM, SAME_TURN
from stanchion.judgement.ends.adjusters_alike import mean_by_rates, rate_of, set_alike
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.preload import OUT_OF_BAND
from stanchion.judgement.ends.rear import RearResult
from stanchion.judgement.ends.set_length_reading import reading_point
from stanchion.judgement.ends.spacers_alike import SpacersAlike, spacers_alike
from stanchion.judgement.ends.spring_law import law_of_leg
from stanchion.judgement.ends.top_out import front_share, rear_share
from stanchion.judgement.ends.top_out_bench import as_it_counts
from stanchion.judgement.results.assessment import Band, FrontFigures, PreloadFigures
from stanchion.mechanics.spring_curve import RateOrCurve


@record(kw_only=True)
class PreloadAdjustment:
    """The ways of changing preload at one end, and how far each goes. None: not known."""

    per_sag: float | None
    """Preload at every spring of this end for 1 mm of sag."""
    share: float | None
    """Share of the total spring rate that has an adjuster: 1 where every spring has one."""
    per_turn_mm: float | None
    """Preload of one turn at every adjuster; None where they differ."""
    step_mm: float | None
    """Preload of the least that every adjuster is turned; None where that is not known, or they differ."""
    left_in_mm: float | None
    left_out_mm: float | None
    alike_from_mm: float | None = None
    """What each adjuster adds once both are set alike, where they stand apart: a change is counted from there."""
    most_installed_mm: float | None
    """Installed preload of the spring with the most."""
    least_installed_mm: float | None
    least_preload_now_mm: float | None
    """Preload now of the adjusted spring with the least."""
    band: PreloadBand | None
    verdict: str
    """Verdict on installed preload, for the worse spring."""
    spacer_range_mm: Band | None = None
    """By how much the spacer may change with installed preload, as it is read, staying in its band."""
    spacer_mm: float | None = None
    """Length of the spacer now, where it is the same for every spring of this end."""
    spacers_mm: tuple[float, float] | None = None
    """Lengths of the spacers, left and right, where they differ."""
    turn_of_legs: tuple[tuple[float, float], tuple[float, float]] | None = None
    """Preload of one turn and of the least step, left and right, where a turn differs."""
    shortest_spacer_mm: float | None = None
    """Length of the shortest spacer fitted; no spacer can be shortened by more."""
    has_spacer: bool = True
    as_it_stands: bool = False
    """Whether fully out is not known, so that preload at the present position is kept in the band instead."""
    fitted: str = "no"
    """Whether a top-out spring is fitted."""
    top_out_mm: float | None = None
    """Length over which the top-out spring works, measured as the sag of this end is."""
    top_out_share: float = 1.0
    """Share of added preload that shows in a sag beyond the top-out spring."""
    in_clicks: bool = False
    """Whether every adjuster of this end is counted in clicks: a turn then stands for a click, and is set whole."""
    effect_uncertain: bool = False
    """Whether the effect of added preload is so uncertain that sag must be measured again."""
    by_length: str = ""
    """What a spring is, "shorter" or "longer", where that alone takes installed preload out of its band; see
    length_cause."""
    match: SpacersAlike | None = None
    """The spacers that make installed preload the same in both legs, where it differs."""

    @property
    def out_of_band(self) -> bool:
        """Whether installed preload is out of its band."""
        return self.verdict in OUT_OF_BAND

    @property
    def below_band(self) -> bool:
        """Whether it is out of its band that way, by however little."""
        if self.verdict != "borderline" or self.band is None or self.least_installed_mm is None:
            return self.verdict in ("loose", "low")
        return self.least_installed_mm < self.band.low

    @property
    def above_band(self) -> bool:
        """Whether it is out of its band the other way."""
        return self.out_of_band and not self.below_band

    @property
    def at_limit(self) -> bool:
        """Whether installed preload is at its limit or over it, so that only a stiffer spring carries more."""
        limit = self.band.limit if self.band else None
        most_mm = self.most_installed_mm
        return limit is not None and most_mm is not None and most_mm >= limit - NOT_SHOWN_MM


def front_adjustment(
    front: Front, figures: FrontFigures, band: PreloadBand | None, model: EndModel
) -> PreloadAdjustment:
    """How preload is changed in the fork."""
    legs = [(front.leg(side), figures.leg(side)) for side in (SIDES if front.split else SIDES[:1])]
    sprung = [(leg, of_leg) for leg, of_leg in legs if leg.coil_fitted]
    adjusted = [(leg, of_leg) for leg, of_leg in sprung if leg.adjuster.counting != "none"]
    rates = [rate_of(leg) for leg, _ in sprung]
    share: float | None = 1.0
    if len(adjusted) < len(sprung):
        with_adjuster = [rate_of(leg) for leg, _ in adjusted]
        known = [rate for rate in rates if rate is not None]
        share = None
        if len(known) == len(rates):
            share = sum(rate for rate in with_adjuster if rate is not None) / sum(known)
    shows = front_share(front, model)
    per_turn_mm = per_turn_of_legs(adjusted)
    installed = [of_leg.installed_preload_mm.value for _, of_leg in sprung]
    spacers = [leg.stack.spacer_mm for leg, _ in sprung if leg.stack.spacer_mm is not None]
    verdicts = [of_leg.verdict for _, of_leg in sprung]
    alike = set_alike(front, figures) if per_turn_mm is not None else None
    left_in_mm = _least([of_leg.headroom_in_mm.value for _, of_leg in adjusted])
    left_out_mm = _least([of_leg.headroom_out_mm.value for _, of_leg in adjusted])
    now_mm = _least([of_leg.preload_now_mm.value for _, of_leg in adjusted or sprung])
    if alike is not None:
        now_mm = (_least(installed) or 0.0) + alike.added_mm
        left_in_mm, left_out_mm = alike.left_in_mm, alike.added_mm
    return PreloadAdjustment(
        per_sag=1.0 / shows,
        share=share,
        per_turn_mm=per_turn_mm,
        step_mm=step_of_legs(adjusted),
        in_clicks=bool(adjusted) and all(of_leg.turned_in == "clicks" for _, of_leg in adjusted),
        left_in_mm=left_in_mm,
        left_out_mm=left_out_mm,
        alike_from_mm=None if alike is None else alike.added_mm,
        most_installed_mm=_most(installed),
        least_installed_mm=_least(installed) if installed else None,
        least_preload_now_mm=now_mm,
        band=band,
        verdict=next((word for word in _WORST_FIRST if word in verdicts), ""),
        spacer_range_mm=_spacer_room(front, figures, band),
        match=spacers_alike(front, figures, band),
        spacer_mm=_alike([leg.stack.spacer_mm for leg, _ in sprung], NOT_SHOWN_MM),
        spacers_mm=(spacers[0], spacers[1]) if len(spacers) == len(SIDES) == len(legs) else None,
        turn_of_legs=_turn_of_legs(adjusted) if per_turn_mm is None else None,
        shortest_spacer_mm=min(spacers, default=None),
        fitted=front.top_out.fitted,
        top_out_mm=as_it_counts(front.top_out).works_over_mm,
        top_out_share=shows,
    )


def rear_adjustment(shock: Rear, rear: RearResult, band: PreloadBand | None, model: EndModel) -> PreloadAdjustment:
    """How preload is changed at the shock: by the collar, whose effect reaches the wheel through the linkage."""
    spring, effect = rear.figures.spring, rear.collar_effect.value
    shows = rear_share(shock, model)
    if effect is not None and effect < LEAST_COLLAR_EFFECT:
        effect = None
    installed = spring.installed_preload_mm.value
    return PreloadAdjustment(
        per_sag=None if effect is None else 1.0 / (effect * shows),
        share=1.0,
        per_turn_mm=spring.mm_per_turn.value,
        step_mm=spring.step_mm,
        in_clicks=spring.turned_in == "clicks",
        left_in_mm=spring.headroom_in_mm.value,
        left_out_mm=spring.headroom_out_mm.value,
        most_installed_mm=installed,
        least_installed_mm=installed,
        least_preload_now_mm=spring.preload_now_mm.value,
        band=band,
        verdict=spring.verdict,
        has_spacer=False,
        fitted="yes" if shock.top_out.fitted == "yes" else "no",  # few shocks have one: not known counts as none
        top_out_share=shows,
        effect_uncertain=rear.collar_uncertain,
        as_it_stands=spring.as_it_stands,
    )


def _spacer_room(front: Front, figures: FrontFigures, band: PreloadBand | None) -> Band | None:
    """By how much the spacer may change between both ends of the band for installed preload.

    Where lengths are read against a top-out spring, which gives way, installed preload changes by less than the spacer.
    """
    room: Band | None = None
    for side in SIDES if front.split else SIDES[:1]:
        leg, now_mm = front.leg(side), figures.leg(side).installed_preload_mm.value
        if not leg.coil_fitted:
            continue
        if band is None or now_mm is None:
            return None

        spring = law_of_leg(front, side).spring

        def at_stop(read_mm: float, side: Side = side, leg: Leg = leg, spring: RateOrCurve | None = spring) -> float:
            at_mm = reading_point(front.top_out_of(side), leg, spring, read_mm)
            return read_mm - (at_mm or 0.0)

        low, high = (at_stop(end_mm) - at_stop(now_mm) for end_mm in (band.low, band.high))
        room = (low, high) if room is None else (max(room[0], low), min(room[1], high))
    return room


_WORST_FIRST = ("over_limit", "loose", "high", "low", "borderline", "near_limit", "in")


def _least(values: list[float | None]) -> float | None:
    """The least of the values; None where one is not known, 0 where there are none."""
    known = [value for value in values if value is not None]
    return None if len(known) < len(values) else min(known, default=0.0)


def _most(values: list[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return max(known) if known and len(known) == len(values) else None


def per_turn_of_legs(legs: Sequence[tuple[Leg, PreloadFigures]]) -> float | None:
    """Mean preload that one turn of every adjuster adds, weighted by the rates of the springs.

    Args:
        legs: the legs with an adjuster, and their figures.

    Returns:
        The preload [mm]; None where a turn is not known, or the adjusters differ.
    """
    return _mean_of_legs(legs, [figures.mm_per_turn.value for _, figures in legs])


def step_of_legs(legs: Sequence[tuple[Leg, PreloadFigures]]) -> float | None:
    """The same of the least that an adjuster is turned."""
    return _mean_of_legs(legs, [figures.step_mm for _, figures in legs])


def _turn_of_legs(
    legs: Sequence[tuple[Leg, PreloadFigures]],
) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """Preload of a turn and of the least step of both legs; None where one is not known, or they count otherwise."""
    known = [
        (figures.mm_per_turn.value, figures.step_mm)
        for _, figures in legs
        if figures.mm_per_turn.value and figures.step_mm
    ]
    if len(known) < len(SIDES) or len({figures.turned_in for _, figures in legs}) > 1:
        return None
    (left, left_step), (right, right_step) = known
    return ((left or 0.0, left_step or 0.0), (right or 0.0, right_step or 0.0))


def _mean_of_legs(legs: Sequence[tuple[Leg, PreloadFigures]], added_mm: Sequence[float | None]) -> float | None:
    if len({figures.turned_in for _, figures in legs}) > 1:
        return None
    known = [mm for mm in added_mm if mm is not None]
    alike = _alike(added_mm, SAME_TURN * max(known, default=0.0))
    if alike is None or min(known) == max(known):
        return alike
    mean = mean_by_rates(legs, known)
    return alike if mean is None else mean


def _alike(values: Sequence[float | None], within: float) -> float | None:
    """The middle of the values; None where one is not known or they differ by more than that."""
    known = [value for value in values if value is not None]
    if not known or len(known) < len(values) or max(known) - min(known) > within:
        return None
    return known[0] if min(known) == max(known) else (min(known) + max(known)) / 2.0
