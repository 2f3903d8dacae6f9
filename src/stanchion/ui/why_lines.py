"""What the screen that explains a figure shows: which figures another screen has, and one of them in lines. Pure."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from stanchion.base.text import clean
from stanchion.job.edit import dotted
from stanchion.job.model import Path
from stanchion.report.why import all_steps
from stanchion.report.why_figures import FollowedFigures
from stanchion.report.why_text import Explained, ExplainedTerm, directed_text, explained_lines
from stanchion.units.known_units import Units
from stanchion.wording import why_words
from stanchion.wording.figure_titles import direction_words

_OF_JOB = ("front", "rear", "sag", "predicted", "geometry")
_OF_SCREEN: dict[str, tuple[str, ...]] = {
    "front": ("front", "springs.front", "oil", "stops.front", "full_travel.front", "sag.front", "predicted.front"),
    "rear": ("rear", "springs.rear", "stops.rear", "full_travel.rear", "sag.rear", "predicted.rear", "change_over"),
    "sag": ("sag", "predicted", "working_rate"),
    "adjusters": ("front", "rear"),
    "damping": ("damping",),
    "predict": ("predicted", "full_travel", "working_rate", "geometry"),
    "balance": ("balance", "brakes"),
    "dampers": ("damper_sheets",),
    "linkage": ("linkage", "rear"),
    "gas": ("gas",),
    "trial": ("predicted", "full_travel", "geometry", "front", "rear"),
    "springs": ("predicted", "springs", "one_rate"),
    "runs": ("runs",),
    "upkeep": ("upkeep", "geometry"),
}
"""Beginnings of the paths of the figures that a screen shows."""


def keys_of(screen: str) -> tuple[str, ...]:
    """The keys of `check --json` under which the figures of a screen stand."""
    return tuple(dict.fromkeys(begin.partition(".")[0] for begin in _OF_SCREEN.get(screen, _OF_JOB)))


def figures_of(followed: FollowedFigures, screen: str, field: Path | None) -> list[str]:
    """The paths of the figures of a screen; first those that rest on the field in hand, the nearest of them foremost.

    Args:
        followed: the figures.
        screen: the name of the screen.
        field: the field in hand, if there is one.
    """
    begins = _OF_SCREEN.get(screen, _OF_JOB)
    known = {**followed.by_path, **followed.missing}
    paths = [path for begin in begins for path in known if path == begin or path.startswith(f"{begin}.")]
    alike = not followed.job.front.split
    paths = [path for path in dict.fromkeys(paths) if _is_shown(path) and not (alike and ".right." in f".{path}")]
    if field is None:
        return paths
    near = {path: _steps_to(followed.by_path.get(path), dotted(field)) for path in paths}
    return sorted(paths, key=lambda path: near[path])


_NOT_SHOWN = ("band_mm", "target_mm", "coverage", "verdict", "limit", "preload_case", "advice", "topped_out", "sample")


def _is_shown(path: str) -> bool:
    """Whether it is a figure, and not a code, an end of a band or a word."""
    return not any(step in _NOT_SHOWN for step in path.split("."))


_NOWHERE_NEAR = 10_000


def _steps_to(number: Any, field: str) -> int:
    """How many steps a figure is away from a reading; a great number where it does not rest on it."""
    if number is None:
        return _NOWHERE_NEAR
    for at, step in enumerate(all_steps(number)):
        own = [step.reading, *(term.reading for term in step.terms)]
        if any(one is not None and _is_of(dotted(one.path), field) for one in own):
            return at
    return _NOWHERE_NEAR


def _is_of(path: str, field: str) -> bool:
    return path == field or path.startswith((f"{field}[", f"{field}.")) or field.startswith(f"{path}[")


def figure_row(followed: FollowedFigures, path: str, units: Units) -> str:
    """One figure in the list: its name with its value, or why there is none."""
    alike = not followed.job.front.split
    if path in followed.by_path:
        value, unit = float(followed.by_path[path]), why_words.figure_unit(path)
        name = why_words.figure_words(path, both_legs=alike)
        return f"{name}: {directed_text(value, unit, direction_words(path), units)}"
    return why_words.absent_words(path, clean(followed.missing[path]), both_legs=alike)


def page_lines(of: Explained, units: Units, width: int, sure: str) -> Iterator[tuple[str, ExplainedTerm | None]]:
    """One number explained, a line at a time, each with the number in its formula that it shows.

    Args:
        of: the number in words.
        units: display units.
        width: columns there are.
        sure: how sure it is, in words; empty while that is not known.
    """
    steps = {id(term.number): why_words.FURTHER for term in of.terms if term.came_from == "step"}
    yield from explained_lines(of, units, width, steps)
    yield from ((f"  {line}", None) for line in textwrap.wrap(sure, width - 2))
