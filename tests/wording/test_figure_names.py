"""A figure on balance, on the brakes, on the gas or of the linkage has one name on every screen, in check, on the sheet
and in the help."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.content import Content

from complete_job import complete_job
from judgement_jobs import PROFILES, put
from stanchion.judgement.assess import assess
from stanchion.judgement.predict.balance import balance_figures
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.predict.gas import gas_figures
from stanchion.judgement.predict.points_figures import points_figures
from stanchion.planning.braking_of_runs import braking_of_runs
from stanchion.planning.whatif import compare
from stanchion.report.check import as_text
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_text import sheet_text
from stanchion.report.side_view import side_view
from stanchion.ui.balance_lines import balance_pages, balance_short
from stanchion.ui.gas_lines import gas_pages, gas_short
from stanchion.ui.help_text import PARTS
from stanchion.ui.linkage_lines import linkage_pages, linkage_short
from stanchion.ui.screens.trial import beside
from stanchion.ui.side_drawing import states_lines
from stanchion.units.known_units import METRIC
from stanchion.wording.figure_names import FIGURE_NAMES

JOB = put(complete_job(), runs=())
JUDGED = assess(JOB, PROFILES)
RIDING = ("fork_used_mm", "rear_used_mm", "rake_deg", "trail_mm", "wheelbase_mm", "front_kg", "rear_kg")
BRAKES = ("fork_used_mm", "fork_left_mm", "rear_kg", "rear_used_mm", "rake_deg", "trail_mm", "wheelbase_mm")
ENDS = ("fork_ends_g", "rear_lifts_g")
GAS = ("anti_squat_pct", "anti_squat_there_pct", "rear_rises_mm", "fork_extends_mm", "front_kg", "rake_deg")
CENTRE = ("ahead_mm", "height_mm")
RETIRED = (
    *("Rake there", "Trail there", "Wheelbase there", "Rear load left", "Front load left", "Rear load, braking"),
    *("Trail, braking", "Trail on the brakes", "On brakes, slow", "Brakes, slow", "Fork used", "Rear used", "On rear"),
    *("Rear on the gas", "Rear higher on gas", "Rear up, gas", "Anti-squat there", "Front load, on gas", "its height"),
    *("As ridden  ", "Ratio extended", "\nRATIO OVER TRAVEL"),
)
"""Names that a figure had on one surface and not on another."""


def _lines(lines: list[Content]) -> str:
    return "\n".join(line.plain for line in lines)


def _pages(pages: list[list[Content]]) -> str:
    return "\n".join(map(_lines, pages))


def _surfaces() -> dict[str, str]:
    brakes, gas = brakes_figures(JOB, JUDGED), gas_figures(JOB, JUDGED)
    weights, points = balance_figures(JOB, JUDGED).states, points_figures(JOB, JUDGED)
    seen, view = compare(JOB, JOB, PROFILES), side_view(JOB, JUDGED, METRIC)
    ridden = braking_of_runs(complete_job(), PROFILES)
    assert view is not None
    return {
        "balance": _pages(balance_pages(brakes, weights, METRIC, 60, 60, ridden=ridden)),
        "balance, narrow": _lines([*balance_short(brakes, METRIC)]),
        "gas": _pages(gas_pages(JOB, gas, METRIC, 60, 60, measured_height=True)),
        "gas, narrow": _lines([*gas_short(gas, METRIC)]),
        "linkage": _pages(linkage_pages(JOB, points, METRIC, 60, 60, at=None, plain=False)),
        "linkage, narrow": _lines([*linkage_short(points, METRIC)]),
        "trial": _lines(beside(seen, METRIC, 34, full=False)),
        "trial, wide": _lines(beside(seen, METRIC, 60, full=True)),
        "side": _lines(states_lines(view, None, 60)),
        "check": as_text("job.toml", JOB, JUDGED, profiles=PROFILES),
        "sheet": sheet_text(make_sheet(JOB, JUDGED, None, METRIC, profiles=PROFILES)),
        "help": "\n".join(part.text for part in PARTS),
        "readme": (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8"),
    }


SURFACES = _surfaces()
SHOWN: dict[str, tuple[str, ...]] = {
    "balance": (*BRAKES, *ENDS, "front_kg", "front_share_pct", *CENTRE, "ridden_g"),
    "balance, narrow": ("fork_used_mm", "fork_left_mm", "rear_kg", "trail_mm"),
    "gas": (*GAS, "trail_mm", "wheelbase_mm", "front_lifts_g", "arm_deg", "chain_deg"),
    "gas, narrow": ("anti_squat_pct", "rear_rises_mm", "front_kg", "front_lifts_g"),
    "linkage": ("motion_ratio", "arm_deg"),
    "linkage, narrow": ("motion_ratio",),
    "trial": ("fork_used_mm", "rear_kg", "trail_mm", "anti_squat_pct", "rear_rises_mm", "front_kg"),
    "trial, wide": ("fork_used_mm", "rear_kg", "trail_mm", "anti_squat_pct", "rear_rises_mm", "front_kg"),
    "side": RIDING,
    "check": (*BRAKES, *ENDS, *CENTRE, *GAS, "braking_g", "acceleration_g", "front_lifts_g"),
    "sheet": (*BRAKES, *ENDS, *CENTRE, "braking_g", "anti_squat_pct", "motion_ratio"),
}
"""The figures that each surface has."""


@pytest.mark.parametrize("surface", SHOWN)
def test_a_figure_has_its_one_name_on_every_surface(surface: str) -> None:
    for field in SHOWN[surface]:
        assert FIGURE_NAMES[field] in SURFACES[surface], (surface, field)


def test_no_surface_has_another_name_for_it() -> None:
    for surface, text in SURFACES.items():
        assert [name for name in RETIRED if name in text] == [], surface


def test_every_name_is_used_somewhere_and_short_enough_for_eighty_columns() -> None:
    shown = {field for fields in SHOWN.values() for field in fields}
    assert set(FIGURE_NAMES) == shown
    assert max(map(len, FIGURE_NAMES.values())) <= 17
    assert len(set(FIGURE_NAMES.values())) == len(FIGURE_NAMES)
