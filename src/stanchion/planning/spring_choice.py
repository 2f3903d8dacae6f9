"""Choosing springs: the rate needed at one end, and a ranked table of the springs to hand.

An expected sag is the one that springs and loads give, the loads corrected by the sags measured with the springs
fitted now, as in the advice on those sags and in a what-if.
"""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.model import End, Job
from stanchion.judgement.criteria.own_targets import profile_for
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.criteria.thresholds import RATE_STEPS_N_PER_MM
from stanchion.judgement.results.assessment import Assessment, Band
from stanchion.judgement.results.codes import FindingCode
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.findings import Finding
from stanchion.judgement.results.left_out import LeftOut
from stanchion.judgement.results.problems import Problem
from stanchion.judgement.sag.response import ByModel
from stanchion.judgement.sag.sag_advice import NO_ADVICE
from stanchion.judgement.sag.targets import after, all_in
from stanchion.judgement.springs.candidates import InHand, Pair, to_hand, with_the_needed
from stanchion.judgement.springs.fork_spring_swap import ForkSpringSwap
from stanchion.judgement.springs.rate_window import Rates, find_rates
from stanchion.judgement.springs.rear_spring_swap import RearSpringSwap
from stanchion.judgement.springs.spring_fitting import options_of, rough_score
from stanchion.judgement.springs.spring_option import (
    Option,
    Requirements,
)
from stanchion.judgement.springs.spring_swap import SpringSwap
from stanchion.judgement.springs.stock import Stock
from stanchion.judgement.springs.suggested_spring import best_step, clear_rate, needed_rate, usual_installed
from stanchion.planning.choice_by_advice import advised_spacer, aims_by_advice, as_it_stands, ranked_by_advice, told

MOST_OPTIONS = 60
"""Number of rows that are worked out in full: those with the nearest sags with the adjuster at mid."""


@record(kw_only=True)
class SpringChoice:
    """The rate needed at one end, and the springs to hand, best first."""

    end: End
    needed_n_per_mm: Figure
    """Rate of each spring for the middle of the rider sag's target with the adjuster at mid, or the nearest to it that
    brings both sags in."""
    window_n_per_mm: Band | None
    """Rates that can bring both sags into their targets, with the adjuster in its range and installed preload in its
    band. Infinite above where no rate is too stiff; None where there is none, or it is not known."""
    if_at_all: bool
    """Whether the rate needed brings both sags in only within the uncertainty of the sags."""
    nearest_n_per_mm: float | None
    """The nearest rate where no rate that is sold brings both sags in, as in the advice on the sags."""
    by_two_sags_n_per_mm: Figure
    """The rate from the rider alone: the load that the rider adds over the sag that the rider is to add."""
    wanted_installed_mm: Figure
    """Installed preload that the rate is worked out for, with a spring of the present length."""
    installed_stays: bool
    """Whether the collar fixes installed preload, so that it is not the one wanted."""
    mid_added_mm: float | None
    """Preload that the adjuster adds at mid; None where its range is not known."""
    mid_suits: bool
    """Whether springs of the rate needed bring both sags in with the adjuster there, or as it is where its range is not
    known."""
    omitted: tuple[LeftOut, ...]
    """What the figures leave out because it was not entered; prediction_sentences.py has the words."""
    from_stock: bool
    """Whether the springs are those of the stock, rather than standard steps."""
    considered: int
    """How many choices there were."""
    options: tuple[Option, ...]
    """Best first."""
    has_band: bool
    """Whether the use has a band for installed preload, by which the springs are judged."""
    doubted: bool
    """Whether the loads are in doubt, so that no springs are said to suit."""
    to_check: bool
    """Whether springs and loads as entered do not give the sags that were measured, so that none are said to suit."""

    @property
    def confirmed_n_per_mm(self) -> float | None:
        """The rate by two sags where it is one of those that bring both in; any other would read as a second answer."""
        rate, window = self.by_two_sags_n_per_mm.value, self.window_n_per_mm
        return rate if rate is not None and window is not None and window[0] <= rate <= window[1] else None


