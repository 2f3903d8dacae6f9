"""The figures of a job followed back to its readings: which there are, and why one is what it is."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Any

from stanchion.base.record import record
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles, load_profiles
from stanchion.planning.tracing import followed, read_numbers
from stanchion.report.check_json import as_json
from stanchion.report.why import Why, all_steps
from stanchion.report.why_text import Explained, explained, explained_json, explained_lines
from stanchion.units.known_units import METRIC, Units
from stanchion.wording import why_words
from stanchion.wording.figure_titles import direction_words

_NO_FIGURES = ("format", "file", "job", "worst", "findings", "cautions", "missing", "copies")


@record
class FollowedFigures:
    """The figures of a job, each of which knows how it was worked out."""

    job: Job
    by_path: dict[str, Any]
    """The figures by the dotted path that `check --json` gives them."""
    missing: dict[str, str]
    """Why a figure is absent, by its path."""


def followed_figures(
    job: Job, profiles: Profiles, previous: Job | None = None, keys: Collection[str] = ()
) -> FollowedFigures:
    """Judge a job with every number followed. It takes some ten times as long as judging it.

    Args:
        job: the job.
        profiles: bands and targets.
        previous: the job this one was carried from, if available.
        keys: the keys of `check --json` wanted, so that what takes long and stands elsewhere is left out; empty: all.
    """
    with followed():
        read = read_numbers(job)
        judged_by = read_numbers(profiles, by_profile=True)
        before = None if previous is None else read_numbers(previous)
        data = as_json("", read, assess(read, judged_by, before), judged_by, before, only=keys)
    return FollowedFigures(job, dict(figures_in(data)), data["missing"])


def figure_paths(job: Job) -> tuple[str, ...]:
    """The paths of all figures that a job has, without following them."""
    profiles = load_profiles()
    data = as_json("", job, assess(job, profiles), profiles)
    return tuple(path for path, _ in figures_in(data))


def figures_in(data: Any, at: str = "") -> Iterator[tuple[str, Any]]:
    """Every number in plain data, with its dotted path."""
    if isinstance(data, dict):
        for key, value in data.items():
            if at or key not in _NO_FIGURES:
                yield from figures_in(value, f"{at}.{key}" if at else key)
    elif isinstance(data, list | tuple):
        for number, value in enumerate(data):
            yield from figures_in(value, f"{at}.{number}")
    elif isinstance(data, float):
        yield at, data


def explained_figure(of: FollowedFigures, figure: str) -> tuple[Explained, ...]:
    """A figure and the steps it rests on, each once, nearer ones first.

    Args:
        of: the figures.
        figure: the path of one that is known.
    """
    first, *others = all_steps(of.by_path[figure])
    return (explained_first(of, figure, first), *(explained(one, of.job) for one in others))


def explained_first(of: FollowedFigures, figure: str, first: Why) -> Explained:
    """A figure by its own name, without the steps it rests on."""
    title = why_words.figure_words(figure, both_legs=not of.job.front.split)
    return explained(first, of.job, title, why_words.figure_unit(figure), direction_words(figure))


def figure_lines(of: FollowedFigures, figure: str, width: int, units: Units = METRIC) -> Iterator[str]:
    """A figure with all its steps, as printed text."""
    whole = explained_figure(of, figure)
    steps = {id(one.why.number): f"step {at}" for at, one in enumerate(whole) if at}
    for at, one in enumerate(whole):
        if at:
            yield ""
            yield f"Step {at}"
        yield from (line for line, _ in explained_lines(one, units, width, steps))


def figure_json(of: FollowedFigures, figure: str) -> dict[str, Any]:
    """A figure with all its steps, as plain data; `steps` of a formula are places in that list."""
    if figure in of.missing:
        return {"figure": figure, "value": None, "missing": of.missing[figure], "steps": []}
    whole = explained_figure(of, figure)
    places = {id(one.why.number): at for at, one in enumerate(whole)}
    return {"figure": figure, "value": whole[0].value, "steps": [explained_json(one, places) for one in whole]}


__all__ = ["FollowedFigures", "explained_figure", "figure_json", "figure_lines", "followed_figures"]
