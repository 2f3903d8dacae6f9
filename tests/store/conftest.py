from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from stanchion.job.model import Job, Occasion
from stanchion.store.library import Library
from stanchion.store.paths import Places


def judge(job: Job, previous: Job | None) -> tuple[str, str]:
    """Depends on all that a real one may: the job and the one before it."""
    here, before = job.rear.spring.rate_n_per_mm, previous and previous.rear.spring.rate_n_per_mm
    if before is not None and here != before:
        return "warning", f"spring {here} was {before}"
    return ("note", f"spring {here}") if here else ("", "")


@pytest.fixture
def places(tmp_path: Path) -> Places:
    return Places(tmp_path / "jobs", tmp_path / "config", tmp_path / "state", tmp_path / "cache")


@pytest.fixture
def library(places: Places) -> Library:
    return Library(places, judge)


@pytest.fixture
def job() -> Job:
    return Job(job=Occasion(machine="Grey Mule", rider="A. Venn", date=dt.date(2026, 5, 31)))
