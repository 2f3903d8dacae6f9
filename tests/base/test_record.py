"""What a record promises: made fast, compared by value, never changed."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import FrozenInstanceError, field, fields, replace
from pathlib import Path

import pytest

from stanchion.base.record import record
from stanchion.job.model import Front, Job


@record
class Point:
    """A place."""

    x: float
    y: float = 0.0
    notes: tuple[str, ...] = field(default=(), hash=False)


@record(kw_only=True)
class Named:
    """A place with a name."""

    at: Point = field(default_factory=lambda: Point(1.0))
    name: str = ""


@record
class Nothing:
    """No field at all."""


def test_records_of_equal_fields_are_equal_and_count_once() -> None:
    assert Point(1.0) == Point(1.0, 0.0)
    assert Point(1.0) != Point(1.0, 2.0)
    assert len({Point(1.0), Point(1.0), Point(1.0, 2.0)}) == 2
    assert Nothing() == Nothing()
    assert len({Nothing(), Nothing()}) == 1


def test_a_record_is_never_equal_to_one_of_another_kind_or_to_a_bare_tuple() -> None:
    others: tuple[object, ...] = (Named(), (1.0, 0.0, ()), Nothing())
    assert all(Point(1.0) != other for other in others)
    assert all(other != Nothing() for other in others[:2])


def test_a_field_left_out_of_the_hash_still_counts_in_equality() -> None:
    one, other = Point(1.0), Point(1.0, notes=("wet",))
    assert one != other
    assert hash(one) == hash(other)
    assert hash(Point(1.0, notes=["wet"])) == hash(one)  # type: ignore[arg-type]


def test_it_prints_as_it_is_made() -> None:
    assert repr(Named(name="a")) == "Named(at=Point(x=1.0, y=0.0, notes=()), name='a')"
    assert repr(Nothing()) == "Nothing()"


def test_fields_replace_and_defaults_are_those_of_a_dataclass() -> None:
    assert [one.name for one in fields(Named)] == ["at", "name"]
    assert replace(Point(1.0), y=3.0) == Point(1.0, 3.0)
    assert Named().at is not Named().at
    with pytest.raises(TypeError):
        Named(Point(1.0))  # type: ignore[call-arg]
    match Point(1.0, 2.0):
        case Point(x, y):
            assert (x, y) == (1.0, 2.0)


def test_there_is_no_room_for_what_was_not_declared() -> None:
    with pytest.raises(AttributeError):
        Point(1.0).z = 2.0  # type: ignore[attr-defined]


def test_the_type_checker_refuses_an_assignment_to_a_field(tmp_path: Path) -> None:
    source = (
        "from stanchion.base.record import record\n"
        "@record\nclass A:\n    x: int\n"
        "@record(kw_only=True)\nclass B:\n    x: int\n"
        "A(1).x = 2\nB(x=1).x = 2\nprint(A(1).x)\n"
    )
    (tmp_path / "assigning.py").write_text(source)
    printed = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "--config-file=", "--no-incremental", "assigning.py"],
        cwd=tmp_path,
        env={**os.environ, "MYPYPATH": str(Path(__file__).parents[2] / "src")},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert printed.stderr == ""
    refused = [line.split(": error: ") for line in printed.stdout.splitlines() if ": error: " in line]
    assert refused == [
        ["assigning.py:8", 'Property "x" defined in "A" is read-only  [misc]'],
        ["assigning.py:9", 'Property "x" defined in "B" is read-only  [misc]'],
    ]


def test_in_tests_a_field_of_a_record_cannot_be_assigned() -> None:
    job = Job()
    with pytest.raises(FrozenInstanceError):
        job.front = Front()  # type: ignore[misc]


def test_outside_tests_nothing_is_paid_for_that() -> None:
    code = "from stanchion.job.model import Job; print(Job.__setattr__ is object.__setattr__)"
    printed = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert printed.stdout == "True\n"
