"""Sags against their targets as lines of styled text."""

from __future__ import annotations

from textual.content import Content

from stanchion.job.model import STATES
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import EndSagFigures
from stanchion.ui.sag_scale import RIDER_TARGET, STATIC_TARGET, end_of_scale, sag_scale
from stanchion.units.known_units import Units, display_unit
from stanchion.units.quantity import show

MUTED, DRAWN = "$text-muted", "$figure bold"
LETTERS = {"static": "S", "rider": "R"}
FILLS = {"static": STATIC_TARGET, "rider": RIDER_TARGET}
HEAD = 7
"""Columns for the name of a state."""


def sag_lines(figures: EndSagFigures, units: Units, width: int, *, tall: bool) -> list[Content]:
    """Both sags of one end and their targets to scale.

    Args:
        figures: the sags.
        units: display units.
        width: columns there are.
        tall: a line for each state; otherwise one line for both.
    """
    targets = {state: target for state in STATES if (target := figures.state(state).target) is not None}
    end = end_of_scale([*targets.values()], display_unit(Kind.LENGTH, units).round_mm)
    if not end:
        return [Content("")] * (len(STATES) if tall else 1)
    last = show(end, Kind.LENGTH, units).split(" ")[0].rstrip("0").rstrip(".")
    lines = []
    for states in [(state,) for state in STATES] if tall else [STATES]:
        head = states[0].ljust(HEAD) if tall else ""
        filled = [(FILLS[state], targets[state]) for state in states if state in targets]
        sags = [(LETTERS[state], figures.state(state).sag_mm.value) for state in states]
        known = [(letter, value) for letter, value in sags if value is not None]
        drawn = sag_scale(filled, known, end, width - len(head) - len(last) - 1)
        lines.append(Content.styled(f"{head}0", MUTED) + Content.styled(drawn, DRAWN) + Content.styled(last, MUTED))
    return lines
