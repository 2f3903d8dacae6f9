"""The decorator of value classes: dataclasses with slots whose fields nobody changes once they are made.

Defining a frozen dataclass of the standard library takes 0.4 ms, most of it for six methods that are generated as
text and compiled. The program has some 150 records, and the first screen waits for all of them. Here only `__init__`
is generated; all records share the other methods, and creating an instance takes a quarter of the time. The type
checker treats a record as frozen and refuses assignments to its fields. The tests make records frozen at run time too
(`tests/frozen_records.py`).
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
    """Make a class a record: its annotated names are its fields, and records with equal fields are equal.

    `dataclasses.fields`, `replace` and `field` work as with any dataclass. A field with `hash=False` counts in
    equality alone, one with `compare=False` in neither.

    Args:
        cls: the class, for a decorator without brackets.
        kw_only: fields can only be given by name.

    >>> @record
    ... class Point:
    ...     x: float
    ...     y: float = 0.0
    >>> Point(1.0), Point(1.0) == Point(1.0, 0.0), len({Point(2.0), Point(2.0)})
    (Point(x=1.0, y=0.0), True, 1)
    """
    return _make(cls, kw_only=kw_only) if cls is not None else lambda plain: _make(plain, kw_only=kw_only)


def _make(plain: type[T], *, kw_only: bool) -> type[T]:
    cls: Any = dataclass(repr=False, eq=False, slots=True, kw_only=kw_only)(plain)
    declared = fields(cls)
    values = _values(*(one.name for one in declared if one.compare))
    hashed = _values(*(one.name for one in declared if one.compare and one.hash is not False))

    def equal(self: object, other: object) -> bool:
        if self is other:
            return True
        return values(self) == values(other) if other.__class__ is cls else NotImplemented

    def hash_of(self: object) -> int:
        return hash(hashed(self))

    cls.__eq__, cls.__hash__ = equal, hash_of
    cls.__repr__ = _repr
    return cls  # type: ignore[no-any-return]


def _values(*names: str) -> Callable[[object], Any]:
    """A function that returns the values of these fields, to compare or hash them."""
    return attrgetter(*names) if names else lambda _: ()


def _repr(self: Any) -> str:
    inside = ", ".join(f"{one.name}={getattr(self, one.name)!r}" for one in fields(self))
    return f"{type(self).__qualname__}({inside})"
