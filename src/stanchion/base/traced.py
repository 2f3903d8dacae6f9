"""Numbers that remember how they were worked out, so that a figure can be shown with its formula.

A traced number is a float like any other. What is calculated from it is traced too: the operation, and the numbers it
was applied to. Nothing here is used while a job is judged at every key; `planning/tracing.py` uses it where a person
asks why.
"""

from __future__ import annotations

import builtins
import cmath
import math
from collections.abc import Callable, Iterable
from types import SimpleNamespace
from typing import Any

READ = "read"
"""Operation of a number that was recorded or comes from a table; its one argument says which."""
SOLVED = "solved"
"""Operation of a number that was searched for; its one argument is what is zero there, in terms of the number."""


class Traced(float):
    """A number with the operation that gave it, the numbers it was applied to, and perhaps a name."""

    __slots__ = ("named", "of", "operation")
    __hash__ = object.__hash__  # a traced number finds no answer that is kept for the same plain one

    operation: str
    of: tuple[Any, ...]
    named: Any
    """What the number is called, if it is the argument or the result of a formula; None: a step on the way."""

    def __add__(self, other: Any) -> Any:
        return _two("+", float.__add__, self, other)

    def __radd__(self, other: Any) -> Any:
        return self if other == 0.0 and type(other) is not Traced else _two("+", float.__add__, self, other, back=True)

    def __sub__(self, other: Any) -> Any:
        return _two("-", float.__sub__, self, other)

    def __rsub__(self, other: Any) -> Any:
        return _two("-", float.__rsub__, self, other, back=True)

    def __mul__(self, other: Any) -> Any:
        return _two("*", float.__mul__, self, other)

    def __rmul__(self, other: Any) -> Any:
        return _two("*", float.__mul__, self, other, back=True)

    def __truediv__(self, other: Any) -> Any:
        return _two("/", float.__truediv__, self, other)

    def __rtruediv__(self, other: Any) -> Any:
        return _two("/", float.__rtruediv__, self, other, back=True)

    def __pow__(self, other: Any, modulo: None = None) -> Any:
        return _two("**", float.__pow__, self, other)

    def __rpow__(self, other: Any, modulo: None = None) -> Any:
        return _two("**", float.__rpow__, self, other, back=True)

    def __mod__(self, other: Any) -> Any:
        return _two("%", float.__mod__, self, other)

    def __floordiv__(self, other: Any) -> Any:
        return _two("//", float.__floordiv__, self, other)

    def __neg__(self) -> Any:
        return traced(float.__neg__(self), "neg", self)

    def __pos__(self) -> Any:
        return self

    def __abs__(self) -> Any:
        return traced(float.__abs__(self), "abs", self)

    def __round__(self, digits: Any = None) -> Any:
        rounded = float.__round__(self, digits)
        return rounded if digits is None else traced(rounded, "round", self, digits)


def traced(value: float, operation: str, *of: Any) -> Traced:
    """A number with the operation that gave it.

    >>> force = traced(9.5, READ, "rate") * 20.0
    >>> force, force.operation, force.of
    (190.0, '*', (9.5, 20.0))
    """
    number = float.__new__(Traced, value)
    number.operation, number.of, number.named = operation, of, None
    return number


def _two(sign: str, operate: Callable[..., Any], one: Traced, other: Any, *, back: bool = False) -> Any:
    value = operate(one, other)
    if type(value) is not float:  # NotImplemented, or a complex number
        return value
    return traced(value, sign, other, one) if back else traced(value, sign, one, other)


# --- the functions that are given a traced number -------------------------------------------------------------------

_OF_ONE = ("sin", "cos", "tan", "asin", "acos", "atan", "sqrt", "exp", "log", "radians", "degrees", "fabs")
_OF_MORE = ("atan2", "hypot", "pow")


def _followed(name: str) -> Callable[..., Any]:
    plain = getattr(math, name)

    def follow(*numbers: Any) -> Any:
        value = plain(*numbers)
        return traced(value, name, *numbers) if _any(numbers) else value

    return follow


def _fsum(numbers: Iterable[Any]) -> Any:
    items = tuple(numbers)
    value = math.fsum(items)
    return traced(value, "sum", *items) if _any(items) else value


def _sum(numbers: Iterable[Any], start: Any = 0) -> Any:
    items = tuple(numbers)
    if not _any(items) or start != 0:
        return sum(items, start)
    value = sum(float(one) for one in items)  # as plain numbers are added up: newer Pythons carry the rounding along
    return traced(value, "sum", *items) if len(items) > 1 else items[0]


