"""What every part of the application stands on: the workspace, the screens, where to be, and a word to the user."""

from __future__ import annotations

import asyncio
import contextlib
import datetime as dt
import os
import sys
import time
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from textual import events
from textual.content import Content
from textual.dom import DOMNode
from textual.driver import Driver
from textual.filter import LineFilter, Monochrome
from textual.theme import Theme

from stanchion.base.ascii_only import only_ascii
from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.bench.trial import Trial
from stanchion.bench.workspace import Workspace
from stanchion.job.model import Path
from stanchion.judgement.results.parts import Fault
from stanchion.ui.keys import Key, after_escape, with_changes
from stanchion.ui.present import on_screen
from stanchion.ui.screens.job_screen import JobScreen, WorkScreen
from stanchion.ui.screens.modal import OnStack, Over
from stanchion.ui.space import LEAST, in_lines
from stanchion.ui.terminal_colours import Colours, colours_of, is_console
from stanchion.ui.textual_hooks import HookedApp, SteadyStylesheet, is_closing, let_go_of_closed_widgets
from stanchion.ui.widgets.panes import Drawn
from stanchion.ui.widgets.sheet import Sheet
from stanchion.wording.finding_words import label

if TYPE_CHECKING:
    from stanchion.bench.stock_session import StockSession

PARTS = ("machine", "front", "rear", "sag", "predict", "trial", "springs", "runs", "upkeep", "earlier", "worklist")
"""The screens of an open job."""
STANDS_S = 8.0
"""How long a message stands while no key is pressed."""
CATCHES_UP_S = 10.0
"""A key waits so long at most for the screen it is for: never, unless something is wrong with that screen."""
LOOKS_S = 0.05
"""Meanwhile it is looked so often whether there is anything to wait for still."""
READ_S = 1.0
"""A key within this time takes a message away unread, so it does not."""


