"""What a field may hold: every field states its limits, and refuses what could not have been measured."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import fields

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stanchion.base.errors import BadEdit
from stanchion.job.model import Job, Readings, Spring
from stanchion.job.spec import Choice, Day, Flag, Kind, Leaf, Many, Number, Part, Rows, Spec, Text, specs_of
from strategies import numbers_of

LENGTH = Number(Kind.LENGTH, 10, 1000, 0.5)

UNIT_IN_NAME = {
    "_n_per_mm": Kind.RATE,
    "_mm_per_s": Kind.SPEED,
    "_mm": Kind.LENGTH,
    "_kg": Kind.MASS,
    "_bar": Kind.PRESSURE,
    "_ml": Kind.VOLUME,
    "_turns": Kind.TURNS,
    "_nm": Kind.TORQUE,
    "_hpa": Kind.BAROMETER,
    "_m": Kind.ALTITUDE,
    "_n": Kind.FORCE,
    "_s": Kind.TIME,
    "_c": Kind.TEMPERATURE,
    "_pct": Kind.SHARE,
    "_deg": Kind.ANGLE,
}


def parts(kind: type = Job) -> set[type]:
    inner = {spec.type for spec in specs_of(kind).values() if isinstance(spec, Part | Rows)}
    return {kind}.union(*(parts(part) for part in inner))


@pytest.mark.parametrize("kind", sorted(parts(), key=str), ids=str)
def test_every_recorded_field_has_a_spec_and_a_default_that_it_allows(kind: type) -> None:
    specs = specs_of(kind)
    assert {field.name for field in fields(kind)} - set(specs) <= {"unknown", "comments"}
    blank = kind()
    for name, spec in specs.items():
        value = getattr(blank, name)
        if isinstance(spec, Leaf):
            assert spec.check(value) == value
        else:
            assert value is None or value == () or isinstance(spec, Part)


def test_the_unit_in_a_name_is_the_unit_of_the_value() -> None:
    for path, spec in numbers_of():
        name = [step for step in path if isinstance(step, str)][-1]
        wanted = next((kind for ending, kind in UNIT_IN_NAME.items() if name.endswith(ending)), None)
        if wanted is not None:
            assert spec.kind is wanted, path
        else:
            assert spec.kind in {Kind.COUNT, Kind.RATIO}, path


def test_a_step_is_small_against_the_range_of_its_number() -> None:
    for path, spec in numbers_of():
        assert 0 < spec.step <= (spec.high - spec.low) / 4, path


def test_the_limits_themselves_are_allowed() -> None:
    assert LENGTH.check(10) == 10.0
    assert LENGTH.check(1000.0) == 1000.0
    assert LENGTH.check(None) is None


@pytest.mark.parametrize(
    ("value", "message"),
    [
        (9.999, "between 10 and 1000"),
        (1000.001, "between 10 and 1000"),
        (math.nan, "not infinity or 'not a number'"),
        (math.inf, "not infinity"),
        (10**400, "too large"),
        (True, "not true or false"),
        ("250", "not text"),
        ([250], "not a list"),
        ({}, "not a table"),
    ],
)
def test_what_is_no_measurement_is_refused(value: object, message: str) -> None:
    with pytest.raises(BadEdit, match=message):
        LENGTH.check(value)


def test_an_item_of_a_list_cannot_be_empty() -> None:
    readings = specs_of(Readings)["down_mm"]
    assert isinstance(readings, Many)
    with pytest.raises(BadEdit, match="not nothing"):
        readings.item.check(None)


@settings(deadline=None)
@given(st.floats(allow_nan=True) | st.integers() | st.text() | st.booleans() | st.none())
def test_a_number_gives_a_float_within_its_limits_or_refuses(value: object) -> None:
    try:
        number = LENGTH.check(value)
    except BadEdit:
        return
    assert number is None or (isinstance(number, float) and 10 <= number <= 1000)


@pytest.mark.parametrize(
    ("spec", "good", "bad"),
    [
        (Choice(("turns", "rings")), ["turns", "rings"], ["", "Turns", None, 1]),
        (Flag(), [True, False], [1, 0, "true", None]),
        (Day(), [dt.date(2024, 2, 29)], [dt.datetime(2024, 2, 29, 10, 0), "2024-02-29", None]),
        (Day(optional=True), [dt.date(2024, 2, 29), None], [dt.datetime(2024, 2, 29, 10, 0), "", False]),
        (Text(5), ["", "12345", "[/x]", "\x1b[31"], ["123456", None, 5, "\ud800"]),
    ],
)
def test_a_leaf_takes_what_fits_and_nothing_else(spec: Leaf, good: list[object], bad: list[object]) -> None:
    for value in good:
        assert spec.check(value) == value
    for value in bad:
        with pytest.raises(BadEdit):
            spec.check(value)


def test_specs_come_in_the_order_in_which_the_model_declares_them() -> None:
    assert list(specs_of(Spring))[:2] == ["rate_n_per_mm", "free_length_mm"]
    specs: dict[str, Spec] = specs_of(Job)
    assert list(specs) == [
        "job",
        "front",
        "rear",
        "sag",
        "weights",
        "geometry",
        "balance",
        "swingarm",
        "repeatability",
        "calibration",
        "damping",
        "drive",
        "targets",
        "upkeep",
        "attached",
        "damper_sheets",
        "runs",
        "changes",
        "found",
        "returning",
    ]
