"""Reading the story of a machine, or of several, from the jobs folder."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from pathlib import Path

from stanchion.base.errors import BadFile
from stanchion.base.progress import NEVER, NO_PROGRESS, Stop
from stanchion.base.record import record
from stanchion.bench.judged_library import library_of, read_profiles
from stanchion.bench.named_jobs import read_named
from stanchion.job.model import Job
from stanchion.job.name_match import has_words, match_key
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.planning.machine_story import StoryRow, chosen_rows, row_of, story_rows
from stanchion.store.faults import FAULT_WORDS, FaultLog
from stanchion.store.library import Library
from stanchion.store.listing import JobRow
from stanchion.store.machines import Unreadable, jobs_of, same_machine
from stanchion.store.paths import places

DAYS_APART = 60
"""How many days a run may be from its job, for the machines of a period to be found by the days of their jobs."""


@record
class Story:
    """One machine through time."""

    machine: str
    """Its name as it was asked for."""
    rows: tuple[StoryRow, ...]
    unreadable: tuple[Unreadable, ...]
    """File names of jobs that cannot be read."""
    read: int
    of: int
    """How many files were read, and how many there are; fewer if reading was stopped."""


def story_of(
    library: Library,
    profiles: Profiles,
    machine: str,
    name: str,
    *,
    instead: Mapping[str, Job],
    progress: Callable[[str, int, int], None],
    stop: Stop,
) -> Story:
    """The story of one machine; only its own files are read whole.

    Args:
        library: the jobs.
        profiles: bands and targets.
        machine: its name, however it is spelt.
        name: file name of the job the story starts from.
        instead: the open job by file name, as it may not be written yet.
        progress: called with what is done ("scanned", "read", "worked out"), and to how many of how many.
        stop: a request to end early.

    Raises:
        BadFile: the jobs folder cannot be listed.
    """
    found = jobs_of(
        library,
        lambda rows: same_machine(rows, machine, name),
        instead=instead,
        progress=progress,
        cancelled=stop.requested,
    )
    stop.asked = False  # rows are made of what was read so far
    rows = story_rows(found.jobs, profiles, lambda done, of: progress("worked out", done, of), cancelled=stop.requested)
    read = sum(row.at is None for row in rows)
    return Story(machine, rows, found.unreadable, read + len(found.unreadable), found.of)


def stories(
    jobs: str | None,
    *,
    machine: str = "",
    rider: str = "",
    venue: str = "",
    since: dt.date | None = None,
    until: dt.date | None = None,
    progress: Callable[[str, int, int], None] = NO_PROGRESS,
    cancelled: Callable[[], bool] = NEVER,
) -> tuple[list[StoryRow], list[str]]:
    """The rows of every machine that fits, one machine after the other, and a line for each file that cannot be read.

    Args:
        jobs: the jobs folder.
        machine: words of the machine's name; empty: every machine.
        rider: words of the rider's name.
        venue: words of the venue's name.
        since: first day.
        until: last day.
        progress: called with what is done, and to how many of how many files.
        cancelled: asked between files; once it is true, what was done so far is returned.

    Raises:
        BadFile: the jobs folder cannot be listed.
    """

    def fits(row: JobRow) -> bool:
        named = has_words(row.machine, machine) and has_words(row.rider, rider) and has_words(row.venue, venue)
        return (
            named
            and (since is None or row.date.toordinal() >= since.toordinal() - DAYS_APART)
            and (until is None or row.date.toordinal() <= until.toordinal() + DAYS_APART)
        )

    def choose(rows: list[JobRow]) -> list[JobRow]:
        whose = {_whose(row.machine, row.name) for row in rows if not row.problem and fits(row)}
        return [row for row in rows if row.problem or _whose(row.machine, row.name) in whose]

    profiles, _, _ = read_profiles(places(jobs))
    found = jobs_of(library_of(jobs), choose, progress=progress, cancelled=cancelled)
    machines: dict[str, list[tuple[str, Job]]] = {}
    for name, job in found.jobs:
        machines.setdefault(_whose(job.job.machine, name), []).append((name, job))
    rows: list[StoryRow] = []
    before = 0

    def worked_out(done: int, of: int) -> None:
        del of  # of this machine; those before it count too
        progress("worked out", before + done, len(found.jobs))

    for key in sorted(machines):
        of_machine = story_rows(machines[key], profiles, worked_out, cancelled=cancelled)
        before += len(machines[key])
        rows += chosen_rows(of_machine, rider=rider, venue=venue, since=since, until=until)
    problems = [f"{one.name}: {one.problem}" for one in found.unreadable]
    faulty = dict.fromkeys(row.file for row in rows if row.faults)
    log = FaultLog(places(jobs).faults)
    for fault in (fault for row in rows for fault in row.faults):
        log.note(fault.part, fault.error)
    return rows, [*problems, *(f"some figures of {name}: {FAULT_WORDS}" for name in faulty)]


def _whose(machine: str, name: str) -> str:
    """A key that all jobs of one machine share; a machine without a name shares it with none."""
    return match_key(machine) or f"\uffff{name}"


def one_of(text: str, jobs: str | None) -> StoryRow:
    """A job, or a run of it, as it is written on the command line: JOB.toml, or JOB.toml:2 for its second run.

    Args:
        text: file, or bare name in the jobs folder; then perhaps a colon and the number of a run.
        jobs: the jobs folder.

    Raises:
        BadFile: it cannot be read, or has no such run.
    """
    name, colon, number = text.rpartition(":")
    whole = not colon or not (number.isascii() and number.isdigit()) or Path(text).exists()
    path, job = read_named(Path(text if whole else name), jobs)
    at = None if whole else int(number[:6]) - 1
    if at is not None and not 0 <= at < len(job.runs):
        there = f"its runs are 1 to {len(job.runs)}" if job.runs else "it has no runs"
        raise BadFile(f"'{path.name}' has no run {number}: {there}.")
    return row_of(path.name, job, at, read_profiles(places(jobs))[0])
