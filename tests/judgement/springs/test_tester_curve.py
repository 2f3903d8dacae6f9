"""A spring on the tester whose rate changes: no one rate is forced on it, and the curve of its readings is used."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from judgement_jobs import PROFILES, codes, found, judged, put, sag_end
from rates import WEIGHED, known, rising_force
from stanchion.job.model import Coils, Job
from stanchion.job.model import TesterPair as Reading
from stanchion.job.spec import Progressive
from stanchion.judgement.ends.coil_data import coil_data
from stanchion.judgement.results.findings import Severity
from stanchion.planning.on_travel import predicted_curve
from stanchion.planning.spring_choice import choose
from stanchion.ui.form_lines import Row
from stanchion.ui.forms import front as front_form
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import reason, sentence

PRESSED = (15.0, 30.0, 45.0, 60.0, 80.0, 100.0, 120.0)


def pairs(start: float, end: float, free_mm: float = 250.0, *, off_n: float = 0.0) -> tuple[Reading, ...]:
    """What a tester reads, to the newton, of a rate that rises over 120 mm; every other reading is off by so much."""
    return tuple(
        Reading(
            length_mm=free_mm - mm, force_n=round(rising_force(start, end, 120.0, mm)) + (off_n if at % 2 else -off_n)
        )
        for at, mm in enumerate(PRESSED)
    )


def on_tester(readings: tuple[Reading, ...], rate: object = 9.5) -> Job:
    """The fork springs labelled so, and read so on the tester."""
    return put(WEIGHED, front__left__spring__coils=Coils(tester=readings), front__left__spring__rate_n_per_mm=rate)


class TestABend:
    def test_refuses_the_one_rate(self) -> None:
        figures = judged(on_tester(pairs(8.5, 10.5))).springs.left
        assert figures.rate_measured_n_per_mm.problem == "tester_bends"
        assert reason(figures.rate_measured_n_per_mm) == (
            "the tester readings lie on a curve: no single rate fits them"
        )

    @pytest.mark.parametrize("label", [9.5, None, Progressive(6.0, 14.0)])
    def test_the_curve_of_the_readings_is_used_whatever_the_label(self, label: object) -> None:
        """Within what rounding to a newton leaves, as a spring of that curve by its label would be."""
        a = judged(on_tester(pairs(8.5, 10.5), label))
        by_label = judged(put(WEIGHED, front__left__spring__rate_n_per_mm=Progressive(8.5, 10.5)))
        for of in ("static", "rider"):
            one, other = (known(x.predicted.front.state(of).sag_mm.value) for x in (a, by_label))
            assert one == pytest.approx(other, abs=0.15)
        assert not a.predicted.front.rider.sag_mm.estimate
        force_now, expected = a.front.left.preload_force_n.value, by_label.front.left.preload_force_n.value
        assert force_now == pytest.approx(known(expected), rel=0.02)

    def test_the_note_says_so_with_the_rates_there(self) -> None:
        a = judged(on_tester(pairs(8.5, 10.5)))
        said = sentence(found(a, "measured_curve"))
        assert "on the tester the rate goes from 9.04 N/mm to 10.21 N/mm" in said
        assert "at rider sag" in said
        assert "at full travel" not in said

    def test_beyond_the_last_pair_nothing_is_known(self) -> None:
        """The last pair is at 120 mm, full travel presses it by 134 mm: no force and no rate is given there."""
        a = judged(on_tester(pairs(8.5, 10.5)))
        assert (
            reason(a.predicted.front.full_travel.slow_n)
            == "the spring tester's pairs end before that: press the spring further"
        )
        assert known(a.predicted.front.rider.sag_mm.value) > 0.0
        said = found(a, "tester_ends_early")
        assert said.severity is Severity.NOTE
        assert "120.0 mm of compression, but full travel takes the spring to 134.0 mm" in sentence(said)
        curve = predicted_curve(on_tester(pairs(8.5, 10.5)), a, "front", 10)
        assert curve is not None
        assert not curve.whole
        assert curve.points[-1][0] == pytest.approx(106.0)

    def test_a_sag_beyond_the_last_pair_is_not_predicted(self) -> None:
        readings = tuple(
            Reading(length_mm=250.0 - mm, force_n=rising_force(6.0, 14.0, 120.0, mm)) for mm in (8, 16, 24, 32)
        )
        job = on_tester(readings)
        a = judged(job)
        assert (
            reason(a.predicted.front.rider.sag_mm)
            == "the spring tester's pairs end before that: press the spring further"
        )
        assert a.predicted.front.target is None
        said = found(a, "tester_ends_early")
        assert said.severity is Severity.WARNING
        assert "the load with the rider takes the spring further" in sentence(said)
        measured = judged(put(job, sag__front=sag_end(18.0, 35.0)))
        assert "rider sag takes the spring to 49.0 mm" in sentence(found(measured, "tester_ends_early"))

    def test_pairs_that_reach_full_travel_leave_no_doubt(self) -> None:
        readings = tuple(
            Reading(length_mm=250.0 - mm, force_n=rising_force(8.5, 10.5, 140.0, mm)) for mm in range(20, 141, 20)
        )
        a = judged(on_tester(readings))
        assert a.predicted.front.full_travel.slow_n.known
        assert "tester_ends_early" not in codes(a)

    def test_a_rate_that_falls_is_a_curve_too(self) -> None:
        readings = tuple(Reading(length_mm=250.0 - mm, force_n=10.5 * mm - 0.01 * mm * mm) for mm in PRESSED)
        assert found(judged(on_tester(readings)), "measured_curve").values["last"] < 9.0  # type: ignore[operator]

    def test_without_a_free_length_it_is_asked_for(self) -> None:
        a = judged(put(on_tester(pairs(8.5, 10.5)), front__left__spring__free_length_mm=None))
        assert ("front", "left", "spring", "free_length_mm") in a.front.left.preload_force_n.needs

    def test_the_choice_of_springs_goes_by_it(self) -> None:
        job = on_tester(pairs(8.5, 10.5))
        a = judged(job)
        choice = choose(job, a, PROFILES, "front")
        fitted = next(one for one in choice.options if one.fitted_now)
        sag = known(a.predicted.front.rider.sag_mm.value)
        assert known(fitted.fully_in.rider_mm.value) - 1e-6 <= sag <= known(fitted.out.rider_mm.value) + 1e-6


class TestNoBend:
    @pytest.mark.parametrize(
        "readings",
        [
            pairs(9.5, 9.5),
            pairs(9.4, 9.6),  # under 5 %
            pairs(9.2, 9.8, off_n=30.0),  # lost in the scatter
            pairs(8.5, 10.5)[:3],  # three readings do not tell
        ],
        ids=["a line", "hardly", "scattered", "three"],
    )
    def test_keeps_the_one_rate(self, readings: tuple[Reading, ...]) -> None:
        a = judged(on_tester(readings))
        assert a.springs.left.rate_measured_n_per_mm.known
        assert "measured_curve" not in codes(a)
        assert a.front.mean_rate_n_per_mm.value == 9.5

    def test_readings_that_cannot_be_right_leave_the_label(self) -> None:
        """Longer than the free length."""
        a = judged(put(on_tester(pairs(8.5, 10.5, 300.0)), front__left__spring__free_length_mm=250.0))
        assert a.front.mean_rate_n_per_mm.value == 9.5


class TestOnePairOff:
    """A pair is questioned by its number, on a line and on a curve alike."""

    @pytest.mark.parametrize(("start", "end"), [(9.5, 9.5), (8.5, 10.5)])
    def test_is_questioned_by_its_number(self, start: float, end: float) -> None:
        readings = list(pairs(start, end))
        readings[3] = replace(readings[3], force_n=known(readings[3].force_n) + 60.0)
        finding = found(judged(on_tester(tuple(readings))), "tester_pair_off")
        assert "pair 4 of the spring tester is" in sentence(finding)
        assert finding.where == ("front", "left", "spring", "coils", "tester", 3, "force_n")

    def test_two_of_them_are_questioned_each_by_its_number(self) -> None:
        lengths = [250.0 - 8.0 * n for n in range(1, 14)]
        readings = [Reading(length_mm=mm, force_n=9.5 * (250.0 - mm)) for mm in lengths]
        for at, off_n in ((2, 60.0), (9, -90.0)):
            readings[at] = replace(readings[at], force_n=known(readings[at].force_n) + off_n)
        said = [
            one.values["number"] for one in judged(on_tester(tuple(readings))).findings if one.code == "tester_pair_off"
        ]
        assert sorted(said, key=str) == [10, 3]

    def test_every_reading_is_shown_with_what_it_is_off_the_line(self) -> None:
        """Against numpy's line; beside each pair on the sheet."""
        forces = [190.0, 385.0, 560.0, 770.0]
        readings = tuple(Reading(length_mm=250.0 - 20.0 * (n + 1), force_n=f) for n, f in enumerate(forces))
        job = on_tester(readings)
        x = [20.0, 40.0, 60.0, 80.0]
        off = [f - float(np.polyval(np.polyfit(x, forces, 1), mm)) for f, mm in zip(forces, x, strict=True)]
        at = ("front", "left", "spring", "coils")
        assert [n for _, n in coil_data(job.front.left.spring.coils, at).off_line] == pytest.approx(off)
        labels = [
            line.label for line in front_form(job, METRIC) if isinstance(line, Row) and line.label.startswith("Pair")
        ]
        assert labels == [
            "Pair 1  +1 N off",
            "Pair 2  +4 N off",
            "Pair 3  \u221212 N off",
            "Pair 4  +6 N off",
            "Pair 5",
        ]

    @pytest.mark.parametrize(
        "readings",
        [pairs(9.5, 9.5), pairs(8.5, 10.5), pairs(9.5, 9.5, off_n=30.0), pairs(8.5, 10.5)[:5]],
        ids=["line", "curve", "scattered", "few"],
    )
    def test_is_not_said_of_readings_as_they_come(self, readings: tuple[Reading, ...]) -> None:
        assert "tester_pair_off" not in codes(judged(on_tester(readings)))
