"""Every key stands once in one table, is one that common terminals deliver, and can be changed."""

from __future__ import annotations

from pathlib import Path

import pytest

import driving
from complete_job import complete_job
from stanchion.ui.keys import KEYS, help_rows, shown, with_changes
from stanchion.ui.screens.all_screens import SCREENS, make_screen
from stanchion.ui.screens.guide import GuideScreen
from stanchion.ui.screens.job_screen import JobScreen
from textual_private import bindings_of
from timing import at_rest


def test_every_letter_and_every_direct_key_stands_for_one_thing() -> None:
    for screen in {key.on for key in KEYS}:
        letters = [key.letter for key in KEYS if key.on in ("", screen) and key.letter]
        assert len(set(letters)) == len(letters)
        direct = [one for key in KEYS if key.on in ("", screen) for one in key.keys.split(",") if one]
        assert len(set(direct)) == len(direct)


def test_every_command_has_a_letter_for_keyboards_that_hide_the_function_keys() -> None:
    lists = ("jobs", "worklist", "story", "guide")  # Esc leaves these, or letters filter
    assert all(
        len(key.letter) == 1 and (key.letter.isalnum() or key.letter == "?") for key in KEYS if key.on not in lists
    )


def test_no_key_is_one_that_terminals_send_as_another() -> None:
    # ctrl+i, ctrl+m, ctrl+h and ctrl+[ are Tab, Enter, Backspace and Escape in a terminal; F10 and F11 belong to it.
    taken = {"ctrl+i", "ctrl+m", "ctrl+h", "ctrl+j", "ctrl+c", "f10", "f11"}
    assert not taken & {one for key in KEYS for one in key.keys.split(",")}


def test_a_users_key_replaces_the_usual_one() -> None:
    keys, problems = with_changes({"undo": "ctrl+b"})
    assert problems == []
    assert {key.id: key.keys for key in keys}["undo"] == "ctrl+b"


@pytest.mark.parametrize(
    ("changes", "word"),
    [
        ({"nonsense": "f2"}, "no such action"),
        ({"undo": "f3"}, "already taken"),
        ({"undo": "ctrl+m"}, "not a key"),
        ({"undo": "blah"}, "not a key"),
        ({"undo": "ctrl+b", "redo": "ctrl+b"}, "already taken"),
    ],
)
def test_a_key_that_cannot_be_used_is_reported_and_the_usual_one_stays(changes: dict[str, str], word: str) -> None:
    keys, problems = with_changes(changes)
    assert len(problems) == 1
    assert word in problems[0].words
    assert problems[0].words.startswith("config.toml: keys.")
    assert {key.id: key.keys for key in keys}["screen.front"] == "f3"


def test_two_keys_may_change_places() -> None:
    keys, problems = with_changes({"screen.front": "f4", "screen.rear": "f3"})
    assert problems == []
    assert [key.keys for key in keys if key.id in ("screen.front", "screen.rear")] == ["f4", "f3"]


def test_help_lists_every_command() -> None:
    rows = help_rows(KEYS)
    assert [words for _, _, words, _ in rows] == [key.words for key in KEYS]
    where = {words: on for _, _, words, on in rows}
    assert where["Undo"] == ""
    assert (where["Log a run"], where["Put the list away"], where["The bin"]) == ("Runs", "Work list", "Jobs")
    assert shown("f3,ctrl+t") == "F3"


PARTS = ("machine", "front", "rear", "sag", "adjusters", "predict", "trial", "springs", "runs", "upkeep", "earlier")


async def test_the_most_needed_key_of_a_screen_and_the_way_to_all_stand_at_its_foot_at_80_columns(
    tmp_path: Path,
) -> None:
    app = driving.app_on(tmp_path, complete_job(), PARTS[0])
    async with app.run_test(size=driving.USUAL) as pilot:
        for part in PARTS:
            app.action_go(part)
            await at_rest(pilot)
            screen = app.screen
            assert isinstance(screen, JobScreen)
            assert app.current_mode == part
            foot = driving.shown(app).splitlines()[-1]
            assert screen.hints()[0] in foot, part
            assert "Esc all keys" in foot, part


async def test_every_command_is_an_action_where_it_can_be_given(tmp_path: Path) -> None:
    app = driving.app_on(tmp_path, complete_job())
    screens = {name: make_screen(name, app, app.jobs, app.story) for name in SCREENS} | {"guide": GuideScreen("sag")}
    for key in KEYS:
        holder = screens[key.on] if key.on else app
        assert hasattr(holder, f"action_{key.action.partition('(')[0]}"), key.id
        if key.keys:
            assert key.id in {binding.id for binding in bindings_of(holder)}, f"{key.id} cannot be changed by the user"


async def test_a_user_s_key_for_a_command_of_the_list_is_bound_and_named_there(tmp_path: Path) -> None:
    driving.app_on(tmp_path, driving.a_job()).workspace.close()
    (tmp_path / "config").mkdir(exist_ok=True)
    (tmp_path / "config" / "config.toml").write_text('[keys]\n"job.delete" = "f10"\n', "utf-8")
    other = driving.app_on(tmp_path, driving.a_job(machine="Damson"))
    async with other.run_test(size=driving.USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f9")
        await at_rest(pilot)
        assert "F10/F7 bin" in driving.shown(other)
        await pilot.press("down", "f10")
        await at_rest(pilot)
        assert "Move this job to the bin?" in driving.shown(other)
