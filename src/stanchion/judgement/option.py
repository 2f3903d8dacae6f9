"""One choice of springs: what it gives with the adjuster out, at mid and in, and how good it is."""

from __future__ import annotations

import math

from stanchion.judgement.assessment import Band
from stanchion.judgement.candidates import Pair
from stanchion.judgement.coils import LEAST_CLEARANCE_MM
from stanchion.judgement.end_model import EndModel
from stanchion.judgement.figures import Figure, absent, derive
from stanchion.judgement.front import LENGTH_NOTE_MM, RATES_DIFFER
from stanchion.judgement.preload import FEW_TURNS, SLACK, most_preload
from stanchion.judgement.preload import verdict as verdict_on_preload
from stanchion.judgement.profiles import PreloadBand
from stanchion.judgement.refit import Fitting, Refit, Span
from stanchion.judgement.sags import NO_TARGET
from stanchion.record import record

LAST = 1000.0
"""Added to the score of springs that must not be fitted."""
OTHER_LENGTH = 1.0
"""Added for another free length (common practice, no published source), as much as half a target's width of sag."""
MIXED = 0.1
"""Added for a mixed pair: of two choices that come equally near, equal springs are the better."""
OFF_CENTRE = 0.5
"""Added for an adjuster at its end; in between in proportion."""
NEAR_END = 0.1
"""An adjuster whose turns are not known counts as near its end within this share of its range."""


@record(kw_only=True)
class Wanted:
    """What an end is to do."""

    static_target: Band
    rider_target: Band
    static: Figure
    """Vertical load on its springs, machine alone."""
    rider: Figure
    """The same with the rider aboard."""
    band: PreloadBand | None
    installed_mm: float
    """Installed preload wanted."""


@record(kw_only=True)
class SagAt:
    """Both sags to expect at one adjuster position."""

    static_mm: Figure
    rider_mm: Figure


@record(kw_only=True)
class Option:
    """One choice of springs."""

    fittings: tuple[Fitting, ...]
    """Each spring in its place."""
    fitted_now: bool
    """These are the springs that are fitted now."""
    used: tuple[int, ...]
    """The rows of the stock they are taken from, one for each spring."""
    mean_rate_n_per_mm: float
    installed_mm: float
    """Installed preload, read as the job reads it."""
    out: SagAt
    """Adjuster fully out."""
    mid: SagAt
    fully_in: SagAt
    best: SagAt
    """With the adjuster at the target for rider sag, or as near to it as it goes."""
    turns_for_target: Figure
    """Turns from where the adjuster stands now; in is above 0, out below."""
    turns_from_out: Figure
    """The same target in turns from fully out."""
    mm_from_out: Figure
    """The same in mm at the spring."""
    position: float | None
    """Where the adjuster then stands, 0 fully out to 1 fully in; None: there is none, or its range is not known."""
    headroom_out_turns: Figure
    """What it then still has towards less preload."""
    headroom_in_turns: Figure
    headroom_out_mm: Figure
    headroom_in_mm: Figure
    coil_bind_clearance_mm: Figure
    """The least left at full travel, adjuster fully in, of these springs."""
    required_clearance_mm: Figure
    """The sum of minimum gaps for that spring."""
    other_length: bool
    """Of another free length than the springs they replace."""
    verdict: str
    """A code; choice_sentences.py has its words."""
    score: float
    """The smaller, the better; only for putting rows in order."""


def rough_score(refit: Refit, springs: Pair, wanted: Wanted) -> float:
    """How near both sags come with the adjuster at mid: enough to leave out what is far off."""
    model = refit.model(springs, refit.installed(springs, wanted.installed_mm))
    sags = _sags(model, (refit.span.range_mm or 0.0) / 2.0, wanted)
    return _miss(sags.rider_mm, wanted.rider_target) + _miss(sags.static_mm, wanted.static_target)


