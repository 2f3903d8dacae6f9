"""Each measurement is noted with the chain and tyres that were fitted."""

from __future__ import annotations

from dataclasses import replace

import pytest

from complete_job import CHAIN_AND_TYRES, complete_job
from stanchion.job.measured import carried_along, changed_since_read, noted, on_now
from stanchion.job.model import ChainAndTyres, Geometry, Job, LinkagePair, Path, Readings, Swingarm

OTHER = replace(complete_job(), upkeep=replace(complete_job().upkeep, front_teeth=16.0))


def test_what_is_on_now_is_what_upkeep_says() -> None:
    assert on_now(complete_job().upkeep) == CHAIN_AND_TYRES


@pytest.mark.parametrize(
    ("path", "name"),
    [
        (("rear", "motion_ratio"), "ratio_with"),
        (("rear", "linkage", 0, "wheel_mm"), "ratio_with"),
        (("geometry", "rake_deg"), "geometry_with"),
        (("swingarm", "pivot_up_mm"), "swingarm_with"),
    ],
)
def test_a_measurement_entered_belongs_to_what_is_on_now(path: Path, name: str) -> None:
    after = noted(OTHER, path)
    assert getattr(after.upkeep, name) == on_now(OTHER.upkeep)
    for other in {"ratio_with", "geometry_with", "swingarm_with"} - {name}:
        assert getattr(after.upkeep, other) == CHAIN_AND_TYRES
    assert replace(after, upkeep=OTHER.upkeep) == OTHER


def test_any_other_entry_notes_nothing() -> None:
    assert noted(OTHER, ("rear", "stroke_mm")) is OTHER


def test_the_next_occasion_takes_what_was_not_known_from_what_was_on() -> None:
    job = replace(OTHER, upkeep=replace(OTHER.upkeep, ratio_with=ChainAndTyres(front_teeth=15.0)))
    along = carried_along(job)
    assert along.ratio_with == CHAIN_AND_TYRES
    assert along.geometry_with == CHAIN_AND_TYRES
    assert along.swingarm_with == CHAIN_AND_TYRES


def test_what_was_never_measured_is_noted_with_nothing() -> None:
    rear = replace(OTHER.rear, motion_ratio=None, linkage=())
    along = carried_along(replace(OTHER, rear=rear, geometry=Geometry(), swingarm=Swingarm()))
    assert {along.ratio_with, along.geometry_with, along.swingarm_with} == {ChainAndTyres()}
    pairs: Job = replace(OTHER, rear=replace(rear, linkage=(LinkagePair(wheel_mm=0.0, shock_mm=0.0),)))
    assert carried_along(pairs).ratio_with != ChainAndTyres()


def test_sag_is_read_with_the_springs_and_preload_that_are_in_and_is_old_once_they_are_not() -> None:
    read = noted(complete_job(), ("sag", "rear", "rider", "down_mm", 0))
    rear = read.rear
    assert rear.collar.now is not None
    assert read.sag.rear.rider.preload_at == (rear.collar.now,)
    assert read.sag.rear.static == complete_job().sag.rear.static
    assert not changed_since_read(read, "rear", "rider")
    turned = replace(read, rear=replace(rear, collar=replace(rear.collar, now=rear.collar.now + 1.0)))
    assert changed_since_read(turned, "rear", "rider")
    assert not changed_since_read(turned, "rear", "static")  # with what that was read is not known
    other = replace(read, rear=replace(rear, spring=replace(rear.spring, rate_n_per_mm=1.0)))
    assert changed_since_read(other, "rear", "rider")
    forgotten = replace(read, rear=replace(rear, collar=replace(rear.collar, now=None)))
    assert not changed_since_read(forgotten, "rear", "rider")


def test_readings_taken_away_were_read_with_nothing() -> None:
    job = complete_job()
    read = noted(job, ("sag", "front", "static", "down_mm", 0))
    assert read.sag.front.static.rates_n_per_mm
    empty = replace(read.sag.front.static, down_mm=(), up_mm=())
    emptied = replace(read, sag=replace(read.sag, front=replace(read.sag.front, static=empty)))
    assert noted(emptied, ("sag", "front", "static", "down_mm", 0)).sag.front.static == Readings()


