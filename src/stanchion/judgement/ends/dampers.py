"""Findings on damper adjusters: positions beyond their range or fully closed, and legs set differently."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from stanchion.job.model import Clicker, Path
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.results.codes import ForkCode
from stanchion.judgement.results.findings import Finding, Severity

LegDamper = Literal["compression", "high_speed_compression", "rebound"]
_DIFFERS: dict[LegDamper, ForkCode] = {
    "compression": "compression_differs",
    "high_speed_compression": "high_speed_compression_differs",
    "rebound": "rebound_differs",
}


def clicker_findings(clicker: Clicker, at: Path, *, both_legs: bool = False) -> Iterator[Finding]:
    """Finding on a damper adjuster recorded beyond its range, or fully closed, where no more damping can be added."""
    if clicker.now is not None and abs(clicker.now) <= SLACK:
        yield Finding("clicker_closed", Severity.NOTE, (*at, "now"), {"both_legs": True} if both_legs else {})
    if clicker.now is not None and clicker.total is not None and clicker.now > clicker.total + SLACK:
        values: dict[str, object] = {"now": clicker.now, "total": clicker.total, "unit": clicker.unit}
        if both_legs:
            values["both_legs"] = True
        yield Finding("clicker_beyond_range", Severity.FAULT, (*at, "now"), values)


def clicks_differ(name: LegDamper, left: Clicker, right: Clicker) -> Iterator[Finding]:
    """Finding on the same damper set differently in the two legs."""
    if left.now is None or right.now is None:
        return
    if abs(left.now - right.now) > SLACK or left.unit != right.unit:
        yield Finding(
            _DIFFERS[name],
            Severity.WARNING,
            ("front", "right", name, "now"),
            {"left": left.now, "left_unit": left.unit, "right": right.now, "right_unit": right.unit},
        )
