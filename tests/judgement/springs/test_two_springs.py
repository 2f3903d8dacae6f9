"""Two springs in one place: every figure goes by both, and where they change over is said against the sags."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import cast

import pytest
from scipy.optimize import brentq

from judgement_jobs import PROFILES, codes, found, judged, put, sag_end, split
from rates import WEIGHED, known
from stanchion.job.as_read import as_read
from stanchion.job.carry import carried
from stanchion.job.codec import dumps, loads
from stanchion.job.measured import changes_since_read, noted
from stanchion.job.model import Adjuster, Coils, Job, Readings, SecondSpring, Setup
from stanchion.job.spec import Progressive
from stanchion.judgement.work.work_items import items_between
from stanchion.mechanics.limits import G_N
from stanchion.planning.on_travel import on_travel, predicted_curve
from stanchion.planning.spring_choice import choose
from stanchion.planning.spring_edits import as_edits
from stanchion.report.check import as_text
from stanchion.report.sheet_tables import spring_table
from stanchion.ui.form_lines import Form, Row
from stanchion.ui.forms import front, rear, trial
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import reason, sentence
from stanchion.wording.work_sentences import item_words

ON_TOP = SecondSpring(arranged="end_to_end", rate_n_per_mm=30.0, stop_mm=10.0)
"""On the fork's 9.5 N/mm: the softer is the main spring, which a stop takes after 10 mm: 95 N at 13.17 mm of both."""
BESIDE = SecondSpring(arranged="side_by_side", rate_n_per_mm=4.0, gap_mm=60.0)
FORK = put(WEIGHED, front__left__spring__second=BESIDE)
SHOCK = put(WEIGHED, rear__spring__second=SecondSpring(arranged="side_by_side", rate_n_per_mm=30.0, gap_mm=25.0))


def by_hand(squeezed: float, rate: float = 9.5, second: float = 4.0, gap: float = 60.0) -> float:
    return rate * max(0.0, squeezed) + second * max(0.0, squeezed - gap)


