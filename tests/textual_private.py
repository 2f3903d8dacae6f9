"""The private names of Textual that tests use."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Iterable
from contextvars import ContextVar
from typing import Any
from weakref import WeakKeyDictionary

import textual.app
import textual.pilot
from rich.console import RenderableType
from textual._compositor import Compositor
from textual._context import visible_screen_stack
from textual._styles_cache import StylesCache
from textual.app import App
from textual.binding import Binding
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.dom import DOMNode
from textual.geometry import Size
from textual.keys import _character_to_key
from textual.message_pump import MessagePump
from textual.pilot import Pilot
from textual.screen import Screen
from textual.strip import Strip
from textual.widget import Widget

__all__ = [
    "Compositor",
    "StylesCache",
    "bindings_of",
    "draw_first_and_last",
    "draw_update",
    "draw_with_the_next_frame",
    "drawn",
    "due_within",
    "fault_of",
    "has_a_frame_due",
    "has_taken_all",
    "key_of",
    "let_pilots_wait_by",
    "line_cache_of",
    "messages",
    "parsed_once",
    "tick",
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


def let_pilots_wait_by(
    quick: Callable[[App[int]], Awaitable[None]], app: type[App[int]], pilot: type[Pilot[int]]
) -> None:
    """Let pilots wait until an application waits, as this tells, and no longer.

    Textual's own wait until the process takes little of the processor: 40 ms after each key, though nothing is left to do,
    and not long enough where other programs have the processor.
    """
    press, pause = app._press_keys, pilot.pause
    asked: ContextVar[App[int]] = ContextVar("asked")

    async def pressed(self: App[int], keys: Iterable[str]) -> None:
        asked.set(self)
        await press(self, keys)

    async def paused(self: Pilot[int], delay: float | None = None) -> None:
        asked.set(self.app)
        await pause(self, delay)

    async def idle(min_sleep: float = 0.0, max_sleep: float = 1.0) -> None:
        await quick(asked.get())

    async def taken(self: Pilot[int], timeout: float = 30.0) -> bool:
        await quick(self.app)
        return fault_of(self.app) is None

    app._press_keys = pressed  # type: ignore[method-assign]
    pilot.pause, pilot._wait_for_screen = paused, taken  # type: ignore[method-assign]
    for module in (textual.app, textual.pilot):
        module.wait_for_idle = idle  # type: ignore[attr-defined]


def has_taken_all(app: App[int]) -> bool:
    """Whether no widget, nor the application, has a message or is dealing with one, and none is being closed.

    Textual tells the screens of a new size a moment after it came.
    """
    return (
        app._resize_timer is None and _waits(app) and all(node._closed or _waits(node) for node in list(app._registry))
    )


def _waits(pump: MessagePump) -> bool:
    arrival: Any = pump._message_queue.ready_event
    return not arrival.is_set() and any(not waiter.done() for waiter in arrival._waiters)


def has_a_frame_due(screen: Screen[Any]) -> bool:
    """Whether there is anything that a screen does with its next frame."""
    waiting = (screen._layout_required, screen._scroll_required, screen._repaint_required, screen._recompose_required)
    return any(waiting) or bool(screen._dirty_widgets or screen._callbacks)


draw_update = Compositor.render_update
"""How a compositor draws what is to be sent to the terminal: all of a screen, or what has changed of it."""


def draw_first_and_last(compositor: type[Compositor], app: type[App[int]]) -> None:
    """Let a screen be drawn as it first stands in a size, whenever a test looks, and as it stands at the end.

    Where no terminal shows them, the frames between take a quarter of the time and are thrown away.
    """
    shut_down = app._shutdown
    first_at: WeakKeyDictionary[Compositor, Size] = WeakKeyDictionary()

    def spared(
        self: Compositor, full: bool = False, screen_stack: list[Screen[Any]] | None = None, simplify: bool = False
    ) -> RenderableType | None:
        if full or (self.size.region in self._dirty_regions and first_at.get(self) != self.size):
            first_at[self] = self.size
            return draw_update(self, full, screen_stack, simplify)
        self._dirty_regions.clear()
        return None

    async def drawn_at_last(self: App[int]) -> None:
        if self.is_running and self.screen_stack and fault_of(self) is None:
            drawn(self)
        await shut_down(self)

    compositor.render_update = spared  # type: ignore[method-assign]
    app._shutdown = drawn_at_last  # type: ignore[method-assign]


def key_of(character: str) -> str:
    """What Textual calls the key that gives a character."""
    return character if character.isalnum() else _character_to_key(character)


def drawn(app: App[int]) -> list[Strip]:
    """The lines of the screen as they are sent to the terminal, with what is behind a small one."""
    visible_screen_stack.set(app._background_screens)
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


def due_within(app: App[int], seconds: float) -> bool:
    """Whether an application has something to do once within so many seconds."""
    timers = [timer for pump in (app, *app.screen_stack) for timer in list(pump._timers)]
    return any(
        timer._repeat == 0 and timer._interval <= seconds and timer._task is not None and not timer._task.done()
        for timer in timers
    )
