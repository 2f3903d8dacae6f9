"""Why a figure is what it is: its formula with this job's numbers, the readings and the steps it rests on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal

from stanchion.base.record import record
from stanchion.base.traced import READ, SOLVED, Traced
from stanchion.planning.tracing import Named, ReadNumber
from stanchion.report.why_expression import Expression, expression

From = Literal["reading", "profile", "step", "fixed", "itself"]


@record
class FormulaNumber:
    """One number of a formula."""

    number: Any
    came_from: From
    reading: ReadNumber | None = None
    """Where it stands, if it was recorded or a profile gives it."""
    named: Named | None = None
    """What a formula calls it, if it is a step."""


@record(kw_only=True)
class Why:
    """One number, and how it was worked out."""

    number: Any
    named: Named | None
    """Which formula gave it, or what a formula calls it; None: it was worked out between formulas."""
    reading: ReadNumber | None
    written: Expression | None
    """Its formula; None: it was recorded, it is a fixed number, or its formula is too long to read."""
    operations: int
    """How many operations its formula has."""
    terms: tuple[FormulaNumber, ...]
    solved: bool
    """Whether it was searched for, so that its formula is an equation which it satisfies."""

    @property
    def steps(self) -> Iterator[Any]:
        """The numbers it rests on that are worked out themselves."""
        return (term.number for term in self.terms if term.came_from == "step")


def why(number: Any) -> Why:
    """How one number was worked out.

    Args:
        number: a number that was followed.
    """
    if type(number) is not Traced or number.operation == READ:
        reading = number.of[0] if type(number) is Traced else None
        return Why(number=number, named=None, reading=reading, written=None, operations=0, terms=(), solved=False)
    written = expression(number)
    return Why(
        number=number,
        named=number.named,
        reading=None,
        written=written if written.readable else None,
        operations=written.operations,
        terms=tuple(_term(one, number) for one in written.atoms),
        solved=number.operation == SOLVED,
    )


def _term(one: Any, whole: Traced) -> FormulaNumber:
    if one is whole:
        return FormulaNumber(one, "itself", named=one.named)
    if type(one) is not Traced:
        return FormulaNumber(one, "fixed")
    if one.operation == READ:
        return FormulaNumber(one, "profile" if one.of[0].by_profile else "reading", reading=one.of[0])
    return FormulaNumber(one, "step", named=one.named)


def all_steps(number: Any) -> tuple[Why, ...]:
    """The number itself and all that it rests on, each once, nearer ones first."""
    found: dict[int, Why] = {}
    waiting = [number]
    while waiting:
        one = waiting.pop(0)
        if id(one) not in found:
            found[id(one)] = of = why(one)
            waiting += of.steps
    return tuple(found.values())


def of_readings(number: Any) -> Iterator[ReadNumber]:
    """The readings in the formula of a number itself."""
    return (term.reading for term in why(number).terms if term.reading is not None)
