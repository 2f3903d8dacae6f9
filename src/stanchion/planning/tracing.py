"""Judging with every number followed, for those who ask why a figure is what it is.

The judging is the very one that runs at every key. While it is followed, its modules have functions in place of `math`,
`max` and `min` that remember their arguments (`base/traced.py`), and each call of a formula of `mechanics/` names its
arguments and its result. What was searched for is stated by the equation it satisfies.
"""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import fields, is_dataclass, replace
from functools import cache
from inspect import cleandoc
from types import CodeType, FrameType
from typing import Any, TypeVar

from stanchion.base.record import record
from stanchion.base.traced import FOLLOWED, READ, SOLVED, Traced, traced
from stanchion.job.model import Path
from stanchion.mechanics.equilibrium import fork_position
from stanchion.mechanics.solve import bracketed_root, falling_root
from stanchion.mechanics.steady import settled

T = TypeVar("T")
_FOLLOWED_ROOMS = ("stanchion.mechanics.", "stanchion.judgement.", "stanchion.planning.")
_FORMULAS = "stanchion.mechanics."
_WITH_FIXED = (_FORMULAS, "stanchion.judgement.criteria.thresholds")
_LOCK = threading.Lock()


@record
class ReadNumber:
    """A number that a person recorded, or that a profile gives."""

    path: Path
    """Its place in the job; for a profile its own."""
    by_profile: bool = False


@record
class Named:
    """A number that a formula takes or gives."""

    formula: str
    """Module and function of `mechanics/`, such as "preload.installed_preload"."""
    contract: str
    """The docstring of the function."""
    name: str
    """The argument; for a result empty, or the field of it."""
    argument: bool


def read_numbers(part: T, at: Path = (), *, by_profile: bool = False) -> T:
    """The same part of a job or of the profiles, in which every number says where it stands."""
    value: Any = part
    if type(value) is float:
        value = traced(value, READ, ReadNumber(at, by_profile))
    elif is_dataclass(value) and not isinstance(value, type):
        changed: dict[str, Any] = {}
        for one in fields(value):
            before = getattr(value, one.name)
            after = read_numbers(before, (*at, one.name), by_profile=by_profile)
            if after is not before:
                changed[one.name] = after
        value = replace(value, **changed) if changed else value
    elif type(value) is tuple:
        items = tuple(read_numbers(one, (*at, number), by_profile=by_profile) for number, one in enumerate(value))
        value = items if any(a is not b for a, b in zip(items, value, strict=True)) else value
    elif isinstance(value, Mapping):
        value = {key: read_numbers(one, (*at, key), by_profile=by_profile) for key, one in value.items()}
    return value  # type: ignore[no-any-return]


def fixed_name(number: Any) -> str:
    """The name of a fixed number of a formula or a threshold, as the source spells it; empty for a number without one.

    >>> from stanchion.mechanics.limits import G_N
    >>> fixed_name(G_N), fixed_name(0.5)
    ('G_N', '')
    """
    return _fixed_names().get(id(number), "")


@cache
def _fixed_names() -> dict[int, str]:
    modules = [vars(of) for name, of in sys.modules.items() if name.startswith(_WITH_FIXED)]
    return {id(value): name for of in modules for name, value in of.items() if name.isupper() and type(value) is float}


@contextmanager
def followed() -> Iterator[None]:
    """Follow the numbers of all that is calculated in this thread within the block."""
    with _LOCK:
        modules = [vars(of) for name, of in sys.modules.items() if name.startswith(_FOLLOWED_ROOMS)]
        replaced = [(of, name, of[name]) for of in modules for name in FOLLOWED if name in of]
        before = sys.getprofile()
        try:
            for of in modules:
                of.update(FOLLOWED)
            sys.setprofile(_Names().note)
            yield
        finally:
            sys.setprofile(before)
            for of in modules:
                for name in FOLLOWED:
                    of.pop(name, None)
            for of, name, value in replaced:
                of[name] = value


