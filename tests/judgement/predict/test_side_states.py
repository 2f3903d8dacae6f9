"""The machine from the side in its states: every part where the figures say that it is."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest

from judgement_jobs import judged
from sheet_jobs import JOBS
from stanchion.job.linkage_points import PointRead, PointsRead
from stanchion.job.model import Job, Weights
from stanchion.job.swingarm import Swingarm
from stanchion.judgement.ends.points_law import points_law
from stanchion.judgement.predict.side_points import arm_points, side_points
from stanchion.judgement.predict.side_states import side_states
from stanchion.judgement.results.side import Point, SidePart, SideState
from stanchion.mechanics.chain import upper_run
from stanchion.mechanics.geometry import Baseline, ground_trail
from stanchion.mechanics.swingarm import Arm

JOB = JOBS["well_set"]
STANDS = Baseline(rake_deg=24.0, offset_mm=30.0, wheelbase_mm=1400.0, front_radius_mm=300.0, rear_radius_mm=310.0)


def states(job: Job) -> dict[str, SideState]:
    return {of.state: of for of in side_states(job, judged(job))}


def parts(of: SideState, name: str) -> list[SidePart]:
    return [part for part in of.parts if part.name == name]


def one(of: SideState, name: str) -> SidePart:
    (found,) = parts(of, name)
    return found


def test_all_four_states_are_there_once_everything_is_recorded() -> None:
    assert list(states(JOB)) == ["static", "rider", "brakes", "gas"]


def test_without_a_swingarm_there_is_none_and_no_state_on_the_gas() -> None:
    found = states(replace(JOB, swingarm=Swingarm()))
    assert list(found) == ["static", "rider", "brakes"]
    assert not any(part.name in ("arm", "chain", "sprocket") for of in found.values() for part in of.parts)


def test_without_weights_only_what_the_sags_give_is_drawn() -> None:
    found = states(replace(JOB, weights=Weights()))
    assert list(found) == ["static", "rider"]
    assert not any(part.name == "mass" for of in found.values() for part in of.parts)


def test_without_sags_the_wheels_hang() -> None:
    bare = replace(JOB, sag=replace(JOB.sag, front=JOBS["half_filled"].sag.front), weights=Weights())
    assert list(states(bare)) == ["extended"]


@pytest.mark.parametrize("state", ["static", "rider", "brakes", "gas"])
def test_the_points_give_the_figures_of_the_state_back(state: str) -> None:
    of = states(JOB)[state]
    (axle,), (foot, head) = one(of, "front_wheel").points, one(of, "axis").points
    assert axle[0] == of.wheelbase_mm.value
    assert foot[0] - axle[0] == pytest.approx(of.trail_mm.value)
    assert math.degrees(math.atan2(foot[0] - head[0], head[1] - foot[1])) == pytest.approx(of.rake_deg.value)
    assert one(of, "mass").points == ((of.ahead_mm.value, of.height_mm.value),)


def test_the_leg_is_shorter_by_the_travel_used() -> None:
    found = states(JOB)
    long = {name: math.dist(*one(of, "leg").points) for name, of in found.items()}
    used = {name: of.fork_used_mm.value or 0.0 for name, of in found.items()}
    for name in found:
        assert long["rider"] - long[name] == pytest.approx(used[name] - used["rider"])


def test_the_swingarm_keeps_its_length_and_stands_as_measured_in_the_state_of_the_geometry() -> None:
    """The geometry of this job was measured with a sag that differs from the one now by 0.3 mm in front, 0 behind."""
    for of in states(JOB).values():
        axle, pivot = one(of, "arm").points
        assert math.dist(axle, pivot) == pytest.approx(JOB.swingarm.pivot_to_axle_mm)
        (wheel,) = one(of, "rear_wheel").points
        assert axle == wheel
    assert one(states(JOB)["rider"], "arm").points[1][1] == pytest.approx(JOB.swingarm.pivot_up_mm, abs=0.5)


@pytest.mark.parametrize("state", ["static", "rider", "brakes", "gas"])
def test_the_pivot_stays_where_it_is_in_the_frame(state: str) -> None:
    """Its distance from the steering axis and its height along it, from the yokes: the leg shortens by the travel used.
    Before the axle went on its arc it wandered by 6.6 mm on the brakes."""

    def in_frame(of: SideState) -> complex:
        (foot, head), (_, top) = one(of, "axis").points, one(of, "leg").points
        along = complex(head[0] - foot[0], head[1] - foot[1])
        pivot = one(of, "arm").points[1]
        return complex(pivot[0] - top[0], pivot[1] - top[1]) / (along / abs(along))

    found = states(JOB)
    assert abs(in_frame(found[state]) - in_frame(found["rider"])) < 0.2


def test_the_shock_is_as_long_as_its_travel_by_the_points_leaves_it() -> None:
    """Turned with the swingarm in the frame, and the whole with the frame: no length changes, and the shock gets shorter
    by what the linkage gives for the wheel travel between two states."""
    found = states(JOB)
    law = points_law(JOB.rear, JOB.swingarm.pivot_to_axle_mm).linkage
    assert law is not None
    long = {name: math.dist(*one(of, "shock").points) for name, of in found.items()}
    used = {name: of.rear_used_mm.value or 0.0 for name, of in found.items()}
    for name in found:
        shorter = law.shock_travel(used[name]) - law.shock_travel(used["rider"])
        assert long["rider"] - long[name] == pytest.approx(shorter, abs=0.3), name


def test_a_rocker_keeps_its_shape_and_its_link_its_length_in_every_state() -> None:
    """The points of a rocker on the frame, as the check by exact values in tests/mechanics has them."""
    read = PointsRead(
        layout="rocker_on_frame",
        axle_below_mm=116.5,
        rocker=PointRead(forward_mm=-60.0, up_mm=-120.0),
        link_end=PointRead(forward_mm=-36.6, up_mm=-54.0),
        link_far=PointRead(forward_mm=-185.9, up_mm=-39.5),
        shock_moved=PointRead(forward_mm=-150.0, up_mm=-145.0),
        shock_held=PointRead(forward_mm=10.0, up_mm=200.0),
    )
    found = states(replace(JOB, rear=replace(JOB.rear, points=read)))
    shapes = [
        [math.dist(a, b) for name in ("rocker", "link") for a, b in itertools.pairwise(one(of, name).points)]
        for of in found.values()
    ]
    assert len(shapes) == 4
    for shape in shapes:
        assert shape == pytest.approx(shapes[0])


def test_each_run_of_the_chain_touches_both_pitch_circles() -> None:
    arm = Arm(length_mm=560.0, down_deg=12.0, sprocket_ahead_mm=55.0, sprocket_above_mm=12.0)
    found = list(arm_points(arm, 318.0, (38.2, 111.3)))
    circles = [(part.points[0], part.radius_mm) for part in found if part.name == "sprocket"]
    runs = [part.points for part in found if part.name == "chain"]
    assert len(runs) == 2
    for run in runs:
        for centre, radius in circles:
            assert _from_line(centre, run) == pytest.approx(radius)
    upper = max(runs, key=lambda run: run[0][1])
    rear, front = (centre for centre, _ in circles)
    line = upper_run(rear, 111.3, front, 38.2)
    assert upper[0] == pytest.approx((line.x_mm, line.z_mm))


def test_the_axis_lies_the_offset_behind_the_leg() -> None:
    found = {part.name: part.points for part in side_points(STANDS, 500.0)}
    assert _from_line(found["leg"][0], found["axis"]) == pytest.approx(30.0)
    assert found["axis"][0][0] - 1400.0 == pytest.approx(ground_trail(300.0, 24.0, 30.0))


def _from_line(point: Point, line: tuple[Point, ...]) -> float:
    (x0, z0), (x1, z1) = line
    return abs((x1 - x0) * (point[1] - z0) - (z1 - z0) * (point[0] - x0)) / math.dist(*line)