def option(refit: Refit, springs: Pair, wanted: Wanted) -> Option:
    """What these springs give.

    Args:
        refit: the end they would go into.
        springs: one for each place.
        wanted: what the end is to do.
    """
    span = refit.span
    installed = refit.installed(springs, wanted.installed_mm)
    model = refit.model(springs, installed)
    whole = Figure(span.range_mm) if span.range_mm is not None else absent("adjuster_range_unknown")
    middle = sum(wanted.rider_target) / 2.0
    asked = model.preload_for(middle, wanted.rider.value or 0.0)
    ends = _ends(span, installed, wanted.band)
    best_mm, reached = _nearest(model, asked, ends, wanted, middle)
    mm = Figure(best_mm, estimate=wanted.rider.estimate) if reached else _why(asked, span.range_mm)
    per_turn = Figure(span.per_turn_mm) if span.per_turn_mm is not None else absent("adjuster_turn_unknown")
    if span.range_mm == 0.0:
        per_turn = absent("no_adjuster")
    now = Figure(span.added_now_mm) if span.added_now_mm is not None else absent("adjuster_position_unknown")
    fittings = refit.fittings(springs, installed)
    tightest = min(fittings, key=lambda fitting: _or_endless(fitting.coils.coil_bind_clearance_mm.value))
    here = Figure(best_mm - ends[0])
    left_mm = Figure(ends[1] - best_mm) if math.isfinite(ends[1]) else derive(lambda end: end - best_mm, whole)
    from_out = _NO_FULLY_OUT if span.no_fully_out and mm.known else mm
    made = _Draft(
        best=_sags(model, best_mm, wanted),
        position=best_mm / span.range_mm if span.range_mm else None,
        near_end=_near_end(best_mm, span),
        fittings=fittings,
        installed_mm=installed + best_mm if span.no_fully_out else installed,
        clearance_mm=tightest.coils.coil_bind_clearance_mm.value,
        other_length=_other_length(refit, springs),
    )
    verdict = _verdict(made, wanted)
    return Option(
        fittings=fittings,
        fitted_now=all(spring.fitted is not None for spring in springs),
        used=tuple(spring.row for spring in springs if spring.row is not None),
        mean_rate_n_per_mm=sum(spring.rate_n_per_mm for spring in springs) / len(springs),
        installed_mm=installed,
        out=_sags(model, 0.0, wanted),
        mid=_sags(model, span.range_mm / 2.0, wanted) if span.range_mm is not None else _UNKNOWN,
        fully_in=_sags(model, span.range_mm, wanted) if span.range_mm is not None else _UNKNOWN,
        best=made.best,
        turns_for_target=derive(lambda to, at, turn: (to - at) / turn, mm, now, per_turn),
        turns_from_out=derive(lambda to, turn: to / turn, from_out, per_turn),
        mm_from_out=from_out,
        position=made.position,
        headroom_out_turns=derive(lambda at, turn: at / turn, here, per_turn),
        headroom_in_turns=derive(lambda left, turn: left / turn, left_mm, per_turn),
        headroom_out_mm=here,
        headroom_in_mm=left_mm,
        coil_bind_clearance_mm=tightest.coils.coil_bind_clearance_mm,
        required_clearance_mm=tightest.coils.required_clearance_mm,
        other_length=made.other_length,
        verdict=verdict,
        score=_score(made, springs, wanted, verdict),
    )


_NO_FULLY_OUT = absent("adjuster_range_unknown")
_UNKNOWN = SagAt(static_mm=absent("adjuster_range_unknown"), rider_mm=absent("adjuster_range_unknown"))


@record(kw_only=True)
class _Draft:
    """What verdict and score are made from."""

    best: SagAt
    position: float | None
    near_end: bool
    fittings: tuple[Fitting, ...]
    installed_mm: float
    clearance_mm: float | None
    other_length: bool


def _sags(model: EndModel, added_mm: float, wanted: Wanted) -> SagAt:
    """Both sags with that much added."""

    def sag(load: Figure) -> Figure:
        return derive(lambda n: model.sag_with(added_mm, n), load)

    return SagAt(static_mm=sag(wanted.static), rider_mm=sag(wanted.rider))


