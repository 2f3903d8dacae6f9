"""A caution is never cut, and never the weakest text on the screen."""

from __future__ import annotations

import pytest

from stanchion.judgement.criteria.cautions import CAUTIONS
from stanchion.judgement.results.codes import Caution
from stanchion.ui.present import caution_lines
from stanchion.wording.finding_words import caution


@pytest.mark.parametrize("code", CAUTIONS)
@pytest.mark.parametrize("width", [40, 58, 78, 118])
def test_the_first_is_whole_however_little_room_there_is(code: Caution, width: int) -> None:
    lines = caution_lines([code, *CAUTIONS], width, 1)
    words = " ".join(line.plain.strip() for line in lines)
    assert words in {f"CAUTION {caution(code, brief=brief)}" for brief in (False, True)}
    assert all(line.cell_length <= width for line in lines)
    assert not any("muted" in str(span.style) for line in lines for span in line.spans)


@pytest.mark.parametrize("code", CAUTIONS)
def test_at_eighty_columns_one_line_is_enough(code: Caution) -> None:
    assert len(caution_lines([code], 78, 1)) == 1


def test_of_more_only_those_that_are_whole() -> None:
    lines = caution_lines(CAUTIONS, 50, 5)
    words = "\n".join(line.plain for line in lines).replace("\n  ", " ").split("\n")
    whole = {f"CAUTION {caution(code, brief=brief)}" for code in CAUTIONS for brief in (False, True)}
    assert set(words) <= whole
    assert len(words) >= 2
