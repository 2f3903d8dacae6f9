"""The round at swingarm, sprockets and chain: its order, what it asks for, and what it gives."""

from __future__ import annotations

from dataclasses import replace

import make_samples
from judgement_jobs import PROFILES, put
from stanchion.bench.guided_measuring import missing
from stanchion.bench.guided_readings import Guided
from stanchion.bench.session import Session
from stanchion.bench.swingarm_round import swingarm_steps
from stanchion.job.model import Drive, Job, Swingarm
from stanchion.judgement.assess import assess
from stanchion.ui.swingarm_lines import of_swingarm, swingarm_outcome

MEASURED = make_samples.well_set()
BARE = replace(MEASURED, swingarm=Swingarm(), drive=Drive(chain="520"))
"""The invented sport machine without its swingarm; the sprockets are known."""


def outcome(job: Job) -> list[str]:
    return [line.plain for line in swingarm_outcome(Session(job, PROFILES), job, assess(job, PROFILES))]


def test_all_with_the_tape_first_then_what_is_counted() -> None:
    assert [step.path[-1] for step in swingarm_steps(BARE)] == [
        "pivot_to_axle_mm",
        "pivot_up_mm",
        "sprocket_up_mm",
        "sprocket_ahead_mm",
        "front_teeth",
        "rear_teeth",
        "links",
        "axle_forward_mm",
        "axle_back_mm",
    ]
    assert all(of_swingarm(step) for step in swingarm_steps(BARE))


def test_sags_are_asked_for_where_it_stands_otherwise_than_for_the_geometry() -> None:
    asked = [step.path[-1] for step in swingarm_steps(put(BARE, swingarm__measured="static"))]
    assert asked[4:6] == ["front_sag_mm", "rear_sag_mm"]


def test_it_says_what_is_missing_until_anti_squat_is_known() -> None:
    assert "needs pivot to rear axle, pivot above ground" in outcome(BARE)[-1]
    assert {step.path[-1] for step in missing(swingarm_steps(BARE), BARE)} == {
        "pivot_to_axle_mm",
        "pivot_up_mm",
        "sprocket_up_mm",
        "sprocket_ahead_mm",
    }
    assert outcome(MEASURED)[-1].endswith("120 %")
    assert not missing(swingarm_steps(MEASURED), MEASURED)


def test_the_round_begins_at_the_first_reading_that_is_missing() -> None:
    half = put(BARE, swingarm__pivot_to_axle_mm=560.0)
    walk = Guided(Session(half, PROFILES), "swingarm")
    assert walk.field == ("swingarm", "pivot_up_mm")
