"""A value typed in any unit is kept in the file's unit and comes back as it was typed.

Factors are checked against NIST SP 811 (2008), Guide for the Use of the SI, Appendix B.8, which prints seven digits.
"""

from __future__ import annotations

import subprocess
import sys
from decimal import Decimal
from itertools import product
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stanchion.base.errors import BadQuantity
from stanchion.job.spec import Kind, Number
from stanchion.units.known_units import DISPLAY_UNITS, METRIC, UNIT_SETTINGS, UNITS, Units
from stanchion.units.quantity import editable, nudge, parse, plain, readback, show, unit_name, units_of
from strategies import numbers_of

INCHES = Units(lengths="in")
ALL_UNITS = [Units(*names) for names in product(*(DISPLAY_UNITS[kind] for kind in UNIT_SETTINGS.values()))]
EVERY_NUMBER = [spec for _, spec in numbers_of()]
FREE_LENGTH = Number(Kind.LENGTH, 10, 1000, 0.5)
RATE = Number(Kind.RATE, 0.1, 1000, 0.25)
CLICKS = Number(Kind.COUNT, 0, 200, 1)


def wide(kind: Kind) -> Number:
    return Number(kind, -1e9, 1e9, 1)


def seven_digits(value: float) -> str:
    return f"{value:.7g}"


# --- published factors -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "kind", "printed"),
    [
        ("1 kgf", Kind.FORCE, 9.80665),  # NIST SP 811 B.8, kilogram-force to newton: 9.80665, exact
        ("1 lbf", Kind.FORCE, 4.448222),  # NIST SP 811 B.8, pound-force to newton: 4.448 222
        ("1 lb/in", Kind.RATE, 175.1268e-3),  # NIST SP 811 B.8, pound-force per inch to N/m: 175.1268
        ("1 lbf·ft", Kind.TORQUE, 1.355818),  # NIST SP 811 B.8, pound-force foot to newton meter: 1.355 818
        ("1 kgf m", Kind.TORQUE, 9.80665),  # NIST SP 811 B.8, kilogram-force meter to newton meter: 9.80665, exact
        ("1 psi", Kind.PRESSURE, 6894.757e-5),  # NIST SP 811 B.8, psi to pascal: 6894.757; 1 bar = 100 kPa
        ("1 kPa", Kind.PRESSURE, 0.01),  # by definition of the bar
        ("1 lb", Kind.MASS, 0.4535924),  # exact 0.453 592 37; implied by the rows lbf to N and kgf to N above
        ("1 in", Kind.LENGTH, 25.4),  # exact; implied by the rows lbf to N and lbf/in to N/m above
    ],
)
def test_a_unit_has_its_published_factor(typed: str, kind: Kind, printed: float) -> None:
    assert seven_digits(parse(typed, wide(kind))) == seven_digits(printed)


@pytest.mark.parametrize(
    ("typed", "kind", "value"),
    [
        ("9.5 in", Kind.LENGTH, 241.3),
        ("9 7/8 in", Kind.LENGTH, 250.825),
        ('9 7/8"', Kind.LENGTH, 250.825),
        ("25.08 cm", Kind.LENGTH, 250.8),
        ("0.95 kg/mm", Kind.RATE, 9.3163175),  # 0.95 times 9.80665
        ("0,95 kgf/mm", Kind.RATE, 9.3163175),
        ("175 lb", Kind.MASS, 79.37866475),  # 175 times 0.45359237
        ("12 kg", Kind.FORCE, 117.6798),  # kilogram-force, where a force is asked for
        ("0.5 l", Kind.VOLUME, 500.0),
        ("480 cc", Kind.VOLUME, 480.0),
        ("1 MPa", Kind.PRESSURE, 10.0),
        ("24.5°", Kind.ANGLE, 24.5),
        ("2 1/4 t", Kind.TURNS, 2.25),
        ("2 1/4", Kind.COUNT, 2.25),
    ],
)
def test_what_is_typed_is_kept_in_the_unit_of_the_file(typed: str, kind: Kind, value: float) -> None:
    assert parse(typed, wide(kind)) == value


@pytest.mark.parametrize("typed", ["9.5 N/mm", "9.5 n/mm", "9.5N/MM", "9.5 N / mm", "9.5"])
def test_capitals_and_spaces_make_no_other_unit(typed: str) -> None:
    assert parse(typed, RATE) == 9.5


