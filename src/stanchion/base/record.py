"""The decorator of value classes: like dataclasses with slots, whose fields nobody changes once they are made.

Defining a frozen dataclass of the standard library takes 0.4 ms, most of it for methods that are generated as text and
compiled. The first screen waits for some 180 records. Here all records share those methods, and records with as many
fields share the code of `__init__`, in which only the names differ: 0.05 ms. Creating an instance takes a quarter of
the time. The type checker treats a record as frozen and refuses assignments to its fields. The tests make records
frozen at run time too (`tests/frozen_records.py`).
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, field, fields, make_dataclass
from functools import cache
from inspect import get_annotations
from operator import attrgetter
from types import CodeType, FunctionType, MappingProxyType
from typing import Any, TypeVar, dataclass_transform, overload

T = TypeVar("T")

EMPTY: Mapping[Any, Any] = MappingProxyType({})
"""The default of a field that holds a mapping."""
_OF_INSTANCES = dataclasses._FIELD  # type: ignore[attr-defined]  # noqa: SLF001 - how `fields` knows a field of instances


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
    fields_of = _declared(plain, kw_only=kw_only)
    declared = tuple(fields_of.values())
    own = {name: value for name, value in vars(plain).items() if name not in ("__dict__", "__weakref__", *fields_of)}
    # The class is made a second time, because a class gets its slots while it is made.
    by_place = tuple(one.name for one in declared if not one.kw_only)
    laid_out = {"__slots__": tuple(get_annotations(plain)), "__match_args__": by_place}
    cls: Any = type(plain.__name__, plain.__bases__, {**own, **laid_out})
    cls.__qualname__ = plain.__qualname__
    cls.__dataclass_fields__ = fields_of
    values = _values(*(one.name for one in declared if one.compare))
    hashed = _values(*(one.name for one in declared if one.compare and one.hash is not False))

    def equal(self: object, other: object) -> bool:
        if self is other:
            return True
        return values(self) == values(other) if other.__class__ is cls else NotImplemented

    def hash_of(self: object) -> int:
        return hash(hashed(self))

    cls.__eq__, cls.__hash__, cls.__repr__ = equal, hash_of, _repr
    cls.__init__ = _init(cls)
    return cls  # type: ignore[no-any-return]


def _declared(plain: type, *, kw_only: bool) -> dict[str, Field[Any]]:
    """The fields of a class by name, with those of the record it extends first."""
    found: dict[str, Field[Any]] = dict(getattr(plain, "__dataclass_fields__", {}))
    for name, kind in get_annotations(plain).items():
        given = vars(plain).get(name, MISSING)
        one: Any = given if isinstance(given, Field) else field(default=given)
        if one.default_factory is not MISSING:
            raise TypeError(f"{plain.__qualname__}.{name}: give a default that nobody can change, no default_factory")
        one.name, one.type, one.kw_only, one._field_type = name, kind, kw_only, _OF_INSTANCES  # noqa: SLF001
        found[name] = one
    return found


def _init(cls: Any) -> FunctionType:
    """An `__init__` that assigns every field: the code common to all records with as many, under these names."""
    declared = sorted(fields(cls), key=lambda one: bool(one.kw_only))
    names = tuple(one.name for one in declared)
    by_name = sum(bool(one.kw_only) for one in declared)
    checked = hasattr(cls, "__post_init__")
    code = _assigning(len(names), checked=checked).replace(
        co_argcount=1 + len(names) - by_name,
        co_kwonlyargcount=by_name,
        co_varnames=("self", *names),
        co_names=(*names, "__post_init__") if checked else names,
        co_qualname=f"{cls.__qualname__}.__init__",
    )
    defaults = {one.name: one.default for one in declared if one.default is not MISSING}
    init = FunctionType(code, {}, "__init__", tuple(defaults[one] for one in cls.__match_args__ if one in defaults))
    init.__kwdefaults__ = {one: value for one, value in defaults.items() if one not in cls.__match_args__}
    return init


@cache
def _assigning(count: int, *, checked: bool) -> CodeType:
    """The code of an `__init__` that assigns so many fields, and then calls `__post_init__` if the record has one."""
    names = [f"field_{at}" for at in range(count)]
    space = {"__doc__": "Without it, one is made."} | ({"__post_init__": lambda self: None} if checked else {})
    same: Any = make_dataclass("same", names, namespace=space, repr=False, eq=False)
    code: CodeType = same.__init__.__code__
    return code


def _values(*names: str) -> Callable[[object], Any]:
    """A function that returns the values of these fields, to compare or hash them."""
    return attrgetter(*names) if names else lambda _: ()


def _repr(self: Any) -> str:
    inside = ", ".join(f"{one.name}={getattr(self, one.name)!r}" for one in fields(self))
    return f"{type(self).__qualname__}({inside})"
