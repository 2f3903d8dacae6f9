"""A work list as text for paper, with a box to tick before each item."""

from __future__ import annotations

import textwrap

from stanchion.base.text import clean
from stanchion.job.model import Job
from stanchion.judgement.work.work import Item, WorkList
from stanchion.report.runs import torque_words
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.american import worded
from stanchion.wording.finding_words import caution
from stanchion.wording.work_sentences import (
    CLOSING,
    GROUPS,
    groups_of,
    instead_words,
    item_words,
    progress_words,
    sag_words,
    unrecorded_words,
)

WIDTH = 78
BOXES = {"done": "[x]", "stuck": "[!]", "open": "[ ]"}


def box_of(item: Item) -> str:
    """The box before an item: done, not possible as it was, or still to do."""
    return BOXES["done" if item.done else "stuck" if item.problem else "open"]


def work_list_text(job: Job, found: WorkList, title: str, units: Units = METRIC) -> str:
    """The list on paper.

    Args:
        job: the job the machine is on.
        found: its work list.
        title: what the machine is returned to.
        units: units to show.
    """
    of = job.job
    about = " · ".join(part for part in (of.machine, of.rider, of.date.isoformat(), of.venue) if part)
    lines = [
        *_wrapped(f"WORK LIST  {clean(about, 200)}"),
        *_wrapped(f"Back to {clean(title, 200)}: {progress_words(found)}"),
    ]
    for group, items in groups_of(found.items):
        lines += ["", *_wrapped(worded(GROUPS[group]).upper() if group != "damping" else _damping_head())]
        for item in items:
            lines += _wrapped(item_words(item, units), f"{box_of(item)} ")
            instead = instead_words(item, units)
            lines += _wrapped(instead, "      ") if instead else []
        for code in found.cautions(group):
            lines += _wrapped(caution(code), "  !  ")
    unrecorded = unrecorded_words(found)
    lines += ["", *_wrapped(unrecorded)] if unrecorded else []
    if found.items:
        lines += ["", CLOSING.upper()]
        for words in sag_words(found):
            lines += _wrapped(words, "[ ] " if found.sag_again else "")
        if still_open := "; ".join(torque_words(torque, units) for torque in job.upkeep.torques if not torque.done):
            lines += _wrapped(f"Torques still to do before a run: {still_open}", "[ ] ")
        for code in found.afterwards:
            lines += _wrapped(caution(code), "[ ] " if code != found.afterwards[-1] else "")
    return "\n".join(lines) + "\n"


def _damping_head() -> str:
    head, _, rest = worded(GROUPS["damping"]).partition(",")
    return f"{head.upper()},{rest}"


def _wrapped(text: str, lead: str = "") -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=lead, subsequent_indent=" " * len(lead)) or [lead]
