"""The application as screens and commands see it: the workspace, the current screen, messages and questions."""

from __future__ import annotations

import datetime as dt
import os
import sys
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, Literal, cast, get_args

from textual import events
from textual.driver import Driver
from textual.filter import LineFilter, Monochrome
from textual.screen import ModalScreen
from textual.theme import Theme

from stanchion.base.ascii_only import only_ascii
from stanchion.base.errors import StanchionError
from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.bench.trial import Trial
from stanchion.bench.workspace import Workspace
from stanchion.job.model import Path
from stanchion.judgement.results.parts import Fault
from stanchion.ui.few_colours import Colours, FewerColours, colours_of, is_console
from stanchion.ui.key_order import KeyOrder
from stanchion.ui.keys import Key, elsewhere, shown, with_changes
from stanchion.ui.messages import ShownMessages
from stanchion.ui.present import on_screen
from stanchion.ui.screens.app_screen import AppScreen
from stanchion.ui.space import LEAST, in_lines
from stanchion.ui.textual_hooks import HookedApp, SteadyStylesheet, let_go_of_closed_widgets
from stanchion.ui.widgets.editor import CellEditor
from stanchion.ui.widgets.panes import Drawn
from stanchion.ui.widgets.sheet import FormSheet
from stanchion.units.quantity import MINUS
from stanchion.wording.finding_words import label

if TYPE_CHECKING:
    from stanchion.bench.edit_session import EditSession
    from stanchion.bench.pasted_pairs import PastedText

PartName = Literal[
    "machine",
    "front",
    "rear",
    "sag",
    "adjusters",
    "damping",
    "predict",
    "balance",
    "dampers",
    "linkage",
    "gas",
    "trial",
    "springs",
    "runs",
    "what_to_try",
    "upkeep",
    "earlier",
    "worklist",
]
PARTS: tuple[PartName, ...] = get_args(PartName)
"""The screens of an open job."""


