"""A top-out spring counted at both sags: nothing is asked of a machine that would be right without that spring.

By the balance of forces with n springs of k, preload P, and top-out springs of kt over xt, at travel x from the stop:
load = n k (P + x) - n kt max(0, xt - x). No rake, no weight of the wheel, no air, so that every number is worked out by
hand here.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import stanchion
from judgement_jobs import FULL, PROFILES, SHOCK, advice, codes, found, judged, put, repeated_sags
from stanchion.job.codec import loads
from stanchion.job.model import ENDS, EndTargets, Job, SagEnd, TopOut
from stanchion.judgement.results.findings import Severity
from stanchion.planning.spring_choice import choose
from stanchion.report.check import as_text
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_text import sheet_text
from stanchion.wording.finding_words import headline, sentence

SAMPLES = Path(stanchion.__file__).parents[2] / "sample_jobs"
TOP_OUT = TopOut(fitted="yes", rate_n_per_mm=40.0, works_over_mm=30.0)
HANGS = (80 * 30 - 19 * 14) / 99
"""FULL with it hangs where 19 (14 + x) = 80 (30 - x): 21.6 mm in."""


def reads(bare_mm: float) -> float:
    """What FULL reads with that spring under the load that gives so much without it."""
    load = 19 * (14 + bare_mm)
    on_it = (load - 19 * 14 + 80 * 30) / 99
    return (on_it if on_it < 30 else bare_mm) - HANGS


def fork(static: float, rider: float, **changes: object) -> Job:
    return put(FULL, front__top_out=TOP_OUT, sag__front=repeated_sags(reads(static), reads(rider)), **changes)


def test_sags_that_are_right_without_it_ask_for_nothing() -> None:
    """Static 20 and rider 33 mm without it, the middle of both targets, read 6.5 and 11.4 mm with it."""
    job = fork(20.0, 33.0)
    given = advice(job, "front")
    assert (given.code, given.severity, given.values["work"]) == ("top_out_hides_sags", Severity.NOTE, "none")
    assert given.values["rider_bare_mm"] == pytest.approx(33.0, abs=0.01)
    assert given.values["static_bare_mm"] == pytest.approx(20.0, abs=0.01)
    assert given.values["rider_mm"] == pytest.approx(11.4, abs=0.1)


def test_every_place_says_the_same() -> None:
    job = fork(20.0, 33.0)
    assessment = judged(job)
    said = " ".join(sentence(advice(job, "front")).split())
    choice = choose(job, assessment, PROFILES, "front")
    assert assessment.predicted.front.target == assessment.sag.front.advice
    assert choice.options[0].fitted_now
    assert choice.options[0].verdict.startswith("suits")
    assert choice.window_n_per_mm is not None
    assert choice.window_n_per_mm[0] < 9.5 < choice.window_n_per_mm[1]
    lower = sentence(found(assessment, "top_out_reads_lower"))
    for text in (as_text("a", job, assessment), sheet_text(make_sheet(job, assessment))):
        words = " ".join(text.split())
        assert said in words
        assert lower in words
        front = [line for line in words.split(". ") if "Front" in line]
        assert not [line for line in front if "softer" in line or "less preload" in line]
    low = [finding for finding in assessment.findings if finding.code == "sag_low"]
    assert [finding.severity for finding in low] == [Severity.NOTE] * 2


def test_sags_that_only_the_top_out_spring_brings_into_target_are_not_said_to_suit() -> None:
    """Static 40 and rider 55 mm without it, both far above 25 and 38, read 18.4 and 33.4: beyond 30 mm it lets go, and
    all that it does is that the wheel hangs 21.6 mm further in."""
    job = fork(40.0, 55.0)
    given = advice(job, "front")
    assert (given.code, given.severity, given.values["work"]) == ("top_out_brings_in", Severity.NOTE, "none")
    assert judged(job).predicted.front.target == given
    assert given.values["rider_bare_mm"] == pytest.approx(55.0, abs=0.01)
    words = sentence(given)
    assert "suit" not in words
    assert "without it, rider 55.0 mm, static 40.0 mm. Leave springs and preload; go by the manual's targets" in words
    own = EndTargets(
        rider_low_mm=28.0, rider_high_mm=38.0, static_low_mm=15.0, static_high_mm=25.0, source="the manual"
    )
    assert advice(put(job, targets__front=own), "front").code == "pair_suits"


def test_without_readings_the_prediction_says_it() -> None:
    well = loads((SAMPLES / "well_set.toml").read_bytes()).job
    job = put(well, front__top_out=TOP_OUT, sag__front=SagEnd())
    target = judged(job).predicted.front.target
    assert target is not None
    assert target.code == "top_out_hides_sags"
    assert "softer_no_room" not in codes(judged(job))
    assert "rider 32.7 mm, static 17.2 mm" in sentence(target)


def test_where_it_would_be_too_little_without_it_less_preload_is_asked_for() -> None:
    """Rider 20 mm without it, 8 below the target: not the top-out spring's doing."""
    given = advice(fork(7.0, 20.0), "front")
    assert given.values["way"] in ("less", "softer")


def test_targets_of_the_job_itself_are_meant_as_it_reads() -> None:
    own = EndTargets(rider_low_mm=28.0, rider_high_mm=38.0, source="the manual")
    given = advice(fork(20.0, 33.0, targets__front=own), "front")
    assert given.code != "top_out_hides_sags"
    assert given.values["way"] in ("less", "softer")


def test_a_spring_that_still_works_at_static_sag_makes_it_read_more() -> None:
    """At the shock 95 (15 + s) = 300 (10 - s) where the wheel hangs; 0.4 of wheel travel z is s.

    Without it static 7.5 and rider 28.5 mm, the middle of both targets: 95 · 18 = 95 (15 + s) - 300 (10 - s) gives
    s = 8.32, and 10.8 mm from the hanging wheel, above the target; rider sag, beyond it, reads 18.5 mm.
    """
    hangs = (300 * 10 - 95 * 15) / 395 / 0.4
    static = (95 * 18 - 95 * 15 + 300 * 10) / 395 / 0.4 - hangs
    shock = put(FULL, rear=SHOCK, rear__top_out=TopOut(fitted="yes", rate_n_per_mm=300.0, works_over_mm=10.0))
    job = put(shock, sag__rear=repeated_sags(static, 28.5 - hangs))
    given = advice(job, "rear")
    assert given.code == "top_out_hides_sags"
    assert given.values["static_bare_mm"] == pytest.approx(7.5, abs=0.01)
    assert {finding.severity for finding in judged(job).findings if finding.code in ("sag_low", "sag_high")} == {
        Severity.NOTE
    }


def test_no_headline_says_that_preload_is_at_its_end_where_turns_are_left() -> None:
    lengths = {"front__left__spring__set_length_mm": 242.0, "front__left__spring__set_length_in_mm": 234.0}
    given = advice(put(FULL, sag__front=repeated_sags(8.0, 24.0), **lengths), "front")
    assert given.code == "softer_no_room"
    assert "the adjuster (2.0 mm to take off)" in sentence(given)
    assert headline(given) == "Less preload not enough: softer spring"


def test_without_a_top_out_spring_no_target_is_changed() -> None:
    assessment = judged(put(FULL, sag__front=repeated_sags(6.5, 11.4)))
    assert all(not assessment.sag.end(end).behind for end in ENDS)
