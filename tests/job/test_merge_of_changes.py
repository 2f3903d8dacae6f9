"""Two copies of a job with changes judged by riding: no verdict and no change vanishes without a question."""

from __future__ import annotations

from dataclasses import replace

import pytest

from complete_job import complete_job
from stanchion.job.change import ChangeToRide, Move
from stanchion.job.edit import Edit, apply
from stanchion.job.merge import merge
from stanchion.job.model import Job

BASE = apply(complete_job(), Edit(("runs", 1, "verdict"), "not_said"))
TWO_OUT = ChangeToRide(moves=(Move(path="rear.rebound.now", was="12.0", becomes="10.0"),))
HIGHER = ChangeToRide(moves=(Move(path="front.fork_height_mm", was="5.0", becomes="7.0"),))


def told(verdict: str, job: Job = BASE) -> Job:
    return apply(job, Edit(("runs", 1, "verdict"), verdict))


@pytest.mark.parametrize("swapped", [False, True])
def test_a_verdict_given_in_one_copy_is_in_the_joined_one_beside_what_the_other_recorded(swapped: bool) -> None:
    lap = apply(BASE, Edit(("runs", 1, "best_lap_s"), 91.2))
    pair = (lap, told("worse")) if swapped else (told("worse"), lap)
    joined = merge(*pair, BASE)
    assert [(run.verdict, run.best_lap_s) for run in joined.job.runs[1:]] == [("worse", 91.2)]
    assert joined.job.runs[1].change == BASE.runs[1].change
    assert not joined.open


@pytest.mark.parametrize("base", [BASE, None])
def test_of_two_verdicts_on_one_run_both_are_kept(base: Job | None) -> None:
    joined = merge(told("better"), told("worse"), base)
    assert sorted(run.verdict for run in joined.job.runs[1:]) == ["better", "worse"]
    assert len(joined.job.runs) == len(BASE.runs) + 1


def test_a_change_recorded_in_one_copy_is_in_the_joined_one() -> None:
    none = replace(BASE, changes=())
    joined = merge(replace(none, changes=(TWO_OUT,)), told("same", none), none)
    assert (joined.job.changes, joined.job.runs[1].verdict) == ((TWO_OUT,), "same")
    assert not joined.open


def test_of_two_different_changes_it_is_asked_which_one_counts() -> None:
    none = replace(BASE, changes=())
    joined = merge(replace(none, changes=(TWO_OUT,)), replace(none, changes=(HIGHER,)), none)
    (open_choice,) = joined.open
    assert open_choice.path == ("changes",)
    chosen = merge(replace(none, changes=(TWO_OUT,)), replace(none, changes=(HIGHER,)), none, {("changes",): "right"})
    assert chosen.job.changes == (HIGHER,)
    assert not chosen.open
