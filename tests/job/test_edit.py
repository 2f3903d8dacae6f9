"""An edit changes the one value it names, and nothing that does not fit gets in."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stanchion.base.errors import BadEdit
from stanchion.job.edit import Edit, apply, dotted, spec_at, value_at
from stanchion.job.model import Front, Job, Leg, LinkagePair, Path, Rear, Spring
from strategies import jobs, numbers, numbers_of

NUMBERS = [(path, spec) for path, spec in numbers_of() if spec.optional]
FREE: Path = ("front", "left", "spring", "free_length_mm")
DOWN: Path = ("sag", "front", "static", "down_mm")


def in_a_row(path: Path) -> bool:
    return any(isinstance(step, int) for step in path)


def edited(job: Job, *edits: tuple[Path, Any]) -> Job:
    for path, value in edits:
        job = apply(job, Edit(path, value))
    return job


@settings(max_examples=60, deadline=None)
@given(st.data(), jobs())
def test_the_value_put_in_is_the_value_found_and_undoing_it_gives_the_job_back(data: st.DataObject, job: Job) -> None:
    path, spec = data.draw(st.sampled_from([entry for entry in NUMBERS if not in_a_row(entry[0])]))
    value = data.draw(numbers(spec))
    all_there = all(value_at(job, path[:steps]) is not None for steps in range(1, len(path)))
    after = edited(job, (path, value))
    assert value_at(after, path) == value
    if all_there:  # a part that was absent, such as the right leg, stays once something stands in it
        assert edited(after, (path, value_at(job, path))) == job


def test_every_number_can_be_emptied() -> None:
    for path, spec in NUMBERS:
        filled = edited(Job(), (path, spec.high))
        assert value_at(filled, path) == spec.high, path
        assert value_at(edited(filled, (path, None)), path) is None, path


def test_while_the_legs_are_not_split_the_left_leg_serves_for_both() -> None:
    job = edited(Job(), (FREE, 250.0))
    assert value_at(job, ("front", "right", "spring", "free_length_mm")) == 250.0
    assert value_at(job, ("front", "right")) is None


def test_editing_the_right_leg_splits_the_legs_and_keeps_what_they_shared() -> None:
    job = edited(Job(), (FREE, 250.0), (("front", "right", "spring", "rate_n_per_mm"), 9.0))
    assert job.front.split
    assert job.front.leg("right").spring == Spring(free_length_mm=250.0, rate_n_per_mm=9.0)
    assert job.front.left.spring == Spring(free_length_mm=250.0)


def test_legs_are_put_together_by_taking_the_right_one_away() -> None:
    job = Job(front=Front(right=Leg(air_gap_mm=130.0)))
    assert not edited(job, (("front", "right"), None)).front.split


def test_readings_grow_one_after_the_other_and_close_up_when_one_is_taken_away() -> None:
    job = edited(Job(), ((*DOWN, 0), 480.0), ((*DOWN, 1), 481.0), ((*DOWN, 2), 482.0))
    assert value_at(job, DOWN) == (480.0, 481.0, 482.0)
    assert value_at(edited(job, ((*DOWN, 1), None)), DOWN) == (480.0, 482.0)
    assert value_at(job, (*DOWN, 4)) is None


def test_a_reading_cannot_be_filled_before_the_one_above_it() -> None:
    with pytest.raises(BadEdit, match=r"^sag\.front\.static\.down_mm\[1\]: item 2 cannot be filled before item 1$"):
        edited(Job(), ((*DOWN, 1), 480.0))


def test_a_linkage_row_comes_with_its_first_value_and_goes_with_its_last() -> None:
    wheel: Path = ("rear", "linkage", 0, "wheel_mm")
    job = edited(Job(), (wheel, 10.0))
    assert job.rear == Rear(linkage=(LinkagePair(wheel_mm=10.0),))
    assert edited(job, (wheel, None)) == Job()


def test_a_whole_list_or_row_is_checked_as_its_items_are() -> None:
    assert value_at(edited(Job(), (DOWN, (480, 481))), DOWN) == (480.0, 481.0)
    for wrong in ([480.0], (1.0,) * 6, (480.0, None), (480.0, "x"), None):
        with pytest.raises(BadEdit):
            edited(Job(), (DOWN, wrong))
    with pytest.raises(BadEdit):
        edited(Job(), (("rear", "linkage"), (1.0,)))
    with pytest.raises(BadEdit):
        edited(Job(), (("front", "left"), None))


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (FREE, 5000.0),
        (FREE, "250"),
        (FREE, True),
        (("job", "date"), dt.datetime(2026, 5, 31)),
        (("job", "machine"), "x" * 61),
        (("front", "left", "read_at"), "there"),
        (("rear", "linkage", 0, "wheel_mm"), -1.0),
    ],
)
def test_a_refused_edit_names_the_field(path: Path, value: object) -> None:
    with pytest.raises(BadEdit, match=f"^{dotted(path)}: ".replace("[", r"\[")):
        edited(Job(), (path, value))


@pytest.mark.parametrize(
    "path",
    [
        ("nothing",),
        ("front", "nothing"),
        ("front", 0),
        ("rear", "linkage", "first"),
        ("rear", "linkage", 12),
        (*DOWN, 5),
        (*DOWN, -1),
        (*FREE, "more"),
        ("unknown",),
    ],
)
def test_a_path_that_names_no_field_is_refused(path: Path) -> None:
    for refuse in (lambda: spec_at(path), lambda: value_at(Job(), path), lambda: edited(Job(), (path, 1.0))):
        with pytest.raises(BadEdit, match="there is no field"):
            refuse()