class TestFigures:
    def test_sag_force_at_full_travel_and_rates_go_by_both(self) -> None:
        """Two legs under 95 kg, by Brent's method of scipy."""
        heavy = put(FORK, front__left__spring__second__gap_mm=30.0)
        a = judged(heavy)
        rate = known(
            heavy.front.left.spring.rate_n_per_mm if isinstance(heavy.front.left.spring.rate_n_per_mm, float) else None
        )
        now = known(a.front.left.preload_now_mm.value)
        load = 95.0 * G_N
        by_scipy = brentq(lambda x: 2 * by_hand(now + x, rate, gap=30.0) - load, 0.0, 120.0)
        assert by_scipy > 30.0 - now
        assert a.predicted.front.rider.sag_mm.value == pytest.approx(by_scipy, abs=1e-6)
        assert not a.predicted.front.rider.sag_mm.estimate
        assert a.predicted.front.full_travel.slow_n.value == pytest.approx(2 * by_hand(now + 120.0, rate, gap=30.0))
        assert reason(a.front.rate_n_per_mm) == "it changes over the travel"

    def test_a_gap_that_is_never_closed_is_one_spring(self) -> None:
        alone, beside = judged(WEIGHED), judged(put(FORK, front__left__spring__second__gap_mm=500.0))
        for end in ("front", "rear"):
            for state in ("static", "rider"):
                one, other = alone.predicted.end(end).state(state), beside.predicted.end(end).state(state)
                assert one.sag_mm.value == pytest.approx(other.sag_mm.value, abs=1e-6)
        assert alone.predicted.front.full_travel.slow_n.value == beside.predicted.front.full_travel.slow_n.value

    def test_each_leg_has_its_own(self) -> None:
        left_only = put(split(WEIGHED), front__left__spring__second=BESIDE)
        a = judged(left_only)
        both, none = judged(FORK), judged(WEIGHED)
        forces = [known(one.predicted.front.full_travel.slow_n.value) for one in (none, a, both)]
        assert forces[1] == pytest.approx((forces[0] + forces[2]) / 2.0)
        assert [one.place for one in a.change_overs] == ["left"]

    def test_wheel_rate_at_the_shock(self) -> None:
        a = judged(SHOCK)
        squeezed = known(a.rear.spring.preload_now_mm.value) + 0.4 * a.rear.at_travel_mm
        rate = SHOCK.rear.spring.rate_n_per_mm
        assert isinstance(rate, float)
        assert a.rear.wheel_rate_n_per_mm.value == pytest.approx((rate + (30.0 if squeezed > 25.0 else 0.0)) * 0.16)

    @pytest.mark.parametrize(
        ("second", "waits"),
        [
            (SecondSpring(arranged="end_to_end"), "rate_n_per_mm"),
            (SecondSpring(arranged="end_to_end", rate_n_per_mm=4.0), "stop_mm"),
            (SecondSpring(arranged="side_by_side", rate_n_per_mm=4.0), "gap_mm"),
        ],
    )
    def test_what_is_missing_is_asked_for(self, second: SecondSpring, waits: str) -> None:
        a = judged(put(WEIGHED, front__left__spring__second=second))
        needed = ("front", "left", "spring", "second", waits)
        assert needed in a.predicted.front.rider.sag_mm.needs
        assert any(needed in f.values["needs"] for f in a.findings if f.code == "missing")  # type: ignore[operator]

    def test_a_progressive_spring_end_to_end_says_what_it_would_take(self) -> None:
        job = put(
            WEIGHED, front__left__spring__rate_n_per_mm=Progressive(8.5, 10.5), front__left__spring__second=ON_TOP
        )
        assert "tester" in reason(judged(job).predicted.front.rider.sag_mm)

    def test_coil_bind_is_that_of_what_still_gives_way(self) -> None:
        """Free 250 = 180 + 6 + 64: the main has 80 to go, the second 34, but a stop takes the softer second after 20."""
        second = SecondSpring(
            arranged="end_to_end",
            rate_n_per_mm=6.0,
            free_length_mm=64.0,
            solid_length_mm=30.0,
            divider_mm=6.0,
            stop_mm=20.0,
        )
        spring = replace(
            FORK.front.left.spring, free_length_mm=250.0, coils=Coils(solid_length_mm=100.0), second=second
        )
        a = judged(put(WEIGHED, front__left__spring=spring))
        assert a.springs.left.usable_travel_mm.value == pytest.approx(100.0)
        now, end = known(a.front.left.preload_now_mm.value), 120.0
        assert a.springs.left.clearance_now_mm.value == pytest.approx(100.0 - now - end)
        (one,) = a.change_overs
        assert one.second_left_mm.value == pytest.approx(14.0)
        assert one.main_left_mm.value == pytest.approx(80.0 - (now + end - 20.0))

    def test_lengths_that_contradict_are_a_fault(self) -> None:
        wrong = put(FORK, front__left__spring__second=replace(BESIDE, free_length_mm=50.0, solid_length_mm=60.0))
        assert "second_lengths" in codes(judged(wrong))


