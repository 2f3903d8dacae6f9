"""Words for merging two states of one job."""

from __future__ import annotations

from stanchion.base.errors import BadEdit
from stanchion.base.text import clean
from stanchion.job.diff import SPLIT
from stanchion.job.edit import dotted, spec_at
from stanchion.job.merge import MergeChoice, Merged
from stanchion.job.model import Job, Path
from stanchion.job.spec import Text
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.changes import value_words
from stanchion.wording.labels import label

LONGEST_TEXT = 200
ANOTHER_PART = (
    "A rate or length that differs counts as another part. Was one measured wrong? Then take the old one here, and "
    "enter the right one on F3 or F4 afterwards."
)
"""How rates and lengths that differ are merged where sag or runs were measured with them."""


def place_words(path: Path, *, both_legs: bool = False) -> str:
    """Which field, with its part and, in a list, which row."""
    try:
        spec_at(path)
    except BadEdit:
        return f"{clean(dotted(path), 60)} (a key this version does not know)"
    row = next((step for step in path[:-1] if isinstance(step, int)), None)
    whole = path[:2] == ("front", "left") and both_legs
    return label(path, both_legs=whole) + (f", row {row + 1}" if row is not None else "")


def side_words(path: Path, value: object, units: Units = METRIC) -> str:
    """The value in one of the two states.

    >>> side_words(("rear", "rebound", "now"), 9.0), side_words(("job", "notes"), "")
    ('9', 'none')
    """
    if path == SPLIT:
        return "legs entered as one" if value is None else "legs entered separately"
    try:
        spec = spec_at(path)
    except BadEdit:
        return clean(str(value), LONGEST_TEXT) if isinstance(value, str | int | float | bool) else "something"
    if isinstance(spec, Text) and isinstance(value, str) and value:
        return clean(value, LONGEST_TEXT)
    return value_words(path, value, units)


def changed_words(choice: MergeChoice, left: str, right: str) -> str:
    """Which of the two states has changed a field since their common ancestor.

    Args:
        choice: where they differ.
        left: what the left one is called, such as "here".
        right: what the right one is called, such as "the copy".
    """
    words = {
        "left": f"changed in {left}",
        "right": f"changed in {right}",
        "both": "changed in both",
        "unknown": "differs",
    }
    return words[choice.changed]


def runs_words(left: Job, right: Job, merged: Merged) -> str:
    """What becomes of the runs; empty if both have the same."""
    if left.runs == right.runs or any(choice.path == ("runs",) for choice in merged.choices):
        return ""
    count = len(merged.job.runs)
    return f"Runs: {len(left.runs)} and {len(right.runs)}; all that differ are kept, {count} in the merged job."
