"""Installed preload that differs between the legs: which spacer is put right, and what follows from it asks for no more.

That legs whose springs are sold as equal are set alike is common practice, no published source. The rest is the balance
of forces: k1 P1 + k2 P2 carries as much as (k1 + k2) P.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from judgement_jobs import FULL, LEG, PROFILES, codes, found, judged, put, repeated_sags, split
from stanchion.bench.session import Session
from stanchion.bench.trial import Trial
from stanchion.job.model import Job, Leg
from stanchion.judgement.results.findings import Severity
from stanchion.planning.spring_choice import choose
from stanchion.planning.whatif import compare
from stanchion.ui import forms
from stanchion.ui.form_lines import Row
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import sentence


def leg(spacer_mm: float, now: float = 4.0, **spring: Any) -> Leg:
    """A leg with these; 250 mm free, 238 mm fitted, so 12 mm installed, and a spacer of 100 mm are usual here."""
    return replace(
        LEG,
        spring=replace(LEG.spring, **spring),
        adjuster=replace(LEG.adjuster, now=now),
        stack=replace(LEG.stack, spacer_mm=spacer_mm),
    )


def fork(right: Leg, left: Leg = LEG, sags: tuple[float, float] = (13.5, 29.3)) -> Job:
    return split(put(FULL, front__left=left, sag__front=repeated_sags(*sags)), right)


LONG_SPACER = leg(108.0, set_length_mm=230.0, set_length_in_mm=222.0)
"""20 mm installed, over the limit of 15, because its spacer is 8 mm longer than the other leg's."""
FOLLOWING = {"preload_low", "preload_over_limit", "free_lengths_differ", "too_stiff_little_preload", "softer_no_room"}


@pytest.mark.parametrize(
    ("wrong", "severity", "work"),
    [
        (LONG_SPACER, Severity.FAULT, "make the right spacer shorter by 8.0 mm, to 100.0 mm"),
        (leg(93.0, set_length_mm=245.0), Severity.WARNING, "make the right spacer longer by 7.0 mm, to 100.0 mm"),
        # 4 mm longer, yet 8 mm more preload: 20 - 8 = 12 mm with a spacer of 104 - 8, whatever its free length.
        (
            leg(104.0, free_length_mm=254.0, set_length_mm=234.0),
            Severity.FAULT,
            "left spring is 4.0 mm shorter. Recheck the lengths; if they are right, make the right spacer shorter by 8.0 mm",
        ),
    ],
)
def test_the_spacer_of_the_one_leg_out_of_its_band_is_the_only_work(wrong: Leg, severity: Severity, work: str) -> None:
    # Sags as that leg makes them: too small where it has too much preload, else too large.
    assessment = judged(fork(wrong, sags=(13.5, 29.3) if severity is Severity.FAULT else (23.0, 39.0)))
    finding = found(assessment, "installed_preload_differs")
    assert finding.severity is severity
    assert work in sentence(finding)
    assert not FOLLOWING & set(codes(assessment))


def test_with_that_spacer_both_legs_have_the_same() -> None:
    values = found(judged(fork(LONG_SPACER)), "installed_preload_differs").values
    spacer_mm = values["match_spacer_mm"]
    assert isinstance(spacer_mm, float)
    shorter_mm = 108.0 - spacer_mm  # the spring is then so much longer
    then = judged(fork(leg(spacer_mm, set_length_mm=230.0 + shorter_mm, set_length_in_mm=222.0 + shorter_mm)))
    assert then.front.left.installed_preload_mm.value == then.front.right.installed_preload_mm.value == 12.0
    assert not {"installed_preload_differs", "preload_over_limit"} & set(codes(then))


def test_the_sags_wait_for_that_spacer_whether_they_suit_or_ask_for_less_preload() -> None:
    for sags in ((13.5, 29.3), (20.0, 33.0)):
        advice = judged(fork(LONG_SPACER, sags=sags)).sag.front.advice
        assert advice is not None
        assert (advice.code, advice.values["work"]) == ("lengths_first", "measure")
        assert "make its spacer shorter by 8.0 mm, to 100.0 mm. Then measure these sags again" in sentence(advice)


def test_the_list_is_headed_by_the_springs_fitted_while_a_spacer_is_to_be_put_right() -> None:
    for right in (LONG_SPACER, leg(104.0, rate_n_per_mm=10.0, free_length_mm=254.0, set_length_mm=234.0)):
        job = put(fork(right), front__left__spring__rate_n_per_mm=9.5)
        assessment = judged(job)
        given = assessment.sag.front.advice
        assert given is not None
        assert given.code == "lengths_first"
        first = choose(job, assessment, PROFILES, "front").options[0]
        assert [fitting.spring.rate_n_per_mm for fitting in first.fittings] == [
            job.front.left.spring.rate_n_per_mm,
            job.front.right.spring.rate_n_per_mm if job.front.right else None,
        ]
        assert not first.fitted_now  # with other spacers


