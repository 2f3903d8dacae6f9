"""A remedy as one finding: the numbers for its words, beside its code."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from stanchion.job.model import SIDES, STATES, State
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM, SLACK
from stanchion.judgement.ends.preload_adjustment import PreloadAdjustment
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.sag.advice_code import NOTES, advice_code
from stanchion.judgement.sag.behind_top_out import without_it
from stanchion.judgement.sag.edge_sags import at_edge, edge_values
from stanchion.judgement.sag.end_to_advise import EndToAdvise
from stanchion.judgement.sag.other_length import present_other_length
from stanchion.judgement.sag.remedy import NoSuitableRate, Remedy
from stanchion.judgement.sag.response import Response
from stanchion.judgement.sag.suggested import SuggestedSpring, sag_values, suggested_values
from stanchion.judgement.sag.targets import Aims, after, margin_mm, within


def advice_finding(of: EndToAdvise, response: Response, aims: Aims, remedy: Remedy) -> Finding:
    """The remedy as one finding.

    Args:
        of: the end.
        response: how its sags answer to preload.
        aims: what is wanted of them.
        remedy: the least work that does it.
    """
    code = advice_code(of, response, aims, remedy)
    adjustment = of.adjustment
    more = remedy.turned_mm > 0.0 or (remedy.turned_mm == 0.0 and remedy.way == "more")
    turned = abs(remedy.turned_mm) if abs(remedy.turned_mm) > SLACK and of.amount_known else None
    spacer = remedy.spacer_mm if remedy.work == "spacer" else None
    new_spacer = None
    if spacer is not None and adjustment.spacer_mm is not None:
        new_spacer = adjustment.spacer_mm + spacer
    low, high = adjustment.below_band, adjustment.above_band
    # Turns leave installed preload where it is; a collar that has no fully-out is turned into its band.
    stands = remedy.work == "turns" and adjustment.as_it_stands
    turns = remedy.work == "turns" and not stands
    known = remedy.work in ("turns", "spacer") and of.amount_known
    to_measure = code == "lengths_first" or (remedy.no_suitable_rate is not None and remedy.work == "none")
    by_load = of.model.computable.known and not response.predicted and "static" not in of.carried.by_sag
    static = sag_values("static", response.sag("static"), topped_out=of.captured.static.figures.topped_out)
    values: dict[str, object] = {
        "end": of.end,
        "work": "measure" if to_measure else remedy.work,
        "way": remedy.way,
        **basis_values(of, predicted=response.predicted),
        "static_by_load": (by_load and static["static_mm"] is not None) or None,
        **sag_values("rider", response.sag("rider"), topped_out=of.captured.rider.figures.topped_out),
        **static,
        **(sag_values("rider_after", remedy.after_mm["rider"]) if known else {}),
        **(sag_values("static_after", remedy.after_mm["static"]) if known else {}),
        "installed_mm": adjustment.least_installed_mm if low else adjustment.most_installed_mm,
        "limit_mm": adjustment.band.limit if adjustment.band else None,
        "perhaps": "perhaps" if adjustment.verdict == "borderline" else None,
        "band_low": (turns and low) or None,
        "band_high": (turns and high) or None,
        "stands_low": (stands and low) or None,
        "stands_high": (stands and high) or None,
        "recheck": _recheck(adjustment) if remedy.work == "turns" and (low or high) else None,
        "preload_mm": turned,
        "turns": turned / adjustment.per_turn_mm if turned is not None and adjustment.per_turn_mm else None,
        "turned_way": "in" if more else "out",
        **({"turned_in": "clicks"} if adjustment.in_clicks else {}),
        **_left(adjustment, remedy),
        "spacer_change_mm": None if spacer is None else abs(spacer),
        "spacer_way": None if spacer is None else "longer" if spacer > 0.0 else "shorter",
        "new_spacer_mm": new_spacer,
    }
    values |= _of_each_leg(adjustment, spacer, turned)
    if known:
        values |= _expected(remedy, aims)
    values |= _alike(adjustment, remedy) if code != "lengths_first" else _spacers(adjustment)
    if spacer is not None and adjustment.band is None:
        values |= _without_band(adjustment, spacer)
    by_spacer = remedy.work == "spacer" and remedy.no_suitable_rate is None
    if remedy.edge and aims.readings != "settled" and (remedy.work == "spring" or by_spacer):
        values["again"], values["again_spacer"] = True, by_spacer or None
    if remedy.no_suitable_rate is not None:
        values |= _no_rate_values(of, aims, remedy, remedy.no_suitable_rate)
    if remedy.way in ("stiffer", "softer") and code != "too_stiff_contradicted":
        values |= _spring_values(of, aims, remedy, remedy.way)
    now_mm = after(response)
    if code in ("over_limit_shorter_spacer", "pair_suits_over_limit") and at_edge(of.captured, now_mm, aims):
        values |= edge_values(of.captured, now_mm, aims)
    if code in ("pair_borderline", "pair_edge_recheck"):
        values |= edge_values(of.captured, now_mm, aims)
        values["repeated"] = aims.readings == "settled" or None
    if code == "pair_suits_recheck":
        values |= _rechecked(of)
    if code in ("top_out_hides_sags", "top_out_brings_in"):
        bare = without_it(of.model, of.carried.known())
        shown = {state: mm for state, mm in bare.items() if not of.state(state).figures.topped_out}
        values |= {f"{state}_bare_mm": shown.get(state) for state in STATES}
    if code in ("pair_suits_recheck", "pair_edge_recheck") and adjustment.as_it_stands:
        values["as_it_stands"] = True
    values["held"] = held_of(of, values)
    return Finding(code, Severity.NOTE if code in NOTES else Severity.WARNING, ("sag", of.end), values)


def _left(adjustment: PreloadAdjustment, remedy: Remedy) -> dict[str, object]:
    """What the adjuster has left the way it is to be turned, or that it stands at its end."""
    more = remedy.way in ("more", "stiffer")
    left_mm = adjustment.left_in_mm if more else adjustment.left_out_mm
    if left_mm is not None and left_mm < NOT_SHOWN_MM:
        return {"left_mm": None, "fully": "in" if more else "out"}
    return {"left_mm": left_mm}


def _of_each_leg(adjustment: PreloadAdjustment, spacer_mm: float | None, turned_mm: float | None) -> dict[str, object]:
    """What is done in each leg where that differs: the lengths of the new spacers, and the turns in steps of each."""
    values: dict[str, object] = {}
    if spacer_mm is not None and adjustment.spacer_mm is None and adjustment.spacers_mm is not None:
        values = {f"{side}_spacer_mm": mm + spacer_mm for side, mm in zip(SIDES, adjustment.spacers_mm, strict=True)}
    if turned_mm is not None and adjustment.turn_of_legs is not None:
        for side, (per_turn, step) in zip(SIDES, adjustment.turn_of_legs, strict=True):
            values[f"{side}_turns"] = max(1, round(turned_mm / step)) * step / per_turn
    return values


def _alike(adjustment: PreloadAdjustment, remedy: Remedy) -> dict[str, object]:
    """Where adjusters that stand apart are both to be set."""
    from_mm, turn_mm = adjustment.alike_from_mm, adjustment.per_turn_mm
    if from_mm is None or not turn_mm or remedy.work == "spring":
        return {}
    at_mm = from_mm + remedy.turned_mm
    if adjustment.step_mm and remedy.turned_mm == 0.0:
        at_mm = round(at_mm / adjustment.step_mm) * adjustment.step_mm
    left_mm = from_mm + (adjustment.left_in_mm or 0.0) - at_mm
    if at_mm < NOT_SHOWN_MM or left_mm < NOT_SHOWN_MM:
        return {"alike_mm": at_mm, "alike_out" if at_mm < NOT_SHOWN_MM else "alike_in": True}
    return {"alike_mm": at_mm, "alike_turns": at_mm / turn_mm}


def _spacers(adjustment: PreloadAdjustment) -> Mapping[str, object]:
    """The spacers to put right first, where it is they that differ, and not the lengths of the springs."""
    return {} if adjustment.by_length or adjustment.match is None else adjustment.match.values


def _no_rate_values(of: EndToAdvise, aims: Aims, remedy: Remedy, none: NoSuitableRate) -> dict[str, object]:
    """What is said where no rate brings both sags in."""
    values: dict[str, object] = {
        "unread": aims.topped_out_mm is not None or None,
        "through_linkage": of.end == "rear" or None,
    }
    if none.between_n_per_mm is not None:
        values["low_n_per_mm"], values["high_n_per_mm"] = none.between_n_per_mm
    if remedy.work == "spring":
        values |= {"rate_n_per_mm": none.nearest_n_per_mm, "hides": remedy.way == "stiffer" or None}
    return values


def _spring_values(of: EndToAdvise, aims: Aims, remedy: Remedy, way: Literal["stiffer", "softer"]) -> dict[str, object]:
    """What is said of the spring to fit."""
    suggested = of.springs.suggest(aims, way, remedy.no_suitable_rate, edge=remedy.edge)
    values = suggested_values(suggested)
    if isinstance(suggested, SuggestedSpring):
        if remedy.edge and aims.readings == "settled":
            values["stays_out"] = stays_out_of(suggested.sags_mm, aims)
        if values.get("stays_out") is None and remedy.no_suitable_rate is None:
            values["near_edge"] = _near_edge(suggested.sags_mm, aims)
    return values


def _expected(remedy: Remedy, aims: Aims) -> dict[str, object]:
    """What is said of the sags to expect from turns or a spacer: that one stays out, or comes near an edge."""
    stays_out = stays_out_of(remedy.after_mm, aims)
    if stays_out is None:
        return {"near_edge": _near_edge(remedy.after_mm, aims)}
    if remedy.no_suitable_rate is not None:
        return {}
    return {"to_tell" if remedy.spring_suits else "stays_out": stays_out}


def stays_out_of(sags_mm: Mapping[State, float | None], aims: Aims) -> str | None:
    """Which sags are expected outside their targets, by what is shown of them: "static", "rider" or "both".

    Args:
        sags_mm: the sags expected.
        aims: their targets.
    """
    shown = Aims(targets=aims.targets, slack_mm=dict.fromkeys(aims.targets, NOT_SHOWN_MM))
    out = [state for state in aims.targets if not within(sags_mm[state], shown, state)]
    return _which(out)


def held_of(of: EndToAdvise, values: Mapping[str, object]) -> str | None:
    """Which expected sags are the most there can be: "static", "rider" or "both".

    Args:
        of: the end.
        values: what is said of them, with the sags expected.
    """
    expected = (state for state in STATES if values.get(f"{state}_after_mm") is not None)
    return _which([state for state in expected if state in of.carried.held])


def _near_edge(sags_mm: Mapping[State, float | None], aims: Aims) -> str | None:
    """The same where nothing is said of measuring again."""
    return None if aims.readings == "open" else near_edge_of(sags_mm, aims)


def near_edge_of(sags_mm: Mapping[State, float | None], aims: Aims) -> str | None:
    """Which sags are expected inside, but closer to an edge than can be told: "static", "rider" or "both".

    Args:
        sags_mm: the sags expected.
        aims: their targets, and how well they are known.
    """
    near: list[State] = []
    for state, (low, high) in aims.targets.items():
        sag_mm, margin = sags_mm[state], margin_mm(aims, state) - NOT_SHOWN_MM
        if sag_mm is not None and (sag_mm < low + margin * (low > 0.0) or sag_mm > high - margin):
            near.append(state)
    return _which(near)


def _which(states: list[State]) -> str | None:
    return "both" if len(states) > 1 else states[0] if states else None


def _rechecked(of: EndToAdvise) -> dict[str, object]:
    """What is said of installed preload out of its band where the sags are right."""
    length = present_other_length(of.adjustment)
    if length is None:
        return {"recheck_adjuster": True}
    return {**length.values, "by_spring": of.end == "rear" or None, "by_spacer": of.end == "front" or None}


def _recheck(adjustment: PreloadAdjustment) -> str:
    return "spacer" if adjustment.has_spacer else "lengths"


def _without_band(adjustment: PreloadAdjustment, spacer_mm: float) -> dict[str, object]:
    """What is said of installed preload where the use has no band for it."""
    now_mm = adjustment.most_installed_mm
    if now_mm is None or adjustment.fitted != "no":  # a top-out spring gives way
        return {"no_band": now_mm is not None or None}
    return {"then_installed_mm": now_mm + spacer_mm}


def basis_values(of: EndToAdvise, *, predicted: bool) -> dict[str, object]:
    """What the sags of the advice rest on, for its label.

    Args:
        of: the end.
        predicted: whether rider sag is predicted; static sag may be the one measured all the same. A rider sag read as
            topped out is not predicted where that reading settles the load.
    """
    static_read, by_load = "static" in of.carried.by_sag, predicted and "rider" not in of.carried.held
    return {"predicted": (by_load and not static_read) or None, "rider_by_load": (by_load and static_read) or None}
