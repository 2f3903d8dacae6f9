"""How sure a figure is that is explained, and which reading makes most of it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import Any

from stanchion.base.record import record
from stanchion.job.edit import dotted
from stanchion.job.model import Job, Path
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.reading_errors import ReadingError, reading_errors
from stanchion.judgement.results.balance import Braking
from stanchion.planning.braking_of_runs import braking_to_look_at
from stanchion.planning.how_sure import how_sure
from stanchion.report.figure_numbers import figure_numbers
from stanchion.report.why import all_steps
from stanchion.report.why_figures import FollowedFigures
from stanchion.report.why_text import value_text
from stanchion.units.known_units import Units
from stanchion.wording import why_words


@record
class LargestPart:
    """The uncertainty of a figure, and the reading that makes most of it."""

    expanded: float
    """With about 95 % confidence, in the unit of the figure."""
    by: str
    """What the reading was taken with."""
    at: Path
    share: float
    """Its part of the sum of squares, 0 to 1."""


def largest_part(
    of: FollowedFigures, figure: str, profiles: Profiles, previous: Job | None = None
) -> LargestPart | None:
    """How sure a figure is, as `check --json` has it; None where no reading that may be off is in it.

    Only the readings that it was followed back to are moved.

    Args:
        of: the figures.
        figure: the path of one that is known.
        profiles: bands and targets.
        previous: the job it was carried from; None: not known.
    """
    number = of.by_path[figure]
    read = {
        one.path
        for step in all_steps(number)
        for one in (step.reading, *(term.reading for term in step.terms))
        if one is not None and not one.by_profile
    }
    errors = tuple(error for error in reading_errors(of.job) if _moves(error, read))
    braking = braking_to_look_at(of.job, profiles)
    numbers = partial(_one_number, figure=figure, profiles=profiles, previous=previous, braking=braking)
    found = how_sure(of.job, numbers, errors).figures.get(figure)
    if found is None or not found.parts:
        return None
    most, whole = found.parts[0], sum(part.effect**2 for part in found.parts)
    return LargestPart(found.uncertainty.expanded, most.name.by, most.name.at, most.effect**2 / whole)


def _moves(error: ReadingError, read: set[Path]) -> bool:
    """Whether a source of error moves one of some readings; of repeats it may move all at once."""
    return any(path[: len(one)] == one or one[: len(path)] == path for path, _ in error.moves for one in read)


def _one_number(
    job: Job, *, figure: str, profiles: Profiles, previous: Job | None, braking: Braking | None
) -> Mapping[str, float]:
    known = figure_numbers(job, profiles, previous, braking, key=figure.partition(".")[0])
    return {figure: known[figure]} if figure in known else {}


def sure_line(part: LargestPart, figure: str, units: Units) -> str:
    """The uncertainty of a figure in a line."""
    expanded = value_text(part.expanded, why_words.figure_unit(figure), units)
    return why_words.sure_words(expanded, part.by, part.at, part.share)


def part_json(part: LargestPart | None) -> dict[str, Any]:
    """The same as plain data; nothing where no reading is in it that may be off."""
    if part is None:
        return {}
    return {"expanded": part.expanded, "largest_part": {"reading": dotted(part.at), "by": part.by, "share": part.share}}
