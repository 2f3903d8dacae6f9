"""What is asked for where the adjuster comes close: the spring that brings both sags in, and no end without advice.

Track targets: front 15-25 and 28-38, rear 5-10 and 25-32 mm, installed 8 to 15 mm front and 8 to 18 mm rear. Repeated
readings on a tape in mm leave ± 0.8 mm.
"""

from __future__ import annotations

from typing import Any, cast

import pytest

from judgement_jobs import FULL, PROFILES, advice, judged, put, repeated_sags, sag_end
from stanchion.job.edit import apply
from stanchion.job.model import End, Job
from stanchion.judgement.sag.available_preload import AvailablePreload
from stanchion.judgement.sag.remedies import find_remedy
from stanchion.judgement.sag.response import ByRule
from stanchion.judgement.sag.targets import Aims
from stanchion.planning.spring_choice import choose
from stanchion.planning.spring_edits import as_edits
from stanchion.wording.finding_words import sentence
from true_machines.machines import case

REAR: dict[str, Any] = {
    "rear__motion_ratio": 0.5,
    "rear__spring__rate_n_per_mm": 80.0,
    "rear__spring__set_length_mm": 171.0,
    "rear__collar__pitch_mm": 1.0,
    "rear__collar__now": 2.0,
}
"""9 mm installed, 2 of 10 turns and mm in."""
LOW: dict[str, Any] = {"rear__spring__set_length_mm": 173.0, "rear__collar__now": 0.75}
"""7 mm installed."""


def rear(static: float, rider: float, **changes: Any) -> Job:
    return put(FULL, sag__rear=repeated_sags(static, rider), **(REAR | changes))


def fitted(job: Job, end: End) -> Job:
    """With the spring of the advice, which is the first row of the list, the adjuster set."""
    row = choose(job, judged(job), PROFILES, end).options[0]
    assert row.mean_rate_n_per_mm == advice(job, end).values["new_rate_n_per_mm"]
    for edit in as_edits(row, job, set_adjuster=True):
        job = apply(job, edit)
    sags = cast("tuple[float, float]", (row.best.static_mm.value, row.best.rider_mm.value))
    return put(job, **{f"sag__{end}": repeated_sags(*sags)})


class TestWhereTurningComesClose:
    """27.7 mm between the sags of the shock, 27 at most wanted: turned in by 1.6 mm both are 0.35 mm out."""

    def test_the_spring_that_brings_both_in_is_asked_for(self) -> None:
        given = advice(rear(7.8, 35.5), "rear")
        assert (given.code, given.values["work"]) == ("too_soft", "spring")
        assert 5.0 <= cast(float, given.values["static_after_mm"]) <= 10.0
        assert 25.0 <= cast(float, given.values["rider_after_mm"]) <= 32.0
        assert "stay outside" not in sentence(given)
        assert "Measure again" not in sentence(given)

    def test_fitted_it_suits(self) -> None:
        after = advice(fitted(rear(7.8, 35.5), "rear"), "rear")
        assert after.values["work"] == "none"
        assert "springs and preload suit" in sentence(after)

    def test_turned_there_already_it_is_left(self) -> None:
        assert "leave springs and preload. A finer tape" in sentence(
            advice(rear(4.6, 32.3, rear__collar__now=3.6), "rear")
        )

    def test_where_no_other_spring_is_known_the_turns_say_that_they_come_no_nearer(self) -> None:
        unknown = advice(rear(7.8, 35.5, rear__spring__rate_n_per_mm=None), "rear")
        assert unknown.values["work"] == "turns"
        assert "The adjuster alone comes no closer: both stay outside their targets." in sentence(unknown)

    def test_readings_taken_once_are_taken_again_before_anything_is_bought(self) -> None:
        once = advice(put(rear(7.8, 35.5), sag__rear=sag_end(7.8, 35.5)), "rear")
        assert once.values["work"] == "turns"
        assert sentence(once).endswith("By these readings both stay outside their targets. Measure again.")


def test_spacer_and_turns_to_the_edge_give_way_to_a_spring() -> None:
    """Fork 2 x 7.5 N/mm, 22.1 mm between the sags, 20 at most wanted by road targets."""
    job = put(FULL, job__use="road", front__left__spring__rate_n_per_mm=7.5, sag__front=repeated_sags(25.9, 48.0))
    given = advice(job, "front")
    assert (given.code, given.values["work"]) == ("too_soft", "spring")
    assert "springs and preload suit" in sentence(advice(fitted(job, "front"), "front"))