class TestChangeOver:
    """Fork: gap 60, preload 14: the second spring is reached at 46 mm of travel."""

    def test_where_it_lies(self) -> None:
        a = judged(put(FORK, sag__front=sag_end(20.0, 33.0)))
        (one,) = a.change_overs
        now = known(a.front.left.preload_now_mm.value)
        assert one.at_mm.value == pytest.approx(60.0 - now)
        assert (one.static_mm.value, one.rider_mm.value, one.full_mm.value, one.zone) == (
            20.0,
            33.0,
            120.0,
            "beyond_rider",
        )
        said = sentence(found(a, "change_over_beyond_rider"))
        assert f"at {60.0 - now:.1f} mm of travel, after rider sag 33.0 mm, of 120.0 mm in all" in said
        assert "a gap 1 mm larger puts it 1.0 mm later" in said

    @pytest.mark.parametrize(
        ("gap", "code"),
        [
            (5.0, "change_over_in_preload"),
            (25.0, "change_over_below_static"),
            (40.0, "change_over_between_sags"),
            (60.0, "change_over_beyond_rider"),
            (400.0, "change_over_never"),
        ],
    )
    def test_every_place_has_its_finding(self, gap: float, code: str) -> None:
        a = judged(put(FORK, sag__front=sag_end(20.0, 33.0), front__left__spring__second__gap_mm=gap))
        assert [c for c in codes(a) if c.startswith("change_over")] == [code]

    @pytest.mark.parametrize("second", [ON_TOP, replace(ON_TOP, rate_n_per_mm=5.0, stop_mm=20.0), BESIDE])
    def test_what_moves_it_moves_it_so_far(self, second: SecondSpring) -> None:
        """Found by judging the changed job; at the shock through its linkage."""
        job = put(WEIGHED, rear__spring__second=replace(second, rate_n_per_mm=90.0, gap_mm=25.0, stop_mm=15.0))
        (one,) = judged(job).change_overs
        fitted = known(job.rear.spring.set_length_mm)
        (squeezed,) = judged(put(job, rear__spring__set_length_mm=fitted - 0.5)).change_overs
        assert known(one.at_mm.value) - known(squeezed.at_mm.value) == pytest.approx(
            0.5 * known(one.nearer_per_mm.value)
        )
        name = "stop_mm" if second.arranged == "end_to_end" else "gap_mm"
        at = known(getattr(job.rear.spring.second, name))
        (longer,) = judged(put(job, **{f"rear__spring__second__{name}": at + 0.5})).change_overs
        assert known(longer.at_mm.value) - known(one.at_mm.value) == pytest.approx(
            0.5 * known(one.further_per_mm.value)
        )

    @pytest.mark.parametrize("second", [ON_TOP, replace(ON_TOP, rate_n_per_mm=30.0, stop_mm=20.0), BESIDE])
    def test_between_the_sags_it_says_how_much_takes_it_outside_them(self, second: SecondSpring) -> None:
        """Found by judging the changed job: half of it is not enough, a little more than all of it is."""
        name = "stop_mm" if second.arranged == "end_to_end" else "gap_mm"
        job, at = put(WEIGHED, front__left__spring__second=second), 0.0
        for at in (float(mm) for mm in range(5, 60)):
            job = put(job, **{f"front__left__spring__second__{name}": at})
            if judged(job).change_overs[0].zone == "between":
                break
        said = found(judged(job), "change_over_between_sags")
        assert "Preload does not do it" in sentence(said)
        (more,) = judged(put(job, front__left__adjuster__now=8.0)).change_overs
        assert more.zone == "between"
        of = name.removesuffix("_mm")
        for way, sign, zone in (("sooner", -1.0, "below_static"), ("later", 1.0, "beyond_rider")):
            mm = sign * known(cast(float, said.values[f"{of}_{way}_mm"]))
            for share, then in ((0.5, "between"), (1.02, zone)):
                moved = put(job, **{f"front__left__spring__second__{name}": at + share * mm})
                assert judged(moved).change_overs[0].zone == then, (way, share)

    def test_it_is_drawn(self) -> None:
        job = put(FORK, sag__front=sag_end(20.0, 33.0))
        a = judged(job)
        curve = predicted_curve(job, a, "front", 20)
        assert curve is not None
        at = known(a.change_overs[0].at_mm.value)
        assert dict(curve.marks)["change_over"] == pytest.approx(at)
        assert on_travel(job, a, "front").changes_mm == pytest.approx((at,))
        assert f"Change-over at       {at:.1f} mm of travel" in as_text("it.toml", job, a)

    def test_a_second_spring_passed_by_preload_and_pressed_shut_is_said_in_words(self) -> None:
        """Reached after 5 mm, 59 mm to coil bind: 64 mm in all. Preload 11 and stroke 64 come to 75 mm, 11 too many; the
        main spring, 165 mm with coils of 64.1, has 100.9. At the wheel, twice the 6 mm from 11 back to 5."""
        second = SecondSpring(
            arranged="side_by_side", rate_n_per_mm=25.0, free_length_mm=129.0, solid_length_mm=70.0, gap_mm=5.0
        )
        spring = replace(
            SHOCK.rear.spring,
            rate_n_per_mm=80.0,
            free_length_mm=165.0,
            set_length_mm=156.0,
            set_length_in_mm=146.0,
            coils=Coils(wire_mm=9.5, outer_mm=69.5, total_coils=6.75),
            second=second,
        )
        collar = Adjuster(total_turns=10.0, now=2.0, pitch_mm=1.0)
        job = put(SHOCK, rear__spring=spring, rear__collar=collar, rear__stroke_mm=64.0, rear__motion_ratio=0.5)
        job = put(job, rear__linkage=(), rear__wheel_travel_mm=128.0)
        text = as_text("it.toml", job, judged(job))
        assert "Change-over at       12.0 mm before travel begins, by preload alone: 80.00 N/mm, then 105.00" in text
        assert "Second at full       nothing: coils would bind 11.0 mm before it, as set now" in text
        assert "Left at full travel  nothing: coils would bind 11.0 mm before it, as set now" in text
        said = sentence(found(judged(job), "coil_bind"))
        assert "compressed by 64.0 mm (then the coils of the second spring touch), no more than stroke 64.0 mm" in said


