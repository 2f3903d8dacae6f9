"""Saving as the user sees it: the mark on the bar, and what to do when somebody else changed the file."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

from textual.content import Content
from textual.message import Message

from stanchion.base.errors import StanchionError
from stanchion.base.text import clean
from stanchion.bench.workspace import Workspace
from stanchion.job.model import Job
from stanchion.store.autosave import SaveState
from stanchion.ui.commands.merging import MergingApp
from stanchion.ui.screens.job_screen import JobScreen


class SavingApp(MergingApp):
    """Says how saving stands, and asks where it needs a decision."""

    class Saving(Message):
        """How saving stands."""

        def __init__(self, state: SaveState) -> None:
            self.state = state
            super().__init__()

    class LeftUnsaved(Message):
        """A job that was left could not be written."""

        def __init__(self, words: str) -> None:
            self.words = words
            super().__init__()

    def __init__(self, workspace: Workspace, today: Callable[[], dt.date]) -> None:
        super().__init__(workspace, today)
        self._asking = False
        workspace.on_saved = self._saved_elsewhere
        workspace.on_closing_unsaved = self._left_unsaved

    def _saved_elsewhere(self, state: SaveState) -> None:
        """Called on the saving thread, where nothing of the screen may be touched."""
        self.post_message(self.Saving(state))

    def _left_unsaved(self, words: str) -> None:
        """The same of a job that was left."""
        self.post_message(self.LeftUnsaved(words))

    def on_saving_app_saving(self, message: Saving) -> None:
        """How saving stands has changed; the last word can come when the screens are gone already."""
        if not self.screen_stack:
            return
        self.workspace.remember_name()
        state = self.workspace.save_state()  # the message may be older, and of a job that was left
        screen = self.screen
        if state is not None and state.status == "pending":
            return  # the edit that made it so is shown with it
        if isinstance(screen, JobScreen) and screen.stands:
            screen.show_saving()
        if state is not None and state.status == "conflict" and not self._asking:
            self._ask_conflict()

    def on_saving_app_left_unsaved(self, message: LeftUnsaved) -> None:
        """It stands nowhere else on the screen."""
        if self.screen_stack:
            self.say(message.words)

    def saved_mark(self, unsaved: str = "") -> Content:
        """Whether what is shown is on disk, in a word.

        It is asked of the saver itself: the last message may be older than the edit that is drawn beside the word.

        Args:
            unsaved: what is shown but is no part of the job, which may itself be saved.
        """
        session, state = self.session, self.workspace.save_state()
        if session is not None and session.read_only:
            return Content.styled("READ ONLY", "bold")
        if state is None:
            return Content("")
        if state.status == "conflict":
            return Content.styled("CHANGED ON DISK", "bold reverse")
        if state.status == "failed":
            return Content.styled("NOT SAVED", "bold reverse")
        if state.status == "pending":
            return Content("saving")
        if unsaved:
            return Content(unsaved)
        return Content(f"saved {dt.datetime.fromtimestamp(state.at):%H:%M:%S}" if state.at else "saved")

    def save_trouble(self) -> str:
        """Why what is shown is not on disk, in plain words; empty where it is."""
        if self.session is not None and self.session.read_only and self.workspace.notes:
            return clean(" ".join(self.workspace.notes), 400)
        state = self.workspace.save_state()
        if state is None or state.status == "pending":
            return self.copies_words()
        kept = " Your edits are kept, and saving is tried again by itself." if state.status == "failed" else ""
        return clean((state.cause or state.caution) + kept, 400) or self.copies_words()

    def _ask_conflict(self) -> None:
        self._asking = True

        def answered(answer: str | None) -> None:
            if answer == "fields":
                self.merge_disk()
            elif answer:
                # Each of these waits for the disk, which is not for the thread that draws the screen.
                self.run_worker(lambda: self.settle(answer), thread=True, exclusive=True, group="settling")
            else:
                self._asking = False

        self.ask(
            "The file was changed by somebody else",
            "This job's file is no longer as it was read. Nothing has been overwritten.",
            (
                ("", "Not now: nothing is written until this is settled; Esc g asks again"),
                ("mine", "Keep mine: write what is on this screen; the other state is kept as an earlier one"),
                ("theirs", "Take theirs: show what is on disk; Undo leads back to mine"),
                ("fields", "Merge field by field: see what differs, take mine or theirs of each"),
                ("copy", "Save mine as a copy beside it and go on with the copy"),
            ),
            answered,
        )

    def action_settle_file(self) -> None:
        """Ask again what is to become of a file that somebody else has changed."""
        state = self.workspace.save_state()
        if state is not None and state.status == "conflict" and not self._asking:
            self._ask_conflict()
        elif self.copies:
            self.ask_copies()
        else:
            self.say("The file is as this program left it: there is nothing to settle.")

    def merge_ended(self) -> None:
        """The merge screen was left: what is not settled is asked again by Esc g."""
        self._asking = False
        super().merge_ended()

    def settle(self, answer: str) -> None:
        """On a thread of its own."""
        theirs: Job | None = None
        told = ""
        before = self.workspace.open_name
        try:
            if answer == "theirs":
                theirs = self.workspace.take_theirs()
            elif answer == "mine":
                self.workspace.keep_mine()
            else:
                self.workspace.save_as_copy()
                self.call_from_thread(self.workspace.copy_saved)
                told = f"A copy: you go on in '{self.workspace.open_name}'. '{before}' stays as it is."
        except StanchionError as error:
            told = str(error)
        self.call_from_thread(self._settled, theirs, told)

    def _settled(self, theirs: Job | None, told: str) -> None:
        self._asking = False
        if theirs is not None and self.session is not None:
            self.session.replace(theirs)
        if told:
            self.say(told)
        self.refresh_bench()
