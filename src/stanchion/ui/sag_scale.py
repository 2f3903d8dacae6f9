"""Sags and their targets on a scale from 0 to a round length past the target. Pure."""

from __future__ import annotations

import math
from collections.abc import Sequence

from textual.content import Content

from stanchion.job.model import STATES
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import EndSagFigures
from stanchion.judgement.results.predicted import PredictedEnd
from stanchion.ui.gauge import LEAST, place
from stanchion.units.known_units import Units, display_unit
from stanchion.units.quantity import show
from stanchion.wording.verdicts import PREDICTED_BRIEF

PAST = 1.4
"""How far the scale goes beyond the highest target."""
STATIC_TARGET, RIDER_TARGET = "░", "▒"
BELOW, ABOVE, TOGETHER = "<", ">", "*"
"""Marks of a reading that lies beyond the ends of the scale, and of two in one column."""

Bounds = tuple[float, float]


def end_of_scale(targets: Sequence[Bounds], step: float) -> float:
    """The round length at which a scale for these targets ends; 0 where there are none.

    It rests on the targets alone, so that nothing moves while a reading is typed.

    Args:
        targets: low and high [mm].
        step: what counts as round [mm], > 0.

    >>> end_of_scale([(15.0, 25.0), (28.0, 38.0)], 10.0), end_of_scale([], 10.0)
    (60.0, 0.0)
    """
    return math.ceil(max((high for _, high in targets), default=0.0) * PAST / step) * step


def sag_scale(targets: Sequence[tuple[str, Bounds]], marks: Sequence[tuple[str, float]], end: float, width: int) -> str:
    """Targets and readings on one line from 0 to an end; an empty one where there is no scale.

    A reading beyond the scale is shown as such at its end, never as a reading there.

    Args:
        targets: what a target is filled with, and its low and high [mm]; a later one covers an earlier.
        marks: the letter of a reading, and the reading [mm].
        end: where the scale ends [mm].
        width: columns.

    >>> sag_scale([("░", (15, 25)), ("▒", (28, 38))], [("S", 12.3), ("R", 34.5)], 60, 31)
    '├─────S─░░░░░─▒▒▒R▒▒──────────┤'
    """
    if width < LEAST or not 0.0 < end < math.inf:
        return " " * max(0, width)
    line = [*"├", *"─" * (width - 2), "┤"]
    for fill, (low, high) in targets:
        if low < high and high > 0.0 and low < end:
            first, last = place(low, end, width), place(high, end, width)
            line[first : last + 1] = fill * (last + 1 - first)
    taken: set[int] = set()
    for letter, value in marks:
        at = place(value, end, width)
        line[at] = BELOW if value < 0.0 else ABOVE if value > end else TOGETHER if at in taken else letter
        taken.add(at)
    return "".join(line)


MUTED, DRAWN = "$text-muted", "$figure bold"
LETTERS = {"static": "S", "rider": "R"}
FILLS = {"static": STATIC_TARGET, "rider": RIDER_TARGET}
HEAD = 7
"""Columns for the name of a state."""


def sag_lines(
    figures: EndSagFigures, predicted: PredictedEnd, units: Units, width: int, *, tall: bool
) -> list[Content]:
    """Both sags of one end and their targets to scale. In place of one that is old the predicted sag is drawn, with a
    small letter and named so, where it is known.

    Args:
        figures: the sags.
        predicted: the same as predicted.
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
        foreseen = {
            state: mm
            for state in states
            if figures.state(state).is_old and (mm := predicted.state(state).sag_mm.value) is not None
        }
        head = states[0].ljust(HEAD) if tall else ""
        if foreseen:
            head = f"{PREDICTED_BRIEF} ".ljust(HEAD if tall else 0)
        filled = [(FILLS[state], targets[state]) for state in states if state in targets]
        sags = [
            (LETTERS[state].lower(), foreseen[state])
            if state in foreseen
            else (LETTERS[state], figures.state(state).sag_mm.value)
            for state in states
        ]
        known = [(letter, value) for letter, value in sags if value is not None]
        drawn = sag_scale(filled, known, end, width - len(head) - len(last) - 1)
        lines.append(Content.styled(f"{head}0", MUTED) + Content.styled(drawn, DRAWN) + Content.styled(last, MUTED))
    return lines