class TestTheJob:
    def test_it_is_stored_and_carried(self) -> None:
        assert loads(dumps(FORK)).job == FORK
        assert carried(FORK, "it.toml", FORK.job.date).front.left.spring.second == BESIDE

    def test_a_sag_read_without_it_is_old(self) -> None:
        job = put(WEIGHED, sag__front=replace(sag_end(20.0, 33.0), rider=Readings()))
        read = noted(job, ("sag", "front", "static", "down_mm", 0))
        fitted = noted(put(read, front__left__spring__second=BESIDE), ("front", "left", "spring", "second"), read)
        assert changes_since_read(fitted, "front") == ("springs",)
        assert as_read(fitted, "front", "static") is None
        again = noted(fitted, ("sag", "front", "static", "down_mm", 0))
        assert changes_since_read(again, "front") == ()
        assert as_read(again, "front", "static") is not None

    def test_the_work_list_fits_it_and_takes_it_out(self) -> None:
        now, then = (Setup(front=job.front) for job in (WEIGHED, FORK))
        (to_fit,) = items_between(now, then, ("left",))
        assert "second spring none to side by side, second spring 4.00 N/mm, gap 60.0 mm" in item_words(to_fit)
        (out,) = items_between(then, now, ("left",))
        assert "second spring side by side to none" in item_words(out)

    def test_a_chosen_spring_replaces_both(self) -> None:
        job = FORK
        choice = choose(job, judged(job), PROFILES, "front")
        now = [one for one in choice.options if one.fitted_now]
        assert now
        assert now[0].fittings[0].spring.second == BESIDE
        other = next(
            one
            for one in choice.options
            if not one.fitted_now and one.stands is None and one.fittings[0].spring.fitted is None
        )
        changed = job
        for edit in as_edits(other, job):
            changed = put(changed, **{"__".join(map(str, edit.path)): edit.value})
        assert not changed.front.left.spring.second.fitted
        promised = known(other.out.rider_mm.value)
        assert promised == pytest.approx(
            known(judged(put(changed, front__left__adjuster__now=0.0)).predicted.front.rider.sag_mm.value), abs=0.05
        )


class TestWhatIsShown:
    def labels(self, job: Job, of: Form) -> list[str]:
        return [line.label for line in of(job, METRIC) if isinstance(line, Row)]

    def test_its_fields_are_on_the_form_once_it_is_asked_for(self) -> None:
        for form, at in ((front, "front__left__spring__second"), (rear, "rear__spring__second")):
            plain, beside = self.labels(WEIGHED, form), self.labels(put(WEIGHED, **{at: BESIDE}), form)
            assert plain.count("Second spring") == 1
            assert [label for label in beside if label not in plain] == [
                *("Second spring rate", "Gap to second spring", "Second, free length", "Second, solid length"),
            ]
            on_top = self.labels(put(WEIGHED, **{at: ON_TOP}), form)
            assert "Free length, both" in on_top
            assert "Travel to the stop" in on_top
            assert "Gap to second spring" not in on_top
        assert "Gap to second spring" in self.labels(FORK, trial)

    def test_the_sheet_names_it(self) -> None:
        rows = dict(spring_table(FORK, judged(FORK), METRIC).rows)
        assert rows["Second spring"][0] == "4.00 N/mm, side by side, gap 60.0 mm"
        assert "Second spring" not in dict(spring_table(WEIGHED, judged(WEIGHED), METRIC).rows)


def test_the_fitted_springs_promise_what_the_job_says() -> None:
    """The row of the springs fitted now gives the sags that the job predicts."""
    job: Job = put(SHOCK, sag__rear=sag_end(7.5, 28.5))
    choice = choose(job, judged(job), PROFILES, "rear")
    now = next(one for one in choice.options if one.stands is not None)
    assert not math.isnan(known(now.best.rider_mm.value))
    assert now.fittings[0].spring.second.fitted
