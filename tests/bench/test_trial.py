"""A change tried on a copy does not touch the job until it is applied; then it is one step of undo."""

from __future__ import annotations

from driving import a_job
from judgement_jobs import FULL
from stanchion.bench.session import Session
from stanchion.bench.trial import Trial
from stanchion.job.measured import changed_since_read
from stanchion.job.model import Path
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.planning.whatif import compare

NOW: Path = ("front", "left", "adjuster", "now")
RATE: Path = ("front", "left", "spring", "rate_n_per_mm")


def session() -> Session:
    job = a_job(("front.left.adjuster.now", 4.0), ("front.left.spring.rate_n_per_mm", 9.5))
    return Session(job, load_profiles())


def test_what_is_tried_does_not_touch_the_job() -> None:
    bench = session()
    trial = Trial(bench)
    before = bench.job
    assert not trial.copy.put(NOW, 6.0)
    assert bench.job == before
    assert [(change.old, change.new) for change in trial.changes] == [(4.0, 6.0)]


def test_applied_it_is_one_step_of_undo() -> None:
    bench = session()
    trial = Trial(bench)
    before = bench.job
    trial.copy.put(NOW, 6.0)
    trial.copy.put(RATE, 10.0)
    assert not trial.apply()
    assert (bench.job.front.left.adjuster.now, bench.job.front.left.spring.rate_n_per_mm) == (6.0, 10.0)
    assert trial.changes == ()
    assert bench.undo()
    assert bench.job == before


def test_dropped_it_is_gone() -> None:
    trial = Trial(session())
    trial.copy.put(NOW, 6.0)
    trial.drop()
    assert trial.changes == ()


def test_a_job_changed_meanwhile_keeps_its_change_and_the_trial_keeps_its_own() -> None:
    bench = session()
    trial = Trial(bench)
    trial.copy.put(NOW, 6.0)
    bench.put(RATE, 9.0)
    trial.follow()
    assert (trial.copy.job.front.left.adjuster.now, trial.copy.job.front.left.spring.rate_n_per_mm) == (6.0, 9.0)
    assert not trial.apply()
    assert (bench.job.front.left.adjuster.now, bench.job.front.left.spring.rate_n_per_mm) == (6.0, 9.0)


def test_a_job_open_read_only_takes_no_trial_and_the_trial_stays() -> None:
    bench = session()
    bench.read_only = True
    trial = Trial(bench)
    trial.copy.put(NOW, 6.0)
    assert trial.apply()
    assert len(trial.changes) == 1


def test_sag_read_before_the_change_is_as_old_once_it_is_applied_as_it_was_in_the_trial() -> None:
    bench = Session(FULL, load_profiles())
    trial = Trial(bench)
    trial.copy.put(RATE, 10.5)
    assert changed_since_read(trial.copy.job, "front", "rider")
    assert [change.path for change in trial.changes] == [RATE]  # what is noted of itself is no change of a person
    seen = compare(bench.job, trial.copy.job, bench.profiles)
    captured = seen.row(("front",), "rider_captured")
    assert captured.change is not None
    assert captured.change < -1.0  # the sag to expect when it is captured again, not the one of the other springs
    assert not trial.apply()
    assert changed_since_read(bench.job, "front", "rider")
    assert changed_since_read(bench.job, "front", "static")


def test_what_the_trial_brings_comes_before_what_the_job_has_of_the_same_weight() -> None:
    of = session()
    known = of.assessment.findings[0]
    brought = Finding("trail_less", known.severity, ("geometry",), {})
    fault = Finding("coil_bind", Severity.FAULT, ("front", "left"), {})
    assert known.severity < Severity.FAULT
    assert Trial(of).own_first([known, brought, fault]) == [fault, brought, known]
