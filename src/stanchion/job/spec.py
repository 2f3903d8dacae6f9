"""What a field of a job may hold: the rules that codec, edits and entry share.

The model declares each field once, with its spec in the dataclass field's metadata; reading a file, applying an
edit and parsing typed text all use the same spec.
"""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import Field, field, fields
from enum import StrEnum
from functools import cache
from typing import Any

from stanchion.base.errors import BadEdit
from stanchion.base.record import record


class Kind(StrEnum):
    """What sort of quantity a number is; it decides the unit in the file and the units that may be typed."""

    LENGTH = "length"  # mm
    RATE = "rate"  # N/mm
    MASS = "mass"  # kg
    FORCE = "force"  # N
    PRESSURE = "pressure"  # bar, as gauges read
    VOLUME = "volume"  # ml
    ANGLE = "angle"  # degrees
    TURNS = "turns"  # turns of an adjuster
    COUNT = "count"  # a plain number: clicks, rings showing, coils
    RATIO = "ratio"  # dimensionless
    SHARE = "share"  # percent
    TIME = "time"  # seconds, shown as a lap time
    TEMPERATURE = "temperature"  # degrees Celsius
    TORQUE = "torque"  # N·m
    ALTITUDE = "altitude"  # m above sea level
    BAROMETER = "barometer"  # hPa
    SPEED = "speed"  # mm/s, of a damper's shaft


@record
class Progressive:
    """A rate that rises as the spring is compressed, as its label has it: 8.5-10.5 N/mm. In a file: [8.5, 10.5]."""

    start: float
    """Rate at the free length, in the base unit."""
    end: float
    """Rate at the end of the stroke, above the first."""

    @property
    def middle(self) -> float:
        """The middle of both, to sort and to weigh by."""
        return (self.start + self.end) / 2.0


Rate = float | Progressive
"""What a spring's label says: one rate [N/mm], or the two of a progressive spring."""


def middle_rate(rate: Rate) -> float:
    """The rate, or the middle of the two.

    >>> middle_rate(9.0), middle_rate(Progressive(8.5, 10.5))
    (9.0, 9.5)
    """
    return rate.middle if isinstance(rate, Progressive) else rate


def as_stored(rate: Rate) -> float | list[float]:
    """A number as a file holds it; two as a list.

    >>> as_stored(9), as_stored(Progressive(8.5, 10.5))
    (9.0, [8.5, 10.5])
    """
    return [float(rate.start), float(rate.end)] if isinstance(rate, Progressive) else float(rate)


@record
class Number:
    """A number in the base unit of its kind, with the limits beyond which it cannot be true."""

    kind: Kind
    low: float
    high: float
    step: float
    """What one press of + or - adds, in the base unit."""
    optional: bool = True
    two: bool = False
    """Whether it may also be the two rates of a progressive spring."""

    def check(self, value: object) -> Rate | None:
        """Give the value as a float, as two where it may be two, or None for an empty field.

        Raises:
            BadEdit: not a number, not finite, or outside the limits.
        """
        if value is None and self.optional:
            return None
        if self.two and isinstance(value, Progressive | list | tuple):
            return self._both(value)
        return self._one(value)

    def _both(self, value: Progressive | list[Any] | tuple[Any, ...]) -> Progressive:
        ends = [value.start, value.end] if isinstance(value, Progressive) else value
        if len(ends) != len(("start", "end")):
            raise BadEdit(f"one rate or two are needed, not {len(ends)}")
        start, end = self._one(ends[0]), self._one(ends[1])
        if not start < end:
            raise BadEdit("of two rates the softer one comes first, as on the label of a progressive spring")
        return Progressive(start, end)

    def _one(self, value: object) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise BadEdit(f"a number is needed, not {_kind_of(value)}")
        try:
            number = float(value)
        except OverflowError:
            raise BadEdit(f"the number is too large (at most {self.high:g})") from None
        if not math.isfinite(number):
            raise BadEdit("an ordinary number is needed, not infinity or 'not a number'")
        if not self.low <= number <= self.high:
            raise BadEdit(f"{number:g} cannot be right: it must lie between {self.low:g} and {self.high:g}")
        return number