class _Names:
    """Names arguments and results of formulas as they are called."""

    def __init__(self) -> None:
        self._known: dict[CodeType, tuple[str, str] | None] = {}
        self._called: list[tuple[FrameType, dict[str, Any]]] = []

    def note(self, frame: FrameType, event: str, given: Any) -> None:
        """What the interpreter calls at each call and return."""
        if event == "call":
            formula = self._formula(frame)
            if formula is not None:
                self._begin(frame, formula)
        elif event == "return" and self._called and self._called[-1][0] is frame:
            arguments = self._called.pop()[1]
            if given is not None:
                self._end(frame, arguments, given)

    def _formula(self, frame: FrameType) -> tuple[str, str] | None:
        code = frame.f_code
        if code not in self._known:
            module = frame.f_globals.get("__name__", "")
            doc = code.co_consts[0] if code.co_consts else None
            stated = module.startswith(_FORMULAS) and isinstance(doc, str) and "Returns:" in doc
            of = f"{module.removeprefix(_FORMULAS)}.{code.co_qualname}"
            self._known[code] = (of, cleandoc(doc)) if stated and isinstance(doc, str) else None
        return self._known[code]

    def _begin(self, frame: FrameType, formula: tuple[str, str]) -> None:
        code, values = frame.f_code, frame.f_locals
        names = code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]
        arguments = {name: values[name] for name in names if name in values}
        for name, value in arguments.items():
            if type(value) is Traced and value.named is None and value.operation != READ:
                value.named = Named(*formula, name, argument=True)
        self._called.append((frame, arguments))

    def _end(self, frame: FrameType, arguments: dict[str, Any], given: Any) -> None:
        solved = _EQUATIONS.get(frame.f_code)
        if solved is not None:
            solved(frame.f_locals, given)
        formula = self._known[frame.f_code]
        if formula is None:
            return
        results = {"": given} if type(given) is Traced else _numbers_in(given)
        for name, value in results.items():
            if value.operation != READ and (value.named is None or value.named.argument):
                if any(value is one for one in arguments.values()):
                    continue
                value.named = Named(*formula, name, argument=False)


def _numbers_in(given: Any) -> dict[str, Traced]:
    """The numbers of a result of several, by their field or place."""
    if type(given) is tuple:
        return {str(at): one for at, one in enumerate(given) if type(one) is Traced}
    if not is_dataclass(given) or isinstance(given, type):
        return {}
    found = ((one.name, getattr(given, one.name)) for one in fields(given))
    return {name: value for name, value in found if type(value) is Traced}


# --- what is searched for, and the equation it satisfies -------------------------------------------------------------


def _is_searched(number: Any) -> bool:
    """Whether a result is a number that the search itself has made, not one that was known before."""
    return type(number) is Traced and number.operation not in (READ, SOLVED)


def _crossing(inside: Mapping[str, Any], number: Any) -> None:
    if not _is_searched(number):
        return
    values = (("x", "f_x"), ("other", "f_other"), ("a", "f_a"), ("b", "f_b"))
    value = next((inside.get(of) for at, of in values if inside.get(at) is number), None)
    number.operation, number.of = SOLVED, ()
    number.of = (inside["function"](number) if value is None else value,)


def _fork_rests(inside: Mapping[str, Any], position: Any) -> None:
    travel = position.travel_mm
    if not position.limit and _is_searched(travel):
        travel.operation, travel.of = SOLVED, (inside["excess_n"],)


def _both_rest(inside: Mapping[str, Any], found: Any) -> None:
    """Each end stands where the forces of just that stance bring it."""
    if found is None:
        return
    machine = inside["machine"]
    for end, before in (("fork", machine.fork_mm), ("rear", machine.rear_mm)):
        number, brought = inside[f"{end}_mm"], inside[f"to_{end}"]
        if number is not before and number is not brought and _is_searched(number):
            number.operation, number.of = SOLVED, ()
            number.of = (brought - number,)


_EQUATIONS: dict[CodeType, Callable[[Mapping[str, Any], Any], None]] = {
    bracketed_root.__code__: _crossing,
    falling_root.__code__: _crossing,
    fork_position.__code__: _fork_rests,
    settled.__code__: _both_rest,
}
"""What states the equation, by the search: it is given the names inside the search as it ends, and its result."""
