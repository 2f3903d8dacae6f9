"""Merging two states of one job: nothing is invented, and what only one of them changed needs no question."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from complete_job import complete_job
from stanchion.job.edit import Edit, apply
from stanchion.job.merge import IDENTITY, RUNS, Merged, Version, likely_base, merge
from stanchion.job.model import Job, Path, Run, Torque
from stanchion.job.spec import Part, specs_of
from strategies import jobs

FULL = complete_job()


def put(job: Job, *edits: tuple[str, Any]) -> Job:
    for path, value in edits:
        steps: Path = tuple(int(step) if step.isdigit() else step for step in path.split("."))
        job = apply(job, Edit(steps, value))
    return job


def with_runs(*times: str, said: str = "") -> Job:
    return replace(FULL, runs=tuple(Run(time=time, said=said) for time in times))


def same_id(job: Job) -> Job:
    return replace(job, job=replace(job.job, id="x", carried_id=""))


def leaves(node: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Every value of a job outside of its runs, lists whole; the right leg as it serves."""
    kind: type = type(node)
    for name, spec in specs_of(kind).items():
        value = node.leg("right") if path == ("front",) and name == "right" else getattr(node, name)
        at = (*path, name)
        if isinstance(spec, Part) and not (spec.optional and path == ()):
            yield from leaves(value, at)
        elif at != RUNS:
            yield at, value


MANY = settings(max_examples=60, deadline=None)


class TestWhatHoldsForAnyJobs:
    @MANY
    @given(jobs(foreign=True), jobs(foreign=True))
    def test_joined_with_its_own_ancestor_a_job_is_as_it_was(self, base: Job, job: Job) -> None:
        base, job = same_id(base), same_id(job)
        assert merge(job, base, base).job == job
        assert merge(base, job, base).job == job
        assert not merge(job, base, base).open

    @MANY
    @given(jobs(foreign=True))
    def test_joined_with_itself_a_job_is_as_it_was(self, job: Job) -> None:
        for base in (None, Job(), job):
            assert merge(job, job, base) == Merged(job, ())

    @MANY
    @given(jobs(), jobs(), jobs(), st.booleans())
    def test_every_value_is_that_of_one_of_the_two(self, base: Job, left: Job, right: Job, known: bool) -> None:
        joined = merge(left, right, base if known else None).job
        ones, others = dict(leaves(left)), dict(leaves(right))
        for path, value in leaves(joined):
            if path[:2] == ("upkeep", "torques"):
                continue
            assert value in (ones[path], others[path]), path
        if not known:
            assert {repr(run) for run in joined.runs} == {repr(run) for run in left.runs + right.runs}

    @MANY
    @given(jobs(), jobs(), jobs())
    def test_which_comes_first_is_no_matter_where_the_ancestor_decides(self, base: Job, left: Job, right: Job) -> None:
        base, left, right = map(same_id, (base, left, right))
        one, other = merge(left, right, base), merge(right, left, base)
        assert {choice.path for choice in one.open} == {choice.path for choice in other.open}
        mirrored: dict[Path, Version] = {choice.path: "right" for choice in one.open}
        assert merge(left, right, base, mirrored).job == other.job

    @MANY
    @given(jobs(), jobs(), st.sampled_from(["left", "right"]))
    def test_all_from_one_side_gives_that_one_but_for_the_runs(self, left: Job, right: Job, side: Version) -> None:
        left, right = same_id(left), same_id(right)
        chosen: dict[Path, Version] = {choice.path: side for choice in merge(left, right).choices}
        joined, wanted = merge(left, right, None, chosen), left if side == "left" else right
        assert not joined.open
        ones, others = dict(leaves(joined.job)), dict(leaves(wanted))
        assert {path: value for path, value in ones.items() if "carried_id" not in path} == {
            path: value for path, value in others.items() if "carried_id" not in path
        }


