"""What `stanchion check --json` prints of one job, as plain data; DEVELOPERS.md documents it."""

from __future__ import annotations

from typing import Any

from stanchion.base.text import clean
from stanchion.job.edit import dotted, value_at
from stanchion.job.found import found_path, positions
from stanchion.job.model import ENDS, STATES, End, Job, Run, Sag, Service, Torque, Upkeep
from stanchion.job.returning import CHAIN_AND_TYRES
from stanchion.job.runs import as_ridden, changes_before
from stanchion.job.spec import Part, specs_of
from stanchion.judgement.results.assessment import (
    Assessment,
    CoilFigures,
    EndSagFigures,
    GeometryFigures,
    PreloadFigures,
    RearFigures,
    StateFigures,
    UpkeepFigures,
)
from stanchion.judgement.results.figures import Figure, derive, recorded
from stanchion.judgement.results.findings import Finding
from stanchion.judgement.results.predicted import (
    STROKES,
    AirFigures,
    AirInUse,
    ChangeOver,
    FullTravelFigures,
    OilFigures,
    Predicted,
    PredictedEnd,
)
from stanchion.judgement.sag.sag_figures import sag_read
from stanchion.planning.on_travel import on_travel
from stanchion.planning.one_rate import OneRate, one_rate
from stanchion.report.balance import balance_json
from stanchion.report.json_data import JSON_FORMAT, NOT_RECORDED, OCCASION, JsonData, plain_value
from stanchion.report.runs import SERVICES, figures_of_run
from stanchion.wording.changes import changes_in_words
from stanchion.wording.finding_words import caution, headline, reason, sentence
from stanchion.wording.verdicts import severity_word

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
_SPREAD = ("stiction_mm", "uncertainty_mm", "expanded_mm", "coverage", "spread_mm")
_STEERING = ("rake_deg", "trail_mm", "normal_trail_mm", "wheelbase_mm")
_WORKING_RATE = (
    ("", "rate_n_per_mm"),
    ("_uncertainty", "uncertainty_n_per_mm"),
    ("_expanded", "expanded_n_per_mm"),
    ("_by_springs", "predicted_n_per_mm"),
)
_FULL_TRAVEL = ("slow_n", "fast_n", "slow_air_n", "fast_air_n", "reserve_n")
_RUN = tuple(name for name, spec in specs_of(Run).items() if not isinstance(spec, Part))
_USED = ("used_mm", "available_mm", "left_mm", "share_used", "on_rubber_mm", "in_hydraulic_mm")
_TYRE = ("expected_hot_bar", "cold_to_set_bar", "hot_less_wanted_bar")
_UPKEEP = ("machine_hours", *CHAIN_AND_TYRES)


def as_json(name: str, job: Job, assessment: Assessment) -> dict[str, Any]:
    """One object of the array that `check --json` prints.

    Numbers are in the units that the keys name, whatever the display units, and not rounded. A figure that cannot be
    had is None, and `missing` says why under its dotted path. Texts are as the file holds them, except that `text` of
    a finding is safe to print.

    Args:
        name: the file's name.
        job: the job.
        assessment: what assess() gave for it.
    """
    data = JsonData()
    front = assessment.front
    content = {
        "format": JSON_FORMAT,
        "file": name,
        "job": data.of("job", job.job, OCCASION),
        "worst": data.code("worst", severity_word(assessment.worst), Figure(0.0), "nothing_found"),
        "front": {
            "left": _leg(data, "front.left", front.left),
            "right": _leg(data, "front.right", front.right),
            **data.of("front", front, ("rate_n_per_mm", "mean_rate_n_per_mm")),
        },
        "rear": _rear(data, "rear", assessment.rear),
        "springs": {
            "front": {
                "left": _coils(data, "springs.front.left", assessment.springs.left),
                "right": _coils(data, "springs.front.right", assessment.springs.right),
            },
            "rear": _coils(data, "springs.rear", assessment.springs.rear),
        },
        "one_rate": {end: _one_rate(data, f"one_rate.{end}", one_rate(job, assessment, end)) for end in ENDS},
        "change_over": [_change_over(data, f"change_over.{at}", one) for at, one in enumerate(assessment.change_overs)],
        "predicted": {end: _predicted(data, f"predicted.{end}", assessment.predicted.end(end)) for end in ENDS},
        "working_rate": _working_rate(data, "working_rate", assessment.predicted),
        "full_travel": {
            end: _full_travel(data, f"full_travel.{end}", assessment.predicted.end(end).full_travel) for end in ENDS
        },
        "oil": _oil(data, "oil", assessment.predicted.front.oil),
        "stops": {
            end: data.of(f"stops.{end}", on_travel(job, assessment, end), ("rubber_from_mm", "hydraulic_from_mm"))
            for end in ENDS
        },
        "geometry": _geometry(data, "geometry", assessment.geometry),
        **balance_json(data, job, assessment),
        "runs": [_run(data, f"runs.{at}", job, at, assessment) for at in range(len(job.runs))],
        "upkeep": _upkeep(data, "upkeep", job.upkeep, assessment.upkeep),
        "as_found": _as_found(data, "as_found", job),
        "sag": {end: _sag(data, f"sag.{end}", assessment.sag.end(end)) for end in ENDS},
        "targets": {end: _filled(plain_value(job.targets.end(end))) for end in ENDS},
        "findings": [_finding(finding) for finding in assessment.findings],
        "cautions": [caution(code) for code in assessment.cautions],
    }
    return content | {"missing": data.missing}


