"""The history of one machine: its occasions and runs in order, each with the changes since the one before."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.diff import Difference, differences
from stanchion.job.model import End, Job, Run, State
from stanchion.job.name_match import has_words
from stanchion.job.runs import as_ridden, changes_between, only_recorded
from stanchion.judgement import unjudged
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.parts import Fault, Parts
from stanchion.judgement.results.ridden import EndUsed, RunFigures
from stanchion.judgement.track.run_figures import run_figures

SUFFIX = ".toml"
_CLOCK = re.compile(r"([01]?\d|2[0-3])[:.]([0-5]\d)", re.ASCII)
_SETUP_PARTS = ("front", "rear", "upkeep", "drive")
_NOT_SETUP = (
    *(("upkeep", "torques"), ("upkeep", "machine_hours")),
    *(("drive", "acceleration_g"), ("drive", "axle_forward_mm"), ("drive", "axle_back_mm")),
)
"""What changes by itself, is done every time, or is only looked at or measured, and so is not a change of the setup."""


@record(kw_only=True)
class StoryRow:
    """One occasion with its final setup, or one run with the setup ridden."""

    file: str
    """Name of the job's file."""
    job: Job
    """The job; for a run with the settings ridden."""
    at: int | None
    """Index of the run; None for the occasion."""
    assessment: Assessment
    """Assessment of `job`. Its sags are those of the occasion."""
    figures: tuple[RunFigures, ...]
    """Figures of this run, or of every run of the occasion."""
    changes: tuple[Difference, ...]
    """Changes of the setup since the previous occasion, or since the previous run; for a first run since the previous
    occasion."""
    first: bool
    """Whether there is no earlier row to compare with."""
    faults: tuple[Fault, ...] = ()
    """Errors of the program that kept some of its figures from being worked out."""

    @property
    def run(self) -> Run | None:
        """The run; None for the occasion."""
        return None if self.at is None else self.job.runs[self.at]

    @property
    def day(self) -> dt.date:
        """The day of the occasion, or of the run where it was on another one."""
        return self.job.job.date if self.run is None else _day(self.job, self.run)

    @property
    def on_another_day(self) -> bool:
        """Whether it is a run on another day than its occasion, so that other occasions may be in between."""
        return self.day != self.job.job.date

    @property
    def session(self) -> str:
        """The session as it is called; of an occasion that of its first run."""
        return self.job.job.session if self.run is None else self.run.session

    @property
    def session_begun(self) -> str:
        """The session, where a run is the first one entered in it; of an occasion always."""
        if self.at is None:
            return self.session
        before = self.job.runs[self.at - 1].session if self.at else self.job.job.session
        return "" if self.session == before else self.session

    @property
    def best_lap_s(self) -> float | None:
        """Best lap of the run, or of all runs of the occasion."""
        runs = self.job.runs if self.run is None else (self.run,)
        return min((run.best_lap_s for run in runs if run.best_lap_s is not None), default=None)

    def deepest(self, end: End) -> EndUsed | None:
        """Travel used by the run that used most of it; None where no marker was read."""
        known = [of for figures in self.figures if (of := figures.end(end)).share_used.known]
        return max(known, key=lambda of: of.share_used.value or 0.0, default=None)


@record
class Point:
    """One figure of one row, for a plot."""

    row: int
    """Index of the row."""
    value: float


def story_rows(
    jobs: Iterable[tuple[str, Job]],
    profiles: Profiles,
    progress: Callable[[int, int], None] = lambda done, of: None,
    cancelled: Callable[[], bool] = lambda: False,
) -> tuple[StoryRow, ...]:
    """The rows of one machine, by date, start of the first run and file name; runs follow their occasion by the time at
    which they began. A run on another day than its occasion is among the rows of that day.

    Args:
        jobs: file name and job, of one machine, in any order.
        profiles: bands and targets.
        progress: called with the number of jobs done and of all jobs.
        cancelled: called before each job; once it returns True, the rows so far are returned.
    """
    rows: list[StoryRow] = []
    before: Job | None = None
    in_order = sorted(jobs, key=_sort_key)
    for done, (file, job) in enumerate(in_order):
        if cancelled():
            break
        rows += _occasion(file, job, before, profiles)
        before = job
        progress(done + 1, len(in_order))
    return tuple(sorted(rows, key=lambda row: row.day))


def row_of(file: str, job: Job, at: int | None, profiles: Profiles) -> StoryRow:
    """One row by itself, without an earlier one to compare with.

    Args:
        file: name of the job's file.
        job: the job.
        at: index of the run; None for the occasion.
        profiles: bands and targets.

    Raises:
        IndexError: there is no such run.
    """
    if at is not None:
        job = replace(job, runs=(*job.runs[:at], job.runs[at]))
    return next(row for row in _occasion(file, job, None, profiles) if row.at == at)


