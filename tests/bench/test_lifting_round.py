"""The round that finds the height of the centre of mass: its order, what it asks for, and what it says at the end."""

from __future__ import annotations

import math
import textwrap
from dataclasses import replace

import pytest

import make_samples
from judgement_jobs import PROFILES, judged
from stanchion.bench.guided_measuring import first_open, missing
from stanchion.bench.guided_readings import Guided
from stanchion.bench.lifting_round import LEAST_BLOCKS, lifting_steps
from stanchion.bench.session import Session
from stanchion.job.edit import spec_at
from stanchion.job.model import Balance, Job, Lift, Path
from stanchion.job.spec import Number
from stanchion.judgement.criteria.thresholds import MOST_LIFT_DEG
from stanchion.judgement.predict.balance import wheel_weights
from stanchion.judgement.predict.lift_improvement import lift_improvement
from stanchion.mechanics.mass_centre import lift_angle
from stanchion.ui.lifting_lines import lifting_end
from stanchion.wording.finding_words import FINDINGS

JOB = replace(make_samples.well_set(), balance=Balance())
"""The invented sport machine: weighed alone and with its rider, not lifted."""
LIFTS = (Lift(raised_mm=250.0, alone_kg=81.0, aboard_kg=115.0), Lift(raised_mm=400.0, alone_kg=77.5, aboard_kg=110.0))


def lifted(*lifts: Lift) -> Job:
    return replace(JOB, balance=Balance(lifts=lifts, blocked="yes"))


def end(job: Job) -> str:
    return " ".join(line.plain for line in lifting_end(Session(job, PROFILES), 60))


def test_level_first_then_blocked_then_block_by_block() -> None:
    assert [step.path[-1] for step in lifting_steps(Job())] == [
        "wheelbase_mm",
        "front_radius_mm",
        "rear_radius_mm",
        "front_alone_kg",
        "rear_alone_kg",
        "front_aboard_kg",
        "rear_aboard_kg",
        "blocked",
        "raised_mm",
        "alone_kg",
        "aboard_kg",
    ]
    assert [step.path[2] for step in lifting_steps(lifted(*LIFTS)) if step.path[-1] == "raised_mm"] == [0, 1, 2]
    most = lifted(*(Lift(raised_mm=250.0 + at) for at in range(6)))
    assert len([1 for step in lifting_steps(most) if step.path[-1] == "raised_mm"]) == 6


@pytest.mark.parametrize("job", [Job(), lifted(*LIFTS)], ids=["empty", "lifted"])
def test_every_reading_s_words_fit_the_smallest_screen_and_lifting_names_its_dangers(job: Job) -> None:
    for step in lifting_steps(job):
        assert step.confirms or isinstance(spec_at(step.path), Number)
        assert len(step.title) <= 15
        assert len(textwrap.wrap(step.do, 48)) + len(textwrap.wrap(step.read, 48)) <= 3, step
        if step.path[0] == "balance":
            assert step.caution == "lift_front"
    raised = next(step.do for step in lifting_steps(job) if step.path[-1] == "raised_mm")
    assert all(words in raised for words in ("Two people", "tied down", "chocked"))


def test_two_blocks_are_asked_for_and_a_third_may_be_left_out() -> None:
    assert first_open(lifting_steps(JOB), JOB) == 7
    for count, open_ones in ((0, ["raised_mm", "alone_kg"]), (1, ["raised_mm", "alone_kg"]), (LEAST_BLOCKS, [])):
        job = lifted(*LIFTS[:count])
        assert [step.path[-1] for step in missing(lifting_steps(job), job)] == open_ones
    aboard_only = lifted(*(replace(lift, alone_kg=None) for lift in LIFTS))
    assert not missing(lifting_steps(aboard_only), aboard_only)


def at(walk: Guided) -> Path:
    assert walk.field is not None
    return walk.field


