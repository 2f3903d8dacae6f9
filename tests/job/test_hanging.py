"""L1 holds until something that it depends on changes, and is carried to the next job only while it does."""

from __future__ import annotations

import datetime as dt

import pytest

from judgement_jobs import PROFILES, put
from stanchion.bench.session import Session
from stanchion.job.carry import carried
from stanchion.job.model import Job, SagEnd, TopOut

DAY = dt.date(2026, 5, 31)
FRONT, REAR = ("sag", "front", "hanging_mm"), ("sag", "rear", "hanging_mm")
MACHINE = put(Job(), front__fork_height_mm=4.0, rear__length_adjuster_mm=2.0, front__left__spring__rate_n_per_mm=9.0)


def read(job: Job) -> Session:
    """L1 of both ends read on this machine."""
    session = Session(job, PROFILES)
    session.put(FRONT, (620.0,))
    session.put(REAR, (580.0,))
    return session


@pytest.mark.parametrize(
    ("path", "value", "lost"),
    [
        (("front", "fork_height_mm"), 6.0, ("front",)),
        (("rear", "length_adjuster_mm"), 4.0, ("rear",)),
        (("upkeep", "axle_mark_mm"), 31.0, ()),  # entered for the first time
        (("front", "left", "spring", "rate_n_per_mm"), 9.5, ()),
    ],
)
def test_a_change_of_what_it_depends_on_asks_for_it_again(
    path: tuple[str, ...], value: float, lost: tuple[str]
) -> None:
    session = read(MACHINE)
    session.put(path, value)
    for end, length in (("front", 620.0), ("rear", 580.0)):
        of = session.job.sag.front if end == "front" else session.job.sag.rear
        assert of == (SagEnd() if end in lost else SagEnd(hanging_mm=(length,), hanging_holds=True))


def test_springs_press_on_a_top_out_spring() -> None:
    session = read(put(MACHINE, front__top_out=TopOut(fitted="yes")))
    session.put(("front", "left", "spring", "rate_n_per_mm"), 9.5)
    assert session.job.sag.front == SagEnd()


def test_a_number_typed_back_brings_it_back() -> None:
    session = read(MACHINE)
    before = session.job
    for text in ("1", "10", "4"):
        session.type(("front", "fork_height_mm"), text)
    assert session.job == before


def test_with_sag_read_from_it_it_stays_in_the_job_and_is_not_carried() -> None:
    session = read(MACHINE)
    session.put(("sag", "front", "static", "down_mm"), (600.0,))
    assert carried(session.job, "a.toml", DAY).sag.front == SagEnd(hanging_mm=(620.0,), hanging_holds=True)
    session.put(("front", "fork_height_mm"), 6.0)
    assert session.job.sag.front.hanging_mm == (620.0,)
    after = carried(session.job, "a.toml", DAY).sag
    assert (after.front, after.rear) == (SagEnd(), SagEnd(hanging_mm=(580.0,), hanging_holds=True))


def test_of_a_file_from_before_it_is_not_carried() -> None:
    old = put(MACHINE, sag__front=SagEnd(hanging_mm=(620.0,)))
    assert carried(old, "a.toml", DAY).sag.front == SagEnd()
