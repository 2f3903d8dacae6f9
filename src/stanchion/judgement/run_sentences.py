"""The words for what runs tell, and for what was changed between them."""

from __future__ import annotations

from typing import Any

from stanchion.job.diff import SPLIT, Difference
from stanchion.job.edit import spec_at
from stanchion.job.spec import Choice, Flag, Kind, Number
from stanchion.judgement.labels import choice_word, label
from stanchion.judgement.words import Words
from stanchion.quantity import METRIC, Units, show
from stanchion.text import clean

RUNS: dict[str, Words] = {
    "marker_beyond_travel": Words(
        "Marker beyond full travel",
        "{path:label}: {used_mm:length} used of {available_mm:length} there is. Check the reading, what it counts "
        "from, and the travel.",
    ),
    "bottoms_adjuster_in": Words(
        "Bottoms with the adjuster fully in",
        "{path:label}: {left_mm:length} left of {available_mm:length} and the adjuster fully in: the spring is too "
        "soft.",
    ),
    "bottoms_add_preload": Words(
        "Bottoms, and rider sag is too large",
        "{path:label}: {left_mm:length} left of {available_mm:length}, rider sag too large: add preload first"
        "[ (the adjuster has {headroom_mm:length})].",
    ),
    "bottoms_air_gap": Words(
        "Near full travel: smaller air gap",
        "{path:label}: {left_mm:length} left of {available_mm:length}. Air gap 5 mm smaller; then compression damping; "
        "stiffer springs last.",
    ),
    "bottoms_damping": Words(
        "Near full travel: compression damping",
        "{path:label}: {left_mm:length} left of {available_mm:length}. More compression damping first; a stiffer "
        "spring last.",
    ),
    "travel_kept_back": Words(
        "Travel never used",
        "{path:label}: {left_mm:length} never used though sag is right. Braking hard? Larger air gap or less "
        "compression, not softer springs.",
    ),
}


def change_words(difference: Difference, units: Units = METRIC) -> str:
    """One change in words: what, from which value to which, and by how much.

    >>> change_words(Difference(("rear", "rebound", "now"), 10.0, 12.0))
    'Shock: rebound now 10 → 12 (+2)'
    """
    what = label(difference.path)
    if difference.path == SPLIT:
        return "Fork: legs entered apart" if difference.old is None else "Fork: legs entered as one"
    old, new = (_value(difference, value, units) for value in (difference.old, difference.new))
    by = ""
    spec = spec_at(difference.path)
    if isinstance(spec, Number) and difference.old is not None and difference.new is not None:
        change = difference.new - difference.old
        number = show(abs(change), spec.kind, units)
        by = f" ({'+' if change > 0 else '−'}{number})"
    return f"{what} {old} → {new}{by}"


def _value(difference: Difference, value: Any, units: Units) -> str:
    spec = spec_at(difference.path)
    if value is None or value in ("", ()):
        return "none"
    if isinstance(spec, Number):
        return show(value, spec.kind, units)
    if isinstance(spec, Choice | Flag):
        return choice_word(difference.path, value)
    if isinstance(value, tuple):
        numbers = [show(one, Kind.LENGTH, units) for one in value if isinstance(one, float)]
        return ", ".join(numbers) if numbers else f"{len(value)} rows"
    return clean(str(value), 60)
