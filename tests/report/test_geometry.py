"""How check prints steering geometry: the state, each figure beside its baseline, and plain data."""

from __future__ import annotations

import pytest

from judgement_jobs import FULL, judged, put
from stanchion.job.model import Job, SagEnd
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.units.known_units import Units

MACHINE = put(
    FULL,
    geometry__rake_deg=24.0,
    geometry__offset_mm=30.0,
    geometry__wheelbase_mm=1400.0,
    geometry__front_radius_mm=298.5,
    geometry__rear_radius_mm=315.0,
)


def section(job: Job, units: Units | None = None) -> list[str]:
    lines = as_text("g.toml", job, judged(job), units or Units()).splitlines()
    start = lines.index("Geometry")
    return lines[start : lines.index("", start)]


def test_the_text_names_the_states_and_shows_each_figure_beside_its_baseline() -> None:
    assert section(MACHINE) == [
        "Geometry",
        "  State                rider aboard, by measured sag",
        "  Baseline measured    extended",
        "  Rake                 23.93°  (baseline 24.00°)",
        "  Trail                99.7 mm  (baseline 100.1 mm)",
        "  Normal trail         91.1 mm  (baseline 91.4 mm)",
        "  Wheelbase            1386.6 mm  (baseline 1400.0 mm)",
        "  Front rise           −30.1 mm",
        "  Rear rise            −28.5 mm",
    ]


def test_the_text_follows_the_display_units_and_keeps_the_angle() -> None:
    text = "\n".join(section(MACHINE, Units(lengths="in")))
    assert "3.923 in" in text
    assert "23.93°" in text


def test_without_a_baseline_one_line_says_what_it_takes() -> None:
    assert section(FULL) == [
        "Geometry",
        "  Rake, trail          –  needs rake, fork offset, wheelbase, front tyre radius and rear tyre radius",
    ]


def test_without_any_sag_the_text_says_that_it_is_for_the_extended_machine() -> None:
    lines = section(put(MACHINE, sag__front=SagEnd(), sag__rear=SagEnd()))
    assert lines[1] == "  State                extended, no sag known"


def test_the_data_hold_the_figures_the_state_and_the_baseline() -> None:
    data = as_json("g.toml", MACHINE, judged(MACHINE))["geometry"]
    assert data["rake_deg"] == pytest.approx(23.9319427, abs=1e-6)
    assert data["wheelbase_mm"] == pytest.approx(1386.559070, abs=1e-6)
    assert data["normal_trail_mm"] < data["trail_mm"] < data["baseline"]["trail_mm"]
    assert (data["state"], data["front_sag_from"], data["rear_sag_from"]) == ("rider", "captured", "captured")
    assert data["baseline"]["state"] == "extended"
    assert data["baseline"]["rake_deg"] == 24.0


def test_the_data_say_why_there_is_no_geometry() -> None:
    data = as_json("g.toml", Job(), judged(Job()))
    assert data["geometry"]["rake_deg"] is None
    assert data["missing"]["geometry.rake_deg"].startswith("needs rake, fork offset")
    assert data["missing"]["geometry.baseline.trail_mm"] == "needs front tyre radius, rake and fork offset"
