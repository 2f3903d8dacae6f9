"""How sure figures are, in words: ± and the reading that makes most of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from stanchion.job.spec import Kind
from stanchion.judgement.reading_errors import Instrument
from stanchion.planning.how_sure import HowSure, PartOf
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show
from stanchion.wording.figure_names import FIGURE_NAMES
from stanchion.wording.labels import label, short_field_label

HOW_SURE = "How sure, 95 %"
READ_BY: Mapping[Instrument, str] = {
    "tape": "by tape",
    "tape_scale": "scale of the tape",
    "caliper": "by caliper",
    "scale": "by scale",
    "calibration": "by its calibration",
    "share": "judged",
    "gauge": "by gauge",
    "thermometer": "by thermometer",
    "angle": "by angle gauge",
    "turns": "as counted",
    "coils": "as counted",
    "syringe": "as set",
    "label": "by its label",
    "tester": "by spring tester",
    "photo": "in the photograph",
    "repeats": "its repeats",
    "mountings": "one mounting to the next",
    "usual": "usual value taken",
}
"""What a reading was taken with, or what else makes it uncertain."""
_ON_THE_SHEET: tuple[tuple[str, str, Kind], ...] = (
    ("Preload, fork", "front.left.installed_preload_mm", Kind.LENGTH),
    ("Preload, right leg", "front.right.installed_preload_mm", Kind.LENGTH),
    ("Preload, shock", "rear.installed_preload_mm", Kind.LENGTH),
    (FIGURE_NAMES["trail_mm"], "geometry.trail_mm", Kind.LENGTH),
)
"""The figures whose uncertainty is on the sheet: name, path in `check --json`, kind. Sags and the centre of
mass have theirs beside them."""


def reading_words(part: PartOf) -> str:
    """The reading that a part of an uncertainty comes from, in short.

    Args:
        part: the part.

    >>> from stanchion.judgement.reading_errors import ErrorOf
    >>> reading_words(PartOf(ErrorOf("tape", ("front", "left", "spring", "free_length_mm")), 0.29))
    'free length'
    """
    return READ_BY["tape_scale"] if part.name.by == "tape_scale" else short_field_label(part.name.at)


def part_words(part: PartOf) -> str:
    """The same with the part of the machine, and what it was taken with.

    Args:
        part: the part.

    >>> from stanchion.judgement.reading_errors import ErrorOf
    >>> part_words(PartOf(ErrorOf("tape", ("front", "left", "spring", "free_length_mm")), 0.29))
    'Fork, left: free length (by tape)'
    """
    by_words = READ_BY[part.name.by]
    return by_words if part.name.by == "tape_scale" else f"{label(part.name.at)} ({by_words})"


def sure_words(of: HowSure, kind: Kind, units: Units = METRIC) -> str:
    """± of a figure and the reading that makes most of it.

    Args:
        of: how sure the figure is.
        kind: what the figure is.
        units: units to show.
    """
    words = f"± {show(of.uncertainty.expanded, kind, units)}"
    return f"{words}, {reading_words(of.parts[0])}" if of.parts else words


def sure_lines(known: Mapping[str, HowSure], units: Units, *, split: bool) -> Iterator[tuple[str, str]]:
    """The lines of the sheet on how sure figures are, each with a name.

    Args:
        known: how sure each figure is, by its path in `check --json`.
        units: units to show.
        split: whether the legs of the fork are entered apart.
    """
    for name, at, kind in _ON_THE_SHEET:
        of = known.get(at)
        if of is not None and of.parts and (split or at != "front.right.installed_preload_mm"):
            shown = "Preload, left leg" if split and at == "front.left.installed_preload_mm" else name
            yield shown, sure_words(of, kind, units)
