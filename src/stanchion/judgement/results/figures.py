"""A derived number, or the reason why there is none."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Path
from stanchion.judgement.results.problems import Problem

PROGRAM_FAULT: Problem = "program_fault"
"""Problem of a figure that an error of the program kept from being worked out."""


@record
class Figure:
    """A derived number. Where it is not known, value is None and `needs` or `problem` says why."""

    value: float | None = None
    """The number, in the unit its name gives."""
    needs: tuple[Path, ...] = ()
    """Paths of the recorded values that are missing for it."""
    problem: Problem | Literal[""] = ""
    """Code for the reason why the recorded values give no number."""
    estimate: bool = False
    """Whether the number rests on an estimate, such as a mass times a share where no scale was read."""

    @property
    def known(self) -> bool:
        """Whether there is a number."""
        return self.value is not None

    def __bool__(self) -> bool:
        raise TypeError("ask a figure whether it is known, or for its value: zero is a number too")


def recorded(value: float | None, path: Path) -> Figure:
    """A recorded value as a figure; where it is missing, the figure needs its path."""
    return Figure(value) if value is not None else Figure(needs=(path,))


def absent(problem: Problem) -> Figure:
    """An absent figure with a reason that no single reading would remove."""
    return Figure(problem=problem)


def derive(formula: Callable[..., float], *inputs: Figure) -> Figure:
    """Apply a formula where every input is known; otherwise collect what the inputs need.

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
