"""The parts of judging: where one meets an error of the program, the others stand."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import ParamSpec, TypeVar

from stanchion.base.record import record
from stanchion.job.model import Path
from stanchion.judgement.results.codes import FaultyPart, JudgedPart
from stanchion.judgement.results.findings import Finding, Severity

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
    """Something that could not be worked out, by an error of the program."""

    part: FaultyPart
    error: Exception


class Parts:
    """Judges part by part. What an error keeps from being judged is left out, and the error is kept to be reported."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def judged(self, part: FaultyPart, unjudged: T, judge: Callable[P, T], /, *given: P.args, **named: P.kwargs) -> T:
        """What a function gives.

        Args:
            part: the part it belongs to.
            unjudged: what stands instead where the function meets an error.
            judge: the function.
            given: its arguments.
            named: its arguments by name.
        """
        try:
            return judge(*given, **named)
        except Exception as error:
            self.faults.append(Fault(part, error))
            return unjudged

    def found(
        self, part: FaultyPart, judge: Callable[P, Iterable[Finding]], /, *given: P.args, **named: P.kwargs
    ) -> list[Finding]:
        """The findings a function gives; those it gave before it met an error are left out too."""
        try:
            return list(judge(*given, **named))
        except Exception as error:
            self.faults.append(Fault(part, error))
            return []

    def findings(self) -> list[Finding]:
        """One for each part of judging that met an error."""
        faulty = {fault.part for fault in self.faults}
        return [
            Finding("part_not_judged", Severity.WARNING, where, {"part": part})
            for part, where in WHERE.items()
            if part in faulty
        ]
