"""A derived number, or the reason why there is none."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Path
from stanchion.judgement.results.codes import Problem

PROGRAM_FAULT: Problem = "program_fault"
"""Problem of a figure that an error of the program kept from being worked out."""


@record
class Figure:
    """A derived number; where it cannot be had, value is None and what it waits for stands beside it."""

    value: float | None = None
    """The number, in the unit its name gives."""
    needs: tuple[Path, ...] = ()
    """Recorded values it waits for."""
    problem: Problem | Literal[""] = ""
    """Code of the wording that says why recorded values give no figure."""
    estimate: bool = False
    """Whether the number rests on an estimate, such as a mass times a share where no scale was read."""

    @property
    def known(self) -> bool:
        """Whether there is a number."""
        return self.value is not None

    def __bool__(self) -> bool:
        raise TypeError("ask a figure whether it is known, or for its value: zero is a number too")


def recorded(value: float | None, path: Path) -> Figure:
    """A recorded value as a figure that, where it is missing, waits for its path."""
    return Figure(value) if value is not None else Figure(needs=(path,))


def absent(problem: Problem) -> Figure:
    """No figure, for a reason that no single reading would cure."""
    return Figure(problem=problem)


def derive(formula: Callable[..., float], *inputs: Figure) -> Figure:
    """Apply a formula where every input is known; otherwise gather what the inputs wait for.

    What rests on an estimate gives an estimate. An OutOfRange raised by the formula makes the figure absent, with
    problem "out_of_range".
    """
    values = [figure.value for figure in inputs]
    if None not in values:
        try:
            return Figure(formula(*values), estimate=True in [figure.estimate for figure in inputs])
        except OutOfRange:
            return absent("out_of_range")
    needs: dict[Path, None] = {}
    for figure in inputs:
        needs.update(dict.fromkeys(figure.needs))
    return Figure(needs=tuple(needs), problem=next((f.problem for f in inputs if f.problem), ""))


def first_known(*figures: Figure) -> Figure:
    """The first figure that is known; the first of all where none is."""
    return next((figure for figure in figures if figure.known), figures[0])
