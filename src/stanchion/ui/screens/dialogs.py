"""Dialogs: the command strip, questions, help, the list of findings, a text of several lines."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Sequence
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static, TextArea
from textual.widgets.option_list import Option

from stanchion.base.text import clean, clean_lines
from stanchion.job.model import Path
from stanchion.judgement.results.assessment import Assessment
from stanchion.ui import present
from stanchion.ui.help_reference import GENERAL
from stanchion.ui.help_search import fitted, parts_about
from stanchion.ui.help_text import PARTS, WIDTH, HelpPart
from stanchion.ui.keys import Key, help_rows, name_rows, shown
from stanchion.ui.screens.app_screen import Dialog
from stanchion.ui.space import cut
from stanchion.ui.widgets.choices import Choices
from stanchion.ui.widgets.panes import Drawn
from stanchion.units.known_units import Units
from stanchion.wording.american import in_british, worded
from stanchion.wording.finding_words import caution

THREE, THREE_WITH_KEYS = 60, 76
"""Columns from which there is room for three commands in a line; and for their direct keys too."""
HELP_TITLE = "Help. Arrows scroll, letters search, Enter: worked pages, Esc goes back."
LONGEST_SEARCH = 30
FEWEST_ANSWERS = 4
"""Lines for the answers to a question, where there are as many."""


class CommandStrip(Dialog[str]):
    """After Esc: every command under one letter. Gives the command's action, or "" for back."""

    closes_on_go: ClassVar[bool] = True
    takes_letters: ClassVar[bool] = True
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss('')", show=False)]

    def __init__(self, keys: Sequence[Key], screen: str) -> None:
        super().__init__()
        self._keys = [key for key in keys if key.letter and (not key.on or key.on == screen)]

    def compose(self) -> ComposeResult:
        """The letters in columns."""
        with Vertical(classes="dialog strip"):
            yield Static("Press a letter, or Esc to go back", classes="dialog-title", markup=False)
            with VerticalScroll(can_focus=False):
                yield Drawn(id="strip-table")

    def on_mount(self) -> None:
        """Show the letters in as many columns as there is room for."""
        self.query_one("#strip-table", Drawn).draw(lambda width, _: self._table(width))

    def _table(self, width: int) -> list[Content]:
        lines: list[Content] = []
        with_keys = width >= THREE_WITH_KEYS or width < THREE
        columns = 3 if width >= THREE else max(1, width // (THREE_WITH_KEYS // 3))
        rows = -(-len(self._keys) // columns)
        for at in range(rows):
            line = Content("")
            for key in self._keys[at::rows]:
                direct = shown(key.keys) if key.keys and with_keys else ""
                line += Content.styled(f" {key.letter} " if with_keys else key.letter, "$primary bold reverse")
                line += Content(f" {worded(key.words):<18}") + Content.styled(
                    f"{direct:<4}" if with_keys else "", "$text-muted"
                )
            lines.append(line)
        return lines

    def on_key(self, event: events.Key) -> None:
        """Return the command of a letter; arrows and page keys scroll; any other key does nothing."""
        step = {"up": -1, "down": 1, "pageup": -5, "pagedown": 5}.get(event.key)
        if step is not None:
            event.stop()
            self.query_one(VerticalScroll).scroll_relative(y=step, animate=False)
            return
        for key in self._keys:
            if event.character == key.letter or (key.keys and event.key in key.keys.split(",")):
                event.stop()
                self.dismiss(key.action)
                return


class Question(Dialog[str]):
    """A question with a few answers, each with a word of its own. Gives the answer's name; Esc gives ""."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "dismiss('')", show=False)]

    def __init__(self, title: str, text: str, answers: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        self._title, self._text, self._answers = title, text, answers

    def compose(self) -> ComposeResult:
        """Title, text, answers."""
        with Vertical(classes="dialog"):
            yield Static(clean(self._title), classes="dialog-title", markup=False)
            yield Drawn(id="question-text")
            yield Choices(*(Option(Content(words), id=name) for name, words in self._answers), markup=False)
            yield Static("Arrows and Enter choose; Esc decides later.", classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Show the text, cut with a mark where the answers would not fit below it."""
        around = 2 + 2 + min(len(self._answers), FEWEST_ANSWERS)
        most = max(1, self.app.size.height - around)

        def drawing(width: int, _: int) -> list[Content]:
            parts = [
                part for line in clean_lines(self._text).split("\n") for part in textwrap.wrap(line, width) or [""]
            ]
            if len(parts) > most:
                parts[most - 1] = cut(f"{parts[most - 1]} {parts[most]}", width)
            return [Content(part) for part in parts[:most]]

        self.query_one("#question-text", Drawn).draw(drawing)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Return the answer."""
        self.dismiss(event.option.id or "")


class FindingsScreen(Dialog[Path | None]):
    """Every finding in full, worst first, and the cautions. Enter gives the path of the field to go to."""

    closes_on_go: ClassVar[bool] = True
    closed_by: ClassVar[str] = "screen.warnings"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,f6", "dismiss(None)", show=False)]

    def __init__(self, assessment: Assessment, units: Units, extra: Sequence[tuple[Path, str]]) -> None:
        super().__init__()
        self._assessment, self._units, self._extra = assessment, units, extra

    def compose(self) -> ComposeResult:
        """Findings to choose from, then cautions."""
        with Vertical(classes="dialog full"):
            yield Static("Warnings, worst first. Enter goes to the field.", classes="dialog-title", markup=False)
            yield Choices(markup=False)
            yield Static("Esc goes back. Command keys work here too.", classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Fill the list to the width there is."""
        self.call_after_refresh(self._fill)

    def _fill(self) -> None:
        choices = self.query_one(Choices)
        width = max(20, choices.size.width - 4)
        paths: list[Path | None] = []
        for path, words in self._extra:
            choices.add_option(Option(Content.styled("✖ NOT READ ", "$fault bold") + Content(clean(words))))
            paths.append(path)
        for finding in self._assessment.findings:
            lines = present.finding_lines_of(finding, self._units, width)
            choices.add_option(Option(Content("\n").join(lines)))
            paths.append(finding.where)
        if not paths:
            choices.add_option(Option(Content("Nothing to warn about in what is entered."), disabled=True))
            paths.append(None)
        for code in self._assessment.cautions:
            choices.add_option(Option(Content.styled("CAUTION ", "bold") + Content(caution(code))))
            paths.append(None)
        self._paths = paths
        choices.highlighted = 0
        choices.focus()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Go to where the finding is."""
        path = self._paths[event.option_index]
        if path is not None:  # a caution leads nowhere; it can be gone to so that it can be read
            self.dismiss(path)


class HelpScreen(Dialog[bool]):
    """The keys, how values are typed, what the figures are and how they are worked out; the current screen first.

    Letters that are typed search it: then only what has them is shown. Enter leads to the worked pages: then it gives
    True.

    Args:
        keys: the table of keys.
        screen: name of the current screen; empty: none of them.
    """

    closes_on_go: ClassVar[bool] = True
    closed_by: ClassVar[str] = "help"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,f1", "dismiss(False)", show=False),
        Binding("enter", "dismiss(True)", show=False, priority=True),
    ]

    def __init__(self, keys: Sequence[Key], screen: str = "") -> None:
        super().__init__()
        self._keys, self._screen = keys, screen
        self._searched = ""

    def compose(self) -> ComposeResult:
        """Title and text."""
        with Vertical(classes="dialog full"):
            yield Static(HELP_TITLE, classes="dialog-title", markup=False)
            with VerticalScroll():
                yield Drawn(id="help-text")

    def _whole(self, width: int) -> list[Content]:
        """What belongs to the current screen, then all keys and everything else."""
        here = [part for part in PARTS if self._screen in part.screens]
        others = [part for part in PARTS if part not in here]
        own = [key for key in self._keys if key.on and key.on == self._screen]
        shown_parts = [*_key_rows("Keys of this screen", own, width)] if own else []
        for part in here:
            shown_parts += _part(part, width)
        shown_parts += _key_rows("All keys", self._keys, width)
        for part in (GENERAL[0], *others, *GENERAL[1:]):
            shown_parts += _part(part, width)
        names = [Content(row) for row in name_rows(self._keys)]
        return [*shown_parts, _heading("Names for [keys] in config.toml"), *names, Content("")]

    def _found(self, typed: str, width: int) -> list[Content]:
        """The keys and parts with these words, the words marked."""
        words = typed.casefold().split()
        keys = [key for key in self._keys if all(word in worded(key.words).casefold() for word in words)]
        lines = _key_rows("Keys", keys, width) if keys else []
        for part in parts_about(typed):
            lines += _part(part, width)
        if not lines:
            return [Content("Nothing has these words. Backspace deletes letters.")]
        marked = "|".join(re.escape(word) for word in {*words, *in_british(typed).casefold().split()})
        return [line.highlight_regex(f"(?i){marked}", style="bold underline") for line in lines]

    def on_key(self, event: events.Key) -> None:
        """Search for the letters typed so far; Backspace takes the last one back."""
        if event.key == "backspace":
            typed = self._searched[:-1]
        elif event.character and event.is_printable and len(self._searched) < LONGEST_SEARCH:
            typed = self._searched + event.character
        else:
            return
        event.stop()
        self._searched = typed.lstrip()
        searching = f"Help on: {self._searched}▏ Backspace deletes letters, Esc goes back."
        self.query_one(".dialog-title", Static).update(searching if self._searched else HELP_TITLE)
        self._draw()
        self.query_one(VerticalScroll).scroll_home(animate=False)

    def _draw(self) -> None:
        typed = self._searched
        text = self.query_one("#help-text", Drawn)
        text.draw(lambda width, _: self._found(typed, width) if typed.strip() else self._whole(width))

    def on_mount(self) -> None:
        """Show the text and give it the focus, so that the arrows scroll it."""
        self._draw()
        self.query_one(VerticalScroll).focus()


def _key_rows(title: str, keys: Sequence[Key], width: int) -> list[Content]:
    """A line for each key, closer together where there is little room."""
    direct_columns, letter_columns, words_columns = (8, 11, 27) if width >= WIDTH else (5, 4, 25)
    head = f"{'direct  after Esc' if width >= WIDTH else 'key  Esc':<{direct_columns + letter_columns + words_columns}}"
    rows = [_heading(title), Content.styled(f"{head}only on", "$text-muted")]
    rows += [
        Content.styled(f"{direct:<{direct_columns}}{letter:<{letter_columns}}", "$figure bold")
        + Content(f"{words:<{words_columns}}{on}".rstrip())
        for direct, letter, words, on in help_rows(keys)
    ]
    return [*rows, Content("")]


def _heading(title: str) -> Content:
    return Content.styled(worded(title).upper(), "$primary bold")


def _part(part: HelpPart, width: int) -> list[Content]:
    return [_heading(part.title), Content(fitted(part.text, width)), Content("")]


class WriteText(Dialog[str]):
    """Room for a text of several lines. Esc, Tab or a second Enter takes it over."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,tab", "done", show=False, priority=True),
        Binding("enter,ctrl+j", "line_or_done", show=False, priority=True),
    ]

    def __init__(self, title: str, text: str, longest: int) -> None:
        super().__init__()
        self._title, self._text, self._longest = title, text, longest

    def compose(self) -> ComposeResult:
        """Title and text."""
        with Vertical(classes="dialog wide"):
            yield Static(self._title, classes="dialog-title", markup=False)
            yield TextArea(clean_lines(self._text), soft_wrap=True)
            keys = "Enter twice, Tab or Esc accepts the text; Enter once begins a new line."
            foot = f"{keys} At most {self._longest} characters."
            yield Static(foot, classes="dialog-foot", markup=False)

    def on_mount(self) -> None:
        """Put the cursor at the end of the text."""
        area = self.query_one(TextArea)
        area.move_cursor(area.document.end)

    def on_key(self, event: events.Key) -> None:
        """Insert a letter that was typed before the text had the focus."""
        area = self.query_one(TextArea)
        if event.character and event.is_printable and not area.has_focus:
            event.stop()
            area.insert(event.character)

    def action_line_or_done(self) -> None:
        """Enter: a new line; on an empty last line there is nothing to add, and the text is taken over."""
        area = self.query_one(TextArea)
        last = area.document.end
        if area.cursor_location == last and not area.document.get_line(last[0]).strip():
            self.action_done()
        else:
            area.insert("\n")

    def action_done(self) -> None:
        """Take the text over; one that is too long stays here, nothing of it is lost."""
        self._take_over()

    def close_to_quit(self) -> bool:
        """Take the text over first; stay open with one that is too long."""
        return self._take_over()

    def _take_over(self) -> bool:
        """Return the text, without empty lines at its end; False where it is too long and stays here."""
        text = clean_lines(self.query_one(TextArea).text).rstrip()
        if len(text) > self._longest:
            message = f"{len(text)} characters: shorten it to {self._longest}, then Esc"
            self.query_one(".dialog-foot", Static).update(Content.styled(message, "$fault bold"))
            return False
        self.dismiss(text)
        return True
