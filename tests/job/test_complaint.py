"""The rider's complaints in standard words are part of a run: written, read, merged, and left behind with it."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from complete_job import complete_job
from judgement_jobs import put
from stanchion.base.errors import BadFile
from stanchion.job.carry import carried
from stanchion.job.codec import dumps, loads
from stanchion.job.complaint import COMPLAINTS, MOST_COMPLAINTS, PLACES, Complaint
from stanchion.job.merge import merge
from stanchion.job.model import Job, Run
from stanchion.job.runs import is_blank

DIVES = Complaint(where="straight_braking", what="dives")
SQUATS = Complaint(where="exit", what="squats")


def with_complaints(*complaints: Complaint) -> Job:
    return put(complete_job(), runs=(Run(time="9:40", complaints=complaints),))


def test_every_word_comes_back_from_the_file() -> None:
    for where in PLACES:
        for what in COMPLAINTS:
            job = with_complaints(Complaint(where=where, what=what), DIVES)
            assert loads(dumps(job)).job == job


@pytest.mark.parametrize("line", ['where = "pit_lane"', 'what = "wobbles"'])
def test_a_word_that_is_not_one_of_them_is_refused(line: str) -> None:
    text = f"format = 2\n[job]\n[[runs]]\n[[runs.complaints]]\n{line}\n[end]\ncomplete = true\n"
    with pytest.raises(BadFile, match="complaints"):
        loads(text.encode())


def test_more_complaints_than_a_run_has_room_for_are_refused() -> None:
    with pytest.raises(BadFile, match="too many"):
        loads(dumps(with_complaints(*[DIVES] * (MOST_COMPLAINTS + 1))))


def test_a_run_with_a_complaint_is_not_blank() -> None:
    assert is_blank(Run(time="9:40"))
    assert not is_blank(Run(time="9:40", complaints=(DIVES,)))


def test_the_next_job_begins_without_them() -> None:
    assert carried(with_complaints(DIVES), "a.toml", dt.date(2026, 6, 1)).runs == ()


def test_the_complaint_of_one_and_the_lap_of_the_other_are_joined() -> None:
    base = with_complaints(DIVES)
    one = replace(base, runs=(replace(base.runs[0], complaints=(DIVES, SQUATS)),))
    other = replace(base, runs=(replace(base.runs[0], best_lap_s=92.4),))
    run = merge(one, other, base).job.runs[0]
    assert (run.complaints, run.best_lap_s) == ((DIVES, SQUATS), 92.4)