class CoreApp(HookedApp):
    """What screens and commands need of the application.

    Args:
        workspace: files, settings and the open job.
        today: returns the date for a new job.
    """

    _coloured: tuple[Theme, dict[str, str]] | None = None
    """The theme whose colours were computed last, and those colours."""
    _filtered: tuple[Theme, Sequence[LineFilter]] | None = None
    """The theme whose filters were made last, and those filters: they turn it into colours of the terminal."""

    def __init__(self, workspace: Workspace, today: Callable[[], dt.date]) -> None:
        self.only_ascii = only_ascii(workspace.preferences.settings.letters)
        """Whether the terminal has no letters but those of ASCII."""
        super().__init__()
        self.colours = colours_of(self.console.color_system, os.environ)
        """How many colours the terminal has."""
        self.set_class(self.colours is not Colours.FULL or self.no_color, "-few-colours")
        let_go_of_closed_widgets()
        self.stylesheet = SteadyStylesheet(variables={})
        self.workspace = workspace
        self.today = today
        self.now: Callable[[], dt.datetime] = dt.datetime.now
        """Returns the time for a run that is logged now."""
        self.copies: tuple[str, ...] = ()
        """File names of the other copies of the open job."""
        self.last_part = "machine"
        """The screen of the open job that was shown last."""
        self.keys, problems = with_changes(dict(workspace.preferences.settings.keys))
        self.key_order = KeyOrder(self, self.keys)
        self._shown_messages = ShownMessages()
        self.messages: list[str] = [*workspace.problems, *(one.words for one in problems)]
        """Messages to show once there is a screen."""
        self.started = False
        """Whether the first screen is ready; until then nothing is sent to the terminal."""

    # --- terminal and colours -------------------------------------------------------------------------------------

    def get_driver_class(self) -> type[Driver]:
        """The driver of the terminal: on POSIX one that survives line noise."""
        driver = super().get_driver_class()
        if sys.platform != "win32":
            from stanchion.ui.terminal import SteadyDriver  # noqa: PLC0415

            driver = SteadyDriver
        if self.only_ascii:
            from stanchion.ui.ascii_spelling import spelling  # noqa: PLC0415

            driver = spelling(driver)
        return driver

    def get_css_variables(self) -> dict[str, str]:
        """The colours of the theme by their names in stylesheets, computed once for each theme."""
        theme = self.current_theme
        if self._coloured is None or self._coloured[0] is not theme:
            self._coloured = theme, super().get_css_variables()
        return self._coloured[1]

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Filters for everything drawn: they replace colours that the terminal lacks or the user does not want."""
        if self.colours is Colours.FULL and not self.no_color:
            return super().get_line_filters()
        theme = self.current_theme
        if self._filtered is None or self._filtered[0] is not theme:
            usual = [one for one in super().get_line_filters() if not isinstance(one, Monochrome)]
            hues, console = not self.no_color, is_console(os.environ)
            fewer = FewerColours(self.colours, self.get_css_variables(), hues=hues, console=console)
            self._filtered = theme, (*usual, fewer)
        return self._filtered[1]

    def get_default_screen(self) -> AppScreen[None]:
        """The empty screen shown while the first job is being opened."""
        return AppScreen(id="_default")

    # --- what is open and shown -----------------------------------------------------------------------------------

    def key(self, identity: str) -> Key:
        """A row of the key table, with the user's own keys."""
        return next(key for key in self.keys if key.id == identity)

    @property
    def session(self) -> Session | None:
        """The open job."""
        return self.workspace.session

    @property
    def trial(self) -> Trial | None:
        """The trial on a copy of the open job."""
        current = self.workspace.current
        return current.trial if current is not None else None

    @property
    def shown(self) -> AppScreen[Any]:
        """The current screen, typed as all screens of this program are."""
        return cast("AppScreen[Any]", self.screen)

    @property
    def edited(self) -> EditSession[Any] | None:
        """What the current screen changes: the job, a copy on which something is tried, or the spring stock."""
        return self.shown.edited if self.shown.edits else self.session

    # --- going to a screen ----------------------------------------------------------------------------------------

    def action_go(self, name: str) -> None:
        """Show a part of the open job, the list of jobs, or the story of a machine."""
        if name not in ("jobs", "story") and self.session is None:
            new = shown(self.key("job.new").keys)
            self.say(f"No job is open. Choose one in the list and press Enter, or begin one with {new}.")
            return
        self.leave_fields()
        while self.shown.closes_on_go:
            self.pop_screen()
        if name in PARTS:
            self.last_part = name
            self.workspace.remember(name)
        if self.current_mode != name:
            self.switch_mode(name)
        else:
            self.shown.gone_to_while_shown()

    def jump(self, path: Path) -> None:
        """Make a field the current one, on its own screen unless the current one keeps it."""
        if not self.shown.keeps(path):
            self.action_go(on_screen(path))
        self.shown.go_to(path)

    def leave_fields(self) -> None:
        """Accept or drop what was typed into the current field and is unfinished."""
        self.shown.leave_field()

    def refresh_screens(self) -> None:
        """Show the job again after a change that was not made on the current screen."""
        for screen in self.screen_stack:
            cast("AppScreen[Any]", screen).reload()

    def refresh_after(self, words: str) -> None:
        """Show the job again, with a message that says why a change was refused or what was done; empty: no message."""
        if words:
            self.say(words)
        self.refresh_screens()

    # --- messages, questions, dialogs -----------------------------------------------------------------------------

    def on_unused_command(self, key: str) -> None:
        """Say where a key that is pressed does something, as it does nothing here."""
        if words := elsewhere(self.keys, key):
            self.say(words)

    def say(self, message: str, about: str = "") -> None:
        """Show a message that needs no answer.

        Args:
            message: the message.
            about: its subject, of which an earlier message goes; empty: it is about the command key pressed last, and
                takes the place of what was said when that was pressed before.
        """
        press = self.key_order.presses if not about else -1
        shown = self._shown_messages.add(clean(message, 300), about or self.key_order.last_command, press)
        self.show_only((self._fitting(words), seconds) for words, seconds in shown)

    def clear_notifications(self) -> None:
        """Take all messages away."""
        self._shown_messages.clear()
        super().clear_notifications()

    def _fitting(self, words: str) -> str:
        if self.size.width < LEAST[0] or self.size.height < LEAST[1]:  # short, so that it does not cover the field
            words = "\n".join(in_lines(words, self.size.width - 3, max(1, self.size.height // 4)))
        return words

    def ask(
        self, title: str, text: str, answers: Sequence[tuple[str, str]], then: Callable[[str | None], None]
    ) -> None:
        """Ask a question over the current screen.

        Args:
            title: the question in a few words.
            text: what the user should know before answering.
            answers: name and words of each answer.
            then: called with the name of the answer; empty or None if the question was put off.
        """
        from stanchion.ui.screens.dialogs import Question  # noqa: PLC0415 - not needed to start

        self.push_screen(Question(title, text, answers), then)

    def action_commands(self) -> None:
        """List every command under one letter, and run the one that is chosen."""
        from stanchion.ui.screens.dialogs import CommandStrip  # noqa: PLC0415 - not needed to start

        async def chosen(action: str | None) -> None:
            if action:
                on_screen = hasattr(self.screen, f"action_{action.partition('(')[0]}")
                await self.run_action(action, self.screen if on_screen else self)

        self.push_screen(CommandStrip(self.keys, self.shown.name_of), chosen)

    def action_warnings(self) -> None:
        """Show every finding in full; Enter goes to its field."""
        from stanchion.ui.screens.dialogs import FindingsScreen  # noqa: PLC0415 - not needed to start

        session = self.edited
        if not isinstance(session, Session) or isinstance(self.screen, ModalScreen):
            return
        both = not session.job.front.split
        drafts = dict(session.drafts)
        if self.session is not None:  # on the screen of a trial, those of the job too
            drafts |= self.session.drafts
        unread = [(path, f"{label(path, both_legs=both)}: {d.reason}") for path, d in drafts.items() if d.reason]

        def chosen(path: Path | None) -> None:
            if path:
                self.jump(path)

        self.push_screen(FindingsScreen(session.assessment, session.units, unread), chosen)

    def action_why(self) -> None:
        """Explain the figures of this screen: formulas, readings, steps."""
        session = self.edited
        if not isinstance(session, Session) or isinstance(self.screen, ModalScreen):
            return
        from stanchion.ui.screens.why import WhyScreen  # noqa: PLC0415 - not needed to start

        def chosen(path: Path | None) -> None:
            if path:
                self.jump(path)

        self.push_screen(WhyScreen(session, self.shown.name_of or self.current_mode, self.shown.current_field), chosen)

    # --- events ---------------------------------------------------------------------------------------------------

    def on_form_sheet_no_such_word(self, message: FormSheet.NoSuchWord) -> None:
        """Say that the current field is not typed but chosen, and how."""
        how = f"Choose with + and {MINUS}, or by its first letters"
        words = f"'{message.typed}' matches none of the words of this field. {how}: {', '.join(message.words)}."
        self.say(words, about="choice")

    def on_form_sheet_at_end(self, message: FormSheet.AtEnd) -> None:
        """Say that the number goes no further."""
        if isinstance(self.edited, Session):
            from stanchion.wording.adjuster_words import at_end_words  # noqa: PLC0415 - not needed to start

            self.say(at_end_words(self.edited.job, message.path), about="choice")

    def on_cell_editor_pairs_pasted(self, message: CellEditor.PairsPasted) -> None:
        """Take pairs that were pasted, or those of a file whose name was."""
        self.take_pairs(message.path[:-2], message.text)

    def take_pairs(self, rows: Path, text: str) -> None:
        """Take pairs into a list, from lines, or from the file that one line names."""
        current, session = self.workspace.current, self.edited
        if not isinstance(session, Session) or current is None:
            return
        folder = current.open_job.file.path.parent

        def taken(read: PastedText) -> None:
            if self.workspace.current is current:
                said = read.refused or pasted_pairs.take_pairs(session, rows, read.text, read.source)
                self.refresh_after("")
                self.say(said)

        from stanchion.bench import pasted_pairs  # noqa: PLC0415 - not needed to start

        if len(text.splitlines()) > 1:
            taken(pasted_pairs.PastedText(text))
        else:
            read = lambda: self.call_from_thread(taken, pasted_pairs.lines_or_file(text, folder))  # noqa: E731
            self.run_worker(read, thread=True, exclusive=True, group="pairs")

    def on_drawn_failed(self, message: Drawn.Failed) -> None:
        """Record a program error because of which a drawing is missing."""
        self.workspace.note_fault(Fault("drawing", message.error))

    async def on_event(self, event: events.Event) -> None:
        """Process an event; a key also removes the current message, once there was time to read it."""
        if isinstance(event, events.Key) and self._shown_messages.may_go():
            self.clear_notifications()
        is_new = isinstance(event, events.Key | events.Paste) and not event.is_forwarded
        if is_new and await self.key_order.handle(cast("events.Key | events.Paste", event)):
            return
        if isinstance(event, events.InputEvent) and not self.screen_stack:
            return
        await super().on_event(event)

    # --- writing --------------------------------------------------------------------------------------------------

    def write_aside(self, write: Callable[[], None], group: str) -> None:
        """Write something on a worker thread, with a message if that fails.

        Args:
            write: writes, waiting for the disk.
            group: worker group; one for each thing that is written.
        """

        def work() -> None:
            try:
                write()
            except StanchionError as error:
                self.call_from_thread(self.say, str(error))

        self.run_worker(work, thread=True, group=group)

    def save_stock(self) -> None:
        """Write the spring stock."""
        self.write_aside(self.workspace.spring_stock.save, "stock")
