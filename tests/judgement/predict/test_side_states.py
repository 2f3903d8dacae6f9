"""The machine from the side in its states: every part where the figures say that it is."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from judgement_jobs import judged
from sheet_jobs import JOBS
from stanchion.job.model import Job, Weights
from stanchion.judgement.predict.side_points import side_points
from stanchion.judgement.predict.side_states import side_states
from stanchion.judgement.results.side import Point, SidePart, SideState
from stanchion.mechanics.geometry import Baseline, ground_trail

JOB = JOBS["well_set"]
STANDS = Baseline(rake_deg=24.0, offset_mm=30.0, wheelbase_mm=1400.0, front_radius_mm=300.0, rear_radius_mm=310.0)


def states(job: Job) -> dict[str, SideState]:
    return {of.state: of for of in side_states(job, judged(job))}


def one(of: SideState, name: str) -> SidePart:
    (found,) = [part for part in of.parts if part.name == name]
    return found


def test_every_state_is_there_once_all_is_recorded() -> None:
    assert list(states(JOB)) == ["static", "rider", "brakes", "gas"]


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


def test_the_axis_lies_the_offset_behind_the_leg() -> None:
    found = {part.name: part.points for part in side_points(STANDS, 500.0)}
    assert _from_line(found["leg"][0], found["axis"]) == pytest.approx(30.0)
    assert found["axis"][0][0] - 1400.0 == pytest.approx(ground_trail(300.0, 24.0, 30.0))


def _from_line(point: Point, line: tuple[Point, ...]) -> float:
    (x0, z0), (x1, z1) = line
    return abs((x1 - x0) * (point[1] - z0) - (z1 - z0) * (point[0] - x0)) / math.dist(*line)
