"""How springs are installed in one end: spacers and collar as they are, new spacers, or as advised."""

from __future__ import annotations

from dataclasses import replace

from stanchion.job.model import State
from stanchion.judgement.criteria.thresholds import CLOSE_TO_TARGET_MM, SLACK
from stanchion.judgement.ends.preload import verdict as verdict_on_preload
from stanchion.judgement.sag.available_preload import AvailablePreload, setting_of
from stanchion.judgement.sag.response import EVERYWHERE, FURTHEST_MM, ByModel
from stanchion.judgement.sag.targets import (
    after,
    both_within,
    nearest_to_middle,
    spaced_to_least,
    turned_to_least,
    turns_for,
    worst_missed,
)
from stanchion.judgement.springs.candidates import Pair
from stanchion.judgement.springs.rate_search import Window
from stanchion.judgement.springs.rate_window import Rates, spacer_range, turning_range
from stanchion.judgement.springs.spring_option import (
    AdvisedSpacer,
    Installation,
    Requirements,
    alike_rate,
    other_length_of,
)
from stanchion.judgement.springs.spring_swap import Installed, Span, SpringSwap


def bringing_in(swap: SpringSwap, springs: Pair, requirements: Requirements) -> Installation | None:
    """How springs that are not fitted now are installed to bring both sags in; None where nothing does.

    Spacers, or the collar, stay as they are where that does it.
    """
    installed, stays = swap.installed_unchanged(springs), swap.installed_stays_mm is not None
    if installed is not None and (stays or may_stay(springs, installed, requirements)):
        model = swap.model(springs, installed)
        unchanged = Installation(model=model, installed_mm=installed, turned_mm=None, unchanged=True)
        turned = turned_in(swap, unchanged, requirements)
        if turned.turned_mm is not None:
            return turned
    if stays:
        return None
    return with_spacers(swap, springs, requirements)


def may_stay(springs: Pair, installed_mm: Installed, requirements: Requirements) -> bool:
    """Whether spacers may stay that leave so much installed: not with other springs where it is at its limit."""
    limit = requirements.band.limit if requirements.band else None
    at_limit = limit is not None and max(installed_mm) >= limit - SLACK
    fitted = all(spring.fitted is not None for spring in springs)
    return all_in_band(installed_mm, requirements) and (fitted or not at_limit)


def all_in_band(installed_mm: Installed, requirements: Requirements) -> bool:
    """Whether installed preload of every spring is in the band."""
    return all(verdict_on_preload(mm, requirements.band) in ("in", "near_limit", "") for mm in installed_mm)


def inside(window: Window, rate: float) -> bool:
    """Whether a rate lies in a window."""
    return window.low - SLACK <= rate <= window.high + SLACK


def only_surely(rates: Rates, rate: float | None) -> bool:
    """Whether a rate brings both sags in only within their uncertainty; of unlike springs, whether any does only so."""
    if rate is None:
        return rates.surely.open and not rates.within.open
    return rates.surely.open and inside(rates.surely, rate) and not inside(rates.within, rate)


def rate_out_of_window(swap: SpringSwap, springs: Pair, rates: Rates) -> bool:
    """Whether the rate alone shows that the sags stay out of target: for equal springs of the present length."""
    rate = alike_rate(springs)
    of_present = swap.installed_stays_mm is None or not other_length_of(swap, springs)
    return rates.within.open and rate is not None and of_present and not inside(rates.within, rate)


def unchanged_in(
    swap: SpringSwap, springs: Pair, requirements: Requirements, *, out_of_window: bool
) -> Installation | None:
    """The springs with the spacers or the collar unchanged."""
    installed = swap.installed_unchanged(springs)
    if installed is None:
        return None
    fitted = all(spring.fitted is not None for spring in springs)
    installation = Installation(
        model=swap.model(springs, installed),
        installed_mm=installed,
        turned_mm=None,
        unchanged=True,
        stands_mm=(swap.span.added_now_mm or 0.0) if fitted else 0.0,
    )
    return installation if out_of_window else turned_in(swap, installation, requirements)


def turned_in(swap: SpringSwap, installation: Installation, requirements: Requirements) -> Installation:
    """The same installation, turned so that both sags come in; not turned where they do not."""
    required, available = requirements.for_rates, turning_range(swap.span, installation.installed_mm, requirements.band)
    response = ByModel(installation.model, required.loads, predicted=True)
    return replace(installation, turned_mm=turns_for(response, required.aims, available, 0.0))


