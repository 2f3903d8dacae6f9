"""Oil figures and the places of stops in what check prints, and in its JSON."""

from __future__ import annotations

import math

import pytest

from judgement_jobs import FULL, judged, put
from stanchion.job.model import Stops
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json

OILED = put(
    FULL,
    front__travel_mm=120.0,
    front__packers_mm=None,
    front__stanchion_inner_mm=39.0,
    front__damper_rod_mm=12.0,
    front__left__air_gap_mm=130.0,
    front__gap_compared_mm=120.0,
    front__stops=Stops(touches_mm=95.0, rate_n_per_mm=30.0, hydraulic_mm=8.0),
    rear__stroke_mm=60.0,
    rear__packers_mm=None,
    rear__bump_rubber_mm=12.0,
)
AROUND_ROD = math.pi / 4.0 * (39.0**2 - 12.0**2) / 1000.0
"""Millilitres for 1 mm of the ring between tube and rod."""


def test_json_has_the_oil_and_where_the_stops_begin() -> None:
    data = as_json("a", OILED, judged(OILED))
    assert data["oil"]["ml_per_mm"] == pytest.approx(math.pi / 4.0 * 39.0**2 / 1000.0)
    assert data["oil"]["ml_per_mm_by_rod"] == pytest.approx(AROUND_ROD)
    assert data["oil"]["compared"]["change_mm"] == -10.0
    assert data["oil"]["compared"]["oil_ml"] == pytest.approx(10.0 * AROUND_ROD)
    assert "for_reserve" not in data["oil"]
    assert data["stops"]["front"]["rubber_from_mm"] == pytest.approx(95.0)
    assert data["stops"]["front"]["hydraulic_from_mm"] == pytest.approx(120.0 - 8.0)
    assert data["stops"]["rear"]["rubber_from_mm"] == pytest.approx(60.0 - 12.0)
    assert data["stops"]["rear"]["hydraulic_from_mm"] is None
    assert "stops.rear.hydraulic_from_mm" in data["missing"]
    unmeasured = put(OILED, front__stanchion_inner_mm=None)
    bare = as_json("a", unmeasured, judged(unmeasured))
    assert bare["oil"] is None
    assert bare["missing"]["oil"].startswith("needs ")


def test_text_says_both_in_lines_of_their_own() -> None:
    text = as_text("a", OILED, judged(OILED))
    assert "Bump rubber from     95.0 mm of travel" in text
    assert "Hydraulic stop from  112.0 mm of travel" in text
    assert "Bump rubber from     48.0 mm of shock travel" in text
    [oil] = [part for part in text.split("\n\n") if part.startswith("Fork oil")]
    assert f"{5 * AROUND_ROD:.1f} ml around the rod" in oil or f"{5 * AROUND_ROD:.0f} ml around the rod" in oil
    assert "To compare: air gap 120.0 mm" in oil
