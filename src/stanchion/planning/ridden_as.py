"""Which settings a run may have been ridden with: those of now, of before the last change, of an earlier run."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from stanchion.base.record import record
from stanchion.job.diff import Difference
from stanchion.job.model import Front, Job, Rear, Run
from stanchion.job.runs import as_set, changes_between


@record(kw_only=True)
class RiddenAs:
    """Settings that a run may have been ridden with. wording/ridden_words.py names them."""

    what: Literal["now", "before", "run", "found"]
    """As the machine is set now, as it was before the last change, as an earlier run, as it was found."""
    run: int = 0
    """Which run, from 0."""
    front: Front
    rear: Rear

    @property
    def settings(self) -> Run:
        """A run with these settings and nothing else."""
        return Run(front=self.front, rear=self.rear)


def ridden_as(job: Job, at: int, before: Job | None) -> tuple[RiddenAs, ...]:
    """The settings that a run may have been ridden with, each once: those of now first, the latest run's before older.

    Args:
        job: the job.
        at: the run; those before it are offered.
        before: the job before the last change of settings; None: not known.
    """
    found: list[RiddenAs] = []
    for one in _all(job, at, before):
        if not any(alike(job, one, other) for other in found):
            found.append(one)
    return tuple(found)


def alike(job: Job, one: RiddenAs, other: RiddenAs) -> bool:
    """Whether nothing was turned or changed between the two."""
    return not changes_between(job, one.settings, other.settings)


def since(job: Job, one: RiddenAs) -> tuple[Difference, ...]:
    """What was changed from those settings to the present ones."""
    return changes_between(job, one.settings, as_set(job))


def as_stamped(job: Job, at: int, offered: tuple[RiddenAs, ...]) -> int | None:
    """Index of the settings that a run is recorded with; None: it has others, or none."""
    run = job.runs[at]
    if run.front is None or run.rear is None:
        return None
    own = RiddenAs(what="run", run=at, front=run.front, rear=run.rear)
    return next((n for n, one in enumerate(offered) if alike(job, one, own)), None)


def _all(job: Job, at: int, before: Job | None) -> Iterator[RiddenAs]:
    yield RiddenAs(what="now", front=job.front, rear=job.rear)
    if before is not None:
        yield RiddenAs(what="before", front=before.front, rear=before.rear)
    for number in range(at - 1, -1, -1):
        run = job.runs[number]
        if run.front is not None and run.rear is not None:
            yield RiddenAs(what="run", run=number, front=run.front, rear=run.rear)
    found = job.found
    if found is not None and found.front is not None and found.rear is not None:
        yield RiddenAs(what="found", front=found.front, rear=found.rear)
