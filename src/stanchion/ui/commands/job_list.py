"""The list of jobs: read off the thread that draws the screen, told as it comes, read anew when jobs were changed."""

from __future__ import annotations

import datetime as dt
import time
from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, cast

from textual.events import Key
from textual.message import Message
from textual.worker import get_current_worker

from stanchion.base.errors import StanchionError
from stanchion.base.progress import Seldom, Stop
from stanchion.bench.workspace import Workspace
from stanchion.ui.commands.track import TrackApp
from stanchion.ui.keys import shown

if TYPE_CHECKING:
    from stanchion.store.listing import JobRow
    from stanchion.ui.screens.jobs import JobsScreen

MOVES = ("up", "down", "pageup", "pagedown", "backspace")
ACTS_ON_A_ROW = ("enter", "ctrl+j", "ctrl+d", "ctrl+k", "ctrl+f")
HELD_S = 0.3
"""So long after a key reading goes on."""


class ListingApp(TrackApp):
    """Reads the jobs folder for the list of jobs."""

    class Listed(Message):
        """The jobs folder has been read."""

        def __init__(self, rows: Sequence[JobRow], problem: str = "", words: str = "") -> None:
            self.rows = rows
            self.problem = problem
            self.words = words
            """How far reading went, where it was stopped."""
            super().__init__()

    class Reading(Message):
        """How far the reading of the jobs folder is."""

        def __init__(self, words: str) -> None:
            self.words = words
            super().__init__()

    _early: list[Key]
    """Keys that came before the list they are for."""
    _listing: Stop | None = None
    _held_until = 0.0
    """While somebody types on the list, the reading of it waits."""

    def __init__(self, workspace: Workspace, today: Callable[[], dt.date]) -> None:
        super().__init__(workspace, today)
        self._early = []

    @property
    def list_shown(self) -> JobsScreen | None:
        """The list of jobs, where it is the screen in hand."""
        stack = self.screen_stack
        return cast("JobsScreen", stack[0]) if self.current_mode == "jobs" and len(stack) == 1 else None

    def action_go(self, name: str) -> None:
        """Show a part of the open job, or the list of jobs; asked for while it is shown, the list is read anew."""
        again = name == "jobs" and self.list_shown is not None
        super().action_go(name)
        if again:
            self.list_jobs()

    def list_jobs(self) -> None:
        """Read the folder off this thread and show what is in it."""
        self.drop_listing()
        stop = self._listing = Stop()
        self.run_worker(
            lambda: self._read_rows(stop), thread=True, exclusive=True, group="listing", exit_on_error=False
        )

    def stop_listing(self) -> None:
        """Show what was read so far."""
        if self._listing is not None:
            self._listing.said = True

    def hold_listing(self) -> None:
        """A key was pressed on the list: what it does comes first."""
        self._held_until = time.monotonic() + HELD_S

    def drop_listing(self) -> None:
        """Nobody waits for the list any more; what was judged is remembered."""
        if self._listing is not None:
            self._listing.dropped = True

    def _read_rows(self, stop: Stop) -> None:
        """On a thread of its own: first what the heads of the files say, then every job judged."""
        from stanchion.store.listing import filled_in  # noqa: PLC0415 - not needed to start

        worker, seldom = get_current_worker(), Seldom()
        at = ""

        def progress(what: str, done: int, of: int) -> None:
            nonlocal at
            at = f"{done} of {of} {what}"
            if seldom.now() and not stop.heard():
                self.post_message(self.Reading(f"{at}, Esc stops"))
            while time.monotonic() < self._held_until and not cancelled():
                time.sleep(0.02)  # two threads at work at once would make every key wait

        def cancelled() -> bool:
            return worker.is_cancelled or stop.heard()

        rows: list[JobRow] = []
        for judged, what in ((False, "read"), (True, "judged")):
            try:
                found = self.workspace.library.rows(
                    judged=judged, progress=partial(progress, what), cancelled=cancelled
                )
            except (StanchionError, OSError) as error:
                self.post_message(self.Listed((), str(error)))
                return
            if worker.is_cancelled or stop.dropped:
                return
            if stop.said:
                again = shown(self.key("jobs").keys)
                rows = filled_in(rows, found) if judged else found
                self.post_message(self.Listed(rows, words=f"STOPPED at {at}: {again} goes on"))
                return
            rows = found
            self.post_message(self.Listed(rows))
            if all(row.judged for row in rows):
                return

    def on_listing_app_reading(self, message: Reading) -> None:
        """It takes long enough to be told how far it is."""
        listed = self.list_shown
        if listed is not None and self._listing is not None and not self._listing.heard():
            listed.tell(message.words)

    async def _obeyed(self, event: Key) -> bool:
        """Obey a command; what is meant for a list that is not there yet waits until it is."""
        listed = self.list_shown
        if listed is not None and not listed.listed:
            acts = (*ACTS_ON_A_ROW, *self.key("job.forward").keys.split(","))
            led_on = any(key.key in acts for key in self._early)  # what comes after is for where that leads
            if event.key != "escape" and (event.is_printable or led_on or event.key in (*MOVES, *acts)):
                self._early.append(event)
                return True
            self._early.clear()
        return await super()._obeyed(event)

    async def on_listing_app_listed(self, message: Listed) -> None:
        """The folder has been read."""
        from stanchion.store.listing import copies_in  # noqa: PLC0415 - not needed to start

        listed = self.list_shown
        if not message.problem and not message.words:
            self.take_copies(self.workspace.open_name, copies_in(message.rows, self.workspace.open_name))
        if listed is not None:
            listed.take(message.rows, message.problem, message.words)
            if message.problem or self.messages:
                listed.warn(" ".join([message.problem, *self.messages]).strip())
                self.messages.clear()
        early, self._early = self._early, []
        for event in early:
            await self.on_event(event)

    def change_jobs(self, change: Callable[[], str]) -> None:
        """Change what lies in the jobs folder, off the thread that draws the screen; then list it anew.

        Args:
            change: waits for the disk, and gives what is to be said.
        """

        def work() -> None:
            try:
                told = change()
            except StanchionError as error:
                told = str(error)
            self.call_from_thread(self._jobs_changed, told)

        self.run_worker(work, thread=True, group="changing jobs")

    def _jobs_changed(self, told: str) -> None:
        self.say(told)
        self.list_jobs()
