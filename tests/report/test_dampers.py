"""Damper sheets in check, in its JSON and on the hand-over sheet."""

from __future__ import annotations

from dataclasses import replace

from invented_damper import GAS_N, invented_sheet, job_with
from stanchion.job.model import DamperSheet, Job
from stanchion.report.dampers import damper_json, damper_lines, damper_parts
from stanchion.report.json_data import JsonData
from stanchion.report.sheet_shape import Section, Table
from stanchion.units.known_units import METRIC, Units

WORN = replace(
    invented_sheet(),
    file="worn.csv",
    unread=3.0,
    curves=tuple(
        replace(one, forces_n=tuple(GAS_N + 0.9 * (force - GAS_N) for force in one.forces_n))
        for one in invented_sheet().curves
    ),
)
BOTH = job_with(invented_sheet(), WORN)


def spread(of: DamperSheet, newtons: float) -> DamperSheet:
    return replace(of, curves=tuple(replace(one, spreads_n=(newtons,) * 7) for one in of.curves))


def row(lines: list[str], name: str, nth: int = 0) -> list[str]:
    return [line for line in lines if line.startswith(f"    {name} ")][nth].removeprefix(f"    {name} ").split()


def test_check_shows_force_slopes_clicks_and_the_sheet_before() -> None:
    lines = list(damper_lines(BOTH, METRIC))
    assert row(lines, "Rebound, 8 clicks") == ["57", "114", "228", "342", "433", "661"]
    assert row(lines, "Rebound, 8 clicks", 1) == ["2280", "912"]
    assert any(line.startswith("  Slope, N·s/m, at mm/s ") for line in lines)
    assert row(lines, "Rebound") == ["−2", "−5", "−9", "−14", "−17", "−26"]
    assert row(lines, "Rebound, 8 clicks", 4) == ["−6", "−11", "−23", "−34", "−43", "−66"]
    text = "\n".join(lines)
    assert "rebound 205 N, 2052 N·s/m at 100 mm/s; 10 % more is 2.5 clicks in" in text  # 0.76 to 0.836 of that fully in
    assert text.count("As set now") == 1  # by the latest sheet
    assert "3 lines of the file not" in text
    assert "measure the same setting twice" in text
    assert max(map(len, lines)) <= 120


def test_differences_beyond_what_readings_scatter_are_marked() -> None:
    """Spreads of 3 N and 3 N: 95 of 100 differences lie within 8.3 N (1.96 times the root of both squares)."""
    lines = list(damper_lines(job_with(spread(invented_sheet(), 3.0), spread(WORN, 3.0)), METRIC))
    assert row(lines, "Rebound, 8 clicks", 4) == ["−6", "−11*", "−23*", "−34*", "−43*", "−66*"]
    assert "    * more than the readings of both sheets scatter (95 %)." in lines


def test_forces_are_shown_in_the_units_chosen() -> None:
    lines = list(damper_lines(BOTH, Units(masses="lb")))
    assert row(lines, "Rebound, 8 clicks")[2] == "51.3"  # 228 N


def test_json_gives_what_was_measured_and_the_reasons_for_what_is_not_known() -> None:
    data = JsonData()
    sheets = damper_json(data, BOTH)["damper_sheets"]
    assert [sheet["file"] for sheet in sheets] == ["invented.csv", "worn.csv"]
    assert "compared_with" not in sheets[0]
    assert (sheets[0]["sheet"], sheets[1]["compared_with"]) == (1, 1)
    at = next(one for one in sheets[0]["curves"] if (one["stroke"], one["position"]) == ("rebound", 8.0))["at"]
    assert [one["speed_mm_per_s"] for one in at] == [25.0, 50.0, 100.0, 150.0, 250.0, 500.0]
    assert abs(at[2]["force_n"] - 228.0) < 1e-9
    assert data.missing["damper_sheets.1.differences.0.band_n"].startswith("single readings")


def test_the_hand_over_sheet_has_the_positions_as_set_and_no_others() -> None:
    tables = [part for part in damper_parts(BOTH, METRIC) if isinstance(part, Table)]
    assert [name for name, _ in tables[0].rows] == ["Comp., 8 clicks", "Rebound, 8 clicks"]
    between = [part for part in damper_parts(job_with(WORN, rebound=9.0), METRIC) if isinstance(part, Table)]
    assert [name for name, _ in between[0].rows] == [
        f"{stroke}, {at} clicks" for stroke in ("Comp.", "Rebound") for at in (4, 12)
    ]
    facts = next(part for part in damper_parts(BOTH, METRIC) if isinstance(part, Section))
    assert facts.title == "Damper sheet 1, shock"


def test_a_job_without_sheets_says_nothing() -> None:
    assert list(damper_lines(Job(), METRIC)) == []
    assert list(damper_parts(Job(), METRIC)) == []
    assert damper_json(JsonData(), Job()) == {"damper_sheets": []}


def test_one_position_says_why_a_turn_is_not_known_whatever_else_is_missing() -> None:
    """A sheet without positions: the rebound setting would not help."""
    curves = tuple(replace(one, position=None) for one in invented_sheet((8.0,)).curves)
    text = " ".join(damper_lines(job_with(replace(invented_sheet(), curves=curves), rebound=None), METRIC))
    assert "how far to turn for 10 % more is not known: the damper was measured at one position only" in " ".join(
        text.split()
    )
