"""Changes judged by riding: recorded, made, ridden, and taken back, one state after the other."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given, settings

from complete_job import complete_job
from judgement_jobs import FULL, put
from stanchion.job.change import ChangeToRide, Move
from stanchion.job.codec import dumps, loads
from stanchion.job.diff import differences
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job
from stanchion.job.proof import (
    AT,
    differences_of,
    holds,
    listed,
    made,
    moves_of,
    stamps_after,
    with_change,
    without_unmade,
)
from stanchion.job.returning import returning, setup_of
from strategies import jobs

NOON = dt.datetime(2026, 5, 31, 12, 0)
LATER = dt.datetime(2026, 5, 31, 12, 40)
TWO_OUT = ChangeToRide(moves=(Move(path="rear.rebound.now", was="10.0", becomes="12.0"),))
START = put(FULL, rear__rebound__now=10.0)


def applied(job: Job, edits: tuple[Edit, ...]) -> Job:
    for edit in edits:
        job = apply(job, edit)
    return job


def with_planned(job: Job = START) -> Job:
    return replace(job, changes=with_change(job, TWO_OUT, None))


@given(jobs(), jobs())
@settings(max_examples=60, deadline=None)
def test_the_moves_of_a_change_are_read_as_they_were_recorded(one: Job, other: Job) -> None:
    """The machine after a change has it, and the one before has not."""
    then = replace(one, front=other.front, rear=other.rear)
    between = differences(one, then)
    change = ChangeToRide(moves=moves_of(between))
    read = differences_of(change)
    assert len(read) == len(change.moves), "a move that was recorded cannot be read"
    assert all(one in between for one in read)
    assert holds(then, change) == bool(read)
    assert not holds(one, change)


def test_a_change_survives_its_file() -> None:
    job = complete_job()
    assert loads(dumps(job)).job == job
    assert differences_of(job.changes[0])[0].new == 14.0


@pytest.mark.parametrize(
    "move",
    [
        Move(path="rear.rebound.here", was="10.0", becomes="12.0"),
        Move(path="rear.rebound.now", was="10.0", becomes="twelve"),
        Move(path="rear.rebound.now", was="10.0", becomes="1e999"),
        Move(path="rear.linkage", was="[]", becomes="[]"),
        Move(path="", was="", becomes=""),
        Move(path="rear.rebound.now", was="[10.0]", becomes="{}"),
    ],
)
def test_a_move_spoilt_by_hand_is_left_out(move: Move) -> None:
    assert differences_of(ChangeToRide(moves=(move,))) == ()
    assert not holds(START, ChangeToRide(moves=(move,)))


def test_a_tick_stamps_a_planned_change_and_taking_the_tick_back_removes_the_stamp() -> None:
    job = with_planned()
    assert (job.changes[0].made_on, made(job)) == (None, ())
    tick = (Edit(("rear", "rebound", "now"), 12.0),)
    done = applied(job, (*tick, *stamps_after(job, tick, NOON)))
    assert (done.changes[0].made_on, done.changes[0].made_at) == (NOON.date(), "12:00")
    assert made(done) == done.changes
    again = applied(done, stamps_after(done, (), LATER))
    assert again == done, "a later tick does not change the time of an earlier one"
    back = (Edit(("rear", "rebound", "now"), 10.0),)
    assert applied(done, (*back, *stamps_after(done, back, LATER))) == job


def test_putting_the_list_away_forgets_what_was_not_made() -> None:
    job = with_planned()
    assert without_unmade(job) == (Edit(AT, ()),)
    made_now = replace(START, changes=with_change(START, TWO_OUT, NOON))
    assert without_unmade(made_now) == ()


def test_other_teeth_on_the_work_list_are_a_change_too() -> None:
    job = put(START, upkeep__rear_teeth=44.0)
    then = put(job, upkeep__rear_teeth=46.0)
    teeth = ChangeToRide(moves=(Move(path="upkeep.rear_teeth", was="44.0", becomes="46.0"),))
    begun = returning(job, setup_of(then), job="", run=None, title="")
    assert listed(replace(job, changes=(teeth,), returning=begun))
    assert not listed(replace(job, returning=begun))
