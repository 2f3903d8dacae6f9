"""Recomputes an explained figure from what `check --why --json` prints of it, without the program's own formulas.

The formulas are read with a small evaluator of its own: numbers, the symbols of the terms, four operations, powers and
the functions of `math`. Nothing else is accepted.
"""

from __future__ import annotations

import ast
import math
import operator
import re
from collections.abc import Callable, Mapping
from typing import Any

_OPERATIONS: dict[type, Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
    ast.Mod: operator.mod,
    ast.FloorDiv: operator.floordiv,
}
_NAMES = "sin cos tan asin acos atan atan2 sqrt hypot exp log radians degrees pow fabs"
_FUNCTIONS: dict[str, Callable[..., float]] = {name: getattr(math, name) for name in _NAMES.split()} | {
    "max": max,
    "min": min,
    "abs": abs,
    "round": lambda number, digits: round(number, int(digits)),
}


_CANCELLED = 1e-5


def evaluated(formula: str, symbols: Mapping[str, float]) -> float:
    """What a formula gives with these numbers for its symbols."""

    def of(node: ast.expr) -> float:
        match node:
            case ast.Constant(value=float() | int() as number):
                return number
            case ast.Name(id=name):
                return symbols[name]
            case ast.UnaryOp(op=ast.USub(), operand=inner):
                return -of(inner)
            case ast.BinOp(left=left, op=sign, right=right):
                return _OPERATIONS[type(sign)](of(left), of(right))
            case ast.Call(func=ast.Name(id=name), args=arguments):
                return _FUNCTIONS[name](*map(of, arguments))
        raise AssertionError(f"no formula: {ast.dump(node)}")

    return of(ast.parse(formula, mode="eval").body)


def off_by(step: Mapping[str, Any]) -> float:
    """By how much a step misses its own formula: relative, or of an equation the difference of its sides.

    What is left of two great numbers that nearly cancel is as exact as they are.
    """
    symbols = {term["symbol"]: term["value"] for term in step["terms"]}
    for line in reversed(step["lines"][1:]):
        symbols[line["gives"]] = evaluated(line["formula"], symbols)
    whole = step["lines"][0]
    found = evaluated(whole["formula"], symbols)
    if step["solved"]:
        other = evaluated(whole["equals"], symbols)
        return abs(found - other) / max(1.0, abs(found), abs(other))
    largest = max(map(abs, symbols.values()), default=0.0)
    return float(abs(found - step["value"]) / max(1e-9, abs(step["value"]), _CANCELLED * largest))


def off_as_shown(step: Mapping[str, Any]) -> tuple[float, float]:
    """By how much the figures as they are printed miss what they give, and by how much they may, being rounded.

    Every number that is printed is moved by half of its last digit, and what that changes is added up.
    """
    text = _as_typed(step["figures"][0])
    left, _, right = text.partition(" = ")
    shown = f"({left}) - ({right})" if step["solved"] else left
    numbers = list(re.finditer(r"(?<![\w.])(?<!\*\*)\d+(?:\.\d+)?(?:e[+-]?\d+)?", shown))

    def with_one_moved(at: int | None) -> float:
        begin, parts = 0, []
        for number, found in enumerate(numbers):
            digits = found[0]
            parts += [
                shown[begin : found.start()],
                f"({digits} + {_half_a_digit(digits)!r})" if number == at else digits,
            ]
            begin = found.end()
        return evaluated("".join([*parts, shown[begin:]]), {})

    usual = with_one_moved(None)
    may = math.fsum(abs(with_one_moved(at) - usual) for at in range(len(numbers)))
    wanted = 0.0 if step["solved"] else step["value"]
    return float(abs(usual - wanted)), may


def _half_a_digit(digits: str) -> float:
    """Half of the last of six digits; a number with fewer is written whole, as far as six tell."""
    return 0.5 * 10.0 ** (math.floor(math.log10(abs(float(digits)))) - 5) if float(digits) else 0.0


def _as_typed(text: str) -> str:
    """Printed signs as a program reads them."""
    for printed, typed in (("−", "-"), ("×", "*"), ("²", "**2"), ("³", "**3"), ("⁴", "**4"), ("^", "**")):
        text = text.replace(printed, typed)
    text = text.replace("√(", "sqrt(")
    return re.sub(r"°\)", " * 0.017453292519943295)", text)
