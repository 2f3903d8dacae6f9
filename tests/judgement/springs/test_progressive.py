"""A progressive spring by its label: every figure goes by its curve, and one whose rates hardly differ is one rate."""

from __future__ import annotations

import datetime as dt

import pytest
from scipy.optimize import brentq

from judgement_jobs import PAIRS, PROFILES, codes, found, judged, put, repeated, sag_end, split
from rates import WEIGHED, known, rising_force
from stanchion.job.carry import carried
from stanchion.job.codec import dumps, loads
from stanchion.job.model import Coils, Readings, TopOut
from stanchion.job.spec import Progressive
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.springs.stock import Stock, StockSpring, exchanged
from stanchion.mechanics.limits import G_N
from stanchion.planning.spring_choice import choose
from stanchion.planning.spring_edits import as_edits
from stanchion.planning.whatif import compare
from stanchion.report.check import as_text
from stanchion.wording.finding_words import reason, sentence

FORK = ("front__left__spring__rate_n_per_mm", Progressive(8.5, 10.5))
SHOCK = ("rear__spring__rate_n_per_mm", Progressive(85.0, 115.0))
ONE = put(WEIGHED, **dict([FORK]))
BOTH = put(WEIGHED, **dict((FORK, SHOCK)))


class TestFigures:
    """14 mm of preload in the fork (12 installed, 2 from the adjuster), 15 mm in the shock."""

    def test_preload_force_is_that_of_the_curve(self) -> None:
        a = judged(BOTH)
        now = known(a.front.left.preload_now_mm.value)
        assert a.front.left.preload_force_n.value == pytest.approx(rising_force(8.5, 10.5, 120.0, now))
        assert a.front.left.preload_force_n.estimate
        shock = known(a.rear.spring.preload_now_mm.value)
        assert a.rear.spring.preload_force_n.value == pytest.approx(rising_force(85.0, 115.0, 60.0, shock))

    def test_predicted_sag_balances_the_curve_with_the_load(self) -> None:
        """Two legs under 95 kg of sprung weight, by Brent's method of scipy."""
        a = judged(BOTH)
        now = known(a.front.left.preload_now_mm.value)
        load = 95.0 * G_N
        by_scipy = brentq(lambda x: 2 * rising_force(8.5, 10.5, 120.0, now + x) - load, 0.0, 120.0)
        assert a.predicted.front.rider.sag_mm.value == pytest.approx(by_scipy, abs=1e-6)
        assert a.predicted.front.rider.sag_mm.estimate

    def test_full_travel_and_wheel_rate_go_by_the_curve(self) -> None:
        a = judged(BOTH)
        now = known(a.front.left.preload_now_mm.value)
        full = 2 * rising_force(8.5, 10.5, 120.0, now + 120.0)
        assert a.predicted.front.full_travel.slow_n.value == pytest.approx(full)
        assert a.predicted.front.full_travel.slow_n.estimate
        squeezed = known(a.rear.spring.preload_now_mm.value) + 0.4 * a.rear.at_travel_mm
        rate = 85.0 + 30.0 * min(squeezed, 60.0) / 60.0
        assert a.rear.wheel_rate_n_per_mm.value == pytest.approx(rate * 0.4**2)

    def test_wheel_rate_of_a_linkage_adds_the_force_times_the_change_of_ratio(self) -> None:
        """By a difference of the force at the wheel, as loads balance it: dF = k dz."""
        job = put(BOTH, rear__linkage=PAIRS, rear__motion_ratio=None)
        a = judged(job)
        here, rate = known(a.predicted.rear.rider.travel_mm.value), known(a.rear.wheel_rate_n_per_mm.value)
        heavier = judged(put(job, weights__rear_aboard_kg=150.2))
        moved = known(heavier.predicted.rear.rider.travel_mm.value) - here
        assert 0.2 * G_N / moved == pytest.approx(rate, rel=2e-2)

    def test_the_working_rate_is_compared_with_the_chord_between_both_sags(self) -> None:
        readings = {"static": Readings(down_mm=(575.0,), up_mm=(575.0,)), "rider": Readings(down_mm=(560.0,))}
        job = put(BOTH, sag__front__hanging_mm=(600.0,), **{f"sag__front__{k}": v for k, v in readings.items()})
        a = judged(job)
        now = known(a.front.left.preload_now_mm.value)
        low, high = (known(of.sag_mm.value) for of in (a.sag.front.static, a.sag.front.rider))
        chord = (
            2 * (rising_force(8.5, 10.5, 120.0, now + high) - rising_force(8.5, 10.5, 120.0, now + low)) / (high - low)
        )
        assert a.predicted.front.working_rate.predicted_n_per_mm.value == pytest.approx(chord)

    def test_the_combined_rate_says_why_it_is_not_one_number(self) -> None:
        assert reason(judged(BOTH).front.rate_n_per_mm) == "it changes over the travel"

    def test_advice_given_turns_brings_the_sag_to_the_target(self) -> None:
        job = put(BOTH, weights__rear_aboard_kg=125.0, rear__collar__now=1.0)
        before = judged(job)
        turns = known(before.predicted.rear.turns_for_target.value)
        assert turns > 1.0
        after = judged(put(job, rear__collar__now=1.0 + turns))
        targets = (after.sag.rear.static.target or (0.0, 0.0), after.sag.rear.rider.target or (0.0, 0.0))
        sags = (after.predicted.rear.static.sag_mm.value, after.predicted.rear.rider.sag_mm.value)
        assert all(low <= known(sag) <= high for sag, (low, high) in zip(sags, targets, strict=True))

    def test_springs_whose_two_rates_hardly_differ_judge_as_one_rate(self) -> None:
        near = put(
            WEIGHED,
            front__left__spring__rate_n_per_mm=Progressive(9.5, 9.5000001),
            rear__spring__rate_n_per_mm=Progressive(95.0, 95.000001),
        )
        one, other = judged(WEIGHED), judged(near)
        for end in ("front", "rear"):
            a, b = (known(x.predicted.end(end).rider.sag_mm.value) for x in (one, other))
            assert a == pytest.approx(b, abs=1e-5)
            full = [known(x.predicted.end(end).full_travel.slow_n.value) for x in (one, other)]
            assert full[0] == pytest.approx(full[1])
        assert known(one.rear.wheel_rate_n_per_mm.value) == pytest.approx(known(other.rear.wheel_rate_n_per_mm.value))

    def test_a_length_read_against_a_top_out_spring_is_converted_by_the_force_there(self) -> None:
        """x = xt - F(squeezed) / kt."""
        job = put(
            BOTH,
            front__top_out=TopOut(fitted="yes", rate_n_per_mm=30.0, works_over_mm=20.0),
            front__left__read_at="assembled",
        )
        assert judged(job).front.left.read_at_mm == pytest.approx(20.0 - rising_force(8.5, 10.5, 120.0, 12.0) / 30.0)

    def test_coil_bind_stays_as_it_was(self) -> None:
        coils = Coils(wire_mm=4.5, outer_mm=42.5, total_coils=22.0, solid_length_mm=110.0)
        job = put(WEIGHED, front__left__spring__coils=coils)
        one = judged(job).springs.left.coil_bind_clearance_mm
        assert judged(put(job, **dict([FORK]))).springs.left.coil_bind_clearance_mm == one


