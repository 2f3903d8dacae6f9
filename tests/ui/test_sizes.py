"""Every screen in every size: field in hand, figure, worst warning and a way on are there; nothing is cut unmarked."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from textual.containers import VerticalScroll
from textual.pilot import Pilot
from textual.widgets import Input, Static

from driving import TODAY, shown, typed, workspace_in
from stanchion.base.text import clean
from stanchion.store.samples import samples
from stanchion.ui.app import StanchionApp
from stanchion.ui.screens.job_screen import JobScreen
from stanchion.ui.screens.sheet_screen import SheetScreen
from stanchion.ui.widgets.editor import CellEditor
from stanchion.wording.finding_words import headline_with_part, sentence
from stanchion.wording.verdicts import severity_word
from timing import at_rest

IN_FULL = ((80, 23), (80, 16), (60, 18), (60, 16))
"""Sizes in which every screen is readable and usable."""
LITTLE = ((59, 15), (40, 10), (24, 7))
"""Sizes in which the field in hand, its figure and the worst warning are."""
BENCH = {
    "machine": ("f2", ("job", "rider_mass_kg"), "91", "91 kg"),
    "front": ("f3", ("front", "left", "spring", "free_length_mm"), "251", "251 mm"),
    "rear": ("f4", ("rear", "spring", "rate_n_per_mm"), "85", "85 N/mm"),
    "sag": ("f5", ("sag", "rear", "rider", "up_mm", 0), "585", "585 mm"),
    "adjusters": ("ctrl+x", ("rear", "rebound", "now"), "11", "11 clicks out"),
    "trial": ("ctrl+t", ("rear", "spring", "rate_n_per_mm"), "85", "85 N/mm"),
    "runs": ("ctrl+l", ("runs", 1, "front_marker_mm"), "111", "111 mm"),
    "upkeep": ("ctrl+u", ("upkeep", "machine_hours"), "41", "41 h"),
}
"""The key of each screen with a sheet, a field on it, what is typed, and how it is understood."""
OTHERS = {
    "predict": (("ctrl+p",), "SAG, mm"),
    "springs": (("ctrl+g",), "10.25"),
    "earlier": (("ctrl+e",), "EARLIER STATES"),
    "worklist": (("ctrl+w",), "run 2"),
    "guide": (("f5", "ctrl+r"), "SAG"),
    "story": (("ctrl+f",), "STORY of Damson"),
    "jobs": (("f9",), "Damson no. 11"),
    "bin": (("f9", "f7"), "The bin"),
    "new job": (("ctrl+n",), "Machine"),
    "stock": (("ctrl+g", "f7"), "STOCK OF SPRINGS"),
    "warnings": (("f6",), "FAULT Fork"),
    "help": (("f1",), "Help"),
    "commands": (("escape",), "Front end"),
    "compare": (("ctrl+f", "up", "ctrl+k"), "From"),
    "complaint": (("ctrl+l", "ctrl+a"), "dives, braking straight"),
    "words": (("ctrl+l", "ctrl+a", "o", "w", "n", "enter"), "At most"),
    "what to try": (("ctrl+l", "ctrl+a", "s", "q", "enter"), "squats, corner exit"),
}
"""The keys that lead to each other screen, and what can be read there."""


def app_in(folder: Path) -> StanchionApp:
    """The program on a sample with faults, warnings, two runs and torques."""
    workspace = workspace_in(folder)
    workspace.create_from(next(one.data for one in samples() if one.name == "soft_springs"))
    workspace.remember("front")
    workspace.close()
    return StanchionApp(workspace_in(folder), today=lambda: TODAY)


async def settled(pilot: Pilot[int], app: StanchionApp) -> str:
    """What is shown, once nothing more follows."""
    await app.workers.wait_for_complete()
    before = ""
    for _ in range(50):
        for entry in app.screen.query(Input):
            entry.cursor_blink = False
        await pilot.pause()
        now = shown(app)
        if now == before:
            return now
        before = now
    raise AssertionError(f"never still:\n{before}")


def unseen(app: StanchionApp) -> list[str]:
    """The texts of which some lines fall outside of what shows them, where nothing scrolls to them."""
    found = []
    for widget in app.screen.query(Static).results(Static):
        width = widget.content_size.width
        scrolls = any(isinstance(above, VerticalScroll) for above in widget.ancestors)
        if not widget.display or not width or scrolls:
            continue
        needed = widget.visual.get_height(widget.styles.get_rules(), width)
        if needed > widget.content_size.height > 0:
            found.append(f"{widget.id or widget.classes}: {needed} lines in {widget.content_size}")
    return found


def worst_is_told(app: StanchionApp, seen: str) -> bool:
    """Whether the worst finding of the screen can be read, as a headline or in full, as far as to a mark."""
    screen = app.screen
    assert isinstance(screen, JobScreen)
    assert screen.session is not None
    worst = screen.findings_in_order(screen.session)[0]
    mark, words = f"{severity_word(worst.severity).upper()} ", " ".join(seen.split())
    sentences = words.partition(mark)[2]
    full = clean(sentence(worst, screen.session.units))
    return mark in words and any(
        sentences.startswith(one)
        or (sentences.partition("…")[0].strip() and one.startswith(sentences.partition("…")[0].strip()))
        for one in (headline_with_part(worst), full)
    )


def named(size: tuple[int, int]) -> str:
    return f"{size[0]}x{size[1]}"


@pytest.mark.parametrize("size", [*IN_FULL, *LITTLE], ids=named)
async def test_the_field_in_hand_is_read_and_typed(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=size) as pilot:
        for name, (key, path, text, understood) in BENCH.items():
            await pilot.press(key)
            await at_rest(pilot)
            screen = app.screen
            assert isinstance(screen, SheetScreen), name
            screen.go_to(path)
            await at_rest(pilot)
            assert screen.sheet.at == path
            await typed(pilot, text)
            seen = await settled(pilot, app)
            editor, pane = screen.query_one(CellEditor).region, screen.query_one("#sheet-pane").region
            assert editor.intersection(pane) == editor, f"{name}\n{seen}"
            assert text in seen, f"{name}\n{seen}"
            assert understood in " ".join(seen.split()), f"{name}\n{seen}"
            assert worst_is_told(app, seen), f"{name}\n{seen}"
            assert not unseen(app), f"{name}\n{seen}"
            if size in IN_FULL:
                assert "F6 warnings · Esc all keys" in seen, f"{name}\n{seen}"


@pytest.mark.parametrize("size", [*IN_FULL, *LITTLE], ids=named)
async def test_every_other_screen_is_readable_and_names_a_way_on(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=size) as pilot:
        await settled(pilot, app)
        for name, (keys, words) in OTHERS.items():
            for key in keys:
                await pilot.press(key)
                await at_rest(pilot)
            seen = await settled(pilot, app)
            if size in IN_FULL:
                assert not unseen(app), f"{name}: {unseen(app)}\n{seen}"
                assert words in seen, f"{name}\n{seen}"
                assert any(way in seen for way in ("Esc", "arrows", "All")), f"{name}\n{seen}"
            if isinstance(app.screen, JobScreen):
                assert worst_is_told(app, seen), f"{name}\n{seen}"
            while app.screen is not app.screen_stack[0]:
                await pilot.press("escape")
                await at_rest(pilot)
            await pilot.press("f3")
            await at_rest(pilot)


async def test_resizing_back_and_forth_keeps_the_field_the_text_and_the_look(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("down", "down")
        await typed(pilot, "9 7/")  # cannot be read yet
        before = await settled(pilot, app)
        assert app.session is not None
        job = app.session.job
        for size in (*LITTLE, *IN_FULL, (1, 1), (200, 3), (3, 200), (120, 40), (80, 24)):
            await pilot.resize_terminal(*size)
            await settled(pilot, app)
        assert app.session.job == job
        assert _as_told(shown(app)) == _as_told(before)


async def test_a_screen_follows_the_size_it_was_given_while_another_was_over_it(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        small = await settled(pilot, app)
        assert "INSTALLED PRELOAD" in small
        await pilot.press("f6")
        await settled(pilot, app)
        await pilot.resize_terminal(60, 18)
        await settled(pilot, app)
        await pilot.press("escape")
        seen = await settled(pilot, app)
        assert "Installed 20.0 mm OVER LIMIT" in seen
        assert not unseen(app), seen


def _as_told(text: str) -> str:
    """Without the first line, which says when it was saved, and the bar that says how far it is scrolled."""
    return re.sub("[▁▂▃▄▅▆▇█]", " ", text.partition("\n")[2])
