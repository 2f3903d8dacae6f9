"""The bar says "saved" of nothing that is not on disk, from the very frame that shows a key."""

from __future__ import annotations

from pathlib import Path

import pyte
import pytest
from textual._compositor import CompositorUpdate
from textual.message import Message
from textual.messages import Update
from textual.screen import Screen

from driving import USUAL, a_job, app_on, shown
from stanchion.store.autosave import Autosave
from stanchion.ui.app import StanchionApp
from stanchion.ui.screens.trial import TrialScreen
from stanchion.ui.widgets.editor import CellEditor
from textual_private import draw_with_the_next_frame, tick
from timing import at_rest

pytestmark = pytest.mark.usefixtures("every_frame")

JOB = a_job(("front.left.spring.rate_n_per_mm", 9.5), ("front.left.adjuster.now", 2.0))


def bar(app: StanchionApp) -> str:
    """The first line of the screen."""
    return shown(app).split("\n", 1)[0]


@pytest.mark.parametrize("keys", [["8"], ["x"], ["plus"], ["backspace"], ["8", "full_stop", "2"]], ids="-".join)
async def test_no_frame_shows_a_changed_field_beside_the_word_saved(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, keys: list[str]
) -> None:
    app = app_on(tmp_path, JOB)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "saved" in bar(app)
        monkeypatch.setattr(Autosave, "_attempt", lambda *_: None)  # from now on nothing gets to the disk
        before = next(line for line in shown(app).split("\n") if "Spring rate" in line)
        frames: list[str] = []
        monkeypatch.setattr(app, "post_display_hook", lambda: frames.append(shown(app)))
        await pilot.press(*keys)
        await pilot.pause()
        changed = [frame for frame in frames if before not in frame]
        assert changed
        assert not [frame for frame in changed if "saved" in frame.split("\n", 1)[0]]


async def test_the_screen_hears_of_the_word_before_it_hears_of_the_key(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It draws what it has heard of, so no frame has the key alone."""
    app = app_on(tmp_path, JOB)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        screen = app.screen
        drawn: list[str] = []
        post = screen.post_message

        def heard(message: Message) -> bool:
            if isinstance(message, Update):
                drawn.append(str(message.widget.id or type(message.widget).__name__))
            return post(message)

        monkeypatch.setattr(screen, "post_message", heard)
        await pilot.press("8")
        await pilot.pause()
        assert "CellEditor" in drawn
        assert drawn.index("bar") < min(drawn.index("CellEditor"), drawn.index("FormSheet"))


@pytest.mark.parametrize("key", ["8", "x"])
async def test_a_frame_that_was_due_before_the_key_says_of_it_what_is_true(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, key: str
) -> None:
    """A field that is to be drawn anyway, as after moving to it, is drawn with what has been typed by then."""
    app = app_on(tmp_path, JOB)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        screen = app.screen
        terminal = pyte.Screen(*USUAL)
        stream = pyte.Stream(terminal)

        def sent(_: Screen[object], frame: CompositorUpdate) -> None:
            stream.feed(frame.render_segments(app.console))

        monkeypatch.setattr(app, "_display", sent)
        screen.refresh()
        await at_rest(pilot)
        line = next(line for line in terminal.display if "Spring rate" in line)
        assert "saved" in terminal.display[0]
        editor = screen.query_one(CellEditor)
        draw_with_the_next_frame(screen, editor)
        editor.value = key
        tick(screen)
        assert line not in terminal.display
        assert "saved" not in terminal.display[0]


async def test_text_that_is_not_read_is_counted_where_the_bar_would_say_saved(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("8", "x")
        assert app.workspace.flush()
        await at_rest(pilot)
        assert "1 not read" in bar(app)
        await pilot.press("backspace")
        assert app.workspace.flush()
        await at_rest(pilot)
        assert "saved" in bar(app)


async def test_what_is_only_tried_is_not_called_saved(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB, "trial")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert isinstance(app.screen, TrialScreen)
        assert "saved" in bar(app)
        await pilot.press("5")
        await at_rest(pilot)
        assert "tried, not saved" in bar(app)
        await pilot.press("f7")
        assert app.workspace.flush()
        await at_rest(pilot)
        assert "tried" not in bar(app)
        assert "saved" in bar(app)
