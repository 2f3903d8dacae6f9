"""What a machine can be returned to: a job as it stands, or any of its runs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.job.model import Job, Returning, Setup
from stanchion.job.returning import returning, setup_of, setup_ridden
from stanchion.job.spec import Kind
from stanchion.judgement.work.work_list import work_between
from stanchion.units.quantity import show


@record(kw_only=True)
class WorkTarget:
    """One setup to return to."""

    name: str
    """File name of the job; empty: the one in hand."""
    run: int | None
    """Which run, counted from 0; None: the job as it stands."""
    about: str
    """Whose it is, in words: day and place of another job; empty for the one in hand."""
    what: str
    """The job as it stands, or which run."""
    setup: Setup
    remark: str = ""
    """What tells it from the others it is offered with; it holds while they are looked at, not for a list kept."""
    machine: str = ""
    """The machine, where it is another one than that in hand; to be asked about before it is taken."""

    @property
    def title(self) -> str:
        """What it is, in words."""
        return ", ".join(part for part in (self.about, self.what) if part)

    @property
    def offered(self) -> str:
        """What it is among the others of its job."""
        return f"{self.what} ({self.remark})" if self.remark else self.what


def runs_of(job: Job, name: str = "", about: str = "") -> Iterator[WorkTarget]:
    """The runs of a job with the settings that were ridden, the latest first.

    Args:
        job: the job.
        name: its file name; empty: the one in hand.
        about: whose they are; empty: the one in hand.
    """
    laps = [run.best_lap_s for run in job.runs if run.best_lap_s is not None]
    last = len(job.runs) - 1
    for at in range(last, -1, -1):
        run = job.runs[at]
        if run.front is None and run.rear is None:
            continue
        parts = [f"run {at + 1}"]
        if run.time:
            parts.append(clean(run.time, 20))
        if run.best_lap_s is not None:
            parts.append(f"best {show(run.best_lap_s, Kind.TIME)}")
        notes = ["the latest"] if at == last else ["the one before"] if at == last - 1 else []
        if len(laps) > 1 and run.best_lap_s == min(laps):
            notes.append("best lap of all")
        yield WorkTarget(
            name=name, run=at, about=about, what=", ".join(parts), setup=setup_ridden(run), remark=", ".join(notes)
        )


def targets_of(job: Job, name: str, machine: str = "") -> Iterator[WorkTarget]:
    """Another job as it stands, then its runs.

    Args:
        job: the other job.
        name: its file name.
        machine: the machine in hand; with another one that is said.
    """
    of = job.job
    other = of.machine if machine.strip().casefold() != of.machine.strip().casefold() else ""
    about = " ".join(part for part in (of.date.isoformat(), clean(of.venue, 40)) if part)
    about = f"{clean(other, 40)}, {about}" if other else about
    yield WorkTarget(name=name, run=None, about=about, what="as the job stands", setup=setup_of(job), machine=other)
    yield from (replace(run, machine=other) for run in runs_of(job, name, about))


def begin(job: Job, target: WorkTarget) -> Returning:
    """The work list that returns a job to a target."""
    return returning(job, target.setup, job=target.name, run=target.run, title=target.title)


def how_far(job: Job, target: WorkTarget) -> int:
    """How many things differ from it, those that cannot be done included."""
    return len(work_between(setup_of(job), target.setup).items)
