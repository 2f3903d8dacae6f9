"""Lists to choose from hold out against keys that come before they are laid out, have room, or are filled again."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.app import App, ComposeResult
from textual.content import Content

from complete_job import complete_job
from driving import USUAL, app_on, burst, many
from stanchion.ui.screens.springs import SpringsScreen
from stanchion.ui.widgets.choices import PAGE, Choices, Choosable
from timing import at_rest


class Lone(App[None]):
    """Nothing but a list."""

    def compose(self) -> ComposeResult:
        """Of forty lines, one of them not to be chosen."""
        lines = [Choosable(Content(f"line {number}"), number, disabled=number == PAGE) for number in range(40)]
        yield Choices(*lines, markup=False)


async def test_page_keys_move_on_a_list_without_room() -> None:
    app = Lone()
    async with app.run_test(size=USUAL) as pilot:
        choices = app.query_one(Choices)
        choices.focus()
        choices.styles.display = "block"
        choices.styles.border = ("none", "white")
        choices.styles.height = 0
        await pilot.pause()
        choices.clear_options()
        choices.add_options(Choosable(Content(f"line {n}"), n, disabled=n == PAGE) for n in range(40))
        choices.highlighted = 0
        assert not choices.scrollable_content_region
        await pilot.press("pagedown")
        assert choices.highlighted in (PAGE - 1, PAGE + 1)  # line PAGE cannot be chosen
        for _ in range(5):
            await pilot.press("pagedown")
        assert choices.highlighted == 39
        for _ in range(6):
            await pilot.press("pageup")
        assert choices.highlighted == 0


LISTS = {
    "springs": "ctrl+g",
    "earlier": "ctrl+e",
    "worklist": "ctrl+w",
    "warnings": "f6",
    "jobs": "f9",
    "story": "ctrl+f",
}


async def test_page_keys_at_once_after_the_key_of_a_list_end_nothing(tmp_path: Path) -> None:
    many(tmp_path / "jobs", 12)
    app = app_on(tmp_path, complete_job(), "front")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        for key in LISTS.values():
            for size in (USUAL, (80, 8), (40, 10), USUAL):
                await pilot.resize_terminal(*size)
                burst(app, f"{key} pagedown pageup pagedown end pagedown {key} pagedown")
                await at_rest(pilot)
                for choices in app.screen.query(Choices):
                    choices.styles.height = 0
                    await pilot.pause()
                    burst(app, "pagedown pageup")
                    await pilot.pause()
                    choices.styles.height = "1fr"
                await pilot.press("escape", "escape", "f3")
            assert app.session is not None
            assert app.current_mode == "front", key


async def test_enter_means_the_spring_it_was_pressed_on_though_the_list_is_filled_again_meanwhile(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    tried: list[str] = []
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert isinstance(app.screen, SpringsScreen)
        monkeypatch.setattr(app.screen, "try_springs", lambda option: tried.append(option.fittings[0].place))
        choices = app.screen.query_one(Choices)
        assert choices.option_count > 1
        choices.action_last()
        choices.action_select()
        app.screen.action_other_end()  # the screen hears of Enter after this
        await at_rest(pilot)
        assert tried == ["left"]  # of the fork, and not of the shock
