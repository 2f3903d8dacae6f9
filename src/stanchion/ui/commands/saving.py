"""Saving as the user sees it: the mark on the bar, and the question when another program changed the file."""

from __future__ import annotations

from textual.message import Message

from stanchion.base.errors import StanchionError
from stanchion.bench.current_job import CurrentJob
from stanchion.job.model import Job
from stanchion.store.autosave import SaveState
from stanchion.ui.commands.merging import Merging
from stanchion.ui.core import CoreApp


class SaveStateChanged(Message):
    """Saving of the open job has begun, ended or failed."""


class ClosingJobNotSaved(Message):
    """A job that is no longer open could not be written."""

    def __init__(self, words: str) -> None:
        self.words = words
        super().__init__()


class JobRenamed(Message):
    """The file of a job has another name."""

    def __init__(self, after: str) -> None:
        self.after = after
        super().__init__()


class Saving:
    """Shows the state of saving, and asks if a decision is needed.

    Args:
        app: the application.
        merging: merges field by field, where that is chosen.
    """

    def __init__(self, app: CoreApp, merging: Merging) -> None:
        self._app = app
        self._workspace = app.workspace
        self._merging = merging
        self._asking = False
        merging.on_ended = self._stop_asking
        # Both are called on the saving thread, which must not touch a widget.
        self._workspace.on_saved = self._post_change
        self._workspace.on_closing_unsaved = self._post_not_saved
        self._workspace.on_renamed = self._post_renamed

    def _post_change(self, state: SaveState) -> None:
        del state  # by the time the message is processed there may be a newer one
        self._app.post_message(SaveStateChanged())

    def _post_not_saved(self, words: str) -> None:
        self._app.post_message(ClosingJobNotSaved(words))

    def _post_renamed(self, before: str, after: str) -> None:
        del before
        self._app.post_message(JobRenamed(after))

    def show(self) -> None:
        """Show the state of saving; the last change can come when the screens are gone already."""
        if not self._app.screen_stack:
            return
        self._workspace.remember_name()
        state = self._workspace.save_state()
        if state is not None and state.status == "pending":
            return  # the edit that made it so is shown with it
        self._app.shown.show_saving()
        if state is not None and state.status == "conflict" and not self._asking:
            self._ask_conflict()

    # --- a file that somebody else has changed --------------------------------------------------------------------

    def settle_file(self) -> None:
        """Ask again what to do with a file that another program has changed, or with copies."""
        state = self._workspace.save_state()
        if state is not None and state.status == "conflict" and not self._asking:
            self._ask_conflict()
        elif self._app.copies:
            self._merging.ask_copies()
        else:
            self._app.say("The file is as this program left it: there is nothing to settle.")

    def save_copy(self) -> None:
        """Go on in a new file beside the present one, which stays as it is."""
        if self._app.session is None:
            return
        if self._workspace.newer:
            self._app.say("A later version wrote this job. A copy made here could lose what that version added.")
            return
        self._app.leave_fields()
        self._start_settling("copy")

    def _ask_conflict(self) -> None:
        self._asking = True

        def answered(answer: str | None) -> None:
            if answer == "fields":
                self._merging.merge_disk()
            elif answer:
                self._start_settling(answer)
            else:
                self._stop_asking()

        self._app.ask(
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

    def _stop_asking(self) -> None:
        """Let Esc g ask again."""
        self._asking = False

    def _start_settling(self, answer: str) -> None:
        current = self._workspace.current
        if current is not None:
            self._app.run_worker(lambda: self._settle(current, answer), thread=True, exclusive=True, group="settling")

    def _settle(self, current: CurrentJob, answer: str) -> None:
        """On a thread of its own, because each answer waits for the disk."""
        from stanchion.bench.settling import go_on_in_copy, keep_mine, save_as_copy, take_theirs  # noqa: PLC0415

        theirs: Job | None = None
        words = ""
        before = current.open_job.name
        try:
            if answer == "theirs":
                theirs = take_theirs(current)
            elif answer == "mine":
                keep_mine(current)
            else:
                save_as_copy(current)
                self._app.call_from_thread(go_on_in_copy, self._workspace, current)
                words = f"A copy: you go on in '{current.open_job.name}'. '{before}' stays as it is."
        except StanchionError as error:
            words = str(error)
        self._app.call_from_thread(self._settled, current, theirs, words)

    def _settled(self, current: CurrentJob, theirs: Job | None, words: str) -> None:
        self._stop_asking()
        if theirs is not None:
            current.session.replace(theirs)  # not the open one, if another job was opened meanwhile
        if words:
            self._app.say(words)
        self._app.refresh_screens()