def _occasion(file: str, job: Job, before: Job | None, profiles: Profiles) -> Iterator[StoryRow]:
    parts = Parts()
    assessment = assess(job, profiles)
    figures = tuple(
        parts.judged("runs", unjudged.RUN, run_figures, job, at, assessment.marker_references)
        for at in range(len(job.runs))
    )
    changes = () if before is None else parts.judged("changes", (), _setup_changes, before, job)
    yield StoryRow(
        file=file,
        job=job,
        at=None,
        assessment=assessment,
        figures=figures,
        changes=changes,
        first=before is None,
        faults=(*assessment.faults, *parts.faults),
    )
    settings, judged = job, assessment
    order = _in_time(job)
    for nth, at in enumerate(order):
        run = job.runs[at]
        ridden = as_ridden(job, run)
        if (ridden.front, ridden.rear) != (settings.front, settings.rear):
            settings, judged = ridden, assess(ridden, profiles)
        parts = Parts()
        since = () if before is None else parts.judged("changes", (), _setup_changes, before, ridden)
        earlier = job.runs[order[nth - 1]]
        changes = parts.judged("changes", (), changes_between, job, earlier, run) if nth else since
        yield StoryRow(
            file=file,
            job=ridden,
            at=at,
            assessment=judged,
            figures=figures[at : at + 1],
            changes=changes,
            first=before is None and nth == 0,
            faults=(*judged.faults, *parts.faults),
        )


def _day(job: Job, run: Run) -> dt.date:
    return run.date or job.job.date


def _began(run: Run) -> str:
    """When a run began, as 09:40; empty where that is not known."""
    clock = _CLOCK.match(run.time.strip())
    return f"{int(clock[1]):02}:{clock[2]}" if clock else ""


def _in_time(job: Job) -> list[int]:
    """The runs by day and time; one without a time stays after the one that was entered before it."""
    keys: list[tuple[dt.date, str]] = []
    for run in job.runs:
        day = _day(job, run)
        same_day = bool(keys) and keys[-1][0] == day
        keys.append((day, _began(run) or (keys[-1][1] if same_day else "")))
    return sorted(range(len(keys)), key=keys.__getitem__)


def _setup_changes(before: Job, now: Job) -> tuple[Difference, ...]:
    """Changes of the setup, without facts and positions that were only recorded in between, and without base settings:
    nothing is turned for one."""
    return tuple(
        change
        for change in differences(before, now)
        if change.path[0] in _SETUP_PARTS
        and change.path[:2] not in _NOT_SETUP
        and change.path[-1] != "base"
        and not only_recorded(change)
    )


def _sort_key(named: tuple[str, Job]) -> tuple[dt.date, str, list[int | str], str]:
    """Sort key: date, start of the first run (occasions without a time come last), then file name."""
    file, job = named
    time = next((at for run in job.runs if _day(job, run) == job.job.date and (at := _began(run))), "~")
    pieces = re.split(r"([0-9]{1,9})", file.removesuffix(SUFFIX))  # digits are every other piece
    parts = [int(piece) if at % 2 else piece for at, piece in enumerate(pieces)]  # name-10 after name-9
    return job.job.date, time, parts, file


# --- finding ------------------------------------------------------------------------------------------------------


def chosen_rows(
    rows: Iterable[StoryRow],
    *,
    rider: str = "",
    venue: str = "",
    since: dt.date | None = None,
    until: dt.date | None = None,
) -> tuple[StoryRow, ...]:
    """The rows of a rider, a venue and a period; every word given must be found in the name.

    Args:
        rows: as story_rows gives them; their changes remain those since the previous row of all rows.
        rider: words of the rider's name; empty: any.
        venue: words of the venue's name; empty: any.
        since: first day.
        until: last day.
    """
    return tuple(
        row
        for row in rows
        if has_words(row.job.job.rider, rider)
        and has_words(row.job.job.venue, venue)
        and (since is None or row.day >= since)
        and (until is None or row.day <= until)
    )


def filtered(rows: Iterable[StoryRow], text: str) -> tuple[StoryRow, ...]:
    """The rows that have every word typed in machine, rider, venue, date, session, use, file or the rider's words."""

    def about(row: StoryRow) -> str:
        of = row.job.job
        said = row.run.said if row.run is not None else ""
        complaints = row.run.complaints if row.run is not None else ()
        words = " ".join(f"{one.what} {one.where}".replace("_", " ") for one in complaints)
        return (
            f"{of.machine} {of.rider} {of.venue} {row.day.isoformat()} {row.session} {of.use} {row.file} {said} {words}"
        )

    return tuple(row for row in rows if has_words(about(row), text))


# --- plots --------------------------------------------------------------------------------------------------------


def sag_points(rows: Sequence[StoryRow], end: End, state: State = "rider") -> tuple[Point, ...]:
    """Sag of each occasion [mm]."""
    found = ((i, row.assessment.sag.end(end).state(state).sag_mm.value) for i, row in enumerate(rows) if row.at is None)
    return tuple(Point(i, value) for i, value in found if value is not None)


def used_points(rows: Sequence[StoryRow], end: End) -> tuple[Point, ...]:
    """Share of the travel used by each run [%]."""
    found = ((i, row.deepest(end)) for i, row in enumerate(rows) if row.at is not None)
    return tuple(Point(i, 100.0 * (of.share_used.value or 0.0)) for i, of in found if of is not None)


def lap_points(rows: Sequence[StoryRow]) -> tuple[Point, ...]:
    """Best lap of each run [s]."""
    found = ((i, row.best_lap_s) for i, row in enumerate(rows) if row.at is not None)
    return tuple(Point(i, lap) for i, lap in found if lap is not None)


def sag_target(rows: Sequence[StoryRow], end: End, state: State = "rider") -> tuple[float, float] | None:
    """Target of sag in the latest occasion that has one [mm]."""
    targets = [row.assessment.sag.end(end).state(state).target for row in rows]
    return next((target for target in reversed(targets) if target is not None), None)