def test_enter_confirms_that_it_is_blocked_and_typing_there_does_nothing() -> None:
    walk = Guided(Session(JOB, PROFILES), "lifting")
    assert at(walk) == ("balance", "blocked")
    walk.take()
    assert walk.session.job.balance.blocked == "yes"
    assert at(walk) == ("balance", "lifts", 0, "raised_mm")
    for text in ("250", "81", "115", "400", "77.5", "110"):
        walk.type(text)
        walk.take()
    assert walk.session.job.balance == Balance(lifts=LIFTS, blocked="yes")
    assert at(walk) == ("balance", "lifts", 2, "raised_mm")
    walk.back()
    assert at(walk) == ("balance", "lifts", 1, "aboard_kg")


def test_a_reading_that_goes_the_wrong_way_is_questioned_at_once() -> None:
    walk = Guided(Session(lifted(Lift(raised_mm=400.0)), PROFILES), "lifting")
    assert at(walk) == ("balance", "lifts", 0, "alone_kg")
    walk.type("99")
    walk.take()
    assert walk.hindrance == "doubtful"
    assert at(walk) == ("balance", "lifts", 0, "alone_kg")
    assert {"lift_reads_more"} == {finding.code for finding in walk.fresh_doubts}
    assert "lift_reads_more" in FINDINGS


def test_the_end_gives_the_height_with_its_uncertainty_and_what_would_lower_it() -> None:
    job = lifted(*LIFTS)
    words = end(job)
    found = wheel_weights(job, judged(job), "rider")
    better = lift_improvement(job, judged(job), "rider")
    assert found.height_mm.value is not None
    assert f"{found.height_mm.value:.1f} mm ± {found.height_expanded_mm.value:.1f} mm" in words
    assert better is not None
    assert f"One more block, 450.0 mm, would make it ± {better.higher_mm:.1f} mm" in words
    assert "not lifted" not in words
    assert "lift the front wheel on to a block" in end(JOB)


def test_what_is_promised_of_one_more_block_is_what_it_then_gives() -> None:
    """A third block whose reading lies on the line of the others, worked out from the height found."""
    job = lifted(*LIFTS)
    a = judged(job)
    better, found = lift_improvement(job, a, "rider"), wheel_weights(job, a, "rider")
    assert better is not None
    assert better.higher_mm is not None
    assert better.raised_mm is not None
    assert better.higher_mm < better.again_mm < (found.height_expanded_mm.value or 0.0)
    geometry = job.geometry
    front, rear = geometry.front_radius_mm or 0.0, geometry.rear_radius_mm or 0.0
    wheelbase = (found.ahead_mm.value or 0.0) * 246.0 / 123.0
    tangent = math.tan(math.radians(lift_angle(better.raised_mm, wheelbase, front, rear)))
    on_line = 246.0 * ((found.ahead_mm.value or 0.0) - ((found.height_mm.value or 0.0) - rear) * tangent)
    on_line /= wheelbase - (front - rear) * tangent
    more = lifted(*LIFTS, Lift(raised_mm=better.raised_mm, aboard_kg=on_line))
    assert wheel_weights(more, judged(more), "rider").height_expanded_mm.value == pytest.approx(better.higher_mm)


def test_no_block_is_proposed_that_lifts_it_too_far_and_scatter_is_called_scatter() -> None:
    high = lifted(Lift(raised_mm=400.0, aboard_kg=110.0), Lift(raised_mm=480.0, aboard_kg=107.5))
    better = lift_improvement(high, judged(high), "rider")
    assert better is not None
    assert better.raised_mm is None
    assert lift_angle(580.0, 1370.0, 298.5, 318.0) > MOST_LIFT_DEG
    rough = lifted(*(Lift(raised_mm=mm, aboard_kg=kg) for mm, kg in ((250.0, 116.5), (350.0, 110.0), (450.0, 109.0))))
    scatters = lift_improvement(rough, judged(rough), "rider")
    assert scatters is None or scatters.scatters
    assert "scatter more than the scale explains" in end(rough) or "in doubt" in end(rough)
    assert lift_improvement(JOB, judged(JOB), "rider") is None
