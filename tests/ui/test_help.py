"""The help can be read in a window of any width."""

from __future__ import annotations

import pytest

from stanchion.ui.help_reference import GENERAL
from stanchion.ui.help_search import fitted
from stanchion.ui.help_text import PARTS, WIDTH, HelpPart
from stanchion.ui.keys import KEYS
from stanchion.ui.screens.dialogs import _key_rows

INSIDE_SIXTY = 55
"""Columns beside the frame and the scroll bar of a window of sixty."""


@pytest.mark.parametrize("part", [*PARTS, *GENERAL], ids=lambda part: part.title)
def test_every_word_of_a_part_is_there_in_its_order_at_any_width(part: HelpPart) -> None:
    assert fitted(part.text, WIDTH) == part.text
    for width in (INSIDE_SIXTY, 34):
        text = fitted(part.text, width)
        assert max(map(len, text.splitlines())) <= width
        assert text.split() == part.text.split()


def test_every_formula_begins_a_line_of_its_own() -> None:
    for part in PARTS:
        formulas = [
            line.split(" = ")[0] for line in part.text.splitlines() if line[:1].isupper() and " = " in line[:20]
        ]
        lines = fitted(part.text, INSIDE_SIXTY).splitlines()
        assert [one for one in formulas if not any(line.startswith(f"{one} =") for line in lines)] == []


def test_the_keys_fit_beside_the_screen_they_work_on() -> None:
    for width in (WIDTH, INSIDE_SIXTY):
        assert max(row.cell_length for row in _key_rows("All keys", KEYS, width)) <= width
