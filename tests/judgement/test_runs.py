"""Travel used on a run and what the trade reads out of it (common practice, no published source)."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from judgement_jobs import FULL, codes, found, judged, put
from stanchion.job.carry import carried
from stanchion.job.codec import dumps, loads
from stanchion.job.model import Job
from stanchion.job.runs import new_run
from stanchion.judgement.curve import predicted_curve
from stanchion.judgement.wording import sentence


def ridden(job: Job | None = None, **markers: Any) -> Job:
    """A machine of 120 mm fork travel and 60 mm stroke after one run."""
    base = put(FULL if job is None else job, front__travel_mm=120.0, rear__stroke_mm=60.0, rear__wheel_travel_mm=140.0)
    return replace(base, runs=(replace(new_run(base, "10:20"), **markers),))


def test_a_run_is_stamped_with_the_settings_as_they_are() -> None:
    job = ridden()
    assert job.runs[0].front == job.front
    assert job.runs[0].rear == job.rear
    assert job.runs[0].time == "10:20"


def test_a_run_comes_back_from_the_file_whole() -> None:
    job = ridden(front_marker_mm=110.0, said="pushes wide\nchatters", best_lap_s=92.4)
    assert loads(dumps(job)).job == job


def test_forty_runs_fit_the_file() -> None:
    job = ridden()
    full = replace(job, runs=tuple(replace(job.runs[0], said="x" * 800) for _ in range(40)))
    assert loads(dumps(full)).job == full


def test_runs_belong_to_the_day_and_are_not_carried_forward() -> None:
    job = ridden()
    assert carried(job, "a.toml", job.job.date).runs == ()


class TestTravelUsed:
    def test_from_the_hanging_wheel_the_marker_is_the_travel_used(self) -> None:
        run = judged(ridden(front_marker_mm=100.0, rear_marker_mm=40.0)).run
        assert run is not None
        assert (run.front.used_mm.value, run.front.left_mm.value) == (100, 20)
        assert (run.rear.used_mm.value, run.rear.left_mm.value) == (40, 20)

    def test_from_static_sag_that_sag_is_added_along_the_same_axis(self) -> None:
        run = judged(ridden(front_marker_mm=80.0, rear_marker_mm=40.0, marker_from="static")).run
        assert run is not None
        assert run.front.used_mm.value == pytest.approx(80 + 20)
        assert run.rear.used_mm.value == pytest.approx(40 + 0.4 * 7.5)  # motion ratio 0.4 at 7.5 mm of wheel

    def test_rigid_packers_shorten_what_there_is(self) -> None:
        job = put(FULL, front__packers_mm=5.0)
        run = judged(ridden(job, front_marker_mm=100.0)).run
        assert run is not None
        assert run.front.left_mm.value == 15

    def test_without_a_marker_it_waits_for_it(self) -> None:
        run = judged(ridden()).run
        assert run is not None
        assert run.front.used_mm.needs == (("runs", 0, "front_marker_mm"),)


class TestWhatItMeans:
    @pytest.mark.parametrize(
        ("changes", "markers", "code", "words"),
        [
            ({}, {"front_marker_mm": 117.0}, "bottoms_air_gap", "5 mm smaller"),
            ({}, {"rear_marker_mm": 57.0}, "bottoms_damping", "compression damping first"),
            ({"front__left__adjuster__now": 16.0}, {"front_marker_mm": 117.0}, "bottoms_adjuster_in", "too soft"),
            ({}, {"front_marker_mm": 80.0}, "travel_kept_back", "not softer springs"),
            ({}, {"front_marker_mm": 130.0}, "marker_beyond_travel", "Check the reading"),
        ],
    )
    def test_each_reading_has_its_remedy_in_the_order_of_the_trade(
        self, changes: dict[str, Any], markers: dict[str, float], code: str, words: str
    ) -> None:
        assessment = judged(ridden(put(FULL, **changes), **markers))
        assert words in sentence(found(assessment, code))

    def test_with_rider_sag_too_large_preload_comes_first(self) -> None:
        job = put(FULL, sag__front__rider__down_mm=(555.0,), sag__front__rider__up_mm=(557.0,))
        told = sentence(found(judged(ridden(job, front_marker_mm=118.0)), "bottoms_add_preload"))
        assert "add preload first (the adjuster has 6.0 mm)" in told

    def test_well_used_travel_says_nothing(self) -> None:
        assert codes(judged(ridden(front_marker_mm=105.0, rear_marker_mm=50.0))) == codes(judged(ridden()))

    def test_only_the_latest_run_is_warned_about(self) -> None:
        job = ridden(front_marker_mm=119.0)
        later = replace(job, runs=(*job.runs, replace(new_run(job, "11:00"), front_marker_mm=100.0)))
        assert "bottoms_air_gap" in codes(judged(job))
        assert "bottoms_air_gap" not in codes(judged(later))


def test_the_deepest_marker_stands_on_the_curve() -> None:
    job = ridden(front_marker_mm=100.0, rear_marker_mm=40.0)
    for end, at in (("front", 100.0), ("rear", 100.0)):  # 40 mm of stroke at a ratio of 0.4 is 100 mm of wheel
        curve = predicted_curve(job, judged(job), end, 20)  # type: ignore[arg-type]
        assert curve is not None
        assert dict(curve.marks)["marker"] == pytest.approx(at)
