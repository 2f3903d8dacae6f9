"""What names a new job, before its file is made."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from stanchion.job.model import Job
from stanchion.session import Session
from stanchion.text import clean
from stanchion.ui import forms
from stanchion.ui.widgets.sheet import Sheet


class NewJobScreen(ModalScreen[Job | None]):
    """Machine, rider, venue, date and use. Gives the job to begin with, or None."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss(None)", show=False),
        Binding("ctrl+n,f8", "begin", show=False, priority=True),
    ]

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session

    def compose(self) -> ComposeResult:
        """Title, sheet, what the keys do."""
        with Vertical(classes="dialog"):
            yield Static("A new job", classes="dialog-title", markup=False)
            with VerticalScroll(can_focus=False):
                yield Sheet(forms.new_job, label_width=16, cell_width=40)
            yield Static(id="new-message", markup=False)
            foot = "Enter goes on, and from the last field begins the job. ^N begins it at once. Esc: back."
            yield Static(foot, classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Start with the machine."""
        sheet = self.query_one(Sheet)
        sheet.show(self.session)
        self.call_after_refresh(sheet.take_focus)

    def on_sheet_past_end(self, message: Sheet.PastEnd) -> None:
        """Enter on the last field."""
        message.stop()
        self.action_begin()

    def on_sheet_changed(self, message: Sheet.Changed) -> None:
        """Say what cannot be read."""
        message.stop()
        reasons = [draft.reason for draft in self.session.drafts.values() if draft.reason]
        text = Content.styled(clean(reasons[0]), "$fault bold") if reasons else Content("")
        self.query_one("#new-message", Static).update(text)

    def on_sheet_entered(self, message: Sheet.Entered) -> None:
        """Moving between fields changes nothing here."""
        message.stop()

    def action_begin(self) -> None:
        """Begin the job, unless a field cannot be read."""
        if any(draft.reason for draft in self.session.drafts.values()):
            return
        self.dismiss(self.session.job)
