"""A figure that changed is marked for a moment, and nothing else is."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st
from textual.content import Content

from driving import USUAL, a_job, app_on
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.widgets.live_text import MARK, BigFigure, Figures, LiveText, marked
from timing import at_rest, eventually

ONE_SPRING = (
    ("front.left.spring.rate_n_per_mm", 9.5),
    ("front.left.spring.free_length_mm", 250.0),
    ("front.left.spring.set_length_mm", 238.0),
    ("front.left.spring.set_length_in_mm", 230.0),
    ("front.left.adjuster.total_turns", 8.0),
    ("front.left.adjuster.now", 4.0),
)


def marks(text: Content) -> list[str]:
    """What of a text is marked."""
    return [text.plain[span.start : span.end] for span in text.spans if MARK in str(span.style).split()]


def test_only_the_figures_that_differ_are_marked() -> None:
    before = Content("Range        8.0 mm\nLeft to out  4.0 mm\n             4 turns")
    after = Content("Range        9.0 mm\nLeft to out  4.5 mm\n             4 turns")
    assert marks(marked(before, after)) == ["9.0", "4.5"]


def test_a_figure_that_came_or_went_is_marked() -> None:
    assert marks(marked(Content("stiction   –    2.0"), Content("stiction 1.5    2.0"))) == ["1.5"]
    assert marks(marked(Content("stiction 1.5    2.0"), Content("stiction   –    2.0"))) == ["–"]


def test_a_line_that_moved_is_compared_with_itself() -> None:
    before = Content("Range 8.0 mm\nForce 110 N")
    assert marks(marked(before, Content("Note\nRange 8.0 mm\nForce 111 N"))) == ["111"]


def test_a_band_is_no_figure_below_zero() -> None:
    assert marks(marked(Content("band 8–15, now 4 –"), Content("band 8–15, now 5 –"))) == ["5"]


@given(st.text(alphabet="ab 0123456789.–-−\n/", max_size=60), st.text(alphabet="ab 0123456789.–-−\n/", max_size=60))
def test_marking_changes_no_letter(before: str, after: str) -> None:
    assert marked(Content(before), Content(after)).plain == after


@given(st.text(alphabet="ab 0123456789.–-−\n/", max_size=60))
def test_what_did_not_change_is_not_marked(text: str) -> None:
    assert not marks(marked(Content(text), Content(text)))


def shown_as_changed(screen: JobScreen) -> list[str]:
    """Every figure of a screen that is marked."""
    heads = [word for head in screen.query(".pane-head").results(LiveText) for word in marks(head.content)]  # type: ignore[arg-type]
    return heads + [word for figures in screen.query(Figures) for word in marks(figures.content)]  # type: ignore[arg-type]


async def test_what_a_key_changed_is_marked_until_a_moment_after_the_last_key(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(*ONE_SPRING))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        screen = app.screen
        assert isinstance(screen, JobScreen)
        assert shown_as_changed(screen) == []
        await pilot.press("down", "down")
        assert shown_as_changed(screen) == []  # going about changes nothing
        await pilot.press("2", "3", "6")
        await pilot.pause()
        # set length 238 -> 236: preload 12 -> 14, range 8 -> 6, per turn 1 -> 0.75, now 16 -> 17, force 152 -> 162
        assert shown_as_changed(screen) == ["INSTALLED PRELOAD, mm", "6.0", "0.75", "17.0", "162", "3.0", "3.0"]
        await eventually(pilot, lambda: shown_as_changed(screen) == [])
        await pilot.press("ctrl+z")
        await pilot.pause()
        assert "INSTALLED PRELOAD, mm" in shown_as_changed(screen)  # what undo changed is marked as well


async def test_other_units_are_no_change(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(*ONE_SPRING))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("escape", "i")
        await at_rest(pilot)
        screen = app.screen
        assert isinstance(screen, JobScreen)
        assert screen.query(BigFigure).first().value.strip() == "0.472"
        assert shown_as_changed(screen) == []
