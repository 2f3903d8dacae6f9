"""A spring of another length is one finding; what follows from it asks for no other work."""

from __future__ import annotations

from dataclasses import replace

import pytest

from judgement_jobs import FULL, LEG, codes, found, judged, put, sag_end, split
from stanchion.judgement.results.findings import Severity
from stanchion.wording.finding_words import sentence

SHORT = replace(LEG, spring=replace(LEG.spring, free_length_mm=245.0))
"""7 mm of installed preload, where a spring of 250 mm has 12; the band is 8 to 15 mm."""
FOLLOWING = {"preload_low", "preload_high", "installed_preload_differs", "pair_suits_recheck", "pair_edge_recheck"}


def test_between_the_legs_the_length_is_the_only_fault_and_names_the_preload() -> None:
    assessment = judged(split(FULL, SHORT))
    assert not FOLLOWING & set(codes(assessment))
    finding = found(assessment, "free_lengths_differ")
    assert finding.severity is Severity.WARNING
    assert "one (7.0 mm installed, band 8–15). Match them" in sentence(finding)
    advice = assessment.sag.front.advice
    assert advice is not None
    assert (advice.code, advice.severity) == ("lengths_first", Severity.NOTE)
    assert assessment.predicted.front.target in (None, advice)


@pytest.mark.parametrize(
    ("path", "length_mm", "words"),
    [
        ("front__left__spring__free_length_mm", 245.0, "(7.0 mm installed, band"),
        ("front__left__spring__free_length_mm", 256.0, "(18.0 mm installed, band"),
        ("rear__spring__free_length_mm", 174.0, "(6.0 mm installed, band"),
    ],
)
def test_so_it_is_against_last_time(path: str, length_mm: float, words: str) -> None:
    assessment = judged(put(FULL, **{path: length_mm}), FULL)
    assert not FOLLOWING & set(codes(assessment))
    code = "longer_than_before" if length_mm == 256.0 else "shorter_than_before"
    assert words in sentence(found(assessment, code))


def test_one_spring_that_was_changed_is_told_once_as_shorter() -> None:
    assert "shorter_than_before" not in codes(judged(split(FULL, SHORT), FULL))


def test_what_the_length_does_not_explain_is_a_fault_of_its_own() -> None:
    # 8 mm shorter, yet both legs lack preload: the longer spring's set length is wrong, too.
    both = put(split(FULL, SHORT), front__left__spring__set_length_mm=245.0)
    assert "preload_low" in codes(judged(both))
    # 3 mm of installed preload, and 6 with a spring as long as last time: still below the band.
    low = put(FULL, front__left__spring__free_length_mm=241.0)
    assert "preload_low" in codes(judged(low, put(FULL, front__left__spring__free_length_mm=244.0)))
    # Another set length makes the legs differ by more than their springs do.
    apart = split(FULL, replace(SHORT, spring=replace(SHORT.spring, set_length_mm=240.0)))
    assert "installed_preload_differs" in codes(judged(apart))


def test_sag_that_the_length_makes_too_large_asks_for_the_length_and_no_turns() -> None:
    job = put(FULL, front__left__spring__free_length_mm=245.0, sag__front=sag_end(29.0, 42.0))
    alone, beside = judged(job).sag.front.advice, judged(job, FULL).sag.front.advice
    assert alone is not None
    assert alone.values["way"] == "more"
    assert beside is not None
    assert beside.code == "lengths_first"


def test_a_spring_loose_by_a_set_length_read_with_another_spacer_is_told_by_that() -> None:
    """Each mm of stack is one of preload: 12 mm were read with a stack of 239, which now is 98 + 5 = 103 mm."""
    job = put(FULL, front__left__stack__spacer_mm=98.0, upkeep__set_lengths_with__left_mm=239.0)
    assessment = judged(job)
    assert "spring_loose" not in codes(assessment)
    finding = assessment.findings[0]
    assert (finding.code, finding.severity) == ("set_length_stale", Severity.FAULT)
    assert "which makes installed preload −124.0 mm. Measure it again" in sentence(finding)
    read_so = put(job, upkeep__set_lengths_with__left_mm=103.0, front__left__spring__set_length_mm=374.0)
    assert found(judged(read_so), "spring_loose").severity is Severity.FAULT