@record
class Choice:
    """One of a few words."""

    options: tuple[str, ...]

    def check(self, value: object) -> str:
        """Give the word.

        Raises:
            BadEdit: any other value.
        """
        if not isinstance(value, str) or value not in self.options:
            raise BadEdit(f"it must be one of {', '.join(map(repr, self.options))}")
        return value


@record
class Text:
    """A line of text (or several, where lines is above one). Any characters; the display makes them harmless."""

    longest: int = 80
    lines: int = 1
    clock: bool = False
    """Whether a time of day is asked for when it is typed; older files may hold any text."""

    def check(self, value: object) -> str:
        """Give the text.

        Raises:
            BadEdit: not text, or too long.
        """
        if not isinstance(value, str):
            raise BadEdit(f"text in quotes is needed, not {_kind_of(value)}")
        if len(value) > self.longest:
            raise BadEdit(f"the text is too long: {len(value)} characters, at most {self.longest}")
        try:
            value.encode("utf-8")
        except UnicodeEncodeError:
            raise BadEdit("the text holds half a character (a lone surrogate) and cannot be stored") from None
        return value


@record
class Flag:
    """Yes or no."""

    def check(self, value: object) -> bool:
        """Give the answer.

        Raises:
            BadEdit: anything but true or false.
        """
        if not isinstance(value, bool):
            raise BadEdit(f"true or false is needed, not {_kind_of(value)}")
        return value


@record
class Day:
    """A calendar day."""

    optional: bool = False

    def check(self, value: object) -> dt.date | None:
        """Give the day, or None for an empty field.

        Raises:
            BadEdit: not a date, or a date with a time.
        """
        if value is None and self.optional:
            return None
        if isinstance(value, dt.datetime) or not isinstance(value, dt.date):
            raise BadEdit(f"a date such as 2026-05-31 is needed, not {_kind_of(value)}")
        return value


@record
class Many:
    """A row of numbers, such as repeated readings."""

    item: Number
    most: int


@record
class Part:
    """A nested part of the job."""

    type: type
    optional: bool = False


@record
class Rows:
    """A list of small parts, such as measured pairs."""

    type: type
    most: int


Leaf = Number | Choice | Text | Flag | Day
Spec = Leaf | Many | Part | Rows


def _kind_of(value: object) -> str:
    names = {
        bool: "true or false",
        str: "text",
        int: "a number",
        float: "a number",
        list: "a list",
        dict: "a table",
    }
    return names.get(type(value), "nothing" if value is None else f"a {type(value).__name__}")


# --- how the model declares its fields ---------------------------------------------------------------------------


def number(kind: Kind, low: float, high: float, step: float, *, two: bool = False) -> Any:
    """Declare an optional number."""
    return field(default=None, metadata={"spec": Number(kind, low, high, step, two=two)})


def many(kind: Kind, low: float, high: float, step: float, most: int, *, two: bool = False) -> Any:
    """Declare a row of at most `most` numbers."""
    return field(default=(), metadata={"spec": Many(Number(kind, low, high, step, optional=False, two=two), most)})


def choice(*options: str) -> Any:
    """Declare a choice; the first word is the default."""
    return field(default=options[0], metadata={"spec": Choice(options)})


def text(longest: int = 80, lines: int = 1, default: str = "", *, clock: bool = False) -> Any:
    """Declare a text."""
    return field(default=default, metadata={"spec": Text(longest, lines, clock)})


def flag(*, default: bool = False) -> Any:
    """Declare a yes-or-no."""
    return field(default=default, metadata={"spec": Flag()})


def day(default: dt.date | None = None) -> Any:
    """Declare a calendar day; one without a default may be left empty."""
    return field(default=default, metadata={"spec": Day(optional=default is None)})


def part(kind: type) -> Any:
    """Declare a nested part that is always there."""
    return field(default=kind(), metadata={"spec": Part(kind)})


def optional_part(kind: type) -> Any:
    """Declare a nested part that may be absent."""
    return field(default=None, metadata={"spec": Part(kind, optional=True)})


def rows(kind: type, most: int) -> Any:
    """Declare a list of at most `most` small parts."""
    return field(default=(), metadata={"spec": Rows(kind, most)})


@cache
def specs_of(kind: type) -> dict[str, Spec]:
    """The specs of a part's recorded fields, by name, in the order they are declared."""
    declared: tuple[Field[Any], ...] = fields(kind)
    return {f.name: f.metadata["spec"] for f in declared if "spec" in f.metadata}
