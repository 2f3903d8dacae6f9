"""The worked pages of the help: a list, and each page with its exercise."""

from __future__ import annotations

import textwrap
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from stanchion.bench.exercise import page_of
from stanchion.report.lesson_figures import CODES, LessonCode, lesson_of
from stanchion.ui.screens.app_screen import Dialog
from stanchion.ui.widgets.choices import Choices
from stanchion.ui.widgets.panes import Drawn
from stanchion.units.known_units import Units
from stanchion.wording import lesson_sentences as words
from stanchion.wording.american import worded


class LessonList(Dialog[LessonCode | None]):
    """The list of pages. Gives the one that is chosen."""

    closes_on_go: ClassVar[bool] = True
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss(None)", show=False)]

    def compose(self) -> ComposeResult:
        """Title and list."""
        with Vertical(classes="dialog"):
            yield Static(words.PAGES_TITLE, classes="dialog-title", markup=False)
            yield Choices(*(Option(Content(worded(lesson_of(code).title)), id=code) for code in CODES), markup=False)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Give the page."""
        self.dismiss(CODES[event.option_index])


class LessonScreen(Dialog[bool]):
    """One page. Gives whether its exercise is to begin.

    Args:
        code: which page.
        units: units to show its numbers in.
    """

    closes_on_go: ClassVar[bool] = True
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "dismiss(False)", show=False),
        Binding("enter", "dismiss(True)", show=False, priority=True),
    ]

    def __init__(self, code: LessonCode, units: Units) -> None:
        super().__init__()
        self._page = page_of(code, units)

    def compose(self) -> ComposeResult:
        """Title, the page, keys."""
        with Vertical(classes="dialog full"):
            yield Static(worded(self._page.title), classes="dialog-title", markup=False)
            with VerticalScroll():
                yield Drawn(id="lesson")
            yield Static(words.PAGE_FOOT, classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Show the page and give it the focus, so that the arrows scroll it."""
        self.query_one("#lesson", Drawn).draw(lambda width, _: self._lines(width))
        self.query_one(VerticalScroll).focus()

    def _lines(self, width: int) -> list[Content]:
        lines: list[Content] = []
        for heading, text in self._page.parts:
            lines.append(Content.styled(worded(heading).upper(), "$primary bold"))
            lines += [Content(line) for line in textwrap.wrap(worded(text), max(20, width - 1))]
            lines.append(Content(""))
        return lines
