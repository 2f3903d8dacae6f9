"""Springs, preload and linkage of one job, as plain data for `--json`."""

from __future__ import annotations

from typing import Any

from stanchion.judgement.results.assessment import CoilFigures, PreloadFigures, RearFigures
from stanchion.judgement.results.figures import Figure, derive
from stanchion.judgement.results.predicted import ChangeOver
from stanchion.planning.one_rate import OneRate
from stanchion.report.json_data import JsonData

_PRELOAD = (
    "installed_preload_mm",
    "adjuster_range_mm",
    "mm_per_turn",
    "preload_now_mm",
    "greatest_preload_mm",
    "preload_force_n",
    "headroom_out_mm",
    "headroom_out_turns",
    "headroom_in_mm",
    "headroom_in_turns",
)
_TURNED = ("mm_per_turn", "headroom_out_turns", "headroom_in_turns")
_RATIO = ("motion_ratio", "motion_ratio_uncertainty", "wheel_rate_n_per_mm", "wheel_rate_uncertainty_n_per_mm")
_COILS = (
    "rate_calculated_n_per_mm",
    "rate_measured_n_per_mm",
    "rate_measured_uncertainty_n_per_mm",
    "shear_modulus_mpa",
    "active_coils",
    "solid_length_mm",
    "usable_travel_mm",
    "coil_bind_clearance_mm",
    "clearance_now_mm",
    "required_clearance_mm",
    "stress_mpa",
    "stress_share",
    "buckles_at_mm",
)


def _preload(data: JsonData, at: str, figures: PreloadFigures) -> dict[str, Any]:
    return {
        **_in_turns_or_clicks(data, at, figures),
        "band_mm": data.band(f"{at}.band_mm", figures.band, "no_band"),
        "band_own": figures.band_source is not None,
        "verdict": data.code(f"{at}.verdict", figures.verdict, figures.installed_preload_mm, "no_band"),
    }


def _in_turns_or_clicks(data: JsonData, at: str, figures: PreloadFigures) -> dict[str, Any]:
    """The figures of preload; of an adjuster counted in clicks those of turns are None, and have keys of their own."""
    found = data.of(at, figures, _PRELOAD)
    if figures.turned_in == "turns":
        return found
    clicked = {name: name.replace("turn", "click") for name in _TURNED}
    for name, own in clicked.items():
        found[own], found[name] = found[name], None
        why = data.missing.pop(f"{at}.{name}", None)
        if why is not None:
            data.missing[f"{at}.{own}"] = why
        number = data.numbers.pop(f"{at}.{name}", None)
        if number is not None:
            data.numbers[f"{at}.{own}"] = number
        data.missing[f"{at}.{name}"] = "counted in clicks"
    return found


def leg_json(data: JsonData, at: str, figures: PreloadFigures) -> dict[str, Any]:
    """Preload, range and headroom of one fork leg, and its spacer stack."""
    return {**_preload(data, at, figures), **data.of(at, figures, ("stack_mm", "has_spring"))}


def rear_json(data: JsonData, at: str, figures: RearFigures) -> dict[str, Any]:
    """Preload, range and headroom of the shock, motion ratio, rate at the wheel and gas force."""
    return {
        **_preload(data, at, figures.spring),
        **data.of(at, figures, _RATIO),
        "smooth": {} if figures.smooth is None else data.of(f"{at}.smooth", figures.smooth, _RATIO),
        **data.of(at, figures, ("at_travel_mm", "gas_force_n", "gas_full_n")),
    }


_IN_PLACE = ("rate_n_per_mm", "static_mm", "rider_mm", "stiffness_n_per_mm", "full_n", "most_apart_n", "most_apart_mm")


def one_rate_json(data: JsonData, at: str, of: OneRate | Figure) -> dict[str, Any] | None:
    """One rate in place of springs whose rate changes, beside those; null where they have one rate."""
    if isinstance(of, Figure):
        data.plain(at, of)
        return None
    columns = {"fitted": of.fitted, "same_sag": of.same_sag, "same_full": of.same_full}
    return {name: data.of(f"{at}.{name}", column, _IN_PLACE) for name, column in columns.items()}


def change_over_json(data: JsonData, at: str, one: ChangeOver) -> dict[str, Any]:
    """Where two springs change over, and where that lies."""
    names = ("at_mm", "static_mm", "rider_mm", "full_mm", "before_n_per_mm", "after_n_per_mm")
    more = ("nearer_per_mm", "further_per_mm", "main_left_mm", "second_left_mm")
    place = "rear" if one.place == "rear" else f"front.{one.place}"
    zone = data.code(f"{at}.zone", one.zone, derive(max, one.static_mm, one.rider_mm, one.at_mm), "no_target")
    return {"place": place, "arranged": one.arranged, "zone": zone, **data.of(at, one, (*names, *more))}


def coils_json(data: JsonData, at: str, figures: CoilFigures) -> dict[str, Any]:
    """One spring by its coils and by a tester: rate, solid length, stress, buckling."""
    between = figures.rate_calculated_range
    at_range = f"{at}.rate_calculated_range_n_per_mm"
    modulus, solid = figures.shear_modulus_mpa, figures.solid_length_mm
    return {
        **data.of(at, figures, _COILS),
        "rate_calculated_range_n_per_mm": list(between)
        if between
        else data.plain(at_range, figures.rate_calculated_n_per_mm),
        "wire_assumed": modulus.estimate,
        "shear_modulus_source": data.code(
            f"{at}.shear_modulus_source", figures.shear_modulus_source, modulus, "no_figure"
        ),
        "solid_length_from": data.code(f"{at}.solid_length_from", figures.solid_length_from, solid, "no_figure"),
    }
