"""The braking that a fork marker stands for: found again from the travel it was predicted to give."""

from __future__ import annotations

from dataclasses import replace

import pytest

import make_samples
from judgement_jobs import PROFILES, judged, put
from stanchion.job.model import Job, Run
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.planning.braking_of_runs import BrakingOfRuns, braking_of_runs
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
    assert reason(full.runs[0].slow_g) == "the fork was at its end: braking was at least what brings it there"
    assert not full.mean_g.known
    deep = ridden(JOB, Run(front_marker_mm=117.0))
    assert reason(deep.runs[0].fast_g) == "deeper than braking alone brings it: bumps, or a reading"


def test_only_the_latest_marked_runs_are_looked_at() -> None:
    found = ridden(JOB, *(Run(front_marker_mm=90.0) for _ in range(7)))
    assert [run.at for run in found.runs] == [3, 4, 5, 6]


def test_without_a_marker_there_is_nothing() -> None:
    assert ridden(JOB, Run()).runs == ()
    assert not ridden(JOB).mean_g.known
