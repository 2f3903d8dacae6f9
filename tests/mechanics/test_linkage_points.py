"""A linkage by its points: exact positions, virtual work, what stops it, and how readings move it.

The checked positions are exact computations of our own by another method (reference-values: analytic circles, and central
differences of the shock's length); no published example with numbers is known.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace

import pytest

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.linkage_points import (
    LinkagePoints,
    Rocker,
    extended_position,
    position_at,
    position_at_travel,
    turn_for_travel,
)
from stanchion.mechanics.linkage_points_curve import moved_by_points, points_curve
from stanchion.mechanics.rear import RearEnd, rear_wheel_force, rear_wheel_rate

STRAIGHT = LinkagePoints(axle=(-550.0, 0.0), shock_moved=(-200.0, 0.0), shock_held=(-120.0, 330.0))
"""An invented machine: arm 550 mm, lower eye on the arm at 200 mm, upper eye 120 mm back and 330 mm up."""


def _rocker_shock_point() -> tuple[float, float]:
    """The rocker's end at the shock: 95 mm from its pivot, 100° behind its end at the link."""
    end = complex(-48.895187, -50.886437) - complex(-60.0, -120.0)
    place = complex(-60.0, -120.0) + end / abs(end) * 95.0 * complex(
        math.cos(math.radians(-100.0)), math.sin(math.radians(-100.0))
    )
    return place.real, place.imag


ON_FRAME = LinkagePoints(
    axle=(-580.0, 0.0),
    shock_moved=_rocker_shock_point(),
    shock_held=(10.0, 200.0),
    rocker=Rocker(centre=(-60.0, -120.0), link_end=(-48.895187, -50.886437), link_far=(-190.0, 0.0)),
)
"""An invented machine: rocker on the frame, link 150, rocker 70 and 95 mm."""
ON_ARM = LinkagePoints(
    axle=(-560.0, -40.0),
    shock_moved=(-215.0, -25.0),
    shock_held=(-95.0, 240.0),
    rocker=Rocker(centre=(-160.0, -50.0), link_end=(-190.0, -105.0), link_far=(-20.0, -95.0), on_arm=True),
)
"""An invented machine: rocker on the swingarm, link to the frame, shock from rocker to frame."""
LAYOUTS = [STRAIGHT, ON_FRAME, ON_ARM, replace(ON_ARM, shock_held=(-330.0, -200.0), held_on_arm=True)]


class TestPositions:
    @pytest.mark.parametrize(
        ("arm_deg", "shock_mm", "ratio"),
        [(-12.0, 379.200815, 0.34091487), (-6.0, 359.667494, 0.34639318), (0.0, 339.558537, 0.35340004)],
    )
    def test_a_straight_shock(self, arm_deg: float, shock_mm: float, ratio: float) -> None:
        found = position_at(STRAIGHT, math.radians(arm_deg))
        assert found is not None
        assert found.shock_mm == pytest.approx(shock_mm, abs=1e-6)
        assert found.motion_ratio == pytest.approx(ratio, abs=1e-8)
        assert found.arm_deg == pytest.approx(-arm_deg)

    @pytest.mark.parametrize(
        ("arm_deg", "axle_mm", "end", "shock_mm"),
        [
            (-12.0, -120.588781, (-36.5544, -54.0432), 367.096611),
            (-6.0, -60.626509, (-42.4923, -52.2248), 359.748405),
            (0.0, 0.0, (-48.8952, -50.8864), 351.684814),
            (6.0, 60.626509, (-56.2729, -50.0993), 342.198039),
        ],
    )
    def test_a_rocker_on_the_frame(
        self, arm_deg: float, axle_mm: float, end: tuple[float, float], shock_mm: float
    ) -> None:
        found = position_at(ON_FRAME, math.radians(arm_deg))
        assert found is not None
        assert found.axle[1] == pytest.approx(axle_mm, abs=1e-6)
        assert found.link_end == pytest.approx(end, abs=1e-4)
        assert found.shock_mm == pytest.approx(shock_mm, abs=1e-4)

    @pytest.mark.parametrize("points", LAYOUTS)
    def test_the_ratio_is_how_fast_the_shock_gets_shorter(self, points: LinkagePoints) -> None:
        for turn in (-0.1, 0.0, 0.07):
            here, below, above = (position_at(points, turn + step) for step in (0.0, -1e-5, 1e-5))
            assert here is not None
            assert below is not None
            assert above is not None
            slope = (above.shock_mm - below.shock_mm) / (above.axle[1] - below.axle[1])
            assert here.motion_ratio == pytest.approx(-slope, abs=1e-7)

    @pytest.mark.parametrize("points", LAYOUTS)
    def test_rigid_parts_keep_their_lengths_on_the_branch_read(self, points: LinkagePoints) -> None:
        read = position_at(points, 0.0)
        assert read is not None
        for turn in (-0.12, -0.03, 0.05, 0.1):
            found = position_at(points, turn)
            assert found is not None
            for one, other in (
                ("link_end", "link_far"),
                ("link_end", "rocker_centre"),
                ("rocker_centre", "shock_moved"),
            ):
                if points.rocker is not None:
                    assert math.dist(getattr(found, one), getattr(found, other)) == pytest.approx(
                        math.dist(getattr(read, one), getattr(read, other)), abs=1e-9
                    )
        beside = position_at(points, 1e-6)
        assert beside is not None
        assert beside.shock_moved == pytest.approx(read.shock_moved, abs=1e-3)  # no jump to the other branch

    def test_a_longer_link_turns_the_rocker_until_it_fits(self) -> None:
        assert ON_FRAME.rocker is not None
        longer = replace(ON_FRAME, rocker=replace(ON_FRAME.rocker, link_mm=152.0))
        found = position_at(longer, 0.0)
        assert found is not None
        assert found.link_end is not None
        assert found.link_far is not None
        assert math.dist(found.link_end, found.link_far) == pytest.approx(152.0)
        assert ON_FRAME.link_mm == pytest.approx(150.0, abs=1e-5)

    def test_an_axle_ahead_of_the_pivot_is_refused(self) -> None:
        with pytest.raises(OutOfRange, match="behind"):
            LinkagePoints(axle=(550.0, 0.0), shock_moved=(-200.0, 0.0), shock_held=(-120.0, 330.0))


