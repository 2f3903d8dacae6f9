"""The choice of springs in words: what is needed, what it rests on, and what fits a narrow terminal."""

from __future__ import annotations

from typing import cast

import pytest

from judgement_jobs import PROFILES, codes, judged, put
from sheet_jobs import JOBS
from stanchion.bench.session import Session
from stanchion.job.model import ENDS, Job
from stanchion.judgement.springs.stock import Stock
from stanchion.planning.spring_choice import SpringChoice, choose
from stanchion.ui.predicted_lines import predicted_lines
from stanchion.ui.springs_lines import (
    detail,
    indented,
    layout_of,
    needed_sentences,
    row_line,
    verdict_line,
    whole_sentences,
)
from stanchion.units.known_units import METRIC
from stanchion.wording.verdicts import SPRING_VERDICTS

WELL_SET = JOBS["well_set"]
DOUBTED = put(WELL_SET, job__rider_mass_kg=cast("float", WELL_SET.job.rider_mass_kg) - 18.0)
"""The scales give 18 kg more for the rider than is entered."""


def needed(job: Job) -> tuple[SpringChoice, str]:
    session = Session(job, PROFILES)
    choice = choose(job, session.assessment, PROFILES, "front")
    return choice, " ".join(line.plain for line in needed_sentences(choice, session))


def test_loads_in_doubt_are_told_and_no_spring_suits() -> None:
    assert "scales_contradict_rider" in codes(judged(DOUBTED))
    for end in ENDS:
        assert any(one.verdict.startswith("suits") for one in choose(WELL_SET, judged(WELL_SET), PROFILES, end).options)
        choice = choose(DOUBTED, judged(DOUBTED), PROFILES, end)
        assert choice.options
        assert not any(one.verdict.startswith(("suits", "turn")) for one in choice.options)
    choice, words = needed(DOUBTED)
    assert "Loads in doubt: scales and masses contradict each other." in words
    assert "estimated" not in words
    assert "in doubt" not in needed(WELL_SET)[1]


def test_both_predicted_sags_are_marked_as_in_doubt() -> None:
    lines = [line.plain for line in predicted_lines(judged(DOUBTED), METRIC, 49)]
    at = next(at for at, line in enumerate(lines) if line.startswith("Predicted"))
    assert lines[at + 1].split("both") == ["                ", " in doubt   ", " in doubt"]


def test_a_list_with_another_preload_than_the_rate_needed_says_which_is_which() -> None:
    # The band is 8 to 15 mm, with 11.5 at its middle; 12 mm are installed, and springs go in without another spacer.
    choice, words = needed(WELL_SET)
    assert {fitting.installed_mm for one in choice.options if not one.fitted_now for fitting in one.fittings} == {12.0}
    assert "Below: standard steps, with 12.0 mm installed." in words
    assert "with 11.5 mm installed" in words


def test_a_use_without_a_band_is_named_above_springs_of_which_only_the_sags_are_said_to_be_right() -> None:
    choice, words = needed(put(WELL_SET, job__use="soft-road"))
    verdicts = {one.verdict for one in choice.options}
    assert "sags_in" in verdicts
    assert not any("suits" in SPRING_VERDICTS[verdict] for verdict in verdicts)  # more than was judged
    assert "This use has no band for installed preload: see the manual." in words
    assert "no band" not in needed(WELL_SET)[1]


def test_on_a_small_terminal_whole_sentences_are_left_out() -> None:
    choice, _ = needed(WELL_SET)
    sentences = needed_sentences(choice, Session(WELL_SET, PROFILES))
    for most in (2, 3):
        lines = whole_sentences(sentences, 58, most)
        assert len(lines) <= most
        assert lines[-1].plain.endswith(".")
        assert "Below: standard steps" in " ".join(line.plain for line in lines) or most == 2


@pytest.mark.parametrize("width", [60, 80, 120])
def test_the_verdict_has_its_place_in_every_row(width: int) -> None:
    choice, _ = needed(WELL_SET)
    layout = layout_of(choice.options, METRIC, width)
    for one in choice.options:
        line = row_line(one, METRIC, layout, width - 2).plain
        assert line.endswith(verdict_line(one, METRIC, layout).plain.strip().partition(";")[0])
        assert len(line) <= width - 4


def test_a_line_that_is_too_long_goes_on_further_in_with_the_sags_of_a_position_together() -> None:
    choice, _ = needed(WELL_SET)
    lines = [part.plain for line in detail(choice.options[0], METRIC, Stock()) for part in indented(line, 60)]
    assert all(len(line) <= 60 for line in lines)
    assert all(line.startswith(" ") for line in lines)
    assert any(line.startswith("   in ") for line in lines)


def test_figures_without_a_column_stand_with_the_verdict() -> None:
    choice, _ = needed(WELL_SET)
    narrow = layout_of(choice.options, METRIC, 60)
    assert len(narrow.columns) < len(layout_of(choice.options, METRIC, 80).columns)
    assert "inst. 12.0" in verdict_line(choice.options[0], METRIC, narrow).plain
