"""Frequency and damping now, beside those of the job before, of the run with the best lap, and with other springs.

Damping wanted is everywhere by the root of wheel rate times sprung mass at rider sag, air and stops counted.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.edit import apply
from stanchion.job.model import ENDS, End, Front, Job, Rear
from stanchion.job.rebound import Earlier
from stanchion.job.runs import as_ridden, changes_since
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.ends.rebound_after_spring import unconfirmed, with_other_springs
from stanchion.judgement.predict.damping import damping_figures, damping_wanted
from stanchion.judgement.predict.damping_ratios import rebound_for
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.damping import DampingFigures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.springs.spring_option import Option
from stanchion.planning.spring_edits import as_edits
from stanchion.planning.whatif import compare


@record(kw_only=True)
class EarlierDamping:
    """Both ends as they were, and what is wanted now for the same damping ratio."""

    what: Earlier
    """The job this one was carried from, a run, or the machine as found."""
    on: dt.date
    """The day of that job."""
    run: int
    """Which run, from 0."""
    best: bool
    """Whether it is the run with the best lap."""
    figures: DampingFigures
    damping: Mapping[End, Figure]
    """Damping wanted now over damping then, by end."""
    rebound: Mapping[End, Figure]
    """Where rebound should stand now by the sheet of its damper; absent without one."""
    settings: Mapping[End, Front | Rear]
    """Both ends as they were set then."""
    stands: Mapping[End, Front | Rear]
    """Both ends as they are set now."""


def earlier_damping(
    job: Job, now: DampingFigures, previous: Job | None, before: Assessment | None, profiles: Profiles
) -> tuple[EarlierDamping, ...]:
    """What damping is compared with: the job before, the run with the best lap if it was set otherwise, and the
    settings with other springs that rebound was left at.

    Args:
        job: the job.
        now: its figures.
        previous: the job it was carried from; None: not known.
        before: what assess() gave for that; None: not compared with.
        profiles: bands and targets.
    """
    found = [*_since_job(job, now, previous, before), *_since_best_lap(job, now, profiles)]
    for end in unconfirmed(job, previous):
        earlier = with_other_springs(job, previous, end)
        if earlier is None or earlier[0] == "job":
            continue
        what, part = earlier
        at = next((i for i, run in enumerate(job.runs) if part is (run.front if end == "front" else run.rear)), 0)
        if any((one.what, one.run) == (what, at if what == "run" else 0) for one in found):
            continue
        settings = job.runs[at] if what == "run" else job.found
        if settings is not None:
            ridden = replace(
                job, front=settings.front or job.front, rear=settings.rear or job.rear, runs=(), found=None
            )
            found.append(_compared(job, now, (what, ridden, at if what == "run" else 0), profiles))
    return tuple(found)


def damping_with_option(
    job: Job, option: Option, end: End, profiles: Profiles, previous: Job | None = None
) -> float | None:
    """Damping that an end wants with a choice of springs over what it wants now, as a trial of them says; None where
    it stays, or is not known.

    Args:
        job: the job.
        option: the choice, its adjusters set for the targets.
        end: the end they are for.
        profiles: bands and targets.
        previous: the job it was carried from.
    """
    changed = job
    for edit in as_edits(option, job, set_adjuster=True):
        changed = apply(changed, edit)
    rows = compare(job, changed, profiles, previous).rows
    share = next((row.changed.value for row in rows if (row.where, row.code) == ((end,), "damping_pct")), None)
    return None if share is None else share / 100.0


def _since_job(
    job: Job, now: DampingFigures, previous: Job | None, before: Assessment | None
) -> Iterator[EarlierDamping]:
    if previous is not None and before is not None:
        yield _of(job, now, ("job", previous, 0), damping_figures(previous, before))


def _since_best_lap(job: Job, now: DampingFigures, profiles: Profiles) -> Iterator[EarlierDamping]:
    best = _best_run(job)
    if best is not None and changes_since(job, best):
        ridden = replace(as_ridden(job, job.runs[best]), runs=())
        yield replace(_compared(job, now, ("run", ridden, best), profiles), best=True)


def _compared(job: Job, now: DampingFigures, then: tuple[Earlier, Job, int], profiles: Profiles) -> EarlierDamping:
    return _of(job, now, then, damping_figures(then[1], assess(then[1], profiles)))


def _of(job: Job, now: DampingFigures, then: tuple[Earlier, Job, int], figures: DampingFigures) -> EarlierDamping:
    what, before, run = then
    damping = damping_wanted(now, figures)
    settings: dict[End, Front | Rear] = {"front": before.front, "rear": before.rear}
    return EarlierDamping(
        what=what,
        on=before.job.date,
        run=run,
        best=False,
        figures=figures,
        damping=damping,
        rebound={end: rebound_for(job, end, settings[end], damping[end]) for end in ENDS},
        settings=settings,
        stands={"front": job.front, "rear": job.rear},
    )


def _best_run(job: Job) -> int | None:
    """The run with the best lap of those that hold the settings ridden; None where no lap is recorded."""
    timed = [
        (run.best_lap_s, at)
        for at, run in enumerate(job.runs)
        if run.best_lap_s is not None and run.front is not None and run.rear is not None
    ]
    return min(timed)[1] if timed else None
