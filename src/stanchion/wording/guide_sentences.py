"""What a reading of the guide is made of, and what is said around the readings.

The readings are rows of the tables in sag_guide_sentences, bench_guide_sentences and those of their subject, each of
three short lines at most; guided_measuring.py has the names of `when`.
"""

from __future__ import annotations

from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import Path
from stanchion.judgement.results.codes import Caution


@record(kw_only=True)
class Reading:
    """One row: a reading and the words for it."""

    path: Path
    """Path of the field, from the part that the table is for."""
    do: str
    """What to do with the machine; on the bench also what to measure."""
    read: str = ""
    """Who does what, and what to read."""
    caution: Caution | Literal[""] = ""
    """Code of the caution that goes with it."""
    when: str = "always"
    """When it applies."""
    again: str = ""
    """What repeating it means: "repeat" (averaged), "piece" (the next one of several), or nothing."""
    optional: bool = False
    """Whether it may be left empty."""
    title: str = ""
    """Its name, in at most 15 characters; empty: the name of the field."""
    state: str = ""
    """The leg or state it belongs to, shown above its name."""
    travel: str = ""
    """What to read with a gauge that gives travel."""
    alone: str = ""
    """What to do for one person alone."""


WHOLE = {
    "sag": "Sag",
    "front": "Fork",
    "rear": "Shock",
    "found": "As found",
    "lifting": "Lifting",
    "swingarm": "Swingarm",
}
"""What each guide measures."""

DONE = "All taken."
MISSING = "Still to be taken: {names}."
NEXT_MISSING = "Enter goes to the first of them; Esc goes back to the form."
IN_DOUBT = "All taken, but some readings are in doubt."
"""Said at the end if the readings allow no advice."""
NEXT_IN_DOUBT = "Next: correct what is named above, then measure that end again."
NEXT = {
    "sag": "Next: do what is advised above, one end at a time, then measure again. Once both suit, ride and log the "
    "run.",
    "front": "Next: the shock, or the sag on the machine.",
    "rear": "Next: the sag on the machine.",
    "found": "Next: start work. Whatever you change from now on, this record stays as it is.",
}
"""What to do after each guide, if nothing is missing."""
TIGHTEN: Caution = "after_work_torque"
"""Caution at the end of work on the bench."""
NO_PAIR = "{end} cannot be judged yet: it needs both sags, each with a target."


def bench_name(part: Path, *, split: bool = False) -> str:
    """What is measured on the bench: shock, fork, a leg, or both legs where they are entered as one.

    >>> bench_name(("front",)), bench_name(("front", "left")), bench_name(("front", "left"), split=True)
    ('Fork', 'Both legs alike', 'Left leg')
    """
    if len(part) == 1:
        return WHOLE[str(part[0])]
    return f"{str(part[1]).capitalize()} leg" if split else "Both legs alike"