def choose(
    job: Job,
    assessment: Assessment,
    profiles: Profiles,
    end: End,
    stock: Stock | None = None,
    *,
    installed_mm: float | None = None,
    step_n_per_mm: float | None = None,
) -> SpringChoice:
    """The rate needed at one end, and a ranked table of the springs to hand.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        profiles: bands and targets.
        end: which end.
        stock: the springs in stock; where it has none for this end, standard steps around the rate needed are used.
        installed_mm: installed preload wanted; None: the middle of the band. Where the collar fixes it (rear only),
            that value is used instead.
        step_n_per_mm: step between standard rates; None: the usual one.

    Returns:
        The choice. Where the rate needed is absent, it names what is missing, and there are no rows.
    """
    band = profile_for(job, profiles).end(end).installed_preload
    swap: SpringSwap = (
        ForkSpringSwap(job, assessment.front) if end == "front" else RearSpringSwap(job, assessment.rear.spring)
    )
    sag = assessment.sag.end(end)
    carried = assessment.predicted.end(end)
    static_n, rider_n = carried.static.carried_n, carried.rider.carried_n
    stays = swap.installed_stays_mm
    installed = usual_installed(swap, band, installed_mm)
    mid_mm = None if swap.span.range_mm is None else swap.span.range_mm / 2.0
    target = sag.behind.get("rider", sag.rider.target)
    middle = absent("no_target") if target is None else Figure(sum(target) / 2.0)
    ready = derive(lambda *_: 0.0, swap.computable, rider_n, middle, installed)
    if sag.advice is not None and sag.advice.code in NO_ADVICE - {"measure_again_changed"}:
        ready = absent(_doubt(sag.advice))
    needed, by_two_sags = _Needed(rate_n_per_mm=ready), ready
    listed = stock is not None and any(row.rate_n_per_mm and row.count for _, row in stock.of(end))
    mid_suits = False
    options: list[Option] = []
    pairs: list[Pair] = []
    if ready.known and installed.value is not None and target is not None:
        requirements = Requirements(
            static_target=None if sag.static_hidden or "static" in sag.behind else sag.static.target,
            rider_target=target,
            static=static_n,
            rider=rider_n,
            static_at_most_n=carried.static_at_most_n,
            band=band,
            installed_mm=installed.value,
            aims=aims_by_advice(sag),
        )
        by_two_sags = derive(lambda _: 0.0, static_n)
        if static_n.value is not None and sag.static.target is not None:
            by_two_sags = _by_two_sags(swap, (sag.static.target, target), static_n, rider_n)
        needed = _needed(swap, requirements, estimate=ready.estimate or mid_mm is None)
        if needed.rate_n_per_mm.value:  # a rate of zero is no spring
            mid_suits = _suits_at_mid(swap, needed.rate_n_per_mm.value, requirements)
        if needed.rates is not None and needed.around_n_per_mm is not None:
            step = RATE_STEPS_N_PER_MM[end][0] if step_n_per_mm is None else step_n_per_mm
            pairs = to_hand(job, end, stock, needed.around_n_per_mm, step)
            wanted = needed.rate_n_per_mm.value
            if wanted is not None and not listed:
                pairs = with_the_needed(pairs, to_hand(job, end, stock, wanted, step), wanted)
            found = [
                one
                for pair in _near(swap, pairs, requirements)
                for one in options_of(swap, pair, requirements, needed.rates, advised_spacer(carried.target))
            ]
            found = [as_it_stands(one, sag, carried.target) for one in found]
            options = ranked_by_advice(found, carried.target, listed=listed)
    return SpringChoice(
        end=end,
        needed_n_per_mm=needed.rate_n_per_mm,
        window_n_per_mm=needed.window_n_per_mm,
        if_at_all=needed.if_at_all,
        nearest_n_per_mm=needed.nearest_n_per_mm,
        by_two_sags_n_per_mm=by_two_sags,
        wanted_installed_mm=installed,
        installed_stays=stays is not None,
        mid_added_mm=mid_mm,
        mid_suits=mid_suits,
        omitted=swap.omitted,
        from_stock=listed,
        considered=len(pairs),
        options=tuple(told(one, doubted=carried.doubted or carried.to_check, by_sags=band is None) for one in options),
        has_band=band is not None,
        doubted=carried.doubted,
        to_check=carried.to_check,
    )