def test_a_bare_number_is_in_the_unit_that_is_displayed() -> None:
    assert parse("9.5", FREE_LENGTH, INCHES) == 241.3
    assert parse("9 1/2", FREE_LENGTH, INCHES) == 241.3
    assert parse("241.3 mm", FREE_LENGTH, INCHES) == 241.3
    assert parse("0.95", RATE, Units(rates="kg/mm")) == 9.3163175
    assert parse("9.5", RATE, INCHES) == 9.5


# --- there and back ----------------------------------------------------------------------------------------------


@settings(max_examples=400, deadline=None)  # the first unit that is met loads pint
@given(st.data(), st.sampled_from(EVERY_NUMBER), st.sampled_from(ALL_UNITS))
def test_visiting_a_field_changes_nothing_whatever_the_units(data: st.DataObject, spec: Number, units: Units) -> None:
    """Any value of at most four decimals in the file's unit, shown for editing and read again, is the same value."""
    value = data.draw(st.integers(round(spec.low * 10_000), round(spec.high * 10_000))) / 10_000
    assert parse(plain(value, spec.kind, units), spec, units) == value


@settings(max_examples=400, deadline=None)  # the first unit that is met loads pint
@given(st.data(), st.sampled_from(list(DISPLAY_UNITS)), st.sampled_from(ALL_UNITS), st.integers(0, 5))
def test_what_was_typed_is_what_is_shown_for_editing(
    data: st.DataObject, kind: Kind, units: Units, decimals: int
) -> None:
    typed = Decimal(data.draw(st.integers(0, 999 * 10**decimals))).scaleb(-decimals)
    assert Decimal(plain(parse(f"{typed:f}", wide(kind), units), kind, units)) == typed


@settings(deadline=None)
@given(st.sampled_from(EVERY_NUMBER), st.floats(-1e6, 1e6), st.sampled_from(ALL_UNITS))
def test_no_number_is_ever_shown_as_minus_zero_or_as_a_power_of_ten(spec: Number, value: float, units: Units) -> None:
    for shown in (plain(value, spec.kind, units), show(value, spec.kind, units).split(" ")[0]):
        assert "e" not in shown.lower()
        assert not (shown.startswith("-") and set(shown) <= set("-0."))


@pytest.mark.parametrize(
    ("value", "kind", "units", "text"),
    [
        (250.0, Kind.LENGTH, METRIC, "250"),
        (250.5, Kind.LENGTH, METRIC, "250.5"),
        (9.25, Kind.LENGTH, METRIC, "9.25"),
        (0.95, Kind.RATIO, METRIC, "0.95"),
        (-0.0, Kind.LENGTH, METRIC, "0"),
        (250.825, Kind.LENGTH, INCHES, "9.875"),
        (25.4 / 64, Kind.LENGTH, INCHES, "0.015625"),
        (250.8, Kind.LENGTH, INCHES, "9.874016"),
        (9.3163175, Kind.RATE, Units(rates="kg/mm"), "0.95"),
        (9.3163175, Kind.RATE, METRIC, "9.3163"),  # what six decimals cannot give is rounded to four
    ],
)
def test_text_for_editing_has_the_digits_that_are_needed(value: float, kind: Kind, units: Units, text: str) -> None:
    assert plain(value, kind, units) == text


@pytest.mark.parametrize(
    ("value", "kind", "units", "text"),
    [
        (250.0, Kind.LENGTH, METRIC, "250.0 mm"),
        (12.25, Kind.LENGTH, METRIC, "12.3 mm"),  # halves go up, as people round, not to the even digit
        (-12.25, Kind.LENGTH, METRIC, "−12.3 mm"),
        (-0.04, Kind.LENGTH, METRIC, "0.0 mm"),
        (250.8, Kind.LENGTH, INCHES, "9.874 in"),
        (9.316, Kind.RATE, METRIC, "9.32 N/mm"),
        (9.316, Kind.RATE, Units(rates="kg/mm"), "0.950 kg/mm"),
        (9.4568, Kind.RATE, Units(rates="lb/in"), "54.0 lb/in"),
        (79.37866475, Kind.MASS, METRIC, "79.4 kg"),
        (111.6, Kind.FORCE, METRIC, "112 N"),
        (12.0, Kind.PRESSURE, METRIC, "12.00 bar"),
        (480.0, Kind.VOLUME, METRIC, "480 ml"),
        (24.0, Kind.ANGLE, METRIC, "24.00°"),
        (2.5, Kind.TURNS, METRIC, "2.5 turns"),
        (1.0, Kind.TURNS, METRIC, "1 turn"),
        (12.0, Kind.COUNT, METRIC, "12"),
        (0.52, Kind.RATIO, METRIC, "0.520"),
    ],
)
def test_a_value_is_shown_with_the_decimals_its_unit_deserves(
    value: float, kind: Kind, units: Units, text: str
) -> None:
    assert show(value, kind, units) == text


