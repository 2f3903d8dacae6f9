"""The stock of springs, edited as a sheet and saved by itself."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.events import Key
from textual.widgets import Static

from stanchion.base.text import clean
from stanchion.bench.stock_session import StockSession
from stanchion.job.model import Path
from stanchion.job.spec import Number
from stanchion.ui.present import MARK
from stanchion.ui.screens.job_screen import WorkScreen
from stanchion.ui.space import fitting
from stanchion.ui.stock_form import stock
from stanchion.ui.widgets.sheet import FormSheet
from stanchion.units.quantity import show
from stanchion.wording.finding_words import choice_word, sentence

FIELDS = {
    "end": "for the fork or the shock",
    "rate_n_per_mm": "rate",
    "free_length_mm": "free length",
    "count": "how many of it",
    "wire_mm": "wire diameter",
    "outer_mm": "coil outside diameter",
    "total_coils": "coils in total",
    "ends": "spring ends",
    "solid_length_mm": "solid length, measured",
    "label": "what it is called",
}
"""The names of the fields of a spring in full; the heads of the columns are short."""


class StockScreen(WorkScreen):
    """Springs to hand; leaving saves, and so does every field that is left."""

    CSS_PATH = "../styles/springs.tcss"
    AUTO_FOCUS: ClassVar[str | None] = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,f7", "done", show=False),
        Binding("f8", "remove_row", show=False, priority=True),
    ]

    @property
    def edited(self) -> StockSession:
        """The stock."""
        return self.program.workspace.spring_stock.session

    def compose(self) -> ComposeResult:
        """Title, sheet, message, keys."""
        yield Static(Content.styled(" STOCK OF SPRINGS", "$primary bold"), id="stock-title", markup=False)
        yield VerticalScroll(FormSheet(stock, label_width=13, cell_width=8), can_focus=False)
        yield Static(id="stock-message", markup=False)
        yield Static(id="keys", markup=False)

    def on_mount(self) -> None:
        """Show the stock."""
        self.reload()

    def on_resize(self) -> None:
        """As many keys are named as there is room for."""
        hints = ["Enter next", "Tab across", "+ − step", "F8 takes the spring away", "^Z undo"]
        foot = fitting(hints, ["Esc saves and goes back"], self.size.width - 1)
        self.query_one("#keys", Static).update(Content.styled(f" {foot}", "$text-muted"))

    async def on_key(self, event: Key) -> None:
        """Give the sheet a key that came before it had the focus."""
        await self.query_one(FormSheet).on_key(event)

    def leave_field(self) -> None:
        """Accept or drop what is unfinished in the current field, and save the stock."""
        sheet = self.query_one(FormSheet)
        if sheet.at is not None:
            self.program.workspace.spring_stock.session.leave(sheet.at)
        self.program.save_stock()

    def reload(self) -> None:
        """Show the stock again."""
        sheet = self.query_one(FormSheet)
        sheet.show(self.program.workspace.spring_stock.session)
        self.say()
        self.call_after_refresh(sheet.take_focus)

    def say(self) -> None:
        """Show below the sheet what cannot be read, of the file or of what was typed; otherwise the current field."""
        stock, at = self.program.workspace.spring_stock.session, self.query_one(FormSheet).at
        unread = next(((path, draft) for path, draft in stock.drafts.items() if draft.reason), None)
        trouble = " ".join(self.program.workspace.spring_stock.problems)
        if unread is not None:
            trouble = f"{_name(unread[0])}: {unread[1].reason}"
        line = Content.styled(clean(trouble, 300), "$fault bold")
        asked = stock.unlikely(int(at[0])) if at is not None and not trouble else None
        if not trouble and at is not None:
            line = Content.styled(f"{_name(at)}: ", "$primary bold") + Content.styled(
                _value_words(stock, at), "$figure bold"
            )
        if asked is not None:
            line += Content.styled(f"\n{MARK[asked.severity]} {sentence(asked, stock.units)}", "$warn bold")
        self.query_one("#stock-message", Static).update(line)

    def on_form_sheet_changed(self, message: FormSheet.Changed) -> None:
        """Say what cannot be read."""
        message.stop()
        self.say()

    def on_form_sheet_entered(self, message: FormSheet.Entered) -> None:
        """A field was left: what is there is saved."""
        message.stop()
        self.program.save_stock()
        self.say()

    def action_remove_row(self) -> None:
        """Delete the current spring; undo brings it back."""
        sheet = self.query_one(FormSheet)
        if sheet.at is not None and self.program.workspace.spring_stock.session.remove(int(sheet.at[0])):
            self.program.save_stock()
            self.reload()

    def action_done(self) -> None:
        """Save and go back."""
        self.leave_field()
        self.dismiss(None)


def _name(path: Path) -> str:
    return f"Spring {int(path[0]) + 1}, {FIELDS[str(path[1])]}"


def _value_words(stock: StockSession, path: Path) -> str:
    """The value of a field, with its unit."""
    value, spec = stock.value(path), stock.spec(path)
    if stock.options(path):
        return f"{choice_word(path, value)} · Space changes it"
    if not isinstance(spec, Number):
        return clean(str(value or ""))
    return "empty" if value is None else show(value, spec.kind, stock.units)
