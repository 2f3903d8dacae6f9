"""Damper sheets of the job: what holds of each, forces at stated speeds, what a click does, one beside another."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget

from stanchion.bench.session import Session
from stanchion.ui import keys, present
from stanchion.ui.damper_form import damper_form
from stanchion.ui.damper_lines import damper_pages
from stanchion.ui.form_lines import Form
from stanchion.ui.screens.sheet_screen import SheetScreen
from stanchion.ui.widgets.pages import Pages


class DampersScreen(SheetScreen):
    """Worked out only while this screen is shown; the figures are those of the sheet with the current field."""

    CSS_PATH = "../styles/dampers.tcss"
    name_of = "dampers"
    form: ClassVar[Form] = staticmethod(damper_form)
    label_width = 21
    cell_width = 18
    BINDINGS: ClassVar[list[BindingType]] = [*keys.bindings("dampers")]

    def figures(self) -> list[Widget]:
        """The pages of the sheet."""
        return [Pages(id="damper", classes="pane")]

    @property
    def _current(self) -> int:
        """Which sheet the current field is of."""
        at, session = self.sheet.at, self.session
        count = len(session.job.damper_sheets) if session is not None else 0
        return min(int(at[1]), max(0, count - 1)) if at is not None and at[:1] == ("damper_sheets",) else 0

    def show_figures(self, session: Session) -> None:
        """Work the pages out and show them."""
        at, plain = self._current, self.program.only_ascii
        self.query_one("#damper", Pages).draw_pages(
            lambda width, height: self._pages(session, at, width - 1, height, plain=plain), (session, at)
        )

    @staticmethod
    def _pages(session: Session, at: int, width: int, height: int, *, plain: bool) -> Sequence[Sequence[Content]]:
        none: list[list[Content]] = [[present.NOT_JUDGED]]
        return session.judged(
            "prediction", none, damper_pages, session.job, at, session.units, width, height, plain=plain
        )

    def short(self, session: Session) -> Sequence[Content]:
        """The same in the few lines there are."""
        pages = self._pages(session, self._current, self.size.width - 2, 10_000, plain=self.program.only_ascii)
        return [line for page in pages for line in page]

    def short_about(self) -> object:
        """The sheet it is about."""
        return self._current

    def action_turn_page(self, step: int) -> None:
        """Turn the pages, beside the form or below it."""
        if self.narrow:
            super().action_turn_page(step)
        else:
            self.query_one("#damper", Pages).turn(step)

    def action_import_sheet(self) -> None:
        """Read a file of a dynamometer."""
        from stanchion.ui.screens.damper_import import DamperImportScreen  # noqa: PLC0415

        if self.session is None:
            return
        self.program.leave_fields()
        self.program.push_screen(DamperImportScreen(), self._imported)

    def _imported(self, words: str | None) -> None:
        if words:
            self.sheet.at = None
            self.program.refresh_after(words)
            session = self.session
            if session is not None and session.job.damper_sheets:
                self.go_to(("damper_sheets", len(session.job.damper_sheets) - 1, "damper"))

    def action_delete_sheet(self) -> None:
        """Take the current sheet out of the job; undo brings it back."""
        session = self.session
        if session is None or not session.job.damper_sheets:
            self.program.say("There is no damper sheet to take out.")
            return
        at = self._current
        undo = keys.shown(self.program.key("undo").keys)
        self.program.refresh_after(
            session.remove_row(("damper_sheets",), at) or f"Damper sheet {at + 1} is taken out. {undo} brings it back."
        )