def _ends(span: Span, installed_mm: float, band: PreloadBand | None) -> Band:
    """How far the adjusters go, from where the installed preload is counted; a collar that has no fully-out goes as
    far as its band."""
    if not span.no_fully_out:
        return 0.0, math.inf if span.range_mm is None else span.range_mm
    least, most = (0.0, math.inf) if band is None else (band.low, most_preload(band))
    return least - installed_mm, most - installed_mm


def _nearest(model: EndModel, asked: float | None, ends: Band, wanted: Wanted, middle: float) -> tuple[float, bool]:
    """Preload added at the adjuster that comes nearest to the target, and whether it gets there."""
    least, end = ends
    if asked is not None:
        return min(max(asked, least), end), least - SLACK <= asked <= end + SLACK
    if math.isinf(end):
        return max(0.0, least), False
    load = wanted.rider.value or 0.0
    return min(ends, key=lambda added: abs(model.sag_with(added, load) - middle)), False


def _near_end(added_mm: float, span: Span) -> bool:
    """Whether the adjuster has less than a turn left one way."""
    if not span.range_mm:
        return False
    few = NEAR_END * span.range_mm if span.per_turn_mm is None else FEW_TURNS * span.per_turn_mm
    return min(added_mm, span.range_mm - added_mm) < few - SLACK


def _why(asked: float | None, range_mm: float | None) -> Figure:
    if asked is None:
        return absent("target_out_of_reach")
    return absent("no_adjuster") if range_mm == 0.0 else absent("target_beyond_adjuster")


def _or_endless(value: float | None) -> float:
    return float("inf") if value is None else value


def _other_length(refit: Refit, springs: Pair) -> bool:
    for spring, now in zip(springs, refit.lengths_now, strict=True):
        new = spring.free_length_mm
        if new is not None and now is not None and abs(new - now) > LENGTH_NOTE_MM + SLACK:
            return True
    return False


def _verdict(made: _Draft, wanted: Wanted) -> str:
    """The worst that is to be said of it."""
    if made.clearance_mm is not None and made.clearance_mm < LEAST_CLEARANCE_MM - SLACK:
        return "coil_bind"
    if any(fitting.spacer_mm.problem == "no_spacer_short_enough" for fitting in made.fittings):
        return "too_long"
    preload = verdict_on_preload(made.installed_mm, wanted.band)
    if preload in ("loose", "over_limit"):
        return preload
    rider, static = _lies(made.best.rider_mm, wanted.rider_target), _lies(made.best.static_mm, wanted.static_target)
    if rider > 0 or (rider == 0 and static < 0):
        return "too_soft"
    if rider < 0 or static > 0:
        return "too_stiff"
    return "suits_near_end" if made.near_end else "suits"


def _lies(sag: Figure, target: Band) -> int:
    """-1 below the target, 0 in it or not known, 1 above."""
    if sag.value is None or target == NO_TARGET:
        return 0
    return (sag.value > target[1] + SLACK) - (sag.value < target[0] - SLACK)


def _miss(sag: Figure, target: Band) -> float:
    """How far a sag is from the middle of its target, in halves of the target's width; 0 where it is not known."""
    if sag.value is None or target == NO_TARGET:
        return 0.0
    return abs(sag.value - (target[0] + target[1]) / 2.0) / max((target[1] - target[0]) / 2.0, 1.0)


def _score(made: _Draft, springs: Pair, wanted: Wanted, verdict: str) -> float:
    """How near both sags come, how central the adjuster stays, and what speaks against it."""
    score = _miss(made.best.rider_mm, wanted.rider_target) + _miss(made.best.static_mm, wanted.static_target)
    if made.position is not None:
        score += OFF_CENTRE * abs(2.0 * made.position - 1.0)
    score += OTHER_LENGTH * made.other_length
    rates = [spring.rate_n_per_mm for spring in springs]
    apart = (max(rates) - min(rates)) / max(rates)
    if apart > 0.0:
        score += MIXED * (1.0 + apart / RATES_DIFFER)
    return score + LAST * (verdict in ("coil_bind", "too_long", "loose", "over_limit"))
