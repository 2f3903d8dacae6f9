"""The words of a comparison: every row has a name, and a change of preload is told by its case."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import make_samples
from judgement_jobs import FULL, PROFILES, judged, put, split
from stanchion.job.model import Job
from stanchion.mechanics.fork_change import PreloadCase
from stanchion.planning.whatif import WhatIf, compare
from stanchion.report.check import as_text
from stanchion.units.known_units import Units
from stanchion.wording.whatif_sentences import CASES, preload_sentence, row_name, row_part
from strategies import jobs

LONGEST_SENTENCE = 160


def turned(job: Job, turns: float) -> WhatIf:
    return compare(job, put(job, front__left__adjuster__now=turns), PROFILES)


def test_what_is_left_with_the_adjuster_in_is_not_called_what_check_gives_as_set_now() -> None:
    well = make_samples.well_set()
    text = as_text("j", well, judged(well))
    rows = [row for row in compare(well, well, PROFILES).rows if row.code == "coil_bind_clearance_mm"]
    fully_in = row_name(rows[0])
    assert fully_in == "Left, adjuster in"
    assert "Left at full travel  39.3 mm, as set now" in text
    assert f"  {fully_in} " not in text


def test_every_row_has_a_name_that_fits_its_column() -> None:
    what_if = compare(FULL, split(FULL), PROFILES)
    for row in what_if.rows:
        assert 0 < len(row_name(row)) <= 22
        assert row_part(row)
    assert len({(row_part(row), row_name(row)) for row in what_if.rows}) == len(what_if.rows)


def test_an_unsplit_fork_is_told_of_as_both_legs() -> None:
    assert "Fork, both legs" in {row_part(row) for row in turned(FULL, 6.0).rows}
    assert {"Fork, left", "Fork, right"} <= {row_part(row) for row in turned(split(FULL), 6.0).rows}


def test_every_case_has_words() -> None:
    assert {case.value for case in PreloadCase} == set(CASES) - {""}


def test_more_preload_at_the_fork_is_told_with_rise_and_fall() -> None:
    [_, rider] = turned(put(FULL, geometry__rake_deg=24.0), 8.0).preload
    assert preload_sentence(rider) == (
        "Fork, rider aboard, no top-out spring at work: the front rises 2.0 mm along the leg (1.8 mm vertically), "
        "and sag falls by 2.0 mm."
    )
    assert "0.079 in" in preload_sentence(rider, Units(lengths="in"))


def test_the_collar_raises_or_lowers_the_wheel_end() -> None:
    for turns, words in (
        (4.0, "more of it raises the rear by 7.5 mm, and sag falls by"),
        (0.0, "less of it lowers the rear by 7.5 mm, and sag grows by"),
    ):
        [_, rider] = compare(FULL, put(FULL, rear__collar__now=turns), PROFILES).preload
        assert words in preload_sentence(rider)


def test_less_preload_is_told_as_sinking() -> None:
    [_, rider] = turned(FULL, 0.0).preload
    assert "the front sinks 2.0 mm along the leg" in preload_sentence(rider)
    assert "sag grows by 2.0 mm" in preload_sentence(rider)


def test_the_collar_is_told_by_what_a_millimetre_of_it_does_at_the_wheel() -> None:
    [_, rider] = compare(FULL, put(FULL, rear__collar__now=4.0), PROFILES).preload
    assert preload_sentence(rider) == (
        "Shock, rider aboard: 1 mm of collar raises the rear by 2.5 mm here; 3.0 mm more of it raises the rear "
        "by 7.5 mm, and sag falls by 7.5 mm."
    )


@pytest.mark.parametrize("unsprung", [2.0, 15.0])
@pytest.mark.parametrize("alone", [16.0, 30.0, 50.0, 52.0, 90.0, 300.0])
def test_sentences_of_every_case_fit_two_lines_of_a_terminal(alone: float, unsprung: float) -> None:
    job = put(
        FULL,
        front__top_out__fitted="yes",
        front__top_out__rate_n_per_mm=30.0,
        front__top_out__works_over_mm=20.0,
        front__travel_mm=120.0,
        weights__front_unsprung_kg=unsprung,
        weights__front_alone_kg=max(alone, unsprung),
        geometry__rake_deg=24.0,
    )
    for turns in (0.0, 4.5, 16.0):
        for effect in turned(job, turns).preload:
            text = preload_sentence(effect)
            assert len(text) <= LONGEST_SENTENCE + 70 * (effect.case != effect.case_after), text


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(jobs(), st.floats(0.0, 20.0), st.floats(0.0, 20.0))
def test_any_change_of_preload_is_told_without_a_gap(job: Job, front: float, rear: float) -> None:
    for effect in compare(job, put(job, front__left__adjuster__now=front, rear__collar__now=rear), PROFILES).preload:
        text = preload_sentence(effect)
        assert "?" not in text
        assert not [c for c in text if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Cn")]
