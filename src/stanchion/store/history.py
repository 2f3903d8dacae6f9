"""Earlier states of jobs, kept apart from the jobs themselves and few enough to stay small."""

from __future__ import annotations

import contextlib
import datetime as dt
import os
import re
from collections.abc import Callable, Sequence
from pathlib import Path

from stanchion.base.errors import BadFile
from stanchion.base.progress import NEVER
from stanchion.base.record import record
from stanchion.job.codec import Loaded, loads
from stanchion.job.model import Job
from stanchion.store.atomic import fingerprint, make_folder, put, read
from stanchion.store.disk import DISK, Disk, cause
from stanchion.store.names import SUFFIX, slug

LAST = 10
"""The newest states of a job, kept whatever they are."""
SESSIONS = 10
"""Starts of sessions kept beyond those."""
HOURS = 24
"""Hours of which the newest state is kept."""
UPGRADES = 3
"""States from before a change of format."""
BYTES = 4_000_000
"""Bytes of all states of one job; the oldest are deleted first, the newest never. A usual job has 6,000."""

ALL_BYTES = 500_000_000
"""Bytes of the states of all jobs; those of the jobs touched longest ago are deleted first, the newest never."""

SESSION_START = "session-start"
BEFORE_UPGRADE = "before-upgrade"

_NAME = re.compile(r"(\d{8}T\d{6}\d{6})-([a-z-]{1,20})-([0-9a-f]{12})\.toml")


@record
class KeptState:
    """One earlier state of a job."""

    path: Path
    at: dt.datetime
    """When it was kept, in UTC."""
    reason: str
    """Why: a few words with hyphens, such as session-start."""
    size: int = 0
    """Bytes of its file."""

    @property
    def mark(self) -> str:
        """The first digits of the fingerprint of its content."""
        parts = _NAME.fullmatch(self.path.name)
        return parts[3] if parts else ""


@record
class Earlier:
    """An earlier state and its content."""

    state: KeptState
    job: Job | None
    """The job in it; None if it cannot be restored."""
    problem: str = ""
    """Why it cannot be restored, in plain words."""


