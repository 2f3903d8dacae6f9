"""How rider sag is brought to the middle of its target by the loads and springs: turns from now, or why it cannot be
and what then."""

from __future__ import annotations

from stanchion.job.model import End, Path
from stanchion.judgement.assessment import Band
from stanchion.judgement.end_model import EndModel
from stanchion.judgement.figures import Figure, absent, derive
from stanchion.judgement.findings import Finding, Severity
from stanchion.judgement.means import Means
from stanchion.judgement.preload import SLACK
from stanchion.judgement.sags import NO_TARGET
from stanchion.record import record

MET_MM = 0.25
"""Preload this close to what is wanted needs no turning (common practice, no published source)."""


@record(kw_only=True)
class Wanted:
    """What is wanted at one end, and what there is to reach it with."""

    end: End
    target: Band
    """Target for rider sag."""
    load: Figure
    """Vertical load with the rider aboard."""
    predicted: Figure
    """Rider sag as it is predicted now."""
    shift_mm: float
    """Captured less predicted rider sag, by which the model is corrected."""
    shifted: bool
    captured_in: float | None
    """Rider sag as captured where it lies within its target, believed or not; else None."""
    means: Means
    per_turn: Figure
    """Of an adjuster there."""
    has_adjuster: bool
    least_preload_now: float | None
    """Preload now of the spring that has least of those that are moved [mm]."""


@record(kw_only=True)
class Reached:
    """What reaches the target."""

    turns: Figure
    mm: Figure
    finding: Finding | None


def target_for(model: EndModel, wanted: Wanted) -> Reached:
    """The adjuster position for the target.

    Args:
        model: the end.
        wanted: target, load, and what the adjuster has left.
    """
    if wanted.target == NO_TARGET:
        none = absent("no_target")
        return Reached(turns=none, mm=none, finding=None)
    load_n = wanted.load.value
    if load_n is None or wanted.predicted.value is None:
        return Reached(turns=wanted.predicted, mm=wanted.predicted, finding=None)
    low_mm, high_mm = wanted.target
    middle_mm = (low_mm + high_mm) / 2.0
    now_mm = wanted.predicted.value + wanted.shift_mm
    within = wanted.captured_in is not None or low_mm - SLACK <= now_mm <= high_mm + SLACK
    added = model.preload_for(middle_mm - wanted.shift_mm, load_n)
    values: dict[str, object] = {"middle_mm": middle_mm, "now_mm": now_mm}
    if wanted.shifted:
        values["shift_mm"] = abs(wanted.shift_mm)
        values["way"] = "more" if wanted.shift_mm > 0.0 else "less"
    if added is None:
        none = absent("target_out_of_reach")
        finding = _within(wanted, values) if within else _spring(wanted, now_mm > middle_mm, values)
        return Reached(turns=none, mm=none, finding=finding)
    mm = Figure(added, estimate=wanted.predicted.estimate)
    values |= {"mm": abs(added), "left_mm": None}
    if wanted.has_adjuster:
        left = wanted.means.left_in_mm if added > 0.0 else wanted.means.left_out_mm
        if left is None or abs(added) <= left + SLACK:
            turns = _turns(mm, wanted)
            finding = _turn(wanted, added, turns, values)
            if within and finding.code != "target_met":
                centred = finding.code in ("target_more", "target_less")
                finding = _within(wanted, values, added if centred else None)
            return Reached(turns=turns, mm=mm, finding=finding)
        values["left_mm"] = left
        at_end = left if added > 0.0 else -left
        values["at_end_mm"] = model.sag_with(at_end, load_n) + wanted.shift_mm
        turns = absent("target_beyond_adjuster")
    elif abs(added) <= MET_MM:
        return Reached(turns=absent("no_adjuster"), mm=mm, finding=_turn(wanted, added, Figure(0.0), values))
    else:
        at_end, turns = 0.0, absent("no_adjuster")
    if within:
        return Reached(turns=turns, mm=mm, finding=_within(wanted, values))
    spacer = _spacer(wanted, added, (abs(added) - abs(at_end)) * (wanted.means.share or 1.0), values)
    return Reached(turns=turns, mm=mm, finding=spacer or _spring(wanted, added > 0.0, values))