class TestExtension:
    @pytest.mark.parametrize("points", LAYOUTS)
    @pytest.mark.parametrize("turn", [-0.15, -0.02, 0.08])
    def test_the_shocks_length_gives_the_angle_back(self, points: LinkagePoints, turn: float) -> None:
        there = position_at(points, turn)
        assert there is not None
        found = extended_position(points, there.shock_mm)
        assert found.stopped == ""
        assert found.turn_rad == pytest.approx(turn, abs=1e-9)
        assert found.arm_deg == pytest.approx(there.arm_deg, abs=1e-7)
        assert turn_for_travel(points, found, 0.0) == pytest.approx(turn, abs=1e-9)

    def test_without_that_length_the_points_count_as_read_extended(self) -> None:
        assert extended_position(STRAIGHT, None).turn_rad == 0.0

    def test_a_length_the_linkage_never_has_says_what_is_in_the_way(self) -> None:
        assert extended_position(ON_FRAME, 600.0).stopped in {"link", "shock", "arm"}
        assert extended_position(STRAIGHT, 20.0).stopped in {"shock", "arm"}
        assert ON_FRAME.rocker is not None
        too_long = replace(ON_FRAME, rocker=replace(ON_FRAME.rocker, link_mm=400.0))
        assert extended_position(too_long, 350.0).stopped == "link"


