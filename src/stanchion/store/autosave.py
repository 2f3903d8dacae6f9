"""Autosave: a thread that writes the newest state of the open job and reports the saving state.

The caller submits each edit and goes on at once. A state submitted during a write replaces the pending one: only
the newest matters. While the file cannot be written, the job is kept in the state folder and the write is repeated. If
another program has changed the file, nothing is written until the user decides.
"""

from __future__ import annotations

import contextlib
import threading
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Literal, Protocol

from stanchion.base.errors import ChangedOnDisk, NotSaved
from stanchion.base.record import record
from stanchion.job.model import Job
from stanchion.store.library import Opened

FIRST_S = 0.25
"""From the first edit after a pause to its write."""
STEADY_S = 0.6
"""Between two writes while edits go on."""
SHARED_S = 1.0, 2.0
"""The same for a folder that a sync tool watches: it makes copies of a file that changes during the transfer."""
RETRIES_S = (0.5, 1.0, 2.0, 4.0)
"""Waits after failed writes; the last one repeats."""

READ_ONLY = "The file of this job must not be written. Save as a copy to change it."
NEVER = float("inf")

Status = Literal["saved", "pending", "failed", "conflict", "read_only"]


@record
class SaveState:
    """The saving state of a job."""

    status: Status = "saved"
    """saved: everything submitted is on disk. pending: a write is due or under way. failed: the last write failed
    and is tried again. conflict: another program changed the file, and the user must decide. read_only: the file must
    not be written; a copy can be saved."""
    at: float | None = None
    """When the file was last written, in seconds since 1970; None: not yet in this session."""
    cause: str = ""
    """Why nothing is written, in plain words with what to do; for failed, conflict and read_only."""
    caution: str = ""
    """A caution although the job is written, such as that it might not survive a power cut."""
    spilled_to: Path | None = None
    """Where the unsaved edits are kept; None: in memory only."""


class SaveTarget(Protocol):
    """Where the job is written; see JobFile."""

    @property
    def read_only(self) -> bool:
        """Whether the file must not be written."""

    def save(self, job: Job) -> str:
        """Write the job, if the file is as it was last seen."""

    def overwrite(self, job: Job) -> str:
        """Write the job without a check of the file."""

    def reread(self, mine: Job | None) -> Opened:
        """Read the file again."""

    def merge(self, job: Job, theirs: Opened, mine: Job) -> str:
        """Write the job merged from theirs and mine over theirs, if the file is still theirs."""

    def copy(self, job: Job, *, another_job: bool) -> Opened:
        """Write the job into a new file and go on with that."""

    def spill(self, job: Job) -> Path | None:
        """Keep the job in the state folder until its file can be written."""


