"""The order of keys: a command runs after earlier input was processed, and before later input."""

from __future__ import annotations

import asyncio
import contextlib
import time
from collections.abc import Callable, Collection
from typing import Any, cast
from weakref import ref

from textual import events
from textual.dom import DOMNode
from textual.widget import Widget

from stanchion.ui.keys import Key, after_escape
from stanchion.ui.screens.app_screen import AppScreen, Dialog
from stanchion.ui.textual_hooks import HookedApp, is_closing
from stanchion.ui.widgets.sheet import FormSheet

LONGEST_WAIT_S = 10.0
"""A key waits so long at most for its screen; longer only if something is wrong with that screen."""
POLL_S = 0.05
"""How often to see whether there is still anything to wait for."""


class KeyOrder:
    """Delivers each key to the screen it was meant for.

    Textual looks a key up only after the focused widget has let it pass, and gives that widget the next keys meanwhile.
    Over a slow line many keys come together, and digits meant for the screen a key leads to would go into the one
    before.

    Args:
        app: the application.
        keys: the table of keys.
    """

    def __init__(self, app: HookedApp, keys: Collection[Key]) -> None:
        self._app = app
        self._keys = {key.id: key.keys.split(",") for key in keys if key.on != "jobs"}
        self.last_command = ""
        """The command key that was pressed last."""
        self.presses = 0
        """How many were pressed so far."""
        self._commands = frozenset(one for of_command in self._keys.values() for one in of_command)
        self._last_to: Callable[[], Widget | None] = lambda: None
        """Gives the widget that had the focus at the last key, unless its screen has been closed and let go since."""

    @property
    def _screen(self) -> AppScreen[Any]:
        return cast("AppScreen[Any]", self._app.screen)

    async def handle(self, event: events.Key | events.Paste) -> bool:
        """Wait for earlier input, then run the command if it is one; True where the event needs nothing more."""
        if not await self._any_screen():
            return True
        await self._app.take_results()
        await self._turned_over()
        if isinstance(event, events.Paste):
            return False
        letter = after_escape(event)
        if letter:
            await self._escape_and(letter)
            return True
        if self._screen.holds_back(event):
            return True
        return await self._run_command(event)

    async def earlier_processed(self, also: DOMNode | None = None) -> None:
        """Wait until the focused widget, and all above it that hear of its keys, have processed earlier input.

        Each is asked twice: a key that it processes before the first answer may send it a message, which it processes
        before the second.

        Args:
            also: asked before them: one that had the focus until now.
        """
        end = time.monotonic() + LONGEST_WAIT_S
        receivers = [*([] if also is None else [also]), *self._receivers()]
        waiting, done = [node for node in receivers for _ in range(2)], asyncio.Event()
        asked: DOMNode | None = None

        def ask_next() -> None:
            nonlocal asked
            while waiting:
                asked = waiting.pop(0)
                if asked.call_later(ask_next):  # False: it is being closed and takes nothing more
                    return
            asked = None  # what asks stays with the last one asked until its next message: no closed screen with it
            done.set()

        ask_next()
        while not done.is_set() and time.monotonic() < end:
            with contextlib.suppress(TimeoutError):
                await asyncio.wait_for(done.wait(), POLL_S)
            if asked is not None and is_closing(asked):
                ask_next()

    async def _escape_and(self, letter: str) -> None:
        """Run Esc and a letter that came as one key: the letter is never text in a field that is saved.

        Where Esc opens the commands, the letter is one of them; on a list that Esc does not leave, it filters; a
        screen that every command leaves is left for it; elsewhere only Esc counts.
        """
        before = self._screen
        if isinstance(before, Dialog):
            await self.earlier_processed()
            if before.dismissed:
                before = self._screen
        if not before.takes_letters:
            await self._app.on_event(events.Key("escape", "\x1b"))
            await self.earlier_processed()
            now = self._screen
            if now is before and (now.edits or isinstance(now, Dialog)):
                return
            if now is not before and not now.takes_letters:
                if before.closes_on_go:
                    await self._escape_and(letter)
                return
        await self._app.on_event(events.Key(letter, letter))

    async def _turned_over(self) -> None:
        """Where the focus has moved since the last key, wait until the widget that had it has processed that key.

        Each widget has a queue of its own: the next key, sent to another widget, could overtake it.
        """
        before, now = self._last_to(), self._app.focused
        self._last_to = ref(now) if now is not None else lambda: None
        if before is not now:
            await self.earlier_processed(before)

    async def _any_screen(self) -> bool:
        """Wait for a screen to be on the stack; False where none will be, because the program ends."""
        while not self._app.screen_stack and not self._app.is_exiting and self._app.is_running:
            await asyncio.sleep(POLL_S)
        return bool(self._app.screen_stack)

    async def _run_command(self, event: events.Key) -> bool:
        """Run the command bound to this key after earlier input was processed; True if there was one.

        Keys that Textual looks up first, such as Enter on a list, also wait for the letters typed into the filter.
        """
        if event.key in self._commands or event.key == "enter":
            self.last_command = event.key
            self.presses += 1
        screen = self._screen
        if isinstance(screen, Dialog):
            await self.earlier_processed()
            if screen.dismissed:  # by a key before this one, whose result comes first
                self._app.call_next(self._app.on_event, event)
                return True
            if event.key == "escape":
                return await self._app.run_binding(event.key)
            if event.key in self._commands and screen.closed_by:
                screen.dismiss(None)
                if event.key not in self._keys[screen.closed_by]:
                    self._app.call_next(self._app.on_event, event)
                return True
            if event.key in self._commands and not screen.closes_on_go:  # no other screen gets it
                await self._app.run_binding(event.key)
                return True
            return False
        await self._screen_ready()
        if event.key in self._commands or event.key == "escape":
            await self.earlier_processed()
            done = await self._app.run_binding(event.key)
            if not done and event.key in self._commands:
                self._app.on_unused_command(event.key)
            return done
        if not self._screen.edits and not event.is_printable:
            await self.earlier_processed()
        return False

    def _receivers(self) -> list[DOMNode]:
        """The screen, then the focused widget and those above it, in the order in which a message rises."""
        if not self._app.screen_stack:
            return []
        screen, focused = self._screen, self._app.focused
        sheets = screen.query(FormSheet)
        if sheets and (focused is None or focused is sheets.first()):  # its editor may just have lost the focus to it
            focused = sheets.first().editor
        return [screen, *(node for node in (focused.ancestors_with_self if focused else ()) if node is not self._app)]

    async def _screen_ready(self) -> None:
        """Wait until the current screen can take keys: it is built, and shows the open job."""
        end = time.monotonic() + LONGEST_WAIT_S
        while self._app.screen_stack and time.monotonic() < end:
            if self._screen.takes_keys:
                return
            await asyncio.sleep(0.001)
