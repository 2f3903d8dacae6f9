"""Every key stands once in one table, is one that common terminals deliver, and can be changed."""

from __future__ import annotations

import pytest

from stanchion.ui.keys import KEYS, help_rows, shown, with_changes


def test_every_letter_and_every_direct_key_stands_for_one_thing() -> None:
    for screen in {key.on for key in KEYS}:
        letters = [key.letter for key in KEYS if key.on in ("", screen) and key.letter]
        assert len(set(letters)) == len(letters)
        direct = [one for key in KEYS if key.on in ("", screen) for one in key.keys.split(",") if one]
        assert len(set(direct)) == len(direct)


def test_every_command_has_a_letter_for_keyboards_that_hide_the_function_keys() -> None:
    lists = ("jobs", "worklist", "story", "guide")  # Esc leaves these, or letters filter
    assert all(len(key.letter) == 1 and key.letter.isalnum() for key in KEYS if key.on not in lists)


def test_no_key_is_one_that_terminals_send_as_another() -> None:
    # ctrl+i, ctrl+m, ctrl+h and ctrl+[ are Tab, Enter, Backspace and Escape in a terminal; F10 and F11 belong to it.
    taken = {"ctrl+i", "ctrl+m", "ctrl+h", "ctrl+j", "ctrl+c", "f10", "f11", "f12"}
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
    assert word in problems[0]
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
