"""Tyre pressure from cold to hot: absolute pressure over absolute temperature of the air inside is constant."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from judgement_jobs import FULL, codes, found, judged, put
from stanchion.job.model import ENDS, Job, Run
from stanchion.judgement.results.findings import Severity
from stanchion.judgement.results.ridden import TyreFigures
from stanchion.judgement.track.tyres import cold_pressures, cold_to_set_at, tyre_figures
from stanchion.mechanics.gas import cold_tyre_pressure, tyre_pressure_at
from stanchion.wording.finding_words import sentence

AMBIENT = 1.01325  # bar; standard atmosphere, NIST SP 811, App. B.8


def ran(wanted_bar: float | None = None, **readings: Any) -> Job:
    """The machine after one run with these readings, and a hot pressure wanted at the front."""
    return replace(put(FULL, upkeep__front_wanted_bar=wanted_bar), runs=(replace(Run(time="10:20"), **readings),))


def front(job: Job) -> TyreFigures:
    return tyre_figures(job, 0, "front")


def test_the_hot_pressure_follows_from_the_cold_one_and_both_temperatures() -> None:
    """(2.1 + 1.01325) · 343.15 / 293.15 - 1.01325, worked by hand."""
    job = ran(front_cold_bar=2.1, front_cold_c=20.0, front_hot_c=70.0)
    assert front(job).expected_hot_bar.value == pytest.approx(2.63100, abs=1e-4)
    assert not front(job).expected_hot_bar.estimate


def test_a_cold_tyre_is_as_warm_as_the_air_where_nobody_measured_it() -> None:
    job = ran(front_cold_bar=2.1, air_c=20.0, front_hot_c=70.0)
    assert front(job).expected_hot_bar.value == pytest.approx(2.63100, abs=1e-4)
    assert front(job).expected_hot_bar.estimate


def test_the_cold_pressure_for_a_wanted_hot_one_goes_by_the_readings_before_the_temperatures() -> None:
    """(2.3 + 1.01325) · (2.1 + 1.01325) / (2.45 + 1.01325) - 1.01325, worked by hand."""
    job = ran(2.3, front_cold_bar=2.1, front_hot_bar=2.45, front_cold_c=20.0, front_hot_c=99.0)
    assert front(job).cold_to_set_bar.value == pytest.approx(1.96516, abs=1e-4)
    assert front(job).hot_less_wanted_bar.value == pytest.approx(0.15)


def test_without_both_pressures_the_temperatures_give_it() -> None:
    job = ran(2.63100, front_cold_c=20.0, front_hot_c=70.0)
    assert front(job).cold_to_set_bar.value == pytest.approx(2.1, abs=1e-4)


def test_what_is_missing_is_named() -> None:
    assert front(ran(front_cold_bar=2.1, front_hot_bar=2.4)).cold_to_set_bar.needs == (("upkeep", "front_wanted_bar"),)
    assert front(ran(2.3)).cold_to_set_bar.needs == (("runs", 0, "front_cold_bar"), ("runs", 0, "front_hot_bar"))


def test_on_a_colder_morning_less_is_to_be_set() -> None:
    job = ran(2.3, front_cold_bar=2.1, front_hot_bar=2.45, front_cold_c=25.0)
    same = cold_to_set_at(job, 0, "front", 25.0).value
    colder = cold_to_set_at(job, 0, "front", 10.0).value
    assert same == pytest.approx(1.96516, abs=1e-4)
    assert colder is not None
    assert (colder + AMBIENT) / (1.96516 + AMBIENT) == pytest.approx(283.15 / 298.15, abs=1e-4)


bars = st.floats(0.5, 3.0)
celsius = st.floats(-10.0, 120.0)


@settings(deadline=None)
@given(bars, celsius, celsius)
def test_the_cold_pressure_that_is_told_gives_the_hot_one_that_is_wanted(
    wanted: float, cold: float, hot: float
) -> None:
    """Both ways to it agree, and heating what they give leads to what was wanted."""
    by_temperature = tyre_pressure_at(wanted, hot, cold)
    before = 2.0
    by_readings = cold_tyre_pressure(wanted, before, tyre_pressure_at(before, cold, hot)) if hot > cold else None
    if by_readings is not None:
        assert by_readings == pytest.approx(by_temperature, abs=1e-9)
    if by_temperature >= 0:
        assert tyre_pressure_at(by_temperature, cold, hot) == pytest.approx(wanted, abs=1e-9)


@pytest.mark.parametrize(
    ("cold_c", "hot_c", "cold_bar", "hot_bar"),
    [(20.0, 70.0, 2.1, 2.63495), (10.0, 90.0, 1.5, 2.21464), (-5.0, 100.0, 2.5, 3.88958)],
)
def test_real_air_is_within_a_hundredth_of_a_bar_or_so_of_the_gas_law(
    cold_c: float, hot_c: float, cold_bar: float, hot_bar: float
) -> None:
    """Air of one density by the equation of state of Lemmon et al. (2000), J. Phys. Chem. Ref. Data 29(3), worked out
    with CoolProp 8.0.0 from absolute pressures; a computation of ours with their program, not a published table."""
    assert tyre_pressure_at(cold_bar, cold_c, hot_c) == pytest.approx(hot_bar, abs=0.015)


@pytest.mark.parametrize(("ambient_bar", "heated", "turned_colder"), [(0.95461, 0.010, 0.002), (0.84556, 0.029, 0.006)])
def test_what_sea_level_air_makes_wrong_higher_up(ambient_bar: float, heated: float, turned_colder: float) -> None:
    """Ambient at 500 m and 1500 m, ISO 2533:1975 (values from memory); DEVELOPERS.md tells the same errors."""
    wrong = tyre_pressure_at(2.1, 20.0, 70.0) - tyre_pressure_at(2.1, 20.0, 70.0, ambient_bar)
    assert wrong == pytest.approx(heated, abs=0.0005)
    wrong = tyre_pressure_at(1.97, 20.0, 10.0, ambient_bar) - tyre_pressure_at(1.97, 20.0, 10.0)
    assert wrong == pytest.approx(turned_colder, abs=0.0005)
    wrong = cold_tyre_pressure(2.3, 2.1, 2.45, ambient_bar) - cold_tyre_pressure(2.3, 2.1, 2.45)
    assert abs(wrong) < 0.001


class TestToSet:
    def test_without_a_wanted_pressure_or_a_run_that_tells_there_is_none(self) -> None:
        assert cold_pressures(ran(front_cold_bar=2.1, front_hot_bar=2.45), 0) is None
        assert cold_pressures(ran(2.3, front_cold_bar=2.1), 0) is None

    def test_a_run_not_yet_ridden_goes_by_the_latest_that_tells_and_its_own_air(self) -> None:
        job = ran(2.3, front_cold_bar=2.1, front_hot_bar=2.45, front_cold_c=25.0)
        job = replace(job, runs=(*job.runs, Run(time="11:00"), Run(time="12:00", air_c=10.0)))
        pressures = cold_pressures(job, 2)
        assert pressures is not None
        assert pressures.by == 0
        then, now, *supposed = pressures.rows
        assert (then.cold_c, now.cold_c, now.recorded) == (None, 10.0, True)
        assert then.front_bar.value == pytest.approx(1.96516, abs=1e-4)
        assert now.front_bar.value == cold_to_set_at(job, 0, "front", 10.0).value
        assert [row.cold_c for row in supposed] == [15, 20, 25, 30, 35]
        assert supposed[2].front_bar.value == pytest.approx(1.96516, abs=1e-4)
        assert not then.end("rear").known

    def test_of_two_runs_that_tell_the_later_one_is_gone_by(self) -> None:
        first = Run(time="10:20", front_cold_bar=2.1, front_hot_bar=2.45, air_c=20.0)
        job = replace(
            put(FULL, upkeep__front_wanted_bar=2.3), runs=(first, first, Run(time="11:00"), Run(time="12:00"))
        )
        pressures = cold_pressures(job, 3)
        assert pressures is not None
        assert pressures.by == 1

    def test_the_run_itself_needs_no_row_of_its_own_air_and_what_is_supposed_is_marked(self) -> None:
        pressures = cold_pressures(ran(2.3, front_cold_bar=2.1, front_hot_bar=2.45, front_cold_c=25.0), 0)
        assert pressures is not None
        assert [(row.cold_c, row.recorded) for row in pressures.rows] == [
            (None, True),
            *((celsius, False) for celsius in (15, 20, 25, 30, 35)),
        ]

    def test_the_rear_is_told_beside_the_front(self) -> None:
        job = ran(2.3, front_cold_bar=2.1, front_hot_bar=2.45, rear_cold_bar=1.7, rear_hot_bar=2.0, air_c=20.0)
        pressures = cold_pressures(put(job, upkeep__rear_wanted_bar=1.9), 0)
        assert pressures is not None
        # (1.9 + 1.01325) (1.7 + 1.01325) / (2.0 + 1.01325) - 1.01325, worked by hand
        assert pressures.rows[0].end("rear").value == pytest.approx(1.60998, abs=1e-4)
        assert pressures.rows[0].end("front").value == pytest.approx(1.96516, abs=1e-4)
        assert all(row.end("rear").known for row in pressures.rows)

    def test_each_tyre_goes_by_its_own_temperature_and_one_read_alone_stands_for_both(self) -> None:
        job = ran(2.3, front_cold_bar=2.1, front_hot_bar=2.45, rear_cold_bar=1.7, rear_hot_bar=2.0, air_c=20.0)
        job = put(job, upkeep__rear_wanted_bar=1.9)
        both = replace(job, runs=(*job.runs, Run(time="11:00", front_cold_c=10.0, rear_cold_c=30.0)))
        pressures = cold_pressures(both, 1)
        assert pressures is not None
        now = pressures.rows[1]
        assert (now.cold_c, now.rear_cold_c) == (10.0, 30.0)
        # (1.96516 + 1.01325) 283.15 / 293.15 - 1.01325; (1.60998 + 1.01325) 303.15 / 293.15 - 1.01325, worked by hand
        assert now.front_bar.value == pytest.approx(1.86356, abs=1e-4)
        assert now.rear_bar.value == pytest.approx(1.69947, abs=1e-4)
        alone = cold_pressures(replace(job, runs=(*job.runs, Run(time="11:00", rear_cold_c=30.0))), 1)
        assert alone is not None
        assert (alone.rows[1].cold_c, alone.rows[1].rear_cold_c) == (30.0, 30.0)

    def test_without_any_temperature_only_the_same_can_be_told(self) -> None:
        pressures = cold_pressures(ran(2.3, front_cold_bar=2.1, front_hot_bar=2.45), 0)
        assert pressures is not None
        assert len(pressures.rows) == 1


class TestWhatIsSaid:
    def test_a_hot_pressure_off_what_is_wanted_comes_with_the_cold_one_to_set(self) -> None:
        finding = found(judged(ran(2.3, front_cold_bar=2.1, front_hot_bar=2.45)), "tyre_hot_off")
        assert finding.severity is Severity.NOTE
        assert sentence(finding) == (
            "Run: front tyre, hot: 2.45 bar hot, 2.30 bar wanted: set 1.97 bar cold at the same temperatures."
        )

    def test_a_tyre_that_lost_pressure_is_told_with_both_readings_at_the_hot_one(self) -> None:
        finding = found(judged(ran(front_cold_bar=2.4, front_hot_bar=2.1)), "tyre_hot_below_cold")
        assert finding.where == ("runs", 0, "front_hot_bar")
        assert finding.values == {"cold_bar": 2.4, "hot_bar": 2.1}

    def test_a_temperature_that_is_missing_is_named_with_its_run(self) -> None:
        job = replace(ran(), runs=(Run(time="09:00"), Run(time="10:20", front_cold_bar=2.1)))
        needs = tyre_figures(job, 1, "front").expected_hot_bar.needs
        assert ("runs", 1, "front_hot_c") in needs
        assert all(need[:2] == ("runs", 1) for need in needs)

    def test_within_reading_nothing_is_said(self) -> None:
        assert "tyre_hot_off" not in codes(judged(ran(2.3, front_cold_bar=2.0, front_hot_bar=2.34)))

    def test_a_tyre_that_lost_pressure_when_it_grew_hot_was_read_wrong_or_leaks(self) -> None:
        assert "tyre_hot_below_cold" in codes(judged(ran(front_cold_bar=2.4, front_hot_bar=2.1)))
        assert "tyre_hot_below_cold" not in codes(judged(ran(front_cold_bar=2.1, front_hot_bar=2.1)))

    def test_the_latest_run_alone_is_spoken_of(self) -> None:
        job = ran(front_cold_bar=2.4, front_hot_bar=2.1)
        later = replace(job, runs=(*job.runs, Run(time="11:05")))
        assert "tyre_hot_below_cold" not in codes(judged(later))


def test_every_run_has_figures_for_both_tyres() -> None:
    run = judged(ran(front_cold_bar=2.1)).run
    assert run is not None
    assert all(not run.tyre(end).expected_hot_bar.known for end in ENDS)
