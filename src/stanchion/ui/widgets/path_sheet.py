"""A form with fields for paths: what is typed there is completed by Tab, where only one name fits."""

from __future__ import annotations

import threading
from collections.abc import Callable

from textual.message import Message

from stanchion.base.record import record
from stanchion.job.model import Path
from stanchion.ui.widgets.sheet import FormSheet


@record
class Completion:
    """What a path can be completed to."""

    field: Path
    typed: str
    whole: str
    """Empty: nothing can be added."""


class PathSheet(FormSheet):
    """A form in which paths of files are completed: those of fields called "path".

    The disk is asked on one thread of its own, so that a folder that does not answer holds up nothing: without an
    answer Tab goes to the next field, as everywhere.
    """

    complete: Callable[[str], str] = staticmethod(lambda text: "")
    """Completes a path, or gives an empty text. It is called on a thread and may wait for the disk."""
    offered: Completion | None = None

    class Completed(Message):
        """A path can be completed, or cannot."""

        def __init__(self, found: Completion) -> None:
            self.found = found
            super().__init__()

    class Offered(Message):
        """What Tab would complete has changed."""

    _wanted: Completion | None = None
    _looking = False

    def typed(self, text: str) -> None:
        """Take a key, and look what the path can be completed to."""
        super().typed(text)
        if self.at is not None and self.at[-1] == "path" and text.strip():
            self._wanted = Completion(self.at, text, "")
            self._look()

    def _look(self) -> None:
        """Ask the disk on a thread of its own; while it is still asked about an earlier text, wait for that."""
        wanted, complete = self._wanted, self.complete
        if wanted is None or self._looking:
            return
        self._looking, self._wanted = True, None

        def look() -> None:
            try:
                whole = complete(wanted.typed)
            except (OSError, ValueError, RuntimeError):
                whole = ""
            self.post_message(self.Completed(Completion(wanted.field, wanted.typed, whole)))

        threading.Thread(target=look, name="completing a path", daemon=True).start()

    def on_path_sheet_completed(self, message: Completed) -> None:
        """Offer it, if that is still what is typed."""
        message.stop()
        self._looking = False
        self.offered = message.found if message.found.whole else None
        self.post_message(self.Offered())
        self._look()

    @property
    def completion(self) -> str:
        """What Tab makes of the current field; empty where it goes to the next one."""
        found = self.offered
        return found.whole if found is not None and (self.at, self.editor.value) == (found.field, found.typed) else ""

    def action_along(self, step: int) -> None:
        """Tab completes a path where one name fits; otherwise to the next or previous field."""
        whole = self.completion
        if step != 1 or not whole:
            super().action_along(step)
            return
        self.offered = None
        self.editor.value = whole
        self.editor.cursor_position = len(whole)
