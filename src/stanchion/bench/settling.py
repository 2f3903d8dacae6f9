"""Settling two states of the open job: a conflict with what another program wrote, and other copies to merge."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from stanchion.base.errors import BadFile, NotSaved
from stanchion.bench.current_job import CurrentJob
from stanchion.bench.merging import MergeSession
from stanchion.bench.workspace import Workspace
from stanchion.job.carry import identified
from stanchion.job.merge import likely_base, without_lost_runs
from stanchion.job.model import Job
from stanchion.store.atomic import fingerprint, read
from stanchion.store.disk import cause
from stanchion.store.drafts import Kept
from stanchion.store.library import Opened
from stanchion.store.names import is_plain
from stanchion.store.other_copies import OtherCopies

NEWER = "A later version of the program wrote one of the two: merge them with that version, so that nothing is lost."


@dataclass(slots=True)
class SideBySide:
    """The open job beside another state of it."""

    merging: MergeSession
    other: Opened
    """The other state, as it was read."""
    is_copy: bool
    """True: another file. False: what another program or person wrote into the file of the open job."""


# --- a conflict: the file is not as it was read -----------------------------------------------------------------------


def keep_mine(current: CurrentJob) -> None:
    """Write my state into the file, and keep theirs as an earlier state. Waits for the disk.

    Raises:
        NotSaved: it could not be written.
    """
    current.open_job.saver.keep_mine()


def take_theirs(current: CurrentJob) -> Job:
    """The state on disk, for the session to take; mine is kept as an earlier state. Waits for the disk.

    Raises:
        BadFile: it cannot be read.
        NotSaved: my state could not be kept.
    """
    return current.open_job.saver.take_theirs().job


def write_merged(current: CurrentJob, merged: Job, theirs: Opened) -> None:
    """Write what was merged from mine and theirs into the file. Waits for the disk.

    Raises:
        ChangedOnDisk: the file was changed once more.
        NotSaved: it could not be written.
    """
    current.open_job.saver.merge(merged, theirs, current.session.job)


def save_as_copy(current: CurrentJob) -> None:
    """Write a job into a new file beside the old one, which stays as it is, and go on with the new one.

    Waits for the disk. The screen's thread calls go_on_in_copy() once this has returned.

    Raises:
        NotSaved: it could not be written.
    """
    current.open_job.saver.save_as_copy(current.session.job)


def go_on_in_copy(workspace: Workspace, current: CurrentJob) -> None:
    """Go on editing in the copy, and keep unreadable text beside it."""
    current.session.read_only = current.open_job.file.read_only
    if workspace.current is current:
        workspace.keep_drafts()
    else:
        current.open_job.keep(Kept(current.session.unread))
    workspace.remember_name()


# --- other copies -----------------------------------------------------------------------------------------------------


def copies_of_open(workspace: Workspace) -> OtherCopies | None:
    """The finder of other copies of the open job; None with no job open."""
    return (
        OtherCopies(workspace.places.jobs, workspace.open_name, workspace.library.disk)
        if workspace.open_name and not workspace.opened_in_place
        else None
    )


def beside_copy(workspace: Workspace, name: str) -> SideBySide:
    """The open job beside another copy of it.

    Raises:
        BadFile: the copy cannot be read, or must not be written here.
    """
    if not is_plain(name):
        raise BadFile(f"'{name}' is not the name of a job file")
    return _beside(workspace, workspace.library.open(workspace.places.jobs / name), "the copy", is_copy=True)


def beside_disk(workspace: Workspace) -> SideBySide:
    """The open job beside what another program or person wrote into its file.

    Raises:
        BadFile: the file cannot be read, or must not be written here.
    """
    file = workspace.open_file
    if file is None:
        raise BadFile("no job is open")
    return _beside(workspace, workspace.library.open(file.path), "theirs", is_copy=False)


def _beside(workspace: Workspace, other: Opened, name: str, *, is_copy: bool) -> SideBySide:
    current = workspace.current
    if current is None:
        raise BadFile("no job is open")
    session, file = current.session, current.open_job.file
    if other.newer or file.opened.newer:
        raise BadFile(NEWER)
    base = common = file.last_common(other)
    if base is None:
        base = likely_base(file.states(), identified(session.job, file.opened.job.job.id), other.job)
    if base is not None:
        base = without_lost_runs(base, session.job, other.job)
    merging = MergeSession(
        session.job, other.job, base, ("mine", name), session.units, base_is_common=common is not None
    )
    return SideBySide(merging, other, is_copy)


def keep_before(workspace: Workspace, copy: Opened) -> None:
    """Keep the present state of the open job and the copy among the earlier ones, before the copy is merged into it.

    Raises:
        NotSaved: it could not be kept, or is not saved.
    """
    current = workspace.current
    if current is None:
        raise NotSaved("No job is open.")
    if not current.open_job.flush():
        raise NotSaved("Nothing was merged: the open job is not saved. See why on its screen, then merge again.")
    current.open_job.file.keep_copy(copy)
    current.open_job.file.keep(current.session.job, "before-merge")


def put_away(workspace: Workspace, copy: Opened) -> Path:
    """Move the copy to the bin after it was merged into the open job.

    Raises:
        NotSaved: the merged job is not on disk yet, or the copy was changed since it was read; it stays.
    """
    current = workspace.current
    if current is None or not current.open_job.flush():
        raise NotSaved(f"'{copy.path.name}' stays where it is: the merged job is not saved yet.")
    session = current.session
    try:
        on_disk = workspace.library.open(current.open_job.file.path).job
        unchanged = fingerprint(read(copy.path)) == copy.sha
    except (BadFile, OSError) as error:
        reason = cause(error) if isinstance(error, OSError) else str(error)
        raise NotSaved(f"'{copy.path.name}' stays where it is: {reason}.") from error
    if identified(on_disk, session.job.job.id) != session.job:
        raise NotSaved(f"'{copy.path.name}' stays where it is: the file of the merged job is not as it was written.")
    if not unchanged:
        raise NotSaved(f"'{copy.path.name}' was changed meanwhile and stays where it is: merge once more.")
    return workspace.library.delete(copy.path).path
