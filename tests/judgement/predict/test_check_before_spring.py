"""No spring is advised where loads and springs cannot both be as entered."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from judgement_jobs import PLAIN_FORK, PROFILES, codes, found, judged, put, repeated, sag_end
from sheet_jobs import JOBS
from stanchion.job.model import Job
from stanchion.job.runs import new_run
from stanchion.judgement.results.findings import Severity
from stanchion.planning.spring_choice import choose
from stanchion.ui.predicted_lines import rests_on
from stanchion.wording.finding_words import sentence

FORK: dict[str, Any] = {
    **PLAIN_FORK,
    "front__left__spring__set_length_mm": 236.0,
    "front__left__spring__set_length_in_mm": 228.0,
    "front__left__adjuster__now": 8.0,
    "front__left__solids_ml": 100.0,
    "weights__front_alone_kg": 88.0,
    "weights__front_aboard_kg": 122.0,
    "weights__front_unsprung_kg": 14.0,
    "front__left__air_gap_mm": 130.0,
    "front__stanchion_outer_mm": 43.0,
    "front__stanchion_inner_mm": 39.0,
}
"""2 x 9.5 N/mm with 14 mm installed and the adjuster fully in, all entered and weighed; invented. They give rider sag of about
26 mm, and more preload than 1 mm would leave the band of 8 to 15 mm."""


def test_a_sag_that_weighed_loads_and_whole_springs_do_not_give_is_checked_before_a_spring_is_bought() -> None:
    """Rider sag 43.0, static 22.0: 34 kg g cos 24 over 21 mm are 14.5 N/mm at work, where 19 are fitted and the air adds
    to them. A rate named from these springs would carry over whatever is wrong."""
    job = put(Job(), **FORK, sag__front=sag_end(22.0, 43.0, 0.4))
    assessment = judged(job)
    advice = assessment.sag.front.advice
    assert advice is not None
    assert advice.code == "check_before_spring"
    assert advice == assessment.predicted.front.target
    assert "no other spring is advised" in sentence(advice)
    assert not {"sag_not_as_predicted", "working_rate_low"}.intersection(codes(assessment))  # said once
    assert not [one for one in assessment.findings if "fit a" in sentence(one).lower()]
    assert choose(job, assessment, PROFILES, "front").needed_n_per_mm.problem == "inputs_doubted"


def test_where_what_was_not_entered_may_explain_it_the_spring_is_advised_and_what_is_missing_is_named() -> None:
    job = put(Job(), **(FORK | {"front__left__air_gap_mm": None}), sag__front=sag_end(22.0, 43.0, 0.4))
    assessment = judged(job)
    assert assessment.sag.front.advice is not None
    assert assessment.sag.front.advice.values["work"] == "spring"
    assert "Enter what is missing first: air trapped above the oil." in sentence(found(assessment, "working_rate_low"))


def test_scales_that_contradict_the_masses_are_put_right_before_a_spring_is_bought() -> None:
    sound = JOBS["soft_springs"]
    doubted = put(sound, job__rider_mass_kg=60.0)
    for job, is_doubted in ((sound, False), (doubted, True)):
        assessment = judged(job)
        advice = assessment.sag.front.advice
        assert advice is not None
        assert (advice.code == "check_before_spring") is is_doubted
        assert (advice.values["work"] == "spring") is not is_doubted
        problem = choose(job, assessment, PROFILES, "front").needed_n_per_mm.problem
        assert (problem == "loads_doubted") is is_doubted


@pytest.mark.parametrize("rider_mm", [37.0, 38.2, 41.0])
def test_how_much_a_difference_weighs_does_not_hang_on_the_target(rider_mm: float) -> None:
    """Target 28 to 38 mm: the same readings in it, at its edge and above it."""
    job = put(Job(), **FORK, sag__front=sag_end(20.0, rider_mm, 0.4))
    told = [one for one in judged(job).findings if one.code in ("sag_not_as_predicted", "check_before_spring")]
    assert [one.severity for one in told] == [Severity.WARNING]


def test_while_entered_values_and_sag_disagree_no_sentence_says_that_springs_suit_or_are_needed() -> None:
    """Rider sag 36.0 in its target of 28 to 38 mm, where these springs and loads give some 26: the label, a length or a
    scale is wrong. A marker 3 mm from the end of 120 asks for what resists at the end, not yet for another spring."""
    job = put(Job(), **FORK | {"front__travel_mm": 120.0}, sag__front=repeated(sag_end(20.0, 36.0, 0.4)))
    assessment = judged(job)
    assert assessment.predicted.front.to_check
    advice = assessment.sag.front.advice
    assert advice is not None
    assert advice.code == "pair_suits"
    assert sentence(advice).endswith("leave springs and preload as they are until what disagrees is checked.")
    choice = choose(job, assessment, PROFILES, "front")
    assert choice.to_check
    assert not [one for one in choice.options if one.verdict.startswith(("suits", "turn"))]
    for air_gap, closed in ((130.0, False), (130.0, True)):
        ridden = put(job, front__left__air_gap_mm=air_gap, front__air_gap_least_mm=air_gap if closed else None)
        for turned in (8.0, 2.0):
            run = new_run(put(ridden, front__left__adjuster__now=turned), "10:20")
            marked = judged(replace(ridden, runs=(replace(run, front_marker_mm=117.0),)))
            (said,) = [sentence(one) for one in marked.findings if one.code.startswith("bottoms_")]
            assert "No other spring is advised until what is in doubt at this end is put right." in said
            assert "iffer spring" not in said


def test_a_sag_that_was_not_measured_is_to_be_measured_and_not_measured_again() -> None:
    job = JOBS["well_set"]
    load_kg = job.weights.front_aboard_kg
    assert load_kg is not None
    said: set[str] = set()
    for more in range(20):
        at = put(job, sag__front=Job().sag.front, job__rider_mass_kg=None, weights__front_aboard_kg=load_kg + more)
        target = judged(at).predicted.front.target
        if target is not None and target.code == "pair_borderline":
            said.add(sentence(target))
    assert said
    assert all(words.endswith("to judge: measure first.") and "again" not in words for words in said)


def test_loads_taken_from_old_sags_are_not_said_to_come_from_a_mass_and_its_share() -> None:
    """Both scales were read, so no share stands in for them."""
    by_scales = judged(put(Job(), **FORK)).predicted.front
    assert rests_on("front", by_scales) == ""
    by_old_sag = replace(by_scales, estimate=True)
    assert rests_on("front", by_old_sag) == "Front: loads are estimated by the sags read before the change."


def test_while_scales_contradict_the_masses_no_spring_of_another_length_is_named() -> None:
    """Installed preload 2 mm below where it was and the collar 2 turns further in: the same preload, 7 mm of 8 installed."""
    lengths = {"rear__spring__set_length_mm": 158.0, "rear__spring__set_length_in_mm": 148.0, "rear__collar__now": 4.0}
    sound = put(JOBS["well_set"], **lengths)
    for job, is_doubted in ((sound, False), (put(sound, job__rider_mass_kg=40.0), True)):
        advice = judged(job).sag.rear.advice
        assert advice is not None
        assert advice.code == "pair_suits_recheck"
        assert ("fit a spring" in sentence(advice)) is not is_doubted
        assert ("where the adjuster was when you read them" in sentence(advice)) is is_doubted