def turned(job: Job, to: float | None) -> Job:
    return replace(job, rear=replace(job.rear, collar=replace(job.rear.collar, now=to)))


def test_sag_that_does_not_say_what_it_was_read_with_was_read_with_what_is_replaced() -> None:
    before = turned(complete_job(), 3.0)
    assert before.sag.rear.rider.preload_at == ()
    after = noted(turned(before, 5.0), ("rear", "collar", "now"), before)
    assert after.sag.rear.rider.preload_at == after.sag.rear.static.preload_at == (3.0,)
    assert changed_since_read(after, "rear", "rider")
    assert after.sag.front == before.sag.front
    again = noted(turned(after, 6.0), ("rear", "collar", "now"), after)
    assert again.sag == after.sag  # they say it by now
    assert not changed_since_read(turned(again, 3.0), "rear", "rider")


def test_what_is_entered_where_nothing_was_makes_no_sag_old() -> None:
    unknown = turned(complete_job(), None)
    assert noted(turned(unknown, 5.0), ("rear", "collar", "now"), unknown).sag == unknown.sag


def test_a_position_emptied_and_entered_anew_is_compared_with_the_one_before() -> None:
    before = turned(complete_job(), 3.0)
    emptied = noted(turned(before, None), ("rear", "collar", "now"), before)
    assert changed_since_read(turned(emptied, 5.0), "rear", "rider")


def test_positions_counted_another_way_are_not_compared() -> None:
    before = noted(turned(complete_job(), 3.0), ("sag", "rear", "rider", "down_mm", 0))
    collar = replace(before.rear.collar, counting="mm")
    recounted = noted(replace(before, rear=replace(before.rear, collar=collar)), ("rear", "collar", "counting"), before)
    emptied = noted(turned(recounted, None), ("rear", "collar", "now"), before)
    assert emptied.sag.rear.rider.preload_at == ()
    assert emptied.sag.rear.rider.rates_n_per_mm == before.sag.rear.rider.rates_n_per_mm
    assert not changed_since_read(turned(emptied, 12.0), "rear", "rider")


def spaced(job: Job, spacer: float | None, washers: tuple[float, ...] = ()) -> Job:
    left = replace(job.front.left, stack=replace(job.front.left.stack, spacer_mm=spacer, washers_mm=washers))
    return replace(job, front=replace(job.front, left=left))


def test_sag_is_old_once_a_spacer_was_changed_or_a_washer_added() -> None:
    read = noted(spaced(complete_job(), 100.0, (1.5,)), ("sag", "front", "rider", "down_mm", 0))
    assert read.sag.front.rider.stacks_mm[0] == 100.0 + 1.5 + sum(read.front.left.stack.seats_mm)
    assert len(read.sag.front.rider.stacks_mm) == 2
    assert not changed_since_read(read, "front", "rider")
    assert changed_since_read(spaced(read, 105.0, (1.5,)), "front", "rider")
    assert changed_since_read(spaced(read, 100.0, (1.5, 1.5)), "front", "rider")
    assert not changed_since_read(spaced(read, 98.5, (1.5, 1.5)), "front", "rider")  # the same height of other pieces
    assert not changed_since_read(spaced(read, None, (1.5,)), "front", "rider")


def test_a_spacer_changed_over_sag_that_does_not_say_it_leaves_it_read_with_the_old_one() -> None:
    before = spaced(complete_job(), 100.0)
    path = ("front", "left", "stack", "spacer_mm")
    after = noted(spaced(before, 105.0), path, before)
    assert changed_since_read(after, "front", "rider")
    assert changed_since_read(after, "front", "static")
    unknown = spaced(complete_job(), None)
    assert noted(spaced(unknown, 105.0), path, unknown).sag == unknown.sag
    assert noted(spaced(before, 105.0), path, before).sag.rear == before.sag.rear
