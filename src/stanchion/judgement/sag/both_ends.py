"""What the sags of both ends say together."""

from __future__ import annotations

from stanchion.judgement.results.assessment import EndSagFigures
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.sag.sag_advice import NO_ADVICE


def both_ends(front: EndSagFigures, rear: EndSagFigures) -> list[Finding]:
    """Both springs too soft or too stiff, or rider sag off opposite ways.

    Nothing where one end has no advice on springs.
    """
    if front.advice is None or rear.advice is None or {front.advice.code, rear.advice.code} & NO_ADVICE:
        return []
    ways = (front.rider.verdict_now, rear.rider.verdict_now)
    if not {"above", "below"}.issuperset(ways):
        return []
    if ways[0] == ways[1]:
        # Where turns or a spacer put an end right, the springs suit the rider.
        asked = {end.advice.values.get("way") for end in (front, rear) if end.advice is not None}
        if asked == {"stiffer"}:
            return [Finding("both_ends_sag_much", Severity.WARNING, ("sag",))]
        return [Finding("both_ends_sag_little", Severity.WARNING, ("sag",))] if asked == {"softer"} else []
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
    sag_mm, target = end.rider.sag_mm.value, end.rider.target
    return 0.0 if sag_mm is None or target is None else abs(sag_mm - sum(target) / 2)