class Autosave:
    """Writes one open job.

    submit() may be called from the thread of the screen. keep_mine(), take_theirs() and save_as_copy() wait for the
    disk: call them from another one.

    Args:
        target: where it is written.
        on_state: called with every change of the state, on the saving thread or on that of the caller. It must return
            soon, and must not wait for a thread that may be waiting in flush() or close().
        shared: the file lies in a folder that a sync tool watches: write less often.
        on_quiet: called on the saving thread once all is written, after rest() and when saving ends.
    """

    def __init__(
        self,
        target: SaveTarget,
        on_state: Callable[[SaveState], None] | None = None,
        *,
        shared: bool = False,
        on_quiet: Callable[[], None] | None = None,
    ) -> None:
        self._on_quiet, self._resting = on_quiet, False  # resting: it is to be called once all is written
        self._first_s, self._steady_s = SHARED_S if shared else (FIRST_S, STEADY_S)
        self._target = target
        self._on_state = on_state
        self._wake = threading.Condition()
        self._io = threading.Lock()  # held while the target is at work
        self._pending: Job | None = None  # newest state not yet written
        self._handed = 0  # counts what was handed over
        self._done = 0  # ... and what of it is on disk
        self._tries = 0  # counts attempts that ended
        self._failures = 0
        self._due = NEVER
        self._last_start = float("-inf")
        self._closing = False
        self._on_failure: Callable[[SaveState], None] | None = None  # set once the job is closing
        self._state = SaveState("read_only", cause=READ_ONLY) if target.read_only else SaveState()
        self._thread = threading.Thread(target=self._run, name="autosave", daemon=True)
        self._thread.start()

    @property
    def state(self) -> SaveState:
        """The saving state now."""
        return self._state

    @property
    def unsaved(self) -> Job | None:
        """The newest state that is not in its file; None if all is."""
        with self._wake:
            return self._pending

    def submit(self, job: Job, *, at_once: bool = False) -> None:
        """Submit the job after an edit, to be written. Never waits for the disk.

        Args:
            job: its newest state.
            at_once: write at once, without waiting for more edits.
        """
        with self._wake:
            wanted = 0.0 if at_once else max(time.monotonic() + self._first_s, self._last_start + self._steady_s)
            # an earlier time that is already set stands: a steady stream of edits must not put the write off
            self._due = min(self._due, wanted)
            self._pending = job
            self._handed += 1
            changed = self._set(replace(self._state, status="pending")) if self._state.status == "saved" else None
            self._wake.notify_all()
        self._report(changed)

    def flush(self, timeout: float = 5.0) -> bool:
        """Write what is pending, and wait for it.

        Returns:
            Whether everything submitted before is in its file.
        """
        deadline = time.monotonic() + timeout
        with self._wake:
            wanted, tried = self._handed, self._tries
            # an attempt under way may be of an older state: the one after it is ours
            enough = tried + (2 if self._io.locked() else 1)
            while self._done < wanted and self._tries < enough and self._thread.is_alive():
                left = deadline - time.monotonic()
                if left <= 0:
                    break
                self._due = 0.0
                self._wake.notify_all()
                self._wake.wait(left)
            return self._done >= wanted

    def close(self, timeout: float = 5.0) -> bool:
        """Write what is pending and stop. What cannot be written in time is kept in the state folder.

        Returns:
            Whether everything submitted is in its file.
        """
        saved = self.flush(timeout)
        with self._wake:
            self._closing = self._resting = True
            self._wake.notify_all()
            job = self._pending
        self._thread.join(0.1 if not saved else timeout)
        if not saved and job is not None:
            where = self._spilled(job)
            self._report(self._set(replace(self._state, spilled_to=where or self._state.spilled_to)))
        return saved

    def rest(self) -> None:
        """Call on_quiet as soon as all is written. Never waits for the disk."""
        with self._wake:
            self._resting = True
            self._wake.notify_all()

    def finish(self, on_failure: Callable[[SaveState], None]) -> None:
        """Write what is pending at once, then end. Never waits for the disk.

        Args:
            on_failure: called once, on the saving thread, if it cannot be written. It is kept in the state folder then;
                after a failure of the disk the write is repeated all the same.
        """
        with self._wake:
            self._resting = True
            self._on_failure = on_failure
            self._due = min(self._due, 0.0)
            self._wake.notify_all()

    @property
    def ended(self) -> bool:
        """Whether nothing more will be written."""
        return not self._thread.is_alive()

    def keep_mine(self) -> None:
        """After a conflict: write my state over theirs, which is kept as an earlier state.

        Raises:
            NotSaved: it could not be written; the conflict remains.
        """
        with self._io:
            job, count = self._newest()
            if job is None:
                return
            self._written(count, self._target.overwrite(job))

    def take_theirs(self) -> Opened:
        """After a conflict: take the state in the file; mine is kept as an earlier state.

        Raises:
            BadFile: the file cannot be read as a job; the conflict remains.
            NotSaved: my state could not be kept; the conflict remains.
        """
        with self._io:
            kept, count = self._newest()
            opened = self._target.reread(kept)
            while (newer := self._newest())[1] != count:  # edited in that very moment
                kept, count = newer
                opened = self._target.reread(kept)
            self._written(count, opened.note, at=self._state.at)
            return opened

    def merge(self, job: Job, theirs: Opened, mine: Job) -> None:
        """After a conflict: write what a person merged from both over theirs; both are kept as earlier states.

        Args:
            job: the merged job.
            theirs: the file as it was when they merged it.
            mine: my state at that time.

        Raises:
            ChangedOnDisk: the file was changed once more; the conflict remains.
            NotSaved: it could not be written; the conflict remains.
        """
        with self._io:
            _, count = self._newest()
            self._written(count, self._target.merge(job, theirs, mine))

    def save_as_copy(self, job: Job | None = None) -> Opened:
        """Write the pending state (or the job given) into a new file beside the old one, and go on with the new one.

        Raises:
            NotSaved: it could not be written; nothing has changed.
        """
        with self._io:
            pending, count = self._newest()
            chosen = pending or job
            if chosen is None:
                raise NotSaved("There is nothing to save as a copy yet: change something first.")
            # what could not go into its file is the same job still; a copy made without need is a job of its own
            opened = self._target.copy(chosen, another_job=self._state.status != "conflict")
            self._written(count, opened.note)
            return opened

    # --- the saving thread ---------------------------------------------------------------------------------------

    @property
    def _blocked(self) -> bool:
        """Whether the user must decide before anything is written."""
        return self._state.status in ("conflict", "read_only")

    def _run(self) -> None:
        spilled = 0  # count of the state that was last kept in the state folder
        while self._wait(spilled):
            with self._io:
                job, count = self._newest()
                if job is not None:
                    self._attempt(job, count)
                    if self._state.status in ("failed", "conflict", "read_only"):
                        spilled = count
                self._rest()
            self._report_failure()
        with self._io:
            self._rest()
        self._report_failure()

    def _rest(self) -> None:
        """Call on_quiet if that is wanted, and nothing is left to write."""
        with self._wake:
            wanted = self._resting and self._pending is None
            if wanted:
                self._resting = False
        if wanted and self._on_quiet is not None and self._state.status == "saved":
            with contextlib.suppress(Exception):  # see _report
                self._on_quiet()

    def _wait(self, spilled: int) -> bool:
        """Wait until there is something to write; False if nothing more will come."""
        with self._wake:
            while not self._closing:
                idle = self._pending is None or (self._blocked and spilled == self._handed)
                left = NEVER if idle else self._due - time.monotonic()
                if left <= 0 or (self._resting and self._pending is None):
                    return True
                if idle and self._blocked:
                    self._tries += 1  # nothing more will come of waiting: let flush() go
                    self._wake.notify_all()
                if idle and self._on_failure is not None:
                    break
                self._wake.wait(None if left == NEVER else left)
            return False

    def _report_failure(self) -> None:
        """Report once that a closing job could not be written: its state is shown nowhere else."""
        with self._wake:
            state, report = self._state, self._on_failure
            if report is None or self._pending is None or state.status not in ("failed", "conflict", "read_only"):
                return
            self._on_failure = _reported
        with contextlib.suppress(Exception):  # see _report
            report(state)

    def _attempt(self, job: Job, count: int) -> None:
        with self._wake:
            self._last_start = time.monotonic()
        if self._blocked:
            return self._not_written(self._state.status, self._state.cause, job)
        try:
            caution = self._target.save(job)
        except ChangedOnDisk as conflict:
            return self._not_written("conflict", str(conflict), job)
        except NotSaved as failure:
            return self._not_written("failed", str(failure), job)
        except Exception as bug:  # noqa: BLE001 - whatever it is, the edits must not be lost with this thread
            return self._not_written(
                "failed", f"The job is not saved: a fault in the program ({type(bug).__name__}).", job
            )
        return self._written(count, caution)

    def _not_written(self, status: Status, cause: str, job: Job) -> None:
        where = self._spilled(job)
        with self._wake:
            wait = RETRIES_S[min(self._failures, len(RETRIES_S) - 1)]
            self._failures += 1
            # after a failure the same is tried again; where the user must decide, only a later edit gives work
            self._due = time.monotonic() + wait if status == "failed" else NEVER
            self._tries += 1
            changed = self._set(replace(self._state, status=status, cause=cause, spilled_to=where))
            self._wake.notify_all()
        self._report(changed)

    def _spilled(self, job: Job) -> Path | None:
        try:
            return self._target.spill(job)
        except Exception:  # noqa: BLE001 - see _attempt
            return None

    def _written(self, count: int, caution: str, at: float | None = None) -> None:
        with self._wake:
            self._failures = 0
            self._tries += 1
            self._done = max(self._done, count)
            newer = self._handed > count
            status: Status = "pending" if newer else "saved"
            self._due = self._last_start + self._steady_s if newer else NEVER
            if not newer:
                self._pending = None
            state = SaveState(status, at or time.time(), caution=caution)
            if self._target.read_only:
                state = SaveState("read_only", at, READ_ONLY)
            changed = self._set(state)
            self._wake.notify_all()
        self._report(changed)

    def _newest(self) -> tuple[Job | None, int]:
        with self._wake:
            return self._pending, self._handed

    def _set(self, state: SaveState) -> SaveState | None:
        """Set the saving state; return it if it has changed."""
        if state == self._state:
            return None
        self._state = state
        return state

    def _report(self, state: SaveState | None) -> None:
        if state is not None and self._on_state is not None:
            with contextlib.suppress(Exception):  # a listener that fails must not stop the saving
                self._on_state(state)


def _reported(state: SaveState) -> None:
    """Ignore a failure that was reported before."""
