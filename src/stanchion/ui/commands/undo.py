"""Undo and redo, over the whole job or what the current screen changes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stanchion.bench.session import Session
from stanchion.job.model import Job
from stanchion.ui.core import CoreApp
from stanchion.ui.keys import shown

if TYPE_CHECKING:
    from stanchion.bench.edit_session import EditSession


class Undoing:
    """Undo and redo for the current screen.

    Args:
        app: the application.
    """

    def __init__(self, app: CoreApp) -> None:
        self._app = app

    def undo(self) -> None:
        """Undo one step."""
        for edited in self._edited():
            before = edited.subject
            if edited.undo(self._app.shown.current_field):
                if edited.dropped is not None:
                    self._say_dropped(edited.dropped[1].text)
                elif isinstance(edited, Session) and isinstance(before, Job):
                    self._say_step("Undo", before, edited.job)
                    self._update_stock(before, edited.job)
                break
        else:
            self._app.say("There is nothing to undo.")
        self._app.refresh_screens()

    def redo(self) -> None:
        """Redo one step."""
        for edited in self._edited():
            before = edited.subject
            if edited.redo():
                if isinstance(edited, Session) and isinstance(before, Job):
                    self._say_step("Redo", before, edited.job)
                    self._update_stock(before, edited.job)
                break
        else:
            self._app.say("There is nothing to redo.")
        self._app.refresh_screens()

    def _edited(self) -> list[EditSession[Any]]:
        """What to undo in: what the screen changes, and the job where a trial has just become part of it."""
        edited, trial = self._app.edited, self._app.trial
        found: list[EditSession[Any]] = [edited] if edited is not None else []
        if trial is not None and edited is trial.copy and trial.just_applied:
            found.append(trial.session)
        return found

    def _say_step(self, word: str, before: Job, now: Job) -> None:
        """Say what undo or redo has done to the job; in place of what is said of the step before."""
        from stanchion.wording.changes import step_in_words  # noqa: PLC0415 - not needed to start

        words = step_in_words(before, now, self._app.workspace.units) if before is not now else ""
        if words:
            self._app.clear_notifications()
            self._app.say(f"{word}: {words}.")

    def _say_dropped(self, text: str) -> None:
        """Say that undo has taken text away that was not read, and how to have it back."""
        if text.strip():
            self._app.say(
                f"Undo: '{text}', which was not read, is dropped. {shown(self._app.key('redo').keys)} brings it back."
            )

    def _update_stock(self, earlier: Job, later: Job) -> None:
        """Put springs that undo takes out of the job back into the stock, and the other way round."""
        workspace = self._app.workspace
        if workspace.spring_stock_in_use and workspace.spring_stock.follow(earlier, later):
            self._app.save_stock()
            self._app.say("Your stock of springs has changed with it.")
