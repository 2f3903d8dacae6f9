"""How sure figures are, in words, and on the sheet."""

from __future__ import annotations

from typing import get_args

from judgement_jobs import FULL, PLAIN_FORK, PROFILES, judged, put, split
from stanchion.judgement.reading_errors import Instrument
from stanchion.report.figure_numbers import sure_figures
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_text import sheet_text
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.how_sure_words import HOW_SURE, READ_BY, sure_lines

JOB = put(FULL, **PLAIN_FORK)


def test_every_instrument_has_its_words() -> None:
    assert set(READ_BY) == set(get_args(Instrument))


def test_a_line_has_the_figure_its_uncertainty_and_the_reading_that_makes_most_of_it() -> None:
    """Two lengths by a tape in mm: ± 0.80 mm (JCGM 100:2008, 4.3.7 and 5.1.2)."""
    lines = dict(sure_lines(sure_figures(JOB, PROFILES), METRIC, split=False))
    assert lines["Preload, fork"] == "± 0.8 mm, free length"
    assert "Preload, right leg" not in lines
    inches = dict(sure_lines(sure_figures(JOB, PROFILES), Units(lengths="in"), split=False))
    assert inches["Preload, fork"].startswith("± 0.032 in, ")


def test_legs_entered_apart_have_a_line_each() -> None:
    names = [name for name, _ in sure_lines(sure_figures(split(JOB), PROFILES), METRIC, split=True)]
    assert names[:2] == ["Preload, left leg", "Preload, right leg"]


def test_the_sheet_says_it_once_and_only_where_it_was_worked_out() -> None:
    said = sheet_text(make_sheet(JOB, judged(JOB), sure=sure_figures(JOB, PROFILES)))
    assert said.count(HOW_SURE.upper()) + said.count(HOW_SURE) == 1
    assert "± 0.8 mm, free length" in " ".join(said.split())
    assert HOW_SURE not in sheet_text(make_sheet(JOB, judged(JOB)))
