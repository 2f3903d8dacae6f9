"""Reading all jobs of chosen machines from a folder that may hold thousands of others."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from stanchion.base.errors import BadFile
from stanchion.base.progress import NEVER, NO_PROGRESS
from stanchion.base.record import record
from stanchion.job.model import Job
from stanchion.job.name_match import match_key
from stanchion.store.disk import advice, cause
from stanchion.store.library import Library
from stanchion.store.listing import JobRow


@record
class Unreadable:
    """A job file that cannot be read."""

    name: str
    problem: str
    certain: bool
    """Whether it is of a machine asked for; False: even its machine cannot be read, so it may be."""


@record
class MachineJobs:
    """The jobs of the chosen machines."""

    jobs: tuple[tuple[str, Job], ...]
    """File name and job."""
    unreadable: tuple[Unreadable, ...]
    of: int
    """How many files there are to read; more than were read if reading was stopped."""


def same_machine(rows: Iterable[JobRow], machine: str, name: str = "") -> list[JobRow]:
    """The rows of a machine, however it is spelt, and those of which the machine cannot be read.

    Args:
        rows: the list of the folder.
        machine: its name; a machine without one is only ever the same as itself.
        name: file name of the job the story starts from.
    """
    key = match_key(machine)
    return [row for row in rows if row.problem or row.name == name or (key and match_key(row.machine) == key)]


def jobs_of(
    library: Library,
    choose: Callable[[list[JobRow]], Iterable[JobRow]],
    *,
    instead: Mapping[str, Job] | None = None,
    progress: Callable[[str, int, int], None] = NO_PROGRESS,
    cancelled: Callable[[], bool] = NEVER,
) -> MachineJobs:
    """Read the jobs chosen from the heads of the files.

    Args:
        library: the jobs.
        choose: which rows of the list; of those with a problem the machine is not known.
        instead: open jobs by file name, used in place of their files, which may lack the last edits.
        progress: called with what is done, and to how many of how many files ("scanned", "read").
        cancelled: asked between files; once it is true, what was read so far is returned.

    Raises:
        BadFile: the folder cannot be listed.
    """
    try:
        rows = library.listing.apart().rows(
            judged=False, progress=lambda done, of: progress("scanned", done, of), cancelled=cancelled
        )
    except OSError as error:
        raise BadFile(
            f"The jobs folder cannot be read: {cause(error)}. {advice(error)} It is {library.places.jobs}"
        ) from error
    newer = instead or {}
    # A copy that a sync tool made is no occasion of its own.
    wanted = list(choose([row for row in rows if not row.copy_of or row.name in newer]))
    jobs: list[tuple[str, Job]] = []
    unreadable: list[Unreadable] = []
    for done, row in enumerate(wanted):
        if cancelled():
            break
        if row.name in newer:
            jobs.append((row.name, newer[row.name]))
        elif row.problem:
            unreadable.append(Unreadable(row.name, row.problem, certain=False))
        else:
            try:
                jobs.append((row.name, library.open(row.path).job))
            except BadFile as error:
                unreadable.append(Unreadable(row.name, str(error), certain=True))
        progress("read", done + 1, len(wanted))
    return MachineJobs(tuple(jobs), tuple(unreadable), len(wanted))
