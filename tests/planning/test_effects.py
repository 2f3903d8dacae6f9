"""What one step of each adjustment does, held against the same step taken in the job."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from judgement_jobs import FULL, PROFILES, assert_reasons, judged, put
from stanchion.job.model import ENDS, STATES, Job, SagEnd
from stanchion.judgement.ends.fork_model import fork_model, with_air_gap
from stanchion.planning.effects import STEPS, Effect, effects
from stanchion.planning.whatif import compare
from stanchion.wording.finding_words import reason
from strategies import jobs

COS = math.cos(math.radians(24.0))
MACHINE = put(
    FULL,
    geometry__rake_deg=24.0,
    geometry__offset_mm=30.0,
    geometry__wheelbase_mm=1400.0,
    geometry__front_radius_mm=298.5,
    geometry__rear_radius_mm=315.0,
    geometry__fork_height_mm=5.0,
    front__fork_height_mm=5.0,
    geometry__length_adjuster_mm=0.0,
    rear__length_adjuster_mm=0.0,
    front__travel_mm=120.0,
    front__left__air_gap_mm=110.0,
    front__stanchion_outer_mm=43.0,
    front__stanchion_inner_mm=39.0,
    rear__wheel_travel_mm=125.0,
    weights__front_unsprung_kg=15.0,
    weights__rear_unsprung_kg=18.0,
    weights__front_alone_kg=88.0,
    weights__front_aboard_kg=120.0,
    weights__rear_alone_kg=88.0,
    weights__rear_aboard_kg=126.0,
)

SAME_STEP: dict[str, dict[str, Any]] = {
    "front_turn": {"front__left__adjuster__now": 5.0},
    "rear_turn": {"rear__collar__now": 3.0},
    "fork_height": {"front__fork_height_mm": 6.0},
    "shock_length": {"rear__length_adjuster_mm": 1.0},
    "air_gap": {"front__left__air_gap_mm": 115.0},
}


def effect(job: Job, code: str) -> Effect:
    every = effects(job, judged(job))
    assert_reasons(every)
    [found] = [each for each in every if each.step.code == code]
    return found


HELD_BACK = put(
    MACHINE,
    front__top_out__fitted="yes",
    front__top_out__rate_n_per_mm=30.0,
    front__top_out__works_over_mm=20.0,
    rear__top_out__fitted="yes",
    rear__top_out__rate_n_per_mm=150.0,
    rear__top_out__works_over_mm=8.0,
)
"""Top-out springs that hold both ends in where they hang, the further the less preload there is."""


@pytest.mark.parametrize("machine", [MACHINE, HELD_BACK])
@pytest.mark.parametrize("code", [step.code for step in STEPS])
def test_an_effect_is_what_the_same_step_taken_in_the_job_does(machine: Job, code: str) -> None:
    shown = effect(machine, code)
    taken = compare(machine, put(machine, **SAME_STEP[code]), PROFILES)
    for end in ENDS:
        rise = shown.front_rise_mm if end == "front" else shown.rear_rise_mm
        assert rise.value == pytest.approx(taken.row((end,), "rise").change, abs=1e-9)
        for state in STATES:
            expected = taken.row((end,), f"{state}_captured").change
            assert shown.sag_mm[end, state].value == pytest.approx(expected, abs=1e-9)
    for name in ("rake_deg", "trail_mm", "wheelbase_mm"):
        assert getattr(shown, name).value == pytest.approx(taken.row(("geometry",), name).change, abs=1e-9)


def test_a_turn_of_each_leg_adds_what_its_own_thread_gives() -> None:
    """Left 0.5 mm a turn, right 1 mm: 0.75 mm in the mean; with none at the right a quarter (no air, by hand)."""
    dry = put(MACHINE, front__left__air_gap_mm=None)
    apart = put(dry, front__right=dry.front.left)
    coarse = put(apart, front__right__adjuster__total_turns=8.0, front__right__adjuster__now=2.0)
    alone = put(apart, front__right__adjuster__counting="none", front__right__spring__set_length_mm=236.0)
    for job, rise_mm in ((dry, 0.5), (coarse, 0.75), (alone, 0.25)):
        assert effect(job, "front_turn").front_rise_mm.value == pytest.approx(rise_mm * COS)


def test_a_turn_in_lifts_and_a_higher_tube_lowers_the_front() -> None:
    turn, height = effect(MACHINE, "front_turn"), effect(MACHINE, "fork_height")
    assert turn.front_rise_mm.value is not None
    assert 0.0 < turn.front_rise_mm.value < 0.5 * COS  # a little less than 0.5 mm a turn: the air gives way
    assert height.front_rise_mm.value == pytest.approx(-COS)
    assert height.sag_mm["front", "rider"].value == 0.0


def test_nose_down_steps_take_rake_and_trail_away() -> None:
    for code in ("fork_height", "shock_length", "rear_turn", "air_gap"):
        shown = effect(MACHINE, code)
        assert shown.rake_deg.value is not None
        assert shown.trail_mm.value is not None
        assert shown.rake_deg.value < 0.0
        assert shown.trail_mm.value < 0.0


def test_a_larger_air_gap_lets_the_fork_further_in() -> None:
    shown = effect(MACHINE, "air_gap")
    assert shown.step.amount == 5.0
    assert shown.sag_mm["front", "rider"].value is not None
    assert shown.sag_mm["front", "rider"].value > 0.0
    assert shown.sag_mm["rear", "rider"].value == 0.0


def test_an_air_gap_that_leaves_no_air_is_no_fork() -> None:
    model = fork_model(MACHINE, judged(MACHINE).front)
    assert with_air_gap(model, -200.0) is None
    assert with_air_gap(model, 5.0) is not None


def test_geometry_moves_too_where_the_shock_was_made_longer_since_the_baseline() -> None:
    longer = put(MACHINE, rear__length_adjuster_mm=2.0)
    taken = compare(longer, put(longer, front__fork_height_mm=6.0), PROFILES)
    shown = effect(longer, "fork_height")
    assert shown.rake_deg.value == pytest.approx(taken.row(("geometry",), "rake_deg").change, abs=1e-9)


def test_a_turn_is_told_even_where_the_adjuster_is_at_its_end() -> None:
    assert effect(put(MACHINE, front__left__adjuster__now=16.0), "front_turn").front_rise_mm.known


def test_without_an_adjuster_or_air_it_says_so() -> None:
    plain = put(MACHINE, front__left__adjuster__counting="none", front__left__air_gap_mm=None)
    assert reason(effect(plain, "front_turn").front_rise_mm) == "there is no adjuster"
    assert reason(effect(plain, "air_gap").front_rise_mm) == "needs air gap"
    assert effect(plain, "fork_height").front_rise_mm.known
    no_room = put(MACHINE, front__left__air_gap_mm=20.0, front__left__solids_ml=200.0)
    assert reason(effect(no_room, "air_gap").front_rise_mm) == "the trapped air cannot be as recorded"
    upright = put(MACHINE, geometry__rake_deg=None)
    assert effect(upright, "fork_height").front_rise_mm.needs == (("geometry", "rake_deg"),)


def test_heights_are_told_without_any_load_or_sag() -> None:
    bare = put(MACHINE, weights=type(MACHINE.weights)(), sag__front=SagEnd(), sag__rear=SagEnd())
    shown = effect(bare, "shock_length")
    assert shown.state == "extended"
    assert shown.rear_rise_mm.value == pytest.approx(2.5)
    assert shown.rake_deg.known
    assert not effect(bare, "rear_turn").rear_rise_mm.known


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(jobs())
def test_any_job_has_effects_or_reasons(job: Job) -> None:
    for shown in effects(job, judged(job)):
        figures = [*shown.sag_mm.values(), shown.front_rise_mm, shown.rear_rise_mm, shown.rake_deg, shown.trail_mm]
        for figure in figures:
            assert math.isfinite(figure.value) if figure.value is not None else reason(figure)