def with_spacers(swap: SpringSwap, springs: Pair, requirements: Requirements) -> Installation | None:
    """The springs with spacers that bring both sags in and keep the adjusters near mid; None where none does."""
    start, required = (requirements.installed_mm,) * len(springs), requirements.for_rates
    response = ByModel(swap.model(springs, start), required.loads, predicted=True)
    low, high = spacer_range(swap, springs, start, requirements.band)
    span, turned = swap.span, turning_range(swap.span, start, requirements.band)
    at_mm = (span.added_now_mm or 0.0) if span.range_mm is None else span.range_mm / 2.0

    def sag_after(state: State, spacer_mm: float) -> float | None:
        return response.sag(state, spacer_mm=spacer_mm, turned_mm=at_mm)

    limits = (max(low, -FURTHEST_MM), min(high, FURTHEST_MM))
    if limits[0] > limits[1]:
        return None
    choices = list(limits)
    if turns_for(response, required.aims, turned, 0.0) is not None:
        choices = [0.0]
    else:
        suits = both_within(response, required.aims, sag_after, limits)
        if suits is not None:
            choices = [nearest_to_middle(suits, required.aims, sag_after)]
    for longer_mm in choices:
        turned_mm = turns_for(response, required.aims, turned, longer_mm)
        if turned_mm is not None:
            installed = swap.respaced(springs, start, longer_mm)
            model = swap.model(springs, installed)
            return Installation(model=model, installed_mm=installed, turned_mm=turned_mm, unchanged=False)
    return None


def as_advised_in(
    swap: SpringSwap, springs: Pair, unchanged: Installation, advised: AdvisedSpacer
) -> Installation | None:
    """The springs fitted now with the spacer and the adjusters as the advice has them; None where it is not known where
    those stand."""
    stands_mm = swap.span.added_now_mm
    if stands_mm is None:
        return None
    installed = swap.respaced(springs, unchanged.installed_mm, advised.longer_mm)
    return Installation(
        model=swap.model(springs, installed),
        installed_mm=installed,
        turned_mm=stands_mm + advised.turned_mm,
        unchanged=False,
        stands_mm=stands_mm,
        as_advised=True,
    )


def respaced_to_least(
    swap: SpringSwap, springs: Pair, requirements: Requirements, unchanged: Installation | None
) -> Installation | None:
    """The springs with spacers that bring the worse sag nearest to target; None where the present ones do as well."""
    start, required, span = (requirements.installed_mm,) * len(springs), requirements.for_rates, swap.span
    response = ByModel(swap.model(springs, start), required.loads, predicted=True)
    at_mm = (span.added_now_mm or 0.0) if span.range_mm is None else span.range_mm / 2.0
    longer_mm = spaced_to_least(response, required.aims, spacer_range(swap, springs, start, requirements.band), at_mm)
    installed = swap.respaced(springs, start, longer_mm)
    cut = Installation(model=swap.model(springs, installed), installed_mm=installed, turned_mm=None, unchanged=False)
    missed = [least_miss(swap, one, requirements)[1] for one in (cut, unchanged or cut)]
    return None if unchanged is not None and missed[1] <= missed[0] + CLOSE_TO_TARGET_MM else cut


def least_miss(swap: SpringSwap, installation: Installation, requirements: Requirements) -> tuple[float, float]:
    """Preload added at the adjusters where the worse sag misses its target least, and by how much it misses."""
    required, available = requirements.for_rates, turning_range(swap.span, installation.installed_mm, requirements.band)
    response = ByModel(installation.model, required.loads, predicted=True)
    turned_mm = turned_to_least(response, required.aims, available, 0.0)
    return turned_mm, worst_missed(after(response, turned_mm=turned_mm), required.aims)


def as_set(
    span: Span, installation: Installation, requirements: Requirements, best_mm: float, ends: tuple[float, float]
) -> float:
    """Preload added at the adjusters as they can be set next to that, as the advice on the sags has it."""
    if not span.step_mm:
        return best_mm
    stands_mm = installation.stands_mm
    left = (ends[0] - stands_mm, ends[1] - stands_mm)
    available = AvailablePreload(
        turned=left, spacer=(0.0, 0.0), step_mm=span.step_mm, ends_mm=EVERYWHERE if span.no_fully_out else left
    )
    response = ByModel(installation.model, requirements.for_rates.loads, predicted=True)
    settings = [stands_mm + mm for mm in available.settings(best_mm - stands_mm)]
    return setting_of(response, requirements.for_rates.aims, settings)
