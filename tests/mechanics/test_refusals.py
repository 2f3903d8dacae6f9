"""What has no meaning is refused by every calculation alike: not a number, an infinity, and named in plain words.

The calls are those of the examples in the docstrings, with one argument spoilt at a time, so that a new function is
held to this as soon as it has its example.
"""

from __future__ import annotations

import doctest
import functools
import importlib
import inspect
import math
import pkgutil
import re
from collections.abc import Callable, Iterator
from itertools import product
from types import ModuleType
from typing import Any

import pytest

import stanchion.mechanics
from stanchion.base.errors import OutOfRange

MODULES = [
    importlib.import_module(f"stanchion.mechanics.{found.name}")
    for found in pkgutil.iter_modules(stanchion.mechanics.__path__)
]
WORDS = re.compile(r"[a-z][a-z0-9 ,'-]*")
"""A name as a person reads it: small letters, no underscore."""

EXEMPT = {
    "within": "its limits are given by the program, and one may be infinite",
    "air_force": "asked thousands of times by the searches, which have looked at what they pass on",
    "force_and_rate": "as air_force",
    "settings_beside": "an end of an adjuster that is not known is infinite",
    "coverage_factor": "what rests on no repeats has no end of degrees of freedom",
}
"""Functions that do not refuse every infinity, and why that is right."""

Call = tuple[Callable[..., Any], tuple[Any, ...], dict[str, Any]]


def calls_of(module: ModuleType) -> Iterator[Call]:
    """The calls that a module's examples make of its functions, each with its arguments."""
    made: list[Call] = []

    def noted(function: Callable[..., Any]) -> Callable[..., Any]:
        @functools.wraps(function)
        def call(*given: Any, **named: Any) -> Any:
            result = function(*given, **named)
            made.append((function, given, named))  # only those that went well
            return result

        return call

    globs = dict(vars(module))
    own = {
        name: value
        for name, value in globs.items()
        if inspect.isfunction(value) and value.__module__ == module.__name__ and not name.startswith("_")
    }
    globs |= {name: noted(function) for name, function in own.items()}
    for function in own.values():
        source = inspect.getdoc(function) or ""
        test = doctest.DocTestParser().get_doctest(source, globs, function.__name__, None, 0)
        doctest.DocTestRunner(optionflags=doctest.NORMALIZE_WHITESPACE).run(test, out=lambda text: None)
    yield from made


def spoilt(call: Call, value: float) -> Iterator[tuple[str, Call]]:
    """The call with each number in turn replaced, those in a list too."""
    function, given, named = call
    for at, one in enumerate(given):
        for where, changed in replaced(one, value):
            yield f"argument {at + 1}{where}", (function, (*given[:at], changed, *given[at + 1 :]), named)
    for name, one in named.items():
        for where, changed in replaced(one, value):
            yield f"{name}{where}", (function, given, {**named, name: changed})


def replaced(one: Any, value: float) -> Iterator[tuple[str, Any]]:
    if isinstance(one, float):
        yield "", value
    elif isinstance(one, list | tuple) and not hasattr(one, "_fields"):
        for at, item in enumerate(one):
            for where, changed in replaced(item, value):
                yield f"[{at}]{where}", type(one)((*one[:at], changed, *one[at + 1 :]))


def refusal(function: Callable[..., Any], given: tuple[Any, ...], named: dict[str, Any]) -> OutOfRange | None:
    """How the call is refused; None where it is not."""
    try:
        function(*given, **named)
    except OutOfRange as refused:
        return refused
    return None


def test_there_are_examples_to_go_by() -> None:
    assert len({call[0].__name__ for module in MODULES for call in calls_of(module)} - set(EXEMPT)) > 40


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__.rpartition(".")[2])
def test_what_is_no_ordinary_number_is_refused_by_name(module: ModuleType) -> None:
    calls = [call for call in calls_of(module) if call[0].__name__ not in EXEMPT]
    for call, value in product(calls, (math.nan, math.inf, -math.inf)):
        for argument, (function, given, named) in spoilt(call, value):
            where = f"{function.__name__}, {argument}: {value}"
            refused = refusal(function, given, named)
            assert refused is not None, where
            assert WORDS.fullmatch(refused.name), (where, refused.name)
            assert not math.isfinite(refused.value), (where, str(refused))
            assert str(refused) == f"{refused.name} = {refused.value:g} is out of range: it must be {refused.limit}"
