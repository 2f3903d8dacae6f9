"""Earlier states of jobs, kept apart from the jobs themselves and few enough to stay small."""

from __future__ import annotations

import contextlib
import datetime as dt
import re
from dataclasses import dataclass
from pathlib import Path

from stanchion.errors import BadFile
from stanchion.job.codec import Loaded, loads
from stanchion.store.atomic import fingerprint, make_folder, put, read
from stanchion.store.disk import DISK, Disk
from stanchion.store.names import SUFFIX, slug

MOST = 10
"""States kept of one job; the oldest goes first."""

_NAME = re.compile(r"(\d{8}T\d{6}\d{6})-([a-z-]{1,20})-([0-9a-f]{12})\.toml")


@dataclass(frozen=True, slots=True)
class State:
    """One earlier state of a job."""

    path: Path
    at: dt.datetime
    """When it was kept, in UTC."""
    why: str
    """Why: a few words with hyphens, such as session-start."""


class History:
    """The earlier states of the jobs of one user.

    Args:
        folder: where they are kept; made when the first is.
        disk: the system calls.
    """

    def __init__(self, folder: Path, disk: Disk = DISK) -> None:
        self.folder = folder
        self.disk = disk

    def keep(self, job_file: Path, data: bytes, why: str = "session-start") -> Path | None:
        """Keep the bytes of a job; nothing is kept twice in a row.

        Returns:
            Where they are kept; None if the newest state is the same already.

        Raises:
            OSError: they could not be kept.
        """
        folder = self._folder_of(job_file)
        sha = fingerprint(data)[:12]
        states = self.states(job_file)
        if states and states[0].path.name.endswith(f"-{sha}{SUFFIX}"):
            return None
        make_folder(folder, self.disk)
        at = dt.datetime.fromtimestamp(self.disk.now(), dt.UTC)
        if states:
            at = max(at, states[0].at + dt.timedelta(microseconds=1))  # a clock set back must not reorder them
        path = folder / f"{at:%Y%m%dT%H%M%S%f}-{why}-{sha}{SUFFIX}"
        put(path, data, self.disk)
        for old in states[MOST - 1 :]:
            with contextlib.suppress(OSError):
                self.disk.unlink(old.path)
        return path

    def states(self, job_file: Path) -> tuple[State, ...]:
        """The earlier states of a job, newest first."""
        folder = self._folder_of(job_file)
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
                states.append(State(folder / entry.name, at, parts[2]))
        return tuple(sorted(states, key=lambda state: state.at, reverse=True))

    def newest_good(self, job_file: Path) -> tuple[State, Loaded] | None:
        """The newest earlier state that is whole, to offer when the job itself is not."""
        for state in self.states(job_file):
            with contextlib.suppress(OSError, BadFile):
                data = read(state.path, self.disk)
                if fingerprint(data)[:12] in state.path.name:
                    return state, loads(data)
        return None

    def _folder_of(self, job_file: Path) -> Path:
        whole = str(job_file.absolute())
        return (
            self.folder / f"{slug(job_file.stem) or 'job'}-{fingerprint(whole.encode('utf-8', 'surrogateescape'))[:12]}"
        )
