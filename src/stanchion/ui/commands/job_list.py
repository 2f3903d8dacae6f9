"""Reading the list of jobs on a worker thread: it can be stopped, and pauses while the user types."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING

from textual.message import Message
from textual.worker import get_current_worker

from stanchion.base.errors import StanchionError
from stanchion.base.progress import Stop, Stoppable, Throttle
from stanchion.ui.core import CoreApp
from stanchion.ui.keys import shown

if TYPE_CHECKING:
    from stanchion.store.listing import JobRow

PAUSE_S = 0.3
"""How long reading pauses after a key."""


class JobsListed(Message):
    """The jobs folder has been read, or could not be."""

    def __init__(self, rows: Sequence[JobRow], problem: str = "", words: str = "") -> None:
        self.rows = rows
        self.problem = problem
        self.words = words
        """How far reading went, if it was stopped."""
        super().__init__()


class ListingProgressed(Message):
    """Reading of the jobs folder takes long enough to say how far it is."""

    def __init__(self, words: str) -> None:
        self.words = words
        super().__init__()


class JobListReading(Stoppable):
    """Reads the jobs folder for the list of jobs. The index keeps what was judged, also of a reading that is dropped.

    Args:
        app: the application.
        post: takes a message from any thread.
    """

    def __init__(self, app: CoreApp, post: Callable[[Message], bool]) -> None:
        super().__init__()
        self._app = app
        self._post = post
        self._paused_until = 0.0

    @property
    def stopped(self) -> bool:
        """Whether the last reading was asked to stop, or there has been none."""
        return self._reading is None or self._reading.requested()

    def start(self) -> None:
        """Read the folder again; an earlier reading is dropped."""
        self.drop()
        stop = self._reading = Stop()
        self._app.run_worker(
            lambda: self._read(stop), thread=True, exclusive=True, group="listing", exit_on_error=False
        )

    def pause(self) -> None:
        """Pause for a moment, because a key was pressed on the list: what it does comes first."""
        self._paused_until = time.monotonic() + PAUSE_S

    def _read(self, stop: Stop) -> None:
        """On a worker thread: list the heads of the files first, then every job judged."""
        from stanchion.store.listing import with_judged  # noqa: PLC0415 - not needed to start

        worker, throttle = get_current_worker(), Throttle()
        at = ""

        def progress(what: str, done: int, of: int) -> None:
            nonlocal at
            at = f"{done} of {of} {what}"
            if throttle.due() and not stop.requested():
                self._post(ListingProgressed(f"{at}, Esc stops"))
            while time.monotonic() < self._paused_until and not cancelled():
                time.sleep(0.02)  # two threads at work at once would make every key wait

        def cancelled() -> bool:
            return worker.is_cancelled or stop.requested()

        rows: list[JobRow] = []
        library = self._app.workspace.library
        for judged, what in ((False, "read"), (True, "judged")):
            try:
                found = library.rows(judged=judged, progress=partial(progress, what), cancelled=cancelled)
            except (StanchionError, OSError) as error:
                self._post(JobsListed((), str(error)))
                return
            if worker.is_cancelled or stop.abandoned:
                return
            if stop.asked:
                again = shown(self._app.key("jobs").keys)
                rows = with_judged(rows, found) if judged else found
                self._post(JobsListed(rows, words=f"STOPPED{f' at {at}' if at else ''}: {again} goes on"))
                return
            rows = found
            self._post(JobsListed(rows))
            if all(row.judged for row in rows):
                return
