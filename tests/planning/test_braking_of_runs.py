"""The braking that a fork marker stands for: found again from the travel it was predicted to give."""

from __future__ import annotations

from dataclasses import replace

import pytest

import make_samples
from judgement_jobs import PROFILES, judged, put
from stanchion.job.model import Job, Run
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.planning.braking_of_runs import BrakingOfRuns, braking_of_runs, braking_to_look_at
from stanchion.planning.travel_left import travel_left
from stanchion.planning.whatif import compare
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.wording.balance_sentences import ridden_words
from stanchion.wording.finding_words import reason

JOB = replace(make_samples.well_set(), runs=())


def dives_to(job: Job, braking_g: float, *, fast: bool = False) -> float:
    """Fork travel from the hanging wheel that a braking gives."""
    found = brakes_figures(put(job, balance__braking_g=braking_g), judged(job))
    used = (found.fast if fast else found.slow).fork_used_mm.value
    assert used is not None
    return used


def ridden(job: Job, *runs: Run) -> BrakingOfRuns:
    return braking_of_runs(replace(job, runs=runs), PROFILES)


@pytest.mark.parametrize("braking_g", [0.5, 0.8])
def test_a_marker_where_braking_would_put_it_gives_that_braking_back(braking_g: float) -> None:
    slow = ridden(JOB, Run(front_marker_mm=dives_to(JOB, braking_g))).runs[0].slow_g
    fast = ridden(JOB, Run(front_marker_mm=dives_to(JOB, braking_g, fast=True))).runs[0].fast_g
    assert slow.value == pytest.approx(braking_g, abs=1e-6)
    assert fast.value == pytest.approx(braking_g, abs=1e-6)
    assert slow.estimate


def test_each_run_is_taken_with_the_springs_it_was_ridden_with() -> None:
    softer = put(JOB, front__left__spring__rate_n_per_mm=9.0)
    marker = dives_to(JOB, 0.7)
    found = ridden(JOB, Run(front_marker_mm=marker), Run(front_marker_mm=marker, front=softer.front))
    first, second = (run.slow_g.value or 0.0 for run in found.runs)
    assert first == pytest.approx(0.7, abs=1e-6)
    assert 0.4 < second < first


def test_a_marker_counted_from_standing_alone_adds_static_sag() -> None:
    marker = dives_to(JOB, 0.7)
    static = judged(JOB).sag.front.static.sag_mm.value or 0.0
    run = Run(front_marker_mm=marker - static, marker_from="static")
    assert ridden(JOB, run).runs[0].slow_g.value == pytest.approx(0.7, abs=1e-6)


def test_runs_give_their_mean_and_how_far_they_differ() -> None:
    found = ridden(JOB, *(Run(front_marker_mm=dives_to(JOB, g)) for g in (0.6, 0.7)), Run())
    middles = [run.middle_g.value or 0.0 for run in found.runs]
    assert [run.at for run in found.runs] == [0, 1]
    assert found.mean_g.value == pytest.approx(sum(middles) / 2.0)
    assert found.spread_g.value == pytest.approx(abs(middles[1] - middles[0]) / 2.0**0.5)
    assert "an estimate by 2 fork markers, scatter 0.0" in ridden_words(found)


def test_a_fork_at_its_end_and_one_deeper_than_braking_brings_it_give_none() -> None:
    full = ridden(JOB, Run(front_marker_mm=119.0))
    assert (
        reason(full.runs[0].slow_g)
        == "its marker is at the end as near as it can be read: braking was at least what brings it there"
    )
    assert not full.mean_g.known
    deep = ridden(JOB, Run(front_marker_mm=117.0))
    assert reason(deep.runs[0].fast_g) == "deeper than braking alone brings it: bumps, or a reading"
    assert reason(deep.mean_g) == reason(deep.runs[0].fast_g)


def test_only_the_latest_marked_runs_are_looked_at() -> None:
    found = ridden(JOB, *(Run(front_marker_mm=90.0) for _ in range(7)))
    assert [run.at for run in found.runs] == [3, 4, 5, 6]


def test_without_a_marker_there_is_nothing() -> None:
    assert ridden(JOB, Run()).runs == ()
    assert not ridden(JOB).mean_g.known


class TestOneRule:
    """What is entered comes first, then what the markers stand for, then the usual of the use: everywhere."""

    FRESH = put(JOB, balance__braking_g=None)
    RIDDEN = replace(FRESH, runs=tuple(Run(front_marker_mm=mm) for mm in (100.0, 104.0)))

    def test_the_order(self) -> None:
        own = put(self.RIDDEN, balance__braking_g=0.6)
        found = [braking_to_look_at(job, PROFILES) for job in (own, self.RIDDEN, self.FRESH)]
        assert [one.source for one in found] == ["entered", "ridden", "usual"]
        assert [one.markers for one in found] == [0, 2, 0]
        assert found[0].slow_g.value == found[0].fast_g.value == 0.6
        assert found[1].middle_g.value == pytest.approx(braking_of_runs(self.RIDDEN, PROFILES).mean_g.value)
        assert found[2].slow_g.value == 0.9
        assert [one.slow_g.estimate for one in found] == [False, True, True]

    def test_as_ridden_both_strokes_put_the_fork_where_its_marker_was(self) -> None:
        job = replace(self.FRESH, runs=(Run(front_marker_mm=102.0),))
        found = brakes_figures(job, judged(job), braking=braking_to_look_at(job, PROFILES))
        assert found.slow.fork_used_mm.value == pytest.approx(102.0, abs=1e-3)
        assert found.fast.fork_used_mm.value == pytest.approx(102.0, abs=1e-3)
        assert (found.braking.slow_g.value or 0.0) < (found.braking.fast_g.value or 0.0)

    def test_what_is_left_the_trial_the_check_and_json_go_by_the_same(self) -> None:
        for job, source in ((self.RIDDEN, "ridden"), (put(self.RIDDEN, balance__braking_g=0.6), "entered")):
            assessment = judged(job)
            of = brakes_figures(job, assessment, braking=braking_to_look_at(job, PROFILES))
            left = min(one.fork_left_mm.value or 0.0 for one in (of.slow, of.fast))
            assert travel_left(job, PROFILES, braking_of_runs(job, PROFILES)).left_mm.value == pytest.approx(left)
            in_trial = compare(job, put(job, front__left__air_gap_mm=100.0), PROFILES)
            dives = in_trial.row(("front",), "brakes_fork_mm").present.value
            assert dives == pytest.approx(of.slow.fork_used_mm.value)
            data = as_json("a.toml", job, assessment, PROFILES)["brakes"]
            assert data["braking_from"] == source
            assert data["slow"]["fork_used_mm"] == pytest.approx(of.slow.fork_used_mm.value)
        text = " ".join(as_text("a.toml", self.RIDDEN, judged(self.RIDDEN), profiles=PROFILES).split())
        assert "g as ridden, by 2 fork markers, scatter 0.0" in text

    def test_a_trial_of_another_braking_compares_both(self) -> None:
        rows = compare(self.RIDDEN, put(self.RIDDEN, balance__braking_g=0.3), PROFILES)
        row = rows.row(("front",), "brakes_fork_mm")
        assert (row.changed.value or 0.0) < (row.present.value or 0.0) - 10.0

    def test_the_answer_kept_is_not_another_jobs(self) -> None:
        one, other = (replace(self.FRESH, runs=(Run(front_marker_mm=mm),)) for mm in (90.0, 100.0))
        found = [braking_to_look_at(job, PROFILES).middle_g.value or 0.0 for job in (one, other, one)]
        assert found[0] == found[2] < found[1]