class TestFields:
    def test_what_only_one_changed_is_taken_from_it_without_a_question(self) -> None:
        one, other = put(FULL, ("front.fork_height_mm", 3.0)), put(FULL, ("rear.rebound.now", 9.0))
        joined = merge(one, other, FULL)
        assert joined.job == put(FULL, ("front.fork_height_mm", 3.0), ("rear.rebound.now", 9.0))
        assert [(c.path[0], c.changed, c.settled) for c in joined.choices] == [
            ("front", "left", True),
            ("rear", "right", True),
        ]

    def test_what_both_changed_is_asked_and_stays_the_left_one_until_then(self) -> None:
        one, other = put(FULL, ("front.fork_height_mm", 3.0)), put(FULL, ("front.fork_height_mm", 8.0))
        joined = merge(one, other, FULL)
        assert (joined.job, [c.changed for c in joined.open]) == (one, ["both"])
        chosen = merge(one, other, FULL, {("front", "fork_height_mm"): "right"})
        assert (chosen.job, chosen.open) == (other, ())

    def test_without_an_ancestor_all_that_differs_is_asked(self) -> None:
        joined = merge(FULL, put(FULL, ("rear.rebound.now", 9.0)))
        assert [(c.path, c.changed) for c in joined.open] == [(("rear", "rebound", "now"), "unknown")]

    def test_a_leg_set_apart_on_one_side_keeps_what_the_other_side_turned(self) -> None:
        one_leg = replace(FULL, front=replace(FULL.front, right=None))
        apart = put(
            replace(one_leg, front=replace(one_leg.front, right=one_leg.front.left)), ("front.right.rebound.now", 3.0)
        )
        joined = merge(put(one_leg, ("front.left.air_gap_mm", 95.0)), apart, one_leg)
        assert not joined.open
        assert joined.job.front.right is not None
        assert (joined.job.front.left.air_gap_mm, joined.job.front.right.air_gap_mm) == (95.0, 95.0)
        assert joined.job.front.right.rebound.now == 3.0

    def test_torques_ticked_on_two_laptops_are_ticked(self) -> None:
        names = tuple(Torque(what=what) for what in ("Front axle", "Rear axle"))
        base = replace(FULL, upkeep=replace(FULL.upkeep, torques=names))
        one, other = put(base, ("upkeep.torques.0.done", True)), put(base, ("upkeep.torques.1.done", True))
        assert [row.done for row in merge(one, other, base).job.upkeep.torques] == [True, True]

    def test_measured_pairs_are_never_mixed(self) -> None:
        one = put(FULL, ("rear.linkage.0.shock_mm", 6.0))
        other = put(FULL, ("rear.linkage.1.shock_mm", 21.0))
        joined = merge(one, other, FULL)
        assert [c.path for c in joined.open] == [("rear", "linkage")]
        assert joined.job.rear.linkage == one.rear.linkage

    def test_the_source_of_a_job_keeps_its_id(self) -> None:
        one = put(FULL, ("job.carried_from", "a.toml"), ("job.carried_id", "a"))
        other = put(FULL, ("job.carried_from", "b.toml"), ("job.carried_id", "b"))
        joined = merge(one, other, None, {("job", "carried_from"): "right"})
        assert (joined.job.job.carried_from, joined.job.job.carried_id) == ("b.toml", "b")

    def test_the_identity_is_no_question(self) -> None:
        joined = merge(put(FULL, ("job.id", "a")), put(FULL, ("job.id", "b")))
        assert (joined.job.job.id, joined.choices) == ("a", ())
        assert IDENTITY == ("job", "id")


class TestRuns:
    def times(self, joined: Merged) -> list[str]:
        return [run.time for run in joined.job.runs]

    def test_runs_of_both_are_kept_in_the_order_of_the_day(self) -> None:
        base = with_runs("09:00")
        joined = merge(with_runs("09:00", "11:00"), with_runs("09:00", "10:00"), base)
        assert (self.times(joined), joined.choices) == (["09:00", "10:00", "11:00"], ())

    def test_one_run_written_down_twice_and_differently_is_kept_twice(self) -> None:
        joined = merge(with_runs("09:00", said="soft"), with_runs("09:00", said="hard"))
        assert sorted(run.said for run in joined.job.runs) == ["hard", "soft"]

    def test_a_run_that_both_filled_in_is_filled_in_by_both(self) -> None:
        base = with_runs("09:00")
        one, other = put(base, ("runs.0.said", "good")), put(base, ("runs.0.laps", 7.0))
        (run,) = merge(one, other, base).job.runs
        assert (run.said, run.laps) == ("good", 7.0)

    def test_a_run_that_both_changed_alike_in_one_place_is_kept_twice(self) -> None:
        base = with_runs("09:00")
        joined = merge(put(base, ("runs.0.laps", 6.0)), put(base, ("runs.0.laps", 7.0)), base)
        assert sorted(run.laps or 0 for run in joined.job.runs) == [6.0, 7.0]

    def test_a_run_taken_away_by_one_and_changed_by_the_other_is_kept(self) -> None:
        base = with_runs("09:00")
        joined = merge(with_runs("10:00"), put(base, ("runs.0.laps", 7.0)), base)
        assert self.times(joined) == ["09:00", "10:00"]

    def test_more_runs_than_a_job_can_have_are_chosen_as_a_whole(self) -> None:
        many = [with_runs(*(f"{half}{at:02}" for at in range(40))) for half in ("1", "2")]
        joined = merge(many[0], many[1])
        assert [c.path for c in joined.open] == [RUNS]
        assert merge(many[0], many[1], None, {RUNS: "right"}).job.runs == many[1].runs


def test_the_oldest_state_is_taken_for_the_ancestor_and_never_one_of_the_two() -> None:
    common, mine = FULL, put(FULL, ("front.fork_height_mm", 3.0))
    theirs = put(FULL, ("rear.rebound.now", 9.0))
    assert likely_base([common, put(mine, ("front.travel_mm", 99.0))], mine, theirs) is common
    assert likely_base([mine, theirs], mine, theirs) is None
    assert likely_base([], mine, theirs) is None


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_foreign_key_that_both_changed_is_asked(side: Version) -> None:
    one, other = (replace(FULL, unknown=((("front", "x_new"), value),)) for value in (1, 2))
    assert [c.path for c in merge(one, other).open] == [("front", "x_new")]
    chosen = merge(one, other, None, {("front", "x_new"): side})
    assert chosen.job.unknown == (one if side == "left" else other).unknown
