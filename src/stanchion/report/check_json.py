"""What `stanchion check --json` prints of one job, as plain data; DEVELOPERS.md documents it."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from stanchion.base.text import clean
from stanchion.job.edit import dotted
from stanchion.job.model import ENDS, STATES, Job
from stanchion.judgement.criteria.profiles import Profiles, load_profiles
from stanchion.judgement.results.assessment import Assessment, EndSagFigures, StateFigures
from stanchion.judgement.results.figures import Figure, derive
from stanchion.judgement.results.findings import Finding
from stanchion.planning.braking_of_runs import braking_to_look_at
from stanchion.planning.on_travel import on_travel
from stanchion.planning.one_rate import one_rate
from stanchion.report.balance import BALANCE_KEYS, OF_RUNS, balance_json, braked_json
from stanchion.report.changes_judged import waiting_json
from stanchion.report.dampers import damper_json
from stanchion.report.damping import compared_with, damping_json
from stanchion.report.gas import gas_json
from stanchion.report.json_data import JSON_FORMAT, OCCASION, JsonData, filled, filled_throughout, plain_value
from stanchion.report.json_prediction import (
    full_travel_json,
    geometry_json,
    oil_json,
    predicted_json,
    working_rate_json,
)
from stanchion.report.json_runs import as_found_json, run_json, upkeep_json
from stanchion.report.json_springs import change_over_json, coils_json, leg_json, one_rate_json, rear_json
from stanchion.report.linkage import linkage_json
from stanchion.wording.finding_words import caution, headline, sentence
from stanchion.wording.verdicts import severity_word

_SPREAD = ("stiction_mm", "uncertainty_mm", "expanded_mm", "coverage", "spread_mm")


def as_json(
    name: str,
    job: Job,
    assessment: Assessment,
    profiles: Profiles | None = None,
    previous: Job | None = None,
    *,
    only: Collection[str] = (),
) -> dict[str, Any]:
    """One object of the array that `check --json` prints.

    Numbers are in the units that the keys name, whatever the display units, and not rounded. A figure that cannot be
    had is None, and `missing` says why under its dotted path. Texts are as the file holds them, except that `text` of
    a finding is safe to print.

    Args:
        name: the file's name.
        job: the job.
        assessment: what assess() gave for it.
        profiles: bands and targets; None: those that came with the program.
        previous: the job it was carried from; None: not known.
        only: the keys wanted, so that what takes long to work out and stands under others is left out; empty: all.
    """
    data = JsonData()
    content = {
        "format": JSON_FORMAT,
        "file": name,
        "job": data.of("job", job.job, OCCASION),
        "worst": data.code("worst", severity_word(assessment.worst), Figure(0.0), "nothing_found"),
        **figures_json(data, job, assessment),
        "one_rate": {end: one_rate_json(data, f"one_rate.{end}", one_rate(job, assessment, end)) for end in ENDS},
        **_on_demand(data, job, assessment, profiles, previous, only=only),
        "runs": [run_json(data, f"runs.{at}", job, at, assessment) for at in range(len(job.runs))],
        "changes": waiting_json(data, job),
        "upkeep": upkeep_json(data, "upkeep", job.upkeep, assessment.upkeep),
        "as_found": as_found_json(data, "as_found", job),
        "repeatability": filled(plain_value(job.repeatability)),
        "calibration": filled_throughout(plain_value(job.calibration)),
        "targets": {end: filled(plain_value(job.targets.end(end))) for end in ENDS},
        "findings": [_finding(finding) for finding in assessment.findings],
        "cautions": [caution(code) for code in assessment.cautions],
    }
    return content | {"missing": data.missing}


def figures_json(data: JsonData, job: Job, assessment: Assessment) -> dict[str, Any]:
    """The figures that assess() gives, as plain data.

    Args:
        data: what gathers them.
        job: the job.
        assessment: what assess() gave for it.
    """
    front, springs, predicted = assessment.front, assessment.springs, assessment.predicted
    return {
        "front": {
            "left": leg_json(data, "front.left", front.left),
            "right": leg_json(data, "front.right", front.right),
            **data.of("front", front, ("rate_n_per_mm", "mean_rate_n_per_mm")),
        },
        "rear": rear_json(data, "rear", assessment.rear),
        "springs": {
            "front": {
                "left": coils_json(data, "springs.front.left", springs.left),
                "right": coils_json(data, "springs.front.right", springs.right),
            },
            "rear": coils_json(data, "springs.rear", springs.rear),
        },
        "change_over": [
            change_over_json(data, f"change_over.{at}", one) for at, one in enumerate(assessment.change_overs)
        ],
        "predicted": {end: predicted_json(data, f"predicted.{end}", predicted.end(end)) for end in ENDS},
        "working_rate": working_rate_json(data, "working_rate", predicted),
        "full_travel": {
            end: full_travel_json(data, f"full_travel.{end}", predicted.end(end).full_travel) for end in ENDS
        },
        "oil": oil_json(data, "oil", predicted.front.oil),
        "stops": {
            end: data.of(f"stops.{end}", on_travel(job, assessment, end), ("rubber_from_mm", "hydraulic_from_mm"))
            for end in ENDS
        },
        "geometry": geometry_json(data, "geometry", assessment.geometry),
        "sag": {end: _sag(data, f"sag.{end}", assessment.sag.end(end)) for end in ENDS},
    }


# --- one part each ---------------------------------------------------------------------------------------------------


def _on_demand(
    data: JsonData,
    job: Job,
    assessment: Assessment,
    profiles: Profiles | None,
    previous: Job | None,
    *,
    only: Collection[str],
) -> dict[str, Any]:
    """What is worked out only when it is asked for."""

    def wanted(*keys: str) -> bool:
        return not only or any(key in only for key in keys)

    found: dict[str, Any] = {}
    if wanted(*BALANCE_KEYS):
        if wanted(*OF_RUNS):
            found |= balance_json(data, job, assessment, profiles)
        else:
            braking = braking_to_look_at(job, load_profiles() if profiles is None else profiles)
            found |= braked_json(data, job, assessment, braking=braking)
    if wanted("damper_sheets"):
        found |= damper_json(data, job)
    if wanted("linkage"):
        found |= linkage_json(data, job, assessment)
    if wanted("damping"):
        found |= damping_json(data, job, assessment, compared_with(job, previous, profiles))
    if wanted("gas"):
        found |= gas_json(data, job, assessment)
    return found


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


def _finding(finding: Finding) -> dict[str, str]:
    return {
        "code": finding.code,
        "severity": severity_word(finding.severity),
        "where": dotted(finding.where),
        "headline": headline(finding),
        "text": clean(sentence(finding)),
    }
