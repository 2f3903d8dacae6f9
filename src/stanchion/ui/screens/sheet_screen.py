"""A screen with a sheet to fill in on the left, figures on the right, and the current field below."""

from __future__ import annotations

import time
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.events import Key
from textual.widget import Widget
from textual.widgets import Static

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.job.edit import spec_at
from stanchion.job.model import Path
from stanchion.job.spec import Text
from stanchion.judgement.results.figures import Figure
from stanchion.ui import keys
from stanchion.ui.field_line import asked_line, field_line
from stanchion.ui.form_lines import Form
from stanchion.ui.paging import pages_of
from stanchion.ui.screens.job_screen import CORRECT, JobScreen
from stanchion.ui.space import short_lines
from stanchion.ui.widgets.live_text import LiveText
from stanchion.ui.widgets.pages import TURN_KEYS, Pages
from stanchion.ui.widgets.sheet import FormSheet
from stanchion.wording.finding_words import label

if TYPE_CHECKING:
    from stanchion.bench.guided_measuring import StepGroup

ECHO_S = 0.0002
"""How long to leave the interpreter to the thread that writes to the terminal, so that it sends the echo."""


class SheetScreen(JobScreen):
    """One part of the open job, to be filled in."""

    BINDINGS: ClassVar[list[BindingType]] = [*TURN_KEYS]
    form: ClassVar[Form]
    sheet_type: ClassVar[type[FormSheet]] = FormSheet
    label_width: ClassVar[int] = 24
    cell_width: ClassVar[int] = 9
    _sheet: FormSheet
    _fresh = False
    """Whether it shows the job as it is now, not as it was before another screen was shown."""
    _last_shown: Session | None = None
    """The job it showed last."""
    _wanted: Path | None = None
    """The field to go to once it does."""
    _figures_due = False
    """Whether the figures are still to be updated after typing."""

    @property
    def sheet(self) -> FormSheet:
        """The fields."""
        return self._sheet

    def body(self) -> Iterable[Widget]:
        """Sheet and figures."""
        self._sheet = self.sheet_type(type(self).form, label_width=self.label_width, cell_width=self.cell_width)
        yield VerticalScroll(self._sheet, id="sheet-pane", can_focus=False)
        yield Vertical(*self.figures(), id="figures")
        yield Pages(id="short")

    def below(self) -> Iterable[Widget]:
        """The current field."""
        yield LiveText(id="field")

    def figures(self) -> list[Widget]:
        """The widgets of the right-hand side."""
        return []

    def short(self, session: Session) -> Sequence[Content]:
        """The lines below the sheet where there is no room beside it, the most needed first."""
        del session
        return ()

    def reload(self) -> None:
        """Show the whole job again, with the focus on the current field."""
        session = self.session
        if session is None or not self.is_built:
            return
        if self._last_shown is not self.program.session:
            self._last_shown = self.program.session
            self.sheet.at = None  # the current field of another job is not the one to go on with in this
        self.sheet.on_drawing = self._show_echoed
        self.sheet.show(session)
        self._fresh = True
        if self._wanted is not None:
            wanted, self._wanted = self._wanted, None
            self.go_to(wanted)
        elif self.is_current:
            self.sheet.take_focus()
        self.show_derived()

    @property
    def takes_keys(self) -> bool:
        """Whether keys go where the user sees them go: it shows the open job."""
        return self.session is None or (super().takes_keys and self._shows_job)

    @property
    def _shows_job(self) -> bool:
        return self.is_built and self._fresh and self.sheet.session is self.session

    def on_screen_suspend(self) -> None:
        """Note that the job may change while another screen is shown."""
        self._fresh = False
        self.sheet.put_down()

    async def on_key(self, event: Key) -> None:
        """Give the sheet a key that came before it had the focus."""
        if self._shows_job:
            await self.sheet.on_key(event)

    def show_derived(self) -> None:
        """Show what follows from the job, and how the current field was understood."""
        super().show_derived()
        if self.session is not None and self.is_built:
            self.show_short(self.session)
            self.show_field()

    def show_short(self, session: Session) -> None:
        """Show a few figures below the sheet, where there is no room beside it."""
        if not self.narrow:
            self.query_one("#short").display = False
            return
        most, pane = short_lines(self.app.size.height), self.query_one("#short", Pages)
        pane.display = most > 0
        if most:
            pane.draw_pages(
                lambda width, _: pages_of(
                    [line.truncate(width, ellipsis=True) for line in self.short(session)], width, most
                ),
                self.short_about(),
            )

    def short_about(self) -> object:
        """What those figures are about; for anything else they begin at their first page."""
        return None

    def action_turn_page(self, step: int) -> None:
        """Show the figures that there is no room for."""
        if self.narrow:
            self.query_one("#short", Pages).turn(step)

    def hints(self) -> list[str]:
        """The keys of this screen, then moving and stepping."""
        undo = f"{keys.shown(self.program.key('undo').keys)} undo"
        return [*super().hints(), "PgDn section", "Enter next", undo, "Tab across", "+ − step"]

    def show_field(self) -> None:
        """Show the current field: its whole name, the value as it was understood, or why it was not."""
        session, path = self.session, self.sheet.at
        line = self.query_one("#field", Static)
        if session is None or path is None:
            line.update("")
            return
        answer = next((one for one in self.program.keys if (one.on, one.action) == (self.name_of, CORRECT)), None)
        if session.asked is not None and answer is not None and path not in session.drafts:
            key = keys.shown(answer.keys) if answer.keys else f"Esc {answer.letter}"
            line.update(asked_line(session, session.asked, key, self.size.width))
            return
        unit = self.sheet.grid.row(path).unit if path in self.sheet.grid else ""
        line.update(field_line(session, path, unit, self.size.width, lines=max(1, line.size.height)))

    def _show_echoed(self) -> None:
        """Update the word on the bar in the frame that echoes a key, so that it does not say "saved" too soon."""
        session = self.session
        if session is not None and self.is_built:
            self.show_saved(session)

    # --- what the sheet reports -----------------------------------------------------------------------------------

    def on_form_sheet_changed(self, message: FormSheet.Changed) -> None:
        """Keep the drafts, and update the figures in the next frame."""
        message.stop()
        self.program.workspace.keep_drafts()
        if not self._figures_due:
            self._figures_due = True
            self.call_after_refresh(self._catch_up)

    def _catch_up(self) -> None:
        """Update the figures after the echo of a key was drawn: the echo does not wait for judging."""
        time.sleep(ECHO_S)
        self._figures_due = False
        self.show_derived()

    def on_form_sheet_entered(self, message: FormSheet.Entered) -> None:
        """The current field has changed; what was typed into the last one and cannot be read is said at once."""
        message.stop()
        draft = self.session.drafts.get(message.left) if self.session is not None and message.left is not None else None
        if draft is not None and draft.reason and message.left is not None:
            both = self.session is not None and not self.session.job.front.split
            self.program.say(f"{label(message.left, both_legs=both)}, not read: {draft.reason}", "unread")
        self.program.workspace.remember(self.name_of)
        self.show_derived()

    def on_form_sheet_long_text(self, message: FormSheet.LongText) -> None:
        """Open the text of a field of several lines."""
        message.stop()
        self.write_text(message.path, self.sheet.take_opening_text())

    def next_needed(self, figures: Iterable[Figure]) -> None:
        """Go to the next reading after the current field that some figures wait for; or say that none is missing."""
        needs: list[Path] = list(dict.fromkeys(path for figure in figures for path in figure.needs))
        if not needs:
            self.program.say("No figure needs another reading.")
            return
        at = self.sheet.at
        path = needs[(needs.index(at) + 1) % len(needs)] if at in needs else needs[0]
        if path in self.sheet.grid:
            self.go_to(path)
        else:
            self.program.jump(path)

    def write_text(self, path: Path, first_letters: str = "") -> None:
        """Open a dialog for a text of several lines; once it is taken over, the field after it is the current one.

        Args:
            path: the field.
            first_letters: what was typed into it already.
        """
        session = self.program.session
        if session is None:
            return
        spec = spec_at(path)

        def done(text: str | None) -> None:
            changed = text is not None and text != session.text_of(path)
            self.program.refresh_after(session.put(path, text) if changed else "")
            if self.sheet.at == path:
                self.sheet.action_down_past()

        longest = spec.longest if isinstance(spec, Text) else 80
        from stanchion.ui.screens.dialogs import WriteText  # noqa: PLC0415 - not needed to start

        self.program.push_screen(WriteText(label(path), session.text_of(path) + first_letters, longest), done)

    def action_guide(self) -> None:
        """Take the readings of this screen one at a time; afterwards the sheet is at the last one."""
        from stanchion.bench.guided_measuring import PARTS  # noqa: PLC0415 - not needed to start

        part = next((part for part in PARTS if part == self.name_of), None)
        if part is not None:
            self.begin_guide(part, self.chosen_field)

    def begin_guide(self, part: StepGroup, chosen: Path | None = None) -> None:
        """Take readings one at a time; afterwards the sheet is at the last one, where it has that."""
        from stanchion.ui.screens.guide import GuideScreen  # noqa: PLC0415 - not needed to start

        if self.session is None:
            return
        self.program.leave_fields()
        guide = GuideScreen(part, chosen)

        def left(_: None) -> None:
            self.reload()
            if guide.last_field is not None and (part in ("front", "rear") or guide.last_field in self.sheet.grid):
                self.go_to(guide.last_field)

        self.program.clear_notifications()  # they would cover what to do
        self.program.push_screen(guide, left)

    def trouble(self) -> str:
        """Why the current field cannot be read; where it can, why the job is not saved."""
        session, at = self.session, self.sheet.at
        draft = session.drafts.get(at) if session is not None and at is not None else None
        unread = f"Not read: {clean(draft.reason, 300)}" if draft is not None and draft.reason else ""
        return unread or super().trouble()

    @property
    def chosen_field(self) -> Path | None:
        """The current field, where the user went to it: None for the first, at which a screen begins."""
        at = self.sheet.at
        return at if at != next(iter(self.sheet.grid.places), None) else None

    def leave_field(self) -> None:
        """Accept or drop what was typed into the current field and is unfinished."""
        if self.session is not None and self.is_built and self.sheet.at is not None:
            self.session.leave(self.sheet.at)

    def go_to(self, path: Path) -> None:
        """Go to a field, at once or as soon as the job is shown."""
        if not self.takes_keys:
            self._wanted = path
            return
        self.sheet.go(path)
        self.sheet.take_focus()
