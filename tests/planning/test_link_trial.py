"""Another length of the link in a trial: ride height, ratio, wheel rate, sag, rake and trail move together."""

from __future__ import annotations

import math

import pytest

from judgement_jobs import PROFILES, judged, put
from points_jobs import AXLE, LINK_MM, by_points
from stanchion.judgement.ends.points_law import points_law
from stanchion.planning.whatif import compare


def test_a_link_2_mm_longer_changes_one_number_and_everything_that_follows_from_it() -> None:
    job = by_points()
    trial = compare(job, put(job, rear__link_mm=LINK_MM + 2.0), PROFILES)
    assert [one.path for one in trial.differences] == [("rear", "link_mm")]
    assert (trial.row(("rear",), "rise").change or 0.0) != 0.0
    assert trial.changed.rear.motion_ratio != trial.present.rear.motion_ratio
    assert trial.changed.rear.wheel_rate_n_per_mm != trial.present.rear.wheel_rate_n_per_mm
    assert trial.row(("geometry",), "rake_deg").change is not None
    assert trial.row(("geometry",), "trail_mm").change is not None
    assert trial.row(("rear",), "rider_predicted").change is not None


@pytest.mark.parametrize("by_mm", [-2.0, 1.0, 3.0])
def test_the_rear_rises_by_what_the_axle_hangs_lower_and_the_wheel_goes_in_less(by_mm: float) -> None:
    """By finite differences from the swingarm's angles at full extension."""
    job = by_points()
    other = put(job, rear__link_mm=LINK_MM + by_mm)
    trial = compare(job, other, PROFILES)
    hangs = []
    for one in (job, other):
        curve = points_law(one.rear, one.swingarm.pivot_to_axle_mm).curve
        assert curve is not None
        assert curve.extended.arm_deg is not None
        hangs.append(math.hypot(*AXLE) * math.sin(math.radians(curve.extended.arm_deg)))
    moved = trial.row(("rear",), "rider_captured").change
    assert moved is not None
    assert trial.row(("rear",), "rise").changed.value == pytest.approx(hangs[1] - hangs[0] - moved, abs=1e-6)


def test_the_link_as_the_points_have_it_changes_nothing() -> None:
    job = by_points()
    trial = compare(job, put(job, rear__link_mm=LINK_MM), PROFILES)
    assert trial.row(("rear",), "rise").changed.value == pytest.approx(0.0, abs=1e-6)


def test_sags_read_before_the_link_was_changed_are_old() -> None:
    job = by_points()
    trial = compare(job, put(job, rear__link_mm=LINK_MM + 2.0), PROFILES)
    assert trial.changed.sag.rear.rider.changed
    assert not judged(job).sag.rear.rider.changed
