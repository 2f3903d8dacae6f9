"""The linkage by its points: as lines of a report, and as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from stanchion.job.model import Job, PointsRead
from stanchion.job.spec import Kind
from stanchion.judgement.predict.points_figures import PointsFigures, points_figures
from stanchion.judgement.results.assessment import Assessment
from stanchion.report.json_data import JsonData
from stanchion.report.lines import named_line
from stanchion.report.sheet_shape import Mark, RatioCurve
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.figure_names import FIGURE_NAMES
from stanchion.wording.linkage_words import AT, linkage_lines

TITLE = "Linkage by points"
_EACH = ("wheel_mm", "shock_mm", "ratio", "arm_deg", "back_mm")


def linkage_rows(job: Job, assessment: Assessment, units: Units) -> Iterator[tuple[str, str]]:
    """Every line on the linkage by its points, those without a name last; none where no point was read.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        units: units to show.
    """
    if job.rear.points != PointsRead():
        yield from linkage_lines(job, points_figures(job, assessment), units)


def ratio_curve(job: Job, assessment: Assessment, units: Units) -> RatioCurve | None:
    """The motion ratio over the travel to be drawn; None where the points do not give it.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        units: units to show.
    """
    if job.rear.points == PointsRead():
        return None
    figures = points_figures(job, assessment)
    if not figures.ratios:
        return None
    end_mm = figures.ratios[-1][0]
    pairs = tuple((mm, ratio) for mm, ratio in figures.pair_ratios if mm <= end_mm)
    values = [ratio for _, ratio in (*figures.ratios, *pairs)]
    now_mm, ratio = figures.now.wheel_mm.value, figures.now.ratio.value
    shown = "" if now_mm is None else f"{show(now_mm, Kind.LENGTH, units)}: {show(ratio or 0.0, Kind.RATIO, units)}"
    return RatioCurve(
        name=f"{FIGURE_NAMES['motion_ratio']} over the travel of the rear wheel",
        points=figures.ratios,
        pairs=pairs,
        low=show(min(values), Kind.RATIO, units),
        high=show(max(values), Kind.RATIO, units),
        full=Mark("full travel", end_mm, show(end_mm, Kind.LENGTH, units)),
        now=None if now_mm is None else Mark("now", now_mm, shown),
    )


def linkage_text(job: Job, assessment: Assessment, units: Units) -> Iterator[str]:
    """The same as a section of printed text, after an empty line."""
    rows = list(linkage_rows(job, assessment, units))
    if rows:
        yield from ("", TITLE)
    yield from (named_line(name, text) if name else f"  {text}" for name, text in rows)


def linkage_json(data: JsonData, job: Job, assessment: Assessment) -> dict[str, Any]:
    """The linkage at full extension, now and at full travel, and its ratio over the travel; see JSON in
    DEVELOPERS.md."""
    figures = points_figures(job, assessment)
    return {
        "linkage": {
            "from": job.rear.points.used,
            **{name: data.of(f"linkage.{name}", getattr(figures, name), _EACH) for name in AT},
            **data.of("linkage", figures, ("progression_pct", "link_mm")),
            "ratios": [list(pair) for pair in figures.ratios],
            "pairs": _pairs(figures),
        }
    }


def _pairs(figures: PointsFigures) -> list[dict[str, float]]:
    return [{"wheel_mm": one.wheel_mm, "shock_mm": one.pair_mm, "by_points_mm": one.points_mm} for one in figures.pairs]
