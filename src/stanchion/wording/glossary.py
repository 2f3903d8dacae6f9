"""The terms of the trade as this program uses them: one meaning each, and the other names they are known by."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

from stanchion.base.record import record


@record
class Term:
    """One term."""

    name: str
    meaning: str
    """One plain sentence, without the term."""
    also: tuple[str, ...] = ()
    """Other names of the trade for the same; the program itself uses none of them."""
    never: tuple[str, ...] = ()
    """Words that no sentence of the program uses for it."""


GLOSSARY: tuple[Term, ...] = (
    Term("Free length", "Length of a spring out of the fork or shock, unloaded.", never=("relaxed length",)),
    Term("Set length", "Length of the same spring fitted, with the suspension extended.", also=("fitted length",)),
    Term(
        "Installed preload",
        "Free length less set length, with the adjuster fully out.",
        also=("initial preload",),
        never=("base preload",),
    ),
    Term("Preload now", "Installed preload and what the adjuster adds where it is.", never=("current preload",)),
    Term(
        "Headroom",
        "What the adjuster still gives: out towards less preload, in towards more.",
        also=("adjustment left",),
    ),
    Term(
        "Static sag",
        "Travel used by the machine alone, standing upright.",
        also=("free sag", "unladen sag", "unloaded sag"),
    ),
    Term(
        "Rider sag",
        "Travel used with the rider aboard in riding position, in full gear.",
        also=("race sag", "laden sag", "loaded sag"),
    ),
    Term("Stiction", "How far the lifted reading of a state is from the pushed-down one.", also=("static friction",)),
    Term("Measured", "Read on the machine, not computed.", never=("captured", "capture")),
    Term("Predicted", "Computed from springs and loads, not read on the machine.", never=("projected", "forecast")),
    Term(
        "Top-out spring",
        "Short spring that works against the main spring near full extension.",
        also=("negative spring", "rebound spring"),
    ),
    Term(
        "Air gap",
        "From the top of the stanchion down to the oil, fork fully compressed, spring and spacer out.",
        also=("oil height",),
    ),
    Term(
        "Travel marker",
        "Tie or ring on the stanchion or shock shaft that shows the deepest point reached.",
        also=("zip tie", "travel indicator"),
    ),
    Term(
        "Motion ratio",
        "Shock travel divided by wheel travel, at one point of the travel.",
        also=("leverage ratio (turned over)",),
    ),
    Term(
        "Combined fork rate",
        "The rates of both fork springs added together, along the leg, without top-out spring, rubber and air.",
        never=("total fork rate", "overall fork rate"),
    ),
    Term("Wheel rate", "Spring rate as it is felt vertically at the wheel.", never=("effective rate", "axle rate")),
    Term("Solid length", "Length of a spring with all its coils touching.", also=("block length", "coil-bound length")),
    Term("Yokes", "The clamps that hold the stanchions.", also=("triple clamps", "triple trees")),
    Term(
        "Fork height",
        "How far the edge of the stanchion tube, not its cap, is above the top yoke.",
        also=("tube protrusion",),
        never=("fork drop",),
    ),
    Term(
        "Collar",
        "The threaded ring that sets preload on a shock spring.",
        also=("preload ring",),
        never=("spring nut",),
    ),
)
"""In the order of the work, at most 20."""


def glossary_text(width: int, terms: Iterable[Term] = GLOSSARY) -> str:
    """Terms with their meanings and other names.

    Args:
        width: the longest line.
        terms: which.
    """
    lines = []
    for term in terms:
        also = f" Also: {', '.join(term.also)}." if term.also else ""
        lines += textwrap.wrap(f"{term.name}: {term.meaning}{also}", width, subsequent_indent="  ")
    return "\n".join(lines)