def test_a_unit_is_named_as_it_is_shown() -> None:
    assert [unit_name(kind) for kind in (Kind.LENGTH, Kind.RATE, Kind.COUNT, Kind.RATIO)] == ["mm", "N/mm", "", ""]
    assert unit_name(Kind.LENGTH, INCHES) == "in"
    assert unit_name(Kind.RATE, Units(rates="lb/in")) == "lb/in"


def test_a_display_unit_that_does_not_exist_is_refused() -> None:
    with pytest.raises(BadQuantity, match="choose mm or in"):
        Units(lengths="furlong")
    with pytest.raises(BadQuantity, match="choose N/mm, kg/mm or lb/in"):
        Units(rates="N/m")


# --- refusals ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "spec", "units", "message"),
    [
        ("9500", FREE_LENGTH, METRIC, "9500 mm is outside 10 to 1000 mm; check the number and its unit"),
        ("9500", FREE_LENGTH, INCHES, "9500 in is outside 0.394 to 39.37 in; check the number and its unit"),
        ("400 in", FREE_LENGTH, METRIC, "400 in (10160 mm) is outside 10 to 1000 mm; check the number and its unit"),
        ("-5", FREE_LENGTH, METRIC, "−5 mm is outside 10 to 1000 mm"),
        ("201", CLICKS, METRIC, "201 is outside 0 to 200; check the number"),
        ("5 Nm", FREE_LENGTH, METRIC, "'Nm' is not a unit of this field: type mm, cm or in after the number"),
        ("5'", FREE_LENGTH, METRIC, "is not a unit of this field: type mm, cm or in"),
        ("0.95 kg", RATE, METRIC, "'kg' is not a unit of this field: type N/mm, kg/mm or lb/in"),
        ("250mm; import os", FREE_LENGTH, METRIC, "'mm; import os' is not a unit of this field"),
        ("5\0mm", FREE_LENGTH, METRIC, "'\ufffdmm' is not a unit of this field"),
        ("5\nmm", FREE_LENGTH, METRIC, "'\ufffdmm' is not a unit of this field"),
        ("12 clicks", CLICKS, METRIC, "'clicks' does not belong here: this field takes a plain number"),
        ("9 7/8", FREE_LENGTH, METRIC, "type 9 7/8 in, or type a decimal"),
        ("9 7/8 mm", FREE_LENGTH, METRIC, "a fraction is read only in inches"),
        ("54 1/2 lb/in", RATE, METRIC, "a fraction is read only in inches, turns and counts: type a decimal"),
        ("nan", FREE_LENGTH, METRIC, "does not begin with a number"),
        ("12.5.3", FREE_LENGTH, METRIC, "two decimal signs"),
    ],
)
def test_a_refusal_says_what_is_wrong_and_what_to_type(text: str, spec: Number, units: Units, message: str) -> None:
    with pytest.raises(BadQuantity) as refused:
        parse(text, spec, units)
    assert message in str(refused.value)


def test_the_limits_of_a_field_can_be_typed_in_every_display_unit() -> None:
    for spec in EVERY_NUMBER:
        for units in ALL_UNITS:
            for limit in (spec.low, spec.high):
                assert parse(plain(limit, spec.kind, units), spec, units) == limit, (spec, units)


ANYTHING = st.text(max_size=30) | st.text(st.sampled_from('0123456789.,-+/ eE_*^"inmkgflbNt°½\u2212\x00'), max_size=24)