class TestCurve:
    @pytest.mark.parametrize("points", LAYOUTS)
    def test_the_curve_has_the_exact_travel_and_ratio_everywhere(self, points: LinkagePoints) -> None:
        there = position_at(points, -0.12)
        assert there is not None
        found = points_curve(points, there.shock_mm, 110.0)
        assert found.stopped == ""
        assert found.linkage is not None
        for travel in (0.0, 13.3, 47.9, 88.1, 110.0):
            exact, _ = position_at_travel(points, found.extended, travel)
            assert exact is not None
            shock_mm, ratio, _ = found.linkage.state(travel)
            assert shock_mm == pytest.approx(there.shock_mm - exact.shock_mm, abs=2e-6)
            assert ratio == pytest.approx(exact.motion_ratio, abs=2e-6)

    @pytest.mark.parametrize(
        ("travel_mm", "slope", "wheel_n", "rate"),
        [
            (0.0, 8.292966e-5, 388.64295, 11.135720),
            (56.860775, 1.0935404e-4, 1037.67811, 11.726470),
            (114.351430, 1.3415285e-4, 1733.78640, 12.522857),
        ],
    )
    def test_force_and_rate_at_the_wheel(self, travel_mm: float, slope: float, wheel_n: float, rate: float) -> None:
        """Spring of 95 N/mm, 12 mm compressed at full extension; slope to what a cubic between 5 mm points gives."""
        found = points_curve(STRAIGHT, 379.200815, 120.0).linkage
        assert found is not None
        rear = RearEnd(rate_n_per_mm=95.0, preload_mm=12.0, linkage=found, travel_mm=120.0)
        assert found.state(travel_mm)[2] == pytest.approx(slope, rel=2e-3)
        assert rear_wheel_force(rear, travel_mm) == pytest.approx(wheel_n, abs=1e-3)
        assert rear_wheel_rate(rear, travel_mm) == pytest.approx(rate, rel=1e-4)

    def test_virtual_work_holds_for_random_linkages(self) -> None:
        """The work of the wheel's force over the travel is that stored in the spring."""
        drawn = random.Random(17)
        tried = 0
        while tried < 40:
            points = LinkagePoints(
                axle=(-drawn.uniform(480, 620), drawn.uniform(-80, 20)),
                shock_moved=(-drawn.uniform(20, 120), -drawn.uniform(40, 160)),
                shock_held=(drawn.uniform(-60, 60), drawn.uniform(150, 260)),
                rocker=Rocker(
                    centre=(-drawn.uniform(20, 90), -drawn.uniform(60, 140)),
                    link_end=(-drawn.uniform(10, 90), -drawn.uniform(20, 80)),
                    link_far=(-drawn.uniform(150, 240), -drawn.uniform(-20, 60)),
                ),
            )
            curve = points_curve(points, None, 80.0)
            if curve.linkage is None or curve.stopped or not 0.1 < curve.linkage.motion_ratio(40.0) < 3.0:
                continue
            tried += 1
            rear = RearEnd(rate_n_per_mm=90.0, preload_mm=10.0, linkage=curve.linkage, travel_mm=80.0)
            start, end = (position_at_travel(points, curve.extended, mm)[0] for mm in (0.0, 80.0))
            assert start is not None
            assert end is not None
            steps = 800
            work = sum(rear_wheel_force(rear, 80.0 * (i + 0.5) / steps) for i in range(steps)) * 80.0 / steps
            shock_mm = start.shock_mm - end.shock_mm
            assert work == pytest.approx(90.0 * ((10.0 + shock_mm) ** 2 - 10.0**2) / 2.0, rel=2e-3)

    def test_where_the_shock_gets_no_shorter_it_is_named_with_the_travel(self) -> None:
        short = LinkagePoints(
            axle=(-580.0, 0.0),
            shock_moved=(-20.0, -60.0),
            shock_held=(10.0, 200.0),
            rocker=Rocker(centre=(-60.0, -120.0), link_end=(-70.0, -50.0), link_far=(-190.0, 20.0)),
        )
        found = points_curve(short, None, 400.0)
        assert found.stopped == "shock"
        assert found.stopped_at_mm is not None
        last, _ = position_at_travel(short, found.extended, found.stopped_at_mm)
        beyond, why = position_at_travel(short, found.extended, found.stopped_at_mm + 0.02)
        assert last is not None
        assert beyond is None
        assert why == found.stopped

    def test_dead_centre_is_the_link(self) -> None:
        """The swingarm draws the link until it lies in one line with the rocker."""
        points = LinkagePoints(
            axle=(-580.0, 0.0),
            shock_moved=(40.0, -120.0),
            shock_held=(10.0, 200.0),
            rocker=Rocker(centre=(-60.0, -120.0), link_end=(-60.0, -40.0), link_far=(-190.0, -40.0)),
        )
        found = points_curve(points, None, 400.0)
        assert found.stopped == "link"
        assert found.stopped_at_mm is not None
        here, _ = position_at_travel(points, found.extended, found.stopped_at_mm)
        assert here is not None
        assert here.link_end is not None
        assert here.link_far is not None
        assert points.rocker is not None
        lengths = math.dist(here.link_far, here.link_end) + math.dist(here.link_end, points.rocker.centre)
        assert math.dist(here.link_far, points.rocker.centre) == pytest.approx(lengths, abs=0.5)  # in one line


class TestReadings:
    @pytest.mark.parametrize("points", LAYOUTS)
    def test_a_reading_moves_the_ratio_as_reading_it_otherwise_does(self, points: LinkagePoints) -> None:
        """The first reading is the axle's; the last is the length of the shock."""
        there = position_at(points, -0.1)
        assert there is not None
        moved = moved_by_points(points, there.shock_mm, 50.0, 0.3)
        assert len(moved) == (7 if points.rocker is None else 13)
        ratios = []
        for way in (0.3, -0.3):
            other = replace(points, axle=(points.axle[0] + way, points.axle[1]))
            found = points_curve(other, there.shock_mm, 60.0).linkage
            assert found is not None
            ratios.append(found.motion_ratio(50.0))
        assert moved[0][1] == pytest.approx((ratios[0] - ratios[1]) / 2.0, rel=0.02, abs=2e-6)

    def test_twice_the_division_is_twice_the_doubt(self) -> None:
        one, two = (
            math.hypot(*(ratio for _, ratio, _ in moved_by_points(ON_FRAME, 367.0, 50.0, u))) for u in (0.2, 0.4)
        )
        assert two == pytest.approx(2.0 * one, rel=0.01)

    def test_beyond_what_the_linkage_reaches_there_is_none(self) -> None:
        with pytest.raises(OutOfRange, match="reaches"):
            moved_by_points(STRAIGHT, 379.2, 900.0, 0.3)
