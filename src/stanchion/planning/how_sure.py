"""How sure figures of a job are: every reading moved by its own uncertainty, and the job judged anew each time.

Worked out only when it is asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from stanchion.base.errors import BadEdit
from stanchion.base.record import record
from stanchion.job.edit import Edit, apply, value_at
from stanchion.job.measured import said_by, sprung_by, with_record
from stanchion.job.model import ENDS, STATES, Job, Path
from stanchion.job.spec import Progressive, Rate
from stanchion.judgement.reading_errors import USUAL_WHERE_EMPTY, ErrorOf, ReadingError, reading_errors
from stanchion.mechanics.propagation import ErrorPart, Propagated, propagated

HowSure = Propagated[ErrorOf]
PartOf = ErrorPart[ErrorOf]
NumbersOf = Callable[[Job], Mapping[str, float]]
"""Works out figures of a job by name; one that cannot be had is left out."""


@record
class SureOf:
    """How sure each figure of a job is, and how many times the job was judged for it."""

    figures: Mapping[str, HowSure]
    judged: int


def how_sure(job: Job, numbers_of: NumbersOf, errors: tuple[ReadingError, ...] | None = None) -> SureOf:
    """How sure figures of a job are.

    Args:
        job: the job.
        numbers_of: works out the figures.
        errors: the errors of its readings; None: all that reading_errors gives.
    """
    judged = 0

    def worked_out(moved: Mapping[Path, float]) -> Mapping[str, float]:
        nonlocal judged
        judged += 1
        try:
            return numbers_of(with_moved(job, moved))
        except BadEdit:  # a reading at the limit of what can be true cannot be moved beyond it
            return {}

    figures = propagated(worked_out, reading_errors(job) if errors is None else errors)
    return SureOf(figures, judged)


def with_moved(job: Job, moved: Mapping[Path, float]) -> Job:
    """The job with readings moved by so much. They are the same readings of the same parts: what is noted beside
    sags of the parts they were read with moves with them.

    Args:
        job: the job.
        moved: by how much each reading is moved.

    Raises:
        BadEdit: a reading moved beyond the limits of its field.
    """
    after = job
    for path, by in moved.items():
        value = value_at(job, path)
        after = apply(after, Edit(path, _moved(USUAL_WHERE_EMPTY.get(path, 0.0) if value is None else value, by)))
    return _noted_alike(job, after)


def _moved(value: Rate, by: float) -> Rate:
    """A value moved by so much; both rates of a progressive spring in the same proportion."""
    if isinstance(value, Progressive):
        factor = 1.0 + by / value.middle
        return Progressive(value.start * factor, value.end * factor)
    return value + by


def _noted_alike(job: Job, after: Job) -> Job:
    """The job with the notes beside its sags as they were: those that agreed with the machine agree with it again."""
    for end in ENDS:
        was, now = sprung_by(job, end), sprung_by(after, end)
        if was == now:
            continue
        for state in STATES:
            readings = after.sag.end(end).static if state == "static" else after.sag.end(end).rider
            notes = tuple(
                new if noted == old else noted for noted, old, new in zip(said_by(readings), was, now, strict=True)
            )
            after = with_record(after, end, state, notes)
    return after
