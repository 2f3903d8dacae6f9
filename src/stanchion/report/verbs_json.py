"""What `story` and `compare` print with --json, as plain data; DEVELOPERS.md documents it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from stanchion.job.diff import differences
from stanchion.job.edit import dotted
from stanchion.job.model import ENDS, SIDES, STATES, Adjuster, End
from stanchion.job.spec import Rate
from stanchion.judgement.results.assessment import PreloadFigures
from stanchion.judgement.results.figures import Figure
from stanchion.planning.machine_story import StoryRow
from stanchion.report.comparison import SAME, compared, comparison_lines
from stanchion.report.json_data import JSON_FORMAT, OCCASION, JsonData, plain_value
from stanchion.report.story import changed
from stanchion.units.known_units import METRIC

LINE = 100
_USED = ("used_mm", "available_mm", "share_used")
_SAME_WITHIN = 1e-9
"""Share of a figure below which two computed values differ only by rounding."""


def story_json(row: StoryRow) -> dict[str, Any]:
    """One object of the array that `story --json` prints: an occasion, or one run."""
    data = JsonData()
    run = row.run
    content: dict[str, Any] = {
        "format": JSON_FORMAT,
        "file": row.file,
        "job": data.of("job", row.job.job, OCCASION),
        "run": None if row.at is None else row.at + 1,
        "date": row.day.isoformat(),
        "time": run.time if run is not None else "",
        "session": row.session,
        **{end: _end(data, row, end) for end in ENDS},
        "best_lap_s": data.plain("best_lap_s", row.best_lap_s),
        "said": run.said if run is not None else "",
        "complaints": plain_value(run.complaints) if run is not None else [],
        "first": row.first,
        "changed": [] if row.first else list(changed(row, METRIC)) if row.changes else [],
    }
    if row.at is None:
        data.missing["run"] = "the occasion as a whole"
    return content | {"missing": data.missing}


def comparison_json(one: StoryRow, other: StoryRow) -> dict[str, Any]:
    """The object that `compare --json` prints."""
    comparison = compared(one, other, METRIC)
    recorded = [
        {"where": dotted(change.path), "one": plain_value(change.old), "other": plain_value(change.new)}
        for change in differences(one.job, other.job)
        if change.path[0] != "runs"
    ]
    figures = [
        {"where": where, "one": before, "other": after}
        for where, before, after in _both_figures(one, other)
        if not _alike(before, after)
    ]
    lines = [] if comparison.same else [text for _, text in comparison_lines(comparison, LINE)]
    return {
        "format": JSON_FORMAT,
        "one": _which(one),
        "other": _which(other),
        "same": comparison.same,
        "recorded": recorded,
        "figures": figures,
        "said": list(comparison.said) if comparison.said is not None else [],
        "text": lines or [SAME],
    }


# --- one part each ----------------------------------------------------------------------------------------------------


def _which(row: StoryRow) -> dict[str, Any]:
    return {"file": row.file, "run": None if row.at is None else row.at + 1}


def _end(data: JsonData, row: StoryRow, end: End) -> dict[str, Any]:
    """Springs, adjusters, sags and travel used of one end."""
    springs = dict(_springs(row, end))
    legs = {name: _spring(data, f"{end}.{name}" if name else end, *of) for name, of in springs.items()}
    deepest = row.deepest(end)
    used: dict[str, Any] = dict.fromkeys(_USED)
    if deepest is None:
        data.missing |= {f"{end}.{name}": "no marker was read" for name in _USED}
    else:
        used = data.of(end, deepest, _USED)
    sags = {
        f"{state}_sag_mm": data.plain(f"{end}.{state}_sag_mm", row.assessment.sag.end(end).state(state).shown_mm)
        for state in STATES
    }
    air: dict[str, Any] = {}
    if end == "front":
        pressures = {side: row.job.front.leg(side).air for side in SIDES if row.job.front.leg(side).air.fitted}
        air = {"air_bar": {side: one.pressure_bar for side, one in pressures.items()}} if pressures else {}
    elif row.job.rear.air.fitted:
        air = {"air_bar": row.job.rear.air.pressure_bar}
    return {**legs.pop("", {}), **legs, **air, **sags, **used}


def _springs(row: StoryRow, end: End) -> Iterator[tuple[str, tuple[Rate | None, PreloadFigures, Adjuster]]]:
    """Rate, figures and adjuster of each spring of an end; the one of the shock has no name."""
    job, a = row.job, row.assessment
    if end == "rear":
        yield "", (None if job.rear.air.fitted else job.rear.spring.rate_n_per_mm, a.rear.spring, job.rear.collar)
        return
    for side in SIDES:
        leg = job.front.leg(side)
        yield side, (leg.spring.rate_n_per_mm if leg.coil_fitted else None, a.front.leg(side), leg.adjuster)


def _spring(data: JsonData, at: str, rate: Rate | None, figures: PreloadFigures, adjuster: Adjuster) -> dict[str, Any]:
    return {
        "rate_n_per_mm": data.plain(f"{at}.rate_n_per_mm", rate),
        **data.of(at, figures, ("installed_preload_mm", "preload_now_mm")),
        "adjuster": data.plain(f"{at}.adjuster", adjuster.now),
        "counting": adjuster.counting,
    }


def _both_figures(one: StoryRow, other: StoryRow) -> Iterator[tuple[str, float | None, float | None]]:
    """Each figure that a comparison shows, by its place."""
    yield "best_lap_s", one.best_lap_s, other.best_lap_s
    both = [dict(_figures(row)) for row in (one, other)]
    for where, figure in both[0].items():
        yield where, figure.value, both[1][where].value


def _figures(row: StoryRow) -> Iterator[tuple[str, Figure]]:
    for end in ENDS:
        for name, (_, figures, _) in _springs(row, end):
            at = f"{end}.{name}" if name else end
            yield f"{at}.installed_preload_mm", figures.installed_preload_mm
            yield f"{at}.preload_now_mm", figures.preload_now_mm
        for state in STATES:
            yield f"{end}.{state}_sag_mm", row.assessment.sag.end(end).state(state).sag_mm
        deepest = row.deepest(end)
        for name in _USED:
            yield f"{end}.{name}", getattr(deepest, name) if deepest is not None else Figure()


def _alike(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) <= _SAME_WITHIN * max(abs(one), abs(other))
