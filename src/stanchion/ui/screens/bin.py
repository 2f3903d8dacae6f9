"""The deleted jobs: Enter brings one back; the bin is emptied after a question."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from stanchion.base.text import clean
from stanchion.store.deleted import Deleted
from stanchion.ui.screens.app_screen import Dialog
from stanchion.ui.widgets.choices import Choices
from stanchion.wording.kept_states import when_words


class BinScreen(Dialog[Deleted | str | None]):
    """Gives the job to bring back, "empty", or None for back."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,f7", "dismiss(None)", show=False),
        Binding("ctrl+d", "empty", show=False),
    ]

    def __init__(self, lying: Sequence[Deleted], today: dt.date) -> None:
        super().__init__()
        self._lying, self._today = lying, today

    def compose(self) -> ComposeResult:
        """When each was deleted, and its name."""
        with Vertical(classes="dialog full"):
            yield Static("The bin: deleted jobs, the last one first", classes="dialog-title", markup=False)
            rows = [Option(self._row(one)) for one in self._lying]
            yield Choices(*(rows or [Option(Content("The bin is empty."), disabled=True)]), markup=False)
            foot = "Enter brings it back · ^D empties the bin, after asking · Esc back"
            yield Static(foot if rows else "Esc back", classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Put the bar on the job deleted last."""
        choices = self.query_one(Choices)
        choices.highlighted = 0 if self._lying else None
        choices.focus()

    def _row(self, one: Deleted) -> Content:
        when = when_words(one.at.astimezone(), self._today)
        return Content.styled(f"{when:<16}", "$text-muted") + Content(clean(one.name, 120))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Return the job to bring back."""
        self.dismiss(self._lying[event.option_index])

    def action_empty(self) -> None:
        """Return that the bin is to be emptied."""
        if self._lying:
            self.dismiss("empty")
