"""The worked pages of the help: from which sample each has its numbers, and when its exercise is solved.

What a page says stands in wording/lesson_sentences.py. Every number in it is worked out here from the sample job.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Literal, get_args

from stanchion.base.record import record
from stanchion.job.edit import Edit, apply, spec_at, value_at
from stanchion.job.model import ENDS, STATES, Job, Path
from stanchion.job.spec import Kind, Number
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.results.assessment import Assessment
from stanchion.report.figure_numbers import figure_numbers
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.lesson_sentences import LESSONS, RANGE, Lesson

LessonCode = Literal["preload_band", "pair_of_sags", "coil_bind", "air_gap", "trail", "anti_squat", "damping_ratio"]
CODES: tuple[LessonCode, ...] = get_args(LessonCode)
Bounds = tuple[float | None, float | None]
"""What a figure is to lie between; None: no limit on that side."""
PLACE = re.compile(r"\[\[(=?)([\w.]+)\]\]")
"""Where a number stands in a text: [[figure]], or [[=field]] for what the sample has recorded."""
_UNITS: Mapping[str, Kind] = {
    "_n_per_mm": Kind.RATE,
    "_mm": Kind.LENGTH,
    "_n": Kind.FORCE,
    "_kg": Kind.MASS,
    "_deg": Kind.ANGLE,
    "_turns": Kind.TURNS,
}
_OTHERS: Mapping[str, str] = {"_pct": "{:.1f} %", "_hz": "{:.2f} Hz", "_n_s_per_m": "{:.0f} N·s/m", "ratio": "{:.2f}"}
SLACK = 1e-6
"""What arithmetic may take from a bound."""


@record
class Judged:
    """A job of a page, with its figures by the paths of `check --json`."""

    numbers: Mapping[str, float]
    assessment: Assessment


@record(kw_only=True)
class Goal:
    """What an exercise asks for: a figure between two bounds."""

    figure: str
    bounds: Callable[[Judged, Judged], Bounds]
    """By the sample as it came, and the job as it is now."""


@record(kw_only=True)
class GoalState:
    """How far one goal is."""

    figure: str
    value: float | None
    bounds: Bounds
    reached: bool


@record(kw_only=True)
class Exercise:
    """What an exercise begins with, and what it asks for."""

    sample: str
    """The sample job, by the name of its file."""
    start: tuple[Edit, ...] = ()
    """What is changed in it to begin with."""
    goals: tuple[Goal, ...]


def _band(figure: str) -> Goal:
    def bounds(sample: Judged, now: Judged) -> Bounds:
        del now
        band = sample.assessment.front.left.band
        return (None, None) if band is None else band

    return Goal(figure=figure, bounds=bounds)


def _target(end: Literal["front", "rear"], state: Literal["static", "rider"]) -> Goal:
    def bounds(sample: Judged, now: Judged) -> Bounds:
        del now
        target = sample.assessment.sag.end(end).state(state).target
        return (None, None) if target is None else (target[0], target[1])

    return Goal(figure=f"predicted.{end}.{state}.sag_mm", bounds=bounds)


def _from_sample(figure: str, low: float | None, high: float | None) -> Goal:
    """A figure by so much more than in the sample, at least and at most."""

    def bounds(sample: Judged, now: Judged) -> Bounds:
        del now
        was = sample.numbers[figure]
        return None if low is None else was + low, None if high is None else was + high

    return Goal(figure=figure, bounds=bounds)


_PRELOAD = "front.left.installed_preload_mm"
_CLEARANCE = "springs.front.left.coil_bind_clearance_mm"
_NEEDED = "springs.front.left.required_clearance_mm"
_REBOUND = "damping.front.ratios.3.ratio"
_STIFFER = (
    Edit(("front", "left", "spring", "rate_n_per_mm"), 10.25),
    Edit(("front", "left", "spring", "set_length_mm"), 238.5),
    Edit(("front", "left", "spring", "set_length_in_mm"), 230.5),
    Edit(("front", "left", "adjuster", "now"), 3.75),
)
EXERCISES: Mapping[LessonCode, Exercise] = {
    "preload_band": Exercise(
        sample="soft_springs",
        goals=(
            _band(_PRELOAD),
            Goal(figure="front.left.headroom_in_turns", bounds=lambda sample, now: (2.0, None)),
        ),
    ),
    "pair_of_sags": Exercise(
        sample="soft_springs",
        goals=(*(_target(end, state) for end in ENDS for state in STATES), _band(_PRELOAD)),
    ),
    "coil_bind": Exercise(
        sample="well_set",
        start=(Edit(("front", "left", "spring", "coils", "total_coils"), 24.0),),
        goals=(Goal(figure=_CLEARANCE, bounds=lambda sample, now: (now.numbers.get(_NEEDED), None)), _band(_PRELOAD)),
    ),
    "air_gap": Exercise(
        sample="well_set",
        goals=(
            _from_sample("full_travel.front.fast_n", 150.0, 300.0),
            _from_sample("front.rate_n_per_mm", -0.1, 0.1),
            _target("front", "rider"),
        ),
    ),
    "trail": Exercise(
        sample="well_set",
        goals=(_from_sample("geometry.trail_mm", 1.3, None), _from_sample("geometry.rake_deg", None, 0.3)),
    ),
    "anti_squat": Exercise(
        sample="well_set",
        goals=(_from_sample("gas.stands.anti_squat_pct", None, -2.0), _from_sample("geometry.trail_mm", -0.3, 0.3)),
    ),
    "damping_ratio": Exercise(sample="soft_springs", start=_STIFFER, goals=(_from_sample(_REBOUND, -0.015, 0.015),)),
}


def judged(job: Job, profiles: Profiles) -> Judged:
    """A job with its figures."""
    return Judged(figure_numbers(job, profiles), assess(job, profiles))


def started(job: Job, code: LessonCode) -> Job:
    """A sample as an exercise begins with it."""
    for edit in EXERCISES[code].start:
        job = apply(job, edit)
    return job


def goal_states(code: LessonCode, sample: Judged, now: Judged) -> tuple[GoalState, ...]:
    """How far each goal of an exercise is.

    Args:
        code: the exercise.
        sample: the sample as it came.
        now: the copy as it is.
    """
    found = []
    for goal in EXERCISES[code].goals:
        value, (low, high) = now.numbers.get(goal.figure), goal.bounds(sample, now)
        bounded = (low, high) != (None, None)
        inside = value is not None and (low is None or value >= low - SLACK) and (high is None or value <= high + SLACK)
        found.append(GoalState(figure=goal.figure, value=value, bounds=(low, high), reached=bounded and inside))
    return tuple(found)


def lesson_of(code: LessonCode) -> Lesson:
    """The words of a page."""
    return LESSONS[code]


def filled_in(text: str, job: Job, of: Judged, units: Units) -> str:
    """A text of a page with the sample's own numbers.

    Args:
        text: the text, with [[figure]] and [[=field]] in it.
        job: the sample.
        of: its figures.
        units: units to show them in.
    """

    def number(found: re.Match[str]) -> str:
        name = found[2]
        if found[1]:
            return recorded_words(job, tuple(name.split(".")), units)
        if name.startswith(("band.", "target.")):
            return _range_words(name, of.assessment, units)
        return figure_words(name, of.numbers[name], units)

    return PLACE.sub(number, text)


def recorded_words(job: Job, path: Path, units: Units) -> str:
    """What the sample has recorded at a path."""
    spec, value = spec_at(path), value_at(job, path)
    return show(value, spec.kind, units) if isinstance(spec, Number) else str(value)


def figure_words(name: str, value: float, units: Units) -> str:
    """A figure as it is read, with its unit by the end of its name.

    >>> figure_words("geometry.trail_mm", 97.0, Units()), figure_words("gas.stands.anti_squat_pct", 119.6, Units())
    ('97.0 mm', '119.6 %')
    """
    for ending, words in _OTHERS.items():
        if name.endswith(ending):
            return words.format(value)
    kind = next(kind for ending, kind in _UNITS.items() if name.endswith(ending))
    return show(value, kind, units)


def bounds_words(name: str, bounds: Bounds, units: Units) -> str:
    """What a figure is to be, in words."""
    low, high = (None if one is None else figure_words(name, one, units) for one in bounds)
    if low is None:
        return RANGE["at_most"].format(high=high)
    return RANGE["at_least"].format(low=low) if high is None else RANGE["between"].format(low=low, high=high)


def _range_words(name: str, assessment: Assessment, units: Units) -> str:
    _, end, *state = name.split(".")
    if state:
        one = assessment.sag.front if end == "front" else assessment.sag.rear
        found = one.static.target if state == ["static"] else one.rider.target
    else:
        found = assessment.front.left.band
    return "" if found is None else bounds_words("_mm", (found[0], found[1]), units)
