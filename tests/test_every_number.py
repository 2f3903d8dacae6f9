"""Whatever is typed into whatever number, judging meets no error of the program.

STANCHION_EDITS=30000 .venv/bin/python -m pytest -n 2 tests/test_every_number.py    # the long form
"""

from __future__ import annotations

import os
import traceback
from collections.abc import Callable, Iterable, Iterator
from random import Random
from typing import Any

import pytest

from judgement_jobs import PROFILES
from random_edits import SAMPLES, edited, numbers_in, random_job
from stanchion.bench.session import Session
from stanchion.job.model import ENDS, Job, Path
from stanchion.job.returning import setup_of
from stanchion.job.spec import Number
from stanchion.judgement.assess import assess
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.parts import Fault
from stanchion.judgement.work.work_list import work_between
from stanchion.planning.machine_story import story_rows
from stanchion.planning.on_travel import on_travel, predicted_curve
from stanchion.planning.spring_choice import choose
from stanchion.planning.whatif import compare
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.report.export import export_csv, export_runs_csv
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_html import sheet_html
from stanchion.report.sheet_text import sheet_text
from stanchion.units.quantity import editable
from stanchion.wording.finding_words import sentence

EDITS = int(os.environ.get("STANCHION_EDITS", "0"))
"""How many random edits of three values the long form makes; 0: the form of the suite."""
BATCHES = 10
JOBS_A_BATCH = 20
NUMBERS_A_JOB = 1000 if EDITS else 2
THREES_A_BATCH = EDITS // BATCHES or 30
NUMBERS_AT_ONCE = 30
"""Numbers of a sample in one test: where no spring suits, judging one takes 20 ms, and all in one test are its last half
minute, in which the other workers have nothing to do."""
ALL_OF_ONE_IN = 20
"""Of so many jobs one is put through all that is made of a job, which takes as long as twenty times judging it."""


def shown(faults: Iterable[Fault]) -> str:
    return "\n".join(f"{one.part}: {''.join(traceback.format_exception(one.error))}" for one in faults)


def retype(job: Job, path: Path, spec: Number) -> None:
    """Type the least value, the greatest and the one there is key by key, and rub it out again; judge what is new."""
    session = Session(job, PROFILES)
    own = session.text_of(path)
    judged = set()
    low, high = (editable(end, spec.kind, session.units) for end in (spec.low, spec.high))
    for text in (low, high, *((f"{low}-{high}", "8.5-10.5") if spec.two else ()), own):
        keys = [text[:count] for count in range(1, len(text) + 1)]
        for typed in (*keys, *reversed(keys[:-1]), ""):
            session.type(path, typed)
            value = session.value(path)
            if value not in judged:
                judged.add(value)
                faults = session.assessment.faults
                assert not faults, (path, typed, shown(faults))
    session.leave(path)
    assert not session.assessment.faults, (path, "rubbed out", shown(session.assessment.faults))


@pytest.mark.parametrize(
    ("name", "begin"),
    [(name, begin) for name, job in SAMPLES.items() for begin in range(0, len(numbers_in(job)), NUMBERS_AT_ONCE)],
)
def test_every_number_of_a_sample_can_be_retyped_and_rubbed_out(name: str, begin: int) -> None:
    job = SAMPLES[name]
    for path, spec in numbers_in(job)[begin : begin + NUMBERS_AT_ONCE]:
        retype(job, path, spec)


@pytest.mark.parametrize("batch", range(BATCHES))
def test_so_can_the_numbers_of_random_jobs(batch: int) -> None:
    """In the suite a few numbers of each, drawn anew for each; in the long form all."""
    random = Random(batch)
    for _ in range(JOBS_A_BATCH):
        job = random_job(random)
        numbers = numbers_in(job)
        for path, spec in random.sample(numbers, min(NUMBERS_A_JOB, len(numbers))):
            retype(job, path, spec)


@pytest.mark.parametrize("batch", range(BATCHES))
def test_three_values_changed_at_once_are_judged(batch: int) -> None:
    random = Random(1000 + batch)
    for at in range(THREES_A_BATCH):
        before = random.choice(list(SAMPLES.values()))
        job, edits = edited(random, before, 3)
        assessment = assess(job, PROFILES, before)
        assert not assessment.faults, (edits, shown(assessment.faults))
        assert all(sentence(finding) for finding in assessment.findings)
        if at % ALL_OF_ONE_IN == 0:
            for make in all_that_is_made_of(before, job, assessment):
                make()


def all_that_is_made_of(before: Job, job: Job, assessment: Assessment) -> Iterator[Callable[[], Any]]:
    """What screens and commands work out of a job besides its assessment."""
    named = [("a.toml", job, assessment)]
    yield lambda: compare(before, job, PROFILES)
    yield lambda: (as_text("a.toml", job, assessment), as_json("a.toml", job, assessment))
    yield lambda: (export_csv(named), export_runs_csv(named, unexpected))
    yield lambda: rows_of(before, job)
    yield lambda: (work_between(setup_of(before), setup_of(job)), work_between(setup_of(job), setup_of(before)))
    sheet = make_sheet(job, assessment, before)
    yield lambda: (sheet_text(sheet), sheet_html(sheet))
    for end in ENDS:
        yield lambda end=end: on_travel(job, assessment, end)  # type: ignore[misc]
        yield lambda end=end: predicted_curve(job, assessment, end, 60)  # type: ignore[misc]
        yield lambda end=end: choose(job, assessment, PROFILES, end)  # type: ignore[misc]


def unexpected(name: str, fault: Fault) -> None:
    raise AssertionError(f"{name}: {shown([fault])}")


def rows_of(before: Job, job: Job) -> None:
    faults = [fault for row in story_rows([("a.toml", before), ("b.toml", job)], PROFILES) for fault in row.faults]
    assert not faults, shown(faults)
