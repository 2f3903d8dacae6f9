"""What rider sag at both ends says together."""

from __future__ import annotations

from stanchion.judgement.assessment import EndSagFigures
from stanchion.judgement.findings import Finding, Severity
from stanchion.judgement.pair import NO_ADVICE


def both_ends(front: EndSagFigures, rear: EndSagFigures) -> list[Finding]:
    """Both off the same way, or opposite ways; nothing where one end has no advice on springs, or is in target."""
    if any(end.advice is None or end.advice.code in NO_ADVICE for end in (front, rear)):
        return []
    ways = (front.rider.standing, rear.rider.standing)
    if "in" in ways:
        return []
    if ways[0] == ways[1]:
        code = "both_ends_sag_much" if ways[0] == "above" else "both_ends_sag_little"
        return [Finding(code, Severity.WARNING, ("sag",))]
    off = {"front": _from_middle(front), "rear": _from_middle(rear)}
    worse = "front" if off["front"] >= off["rear"] else "rear"
    return [
        Finding(
            "ends_opposite_nose_low" if ways[0] == "above" else "ends_opposite_nose_high",
            Severity.WARNING,
            ("sag", worse, "rider"),
            {"worse": worse, "off_mm": off[worse], "front_off_mm": off["front"], "rear_off_mm": off["rear"]},
        )
    ]


def _from_middle(end: EndSagFigures) -> float:
    sag_mm = end.rider.sag_mm.value
    return 0.0 if sag_mm is None else abs(sag_mm - sum(end.rider.target) / 2)
