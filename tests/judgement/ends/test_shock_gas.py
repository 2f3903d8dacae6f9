"""The gas of the shock as recorded: one force without its volume, over stroke and temperature with it."""

from __future__ import annotations

import datetime as dt
import math

import pytest

from judgement_jobs import PROFILES, judged, put
from rates import WEIGHED, known
from sheet_jobs import sheet
from stanchion.bench.session import Session
from stanchion.job.carry import carried
from stanchion.job.model import Job
from stanchion.job.outside import NOWHERE
from stanchion.report.check import as_text
from stanchion.ui.predicted_lines import predicted_lines
from stanchion.units.known_units import METRIC

AREA = math.pi / 4 * 16.0**2
GASSED = put(
    WEIGHED, rear__shaft_mm=16.0, rear__gas_pressure_bar=10.0, rear__gas_volume_ml=100.0, rear__wheel_travel_mm=150.0
)


def full_n(job: Job) -> float:
    return known(judged(job).predicted.rear.full_travel.slow_n.value)


@pytest.mark.parametrize(("stroke", "force"), [(66.0, 234.9425), (132.0, 281.0636)])
def test_its_force_rises_over_the_stroke(stroke: float, force: float) -> None:
    """16 mm shaft, 1.0 MPa above ambient, 100 000 mm³: own computation from p V = const."""
    rear = judged(put(GASSED, rear__stroke_mm=stroke)).rear
    assert rear.gas_force_n.value == pytest.approx(201.0619, abs=5e-5)
    assert rear.gas_full_n.value == pytest.approx(force, abs=5e-5)


def test_it_is_in_the_balance_as_over_the_stroke_and_without_a_volume_as_one_force() -> None:
    a = judged(GASSED)
    m = known(a.rear.motion_ratio.value)
    constant = put(GASSED, rear__gas_volume_ml=None)
    more = known(a.rear.gas_full_n.value) - known(a.rear.gas_force_n.value)
    assert full_n(GASSED) - full_n(constant) == pytest.approx(more * m)
    assert known(a.predicted.rear.rider.sag_mm.value) < known(judged(constant).predicted.rear.rider.sag_mm.value)
    assert not judged(constant).rear.gas_full_n.known


def test_fast_it_is_stiffer() -> None:
    """p V^1.4 = const over a stroke of 60 mm."""
    full = judged(GASSED).predicted.rear.full_travel
    m = known(judged(GASSED).rear.motion_ratio.value)
    v0, left = 100_000.0, 100_000.0 - AREA * 60.0
    more = AREA * 1.101325 * ((v0 / left) ** 1.4 - v0 / left)
    assert known(full.fast_n.value) - known(full.slow_n.value) == pytest.approx(more * m)


@pytest.mark.parametrize("volume", [None, 100.0])
def test_warm_it_pushes_more(volume: float | None) -> None:
    """Absolute pressure times 353.15 / 293.15."""
    job = put(GASSED, rear__gas_volume_ml=volume, rear__gas_set_at_c=20.0, rear__temperature_c=80.0)
    warm = judged(job).rear
    assert warm.gas_force_n.value == pytest.approx(AREA * (1.101325 * 353.15 / 293.15 - 0.101325))
    assert known(judged(job).predicted.rear.rider.sag_mm.value) < known(
        judged(GASSED).predicted.rear.rider.sag_mm.value
    )
    assert judged(put(job, rear__temperature_c=None)).rear.gas_force_n.value == pytest.approx(201.0619, abs=5e-5)


def test_a_volume_that_the_shaft_would_fill_is_refused_and_one_force_taken() -> None:
    a = judged(put(GASSED, rear__gas_volume_ml=12.0))
    assert a.rear.gas_full_n.problem == "gas_no_room"
    assert a.predicted.rear.rider.sag_mm == judged(put(GASSED, rear__gas_volume_ml=None)).predicted.rear.rider.sag_mm


