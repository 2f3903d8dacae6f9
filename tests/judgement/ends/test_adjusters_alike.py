"""Adjusters of two legs that stand apart: advice is given for the fork with both set alike.

FULL is entered with a spring of 9.5 N/mm and 12 mm installed in each leg, 16 turns of half a millimetre. By the balance
of forces, 9.5 (12 + a1 + x) + 9.5 (12 + a2 + x) = 2 · 9.5 (12 + (a1 + a2) / 2 + x).
"""

from __future__ import annotations

import pytest

from judgement_jobs import FULL, PROFILES, advice, found, judged, put, repeated_sags, split
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Adjuster, Job
from stanchion.judgement.results.findings import Severity
from stanchion.planning.spring_choice import choose
from stanchion.wording.finding_words import sentence


def apart(left: float, right: float, static: float, rider: float) -> Job:
    """Turns in of each leg, and the sags."""
    turned = put(split(FULL), front__left__adjuster__now=left, front__right__adjuster__now=right)
    return put(turned, sag__front=repeated_sags(static, rider))


@pytest.mark.parametrize(("left", "right"), [(16.0, 0.0), (0.0, 16.0), (12.0, 4.0)])
def test_where_setting_them_alike_does_no_spacer_or_spring_is_named(left: float, right: float) -> None:
    """4 mm in on the mean: 4 mm more of both leave both ends of the targets in reach, 4 mm less too."""
    for static, rider, turns in ((27.0, 41.0, 16.0), (12.0, 26.5, 0.0)):
        given = advice(apart(left, right, static, rider), "front")
        assert given.values["work"] == "turns", (static, given)
        at_mm = given.values["alike_mm"]
        assert isinstance(at_mm, float)
        assert 0.0 <= at_mm <= 8.0
        assert (at_mm > 4.0) is (turns > 8.0)
        # Both sags move by what the mean moves.
        assert given.values["rider_after_mm"] == pytest.approx(rider - (at_mm - 4.0), abs=0.05)
        assert sentence(given).count("Set both adjusters alike") == 1
        assert "Add" not in sentence(given)


def test_set_as_it_is_said_it_gives_what_was_promised() -> None:
    job = apart(16.0, 0.0, 27.0, 41.0)
    given = advice(job, "front")
    turns = given.values["alike_turns"]
    assert isinstance(turns, float)
    for side in ("left", "right"):
        job = apply(job, Edit(("front", side, "adjuster", "now"), turns))
    promised = given.values["rider_after_mm"]
    then = put(job, sag__front=repeated_sags(27.0 - (turns / 2 - 4.0), 41.0 - (turns / 2 - 4.0)))
    assert then.sag.front.rider.down_mm
    assert judged(then).sag.front.rider.sag_mm.value == pytest.approx(promised, abs=0.05)
    assert advice(then, "front").values["work"] == "none"


def test_the_warning_and_the_advice_name_one_position() -> None:
    for static, rider in ((20.0, 33.0), (27.0, 41.0)):
        job = apart(16.0, 0.0, static, rider)
        given = advice(job, "front")
        warned = found(judged(job), "preload_now_differs")
        assert warned.values["alike_turns"] == given.values["alike_turns"]
    assert "Set the adjusters alike, 8 turns in from fully out" in sentence(
        found(judged(apart(16.0, 0.0, 20.0, 33.0)), "preload_now_differs")
    )


def test_a_spacer_is_named_only_beyond_what_both_adjusters_reach() -> None:
    """4 mm of room on the mean. Rider 44 mm is 6 mm too much, and 2 mm of spacer are left to do."""
    given = advice(apart(16.0, 0.0, 30.0, 44.0), "front")
    assert given.values["work"] == "spacer"
    assert "set both adjusters alike" in sentence(given)


def test_unlike_springs_count_by_their_rates() -> None:
    """8 and 12 N/mm, 8 and 0 mm in: 8 (12 + 8 + x) + 12 (12 + x) = 20 (12 + 3.2 + x)."""
    job = put(
        apart(16.0, 0.0, 20.0, 33.0),
        front__left__spring__rate_n_per_mm=8.0,
        front__right__spring__rate_n_per_mm=12.0,
    )
    assert found(judged(job), "preload_now_differs").values["alike_turns"] == pytest.approx(
        6.5
    )  # 6.4, to a quarter turn


def test_meant_to_differ_it_is_left_so() -> None:
    job = put(apart(16.0, 0.0, 20.0, 33.0), front__preload_difference_meant=True)
    assert "alike_mm" not in advice(job, "front").values


def test_the_list_counts_turns_from_there_too() -> None:
    job = apart(16.0, 0.0, 20.0, 33.0)
    first = choose(job, judged(job), PROFILES, "front").options[0]
    assert first.stands is not None
    assert first.stands.turns_from_out.value == pytest.approx(8.0)


def test_the_one_adjuster_of_a_fork_at_its_end_is_a_note_where_preload_is_in_its_band() -> None:
    one = put(split(FULL), front__right__adjuster=Adjuster(counting="none"), front__left__adjuster__now=0.0)
    assert found(judged(one), "adjuster_fully_out").severity is Severity.NOTE
    both = put(FULL, front__left__adjuster__now=0.0)
    assert found(judged(both), "adjuster_fully_out").severity is Severity.WARNING
    lengths = {"front__left__spring__set_length_mm": 248.0, "front__left__spring__set_length_in_mm": 240.0}
    assert found(judged(put(one, **lengths)), "adjuster_fully_out").severity is Severity.WARNING
