"""Typed text to a number in the unit of the file, and back to text.

The grammar is in grammar.py, and the unit comes from a closed list. Text that a person typed never reaches
pint, which drops a decimal comma ("250,5" gives 2505) and a typographic minus, and can run for minutes. pint gives the
factor of each unit, once, and is imported only when a unit other than the file's own is met.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from typing import Any

from stanchion.base.errors import BadQuantity
from stanchion.base.text import clean
from stanchion.job.spec import Kind, Number, Progressive, Rate
from stanchion.units.grammar import MOST_DECIMALS, Typed, may_be_thousands, take_apart, take_two_apart
from stanchion.units.known_units import METRIC, UNITS, Unit, Units, display_unit, either, is_file_unit
from stanchion.units.times import LAP_DECIMALS, read_lap, spoken

MINUS = "\u2212"
"""The minus sign of all text that is read."""
_ENDS_THERE = 1e-6
_SAME = 2e-9
"""Values are kept to nine decimals: two that differ by no more are the same."""
_TRIMMED = {Kind.TURNS, Kind.COUNT}


def parse(text: str, number: Number, units: Units = METRIC) -> float:
    """The value a person typed, in the base unit of the number's kind.

    A bare number is in the display unit. Comma and point are both decimal signs. Inches, turns and counts may be
    fractions: ``9 7/8 in``.

    Args:
        text: at most 24 characters: a number and perhaps a unit.
        number: the kind of quantity and its limits.
        units: the display units.

    Returns:
        The value, rounded to nine decimals, within the limits.

    Raises:
        BadQuantity: what is wrong and what to type instead.

    >>> length = Number(Kind.LENGTH, 10, 1000, 0.5)
    >>> parse("250,5", length), parse("9 7/8 in", length), parse("9.5", length, Units(lengths="in"))
    (250.5, 250.825, 241.3)
    >>> parse("1,250.5", length)
    Traceback (most recent call last):
    stanchion.base.errors.BadQuantity: two decimal signs: type 1250.5
    """
    typed = take_apart(read_lap(text) if number.kind is Kind.TIME else text)
    unit = _unit_typed(typed, number.kind, units)
    value = _to_base(typed.number, typed.decimals, unit, number.kind)
    if not number.low <= value <= number.high:
        display = display_unit(number.kind, units)
        shown = _read_as(_short(typed.number, MOST_DECIMALS), unit.name)
        if unit is not display:
            shown += f" ({_read_as(_short(_from_base(value, number.kind, display), 3), display.name)})"
        low, high = (_short(_from_base(end, number.kind, display), 3) for end in (number.low, number.high))
        advice = "check the number" if not display.name else "check the number and its unit"
        raise BadQuantity(f"{shown} is outside {_read_as(f'{low} to {high}', display.name)}; {advice}")
    return value


def read(text: str, number: Number, units: Units = METRIC) -> Rate:
    """The value a person typed, as parse() gives it, or the two rates of a progressive spring's label.

    Raises:
        BadQuantity: as parse does.

    >>> rate = Number(Kind.RATE, 0.1, 1000, 0.25, two=True)
    >>> read("9,5", rate), read("8,5-10,5", rate), read("0.85 to 1.05 kg/mm", rate)
    (9.5, Progressive(start=8.5, end=10.5), Progressive(start=8.3356525, end=10.2969825))
    >>> read("8.5-", rate)
    Traceback (most recent call last):
    stanchion.base.errors.BadQuantity: type the rate at the end of the stroke too, such as 8.5-10.5
    """
    label = take_two_apart(text) if number.two else None
    if label is None:
        return parse(text, number, units)
    start, end = (parse(one, number, units) for one in label)
    if not start < end:
        raise BadQuantity("the softer rate comes first, as on a progressive spring's label: type it as 8.5-10.5")
    return Progressive(start, end)


def readback(text: str, number: Number, units: Units = METRIC) -> str:
    """How typed text was read, in the display unit, with a word where a comma may have been meant otherwise.

    Raises:
        BadQuantity: as parse does.

    >>> readback("9.5 in", Number(Kind.LENGTH, 10, 1000, 0.5))
    '241.3 mm'
    >>> readback("1,250", Number(Kind.LENGTH, 0, 2000, 0.5))
    '1.25 mm: the comma is a decimal sign'
    """
    value = read(text, number, units)
    if isinstance(value, Progressive):
        return f"{_two(value, lambda one: editable(one, number.kind, units))} {unit_name(number.kind, units)}"
    said = _read_as(editable(value, number.kind, units), unit_name(number.kind, units))
    return f"{said}: the comma is a decimal sign" if may_be_thousands(text) else said


def plain(value: float, kind: Kind, units: Units = METRIC) -> str:
    """The value as editable text in the display unit, without the unit.

    It has the fewest decimals that parse back to the very same value, so that visiting a field changes nothing; a
    value that six decimals cannot give, such as a converted one, is rounded to four.

    >>> plain(250.0, Kind.LENGTH), plain(250.8, Kind.LENGTH), plain(250.825, Kind.LENGTH, Units(lengths="in"))
    ('250', '250.8', '9.875')
    """
    if kind is Kind.TIME and round(value, 1) == value:
        return spoken(value)
    unit = display_unit(kind, units)
    shown = _from_base(value, kind, unit)
    for decimals in range(MOST_DECIMALS + 1):
        rounded = _rounded(shown, decimals)
        if _to_base(rounded, decimals, unit, kind) == value:
            of_a_lap = kind is Kind.TIME and decimals <= LAP_DECIMALS
            return spoken(value, decimals) if of_a_lap else f"{rounded + 0:f}"
    return _short(shown, 4)


def editable(value: Rate, kind: Kind, units: Units = METRIC) -> str:
    """The value as a field shows it: as plain() gives it, but without the decimals that only another unit left behind.

    In the unit of the file a value that is round in another unit was typed there: it has as many decimals as tell it
    from its neighbours as they were typed. In another unit it has no more decimals than that unit deserves, unless it
    is a round value there.

    >>> editable(78.01788764, Kind.MASS), editable(78.01788764, Kind.MASS, Units(masses="lb"))  # 172 lb
    ('78.0', '172')
    >>> editable(95.0, Kind.RATE, Units(rates="kg/mm")), editable(9.31631750, Kind.RATE, Units(rates="kg/mm"))
    ('9.687', '0.95')
    >>> editable(250.825, Kind.LENGTH, Units(lengths="in")), editable(9.316, Kind.RATE)
    ('9.875', '9.316')
    """
    if isinstance(value, Progressive):
        return f"{editable(value.start, kind, units)}-{editable(value.end, kind, units)}"
    unit, text = display_unit(kind, units), plain(value, kind, units)
    if kind is not Kind.TIME and len(text.partition(".")[2]) > unit.decimals + 1:
        if is_file_unit(kind, units):
            text = _typed_elsewhere(value, kind) or text
        else:
            text = _short(_from_base(value, kind, unit), unit.decimals)
    return text.replace("-", MINUS)


def show(value: Rate, kind: Kind, units: Units = METRIC) -> str:
    """The value as it is read, with the decimals its unit deserves and the unit.

    >>> show(Progressive(8.5, 10.5), Kind.RATE)
    '8.50–10.50 N/mm'
    >>> show(250.8, Kind.LENGTH), show(9.316, Kind.RATE, Units(rates="kg/mm")), show(2.5, Kind.TURNS)
    ('250.8 mm', '0.950 kg/mm', '2.5 turns')
    """
    if isinstance(value, Progressive):
        return _two(value, lambda one: show(one, kind, units))
    unit = display_unit(kind, units)
    shown = _from_base(value, kind, unit)
    if kind is Kind.TIME:
        return spoken(value)
    if kind in _TRIMMED:
        return _read_as(_short(shown, unit.decimals), unit.name)
    return _read_as(f"{_rounded(shown, unit.decimals):f}", unit.name)


def show_settable(value: Rate, kind: Kind, units: Units = METRIC) -> str:
    """The value as show() gives it, with one decimal more where it ends there, as a quarter of a turn does: so that
    lengths still add up beside the turns they stand for.

    >>> show_settable(3.75, Kind.LENGTH), show_settable(3.68, Kind.RATE), show_settable(3.683, Kind.LENGTH)
    ('3.75 mm', '3.68 N/mm', '3.7 mm')
    """
    if isinstance(value, Progressive) or kind in _TRIMMED or kind is Kind.TIME:
        return show(value, kind, units)
    return _read_as(f"{_settable(value, kind, units):f}", display_unit(kind, units).name)


def show_settable_difference(value: float, other: float, units: Units = METRIC) -> str:
    """How much more one length is than another, as show_settable() shows both.

    >>> show_settable_difference(3.25, 3.0), show_settable_difference(3.243, 3.0)
    ('0.25 mm', '0.2 mm')
    """
    by = _settable(value, Kind.LENGTH, units) - _settable(other, Kind.LENGTH, units)
    return _read_as(f"{by:f}", unit_name(Kind.LENGTH, units))


def _settable(value: float, kind: Kind, units: Units) -> Decimal:
    """The number that show_settable() shows."""
    unit = display_unit(kind, units)
    shown = _from_base(value, kind, unit)
    finer, usual = _rounded(shown, unit.decimals + 1), _rounded(shown, unit.decimals)
    ends_there = is_file_unit(kind, units) and finer != usual and abs(float(finer) - value) <= _ENDS_THERE
    return finer if ends_there else usual


def show_difference(value: float, other: float, kind: Kind, units: Units = METRIC) -> str:
    """How much more one value is than another, as both are shown: the difference of the rounded values.

    >>> show_difference(12.26, 12.24, Kind.LENGTH), show(12.26, Kind.LENGTH), show(12.24, Kind.LENGTH)
    ('0.1 mm', '12.3 mm', '12.2 mm')
    """
    unit = display_unit(kind, units)
    decimals = unit.decimals
    if kind is Kind.TIME:  # as a lap is spoken
        by = Decimal(round(value * 10) - round(other * 10)) / 10
    else:
        by = _rounded(_from_base(value, kind, unit), decimals) - _rounded(_from_base(other, kind, unit), decimals)
    by = _rounded(by, decimals)
    return _read_as(_short(by, decimals) if kind in _TRIMMED else f"{by:f}", unit.name)


def unit_name(kind: Kind, units: Units = METRIC) -> str:
    """The display unit of a kind; empty for plain numbers.

    >>> unit_name(Kind.LENGTH), unit_name(Kind.RATE, Units(rates="lb/in")), unit_name(Kind.COUNT)
    ('mm', 'lb/in', '')
    """
    return display_unit(kind, units).name


def units_of(kind: Kind) -> tuple[str, ...]:
    """The units that may be typed for a kind.

    >>> units_of(Kind.LENGTH)
    ('mm', 'cm', 'in')
    """
    return tuple(unit.name for unit in UNITS[kind] if unit.name)


def nudge(value: float | None, number: Number, direction: int, units: Units = METRIC) -> float:
    """The value one natural step up or down, within the limits.

    The step is the number's own; in another display unit it is the 1, 2 or 5 nearest to it. An empty field begins
    at zero, or at the limit nearest to zero.

    Args:
        value: in the base unit; None: nothing recorded yet.
        number: its kind, limits and step.
        direction: +1 or -1; other whole numbers take as many steps.
        units: the display units.

    >>> nudge(250.8, Number(Kind.LENGTH, 10, 1000, 0.5), +1), nudge(None, Number(Kind.COUNT, 0, 200, 1), +1)
    (251.3, 0.0)
    """
    if value is None:
        stepped = 0.0
    else:
        unit = display_unit(number.kind, units)
        if is_file_unit(number.kind, units):
            as_shown = number.kind is not Kind.TIME  # a lap is shown as it is spoken, which is no number
            begun = Decimal(editable(value, number.kind, units).replace(MINUS, "-")) if as_shown else _exact(value)
            stepped = float(_rounded(begun + direction * _exact(number.step), 9))
        else:
            step = _round_step(_from_base(number.step, number.kind, unit))
            moved = _rounded(_from_base(value, number.kind, unit) + direction * step, unit.decimals)
            stepped = _to_base(moved, unit.decimals, unit, number.kind)
    return min(max(stepped, float(number.low)), float(number.high))


def nudge_rate(value: Rate | None, number: Number, direction: int, units: Units = METRIC) -> Rate:
    """The value a step up or down as nudge() gives it; of two rates both, unless one is at its limit."""
    if not isinstance(value, Progressive):
        return nudge(value, number, direction, units)
    start, end = (nudge(one, number, direction, units) for one in (value.start, value.end))
    return Progressive(start, end) if start < end else value


# --- reading -----------------------------------------------------------------------------------------------------


def _unit_typed(typed: Typed, kind: Kind, units: Units) -> Unit:
    """The unit a person typed, or the display unit where they typed none."""
    unit = display_unit(kind, units) if not typed.word else _named(typed.word, kind)
    if typed.fraction and not unit.fractions:
        instead = f"type {typed.digits} in, or " if kind is Kind.LENGTH else ""
        raise BadQuantity(f"a fraction is read only in inches, turns and counts: {instead}type a decimal, such as 9.5")
    return unit


def _named(word: str, kind: Kind) -> Unit:
    spelled = word.replace(" ", "").lower()
    for unit in UNITS[kind]:
        if spelled in unit.spellings:
            return unit
    shown, names = f"'{clean(word)}'", units_of(kind)
    if not names:
        raise BadQuantity(f"{shown} does not belong here: this field takes a plain number, so type only the number")
    raise BadQuantity(f"{shown} is not a unit of this field: type {either(names)} after the number, or no unit")


# --- converting --------------------------------------------------------------------------------------------------


@cache
def _registry() -> Any:
    import pint  # noqa: PLC0415 - a quarter of a second, which most sessions never need

    return pint.UnitRegistry(non_int_type=Decimal, cache_folder=None)


@cache
def _factor(kind: Kind, unit: Unit) -> Decimal:
    """Base units in one of these."""
    base = UNITS[kind][0]
    if unit is base:
        return Decimal(1)
    return Decimal(_registry().convert(Decimal(1), unit.pint, base.pint))


def _to_base(typed: Decimal, decimals: int, unit: Unit, kind: Kind) -> float:
    """A value in a unit, in the base unit.

    With all six decimals a converted number stands for the value of four decimals that it was rounded from: plain()
    writes 250.8 mm as 9.874016 in, and that must be 250.8 mm again.
    """
    factor = _factor(kind, unit)
    value = typed * factor
    if decimals >= MOST_DECIMALS and factor != 1:
        near = _rounded(value, 4)
        if abs(near - value) <= factor * Decimal("0.5e-6"):
            value = near
    return float(_rounded(value, 9)) + 0.0


def _from_base(value: float, kind: Kind, unit: Unit) -> Decimal:
    return _exact(value + 0.0) / _factor(kind, unit)  # + 0.0: minus zero is zero


def _typed_elsewhere(value: float, kind: Kind) -> str:
    """The value in the file's unit, if it is round in another one: as short as is the same value there as typed.

    >>> _typed_elsewhere(250.825, Kind.LENGTH), _typed_elsewhere(250.8123, Kind.LENGTH)  # 9 7/8 in
    ('250.8', '')
    """
    usual, exact = UNITS[kind][0].decimals, _exact(value)
    halves = [_half_a_step(value, unit) for unit in UNITS[kind][1:]]
    half = max((half for half in halves if half is not None), default=None)
    if half is None:
        return ""
    decimals = next(n for n in range(usual, 10) if abs(_rounded(exact, n) - exact) <= half)
    return f"{_rounded(exact, decimals):f}"


def _half_a_step(value: float, unit: Unit) -> Decimal | None:
    """Half the step to which a value was typed in a unit [base unit]; None where it is not round in that unit."""
    if unit.exact is None:
        return None
    wholes: list[int] = [*([2, 4, 8, 16] if unit.fractions else []), *(10**n for n in range(unit.decimals + 1))]
    for parts in sorted(wholes):
        near = round(value / unit.exact * parts) / parts
        if abs(near * unit.exact - value) <= _SAME:
            return _exact(unit.exact) / (2 * parts)
    return None


def _exact(value: float) -> Decimal:
    """The decimal a person would write for the float."""
    return Decimal(repr(float(value)))


def _rounded(value: Decimal, decimals: int) -> Decimal:
    """Rounded with halves away from zero, never to minus zero. Infinite values are returned unchanged."""
    if not value.is_finite() or value.adjusted() > 15:
        return value
    return value.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP) + 0


def _short(value: Decimal, decimals: int) -> str:
    """At most so many decimals, without trailing zeros."""
    text = f"{_rounded(value, decimals):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _round_step(step: Decimal) -> Decimal:
    """The 1, 2 or 5 (times a power of ten) nearest to a step, by ratio."""
    tens = Decimal(1).scaleb(step.adjusted())
    return min((tens, 2 * tens, 5 * tens, 10 * tens), key=lambda nice: max(nice / step, step / nice))


def _two(value: Progressive, shown: Callable[[float], str]) -> str:
    """Both rates, the unit behind the second alone."""
    return f"{shown(value.start).partition(' ')[0]}–{shown(value.end)}"


def _read_as(number: str, name: str) -> str:
    """A number with its unit as it is read: a minus is a minus sign, which a terminal of ASCII alone spells `-`."""
    if name == "turns" and number in ("1", "-1"):
        name = "turn"
    number = number.replace("-", MINUS)
    return f"{number}{name}" if name == "°" else f"{number} {name}".rstrip()