def test_the_wheel_rate_holds_the_rate_of_the_gas() -> None:
    """k = p A² / V at the shock travel that the sheet shows the rate for."""
    a, plain = judged(GASSED), judged(put(GASSED, rear__gas_volume_ml=None))
    m, s = known(a.rear.motion_ratio.value), a.rear.at_travel_mm * known(a.rear.motion_ratio.value)
    rate = 1.101325 * AREA**2 * 100_000.0 / (100_000.0 - AREA * s) ** 2
    more = known(a.rear.wheel_rate_n_per_mm.value) - known(plain.rear.wheel_rate_n_per_mm.value)
    assert more == pytest.approx(rate * m * m, rel=0.05)


def test_charged_in_the_valley_it_pushes_more_on_the_pass_by_the_difference_on_the_shaft() -> None:
    """F = (p - p_outside) A, its own pressure being what it was: 97 773 Pa at 300 m and 81 494 Pa at 1800 m, by the
    standard atmosphere (ISO 2533)."""
    valley = put(GASSED, rear__gas_volume_ml=None, job__altitude_m=300.0)
    up = carried(valley, "valley.toml", dt.date(2026, 6, 7))
    up = put(up, job__altitude_m=1800.0)
    assert judged(valley).rear.gas_force_n.value == pytest.approx(201.0619, abs=5e-5)
    more = (0.097773 - 0.081494) * AREA
    assert known(judged(up).rear.gas_force_n.value) == pytest.approx(201.0619 + more, abs=5e-3)
    assert known(judged(put(up, rear__gas_volume_ml=100.0)).rear.gas_force_n.value) == pytest.approx(
        201.0619 + more, abs=5e-3
    )
    session = Session(up, PROFILES)
    session.type(("rear", "gas_pressure_bar"), "10.5")
    assert session.job.rear.gas_set_in == NOWHERE
    assert session.assessment.rear.gas_force_n.value == pytest.approx(1.05 * AREA)


@pytest.mark.parametrize("volume", [None, 100.0])
def test_warmed_on_the_pass_its_force_counts_from_the_pressure_outside_there(volume: float | None) -> None:
    """(p + p_outside) T2/T1 - p_outside with 79 495.2 Pa at 2000 m (ISO 2533)."""
    job = put(GASSED, rear__gas_volume_ml=volume, rear__gas_set_at_c=20.0, rear__temperature_c=80.0)
    force = judged(put(job, job__altitude_m=2000.0)).rear.gas_force_n.value
    outside = 0.0794952
    assert force == pytest.approx(AREA * ((1.0 + outside) * 353.15 / 293.15 - outside), rel=1e-6)


def test_gas_set_at_a_noted_altitude_says_that_this_venue_is_taken_as_that() -> None:
    """10 bar above the pressure at 1800 m stay 10 bar until the altitude here is entered, and the figure says so."""
    job = put(GASSED, rear__gas_set_in__altitude_m=1800.0)
    unknown, here = judged(job), judged(put(job, job__altitude_m=300.0))
    assert unknown.rear.gas_force_n.value == pytest.approx(201.0619, abs=5e-5)
    assert known(here.rear.gas_force_n.value) < 201.0619 - 2.0  # (0.097773 - 0.081494) N/mm² less, on 201 mm²
    said = {
        a.rear.gas_carried: "\n".join(line.plain for line in predicted_lines(a, METRIC, 60)) for a in (unknown, here)
    }
    assert "altitude taken as where it was set" in " ".join(said[True].split())
    assert "altitude taken as" not in said[False]
    assert not judged(GASSED).rear.gas_carried
    assert "altitude taken as where it was set" in as_text("job.toml", job, unknown)


def test_what_is_shown_says_whether_it_is_taken_as_constant() -> None:
    for job, words in (
        (GASSED, "201 N extended, 231 N at full stroke"),
        (put(GASSED, rear__gas_volume_ml=None), "201 N, taken as constant over the stroke (needs gas volume)"),
    ):
        a = judged(job)
        assert words in as_text("a", job, a)
        assert words in " ".join(line.plain for line in predicted_lines(a, METRIC, 200))


def test_the_hand_over_sheet_has_both_forces() -> None:
    assert "201 N / 231 N" in str(sheet(GASSED))