def _turns(mm: Figure, wanted: Wanted) -> Figure:
    if wanted.per_turn.known and wanted.means.per_turn_mm is None:
        return absent("adjusters_differ")
    return derive(lambda added, per_turn: added / per_turn, mm, wanted.per_turn)


def _where(wanted: Wanted) -> Path:
    return ("sag", wanted.end, "rider")


def _within(wanted: Wanted, values: dict[str, object], added: float | None = None) -> Finding:
    """Rider sag is within its target: nothing is asked for, and told at most how far the adjuster could centre it."""
    told = {**values, "low_mm": wanted.target[0], "high_mm": wanted.target[1]}
    if wanted.captured_in is not None:
        told["now_mm"] = wanted.captured_in
    if added is None or (wanted.captured_in is not None and not wanted.shifted):
        told |= {
            "mm": None,
            "turns": None,
            "shift_mm": None,
        }  # readings that are not believed cannot be turned away from either
    else:
        told |= {"by": "more" if added > 0.0 else "less", "way_turned": "in" if added > 0.0 else "out"}
    return Finding("target_within", Severity.NOTE, _where(wanted), told)


def _turn(wanted: Wanted, added: float, turns: Figure, values: dict[str, object]) -> Finding:
    """The adjuster can give it; whether the spring suits is another matter."""
    values |= {"turns": None if turns.value is None else abs(turns.value)}
    if abs(added) <= MET_MM:
        return Finding("target_met", Severity.NOTE, _where(wanted), values)
    if added > 0.0 and wanted.means.at_limit:
        values |= {"limit_mm": wanted.means.band.limit if wanted.means.band else None}
        return Finding("target_at_limit", Severity.WARNING, _where(wanted), values)
    if added > 0.0:
        return Finding("target_more", Severity.NOTE, _where(wanted), values)
    band = wanted.means.band
    loose_below = (band.loose_below if band else None) or 0.0
    left_mm = None if wanted.least_preload_now is None else wanted.least_preload_now + added
    if left_mm is not None and left_mm < loose_below - SLACK:
        values |= {"preload_mm": left_mm, "loose_below_mm": loose_below}
        return Finding("target_loose", Severity.WARNING, _where(wanted), values)
    return Finding("target_less", Severity.NOTE, _where(wanted), values)


def _spacer(wanted: Wanted, added: float, change_mm: float, values: dict[str, object]) -> Finding | None:
    """A spacer gives the rest where installed preload stays in its band."""
    means = wanted.means
    installed = means.most_installed_mm if added > 0.0 else means.least_installed_mm
    if not means.has_spacer or installed is None:
        return None
    values["spacer_change_mm"] = change_mm
    if added > 0.0:
        if means.band is not None and installed + change_mm > means.band.high + SLACK:
            return None
        return Finding("target_longer_spacer", Severity.WARNING, _where(wanted), values)
    too_short = means.spacer_mm is not None and means.spacer_mm < change_mm
    if too_short or (means.band is not None and installed - change_mm < means.band.low - SLACK):
        return None
    return Finding("target_shorter_spacer", Severity.WARNING, _where(wanted), values)


def _spring(wanted: Wanted, stiffer: bool, values: dict[str, object]) -> Finding:
    """Nothing but another spring gives it."""
    if stiffer:
        return Finding("target_stiffer", Severity.WARNING, _where(wanted), values)
    return Finding("target_softer", Severity.WARNING, _where(wanted), values)


UNREACHED = frozenset(
    {
        "target_longer_spacer",
        "target_shorter_spacer",
        "target_stiffer",
        "target_softer",
        "target_loose",
        "target_at_limit",
    }
)
"""What is worth a place among the findings where the captured sags give no advice of their own."""
