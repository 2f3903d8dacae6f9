"""Which messages are shown at once, and when a key may take them away."""

from __future__ import annotations

import pytest

from stanchion.ui.messages import MESSAGE_S, MOST_SHOWN, ShownMessages


def test_of_one_subject_the_newest_is_shown_and_never_more_than_there_is_room_for() -> None:
    shown = ShownMessages()
    assert shown.add("Saved.", "saving", -1) == [("Saved.", MESSAGE_S)]
    assert [words for words, _ in shown.add("Not saved.", "saving", -1)] == ["Not saved."]
    for number in range(MOST_SHOWN):
        now = shown.add(f"{number}", f"subject {number}", -1)
    assert [words for words, _ in now] == [f"{number}" for number in range(MOST_SHOWN)]


def test_what_one_press_of_a_key_says_is_shown_together_and_goes_at_its_next() -> None:
    shown = ShownMessages()
    shown.add("Written.", "f7", 1)
    assert [words for words, _ in shown.add("Sag is old now.", "f7", 1)] == ["Written.", "Sag is old now."]
    assert [words for words, _ in shown.add("There is nothing to write.", "f7", 2)] == ["There is nothing to write."]


def test_a_key_takes_away_only_what_there_was_time_to_read(monkeypatch: pytest.MonkeyPatch) -> None:
    shown = ShownMessages()
    monkeypatch.setattr("stanchion.ui.messages.READ_S", 0.0)
    assert not shown.may_go()  # there is none
    shown.add("Saved.", "saving", -1)
    assert shown.may_go()
    monkeypatch.setattr("stanchion.ui.messages.READ_S", 60.0)
    assert not shown.may_go()
    monkeypatch.setattr("stanchion.ui.messages.READ_S", 0.0)
    shown.clear()
    assert not shown.may_go()
