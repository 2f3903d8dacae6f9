"""What damper sheets say of an invented damper whose law is known."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from invented_damper import GAS_N, invented_curve, invented_sheet, job_with, resisting
from stanchion.job.model import Clicker, DamperCurve, DamperSheet, Front, Job, Leg, Rear
from stanchion.judgement.predict.damper_sheets import (
    damping_as_set,
    force_as_set,
    latest_sheet,
    position_for,
    sheet_figures,
    sheets_compared,
)
from stanchion.units.known_units import METRIC
from stanchion.wording.damper_sentences import gas_words


def test_force_at_stated_speeds_is_that_of_the_damper_without_its_gas() -> None:
    of = sheet_figures(job_with(invented_sheet()), 0)
    assert [(c.stroke, c.position) for c in of.curves] == [
        (stroke, at) for stroke in ("compression", "rebound") for at in (4.0, 8.0, 12.0)
    ]
    for curve in of.curves:
        assert [one.speed_mm_per_s for one in curve.at] == [25.0, 50.0, 100.0, 150.0, 250.0, 500.0]
        for one in curve.at:
            law = resisting(curve.stroke, curve.position or 0.0, one.speed_mm_per_s)
            assert one.force_n.value == pytest.approx(law)
            assert one.damping_n_s_per_m.value == pytest.approx(law / one.speed_mm_per_s * 1000.0)


def test_slopes_at_low_and_high_speed_are_those_of_the_law() -> None:
    curve = sheet_figures(job_with(invented_sheet()), 0).of("compression")[0]
    assert curve.low_n_s_per_m.value == pytest.approx(1500.0)
    assert curve.high_n_s_per_m.value == pytest.approx(600.0)


def test_a_click_takes_off_what_the_law_says() -> None:
    of = sheet_figures(job_with(invented_sheet()), 0)
    at_100 = {click.stroke: click.per_click_n.value for click in of.clicks if click.speed_mm_per_s == 100.0}
    assert at_100 == pytest.approx({"compression": 0.0, "rebound": 9.0}, abs=1e-9)  # 3 % of 300 N


def test_the_mean_of_both_strokes_takes_the_gas_out_of_a_damper_that_resists_both_alike() -> None:
    curves = tuple(
        DamperCurve(
            stroke=stroke,
            position=8.0,
            speeds_mm_per_s=(20.0, 100.0),
            forces_n=(GAS_N + way * 40.0, GAS_N + way * 200.0),
        )
        for stroke, way in (("compression", 1.0), ("rebound", -1.0))
    )
    of = sheet_figures(job_with(DamperSheet(gas="mean", curves=curves)), 0)
    assert of.gas_n.value == pytest.approx(GAS_N)
    assert of.gas_n.estimate
    assert [curve.forces_n for curve in of.curves] == [pytest.approx((40.0, 200.0))] * 2


def test_gas_that_is_not_known_stays_in_and_says_why() -> None:
    one_stroke = replace(invented_sheet(), gas="mean", curves=(invented_curve("compression", 8.0),))
    fast = replace(one_stroke, curves=tuple(invented_curve(s, 8.0, (60.0, 200.0)) for s in ("compression", "rebound")))
    for sheet, problem in (
        (one_stroke, "one_stroke"),
        (fast, "not_slow_enough"),
        (replace(one_stroke, gas="shock", damper="front"), "fork_has_no_gas"),
    ):
        of = sheet_figures(job_with(sheet), 0)
        assert (of.gas_n.value, of.gas_n.problem) == (None, problem)
        assert of.curves[0].forces_n[0] == pytest.approx(sheet.curves[0].forces_n[0])
    entered = sheet_figures(job_with(replace(one_stroke, gas="entered", gas_n=None)), 0)
    assert entered.gas_n.needs == (("damper_sheets", 0, "gas_n"),)
    assert sheet_figures(job_with(replace(one_stroke, gas="removed")), 0).gas_n.value == 0.0


def test_a_mean_below_zero_is_not_the_gas_and_the_forces_stay_as_read() -> None:
    """Gas pushes outwards: a mean that pulls says that rebound resists more than compression there, and nothing else."""
    curves = tuple(invented_curve(s, 8.0, (20.0, 200.0), gas=0.0) for s in ("compression", "rebound"))
    of = sheet_figures(job_with(replace(invented_sheet(), gas="mean", curves=curves)), 0)
    assert (of.gas_n.value, of.gas_n.problem) == (None, "mean_below_zero")
    for stroke in ("compression", "rebound"):
        assert of.of(stroke)[0].forces_n[0] == pytest.approx(resisting(stroke, 8.0, 20.0))


@pytest.mark.parametrize(("slowest", "known"), [(20.0, True), (25.0, True), (26.0, False), (50.0, False)])
def test_above_25_mm_per_s_the_mean_of_both_strokes_is_not_taken_out(slowest: float, known: bool) -> None:
    curves = tuple(invented_curve(s, 8.0, (slowest, 200.0)) for s in ("compression", "rebound"))
    of = sheet_figures(job_with(replace(invented_sheet(), gas="mean", curves=curves)), 0)
    assert of.gas_n.known is known


def test_gas_of_the_shock_is_pressure_times_the_area_of_its_shaft() -> None:
    """12 bar on a shaft of 14 mm: 1.2 MPa times 153.94 mm² (own computation)."""
    job = job_with(replace(invented_sheet(), gas="shock"))
    job = replace(job, rear=replace(job.rear, gas_pressure_bar=12.0, shaft_mm=14.0))
    assert sheet_figures(job, 0).gas_n.value == pytest.approx(184.73, abs=0.01)


def with_pressure(bar: float, gas: str) -> Job:
    """A shock of 14 mm shaft, with which 80 N of gas are 5.197 bar (own computation)."""
    curves = tuple(
        DamperCurve(
            stroke=stroke, position=8.0, speeds_mm_per_s=(20.0, 100.0), forces_n=(80.0 + way * 40.0, way * 200.0)
        )
        for stroke, way in (("compression", 1.0), ("rebound", -1.0))
    )
    job = job_with(DamperSheet(gas=gas, damper="rear", gas_n=80.0 if gas == "entered" else None, curves=curves))
    return replace(job, rear=replace(job.rear, gas_pressure_bar=bar, shaft_mm=14.0))


def test_the_gas_by_pressure_stands_beside_that_of_both_strokes_and_what_is_used_is_said() -> None:
    alike = sheet_figures(with_pressure(5.197, "mean"), 0)
    assert alike.gas_n.value == pytest.approx(80.0)
    assert alike.gas_beside is not None
    assert alike.gas_beside.by_pressure
    assert alike.gas_beside.force_n.value == pytest.approx(80.0, abs=0.01)
    assert not alike.gas_beside.contradicts
    assert gas_words(alike, METRIC) == (
        "80 N (estimate: the mean of both strokes at low speed); not used: 80 N by the shock's gas pressure and shaft"
    )
    other = sheet_figures(with_pressure(5.197, "shock"), 0)
    assert not other.gas_n.estimate
    assert gas_words(other, METRIC) == (
        "80 N (by the shock's gas pressure and shaft); not used: 80 N by the mean of both strokes at low speed"
    )


@pytest.mark.parametrize("gas", ["mean", "shock", "entered"])
def test_a_difference_larger_than_both_are_uncertain_is_marked(gas: str) -> None:
    of = sheet_figures(with_pressure(12.0, gas), 0)
    assert of.gas_beside is not None
    assert abs(of.gas_beside.apart_n) == pytest.approx(184.73 - 80.0, abs=0.01)
    assert of.gas_beside.contradicts
    assert "105 N apart, more than their uncertainty explains: check gas pressure, shaft" in gas_words(of, METRIC)


def test_scattered_readings_make_a_small_difference_no_contradiction() -> None:
    """12 bar and the caliper alone: 1.96 × 184.7 N × √(0.01²/3 + (0.2/14)²/3) = 3.64 N (own computation; limits by
    JCGM 100:2008, 4.3.7)."""
    plain = sheet_figures(with_pressure(12.0, "mean"), 0).gas_beside
    assert plain is not None
    assert plain.expanded_n == pytest.approx(3.64, abs=0.01)
    job = with_pressure(5.6, "mean")
    sheet = job.damper_sheets[0]
    assert (beside := sheet_figures(job, 0).gas_beside) is not None
    assert beside.contradicts
    spread = replace(sheet, curves=tuple(replace(one, spreads_n=(12.0, 12.0)) for one in sheet.curves))
    assert (beside := sheet_figures(replace(job, damper_sheets=(spread,)), 0).gas_beside) is not None
    assert not beside.contradicts


def test_without_pressure_or_for_a_fork_nothing_stands_beside() -> None:
    job = with_pressure(12.0, "mean")
    assert sheet_figures(replace(job, rear=replace(job.rear, gas_pressure_bar=None)), 0).gas_beside is None
    fork = replace(job, damper_sheets=(replace(job.damper_sheets[0], damper="front"),))
    assert sheet_figures(fork, 0).gas_beside is None


def test_force_and_damping_with_the_adjuster_where_it_stands() -> None:
    job = job_with(invented_sheet(), rebound=6.0)
    of = latest_sheet(job, "rear")
    assert force_as_set(job, of, "rebound", 100.0).value == pytest.approx(resisting("rebound", 6.0, 100.0))
    assert damping_as_set(job, of, "rebound", 100.0).value == pytest.approx(2460.0)
    for position, speed, problem in ((2.0, 100.0, "position_not_measured"), (6.0, 5.0, "speed_not_measured")):
        other = job_with(invented_sheet(), rebound=position)
        assert force_as_set(other, latest_sheet(other, "rear"), "rebound", speed).problem == problem
    unset = job_with(invented_sheet(), rebound=None)
    assert force_as_set(unset, latest_sheet(unset, "rear"), "rebound", 100.0).needs == (("rear", "rebound", "now"),)
    assert force_as_set(job, None, "rebound", 100.0).problem == "no_damper_sheet"


@given(st.floats(4.0, 12.0), st.floats(0.75, 1.3))
def test_the_position_for_another_force_has_that_force_by_the_law(now: float, factor: float) -> None:
    job = job_with(invented_sheet(), rebound=now)
    found = position_for(job, latest_sheet(job, "rear"), factor, 100.0)
    wanted = factor * resisting("rebound", now, 100.0)
    if resisting("rebound", 12.0, 100.0) <= wanted <= resisting("rebound", 4.0, 100.0):
        assert found.value is not None
        assert resisting("rebound", found.value, 100.0) == pytest.approx(wanted, rel=1e-9)
    elif not resisting("rebound", 12.0, 100.0) - 1e-6 <= wanted <= resisting("rebound", 4.0, 100.0) + 1e-6:
        assert found.problem == "not_in_click_map"


def test_one_position_gives_no_click_map() -> None:
    job = job_with(invented_sheet((8.0,)))
    assert sheet_figures(job, 0).clicks == ()
    assert position_for(job, latest_sheet(job, "rear"), 1.1, 100.0).problem == "one_position"


def test_a_sheet_of_both_legs_stands_for_each_and_the_later_one_counts() -> None:
    fork = replace(invented_sheet(), damper="front")
    job = replace(Job(), front=Front(left=Leg(rebound=Clicker(now=4.0))), rear=Rear())
    job = replace(
        job, damper_sheets=(fork, replace(fork, file="later.csv"), replace(fork, damper="left", file="own.csv"))
    )
    found = {damper: latest_sheet(job, damper) for damper in ("front", "left", "right", "rear")}
    names = {damper: of.sheet.file if of else None for damper, of in found.items()}
    assert names == {"front": "later.csv", "left": "own.csv", "right": "later.csv", "rear": None}


def test_one_sheet_over_another_differs_by_what_the_damper_lost() -> None:
    worn = replace(
        invented_sheet(),
        curves=tuple(
            replace(
                curve, forces_n=tuple(GAS_N + 0.9 * (force - GAS_N) for force in curve.forces_n), spreads_n=(4.0,) * 7
            )
            for curve in invented_sheet().curves
        ),
    )
    fresh = replace(invented_sheet(), curves=tuple(replace(c, spreads_n=(3.0,) * 7) for c in invented_sheet().curves))
    compared = sheets_compared(job_with(fresh, worn), 1)
    assert compared is not None
    before, differences = compared
    assert before == 0
    assert len(differences) == 6 * 6
    for one in differences:
        law = resisting(one.stroke, one.position or 0.0, one.speed_mm_per_s)
        assert one.difference_n == pytest.approx(-0.1 * law)
        assert one.band_n.value == pytest.approx(1.959964 * 5.0)  # spreads of 3 and 4 N
        assert one.beyond == (0.1 * law > 1.959964 * 5.0)
    assert sheets_compared(job_with(fresh, worn), 0) is None


def test_single_readings_give_no_band_and_no_verdict() -> None:
    compared = sheets_compared(job_with(invented_sheet(), invented_sheet(gas=GAS_N)), 1)
    assert compared is not None
    assert {one.band_n.problem for one in compared[1]} == {"single_force_readings"}
    assert not any(one.beyond for one in compared[1])


def test_other_positions_are_not_compared() -> None:
    compared = sheets_compared(job_with(invented_sheet((4.0, 8.0)), invented_sheet((8.0, 12.0))), 1)
    assert compared is not None
    assert {one.position for one in compared[1]} == {8.0}
    other = replace(invented_sheet((4.0, 8.0)), turned="compression")
    assert sheets_compared(job_with(other, invented_sheet((4.0, 8.0))), 1) == (0, ())


def test_a_curve_spoilt_by_hand_is_left_out() -> None:
    curves = (
        DamperCurve(stroke="rebound", speeds_mm_per_s=(10.0, 5.0), forces_n=(1.0, 2.0)),
        DamperCurve(stroke="rebound", speeds_mm_per_s=(10.0,), forces_n=()),
        DamperCurve(stroke="rebound"),
    )
    of = sheet_figures(job_with(DamperSheet(curves=curves)), 0)
    assert (of.curves, of.clicks) == ((), ())
