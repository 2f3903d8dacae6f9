"""The states in which the machine is drawn from the side, and their numbers, in words."""

from __future__ import annotations

from stanchion.judgement.results.side import SideState, Standing
from stanchion.wording.balance_sentences import g_words
from stanchion.wording.prediction_sentences import GEOMETRY_STATES, SAG_FROM

STANDING_HEADS: dict[Standing, str] = {
    "extended": "hanging",
    "static": "alone",
    "rider": "rider",
    "brakes": "brakes",
    "gas": "gas",
}
"""The states as heads of a table."""
SIDE_NEEDS = "Drawn once rake, offset, wheelbase and both wheel radii are entered (Machine)."
SLOWLY = ", slow stroke"
"""A fork whose air is squeezed slowly."""
_RIDING: dict[Standing, str] = {"brakes": "on the brakes", "gas": "on the gas"}


def standing_words(of: SideState) -> str:
    """A state, with the braking or drive it is given for, and whether it goes by old sag or by sag in doubt."""
    name = _RIDING.get(of.state)
    if name is not None:
        usual = ", as ridden" if of.as_ridden else ", usual" if of.at_g.estimate else ""
        return f"{name}, {g_words(of.at_g.value or 0.0)}{usual}{SLOWLY if of.state == 'brakes' else ''}"
    return ", ".join((GEOMETRY_STATES[of.state], *(SAG_FROM[mark] for mark in of.marks)))
