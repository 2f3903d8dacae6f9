"""What can be had back: earlier states of the open job, and deleted jobs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from textual.message import Message

from stanchion.base.errors import StanchionError
from stanchion.store.history import Earlier
from stanchion.ui.commands.jobs import LibraryApp
from stanchion.ui.keys import shown
from stanchion.wording.kept_states import when_words

if TYPE_CHECKING:
    from stanchion.store.deleted import Deleted


class RecoveryApp(LibraryApp):
    """Brings back what was changed or deleted by mistake."""

    class EarlierRead(Message):
        """The earlier states of the open job have been read."""

        def __init__(self, found: Sequence[Earlier]) -> None:
            self.found = found
            super().__init__()

    def read_earlier(self) -> None:
        """Read the earlier states off this thread and show them."""
        self.run_worker(self._read_earlier, thread=True, exclusive=True, group="earlier", exit_on_error=False)

    def _read_earlier(self) -> None:
        self.post_message(self.EarlierRead(self.workspace.earlier()))

    def on_recovery_app_earlier_read(self, message: EarlierRead) -> None:
        """Show them, if their screen is still there."""
        from stanchion.ui.screens.earlier import EarlierScreen  # noqa: PLC0415 - not needed to start

        if isinstance(self.screen, EarlierScreen):
            self.screen.take(message.found)

    def action_bring_back(self) -> None:
        """The earlier state under the bar becomes the job."""
        from stanchion.ui.screens.earlier import EarlierScreen  # noqa: PLC0415

        one = self.screen.chosen() if isinstance(self.screen, EarlierScreen) else None
        if one is None or self.session is None:
            return
        if one.job is None:
            self.say(f"This state cannot be brought back: {one.problem}.")
        elif self.session.read_only:
            self.say("This job is open read-only: save it as a copy first, or use 'stanchion earlier'.")
        else:
            self.run_worker(lambda: self._bring_back(one), thread=True, exclusive=True, group="earlier")

    def _bring_back(self, one: Earlier) -> None:
        """On a thread of its own: nothing is changed before the present state is safe."""
        try:
            self.workspace.keep_present()
        except StanchionError as error:
            self.call_from_thread(self.say, f"Nothing was brought back. {error}")
        else:
            self.call_from_thread(self._brought_back, one)

    def _brought_back(self, one: Earlier) -> None:
        session = self.session
        if session is None or one.job is None:
            return
        refused = session.bring_back(one.job)
        if refused:
            self.say(refused)
        else:
            undo = shown(self.key("undo").keys)
            when = when_words(one.state.at.astimezone(), self.today())
            self.say(f"The job is as it was at {when}. {undo} takes that back; what was there before is kept as well.")
        self.refresh_bench()

    # --- deleted jobs ------------------------------------------------------------------------------------------------

    def action_open_bin(self) -> None:
        """The deleted jobs."""
        from stanchion.ui.screens.bin import BinScreen  # noqa: PLC0415

        if self.list_shown is not None:
            self.push_screen(BinScreen(self.workspace.library.bin.list(), self.today()), self._out_of_the_bin)

    def _out_of_the_bin(self, answer: Deleted | str | None) -> None:
        if answer == "empty":
            self._ask_to_empty()
        elif answer is None or isinstance(answer, str):
            self.list_jobs()
        else:
            self.change_jobs(lambda: f"'{self.workspace.library.restore(answer).name}' is back among the jobs.")

    def _ask_to_empty(self) -> None:
        count = len(self.workspace.library.bin.list())
        jobs = f"{count} deleted job{'s' if count != 1 else ''}"

        def answered(answer: str | None) -> None:
            if answer == "empty":
                self.change_jobs(lambda: f"The bin is empty: {self.workspace.library.bin.empty()} gone for good.")
            else:
                self.list_jobs()

        self.ask(
            "Empty the bin?",
            f"{jobs} will be gone for good. Nothing brings them back after that.",
            (("keep", "Keep them"), ("empty", f"Destroy {jobs}")),
            answered,
        )