class TestOverWhichStroke:
    """From the free to the solid length; where that is not known, over full travel; else what is missing is named."""

    def test_the_solid_length_counts_where_it_is_known(self) -> None:
        coils = Coils(solid_length_mm=110.0)
        finding = found(judged(put(ONE, front__left__spring__coils=coils)), "progressive_spring")
        assert finding.values["over_mm"] == 140.0

    def test_without_it_full_travel_is_taken(self) -> None:
        assert found(judged(ONE), "progressive_spring").values["over_mm"] == 120.0

    def test_without_either_the_travel_is_asked_for(self) -> None:
        a = judged(put(BOTH, front__travel_mm=None))
        assert ("front", "travel_mm") in a.front.left.preload_force_n.needs
        assert not a.predicted.front.rider.sag_mm.known


class TestWhatIsSaid:
    """A note of each progressive spring, with its rate at the sags and at full travel."""

    def test_the_note_names_the_rates_and_that_they_are_an_estimate(self) -> None:
        a = judged(BOTH)
        said = [sentence(finding) for finding in a.findings if finding.code == "progressive_spring"]
        now, rider = known(a.front.left.preload_now_mm.value), known(a.predicted.front.rider.travel_mm.value)
        assert len(said) == 2
        assert "from 8.50 N/mm to 10.50 N/mm over 120.0 mm, an estimate" in said[0]
        assert f"{8.5 + 2.0 * (now + rider) / 120.0:.2f} N/mm at rider sag" in said[0]
        assert "10.50 N/mm at full travel" in said[0]
        assert said[1].startswith("Shock")

    def test_a_spring_of_one_rate_has_no_such_note(self) -> None:
        assert "progressive_spring" not in codes(judged(WEIGHED))

    def test_legs_that_differ_have_one_each(self) -> None:
        job = put(split(BOTH), front__right__spring__rate_n_per_mm=9.5)
        notes = [f for f in judged(job).findings if f.code == "progressive_spring"]
        assert [note.where[:2] for note in notes] == [("front", "left"), ("rear", "spring")]

    def test_a_label_out_of_the_usual_range_is_questioned(self) -> None:
        assert "implausible" in codes(judged(put(WEIGHED, front__left__spring__rate_n_per_mm=Progressive(8.5, 105.0))))

    def test_check_shows_it(self) -> None:
        said = " ".join(as_text("it.toml", BOTH, judged(BOTH)).split())
        assert "evenly from 8.50 N/mm to 10.50 N/mm over 120.0 mm, an estimate" in said