def test_a_spacer_is_cut_by_what_shows_as_a_whole_millimetre() -> None:
    """14.04 mm installed leave 0.96 to the limit of 15; 4.9 mm more at the springs are needed, and 4 left to turn."""
    response = ByRule({"static": 24.0, "rider": 42.9}, 1.0, 1.0)
    aims = Aims(targets={"static": (15, 25), "rider": (28, 38)}, slack_mm={})
    found = find_remedy(response, aims, AvailablePreload(turned=(-4.0, 4.0), spacer=(-6.0, 0.96)))
    assert (found.work, found.way) == ("spacer", "more")
    assert found.spacer_mm == pytest.approx(0.96)
    less = find_remedy(response, aims, AvailablePreload(turned=(-4.0, 4.0), spacer=(-6.0, 0.94)))
    assert less.work == "spring"


def test_springs_as_near_as_the_adjuster_can_be_set_come_first_in_the_list() -> None:
    """Steps of 0.5 mm at the spring, and no step between that brings both in: the worse is 0.1 mm out."""
    of = case(930058)
    choice = choose(of.job, judged(of.job), PROFILES, "rear")
    assert advice(of.job, "rear").values["work"] == "turns"
    assert (choice.options[0].fitted_now, choice.options[0].verdict) == (True, "close")


class TestOutOfBand:
    """Installed preload below its band beside sags that are out, or that cannot be told from out."""

    def test_sags_too_near_each_other_take_the_softer_spring(self) -> None:
        given = advice(rear(10.8, 24.4, rear__spring__rate_n_per_mm=90.0, **LOW), "rear")
        assert given.values["way"] == "softer"
        assert given.code == "too_stiff_little_preload"
        assert "in target" not in sentence(given)

    def test_a_fork_that_turning_leaves_out_of_band_takes_the_softer_spring(self) -> None:
        """2 mm installed, of 8 at least, and both sags 3 mm short: the adjuster has 6 mm left, and no spacer does it."""
        lengths = {"front__left__spring__set_length_mm": 248.0, "front__left__spring__set_length_in_mm": 240.0}
        stiff = {"front__left__spring__rate_n_per_mm": 12.0, "front__left__adjuster__now": 12.0}
        job = put(FULL, sag__front=repeated_sags(13.0, 25.0), **lengths, **stiff)
        given = advice(job, "front")
        assert (given.code, given.values["work"], given.values["way"]) == ("softer_no_room", "spring", "softer")
        assert given.values["band_out"] is None
        assert cast(float, given.values["new_installed_mm"]) >= 8.0
        assert advice(fitted(job, "front"), "front").values["work"] == "none"
        once = put(job, sag__front=sag_end(13.0, 25.0))
        assert (advice(once, "front").values["work"], advice(once, "front").values["band_low"]) == ("turns", True)

    def test_only_sags_that_are_in_for_certain_are_said_to_be(self) -> None:
        assert advice(rear(7.5, 28.5, **LOW), "rear").code == "pair_suits_recheck"
        at_edge = advice(
            rear(
                9.6, 28.5, rear__spring__rate_n_per_mm=None, rear__collar__now=10.0, rear__spring__set_length_mm=173.0
            ),
            "rear",
        )
        assert at_edge.code == "pair_edge_recheck"
        assert "Static sag is too close to the edge of its target for repeated readings" in sentence(at_edge)
        assert "preload 7.0 mm is out of band" in sentence(at_edge)


@pytest.mark.parametrize(("static", "rider"), [(25.3, 33.0), (20.0, 38.4), (25.6, 38.6), (24.6, 37.6)])
def test_repeated_readings_at_the_edge_are_not_asked_for_again_and_again(static: float, rider: float) -> None:
    job = put(FULL, sag__front=repeated_sags(static, rider), front__left__adjuster__now=16.0)
    given = advice(job, "front")
    assert given.values["work"] == "none"
    assert "leave springs and preload. A finer tape" in sentence(given)
    shown = [sentence(one) for one in judged(job).findings if one.where[:2] == ("sag", "front")]
    assert not any("easure again" in words for words in shown)