class CoreApp(HookedApp):
    """The workspace and the way about.

    Args:
        workspace: files, settings and the open job.
        today: gives the day a new job is dated.
    """

    _coloured: tuple[Theme, dict[str, str]] | None = None
    """The theme last asked for, and its colours."""
    _filtered: tuple[Theme, Sequence[LineFilter]] | None = None
    """The theme last drawn in, and what puts it into the colours there are."""

    def __init__(self, workspace: Workspace, today: Callable[[], dt.date]) -> None:
        self.only_ascii = only_ascii(workspace.preferences.settings.letters)
        """Whether the terminal has no letters but those of ASCII."""
        super().__init__()
        self.colours = colours_of(self.console.color_system, os.environ)
        """What the terminal can show."""
        self.set_class(self.colours is not Colours.FULL or self.no_color, "-few-colours")
        let_go_of_closed_widgets()
        self.stylesheet = SteadyStylesheet(variables={})
        self.workspace = workspace
        self.today = today
        self.now: Callable[[], dt.datetime] = dt.datetime.now
        """The time a run is logged at."""
        self.last_part = "machine"
        self.keys, problems = with_changes(dict(workspace.preferences.settings.keys))
        self._commands = {one for key in self.keys for one in key.keys.split(",") if key.on != "jobs"}
        self._said_at: float | None = None
        """When the last message was shown, by a clock of its own; None: none is."""
        self.messages: list[str] = [*workspace.problems, *(one.words for one in problems)]
        self.begun = False
        """Whether what is drawn is sent to the terminal."""

    def get_driver_class(self) -> type[Driver]:
        """What reads and writes the terminal: on POSIX our own, which noise cannot end."""
        driver = super().get_driver_class()
        if sys.platform != "win32":
            from stanchion.ui.terminal import SteadyDriver  # noqa: PLC0415

            driver = SteadyDriver
        if self.only_ascii:
            from stanchion.ui.ascii_spelling import spelling  # noqa: PLC0415

            driver = spelling(driver)
        return driver

    def get_css_variables(self) -> dict[str, str]:
        """The colours of the theme by their names in stylesheets: asked for often, and blended once a theme."""
        theme = self.current_theme
        if self._coloured is None or self._coloured[0] is not theme:
            self._coloured = theme, super().get_css_variables()
        return self._coloured[1]

    def get_line_filters(self) -> Sequence[LineFilter]:
        """What all that is drawn passes through: where colours are few or not wanted, into those there are."""
        if self.colours is Colours.FULL and not self.no_color:
            return super().get_line_filters()
        theme = self.current_theme
        if self._filtered is None or self._filtered[0] is not theme:
            from stanchion.ui.few_colours import FewerColours  # noqa: PLC0415 - not needed in full colour

            textual_s = [one for one in super().get_line_filters() if not isinstance(one, Monochrome)]
            hues, console = not self.no_color, is_console(os.environ)
            ours = FewerColours(self.colours, self.get_css_variables(), hues=hues, console=console)
            self._filtered = theme, (*textual_s, ours)
        return self._filtered[1]

    def key(self, identity: str) -> Key:
        """A row of the key table as the user has it."""
        return next(key for key in self.keys if key.id == identity)

    @property
    def session(self) -> Session | None:
        """The open job."""
        return self.workspace.session

    @property
    def trial(self) -> Trial | None:
        """What is being tried on the open job."""
        return self.workspace.trial

    @property
    def in_hand(self) -> Session | StockSession | None:
        """What the screen shown changes: the job, a copy on which something is tried, or the stock."""
        return self.screen.in_hand if isinstance(self.screen, WorkScreen) else self.session

    # --- where to be ----------------------------------------------------------------------------------------------

    def action_go(self, name: str) -> None:
        """Show a part of the open job, the list of jobs, or the story of a machine."""
        if name not in ("jobs", "story") and self.session is None:
            return
        self.leave_fields()
        while getattr(self.screen, "passing", False):
            self.pop_screen()
        if name in PARTS:
            self.last_part = name
            self.remember(name)
        if self.current_mode != name:
            self.switch_mode(name)

    def remember(self, part: str) -> None:
        """Note where we are, for the next start."""
        self.workspace.remember(part)

    def leave_fields(self) -> None:
        """The field in hand is left: what was merely unfinished is settled."""
        if isinstance(self.screen, WorkScreen):
            self.screen.leave_field()

    def refresh_bench(self) -> None:
        """The job was changed from outside the sheet."""
        for screen in self.screen_stack:
            if isinstance(screen, WorkScreen):
                screen.reload()

    def say(self, message: str) -> None:
        """A message that needs no answer."""
        self._said_at = time.monotonic()
        told = clean(message, 300)
        if self.size.width < LEAST[0] or self.size.height < LEAST[1]:  # not over the field in hand
            told = "\n".join(in_lines(told, self.size.width - 3, max(1, self.size.height // 4)))
        self.notify(told, markup=False, timeout=STANDS_S)

    def ask(
        self, title: str, text: str, answers: Sequence[tuple[str, str]], then: Callable[[str | None], None]
    ) -> None:
        """Ask, over the screen in hand.

        Args:
            title: what about.
            text: what there is to know.
            answers: name and words of each.
            then: gets the name of the answer; empty where it was put off.
        """
        from stanchion.ui.screens.dialogs import Question  # noqa: PLC0415 - not needed to start

        self.push_screen(Question(title, text, answers), then)

    def on_drawn_failed(self, message: Drawn.Failed) -> None:
        """A drawing was left out by an error of the program, which is written down."""
        self.workspace.note_fault(Fault("drawing", message.error))

    async def on_event(self, event: events.Event) -> None:
        """A key takes away what was said before it, once there was time to see it; one that is a command is obeyed."""
        said = self._said_at
        if said is not None and isinstance(event, events.Key) and time.monotonic() - said >= READ_S:
            self._said_at = None
            self.clear_notifications()
        if isinstance(event, events.Key | events.Paste) and not event.is_forwarded:
            if not await self._any_screen():
                return
            await self.take_results()  # what a screen gave that was left by a key before this one
            letter = after_escape(event) if isinstance(event, events.Key) else ""
            if letter:
                await self._escape_and(letter)
                return
            if isinstance(event, events.Key) and await self._obeyed(event):
                return
        if isinstance(event, events.InputEvent) and not self.screen_stack:
            return
        await super().on_event(event)

    async def _escape_and(self, letter: str) -> None:
        """Obey Esc and a letter that came as one: the letter is never text in a field that is saved.

        Where Esc opens the commands it is one of them; on a list that Esc does not leave it filters; a screen that
        every command leaves is left for it; elsewhere only Esc counts.
        """
        from stanchion.ui.screens.dialogs import CommandStrip  # noqa: PLC0415 - not needed to start

        before, key = self.screen, events.Key(letter, letter)
        if isinstance(before, Over):
            await self._typed_before()
            if before.left:
                before = self.screen
        if not isinstance(before, CommandStrip):
            await self.on_event(events.Key("escape", "\x1b"))
            await self._typed_before()
            now = self.screen
            if now is before and isinstance(now, WorkScreen | Over):
                return
            if now is not before and not isinstance(now, CommandStrip):
                if getattr(before, "passing", False):
                    await self._escape_and(letter)
                return
        await self.on_event(key)

    async def _any_screen(self) -> bool:
        """Wait for a screen to be on the stack; whether there is one: at the end nobody takes keys any more."""
        while not self.screen_stack and not self.is_exiting and self.is_running:
            await asyncio.sleep(LOOKS_S)
        return bool(self.screen_stack)

    async def _obeyed(self, event: events.Key) -> bool:
        """Obey a command in its turn; whether the key was one.

        Textual looks a key up only after the widget in hand has let it pass, and gives that the next keys meanwhile:
        over a slow line many come together, and digits meant for the screen a key leads to went into the one before.
        Keys it looks up first, such as Enter on a list, came before the letters typed into the filter.
        """
        over = self.screen
        if isinstance(over, Over):
            await self._typed_before()
            if over.left:  # by a key before this one, which is first taken where that one leads
                self.call_next(self.on_event, event)
                return True
            if event.key == "escape":
                return await self.run_binding(event.key)
            if event.key in self._commands and not over.passing:  # it means here what it means here, and nothing later
                await self.run_binding(event.key)
                return True
            return False
        await self._caught_up()
        if event.key in self._commands or event.key == "escape":
            await self._typed_before()
            return await self.run_binding(event.key)
        if not isinstance(self.screen, WorkScreen) and not event.is_printable:
            await self._typed_before()
        return False

    async def _typed_before(self) -> None:
        """Wait until what came before has been taken by the widget it was given to, and by all above that hear of it.

        Each is asked twice: a key that it takes before the first answer may send it a message, which it takes before
        the second.
        """
        end = time.monotonic() + CATCHES_UP_S
        left, taken = [taker for taker in self._takers() for _ in range(2)], asyncio.Event()
        asked: DOMNode | None = None

        def ask_next() -> None:
            nonlocal asked
            while left:
                asked = left.pop(0)
                if asked.call_later(ask_next):  # one that is being closed takes nothing more
                    return
            taken.set()

        ask_next()
        while not taken.is_set() and time.monotonic() < end:
            with contextlib.suppress(TimeoutError):
                await asyncio.wait_for(taken.wait(), LOOKS_S)
            if asked is not None and is_closing(asked):
                ask_next()

    def _takers(self) -> list[DOMNode]:
        """The screen, then the widget that keys go to and those above it, in the order in which a message rises."""
        if not self.screen_stack:
            return []
        screen, hand = self.screen, self.focused
        sheets = screen.query(Sheet)
        if sheets and (hand is None or hand is sheets.first()):  # which may just have taken the keys from its editor
            hand = sheets.first().editor
        return [screen, *(node for node in (hand.ancestors_with_self if hand else ()) if node is not self)]

    async def _caught_up(self) -> None:
        """Until the screen shown can take keys: it is built, and shows the job in hand."""
        end = time.monotonic() + CATCHES_UP_S
        while self.screen_stack and time.monotonic() < end:
            screen = self.screen
            if not isinstance(screen, OnStack) or screen.takes_keys:
                return
            await asyncio.sleep(0.001)

    def action_commands(self) -> None:
        """Every command under one letter."""
        from stanchion.ui.screens.dialogs import CommandStrip  # noqa: PLC0415 - not needed to start

        async def chosen(action: str | None) -> None:
            if action:
                await self.run_action(action)

        name = self.screen.name_of if isinstance(self.screen, JobScreen) else ""
        self.push_screen(CommandStrip(self.keys, name), chosen)

    def action_help(self) -> None:
        """Keys, figures, formulas, cautions."""
        from stanchion.ui.screens.dialogs import HelpScreen  # noqa: PLC0415 - not needed to start

        if not isinstance(self.screen, HelpScreen):
            name = self.screen.name_of if isinstance(self.screen, JobScreen) else self.current_mode
            self.push_screen(HelpScreen(self.keys, name))

    def action_warnings(self) -> None:
        """Every finding in full; Enter goes to its field."""
        from stanchion.ui.screens.dialogs import FindingsScreen  # noqa: PLC0415 - not needed to start

        session = self.in_hand
        if not isinstance(session, Session) or isinstance(self.screen, FindingsScreen):
            return
        both = not session.job.front.split
        unread = [
            (path, f"{label(path, both_legs=both)}: {d.reason}") for path, d in session.drafts.items() if d.reason
        ]

        def chosen(path: Path | None) -> None:
            if path:
                self.jump(path)

        self.push_screen(FindingsScreen(session.assessment, session.units, unread), chosen)

    def jump(self, path: Path) -> None:
        """Take the field of a path in hand, on its screen."""
        self.action_go(on_screen(path))
        screen = self.screen
        if isinstance(screen, JobScreen):
            screen.go_to(path)

    def saved_mark(self, unsaved: str = "") -> Content:
        """Whether what is shown is on disk, in a word."""
        del unsaved
        return Content("")

    def save_trouble(self) -> str:
        """Why what is shown is not on disk; empty where it is."""
        return ""
