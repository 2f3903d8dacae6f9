"""The van's stock of springs, edited as a sheet and saved by itself."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from stanchion.stock_session import StockSession
from stanchion.text import clean
from stanchion.ui import forms
from stanchion.ui.screens.job_screen import WorkScreen
from stanchion.ui.widgets.sheet import Sheet


class StockScreen(WorkScreen):
    """Springs to hand; leaving saves, and so does every field that is left."""

    AUTO_FOCUS: ClassVar[str | None] = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,f7", "done", show=False),
        Binding("f8", "remove_row", show=False, priority=True),
    ]

    @property
    def in_hand(self) -> StockSession:
        """The stock."""
        return self.bench.desk.stock

    def compose(self) -> ComposeResult:
        """Title, sheet, message, keys."""
        yield Static(Content.styled(" SPRINGS IN THE VAN", "$primary bold"), id="stock-title", markup=False)
        yield VerticalScroll(Sheet(forms.stock, label_width=13, cell_width=8), can_focus=False)
        yield Static(id="stock-message", markup=False)
        hints = " Enter next · Tab across · + − step · F8 takes the spring away · ^Z undo · Esc saves and goes back"
        yield Static(Content.styled(hints, "$text-muted"), id="keys", markup=False)

    def on_mount(self) -> None:
        """Show the stock."""
        self.reload()
        self.say(" ".join(self.bench.desk.stock_problems))

    def reload(self) -> None:
        """Show the stock anew."""
        sheet = self.query_one(Sheet)
        sheet.show(self.bench.desk.stock)
        self.call_after_refresh(sheet.take_focus)

    def say(self, message: str) -> None:
        """A line below the sheet."""
        self.query_one("#stock-message", Static).update(Content.styled(clean(message, 300), "$fault bold"))

    def on_sheet_changed(self, message: Sheet.Changed) -> None:
        """Say what cannot be read."""
        message.stop()
        reasons = [draft.reason for draft in self.bench.desk.stock.drafts.values() if draft.reason]
        self.say(reasons[0] if reasons else "")

    def on_sheet_entered(self, message: Sheet.Entered) -> None:
        """A field was left: what is there is saved."""
        message.stop()
        self.bench.save_stock()

    def action_remove_row(self) -> None:
        """Take the spring in hand away; undo brings it back."""
        sheet = self.query_one(Sheet)
        if sheet.at is not None and self.bench.desk.stock.remove(int(sheet.at[0])):
            self.bench.save_stock()
            self.reload()

    def action_done(self) -> None:
        """Save and go back."""
        sheet = self.query_one(Sheet)
        if sheet.at is not None:
            self.bench.desk.stock.leave(sheet.at)
        self.bench.save_stock()
        self.dismiss(None)