def _filled(recorded: dict[str, Any]) -> dict[str, Any]:
    """What was recorded, without what was left blank."""
    return {name: value for name, value in recorded.items() if value not in (None, "")}


# --- one part each ----------------------------------------------------------------------------------------------------


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
        data.missing[f"{at}.{name}"] = "counted in clicks"
    return found


def _leg(data: JsonData, at: str, figures: PreloadFigures) -> dict[str, Any]:
    return {**_preload(data, at, figures), **data.of(at, figures, ("stack_mm", "has_spring"))}


def _rear(data: JsonData, at: str, figures: RearFigures) -> dict[str, Any]:
    return {
        **_preload(data, at, figures.spring),
        **data.of(at, figures, _RATIO),
        "smooth": {} if figures.smooth is None else data.of(f"{at}.smooth", figures.smooth, _RATIO),
        **data.of(at, figures, ("at_travel_mm", "gas_force_n", "gas_full_n")),
    }


_IN_PLACE = ("rate_n_per_mm", "static_mm", "rider_mm", "stiffness_n_per_mm", "full_n", "most_apart_n", "most_apart_mm")


def _one_rate(data: JsonData, at: str, of: OneRate | Figure) -> dict[str, Any] | None:
    """One rate in place of springs whose rate changes, beside those; null where they have one rate."""
    if isinstance(of, Figure):
        data.plain(at, of)
        return None
    columns = {"fitted": of.fitted, "same_sag": of.same_sag, "same_full": of.same_full}
    return {name: data.of(f"{at}.{name}", column, _IN_PLACE) for name, column in columns.items()}


_GAP = ("change_mm", "gap_mm", "oil_ml", "slow_n", "fast_n")


def _oil(data: JsonData, at: str, oil: OilFigures | None) -> dict[str, Any] | None:
    """The oil level of the fork: of its gaps those that are asked for."""
    if oil is None:
        data.missing[at] = reason(recorded(None, ("front", "stanchion_inner_mm")))
        return None
    gaps = {name: getattr(oil, name) for name in ("compared", "for_reserve", "for_left")}
    return {
        **data.of(at, oil, ("ml_per_mm", "ml_per_mm_by_rod")),
        **{name: data.of(f"{at}.{name}", gap, _GAP) for name, gap in gaps.items() if gap is not None},
    }


def _change_over(data: JsonData, at: str, one: ChangeOver) -> dict[str, Any]:
    """Where two springs change over, and where that lies."""
    names = ("at_mm", "static_mm", "rider_mm", "full_mm", "before_n_per_mm", "after_n_per_mm")
    more = ("nearer_per_mm", "further_per_mm", "main_left_mm", "second_left_mm")
    place = "rear" if one.place == "rear" else f"front.{one.place}"
    zone = data.code(f"{at}.zone", one.zone, derive(max, one.static_mm, one.rider_mm, one.at_mm), "no_target")
    return {"place": place, "arranged": one.arranged, "zone": zone, **data.of(at, one, (*names, *more))}


def _coils(data: JsonData, at: str, figures: CoilFigures) -> dict[str, Any]:
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


def _sag(data: JsonData, at: str, figures: EndSagFigures) -> dict[str, Any]:
    advice = figures.advice.code if figures.advice else ""
    both = derive(max, figures.static.sag_mm, figures.rider.sag_mm)
    return {
        **{state: _state(data, f"{at}.{state}", figures.state(state)) for state in STATES},
        **data.of(at, figures, ("projected_static_mm",)),
        "advice": data.code(f"{at}.advice", advice, both, "no_advice"),
    }


