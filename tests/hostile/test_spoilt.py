"""Spoilt input gives a value or a documented refusal, and never a long wait.

Here a fixed part of the inputs; `python tests/hostile/fuzz.py 100000` makes so many for every reader and tells the slowest.
"""

from __future__ import annotations

import os
from random import Random

import pytest

from spoilt import readers

READERS = readers()
SEED = 20261125
COUNT = int(os.environ.get("STANCHION_SPOILT", "1500"))


@pytest.mark.parametrize("name", READERS)
def test_spoilt_input_gives_a_value_or_a_refusal(name: str) -> None:
    reader, dice = READERS[name], Random(SEED)
    for at in range(COUNT):
        given = reader.spoil(dice)
        try:
            reader.read(given)
        except Exception as error:
            raise AssertionError(f"{name}, input {at}: {given!r}") from error
