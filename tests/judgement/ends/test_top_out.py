"""Which legs of a fork have the top-out spring, and what follows from it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from judgement_jobs import FULL, codes, found, judged, put
from stanchion.job.codec import dumps, loads
from stanchion.job.model import Job, Leg, TopOut
from stanchion.report.sheet_tables import fork_facts
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import sentence

TOP_OUT = TopOut(fitted="yes", rate_n_per_mm=30.0, works_over_mm=20.0)
EMPTY = Leg(spring_fitted=False)


def one_spring(legs: str = "unknown", *, left: bool = True) -> Job:
    """A fork with its spring, 9.5 N/mm at 14 mm of preload, in one leg."""
    job = put(FULL, front__top_out=TOP_OUT, front__top_out_legs=legs)
    leg = job.front.left
    return put(job, front__left=leg if left else EMPTY, front__right=EMPTY if left else leg)


def hangs(job: Job) -> float | None:
    return judged(job).marker_references["front"].hanging_mm.value


@pytest.mark.parametrize(
    ("legs", "springs"),
    [("unknown", 1), ("sprung", 1), ("left", 1), ("right", 1), ("both", 2)],
)
@pytest.mark.parametrize("left", [True, False])
def test_every_top_out_spring_that_is_said_to_be_there_pulls(legs: str, springs: int, left: bool) -> None:
    """By hand: 9.5 (14 + x) = n 30 (20 - x), wherever the springs stand."""
    assert hangs(one_spring(legs, left=left)) == pytest.approx((springs * 600 - 9.5 * 14) / (springs * 30 + 9.5))


def test_what_was_taken_is_said_until_somebody_says_which() -> None:
    finding = found(judged(one_spring()), "top_out_legs_taken")
    assert finding.where == ("front", "top_out_legs")
    assert sentence(finding).endswith("in the leg with the main spring. Enter which legs have one.")
    assert "top_out_legs_taken" not in codes(judged(one_spring("sprung")))
    two_springs = put(FULL, front__top_out=TOP_OUT, front__right=FULL.front.left)
    assert "top_out_legs_taken" not in codes(judged(two_springs))
    assert "top_out_legs_taken" not in codes(judged(put(one_spring(), front__top_out__fitted="no")))


def test_a_length_read_in_a_leg_without_the_top_out_spring_is_read_on_the_stop() -> None:
    leg = replace(FULL.front.left, read_at="touching")
    job = put(one_spring("right"), front__left=leg)
    assert judged(job).front.left.read_at_mm == 0.0
    assert judged(put(job, front__top_out_legs="left")).front.left.read_at_mm == 20.0


def test_two_springs_and_one_top_out_spring() -> None:
    """By hand: 2 · 9.5 (14 + x) = 30 (20 - x)."""
    job = put(FULL, front__top_out=TOP_OUT, front__top_out_legs="left", front__right=FULL.front.left)
    assert hangs(job) == pytest.approx((600 - 19 * 14) / 49)
    assert found(judged(job), "top_out_reads_lower").values["share"] == pytest.approx(30 / 49)


def test_the_sheet_says_which_legs_have_it() -> None:
    rows = dict(fork_facts(one_spring("both"), METRIC).rows)
    assert list(rows["Top-out spring"]) == ["fitted, both legs"]


def test_legs_entered_once_are_alike() -> None:
    job = put(FULL, front__top_out=TOP_OUT, front__top_out_legs="left")
    assert hangs(job) == pytest.approx(hangs(put(job, front__top_out_legs="unknown")))


def test_it_is_kept_in_the_file_and_one_without_it_opens_unchanged() -> None:
    written = dumps(one_spring("both"))
    assert b'top_out_legs = "both"' in written
    assert loads(written).job == one_spring("both")
    assert b"top_out_legs" not in dumps(one_spring())
