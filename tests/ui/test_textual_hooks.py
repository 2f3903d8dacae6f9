"""Private names of Textual are used in one module, and each of them is there as that module expects it."""

from __future__ import annotations

import ast
import importlib
import inspect
import sys
import textwrap
from collections.abc import Iterator
from copy import copy
from functools import cache
from pathlib import Path

import pytest
from textual._compositor import Compositor
from textual._styles_cache import StylesCache
from textual._xterm_parser import XTermParser
from textual.app import App, ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.css.stylesheet import Stylesheet
from textual.events import Key
from textual.geometry import Region
from textual.screen import Screen
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

import stanchion
from stanchion.ui.textual_hooks import (
    HookedApp,
    HookedScreen,
    SparingCompositor,
    SteadyStylesheet,
    draw_now,
    is_closing,
    let_go_of_closed_widgets,
    shows_line_of,
)

pytestmark = pytest.mark.usefixtures("every_frame")

SOURCE = Path(stanchion.__file__).parent
POSIX = sys.platform != "win32"
HOOKS = "ui/textual_hooks.py"
SCREEN_MODULES = [
    path
    for path in sorted(SOURCE.rglob("*.py"))
    if path.relative_to(SOURCE).as_posix() != HOOKS
    and ("textual" in path.read_text("utf-8") or path.is_relative_to(SOURCE / "ui"))
]


# --- nobody else uses them --------------------------------------------------------------------------------------------


def is_private(name: str) -> bool:
    return name.startswith("_") and not name.startswith("__")


