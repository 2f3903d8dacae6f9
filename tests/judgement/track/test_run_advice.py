"""What a marker near full travel asks for at an end sprung by air, and where the sags ask for the opposite (common
practice, no published source)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from air_jobs import AIR, FLOATING, air_job
from judgement_jobs import FULL, judged, put, repeated, sag_end
from stanchion.job.model import AirLeg, Job, Leg, Sag
from stanchion.job.runs import new_run
from stanchion.wording.finding_words import sentence


def marked(job: Job, **markers: float) -> Job:
    """The job after one run that left these markers."""
    return replace(job, runs=(replace(new_run(job, "10:20"), **markers),))  # type: ignore[arg-type]


def of_run(job: Job) -> str:
    (text,) = [sentence(one) for one in judged(job).findings if one.code.startswith(("bottoms_", "travel_kept_back"))]
    return text


def air(static_mm: float, rider_mm: float, leg: AirLeg = AIR, right: Leg | None = None) -> Job:
    """The off-road machine of 300 mm travel with these sags at the front, and its marker 2 mm from the end."""
    job = replace(air_job(leg, right), sag=Sag(front=repeated(sag_end(static_mm, rider_mm))))
    return marked(job, front_marker_mm=298.0)


class TestSprungByAir:
    """Its spring is the air: more pressure acts over the whole travel, a smaller chamber mostly at its end."""

    def test_no_spring_no_preload_and_no_air_gap_is_named(self) -> None:
        for static, rider in ((45.0, 70.0), (60.0, 95.0), (30.0, 52.0)):
            text = of_run(air(static, rider))
            assert not [word for word in ("spring", "preload", "air gap") if word in text], text

    def test_rider_sag_too_large_asks_for_pressure_first(self) -> None:
        assert "rider sag is too large: add pressure first" in of_run(air(60.0, 95.0))

    def test_with_sag_right_the_pressure_stays_and_the_chamber_grows_smaller(self) -> None:
        text = of_run(air(45.0, 70.0))
        assert "Leave the pressure to the sags: make the air chamber smaller" in text

    def test_the_sags_that_ask_for_less_pressure_come_first(self) -> None:
        text = of_run(air(30.0, 52.0))
        assert "The sags ask for less pressure: put them right first. If it still comes so deep, make the air" in text

    def test_the_other_leg_s_oil_is_named_only_where_its_air_gap_is_recorded(self) -> None:
        with_gap = Leg(spring_fitted=False, air_gap_mm=120.0)
        assert "or the right leg's air gap 5 mm smaller" in of_run(air(45.0, 70.0, right=with_gap))
        job = air(45.0, 70.0, right=with_gap)
        at_least = replace(job, front=replace(job.front, air_gap_least_mm=118.0))
        assert "air gap" not in of_run(marked(replace(at_least, runs=()), front_marker_mm=298.0))

    def test_an_outer_chamber_is_named_as_far_as_its_maker_allows(self) -> None:
        assert "pump the outer chamber up further, make the air chamber smaller" in of_run(air(45.0, 70.0, FLOATING))
        full = replace(FLOATING, outer_bar=20.0)
        assert "outer chamber" not in of_run(air(45.0, 70.0, full))

    def test_travel_kept_back_asks_for_a_larger_chamber(self) -> None:
        job = replace(air(45.0, 70.0), runs=())
        text = of_run(marked(job, front_marker_mm=150.0))
        assert "make the air chamber larger or reduce compression" in text
        assert "spring" not in text
        assert "air gap" not in text

    def test_an_air_shock_is_told_of_its_chamber(self) -> None:
        job = put(FULL, rear__air__fitted=True, rear__stroke_mm=60.0)
        assert "spring" not in of_run(marked(job, rear_marker_mm=58.0))


class TestAgainstTheSags:
    """A fork that stands too high and bottoms all the same lacks what resists at the end, not a stiffer spring."""

    @pytest.mark.parametrize("least", [None, 109.0])
    def test_sags_too_small_and_no_travel_left_do_not_ask_for_softer_and_stiffer_springs(
        self, least: float | None
    ) -> None:
        job = put(
            FULL,
            front__travel_mm=120.0,
            front__left__air_gap_mm=110.0,
            front__air_gap_least_mm=least,
            sag__front=repeated(sag_end(12.0, 22.0)),
        )
        text = of_run(marked(job, front_marker_mm=119.0))
        assert "stiffer" not in text
        assert "put them right first. If it still comes so deep, " in text
        assert ("make the air gap 5 mm smaller" in text) is (least is None)
        assert "fit longer bump rubbers" in text

    def test_the_rear_likewise(self) -> None:
        job = put(FULL, rear__stroke_mm=60.0, sag__rear=repeated(sag_end(2.0, 12.0)))
        text = of_run(marked(job, rear_marker_mm=58.0))
        assert "stiffer" not in text
        assert "fit a longer bump rubber" in text

    def test_sags_that_suit_leave_stiffer_springs_as_the_last_thing(self) -> None:
        job = put(FULL, front__travel_mm=120.0)
        assert "fit stiffer springs last" in of_run(marked(job, front_marker_mm=117.0))
