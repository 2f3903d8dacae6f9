"""Predicted sag, force at full travel, oil, air and geometry of one job, as plain data for `--json`."""

from __future__ import annotations

from typing import Any

from stanchion.base.text import clean
from stanchion.job.model import ENDS, STATES
from stanchion.judgement.results.assessment import GeometryFigures
from stanchion.judgement.results.figures import Figure, recorded
from stanchion.judgement.results.predicted import (
    STROKES,
    AirFigures,
    AirInUse,
    FullTravelFigures,
    OilFigures,
    Predicted,
    PredictedEnd,
)
from stanchion.report.json_data import JsonData, filled, plain_value
from stanchion.wording.finding_words import reason, sentence

_STEERING = ("rake_deg", "trail_mm", "normal_trail_mm", "wheelbase_mm")
_WORKING_RATE = (
    ("", "rate_n_per_mm"),
    ("_uncertainty", "uncertainty_n_per_mm"),
    ("_expanded", "expanded_n_per_mm"),
    ("_by_springs", "predicted_n_per_mm"),
)
_FULL_TRAVEL = ("slow_n", "fast_n", "slow_air_n", "fast_air_n", "reserve_n")
_GAP = ("change_mm", "gap_mm", "oil_ml", "slow_n", "fast_n")


def oil_json(data: JsonData, at: str, oil: OilFigures | None) -> dict[str, Any] | None:
    """The oil level of the fork: of its gaps those that are asked for."""
    if oil is None:
        data.missing[at] = reason(recorded(None, ("front", "stanchion_inner_mm")))
        return None
    gaps = {name: getattr(oil, name) for name in ("compared", "for_reserve", "for_left", "for_left_slow")}
    return {
        **data.of(at, oil, ("ml_per_mm", "ml_per_mm_by_rod")),
        **{name: data.of(f"{at}.{name}", gap, _GAP) for name, gap in gaps.items() if gap is not None},
    }


def predicted_json(data: JsonData, at: str, figures: PredictedEnd) -> dict[str, Any]:
    """Both sags that the springs should give at one end, how far they are from target, and what was left out."""
    states: dict[str, Any] = {}
    for state in STATES:
        of, path = figures.state(state), f"{at}.{state}"
        states[state] = {
            **data.of(path, of, ("sag_mm", "load_n", "difference_mm")),
            "limit": data.code(f"{path}.limit", of.limit, of.sag_mm, "between_stops"),
            "preload_case": data.code(f"{path}.preload_case", of.preload_case, of.travel_mm, "no_figure"),
        }
    target = clean(sentence(figures.target), 400) if figures.target is not None else reason(figures.turns_for_target)
    return {
        **states,
        **data.of(at, figures, ("rider_minus_static_mm", "turns_for_target", "mm_for_target")),
        "target": data.code(f"{at}.target", target, Figure(0.0), "no_figure"),
        "without": list(figures.omitted),
        "estimate": figures.estimate,
        "doubted": figures.doubted,
        **({} if figures.air is None else {"air": _air(data, f"{at}.air", figures.air)}),
        **({"air_in_use": _in_use(data, f"{at}.air_in_use", figures.air_in_use)} if figures.air_in_use else {}),
    }


def full_travel_json(data: JsonData, at: str, figures: FullTravelFigures) -> dict[str, Any]:
    """The forces, and the parts of each that there are."""
    parts = {f"{stroke}_parts": getattr(figures, f"{stroke}_parts") for stroke in STROKES}
    return {
        **data.of(at, figures, _FULL_TRAVEL),
        **{name: {} if of is None else filled(plain_value(of)) for name, of in parts.items()},
    }


def _in_use(data: JsonData, at: str, legs: tuple[AirInUse, ...]) -> dict[str, Any]:
    names = ("at_c", "in_use_bar", "set_bar", "set_c")
    return {one.where: data.of(f"{at}.{one.where}", one, names) for one in legs}


def _air(data: JsonData, at: str, air: AirFigures) -> dict[str, Any]:
    changed = ("tenth_bar", "warmer", "higher", *(["outer_bar"] if air.full.outer_bar_n is not None else []))
    names = ("rate_n_per_mm", *(f"{name}_mm" for name in changed))
    states: dict[str, Any] = {state: data.of(f"{at}.{state}", air.state(state), names) for state in STATES}
    full = data.of(f"{at}.full", air.full, tuple(f"{name}_n" for name in changed))
    return {**states, "full": full, **data.of(at, air, ("outside_hpa", "fast_n", "fast_least_n", "fast_most_n"))}


def working_rate_json(data: JsonData, at: str, predicted: Predicted) -> dict[str, Any]:
    """The rate between both sags at each end, with its uncertainty and the one calculated from the springs."""
    return {
        f"{end}{ending}": data.plain(f"{at}.{end}{ending}", getattr(predicted.end(end).working_rate, name))
        for ending, name in _WORKING_RATE
        for end in ENDS
    }


def geometry_json(data: JsonData, at: str, figures: GeometryFigures) -> dict[str, Any]:
    """Rake, trail and wheelbase as the machine stands, the sags they are worked out with, and those measured."""
    return {
        **data.of(at, figures, (*_STEERING, "state")),
        "front_sag_from": figures.front_from,
        "rear_sag_from": figures.rear_from,
        **data.of(at, figures, ("front_rise_mm", "rear_rise_mm", "pitch_deg")),
        "baseline": {**data.of(f"{at}.baseline", figures.baseline, _STEERING), "state": figures.baseline_state},
    }