def on_self(tree: ast.AST) -> Iterator[str]:
    """The private names that code has of self, of its class or of the class it derives from."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and is_private(node.attr):
            of = node.value
            by_super = isinstance(of, ast.Call) and isinstance(of.func, ast.Name) and of.func.id == "super"
            if by_super or (isinstance(of, ast.Name) and of.id in ("self", "cls")):
                yield node.attr


def defined(kind: ast.ClassDef) -> Iterator[str]:
    """The names that the body of a class defines."""
    for node in kind.body:
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node.name
        for target in node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]:
            if isinstance(target, ast.Name):
                yield target.id


@cache
def names_of(kind: type[object]) -> set[str]:
    """The private names of one class of Textual."""
    made = set(on_self(ast.parse(textwrap.dedent(inspect.getsource(kind)))))
    return made | {name for name in vars(kind) if is_private(name)}


def textual_names(kind: type[object]) -> set[str]:
    """The private names that a class has from Textual."""
    above = [one for one in kind.__mro__ if one.__module__.partition(".")[0] == "textual"]
    return {name for one in above for name in names_of(one)}


def uses(path: Path) -> Iterator[str]:
    """The private names of Textual that a module of ours uses, overrides or hides."""
    tree = ast.parse(path.read_text("utf-8"))
    for node in ast.walk(tree):
        imported = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        imported += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        yield from (name for name in imported if name.startswith("textual") and "._" in name)
        if isinstance(node, ast.Attribute) and is_private(node.attr) and node.attr in textual_names(App) | OF_WIDGETS:
            of = node.value
            if not (isinstance(of, ast.Name) and of.id in ("self", "cls")) and not isinstance(of, ast.Call):
                yield f"{ast.unparse(of)}.{node.attr}"
    name = ".".join(("stanchion", *path.relative_to(SOURCE).with_suffix("").parts))
    module = importlib.import_module(name)
    for node in tree.body:
        if isinstance(node, ast.ClassDef):
            kind = vars(module)[node.name]
            own = set(on_self(node)) | {one for one in defined(node) if is_private(one)}
            yield from (f"{node.name}.{one}" for one in sorted(own & textual_names(kind)))


OF_WIDGETS = textual_names(Screen) | textual_names(Input) | textual_names(OptionList)


def test_no_other_module_uses_or_hides_a_private_name_of_textual() -> None:
    assert len(SCREEN_MODULES) > 50
    found = {path.name: list(uses(path)) for path in SCREEN_MODULES if path.name != "terminal.py" or POSIX}
    assert {name: names for name, names in found.items() if names} == {}


def test_the_test_above_sees_a_use() -> None:
    assert "_refresh_layout" in textual_names(HookedScreen)
    assert "HookedScreen._compositor_refresh" in list(uses(SOURCE / HOOKS))
    assert "widget._layout_updates" in list(uses(SOURCE / HOOKS))


# --- each is there, and is needed -------------------------------------------------------------------------------------


def arguments(function: object) -> list[str]:
    assert callable(function)
    return list(inspect.signature(function).parameters)


class Bare(HookedApp):
    """An application with a list, a line editor and two lines of text."""

    BINDINGS = [Binding("f2", "count")]  # noqa: RUF012
    counted = 0

    def compose(self) -> ComposeResult:
        yield Static("first", id="first")
        yield Static("second", id="second")
        yield OptionList("one", "two")
        yield Input()

    def action_count(self) -> None:
        self.counted += 1


async def test_a_binding_is_run_before_the_focused_widget_has_the_next_key() -> None:
    assert arguments(App._check_bindings) == ["self", "key", "priority"]
    app = Bare()
    async with app.run_test():
        assert await app.run_binding("f2")
        assert app.counted == 1
        assert not await app.run_binding("f3")


async def test_the_result_of_a_dialog_is_taken_at_once() -> None:
    assert arguments(App._flush_next_callbacks) == ["self"]
    app = Bare()
    taken: list[int] = []
    async with app.run_test():
        app.call_next(taken.append, 1)
        await app.take_results()
        assert taken == [1]


async def test_that_it_was_told_to_end_is_known_before_it_has() -> None:
    app = Bare()
    async with app.run_test():
        assert not app.is_exiting
        app.exit(0)
        assert app.is_exiting


async def test_a_fault_ends_the_program_with_our_words() -> None:
    assert arguments(App._fatal_error) == ["self"]
    assert arguments(App._close_messages_no_wait) == ["self"]

    class Failing(Bare):
        def action_count(self) -> None:
            raise ZeroDivisionError

        def fault_words(self, error: BaseException) -> str:
            return f"stopped by {type(error).__name__}"

    app = Failing()
    with pytest.raises(ZeroDivisionError):
        async with app.run_test() as pilot:
            await pilot.press("f2")
    assert app.faulted
    assert isinstance(app._exception, ZeroDivisionError)


def test_what_is_printed_at_the_end_is_a_list() -> None:
    assert Bare()._exit_renderables == []


async def test_a_screen_is_on_the_stack_before_anything_of_it_runs() -> None:
    assert arguments(Screen._pre_process) == ["self"]
    on_stack: list[bool] = []

    class Waiting(HookedScreen[None]):
        def compose(self) -> ComposeResult:
            on_stack.append(self.app.screen_stack[-1:] == [self])
            yield Static("third")

    app = Bare()
    async with app.run_test():
        await app.push_screen(Waiting())
    assert on_stack == [True]


async def test_a_screen_that_may_not_draw_is_laid_out_once_and_not_drawn() -> None:
    assert arguments(Screen._compositor_refresh) == ["self"]
    assert arguments(Screen._refresh_layout) == ["self", "size", "scroll"]

    class Quiet(HookedScreen[None]):
        ready = False

        @property
        def may_draw(self) -> bool:
            return self.ready

        def compose(self) -> ComposeResult:
            yield Static("third", id="third")

    app = Bare()
    async with app.run_test(size=(40, 12)) as pilot:
        screen = Quiet()
        await app.push_screen(screen)
        await pilot.pause()
        assert screen.query_one("#third").size.width == 40
        screen.query_one("#third", Static).update("a longer text\nof two lines")
        await pilot.pause()
        assert screen.query_one("#third").size.height == 1
        screen.ready = True
        screen.refresh(layout=True)
        await pilot.pause()
        assert screen.query_one("#third").size.height == 2


class Layers(HookedScreen[None]):
    """Texts beside and below one another, one in a part that scrolls, and one over others."""

    CSS = """
    Layers { layers: below above; }
    #over { layer: above; offset: 6 1; width: 9; height: 3; }
    #scrolls { height: 4; width: 30; }
    #side { dock: right; width: 7; }
    """

    def compose(self) -> ComposeResult:
        yield Static("a first line", id="first")
        yield VerticalScroll(Static("\n".join(f"line {at}" for at in range(9)), id="long"), id="scrolls")
        yield Static("side\nside", id="side")
        yield Static("over", id="over")
        yield Static("the last line", id="last")


async def test_only_widgets_of_which_something_is_drawn_are_asked_for_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    assert arguments(Compositor._get_renders) == ["self", "crop"]
    asked: list[Widget] = []
    usual = Widget.render_lines

    def render_lines(self: Widget, crop: Region) -> list[Strip]:
        asked.append(self)
        return usual(self, crop)

    app = Bare()
    async with app.run_test(size=(40, 12)) as pilot:
        screen = Layers()
        await app.push_screen(screen)
        await pilot.pause()
        monkeypatch.setattr(Widget, "render_lines", render_lines)
        screen.query_one("#last", Static).update("another last", layout=False)
        await pilot.pause()
        assert {one.id for one in asked if isinstance(one, Static)} == {"last"}


async def test_what_those_widgets_give_is_what_all_would() -> None:
    app = Bare()
    async with app.run_test(size=(40, 12)) as pilot:
        screen = Layers()
        await app.push_screen(screen)
        await pilot.pause()
        screen.query_one("#scrolls").scroll_to(y=2, animate=False)
        await pilot.pause()
        ours = screen._compositor
        assert isinstance(ours, SparingCompositor)
        theirs = copy(ours)
        theirs.__class__ = Compositor  # type: ignore[assignment]
        parts = [
            Region(x, y, width, height)
            for x, width in ((0, 40), (0, 3), (5, 11), (29, 2), (33, 7))
            for y, height in ((0, 12), (0, 1), (2, 2), (4, 5), (11, 1))
        ]
        for part in parts:
            lines, whole = (one._render_chops(part, lambda _: True) for one in (ours, theirs))
            for y in part.line_range:
                for x, end in zip(ours.cuts[y], ours.cuts[y][1:], strict=False):
                    if x < part.right and end > part.x:
                        assert lines[y][x] == whole[y][x], (part, x, y)


async def test_a_stylesheet_is_parsed_again_only_with_other_variables(monkeypatch: pytest.MonkeyPatch) -> None:
    parsed: list[int] = []
    usual = Stylesheet.reparse

    def reparse(self: Stylesheet) -> None:
        parsed.append(1)
        usual(self)

    monkeypatch.setattr(Stylesheet, "reparse", reparse)
    sheet = SteadyStylesheet(variables={"ink": "#101010"})
    sheet.add_source("Static { color: $ink; }")
    assert sheet._require_parse
    sheet.reparse()
    assert len(sheet._rules) == 1
    sheet.set_variables({"ink": "#101010"})
    sheet.reparse()
    assert parsed == []
    sheet.set_variables({"ink": "#202020"})
    sheet.reparse()
    assert parsed == [1]


async def test_a_widget_that_was_removed_is_known_to_take_no_more() -> None:
    app = Bare()
    async with app.run_test():
        widget = app.query_one("#first")
        assert not is_closing(widget)
        await widget.remove()
        assert is_closing(widget)
        assert not widget.call_later(lambda: None)


async def test_a_text_that_grows_twice_gets_the_room_of_the_second() -> None:
    assert Widget()._layout_updates == 0
    app = Bare()
    async with app.run_test() as pilot:
        text = app.query_one("#first", Static)
        text.update("two\nlines")
        counted = text._layout_updates
        text.update("now\nthree\nlines")
        assert text._layout_updates == counted, "Textual counts both as one"
        await pilot.pause()


async def test_a_widget_drawn_now_is_among_those_of_the_next_frame() -> None:
    assert arguments(Widget._check_refresh) == ["self"]
    app = Bare()
    async with app.run_test() as pilot:
        await pilot.pause()
        text = app.query_one("#first", Static)
        text.update("First", layout=False)
        assert text._repaint_required
        assert text not in app.screen._dirty_widgets
        draw_now(text)
        assert text in app.screen._dirty_widgets


async def test_a_list_without_room_does_not_know_its_lines() -> None:
    app = Bare()
    async with app.run_test() as pilot:
        await pilot.pause()
        options = app.query_one(OptionList)
        assert shows_line_of(options, 0)
        assert not shows_line_of(options, 7)
    assert not shows_line_of(OptionList(Option("one")), 0)


def test_the_background_of_a_line_is_cached_with_the_widget() -> None:
    let_go_of_closed_widgets()
    cached = vars(StylesCache)["get_inner_outer"].__func__
    assert list(inspect.signature(cached.__wrapped__).parameters)[1:] == ["base_background", "background"]


def test_the_parser_of_keys_reads_and_gives_up_an_escape_in_the_end() -> None:
    parser = XTermParser()
    assert [event.key for event in parser.feed("a\x1bOP") if isinstance(event, Key)] == ["a", "f1"]
    assert callable(parser.tick)


@pytest.mark.skipif(not POSIX, reason="POSIX only")
def test_the_size_of_the_terminal_is_asked_of_us_first(monkeypatch: pytest.MonkeyPatch) -> None:
    from stanchion.ui.textual_hooks import SizedDriver

    monkeypatch.setenv("COLUMNS", "123")
    monkeypatch.setenv("LINES", "45")
    driver = object.__new__(SizedDriver)
    assert driver._get_terminal_size() == (123, 45)
    monkeypatch.setattr(SizedDriver, "terminal_size", lambda self: (60, 16))
    assert driver._get_terminal_size() == (60, 16)