def test_the_spacer_of_the_advice_can_be_tried_and_gives_what_the_sags_then_are() -> None:
    """8 mm less in one of two equal springs is 4 mm of preload for each, and without air or top-out spring the fork
    then stands 4 mm deeper in both states."""
    bench = Session(fork(LONG_SPACER), PROFILES)
    trial = Trial(bench)
    path = ("front", "right", "stack", "spacer_mm")
    assert path in [cell for line in forms.trial(bench.job, METRIC) if isinstance(line, Row) for cell in line.cells]
    trial.copy.type(path, "100")
    trial.copy.leave(path)
    seen = compare(bench.job, trial.copy.job, PROFILES)
    for code, was in (("static_captured", 13.5), ("rider_captured", 29.3)):
        row = seen.row(("front",), code)
        assert row.present.value == pytest.approx(was)
        assert row.changed.value == pytest.approx(was + 4.0, abs=1e-6)
    assert trial.copy.assessment.front.right.installed_preload_mm.value == pytest.approx(12.0)


def test_sags_too_far_apart_ask_for_a_stiffer_spring_all_the_same() -> None:
    """8 mm more of preload in one leg moves both sags alike, so that what the rider adds stays 32 mm, not 13."""
    advice = judged(fork(LONG_SPACER, sags=(13.0, 45.0))).sag.front.advice
    assert advice is not None
    assert advice.values["work"] == "spring"


def test_a_leg_a_little_out_of_its_band_keeps_no_one_from_the_spring_the_sags_ask_for() -> None:
    """Both adjusters fully in, and 7.5 mm instead of 8.2 in one leg: its spacer adds 0.35 mm, and 20 are lacking."""
    left, right = leg(100.0, 16.0, set_length_mm=241.8), leg(99.3, 16.0, set_length_mm=242.5)
    advice = judged(fork(right, left, (40.0, 58.0))).sag.front.advice
    assert advice is not None
    assert (advice.values["work"], advice.values["way"]) == ("spring", "stiffer")


def test_the_list_of_springs_says_of_the_pair_fitted_that_its_lengths_are_to_be_put_right() -> None:
    job = fork(LONG_SPACER, sags=(20.0, 33.0))
    now = next(one for one in choose(job, judged(job), PROFILES, "front").options if one.fitted_now)
    assert now.verdict == "recheck"


def test_where_both_are_in_the_band_they_meet_where_the_fork_carries_as_much() -> None:
    left, right = (
        leg(100.0, rate_n_per_mm=9.0, set_length_mm=241.0),
        leg(104.0, rate_n_per_mm=10.0, set_length_mm=236.0),
    )
    values = found(judged(fork(right, left, (20.0, 33.0))), "installed_preload_differs").values
    mean_mm = (9.0 * 9.0 + 10.0 * 14.0) / 19.0
    assert values["match_left_mm"] == pytest.approx(100.0 + mean_mm - 9.0)
    assert values["match_right_mm"] == pytest.approx(104.0 + mean_mm - 14.0)


def test_adjusters_that_stand_apart_are_set_alike_with_the_spacer() -> None:
    """0 and 16 of 16 turns: 8 each carry as much, since both springs have one rate."""
    job = fork(leg(106.0, 16.0, set_length_mm=232.0, set_length_in_mm=224.0), leg(100.0, 0.0), (14.5, 30.0))
    assessment = judged(job)
    advice = assessment.sag.front.advice
    assert advice is not None
    for finding in (advice, found(assessment, "installed_preload_differs")):
        words = sentence(finding)
        assert "to 100.0 mm; set both adjusters alike, 8 turns in from fully out" in words
    at_ends = [sentence(finding) for finding in assessment.findings if finding.code.startswith("adjuster_fully")]
    assert len(at_ends) == 2
    assert not [words for words in at_ends if "spacer" in words]


def test_a_difference_that_is_meant_stays_and_over_its_limit_is_told_of_that_leg() -> None:
    meant = judged(put(fork(LONG_SPACER), front__preload_difference_meant=True))
    assert "installed_preload_differs" not in codes(meant)
    assert "preload_over_limit" in codes(meant)


def test_a_mixed_pair_needs_the_same_preload_and_not_the_same_length() -> None:
    """A spring 4 mm shorter behind a spacer 4 mm longer is preloaded like the other."""
    pair = judged(fork(leg(96.0, rate_n_per_mm=10.0, free_length_mm=254.0, set_length_mm=242.0), sags=(20.0, 33.0)))
    assert "free_lengths_made_up" in codes(pair)
    assert "allowed if installed preload is the same in both" in sentence(found(pair, "rates_differ"))