@record(kw_only=True)
class _Needed:
    """The rate needed, and the rates that suit; the fields are those of SpringChoice."""

    rate_n_per_mm: Figure
    window_n_per_mm: Band | None = None
    if_at_all: bool = False
    nearest_n_per_mm: float | None = None
    around_n_per_mm: float | None = None
    """The rate around which standard steps are listed; None where there is none to go by."""
    rates: Rates | None = None


def _needed(swap: SpringSwap, requirements: Requirements, *, estimate: bool) -> _Needed:
    """The rate needed, and the rates that suit.

    Args:
        swap: the end the springs would go into.
        requirements: what is wanted of them.
        estimate: whether the rate needed is to be marked as an estimate.
    """
    rate = needed_rate(swap, requirements)
    # Where no rate gives the sag, the rows are centred on the springs fitted now.
    around = swap.rate_now if rate is None else rate
    if around is None:
        return _Needed(rate_n_per_mm=absent("no_rate_gives_it"))
    rates = find_rates(swap, requirements.for_rates, around, swap.rate_now)
    none = rates.no_suitable_rate
    if none is not None and none.reason != "no_rate_sold":
        return _Needed(
            rate_n_per_mm=absent(none.reason),
            nearest_n_per_mm=none.nearest_n_per_mm,
            around_n_per_mm=none.nearest_n_per_mm or around,
            rates=rates,
        )
    needed, window = absent("no_rate_gives_it"), None
    if rate is not None:
        window = rates.within if rates.within.open else rates.surely
        if rates.within.open:
            around = clear_rate(swap, requirements, requirements.for_rates.aims, around)
        around = window.nearest(around)
        needed = Figure(around, estimate=estimate)
        best = best_step(swap, requirements, around) if rates.within.open else None
        around = around if best is None else best[0]
    nearest = none.nearest_n_per_mm if none is not None else None
    if_at_all = window is not None and not rates.within.open
    return _Needed(
        rate_n_per_mm=needed,
        window_n_per_mm=(window.low, window.high) if window is not None and not if_at_all else None,
        if_at_all=if_at_all,
        nearest_n_per_mm=nearest,
        around_n_per_mm=nearest or around,
        rates=rates,
    )


def _suits_at_mid(swap: SpringSwap, rate: float, requirements: Requirements) -> bool:
    """Whether springs of that rate bring both sags in with the adjuster at mid, or as it is."""
    springs = tuple(InHand(rate_n_per_mm=rate, free_length_mm=mm) for mm in swap.lengths_now)
    span, required = swap.span, requirements.for_rates
    added_mm = (span.added_now_mm or 0.0) if span.range_mm is None else span.range_mm / 2.0
    model = swap.model(springs, (requirements.installed_mm,) * len(springs))
    response = ByModel(model, required.loads, predicted=True)
    return all_in(after(response, turned_mm=added_mm), required.aims)


_DOUBTS: dict[FindingCode, Problem] = {
    "inputs_doubted": "inputs_doubted",
    "check_before_spring": "inputs_doubted",
    "find_friction": "friction_first",
}


def _doubt(advice: Finding) -> Problem:
    """What must be put right before a rate is worked out."""
    return "loads_doubted" if advice.values["work"] == "loads" else _DOUBTS.get(advice.code, "readings_doubtful")


def _by_two_sags(swap: SpringSwap, targets: tuple[Band, Band], static_n: Figure, rider_n: Figure) -> Figure:
    """The load that the rider adds over the sag that the rider is to add, between the middles of both targets."""
    if swap.computable.problem in ("air_sprung", "fork_without_spring"):
        return swap.computable
    sags = [sum(target) / 2.0 for target in targets]
    return derive(lambda alone, aboard: swap.rate_by_two_sags(sags, (alone, aboard)), static_n, rider_n)


def _near(swap: SpringSwap, pairs: list[Pair], requirements: Requirements) -> list[Pair]:
    """The springs that are worked out in full: those fitted now, and of the others the nearest."""
    if len(pairs) <= MOST_OPTIONS:
        return pairs
    fitted = [pair for pair in pairs if all(spring.fitted is not None for spring in pair)]
    others = [pair for pair in pairs if pair not in fitted]
    others.sort(key=lambda pair: rough_score(swap, pair, requirements))
    return [*fitted, *others[: MOST_OPTIONS - len(fitted)]]
