"""What a machine can be returned to: a job as it stands, and each of its runs with the settings that were ridden."""

from __future__ import annotations

from dataclasses import replace

from judgement_jobs import put
from stanchion.job.model import Run
from stanchion.job.returning import setup_of
from stanchion.judgement.work.work_list import work_list
from stanchion.planning.work_targets import begin, runs_of, targets_of, work_to
from stanchion.wording.work_sentences import target_offered, target_title, target_what
from story_jobs import occasion, ridden

SOFT = put(occasion(10), rear__rebound__now=10.0)
HARD = put(SOFT, rear__rebound__now=8.0)
JOB = replace(
    HARD,
    runs=(
        ridden(SOFT, "10:20", 92.4),
        ridden(SOFT, "11:00", 91.8),
        Run(time="11:40", best_lap_s=95.0),
        ridden(HARD, "", None),
    ),
)
"""Four runs; the third has no settings of its own to return to, and the last no time and no lap."""


def test_the_latest_run_stands_first_and_each_is_told_from_the_others() -> None:
    assert [target_offered(target) for target in runs_of(JOB)] == [
        "run 4 (the latest)",
        "run 2, 11:00, best 1:31.8 (best lap of all)",
        "run 1, 10:20, best 1:32.4",
    ]
    assert [target.run for target in runs_of(JOB)] == [3, 1, 0]
    assert {target.name for target in runs_of(JOB, "a.toml")} == {"a.toml"}


def test_the_one_before_is_said_and_one_lap_alone_is_no_best_of_all() -> None:
    two = replace(JOB, runs=JOB.runs[:1] + JOB.runs[3:])
    assert [target_offered(target) for target in runs_of(two)] == [
        "run 2 (the latest)",
        "run 1, 10:20, best 1:32.4 (the one before)",
    ]


def test_a_run_is_returned_to_as_it_was_ridden() -> None:
    target = list(runs_of(JOB))[-1]
    assert target.setup.rear == SOFT.rear
    assert len(work_to(JOB, target).items) == 1
    job = replace(JOB, returning=begin(JOB, target, target_title(target)))
    assert job.returning is not None
    assert (job.returning.run, job.returning.title) == (1.0, "run 1, 10:20, best 1:32.4")
    found = work_list(job)
    assert found is not None
    assert [item.kind for item in found.items] == ["shock_rebound"]


def test_another_job_is_offered_as_it_stands_before_its_runs_with_day_and_place() -> None:
    first, *runs = targets_of(JOB, "a.toml", " grey  Mule ")
    assert (first.name, first.run, target_what(first), first.machine) == ("a.toml", None, "as the job stands", "")
    assert first.setup == setup_of(JOB)
    assert target_title(first) == "2026-05-10 Gravel Loop, as the job stands"
    assert target_title(runs[0]) == "2026-05-10 Gravel Loop, run 4"
    assert {run.machine for run in runs} == {""}


def test_that_it_is_another_machine_is_said_of_the_job_and_of_every_run() -> None:
    found = list(targets_of(JOB, "a.toml", "Red Heron"))
    assert {target.machine for target in found} == {"Grey Mule"}
    assert target_title(found[0]) == "Grey Mule, 2026-05-10 Gravel Loop, as the job stands"
