"""The label of a progressive spring, 8.5-10.5, typed in any unit, shown, stepped, and typed again."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stanchion.base.errors import BadQuantity
from stanchion.job.spec import Kind, Number, Progressive, Rate
from stanchion.units.known_units import Units
from stanchion.units.quantity import editable, nudge_rate, read, readback, show

RATE = Number(Kind.RATE, 0.1, 1000, 0.25, two=True)
LENGTH = Number(Kind.LENGTH, 10, 1000, 0.5)


@pytest.mark.parametrize(
    "typed",
    [
        "8.5-10.5",
        "8,5 - 10,5",
        "8.5–10.5",
        "8.5 − 10.5 N/mm",
        "8.5 to 10.5",
        "8.5-10.5N/mm",
        " 8.50-10.50 ",
        "8.5/10.5",
    ],
)
def test_a_label_is_read_as_its_two_rates(typed: str) -> None:
    assert read(typed, RATE) == Progressive(8.5, 10.5)


def test_the_unit_behind_it_counts_for_both() -> None:
    """1 kgf = 9.80665 N, exact (NIST SP 811, App. B.8)."""
    assert read("0.85-1.05 kg/mm", RATE) == Progressive(8.3356525, 10.2969825)
    assert read("0.85-1.05", RATE, Units(rates="kg/mm")) == Progressive(8.3356525, 10.2969825)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("8.5-", "too, such as 8.5-10.5"),
        ("8.5-1", "softer rate comes first"),
        ("8.5-8.5", "softer rate comes first"),
        ("8.5-10.5-12", "one sign|two decimal|does not belong|not a unit"),
        ("8.5-5000", "outside 0.1 to 1000"),
        ("8.5-10.5 mm", "not a unit of this field"),
        ("-5", "outside 0.1 to 1000"),
        ("8.5 -10..5", "two decimal signs"),
    ],
)
def test_what_is_no_label_is_refused_with_what_to_type(typed: str, said: str) -> None:
    with pytest.raises(BadQuantity, match=said):
        read(typed, RATE)


def test_a_field_of_one_number_takes_no_two() -> None:
    with pytest.raises(BadQuantity, match="one sign may stand before the number"):
        read("85-105", LENGTH)


def test_it_is_read_back_and_shown_with_one_unit() -> None:
    assert readback("8,5-10,5", RATE) == "8.5–10.5 N/mm"
    assert show(Progressive(8.5, 10.5), Kind.RATE) == "8.50–10.50 N/mm"
    assert show(Progressive(8.3356525, 10.2969825), Kind.RATE, Units(rates="kg/mm")) == "0.850–1.050 kg/mm"


@given(st.floats(0.1, 400).map(lambda n: round(n, 3)), st.floats(1, 400).map(lambda n: round(n, 3)))
def test_what_a_field_shows_is_read_as_what_it_holds(start: float, more: float) -> None:
    label = Progressive(start, round(start + more, 3))
    assert read(editable(label, Kind.RATE), RATE) == label


@pytest.mark.parametrize(
    ("value", "direction", "stepped"),
    [
        (9.5, 1, 9.75),
        (None, 1, 0.1),
        (Progressive(8.5, 10.5), 1, Progressive(8.75, 10.75)),
        (Progressive(8.5, 10.5), -1, Progressive(8.25, 10.25)),
        (Progressive(999.9, 1000.0), 1, Progressive(999.9, 1000.0)),
    ],
)
def test_a_step_moves_both_rates_unless_they_would_meet(value: Rate | None, direction: int, stepped: Rate) -> None:
    assert nudge_rate(value, RATE, direction) == stepped
