"""Every private name of Textual that the program uses, and why; other modules use the public names given here.

Textual may change these names without notice. So it is held to its minor version (pyproject.toml), and
tests/ui/test_textual_hooks.py fails where one of them is gone or takes other arguments.
"""

from __future__ import annotations

import asyncio
import sys
from collections.abc import Iterable
from typing import TypeVar

from rich.text import Text
from textual._compositor import Compositor
from textual._styles_cache import StylesCache
from textual._xterm_parser import XTermParser
from textual.app import App
from textual.css.stylesheet import Stylesheet
from textual.dom import DOMNode
from textual.geometry import Region, Size
from textual.notifications import Notification
from textual.screen import Screen
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import OptionList

__all__ = [
    "HookedApp",
    "HookedScreen",
    "SparingCompositor",
    "SteadyStylesheet",
    "XTermParser",
    "draw_now",
    "is_closing",
    "layout_changed",
    "let_go_of_closed_widgets",
    "shows_line_of",
]

Result = TypeVar("Result")

# XTermParser turns the bytes of a terminal into keys. Textual has no public way to read keys as it does itself, which
# a driver that survives line noise and the key test of `stanchion doctor` need.

if sys.platform != "win32":
    from textual.drivers.linux_driver import LinuxDriver

    class SizedDriver(LinuxDriver):
        """Textual's driver for POSIX, with a say in how large the terminal is.

        ``_get_terminal_size`` believes COLUMNS and LINES, which a shell may have exported in another window.
        """

        def terminal_size(self) -> tuple[int, int] | None:
            """Columns and lines; None to let Textual find out."""
            return None

        def _get_terminal_size(self) -> tuple[int, int]:
            return self.terminal_size() or super()._get_terminal_size()


class HookedApp(App[int]):
    """An application that can look keys up early, and says in its own words that a fault ended it."""

    faulted = False
    """Whether a fault of the program ended it."""

    @property
    def is_exiting(self) -> bool:
        """Whether the program has been asked to end: ``_exit``. Textual says publicly only when it has ended."""
        return self._exit

    async def take_results(self) -> None:
        """Take the results of dialogs that have closed. ``_flush_next_callbacks`` takes them now, before the next key
        is looked at, and not only after it."""
        await self._flush_next_callbacks()

    async def run_binding(self, key: str) -> bool:
        """Run the command bound to a key; True if there was one. ``_check_bindings`` looks it up now, before the
        focused widget has the next key."""
        return await self._check_bindings(key, priority=True) or await self._check_bindings(key)

    def show_only(self, messages: Iterable[tuple[str, float]]) -> None:
        """Show these messages and no others, each for so many seconds. ``notify`` shows one later, after others that
        were to take its place; ``_notifications`` holds those shown, ``_refresh_notifications`` draws them. It leaves
        the holder of a toast that it removes, which would go on taking a line above the others."""
        self._notifications.clear()
        self.screen.query("ToastHolder").remove()
        for words, seconds in messages:
            self._notifications.add(Notification(words, timeout=seconds))
        self._refresh_notifications()

    def on_unused_command(self, key: str) -> None:
        """Say what else to do: this key is a command, but not on this screen."""

    def fault_words(self, error: BaseException) -> str:
        """What to print when a fault has ended the program."""
        return f"{type(error).__name__}"

    def _fatal_error(self) -> None:
        """Print what ``fault_words`` says. Textual's own would print every variable, and with them what is in a job.

        ``_exception`` is the fault, ``_exit_renderables`` is printed at the end, ``_close_messages_no_wait`` ends.
        """
        if self.faulted:
            return
        self.faulted = True
        error = self._exception or sys.exc_info()[1] or RuntimeError()
        self._exit_renderables.append(Text(self.fault_words(error)))
        self._close_messages_no_wait()


class SparingCompositor(Compositor):
    """Puts the lines of a screen together, and asks for lines only the widgets of which some are drawn.

    ``_get_renders`` of Textual asks every widget in a container that reaches into the part that changed, for all of
    its lines: after a key that changes one line, fourteen widgets.
    """

    def _get_renders(self, crop: Region | None = None) -> Iterable[tuple[Region, Region, list[Strip]]]:
        part = crop or self.size.region
        rows = Region(0, part.y, self.size.width, part.height)
        for widget, (region, clip) in list(self.visible_widgets.items()):
            seen = region.intersection(clip)
            if seen and seen.overlaps(part):
                drawn = seen.intersection(rows)
                yield region, drawn, widget.render_lines(drawn.translate(-region.offset))


