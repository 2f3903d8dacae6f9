"""What a new job is asked before its file is made: one begun from nothing, or from an earlier one."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.events import Key
from textual.widgets import Static

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.aboard import weight_of_the_last
from stanchion.job.measured import RIDER
from stanchion.job.model import Job
from stanchion.job.spec import Kind
from stanchion.ui import machine_form
from stanchion.ui.form_lines import Form
from stanchion.ui.screens.app_screen import Dialog
from stanchion.ui.widgets.sheet import FormSheet
from stanchion.units.quantity import show
from stanchion.wording.finding_words import field_label


class NewJobScreen(Dialog[Job | None]):
    """A short form for a new job. Gives the job to begin with, or None.

    Args:
        session: the job as it would begin.
        title: what is begun, in a line.
        form: the lines asked.
        begin: the key that begins the job at once, as it is shown.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss(None)", show=False),
        Binding("ctrl+n,f8", "begin", show=False, priority=True),
    ]

    def __init__(
        self, session: Session, title: str = "A new job", form: Form = machine_form.new_job, begin: str = "^N"
    ) -> None:
        super().__init__()
        self.session = session
        self._blank = session.job
        self._title = title
        self._form = form
        self._begin_key = begin
        self._asked_weight = False

    def compose(self) -> ComposeResult:
        """Title, sheet, what the keys do."""
        with Vertical(classes="dialog"):
            yield Static(self._title, classes="dialog-title", markup=False)
            with VerticalScroll(can_focus=False):
                yield FormSheet(self._form, label_width=21, cell_width=36)
            yield Static(" ", id="new-message", markup=False)
            begins = f"{self._begin_key} begins it at once"
            foot = f"Enter goes on, and from the last field begins the job. {begins}. Esc: back."
            yield Static(foot, classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Start with the first field."""
        sheet = self.query_one(FormSheet)
        sheet.show(self.session)
        self.call_after_refresh(sheet.take_focus)

    async def on_key(self, event: Key) -> None:
        """Give the sheet a key that came before it had the focus."""
        await self.query_one(FormSheet).on_key(event)

    def on_form_sheet_past_end(self, message: FormSheet.PastEnd) -> None:
        """Enter on the last field."""
        message.stop()
        self.action_begin()

    def on_form_sheet_changed(self, message: FormSheet.Changed) -> None:
        """Say what cannot be read."""
        message.stop()
        self._say()

    def on_form_sheet_entered(self, message: FormSheet.Entered) -> None:
        """The current field has changed."""
        message.stop()
        self._say()

    def _say(self) -> None:
        """Say what cannot be read, or that the weight is another rider's; else how the current field is changed."""
        at = self.query_one(FormSheet).at
        unread = next(((path, draft) for path, draft in self.session.drafts.items() if draft.reason), None)
        text = Content("")
        if unread is not None:
            text = Content.styled(f"{field_label(unread[0])}: {clean(unread[1].reason)}", "$fault bold")
        elif at == RIDER and (kg := self._others_weight) is not None:
            kept = f", or {self._begin_key} keeps it" if self._asked_weight else ""
            text = Content.styled(f"{kg} is the last rider's: type the new weight{kept}.", "$warn")
        elif at is not None and self.session.options(at):
            text = Content.styled("Space changes it.", "$text-muted")
        self.query_one("#new-message", Static).update(text)

    @property
    def _others_weight(self) -> str | None:
        """The weight as it is shown where another rider is named and it still is the last one's; otherwise None."""
        kg = weight_of_the_last(self.session.job, self._blank)
        return None if kg is None else show(kg, Kind.MASS, self.session.units)

    def action_begin(self) -> None:
        """Begin the job, unless a field cannot be read, or the weight is another rider's: then go to that field."""
        self._begin()

    def close_to_quit(self) -> bool:
        """Begin the job first where something was typed; stay open with a field that cannot be read."""
        if self.session.job == self._blank and not self.session.drafts:
            return super().close_to_quit()
        return self._begin()

    def _begin(self) -> bool:
        wrong = next((path for path, draft in self.session.drafts.items() if draft.reason), None)
        if wrong is None and self._others_weight is not None and not self._asked_weight:
            self._asked_weight, wrong = True, RIDER
        if wrong is None:
            self.dismiss(self.session.job)
            return True
        self.query_one(FormSheet).go(wrong)
        self._say()
        return False