class History:
    """The earlier states of the jobs of one user.

    Args:
        folder: where they are kept; made when the first is.
        disk: the system calls.
    """

    def __init__(self, folder: Path, disk: Disk = DISK) -> None:
        self.folder = folder
        self.disk = disk

    def keep(self, job_file: Path, data: bytes, reason: str = SESSION_START) -> Path | None:
        """Keep the bytes of a job; nothing is kept twice in a row.

        Returns:
            Where they are kept; None if the newest state is the same already.

        Raises:
            OSError: they could not be kept.
        """
        folder = self.folder_of(job_file)
        sha = fingerprint(data)[:12]
        states = self.states(job_file)
        if states and states[0].path.name.endswith(f"-{sha}{SUFFIX}"):
            return None
        make_folder(folder, self.disk)
        at = dt.datetime.fromtimestamp(self.disk.now(), dt.UTC)
        if states:
            at = max(at, states[0].at + dt.timedelta(microseconds=1))  # a clock set back must not reorder them
        path = folder / f"{at:%Y%m%dT%H%M%S%f}-{reason}-{sha}{SUFFIX}"
        put(path, data, self.disk)
        for old in surplus((KeptState(path, at, reason, len(data)), *states)):
            with contextlib.suppress(OSError):
                self.disk.unlink(old.path)
        return path

    def states(self, job_file: Path) -> tuple[KeptState, ...]:
        """The earlier states of a job, newest first."""
        return self._states_in(self.folder_of(job_file))

    def trim(self, room: int, given_up: Callable[[], bool] = NEVER) -> int:
        """Take states of old jobs away until those of all jobs together have at most so many bytes.

        The newest state of each job stays, and what was kept before a change of format. Looks into the folder of every
        job: not for the thread that draws.

        Args:
            room: bytes.
            given_up: asked before each folder is looked into.

        Returns:
            How many were taken away.
        """
        jobs: list[tuple[dt.datetime, str]] = []
        try:
            folders = self.disk.listed(self.folder)
        except OSError:
            return 0
        for name in folders:
            if given_up():
                return 0
            states = self._states_in(self.folder / name)
            room -= sum(state.size for state in states)
            if len(states) > 1:
                jobs.append((states[0].at, name))
        gone = 0
        for _, name in sorted(jobs):
            for state in reversed(self._states_in(self.folder / name)[1:] if room < 0 else ()):
                if room < 0 and state.reason != BEFORE_UPGRADE:
                    with contextlib.suppress(OSError):
                        self.disk.unlink(state.path)
                        room += state.size
                        gone += 1
        return gone

    def _states_in(self, folder: Path) -> tuple[KeptState, ...]:
        try:
            found = self.disk.scan(folder)
        except OSError:
            return ()
        states = []
        for entry in found:
            parts = _NAME.fullmatch(entry.name)
            if parts is None or not entry.file:
                continue
            with contextlib.suppress(ValueError):
                at = dt.datetime.strptime(parts[1], "%Y%m%dT%H%M%S%f").replace(tzinfo=dt.UTC)
                states.append(KeptState(folder / entry.name, at, parts[2], entry.size))
        return tuple(sorted(states, key=lambda state: state.at, reverse=True))

    def data(self, state: KeptState) -> bytes:
        """The file of a state as it was kept.

        Raises:
            BadFile: it is no longer what was kept.
            OSError: it cannot be read.
        """
        data = read(state.path, self.disk)
        if fingerprint(data)[:12] not in state.path.name:
            raise BadFile("this earlier state is damaged: its file is no longer what was kept")
        return data

    def load(self, state: KeptState) -> Loaded:
        """The job of a state.

        Raises:
            BadFile: it is damaged, or was kept of a file that was no whole job.
            OSError: it cannot be read.
        """
        return loads(self.data(state))

    def looked_into(self, job_file: Path) -> tuple[Earlier, ...]:
        """Every earlier state of a job with its content, newest first."""
        found = []
        for state in self.states(job_file):
            try:
                loaded = self.load(state)
            except OSError as error:
                found.append(Earlier(state, None, f"it cannot be read: {cause(error)}"))
            except BadFile as error:
                found.append(Earlier(state, None, str(error)))
            else:
                later = "a later version of the program wrote it" if loaded.read_only else ""
                found.append(Earlier(state, None if later else loaded.job, later))
        return tuple(found)

    def newest_good(self, job_file: Path) -> tuple[KeptState, Loaded] | None:
        """The newest earlier state that is whole, to offer when the job itself is not.

        A state of a later version, or of a file that was not as the program left it, is not offered.
        """
        for state in self.states(job_file):
            with contextlib.suppress(OSError, BadFile):
                loaded = self.load(state)
                if not loaded.read_only and not loaded.edited_by_hand:
                    return state, loaded
        return None

    def folder_of(self, job_file: Path) -> Path:
        """The folder of a job's earlier states, however its file name is spelt."""
        whole = os.path.realpath(job_file)
        mark = fingerprint(whole.encode("utf-8", "surrogateescape"))[:12]
        return self.folder / f"{slug(Path(whole).stem) or 'job'}-{mark}"


def surplus(states: Sequence[KeptState]) -> list[KeptState]:
    """The states that are not to be kept any longer.

    What stays: the last ten; the starts of the last sessions; the newest of each hour in which something was kept,
    for so many hours; what was there before a change of format; and of all these, so many bytes.

    Args:
        states: the states of one job, newest first.
    """
    staying = set(states[:LAST])
    staying.update([state for state in states if state.reason == SESSION_START][:SESSIONS])
    upgrades = [state for state in states if state.reason == BEFORE_UPGRADE][:UPGRADES]
    by_hour: dict[dt.datetime, KeptState] = {}
    for state in states:
        by_hour.setdefault(state.at.replace(minute=0, second=0, microsecond=0), state)
    staying.update(list(by_hour.values())[:HOURS])
    room = BYTES
    for state in [*states[:1], *upgrades, *(one for one in states[1:] if one in staying and one not in upgrades)]:
        room -= state.size
        if room < 0:
            staying.discard(state)
        else:
            staying.add(state)
    return [state for state in states[1:] if state not in staying]
