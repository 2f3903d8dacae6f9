"""The making of value classes: dataclasses with slots that nobody may change once they are made.

A frozen dataclass of the standard library takes 0.4 ms to be made, most of it for six methods that are each written
as text and compiled. There are some 150 of them, and the first screen waits for all. Here only `__init__` is made so;
the other methods are shared. That nobody assigns to a field is held by the type checker, which reads a record as
frozen, and by a test that no module assigns by name (`tests/test_rooms.py`); at run time nothing is paid for it, and
an instance is made four times as fast.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, fields
from operator import attrgetter
from typing import Any, TypeVar, dataclass_transform, overload

T = TypeVar("T")


@overload
def record(cls: type[T], /) -> type[T]: ...
@overload
def record(*, kw_only: bool = False) -> Callable[[type[T]], type[T]]: ...
@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def record(cls: type[T] | None = None, /, *, kw_only: bool = False) -> type[T] | Callable[[type[T]], type[T]]:
    """Make a class a record: its annotated names are its fields, equal fields make equal records.

    `dataclasses.fields`, `replace` and `field` work as with any dataclass. A field with `hash=False` counts in
    equality alone, one with `compare=False` in neither.

    Args:
        cls: the class, where the decorator stands without brackets.
        kw_only: fields can only be given by name.

    >>> @record
    ... class Point:
    ...     x: float
    ...     y: float = 0.0
    >>> Point(1.0), Point(1.0) == Point(1.0, 0.0), len({Point(2.0), Point(2.0)})
    (Point(x=1.0, y=0.0), True, 1)
    """
    return _made(cls, kw_only=kw_only) if cls is not None else lambda one: _made(one, kw_only=kw_only)


def _made(plain: type[T], *, kw_only: bool) -> type[T]:
    cls: Any = dataclass(repr=False, eq=False, slots=True, kw_only=kw_only)(plain)
    of_cls = fields(cls)
    values = _values(*(one.name for one in of_cls if one.compare))
    hashed = _values(*(one.name for one in of_cls if one.compare and one.hash is not False))

    def equal(self: object, other: object) -> bool:
        if self is other:
            return True
        return values(self) == values(other) if other.__class__ is cls else NotImplemented

    def number(self: object) -> int:
        return hash(hashed(self))

    cls.__eq__, cls.__hash__ = equal, number
    cls.__repr__ = _repr
    return cls  # type: ignore[no-any-return]


def _values(*names: str) -> Callable[[object], Any]:
    """What gives the values of these fields, to be compared or hashed."""
    return attrgetter(*names) if names else lambda _: ()


def _repr(self: Any) -> str:
    inside = ", ".join(f"{one.name}={getattr(self, one.name)!r}" for one in fields(self))
    return f"{type(self).__qualname__}({inside})"
