"""Judging part by part, so that an error of the program in one part leaves the others valid."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Literal, ParamSpec, TypeVar

from stanchion.base.record import record
from stanchion.job.model import Path
from stanchion.judgement.results.findings import Finding, Severity

JudgedPart = Literal[
    "front",
    "rear",
    "springs",
    "sag",
    "prediction",
    "geometry",
    "runs",
    "upkeep",
    "work_list",
    "checks",
    "cautions",
]
"""The parts of judging, each of which may fail by itself."""
FaultyPart = JudgedPart | Literal["changes", "choice", "drawing", "sheet"]
"""Where an error of the program is noted."""
P = ParamSpec("P")
T = TypeVar("T")

WHERE: dict[JudgedPart, Path] = {
    "front": ("front",),
    "rear": ("rear",),
    "springs": (),
    "sag": ("sag",),
    "prediction": ("sag",),
    "geometry": ("geometry",),
    "runs": ("runs",),
    "upkeep": ("upkeep",),
    "work_list": ("returning",),
    "checks": (),
    "cautions": (),
}
"""Every part of an assessment, and the place in the job that its finding leads to."""


@record
class Fault:
    """An error of the program that kept a part from being judged."""

    part: FaultyPart
    error: Exception


class Parts:
    """Judges part by part and collects the errors of the program, so that they can be reported."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def judged(self, part: FaultyPart, unjudged: T, judge: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> T:
        """Return the result of a function, or a placeholder where it raises.

        Args:
            part: the part it belongs to.
            unjudged: the placeholder.
            judge: the function.
            args: its arguments.
            kwargs: its arguments by name.
        """
        try:
            return judge(*args, **kwargs)
        except Exception as error:  # noqa: BLE001 - the other parts are judged all the same
            self.faults.append(Fault(part, error))
            return unjudged

    def found(
        self, part: FaultyPart, judge: Callable[P, Iterable[Finding]], /, *args: P.args, **kwargs: P.kwargs
    ) -> list[Finding]:
        """Return the findings of a function; none where it raises."""
        try:
            return list(judge(*args, **kwargs))
        except Exception as error:  # noqa: BLE001 - the other parts are judged all the same
            self.faults.append(Fault(part, error))
            return []

    def findings(self) -> list[Finding]:
        """One finding for each part with an error."""
        faulty = {fault.part for fault in self.faults}
        return [
            Finding("part_not_judged", Severity.WARNING, where, {"part": part})
            for part, where in WHERE.items()
            if part in faulty
        ]