class TestWhatIsDoneWithIt:
    """Kept in the file, carried on, compared, tried, exchanged with the stock."""

    def test_a_file_keeps_both_rates(self) -> None:
        assert loads(dumps(BOTH)).job == BOTH
        assert b"format = 2" in dumps(BOTH)

    def test_sag_read_with_it_is_old_once_another_spring_is_in(self) -> None:
        """What was fitted is noted as both rates, and can be restored."""
        noted = put(
            BOTH,
            sag__front__hanging_mm=(600.0,),
            sag__front__rider=Readings(
                down_mm=(560.0,), up_mm=(560.0,), rates_n_per_mm=(Progressive(8.5, 10.5),) * 2, preload_at=(4.0, 4.0)
            ),
        )
        assert not judged(noted).sag.front.rider.changed
        other = put(noted, front__left__spring__rate_n_per_mm=9.5)
        assert judged(other).sag.front.rider.changed

    def test_the_next_occasion_has_it_too(self) -> None:
        assert carried(BOTH, "it.toml", dt.date(2026, 6, 1)).rear.spring == BOTH.rear.spring

    def test_what_if_compares_it_with_one_rate(self) -> None:
        seen = compare(BOTH, put(BOTH, front__left__spring__rate_n_per_mm=9.0), PROFILES)
        (rider,) = [row for row in seen.rows if row.where == ("front",) and row.code == "rider_predicted"]
        assert rider.present.known
        assert rider.changed.known
        assert rider.present.value != rider.changed.value

    @pytest.mark.parametrize("end", ["front", "rear"])
    def test_the_choice_of_springs_lists_it_by_the_sags_it_gives(self, end: str) -> None:
        a: Assessment = judged(BOTH)
        choice = choose(BOTH, a, PROFILES, end)  # type: ignore[arg-type]
        (fitted, *_) = [option for option in choice.options if option.fitted_now]
        assert isinstance(fitted.fittings[0].spring.rate_n_per_mm, Progressive)
        predicted = a.predicted.end(end).rider.sag_mm.value  # type: ignore[arg-type]
        at_present = choice.options[0]
        assert at_present.best.rider_mm.known
        assert (
            known(fitted.fully_in.rider_mm.value) - 1e-6 <= known(predicted) <= known(fitted.out.rider_mm.value) + 1e-6
        )

    def test_one_from_the_stock_is_put_in_with_both_its_rates(self) -> None:
        stock = Stock((StockSpring(rate_n_per_mm=Progressive(7.0, 9.0), count=2, free_length_mm=250.0),))
        choice = choose(WEIGHED, judged(WEIGHED), PROFILES, "front", stock)
        option = next(one for one in choice.options if one.used)
        edits = {edit.path: edit.value for edit in as_edits(option, WEIGHED)}
        assert edits["front", "left", "spring", "rate_n_per_mm"] == Progressive(7.0, 9.0)
        after = exchanged(stock, (0, 0), (StockSpring(rate_n_per_mm=Progressive(8.5, 10.5)),))
        assert [row.count for row in after.rows] == [0, 1]


class TestTheRowOfTheSpringsFitted:
    """A fork with a progressive spring of 8.5 to 10.5 N/mm and both sags measured, static sag below its target."""

    JOB = put(
        ONE,
        front__left__adjuster__now=8.0,
        sag__front=repeated(sag_end(13.0, 34.0)),
    )

    def test_until_travel_is_known_no_rate_is_named(self) -> None:
        """Its curve is unknown, so the sags measured with it correct no load, and its row gave more sag with more
        preload."""
        job = put(self.JOB, front__travel_mm=None)
        choice = choose(job, judged(job), PROFILES, "front")
        assert ("front", "travel_mm") in choice.needed_n_per_mm.needs
        assert choice.options == ()

    def test_that_of_a_shock_asks_for_its_stroke(self) -> None:
        job = put(BOTH, rear__stroke_mm=None, sag__rear=repeated(sag_end(6.0, 25.0)))
        assert ("rear", "stroke_mm") in choose(job, judged(job), PROFILES, "rear").needed_n_per_mm.needs

    def test_it_is_judged_as_the_advice_judges_its_sags(self) -> None:
        assessment = judged(self.JOB)
        advice = assessment.sag.front.advice
        assert advice is not None
        assert advice.code == "less_preload"
        [now] = [one for one in choose(self.JOB, assessment, PROFILES, "front").options if one.fitted_now]
        assert now.stands is not None
        assert now.stands.sags.static_mm.value == pytest.approx(13.0)
        assert now.verdict == "turn_out"

    def test_more_preload_never_gives_it_more_sag(self) -> None:
        [now] = [o for o in choose(self.JOB, judged(self.JOB), PROFILES, "front").options if o.fitted_now]
        for sags in zip((now.out, now.mid), (now.mid, now.fully_in), strict=True):
            less, more = (known(one.static_mm.value) for one in sags)
            assert more < less