@settings(max_examples=400, deadline=None)  # the first unit that is met loads pint
@given(ANYTHING, st.sampled_from(EVERY_NUMBER), st.sampled_from(ALL_UNITS))
def test_any_text_gives_a_value_within_the_limits_or_a_refusal_that_can_be_shown(
    text: str, spec: Number, units: Units
) -> None:
    try:
        value = parse(text, spec, units)
    except BadQuantity as refused:
        message = str(refused)
    else:
        message = readback(text, spec, units)
        assert spec.low <= value <= spec.high
    assert message
    assert message.isprintable()


# --- reading back and nudging ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "units", "read"),
    [
        ("9.5 in", METRIC, "241.3 mm"),
        ("250,5", METRIC, "250.5 mm"),
        ("250.8 mm", INCHES, "9.874 in"),
        ("11,250", METRIC, "11.25 mm: the comma is a decimal sign"),
        ("11.250", METRIC, "11.25 mm"),
    ],
)
def test_the_value_read_is_said_with_its_unit_and_a_doubtful_comma_is_pointed_out(
    text: str, units: Units, read: str
) -> None:
    assert readback(text, FREE_LENGTH, units) == read


@pytest.mark.parametrize(
    ("value", "spec", "direction", "units", "after"),
    [
        (250.8, FREE_LENGTH, +1, METRIC, 251.3),
        (250.8, FREE_LENGTH, -1, METRIC, 250.3),
        (0.1, Number(Kind.LENGTH, 0, 1, 0.2), +1, METRIC, 0.3),  # and not 0.30000000000000004
        (1000.0, FREE_LENGTH, +1, METRIC, 1000.0),
        (10.2, FREE_LENGTH, -1, METRIC, 10.0),
        (254.0, FREE_LENGTH, +1, INCHES, 254.508),  # 10.02 in
        (9.80665, RATE, +1, Units(rates="kg/mm"), 10.002783),  # 1.02 kg/mm
        (None, CLICKS, +1, METRIC, 0.0),
        (None, FREE_LENGTH, +1, METRIC, 10.0),
        (None, Number(Kind.LENGTH, -100, -20, 1), -1, METRIC, -20.0),
        (4.0, CLICKS, +3, METRIC, 7.0),
        (73.2, Number(Kind.TIME, 1, 3600, 0.1), +1, METRIC, 73.3),
        (73.25, Number(Kind.TIME, 1, 3600, 0.1), -1, METRIC, 73.15),
    ],
)
def test_a_nudge_is_one_natural_step_and_stops_at_the_limits(
    value: float | None, spec: Number, direction: int, units: Units, after: float
) -> None:
    assert nudge(value, spec, direction, units) == after


@settings(deadline=None)
@given(st.data(), st.sampled_from(EVERY_NUMBER), st.sampled_from(ALL_UNITS), st.sampled_from([-1, 1]))
def test_a_nudge_moves_the_right_way_or_stays_at_a_limit(
    data: st.DataObject, spec: Number, units: Units, direction: int
) -> None:
    value = data.draw(st.floats(spec.low, spec.high))
    moved = nudge(value, spec, direction, units)
    assert spec.low <= moved <= spec.high
    limit = spec.high if direction > 0 else spec.low
    assert (moved - value) * direction > 0 or moved == limit


# --- pint --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", list(Kind))
def test_every_unit_that_is_offered_can_be_typed(kind: Kind) -> None:
    for name in units_of(kind):
        assert parse(f"2 {name}", wide(kind)) > 0


def test_pint_is_loaded_only_when_a_unit_other_than_the_files_own_is_met() -> None:
    script = """
import sys
from stanchion.job.spec import Kind, Number
from stanchion.units.quantity import nudge, parse, plain, show
length = Number(Kind.LENGTH, 10, 1000, 0.5)
parse("250,5 mm", length), plain(250.5, Kind.LENGTH), show(9.5, Kind.RATE), nudge(250.5, length, 1)
before = "pint" in sys.modules
parse("9.5 in", length)
print(before, "pint" in sys.modules)
"""
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=60, check=True)
    assert done.stdout == "False True\n"


def test_text_that_would_hang_a_parser_of_sums_is_answered_at_once() -> None:
    script = """
from stanchion.base.errors import BadQuantity
from stanchion.job.spec import Kind, Number
from stanchion.units.quantity import parse
for text in ("9**9**9", "9^9^9^9", "mm**9**9**9", "5 mm**9**9", "9" * 100_000, "m" * 100_000, "(" * 100_000, "-" * 5_000):
    try:
        parse(text, Number(Kind.LENGTH, 10, 1000, 0.5))
    except BadQuantity:
        continue
    raise SystemExit(text)
print("all refused")
"""
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=30, check=True)
    assert done.stdout == "all refused\n"


