"""What the screen that explains a figure shows: which figures another screen has, and one of them in lines. Pure."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from fnmatch import fnmatchcase
from typing import Any

from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.job.edit import dotted
from stanchion.job.model import ENDS, Path
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


_PRELOAD = (
    "installed_preload_mm",
    "preload_now_mm",
    "headroom_out_mm",
    "headroom_out_turns",
    "headroom_in_mm",
    "headroom_in_turns",
    "adjuster_range_mm",
    "mm_per_turn",
    "preload_force_n",
)
_BRAKED = (
    *("fork_used_mm", "fork_left_mm", "fork_ends_g", "front_kg", "rear_kg", "rear_used_mm", "rear_lifts_g"),
    *("rake_deg", "trail_mm", "wheelbase_mm"),
)
_SAGS = ("predicted.front.*.sag_mm", "predicted.rear.*.sag_mm")
_GEOMETRY = tuple(f"geometry.{key}" for key in ("rake_deg", "trail_mm", "normal_trail_mm", "wheelbase_mm"))
_FIRST: dict[str, tuple[str, ...]] = {
    "front": (*(f"front.*.{key}" for key in _PRELOAD), "front.rate_n_per_mm"),
    "rear": (*(f"rear.{key}" for key in _PRELOAD), "rear.wheel_rate_n_per_mm", "rear.motion_ratio"),
    "sag": tuple(
        f"sag.{end}.{state}.{key}"
        for end in ENDS
        for key in ("sag_mm", "stiction_mm", "expanded_mm")
        for state in ("static", "rider")
    ),
    "adjusters": ("front.*.headroom_*", "rear.headroom_*"),
    "damping": ("damping.*.frequency_hz", "damping.front_to_rear", "damping.*.ratios.*.ratio"),
    "predict": (
        *_SAGS,
        *("predicted.*.difference_mm", "predicted.*.turns_for_target", "predicted.*.mm_for_target"),
        *("working_rate.front", "working_rate.rear", "working_rate.*_expanded", "working_rate.*_by_springs"),
        *("full_travel.*.slow_n", "full_travel.*.fast_n"),
        *_GEOMETRY,
    ),
    "balance": (
        *(f"brakes.{stroke}.{key}" for key in _BRAKED for stroke in ("slow", "fast")),
        *("balance.*.front_kg", "balance.*.rear_kg", "balance.*.front_share_pct", "balance.*.ahead_mm"),
        "balance.*.height_mm",
    ),
    "gas": (
        *("gas.stands.anti_squat_pct", "gas.stands.arm_deg", "gas.stands.chain_deg", "gas.anti_squat_there_pct"),
        *("gas.rear_squats_mm", "gas.fork_extends_mm", "gas.front_kg", "gas.front_lifts_g"),
        *(f"gas.{key}" for key in ("fork_used_mm", "rear_used_mm", "rake_deg", "trail_mm", "wheelbase_mm")),
    ),
    "trial": (*_SAGS, *_GEOMETRY, *(f"*.{key}" for key in _PRELOAD[:6])),
    "springs": _SAGS,
    "runs": ("runs.*.used_mm", "runs.*.left_mm"),
    "upkeep": ("upkeep.*.hours_since", "upkeep.gear_ratio"),
}
"""What a screen itself shows, in its order with the large figures first; `*` stands for any places of a path."""


@record
class FiguresOf:
    """The figures of a screen."""

    shown: tuple[str, ...]
    """Paths of those that it shows, in its order."""
    also: tuple[str, ...]
    """Of others that stand behind them."""
    nearest: str
    """The one that rests on the field in hand in the fewest steps; the first where none does."""


def figures_of(followed: FollowedFigures, screen: str, field: Path | None) -> FiguresOf:
    """The figures of a screen.

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
    first = _FIRST.get(screen, ("*",))
    shown = tuple(dict.fromkeys(path for row in first for path in paths if fnmatchcase(path, row)))
    also = tuple(path for path in paths if path not in shown)
    ordered = (*shown, *also)
    if field is None or not ordered:
        return FiguresOf(shown, also, "".join(ordered[:1]))
    return FiguresOf(shown, also, min(ordered, key=lambda path: _steps_to(followed.by_path.get(path), dotted(field))))


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
