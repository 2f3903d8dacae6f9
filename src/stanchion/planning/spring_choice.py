"""Choosing springs: the rate needed at one end, a ranked table of the springs to hand, and the edits that fit them.

An expected sag is the one that springs and loads give, the loads corrected by the sags measured with the springs
fitted now, as in the advice on those sags and in a what-if.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

from stanchion.base.errors import BadEdit
from stanchion.base.record import record
from stanchion.job.edit import Edit, spec_at
from stanchion.job.ends import STEPS
from stanchion.job.model import SIDES, STATES, Adjuster, End, Job, Path, Spring
from stanchion.job.spec import Number
from stanchion.judgement.criteria.profiles import FALLBACK, PreloadBand, Profiles
from stanchion.judgement.criteria.thresholds import RATE_STEPS_N_PER_MM
from stanchion.judgement.results.assessment import Assessment, Band, EndSagFigures
from stanchion.judgement.results.codes import FindingCode, LeftOut, Problem
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.sag.sag_advice import NO_ADVICE, aims_of
from stanchion.judgement.sag.targets import Aims
from stanchion.judgement.springs.candidates import Pair, to_hand
from stanchion.judgement.springs.fork_spring_swap import ForkSpringSwap
from stanchion.judgement.springs.rate_window import Rates, Window, find_rates
from stanchion.judgement.springs.rear_spring_swap import RearSpringSwap
from stanchion.judgement.springs.spring_swap import Fitting, SpringSwap
from stanchion.judgement.springs.stock import Stock
from stanchion.planning.spring_fitting import options_of, rough_score
from stanchion.planning.spring_option import Option, Requirements

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
    omitted: tuple[LeftOut, ...]
    """What the figures leave out because it was not entered; prediction_sentences.py has the words."""
    from_stock: bool
    """Whether the springs are those of the stock, rather than standard steps."""
    considered: int
    """How many choices there were."""
    options: tuple[Option, ...]
    """Best first."""


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
    band = (profiles.get(job.job.use) or profiles.by_name[FALLBACK]).end(end).installed_preload
    swap: SpringSwap = (
        ForkSpringSwap(job, assessment.front) if end == "front" else RearSpringSwap(job, assessment.rear.spring)
    )
    sag = assessment.sag.end(end)
    carried = assessment.predicted.end(end)
    static_n, rider_n = carried.static.carried_n, carried.rider.carried_n
    stays = swap.installed_stays_mm
    wanted_mm = installed_mm if stays is None else stays
    installed = _usual_installed(job, assessment, end, band) if wanted_mm is None else Figure(wanted_mm)
    span = swap.span
    mid_mm = None if span.range_mm is None else span.range_mm / 2.0
    added_mm = (span.added_now_mm or 0.0) if mid_mm is None else mid_mm
    target = sag.rider.target
    middle = absent("no_target") if target is None else Figure(sum(target) / 2.0)
    ready = derive(lambda *_: 0.0, swap.computable, rider_n, middle, installed)
    if sag.advice is not None and sag.advice.code in NO_ADVICE - {"measure_again_changed"}:
        ready = absent(_DOUBTS.get(sag.advice.code, "readings_doubtful"))
    needed = by_two_sags = ready
    listed = stock is not None and any(row.rate_n_per_mm and row.count for _, row in stock.of(end))
    window: Window | None = None
    if_at_all = False
    nearest: float | None = None
    options: list[Option] = []
    pairs: list[Pair] = []
    if ready.known and installed.value is not None and target is not None:
        requirements = Requirements(
            static_target=None if sag.static_hidden else sag.static.target,
            rider_target=target,
            static=static_n,
            rider=rider_n,
            static_at_most_n=carried.static_at_most_n,
            band=band,
            installed_mm=installed.value,
            aims=_aims(sag),
        )
        by_two_sags = derive(lambda _: 0.0, static_n)
        if static_n.value is not None and sag.static.target is not None:
            by_two_sags = _by_two_sags(swap, (sag.static.target, target), static_n, rider_n)
        rate = swap.needed(installed.value, added_mm, middle.value or 0.0, rider_n.value or 0.0)
        needed = absent("no_rate_gives_it")
        # Where no rate gives the sag, the rows are centred on the springs fitted now.
        around = swap.rate_now if rate is None else rate
        if around is not None:
            rates = find_rates(swap, requirements.for_rates, around, swap.rate_now)
            no_suitable_rate = rates.no_suitable_rate
            if no_suitable_rate is not None and no_suitable_rate.reason != "no_rate_sold":
                needed = absent(no_suitable_rate.reason)
            elif rate is not None:
                window = rates.within if rates.within.open else rates.surely
            if window is not None:
                around = window.nearest(around)
                needed = Figure(around, estimate=ready.estimate or mid_mm is None)
                if_at_all = not rates.within.open
            if no_suitable_rate is not None:
                nearest = no_suitable_rate.nearest_n_per_mm
                around = nearest or around
            step = RATE_STEPS_N_PER_MM[end][0] if step_n_per_mm is None else step_n_per_mm
            pairs = to_hand(job, end, stock, around, step)
            options = _ranked(swap, pairs, requirements, rates)
    return SpringChoice(
        end=end,
        needed_n_per_mm=needed,
        window_n_per_mm=(window.low, window.high) if window is not None and not if_at_all else None,
        if_at_all=if_at_all,
        nearest_n_per_mm=nearest,
        by_two_sags_n_per_mm=by_two_sags,
        wanted_installed_mm=installed,
        installed_stays=stays is not None,
        mid_added_mm=mid_mm,
        omitted=swap.omitted,
        from_stock=listed,
        considered=len(pairs),
        options=tuple(options),
    )


_DOUBTS: dict[FindingCode, Problem] = {"inputs_doubted": "inputs_doubted", "find_friction": "friction_first"}


def _aims(sag: EndSagFigures) -> Aims:
    """The targets as the advice on these sags uses them."""
    old = sag.advice is not None and sag.advice.code == "measure_again_changed"
    measured = sag.rider.sag_mm.known and not old
    return aims_of({state: sag.state(state) for state in STATES}, measured=measured, static_hidden=sag.static_hidden)


def _by_two_sags(swap: SpringSwap, targets: tuple[Band, Band], static_n: Figure, rider_n: Figure) -> Figure:
    """The load that the rider adds over the sag that the rider is to add, between the middles of both targets."""
    sags = [sum(target) / 2.0 for target in targets]
    return derive(lambda alone, aboard: swap.rate_by_two_sags(sags, (alone, aboard)), static_n, rider_n)


def _ranked(swap: SpringSwap, pairs: list[Pair], requirements: Requirements, rates: Rates) -> list[Option]:
    near = pairs
    if len(pairs) > MOST_OPTIONS:
        near = sorted(pairs, key=lambda pair: rough_score(swap, pair, requirements))[:MOST_OPTIONS]
    found = [one for pair in near for one in options_of(swap, pair, requirements, rates)]
    return sorted(found, key=lambda one: one.score)


def _usual_installed(job: Job, assessment: Assessment, end: End, band: PreloadBand | None) -> Figure:
    """The middle of the band for installed preload; without a band the present one, as the mean of two legs."""
    if band is not None:
        return Figure((band.low + band.high) / 2.0)
    if end == "rear":
        return assessment.rear.spring.installed_preload_mm
    sprung = [assessment.front.leg(side) for side in SIDES if job.front.leg(side).spring_fitted]
    if not sprung:
        return absent("fork_without_spring")
    return derive(lambda *mm: sum(mm) / len(mm), *(figures.installed_preload_mm for figures in sprung))


_DECIMALS = 4  # far below any tape; a sum of lengths should not be written with fifteen digits


def as_edits(option: Option, job: Job, *, set_adjuster: bool = False, settable: float = 0.0) -> tuple[Edit, ...]:
    """The edits that put the springs of an option in, with the spacers to cut.

    Args:
        option: the choice.
        job: the job it was worked out for.
        set_adjuster: also turn the adjusters to the target; otherwise they stay where they are.
        settable: smallest step of an adjuster, as it is counted; 0: set it to the exact target.

    Returns:
        Edits, to be applied in this order. Springs that are already fitted give none; legs entered once for both are
        split where the pair is mixed.
    """
    return tuple(_edits(option, job, set_adjuster, settable))


def _edits(option: Option, job: Job, set_adjuster: bool, settable: float) -> Iterator[Edit]:
    fittings = option.fittings
    if fittings[0].place == "rear":
        yield from _spring_edits(fittings[0], ("rear",), job.rear.spring)
        if set_adjuster:
            yield from _turn(option, job.rear.collar, ("rear", "collar"), settable)
        return
    kinds = {(f.spring.rate_n_per_mm, f.free_length_mm, f.spring.coils) for f in fittings}
    mixed = len(kinds) > 1
    if not job.front.split and mixed:
        yield Edit(("front", "right"), job.front.left)
    split = job.front.split or mixed
    for fitting in fittings:
        if fitting.place == "right" and not split:
            continue
        where: Path = ("front", fitting.place if split else "left")
        leg = job.front.leg("left" if fitting.place == "left" else "right")
        yield from _spring_edits(fitting, where, leg.spring)
        if fitting.spacer_mm.value is not None and fitting.spacer_mm.value != leg.stack.spacer_mm:
            yield _put((*where, "stack", "spacer_mm"), fitting.spacer_mm.value)
    if set_adjuster:
        for side in SIDES if split else SIDES[:1]:
            yield from _turn(option, job.front.leg(side).adjuster, ("front", side, "adjuster"), settable)


def _spring_edits(fitting: Fitting, where: Path, now: Spring) -> Iterator[Edit]:
    at = (*where, "spring")
    if fitting.spring.fitted is None:
        yield Edit((*at, "rate_n_per_mm"), fitting.spring.rate_n_per_mm)
        if fitting.free_length_mm is not None:
            yield Edit((*at, "free_length_mm"), fitting.free_length_mm)
        if now.coils != fitting.spring.coils:
            yield Edit((*at, "coils"), fitting.spring.coils)
    for name, value in (("set_length_mm", fitting.set_length_mm), ("set_length_in_mm", fitting.set_length_in_mm)):
        if value is not None and value != getattr(now, name):
            yield _put((*at, name), value)


def _put(path: Path, value: float) -> Edit:
    """The edit that sets a length, or clears it where the field cannot hold the new one; the old one is out of date."""
    rounded = round(value, _DECIMALS)
    try:
        cast(Number, spec_at(path)).check(rounded)
    except BadEdit:
        return Edit(path, None)
    return Edit(path, rounded)


def _turn(option: Option, adjuster: Adjuster, at: Path, settable: float) -> Iterator[Edit]:
    """The edit that turns the adjuster to the target, in the units it is counted in."""
    if option.position is None or adjuster.counting == "none":
        return
    ends = (adjuster.reading_out, adjuster.reading_in)
    if adjuster.from_out:
        ends = (0.0, adjuster.total)
        settable = settable and STEPS[adjuster.counting]
    fully_out, fully_in = ends
    if fully_out is not None and fully_in is not None:
        reading = fully_out + option.position * (fully_in - fully_out)
        yield Edit((*at, "now"), round(reading / settable) * settable if settable else round(reading, _DECIMALS))
