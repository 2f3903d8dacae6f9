"""Weights, centre of mass and the machine on the brakes: as lines of a report, and as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from stanchion.job.model import STATES, Job
from stanchion.judgement.criteria.profiles import Profiles, load_profiles
from stanchion.judgement.predict.balance import balance_figures
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.balance import BrakesFigures, Braking, WheelWeights
from stanchion.judgement.results.figures import Figure
from stanchion.planning.braking_of_runs import BrakingOfRuns, braking_of_runs, braking_to_look_at
from stanchion.planning.travel_left import TravelLeft, WayThere, travel_left
from stanchion.report.json_data import JsonData
from stanchion.report.lines import named_line
from stanchion.units.known_units import Units
from stanchion.wording.balance_sentences import (
    BRAKES_ROWS,
    Named,
    brakes_lines,
    brakes_notes,
    weight_lines,
)
from stanchion.wording.figure_names import ON_THE_BRAKES
from stanchion.wording.finding_words import reason
from stanchion.wording.travel_left_sentences import left_lines, ridden_lines

BALANCE = "Balance"
"""Heading above the weights and the centre of mass."""
_WEIGHTS = ("front_kg", "rear_kg", "total_kg", "front_share_pct", "ahead_mm", "ahead_expanded_mm")
_HEIGHT = ("height_mm", "height_expanded_mm", "lifted_deg")
_ON_BRAKES = ("front_kg", *(name for _, name, _ in BRAKES_ROWS))


def balance_parts(
    job: Job, assessment: Assessment, units: Units, profiles: Profiles | None = None
) -> Iterator[tuple[str, list[Named]]]:
    """Every line on balance and on braking under their headings, notes without a name; none where no weight is known.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        units: units to show.
        profiles: bands and targets; None: those that came with the program.
    """
    figures = balance_figures(job, assessment)
    if not any(weights.total_kg.known for weights in figures.states.values()):
        return
    yield BALANCE, [line for state in STATES for line in weight_lines(figures.states[state], state, units)]
    yield ON_THE_BRAKES, [*_braking(job, assessment, units, figures.states["rider"], profiles)]


def _braking(
    job: Job, assessment: Assessment, units: Units, rider: WheelWeights, profiles: Profiles | None
) -> Iterator[Named]:
    """The machine on the brakes, the braking ridden, and what leaves some travel."""
    ridden, left, braking = _ridden_and_left(job, profiles)
    brakes = brakes_figures(job, assessment, braking=braking)
    yield from brakes_lines(job, brakes, units)
    yield from (("", note) for note in brakes_notes(brakes, rider, units))
    yield from ridden_lines(ridden)
    if brakes.slow.fork_used_mm.known or brakes.slow.rear_lifts_g.known:
        yield from left_lines(left, units)


def _ridden_and_left(job: Job, profiles: Profiles | None) -> tuple[BrakingOfRuns, TravelLeft, Braking]:
    judged_by = load_profiles() if profiles is None else profiles
    ridden = braking_of_runs(job, judged_by)
    return ridden, travel_left(job, judged_by, ridden), braking_to_look_at(job, judged_by, ridden)


OF_RUNS = ("braking_of_runs", "travel_left")
"""The keys of balance_json that are searched for."""
BALANCE_KEYS = ("balance", "brakes", *OF_RUNS)
"""All its keys."""


def balance_lines(job: Job, assessment: Assessment, units: Units, profiles: Profiles | None = None) -> Iterator[str]:
    """The same as sections of printed text, each after an empty line."""
    for title, rows in balance_parts(job, assessment, units, profiles):
        yield from ("", title)
        yield from (named_line(name, text) if name else f"  {text}" for name, text in rows)


def balance_json(data: JsonData, job: Job, assessment: Assessment, profiles: Profiles | None = None) -> dict[str, Any]:
    """Weights and centre of mass by state, the machine on the brakes, and the braking ridden; see JSON in
    DEVELOPERS.md."""
    ridden, left, braking = _ridden_and_left(job, profiles)
    return {
        **braked_json(data, job, assessment, braking=braking),
        "braking_of_runs": _ridden(data, ridden),
        "travel_left": _left(data, left),
    }


def braked_json(
    data: JsonData, job: Job, assessment: Assessment, *, with_ends: bool = True, braking: Braking | None = None
) -> dict[str, Any]:
    """Weights and centre of mass by state, and the machine on the brakes; without the decelerations at which it comes
    to an end, where these are not wanted."""
    figures = balance_figures(job, assessment)
    brakes = brakes_figures(job, assessment, with_ends=with_ends, braking=braking)
    return {
        "balance": {state: _weights(data, f"balance.{state}", figures.states[state]) for state in STATES},
        "brakes": {
            "braking_g": data.plain("brakes.braking_g", brakes.braking_g),
            "braking_from": brakes.braking.source,
            **data.of("brakes", brakes.braking, ("slow_g", "fast_g")),
            **{name: data.of(f"brakes.{name}", getattr(brakes, name), _ON_BRAKES) for name in ("slow", "fast")},
            **_by_height(data, brakes),
            "left_out": list(brakes.omitted),
        },
    }


def _ridden(data: JsonData, ridden: BrakingOfRuns) -> dict[str, Any]:
    """The braking that the fork markers stand for."""
    at = "braking_of_runs"
    runs = [
        {"run": run.at + 1, **data.of(f"{at}.runs.{n}", run, ("slow_g", "fast_g"))} for n, run in enumerate(ridden.runs)
    ]
    return {**data.of(at, ridden, ("mean_g", "spread_g")), "runs": runs}


def _sure(data: JsonData, at: str, way: WayThere) -> dict[str, Any]:
    """How sure a setting is, and what makes it uncertain, the most first."""
    if way.sure is None:
        unsure = "no uncertainty follows from the readings"
        data.missing[f"{at}.then_expanded"] = unsure if way.then.known else reason(way.then)
        return {"then_expanded": None, "then_expanded_by": []}
    return {"then_expanded": way.sure.expanded, "then_expanded_by": list(way.sure.by)}


def _left(data: JsonData, left: TravelLeft) -> dict[str, Any]:
    """What leaves the travel wanted on the brakes."""
    at = "travel_left"
    of_gap = ("now", "then", "left_mm", "oil_ml")
    ways = [
        {
            "way": way.kind,
            **data.of(f"{at}.ways.{n}", way, of_gap if way.kind == "air_gap" else of_gap[:-1]),
            **_sure(data, f"{at}.ways.{n}", way),
            "sags": [
                {
                    "state": sag.state,
                    **data.of(f"{at}.ways.{n}.sags.{k}", sag, ("now", "then")),
                    "out_of_target": sag.out,
                }
                for k, sag in enumerate(way.sags)
            ],
        }
        for n, way in enumerate(left.ways)
    ]
    return {
        "wanted_mm": left.wanted_mm,
        "markers": left.markers,
        **data.of(at, left, ("slow_g", "fast_g", "left_mm")),
        "ways": ways,
    }


def _by_height(data: JsonData, brakes: BrakesFigures) -> dict[str, Any]:
    """The slow figures with the centre of mass as low and as high as it may lie, where that is known."""
    if brakes.by_height is None:
        return {}
    both = zip(("lower", "higher"), brakes.by_height, strict=True)
    return {name: data.of(f"brakes.{name}", of, _ON_BRAKES) for name, of in both}


def _weights(data: JsonData, at: str, of: WheelWeights) -> dict[str, Any]:
    source = data.code(f"{at}.height_from", of.height_from, Figure(0.0), "not_lifted")
    return {**data.of(at, of, _WEIGHTS), **data.of(at, of, _HEIGHT), "height_from": source}
