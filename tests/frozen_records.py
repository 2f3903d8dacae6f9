"""Makes records frozen at run time: in the tests, assigning to a field of one raises an error.

This has to be imported before any module that defines a record. The `__init__` of a frozen dataclass calls
`object.__setattr__` for every field, which takes several times as long as assigning it; here `__init__` calls the
setters of the slots.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, FrozenInstanceError, fields
from typing import Any, TypeVar

import stanchion.base.record

T = TypeVar("T")

_make = stanchion.base.record._make


def freeze_records() -> None:
    """Make every record that is defined from now on a frozen one."""
    stanchion.base.record._make = _make_frozen


def _make_frozen(plain: type[T], *, kw_only: bool) -> type[T]:
    cls: Any = _make(plain, kw_only=kw_only)
    cls.__init__ = _filling_slots(cls)
    cls.__setattr__ = cls.__delattr__ = _refused
    return cls  # type: ignore[no-any-return]


def _refused(self: object, name: str, value: object = None) -> None:
    raise FrozenInstanceError(f"{type(self).__name__}.{name} cannot be changed: a record stays as it was made")


def _filling_slots(cls: Any) -> Callable[..., None]:
    """An `__init__` with the parameters of the present one, which sets the slots without `__setattr__`."""
    names: dict[str, Any] = {}
    parameters: dict[bool, list[str]] = {False: ["self"], True: ["*"]}
    body = []
    for one in fields(cls):
        names[f"_set_{one.name}"] = getattr(cls, one.name).__set__
        names[f"_default_{one.name}"] = one.default
        default = f"=_default_{one.name}" if one.default is not MISSING else ""
        parameters[bool(one.kw_only)].append(one.name + default)
        body.append(f"_set_{one.name}(self, {one.name})")
    if hasattr(cls, "__post_init__"):
        body.append("self.__post_init__()")
    if parameters[True] == ["*"]:
        parameters[True] = []
    head = ", ".join(parameters[False] + parameters[True])
    exec(f"def __init__({head}):\n " + "\n ".join(body or ["pass"]), names)
    init: Callable[..., None] = names["__init__"]
    init.__qualname__ = f"{cls.__qualname__}.__init__"
    return init
