"""A screen with a sheet to fill on the left, what follows from it on the right, and the field in hand below."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from stanchion.job.edit import spec_at, value_at
from stanchion.job.model import Path
from stanchion.job.spec import Day, Flag, Number
from stanchion.judgement.wording import choice_word, field_label, label
from stanchion.quantity import readback, show
from stanchion.text import clean
from stanchion.ui import keys
from stanchion.ui.forms import Form
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.widgets.sheet import Sheet
from stanchion.ui.widgets.told import Told

HINTS = {
    ("read_at", "stop"): "on the damper's mechanical stop; + or − changes it",
    ("read_at", "touching"): "drawn out until the top-out spring just touches",
    ("read_at", "assembled"): "main spring pushing against the top-out spring",
    ("counting", "turns"): "turns in from fully out; + or − changes it",
    ("counting", "rings"): "rings showing: more showing is less preload",
    ("counting", "mm"): "mm showing, as read at both ends",
    ("counting", "none"): "no preload adjuster",
}
"""What a word that is chosen means, by the field and the word."""


class BenchScreen(JobScreen):
    """One part of the open job, to be filled in."""

    form: ClassVar[Form]
    label_width: ClassVar[int] = 24
    cell_width: ClassVar[int] = 9

    @property
    def sheet(self) -> Sheet:
        """The fields."""
        return self.query_one(Sheet)

    def body(self) -> Iterable[Widget]:
        """Sheet and figures."""
        sheet = Sheet(type(self).form, label_width=self.label_width, cell_width=self.cell_width)
        yield VerticalScroll(sheet, id="sheet-pane", can_focus=False)
        yield Vertical(*self.figures(), id="figures")

    def below(self) -> Iterable[Widget]:
        """The field in hand."""
        yield Told(id="field")

    def figures(self) -> list[Widget]:
        """The widgets of the right-hand side."""
        return []

    def reload(self) -> None:
        """Show the whole job anew, the keys going to the field in hand."""
        session = self.session
        if session is None or not self.stands:
            return
        self.sheet.show(session)
        if self.is_current:
            self.sheet.take_focus()
        self.show_derived()

    def show_derived(self) -> None:
        """Show what follows from the job, and how the field in hand was understood."""
        super().show_derived()
        if self.session is not None and self.stands:
            self.show_field()

    def hints(self) -> list[str]:
        """The keys of this screen, then moving and stepping."""
        undo = f"{keys.shown(self.bench.key('undo').keys)} undo"
        return [*super().hints(), "Enter next", undo, "Tab across", "+ − step"]

    def show_field(self) -> None:
        """The field in hand: its whole name, the value as it was understood, or why it was not."""
        session, path = self.session, self.sheet.at
        line = self.query_one("#field", Static)
        if session is None or path is None:
            line.update("")
            return
        draft = session.drafts.get(path)
        value = value_at(session.job, path)
        spec = spec_at(path)
        both = not session.job.front.split
        name = Content.styled(f" {label(path, both_legs=both)}: ", "$primary bold")
        kept = "empty" if value is None else show(value, spec.kind, session.units) if isinstance(spec, Number) else ""
        if draft is not None and draft.reason:
            keeps = f" (kept: {kept})" if kept else ""
            line.update(Content.styled(f" {field_label(path)}: ✖ {clean(draft.reason)}{keeps}", "$fault bold"))
        elif isinstance(spec, Number):
            said = kept
            if value is not None and draft is None:
                said = readback(session.text_of(path), spec, session.units)
            line.update(name + Content.styled(said, "$figure bold"))
        elif isinstance(spec, Day):
            line.update(name + Content.styled(value.strftime("%A, %d %B %Y") if value else "", "$figure bold"))
        elif session.options(path) or isinstance(spec, Flag):
            words = Content.styled(choice_word(path, value), "$figure bold")
            hint = HINTS.get((str(path[-1]), str(value)), "+ or − changes it")
            line.update(name + words + Content.styled(f"   {hint}", "$text-muted"))
        else:
            line.update(name)

    # --- what the sheet reports -----------------------------------------------------------------------------------

    async def on_sheet_changed(self, message: Sheet.Changed) -> None:
        """A key changed the job or a draft."""
        message.stop()
        self.bench.desk.keep_drafts()
        self.show_derived()
        await self.all_in_one_picture()

    def on_sheet_entered(self, message: Sheet.Entered) -> None:
        """Another field is in hand."""
        message.stop()
        self.bench.remember(self.name_of)
        self.show_derived()

    def on_sheet_opened(self, message: Sheet.Opened) -> None:
        """A text of several lines is to be written."""
        message.stop()
        self.bench.write_text(message.path, self.sheet.take_begun())

    def trouble(self) -> str:
        """Why the field in hand cannot be read, in full, before what is not saved."""
        session, at = self.session, self.sheet.at
        draft = session.drafts.get(at) if session is not None and at is not None else None
        unread = f"Not read: {clean(draft.reason, 300)}" if draft is not None and draft.reason else ""
        return unread or super().trouble()

    @property
    def chosen_field(self) -> Path | None:
        """The field in hand, where somebody went to it: not the first, which is in hand to begin with."""
        at = self.sheet.at
        return at if at != next(iter(self.sheet.grid.places), None) else None

    def leave_field(self) -> None:
        """The field in hand is left: what was merely unfinished is settled."""
        if self.session is not None and self.stands and self.sheet.at is not None:
            self.session.leave(self.sheet.at)

    def go_to(self, path: Path) -> None:
        """Take a field in hand."""
        self.sheet.go(path)
        self.sheet.take_focus()
