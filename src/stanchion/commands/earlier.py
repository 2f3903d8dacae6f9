"""What `stanchion earlier` does: earlier states of a job listed, and one of them written into a file of its own."""

from __future__ import annotations

from pathlib import Path

from stanchion.base.errors import BadFile, NotSaved
from stanchion.base.text import clean
from stanchion.job.model import Job
from stanchion.store.atomic import write
from stanchion.store.disk import advice, cause
from stanchion.store.history import Earlier, History
from stanchion.store.library import read_job
from stanchion.store.paths import places
from stanchion.store.typed_names import existing_file, in_jobs_folder
from stanchion.wording.kept_states import reason_words, what_it_changes


def list_earlier(path: Path, jobs: str | None = None) -> list[str]:
    """The earlier states of a job, newest first, each with what bringing it back would change.

    The job itself may be damaged, or gone.

    Args:
        path: its file; a bare name means the jobs folder.
        jobs: the folder given on the command line.

    Raises:
        BadFile: there is no such job, and no earlier state of one.
    """
    typed, path = path, in_jobs_folder(path, jobs)
    found = _history(jobs).looked_into(path)
    try:
        now: Job | None = read_job(path).job
        lines = []
    except BadFile as error:
        now = None
        lines = [clean(f"{path.name} itself: {error}", 1000)]
    if not found:
        existing_file(typed, jobs)
        return [*lines, f"No earlier state of {clean(path.name)} is kept."]
    for number, one in enumerate(found, start=1):
        kept = f"{one.state.at.astimezone():%Y-%m-%d %H:%M:%S}"
        lines.append(f"{number}\t{kept}\t{reason_words(one.state.reason)}\t{_differs(one, now)}")
    return lines


def bring_back(path: Path, number: int, out: Path, jobs: str | None = None) -> None:
    """Write an earlier state, as it was kept, into a file that does not exist yet.

    Args:
        path: the job's file; a bare name means the jobs folder.
        number: which state, as list_earlier counts them.
        out: the new file.
        jobs: the folder given on the command line.

    Raises:
        BadFile: there is no such state, or it is damaged.
        NotSaved: the file could not be written, or is there already.
    """
    history = _history(jobs)
    states = history.states(in_jobs_folder(path, jobs))
    if not states:
        existing_file(path, jobs)
    if not 1 <= number <= len(states):
        raise BadFile(f"there is no earlier state {number} of '{path.name}': {len(states)} are kept")
    try:
        data = history.data(states[number - 1])
    except OSError as error:
        raise BadFile(f"the earlier state cannot be read: {cause(error)}. {advice(error)}") from error
    if out.is_symlink() or out.exists():
        raise NotSaved(f"'{out}' already exists and was left alone. Choose another name.")
    write(out, data, None)


def newest_good_words(path: Path, jobs: str | None = None) -> str:
    """A sentence that offers the newest whole state of a job that cannot be read; empty where none is kept."""
    found = _history(jobs).newest_good(path)
    if found is None:
        return ""
    return (
        f"An earlier state of {found[0].at.astimezone():%Y-%m-%d %H:%M:%S} is whole: "
        f"'stanchion earlier {path.name}' lists it and can bring it back."
    )


def _history(jobs: str | None) -> History:
    return History(places(jobs).history)


def _differs(one: Earlier, now: Job | None) -> str:
    if one.job is None:
        return clean(f"cannot be opened: {one.problem}", 300)
    if now is None:
        return "whole"
    changes = what_it_changes(now, one.job)
    return clean("; ".join(changes), 2000) if changes else "as it is now"
