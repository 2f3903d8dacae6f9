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

    at: Point = Point(1.0)
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
    with pytest.raises(TypeError):
        Named(Point(1.0))  # type: ignore[call-arg]
    match Point(1.0, 2.0):
        case Point(x, y):
            assert (x, y) == (1.0, 2.0)


def test_a_default_that_is_made_anew_each_time_is_refused() -> None:
    with pytest.raises(TypeError, match="notes: give a default that nobody can change"):

        @record
        class Noted:
            notes: list[str] = field(default_factory=list)


def test_outside_tests_a_record_is_made_like_a_dataclass() -> None:
    """In this process the tests' own `__init__` stands in for it, so another one is asked."""
    code = """
import copy, inspect, pickle
from dataclasses import asdict, fields, is_dataclass, replace
from stanchion.base.record import record

@record
class Point:
    x: float
    y: float = 0.0

@record(kw_only=True)
class Named(Point):
    name: str
    at: Point = Point(1.0)

    def __post_init__(self):
        if not self.name:
            raise ValueError(self.at)

@record
class Many:
    FIELDS

    def double(self) -> float:
        return 2 * self.a299

assert [str(inspect.signature(one.__init__)) for one in (Point, Named)] == [
    "(self, x, y=0.0)", "(self, x, y=0.0, *, name, at=Point(x=1.0, y=0.0))"]
assert (Point(1.0), Point(x=2.0, y=3.0).y, Point(4.0, 5.0).x) == (Point(1.0, 0.0), 3.0, 4.0)
named = Named(1.0, name="a")
assert named == replace(named, y=0.0) != replace(named, y=1.0) and is_dataclass(named) and named.at.x == 1.0
assert [one.name for one in fields(Named)] == ["x", "y", "name", "at"] and copy.deepcopy(named) == named
assert asdict(named) == {"x": 1.0, "y": 0.0, "name": "a", "at": {"x": 1.0, "y": 0.0}}
assert pickle.loads(pickle.dumps(Point(1.0, 2.0))) == Point(1.0, 2.0) and not hasattr(named, "__dict__")
assert Many(*range(300)).double() == 598 and Many(*range(300)).a0 == 0
for wrong in (lambda: Point(), lambda: Point(1, 2, 3), lambda: Point(z=1), lambda: Named(1.0, 2.0, "a")):
    try:
        wrong()
    except TypeError as error:
        assert "__init__" in str(error), error
    else:
        raise AssertionError(wrong)
try:
    Named(x=1.0, name="")
except ValueError as error:
    print(error)
"""
    code = code.replace("FIELDS", "; ".join(f"a{at}: float" for at in range(300)))
    printed = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (printed.stdout, printed.stderr) == ("Point(x=1.0, y=0.0)\n", "")


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