class TestLaps:
    LAP = Number(Kind.TIME, 1, 3600, 0.1)

    @pytest.mark.parametrize("text", ["131.9", "131", "131,95", "1031.5", "100"])
    def test_seconds_that_may_be_minutes_run_together_are_asked_about(self, text: str) -> None:
        with pytest.raises(BadQuantity, match="minutes or seconds"):
            parse(text, self.LAP)

    @pytest.mark.parametrize(
        ("text", "seconds"), [("131.9 s", 131.9), ("1:31.9", 91.9), ("1.31.9", 91.9), ("165.2", 165.2), ("99.9", 99.9)]
    )
    def test_what_can_be_read_in_one_way_only_is_read(self, text: str, seconds: float) -> None:
        assert parse(text, self.LAP) == seconds

    @given(st.integers(1000, 3_600_000), st.integers(0, 6))
    def test_a_lap_as_it_is_shown_is_read_as_the_same_lap(self, thousandths: int, finer: int) -> None:
        for seconds in (thousandths / 1000, round(thousandths / 1000 + finer / 1_000_000, 6)):
            if seconds <= 3600:
                assert parse(plain(seconds, Kind.TIME), self.LAP) == seconds


def test_the_exact_factors_are_those_of_pint() -> None:
    ureg: Any = pint.UnitRegistry()
    for kind, of_kind in UNITS.items():
        for unit in of_kind:
            if unit.exact is not None:
                assert unit.exact == pytest.approx(ureg.convert(1.0, unit.pint, of_kind[0].pint), rel=1e-14), (
                    kind,
                    unit,
                )


def test_every_unit_that_is_shown_has_an_exact_factor() -> None:
    for kind, names in DISPLAY_UNITS.items():
        assert [unit.name for unit in UNITS[kind] if unit.name in names and unit.exact is not None] == list(names)


@pytest.mark.parametrize(
    ("typed", "kind", "metric"),
    [
        ("172 lb", Kind.MASS, "78.0"),
        ("172.5 lb", Kind.MASS, "78.24"),  # 78.2 kg would be 172.4 lb
        ("9 7/8 in", Kind.LENGTH, "250.8"),
        ("1 1/4 in", Kind.LENGTH, "31.75"),  # as calipers read it: nothing to leave out
        ("54 lb/in", Kind.RATE, "9.46"),
        ("0.95 kg/mm", Kind.RATE, "9.32"),
        ("33.5 psi", Kind.PRESSURE, "2.31"),
        ("17 lbf·ft", Kind.TORQUE, "23.0"),
        ("180 lbf", Kind.FORCE, "801"),
    ],
)
def test_a_value_typed_in_another_unit_is_shown_as_short_as_it_was_typed(typed: str, kind: Kind, metric: str) -> None:
    number = Number(kind, 0, 2000, 0.5)
    value = parse(typed, number)
    assert editable(value, kind) == metric
    digits, _, name = typed.rpartition(" ")
    shown = next(unit for unit in UNITS[kind] if name in unit.spellings)
    if shown.shown:  # in the unit it was typed in, it is as it was typed
        setting = next(name for name, of in UNIT_SETTINGS.items() if of is kind)
        there = Units(**{setting: shown.name})
        assert parse(editable(value, kind, there), number, there) == parse(digits, number, there) == value


@given(st.sampled_from([Kind.MASS, Kind.LENGTH, Kind.RATE, Kind.PRESSURE, Kind.TORQUE]), st.integers(1, 999_999))
def test_what_was_typed_in_the_unit_of_the_file_is_never_shortened(kind: Kind, hundredths: int) -> None:
    decimals = UNITS[kind][0].decimals + 1
    value = round(hundredths / 10**decimals, decimals)
    assert float(editable(value, kind)) == value


def test_a_step_from_a_value_typed_in_another_unit_begins_at_what_is_shown() -> None:
    mass = Number(Kind.MASS, 20, 250, 0.5)
    assert nudge(parse("172 lb", mass), mass, +1) == 78.5
