"""Where sags and marker lie on the travel: all from the hanging wheel, along the leg or the shock's shaft."""

from __future__ import annotations

import pytest

from judgement_jobs import FULL, PAIRS, PROFILES, put
from stanchion.job.model import End, Job, Run, TopOut
from stanchion.judgement.assess import assess
from stanchion.planning.on_travel import OnTravel, on_travel

JOB = put(
    FULL,
    front__travel_mm=120.0,
    rear__stroke_mm=60.0,
    runs=(Run(front_marker_mm=100.0, rear_marker_mm=40.0), Run(front_marker_mm=112.0, rear_marker_mm=50.0)),
)
"""Front sags 20 and 33 mm, rear 7.5 and 28.5 mm at the wheel with a ratio of 0.4."""


def standing(job: Job, end: End, run: int | None = None) -> OnTravel:
    return on_travel(job, assess(job, PROFILES), end, run)


def test_along_the_fork_sags_and_marker_are_as_measured() -> None:
    on = standing(JOB, "front")
    assert (on.full_mm.value, on.static_mm.value, on.rider_mm.value) == (120.0, 20.0, 33.0)
    assert (on.deepest_mm.value, on.left_mm.value, on.run) == (112.0, 8.0, 1)
    assert not on.rubber_from_mm.known


def test_along_the_shaft_sags_are_what_the_linkage_makes_of_them() -> None:
    on = standing(JOB, "rear")
    assert (on.full_mm.value, on.deepest_mm.value) == (60.0, 50.0)
    assert on.static_mm.value == pytest.approx(3.0)
    assert on.rider_mm.value == pytest.approx(11.4)
    through_pairs = standing(put(JOB, rear__linkage=PAIRS), "rear")
    assert through_pairs.rider_mm.value == pytest.approx(9.97, abs=0.05)  # a little below 30 mm, where it is 10.5


def test_packers_shorten_the_travel_and_the_rubber_begins_its_height_before_the_end() -> None:
    job = put(JOB, front__packers_mm=5.0, rear__packers_mm=2.0, rear__bump_rubber_mm=12.0)
    assert standing(job, "front").full_mm.value == 115.0
    on = standing(job, "rear")
    assert (on.full_mm.value, on.rubber_from_mm.value) == (58.0, 46.0)
    assert standing(put(job, rear__bump_rubber_mm=60.0), "rear").rubber_from_mm.value == 0.0
    # what the run says of the rubber begins where the picture has it: 50 is 4 mm into it
    run = assess(job, PROFILES).run
    assert run is not None
    assert run.rear.on_rubber_mm.value == pytest.approx(4.0)


def test_a_top_out_spring_holds_the_hanging_wheel_off_the_stop() -> None:
    job = put(JOB, front__top_out=TopOut(fitted="yes", rate_n_per_mm=20.0, works_over_mm=15.0))
    a = assess(job, PROFILES)
    off = a.marker_references["front"].hanging_mm.value
    assert off is not None
    assert off > 0.0
    assert on_travel(job, a, "front").full_mm.value == pytest.approx(120.0 - off)


def test_an_earlier_run_has_its_own_marker() -> None:
    on = standing(JOB, "front", 0)
    assert (on.deepest_mm.value, on.left_mm.value, on.run) == (100.0, 20.0, 0)


def test_without_a_run_or_a_linkage_there_is_no_marker_or_sag_to_draw() -> None:
    on = standing(put(JOB, runs=(), rear__motion_ratio=None), "rear")
    assert (on.run, on.deepest_mm.problem) == (-1, "no_run")
    assert not on.left_mm.known
    assert on.rider_mm.needs == (("rear", "motion_ratio"),)
    assert standing(put(JOB, front__travel_mm=None), "front").full_mm.needs == (("front", "travel_mm"),)
