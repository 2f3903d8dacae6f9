"""The private names of Textual that tests use."""

from __future__ import annotations

import asyncio
from typing import Any

from textual._styles_cache import StylesCache
from textual.app import App
from textual.binding import Binding
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.dom import DOMNode
from textual.keys import _character_to_key
from textual.message_pump import MessagePump
from textual.pilot import Pilot
from textual.screen import Screen
from textual.strip import Strip
from textual.widget import Widget

__all__ = [
    "StylesCache",
    "bindings_of",
    "draw_with_the_next_frame",
    "drawn",
    "due_within",
    "fault_of",
    "key_of",
    "line_cache_of",
    "messages",
    "parsed_once",
    "tick",
    "wait_for_busy_widgets_only",
    "widgets_have_taken_all",
]


def parsed_once(kind: type[Stylesheet]) -> None:
    """Let stylesheets of this process share what they have parsed, where text, place and variables are the same."""
    parse = kind._parse_rules
    done: dict[tuple[object, ...], list[RuleSet]] = {}

    def parsed(
        self: Stylesheet,
        css: str,
        read_from: tuple[str, str],
        is_default_rules: bool = False,
        tie_breaker: int = 0,
        scope: str = "",
    ) -> list[RuleSet]:
        variables = frozenset(self._variables.items())
        key = (css, read_from, is_default_rules, tie_breaker, scope, variables)
        if key not in done:
            done[key] = parse(self, css, read_from, is_default_rules, tie_breaker, scope)
        return done[key]

    kind._parse_rules = parsed  # type: ignore[method-assign]


def wait_for_busy_widgets_only(kind: type[Pilot[int]]) -> None:
    """Let pilots ask no widget for a sign where all of them wait for their next message already.

    Asking all takes as long as drawing a line of every one, and a pilot does it after each key.
    """
    ask_all = kind._wait_for_screen

    async def asked(self: Pilot[int], timeout: float = 30.0) -> bool:
        if all(_waits(pump) for pump in (self.app, *self.app.screen.walk_children(with_self=True))):
            await asyncio.sleep(0)
            return True
        return await ask_all(self, timeout)

    kind._wait_for_screen = asked  # type: ignore[method-assign]


def _waits(pump: MessagePump) -> bool:
    """Whether it has no message, and has dealt with all that it had."""
    arrival: Any = pump._message_queue.ready_event
    return not arrival.is_set() and any(not waiter.done() for waiter in arrival._waiters)


def key_of(character: str) -> str:
    """What Textual calls the key that gives a character."""
    return character if character.isalnum() else _character_to_key(character)


def drawn(app: App[int]) -> list[Strip]:
    """The lines of the screen as they are sent to the terminal."""
    return app.screen._compositor.render_strips()


def messages(app: App[int]) -> list[str]:
    """Every message that stands over the screen, whole, the latest last."""
    return [note.message for note in app._notifications]


def fault_of(app: App[int]) -> BaseException | None:
    """The fault that ended an application."""
    return app._exception


def bindings_of(node: DOMNode) -> list[Binding]:
    """The keys that an application or a screen acts on."""
    return [binding for bindings in node._bindings.key_to_bindings.values() for binding in bindings]


def line_cache_of(widget: Widget) -> StylesCache:
    """What keeps the lines that a widget drew."""
    return widget._styles_cache


def draw_with_the_next_frame(screen: Screen[object], widget: Widget) -> None:
    """Mark a widget as changed."""
    screen._dirty_widgets.add(widget.refresh())


def tick(screen: Screen[object]) -> None:
    """Draw the frame that is due."""
    screen._on_timer_update()


async def widgets_have_taken_all(pilot: Pilot[int]) -> None:
    """Wait until every widget has taken the messages it has."""
    await pilot._wait_for_screen()


def due_within(app: App[int], seconds: float) -> bool:
    """Whether an application has something to do once within so many seconds."""
    timers = [timer for pump in (app, *app.screen_stack) for timer in list(pump._timers)]
    return any(
        timer._repeat == 0 and timer._interval <= seconds and timer._task is not None and not timer._task.done()
        for timer in timers
    )