def _dist(one: Iterable[Any], other: Iterable[Any]) -> Any:
    return _HYPOT(*(a - b for a, b in zip(one, other, strict=True)))


def _copysign(size: Any, sign: Any) -> Any:
    value = math.copysign(size, sign)
    if type(size) is not Traced:
        return value
    return size if value == size else -size


def _extreme(name: str) -> Callable[..., Any]:
    plain = getattr(builtins, name)

    def follow(*items: Any, **chosen: Any) -> Any:
        if chosen:
            return plain(*items, **chosen)
        numbers = tuple(items[0]) if len(items) == 1 else items
        value = plain(numbers)
        if not isinstance(value, float) or not _any(numbers):
            return value
        finite = tuple(one for one in numbers if not math.isinf(one))  # an end that is nowhere bounds nothing
        return traced(value, name, *finite) if len(finite) > 1 else value

    return follow


def _any(numbers: Iterable[Any]) -> bool:
    return any(type(one) is Traced for one in numbers)


_HYPOT = _followed("hypot")


class TracedPlace(complex):
    """A place in the plane whose two coordinates are traced."""

    __slots__ = ("across", "up")

    across: Any
    up: Any

    @property
    def real(self) -> Any:
        """The first coordinate."""
        return self.across

    @property
    def imag(self) -> Any:
        """The second coordinate."""
        return self.up

    def conjugate(self) -> Any:
        """The place mirrored."""
        return _place(complex.conjugate(self), self.across, -self.up)

    def __neg__(self) -> Any:
        return _place(complex.__neg__(self), -self.across, -self.up)

    def __abs__(self) -> Any:
        return traced(complex.__abs__(self), "hypot", self.across, self.up)

    def __add__(self, other: Any) -> Any:
        return _place(complex.__add__(self, other), self.across + other.real, self.up + other.imag)

    __radd__ = __add__

    def __sub__(self, other: Any) -> Any:
        return _place(complex.__sub__(self, other), self.across - other.real, self.up - other.imag)

    def __rsub__(self, other: Any) -> Any:
        return _place(complex.__rsub__(self, other), other.real - self.across, other.imag - self.up)

    def __mul__(self, other: Any) -> Any:
        re, im = other.real, other.imag
        value = complex.__mul__(self, other)
        if type(im) is not Traced and im == 0.0:
            return _place(value, self.across * re, self.up * re)
        return _place(value, self.across * re - self.up * im, self.across * im + self.up * re)

    __rmul__ = __mul__

    def __truediv__(self, other: Any) -> Any:
        re, im = other.real, other.imag
        value = complex.__truediv__(self, other)
        if type(im) is not Traced and im == 0.0:
            return _place(value, self.across / re, self.up / re)
        size = re * re + im * im
        return _place(value, (self.across * re + self.up * im) / size, (self.up * re - self.across * im) / size)


def _place(value: complex, across: Any, up: Any) -> complex:
    """A place with its coordinates: of the very value, and with the operations that give it."""
    place = complex.__new__(TracedPlace, value)
    place.across, place.up = _exactly(value.real, across), _exactly(value.imag, up)
    return place


def _exactly(value: float, number: Any) -> Any:
    """The number with a value that may differ from its own by rounding."""
    return number if type(number) is not Traced or number == value else traced(value, number.operation, *number.of)


def _complex(real: Any = 0.0, imag: Any = 0.0) -> complex:
    value = complex(real, imag)
    return _place(value, real, imag) if _any((real, imag)) else value


def _exp(at: complex) -> complex:
    value = cmath.exp(at)
    if type(at) is not TracedPlace:
        return value
    turn = _FOLLOWED_COS(at.up), _FOLLOWED_SIN(at.up)
    return _place(value, *turn)  # only ever of a turn, whose real part is 0


_FOLLOWED_COS, _FOLLOWED_SIN = _followed("cos"), _followed("sin")
FOLLOWED: dict[str, Any] = {
    "math": SimpleNamespace(
        **{name: value for name, value in vars(math).items() if not name.startswith("_")}
        | {name: _followed(name) for name in (*_OF_ONE, *_OF_MORE)}
        | {"fsum": _fsum, "dist": _dist, "copysign": _copysign}
    ),
    "cmath": SimpleNamespace(exp=_exp),
    "complex": _complex,
    "sum": _sum,
    "max": _extreme("max"),
    "min": _extreme("min"),
}
"""What stands for `math` and for functions of the language in modules whose numbers are followed."""