class HookedScreen(Screen[Result]):
    """A screen that does nothing before it is on the stack of screens, and can put off being drawn."""

    _laid_out_at: Size | None = None

    def __init__(self, name: str | None = None, id: str | None = None, classes: str | None = None) -> None:  # noqa: A002
        super().__init__(name, id, classes)
        self._compositor = SparingCompositor()

    @property
    def may_draw(self) -> bool:
        """Whether to draw; while not, it is laid out once for each size."""
        return True

    async def _pre_process(self) -> bool:
        """Wait until the screen is on the stack.

        From Python 3.12 on Textual runs a task as soon as it is made, and a screen has its task before it is on the
        stack: its widgets then ask the application for the current screen, and get another one or none.
        """
        await asyncio.sleep(0)
        return await super()._pre_process()

    def _compositor_refresh(self) -> None:
        """Draw. Before the application is mounted Textual draws everything several times and sends nothing."""
        if self.may_draw:
            super()._compositor_refresh()

    def _refresh_layout(self, size: Size | None = None, scroll: bool = False) -> None:  # noqa: FBT001, FBT002
        """Lay the widgets out. Before the application is mounted Textual does so several times at the same size."""
        if self.may_draw or self._laid_out_at != size:
            self._laid_out_at = size
            super()._refresh_layout(size, scroll)


class SteadyStylesheet(Stylesheet):
    """A stylesheet that is parsed again only where something in it changed.

    Textual parses all sources again whenever a screen is first shown, which is a tenth of the start. ``_variables``
    are those it was parsed with, ``_rules`` what it found, ``_require_parse`` whether there are new sources.
    """

    def __init__(self, *, variables: dict[str, str]) -> None:
        super().__init__(variables=variables)
        self._stale = False

    def set_variables(self, variables: dict[str, str]) -> None:
        """Take the variables of a theme; the same ones again change nothing."""
        if variables != self._variables:
            super().set_variables(variables)
            self._stale = bool(self._rules)

    def reparse(self) -> None:
        """Parse again where variables changed; otherwise only new sources."""
        if self._stale:
            super().reparse()
            self._stale = False
        elif self._require_parse:
            self.parse()


def is_closing(node: DOMNode) -> bool:
    """Whether a widget takes no more messages. Only ``_closing`` and ``_closed`` say so; waiting for it would never
    end."""
    return node._closing or node._closed


def layout_changed(widget: Widget) -> None:
    """Forget the room that a widget took. Textual counts several changes up to the next pause as one in
    ``_layout_updates``; a layout made meanwhile would go on with the height of the old text."""
    widget._layout_updates += 1


def draw_now(widget: Widget) -> None:
    """Draw a changed widget no later than what changes after this.

    A screen draws the widgets in ``_dirty_widgets``, each as it is by then; a widget gets there by a message, sent by
    ``_check_refresh`` where ``_repaint_required``. A frame already due would be drawn without this widget and with the
    ones that changed before the frame.
    """
    if widget._repaint_required:
        widget.screen._dirty_widgets.add(widget)
    widget._check_refresh()


def shows_line_of(options: OptionList, at: int) -> bool:
    """Whether a list has been laid out with the line of an option. Otherwise, as ``_index_to_line`` and ``_lines``
    are empty, Textual's page keys raise a KeyError."""
    return at in options._index_to_line and bool(options._lines)


def let_go_of_closed_widgets() -> None:
    """Cache the two backgrounds of a line by their colours, and no longer by the widget too.

    Textual 8 keeps 1024 results of ``StylesCache.get_inner_outer``, with the widget's own cache as part of the key. It
    so keeps every line that closed screens ever drew: 60 MB after some thousand keys.
    """
    made_by = vars(StylesCache).get("get_inner_outer")
    if made_by is not None and not isinstance(made_by, classmethod):
        StylesCache.get_inner_outer = classmethod(made_by)  # type: ignore[method-assign,assignment]
