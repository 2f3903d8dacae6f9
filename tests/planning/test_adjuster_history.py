"""What the runs say of one adjuster."""

from __future__ import annotations

from dataclasses import replace

from complete_job import complete_job
from judgement_jobs import put
from stanchion.job.model import Clicker, Job, Path
from stanchion.job.runs import ridden_at
from stanchion.planning.adjuster_history import Ridden, ridden

REBOUND: Path = ("rear", "rebound", "now")


def with_rebound(*positions: float | None, unit: str = "clicks") -> Job:
    """A job that was ridden with the shock's rebound at these positions."""
    job = complete_job()
    runs = tuple(
        replace(job.runs[0], rear=put(job, rear__rebound=Clicker(now=now, total=24.0, unit=unit)).rear)
        for now in positions
    )
    return replace(job, runs=runs)


def test_the_last_change_is_the_latest_between_two_runs_that_follow_each_other() -> None:
    found = ridden(with_rebound(12.0, 10.0, 10.0, 9.0, 9.0), REBOUND)
    assert (found.first, found.last) == (12.0, 9.0)
    assert found.change is not None
    assert (found.change.run, found.change.change.old, found.change.change.new, found.change.others) == (
        3,
        10.0,
        9.0,
        (),
    )


def test_what_else_was_changed_is_said_without_the_same_adjuster_of_the_other_leg() -> None:
    job = complete_job()
    now = put(job, front__left__rebound__now=8.0, front__right__rebound__now=8.0, front__fork_height_mm=4.0).front
    found = ridden(
        replace(job, runs=(job.runs[0], replace(job.runs[0], front=now))), ("front", "left", "rebound", "now")
    )
    assert found.change is not None
    assert [one.path for one in found.change.others] == [("front", "fork_height_mm")]


def test_a_run_without_a_position_or_counted_in_something_else_says_nothing() -> None:
    assert ridden(with_rebound(12.0, None, 10.0), REBOUND) == Ridden(first=12.0, last=10.0, change=None)
    assert ridden_at(with_rebound(3.0, 2.0, unit="turns"), REBOUND) == (None, None)
    assert ridden(Job(), REBOUND) == Ridden(first=None, last=None, change=None)
    bare = with_rebound(12.0)
    assert ridden_at(replace(bare, runs=(replace(bare.runs[0], rear=None),)), REBOUND) == (None,)