def _state(data: JsonData, at: str, figures: StateFigures) -> dict[str, Any]:
    return {
        "sag_mm": data.plain(f"{at}.sag_mm", figures.shown_mm),
        **data.of(at, figures, _SPREAD),
        "uncertainty_assumed": figures.single_readings,
        "target_mm": data.band(f"{at}.target_mm", figures.target, "no_target"),
        "target_own": figures.target_source is not None,
        "verdict": data.code(f"{at}.verdict", figures.verdict, figures.sag_mm, "no_target"),
        **data.of(at, figures, ("topped_out", "down_only")),
        "old": figures.is_old,
    }


def _predicted(data: JsonData, at: str, figures: PredictedEnd) -> dict[str, Any]:
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


def _full_travel(data: JsonData, at: str, figures: FullTravelFigures) -> dict[str, Any]:
    """The forces, and the parts of each that there are."""
    parts = {f"{stroke}_parts": getattr(figures, f"{stroke}_parts") for stroke in STROKES}
    return {
        **data.of(at, figures, _FULL_TRAVEL),
        **{name: {} if of is None else _filled(plain_value(of)) for name, of in parts.items()},
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


def _working_rate(data: JsonData, at: str, predicted: Predicted) -> dict[str, Any]:
    return {
        f"{end}{ending}": data.plain(f"{at}.{end}{ending}", getattr(predicted.end(end).working_rate, name))
        for ending, name in _WORKING_RATE
        for end in ENDS
    }


def _geometry(data: JsonData, at: str, figures: GeometryFigures) -> dict[str, Any]:
    return {
        **data.of(at, figures, (*_STEERING, "state")),
        "front_sag_from": figures.front_from,
        "rear_sag_from": figures.rear_from,
        **data.of(at, figures, ("front_rise_mm", "rear_rise_mm", "pitch_deg")),
        "baseline": {**data.of(f"{at}.baseline", figures.baseline, _STEERING), "state": figures.baseline_state},
    }


def _run(data: JsonData, at: str, job: Job, number: int, assessment: Assessment) -> dict[str, Any]:
    """A run with what was recorded of it, blanks and all, travel used and left, and what was changed before it."""
    run, figures = job.runs[number], figures_of_run(job, number, assessment)

    def used(end: End) -> dict[str, Any]:
        of = figures.end(end)
        verdict = data.code(f"{at}.{end}.verdict", of.verdict, of.share_used, "no_figure")
        return {**data.of(f"{at}.{end}", of, _USED), "verdict": verdict}

    return {
        **data.of(at, run, _RUN),
        **{end: used(end) for end in ENDS},
        **{f"{end}_tyre": data.of(f"{at}.{end}_tyre", figures.tyre(end), _TYRE) for end in ENDS},
        "changed": list(changes_in_words(changes_before(job, number), as_ridden(job, run))),
    }


def _as_found(data: JsonData, at: str, job: Job) -> dict[str, Any] | None:
    """The machine as found: pressures, positions by where they are in the job, sag; None: not recorded."""
    found = job.found
    if found is None:
        data.missing[at] = NOT_RECORDED
        return None
    known = ((dotted(path), value_at(job, found_path(path))) for path in positions(job))
    sag = found.sag or Sag()
    return {
        **data.of(at, found, ("on", "front_cold_bar", "rear_cold_bar")),
        "positions": {name: value for name, value in known if value is not None},
        "sag": {
            end: {
                f"{state}_mm": data.plain(f"{at}.sag.{end}.{state}_mm", sag_read(sag, end, state)) for state in STATES
            }
            for end in ENDS
        },
    }


def _upkeep(data: JsonData, at: str, upkeep: Upkeep, figures: UpkeepFigures) -> dict[str, Any]:
    """What was recorded, without blanks; hours since each service, and the ratio of the sprockets."""

    def service(name: str) -> dict[str, Any]:
        recorded: Service = getattr(upkeep, name)
        on = recorded.on.isoformat() if recorded.on else None
        since = data.plain(f"{at}.{name}.hours_since", getattr(figures, f"{name}_hours"))
        return {**_filled({"on": on, "at_hours": recorded.at_hours}), "hours_since": since}

    def torque(one: Torque) -> dict[str, Any]:
        return {**_filled({name: getattr(one, name) for name in ("what", "torque_nm", "initials")}), "done": one.done}

    return {
        **_filled({name: getattr(upkeep, name) for name in _UPKEEP}),
        **{name: service(name) for _, name in SERVICES},
        **data.of(at, figures, ("gear_ratio",)),
        "torques": [torque(one) for one in upkeep.torques],
    }


def _finding(finding: Finding) -> dict[str, str]:
    return {
        "code": finding.code,
        "severity": severity_word(finding.severity),
        "where": dotted(finding.where),
        "headline": headline(finding),
        "text": clean(sentence(finding)),
    }
