"""Which leg of a fork is called left changes nothing that is said of it.

The names are the rider's; springs, air and load know nothing of them. Formulas are the balance of forces along the
fork: W cos(rake) = sum of k (P + x).
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from judgement_jobs import PROFILES, judged, put, repeated, sag_end
from stanchion.job.model import Coils, Front, Job, Spring
from stanchion.job.spec import Kind
from stanchion.judgement.springs.stock import Stock, StockSpring
from stanchion.planning.spring_choice import SpringChoice, choose
from stanchion.units.quantity import show
from stanchion.wording.finding_words import sentence

UNLIKE: dict[str, Any] = {
    "front__left__spring__rate_n_per_mm": 9.0,
    "front__left__spring__free_length_mm": 250.0,
    "front__left__spring__set_length_mm": 238.0,
    "front__left__spring__set_length_in_mm": 230.0,
    "front__left__adjuster__total_turns": 8.0,
    "front__left__adjuster__now": 0.0,
    "front__left__stack__spacer_mm": 130.0,
    "front__travel_mm": 120.0,
    "front__top_out__fitted": "no",
    "weights__front_alone_kg": 96.0,
    "weights__front_aboard_kg": 127.0,
    "weights__front_unsprung_kg": 14.0,
    "geometry__rake_deg": 24.0,
}
AIR: dict[str, Any] = {
    "front__left__air_gap_mm": 145.0,
    "front__stanchion_outer_mm": 43.0,
    "front__stanchion_inner_mm": 39.0,
}


def fork(*, right: dict[str, Any], **left: Any) -> Job:
    """Left 9.0 N/mm, installed 12, 8 mm over 8 turns; the right leg as the left one but for what is given."""
    job = put(Job(), **(UNLIKE | left))
    job = put(job, front__right=job.front.left)
    return put(job, **{f"front__right__{name}": value for name, value in right.items()})


def renamed(job: Job) -> Job:
    """The same machine with the names of its legs swapped."""
    front: Front = job.front
    assert front.right is not None
    return replace(job, front=replace(front, left=front.right, right=front.left))


def both_ways(job: Job) -> tuple[Job, Job]:
    return job, renamed(job)


class TestOneTurnOfBothAdjusters:
    JOB = fork(right={"spring__rate_n_per_mm": 10.0, "spring__set_length_in_mm": 229.96})
    """8 mm over 8 turns at 9 N/mm, 8.04 mm over 8 turns at 10 N/mm: 1.000 and 1.005 mm a turn, which nobody feels."""

    @pytest.mark.parametrize("job", both_ways(JOB), ids=["as named", "renamed"])
    def test_counts_each_leg_by_its_spring(self, job: Job) -> None:
        """t turns push with 9 x 1.000 t + 10 x 1.005 t more, as (9 + 10) x 1.00263 t would in both legs alike."""
        front = judged(job).predicted.front
        assert front.turns_for_target.value is not None
        assert abs(front.turns_for_target.value) > 1.0
        felt_mm = front.turns_for_target.value * (9.0 * 1.0 + 10.0 * 1.005) / 19.0
        assert front.mm_for_target.value == pytest.approx(felt_mm, abs=1e-9)

    def test_asks_for_the_same_under_either_name(self) -> None:
        one, other = (judged(job).predicted.front for job in both_ways(self.JOB))
        assert one.mm_for_target.value == pytest.approx(other.mm_for_target.value, abs=1e-12)
        assert one.turns_for_target.value == pytest.approx(other.turns_for_target.value, abs=1e-12)

    def test_that_is_not_known_in_one_leg_is_asked_for_there_whichever_it_is(self) -> None:
        job = fork(right={"adjuster__total_turns": None})
        assert judged(job).predicted.front.turns_for_target.needs == (("front", "right", "adjuster", "total_turns"),)
        one = judged(renamed(job)).predicted.front.turns_for_target
        assert one.needs == (("front", "left", "adjuster", "total_turns"),)


LOOSE: dict[str, Any] = {
    "front__left__adjuster__now": 8.0,
    "front__left__spring__set_length_mm": 241.0,
    "front__left__spring__set_length_in_mm": 233.0,
    "sag__front": repeated(sag_end(23.5, 40.5)),
}
"""Installed 9 of at most 15, fully in; rider sag 40.5: the spacers are to be longer."""


class TestASpacerThatIsNotTheSameInBothLegs:
    def test_is_told_by_how_much_and_not_to_what_length(self) -> None:
        """130.0 and 129.0: one length for both would be wrong in one of them."""
        for job in both_ways(fork(right={"stack__spacer_mm": 129.0}, **LOOSE)):
            advice = judged(job).sag.front.advice
            assert advice is not None
            assert (advice.code, advice.values["new_spacer_mm"]) == ("longer_spacer", None)
            assert "(to " not in sentence(advice)

    def test_that_shows_as_the_same_is_told_to_its_length(self) -> None:
        for job in both_ways(fork(right={"stack__spacer_mm": 130.04}, **LOOSE)):
            advice = judged(job).sag.front.advice
            assert advice is not None
            change = advice.values["spacer_change_mm"]
            assert isinstance(change, float)
            assert advice.values["new_spacer_mm"] == pytest.approx(130.02 + change)

    def test_is_never_cut_shorter_than_the_shorter_one_is_long(self) -> None:
        """Installed 14 with 3 and 4 mm of spacer, rider sag 22: 6 mm of spacer too many by the band, but not there."""
        long = LOOSE | {
            "front__left__adjuster__now": 0.0,
            "front__left__spring__set_length_mm": 236.0,
            "front__left__spring__set_length_in_mm": 228.0,
            "front__left__stack__spacer_mm": 4.0,
            "sag__front": repeated(sag_end(9.5, 22.5)),
        }
        for job in both_ways(fork(right={"stack__spacer_mm": 3.0}, **long)):
            advice = judged(job).sag.front.advice
            assert advice is not None
            change = advice.values["spacer_change_mm"]
            assert change is None or (isinstance(change, float) and change <= 3.0)


class TestASagHalfwayBetweenTwoTenths:
    @pytest.mark.parametrize("quarters", range(65, 84))
    def test_reads_the_same_in_the_advice_as_in_its_figure(self, quarters: int) -> None:
        """16.75 mm is 16.8 everywhere, and not 16.7 where it went through springs and loads and came back."""
        sag = repeated(sag_end(quarters / 4.0, 33.25))
        for job in both_ways(fork(right={"spring__rate_n_per_mm": 10.2}, sag__front=sag, **AIR)):
            front = judged(job).sag.front
            assert front.static.sag_mm.value is not None
            assert front.advice is not None
            assert front.advice.values["static_mm"] == front.static.sag_mm.value
            assert front.advice.values["rider_mm"] == front.rider.sag_mm.value
            assert show(front.static.sag_mm.value, Kind.LENGTH) in sentence(front.advice)


def rows(choice: SpringChoice) -> list[tuple[object, ...]]:
    """What the list says of each choice, the legs in any order."""
    return [
        (
            round(one.mean_rate_n_per_mm, 9),
            one.verdict,
            sorted((str(fitting.free_length_mm), round(fitting.installed_mm, 9)) for fitting in one.fittings),
        )
        for one in choice.options
    ]


def listed(job: Job) -> SpringChoice:
    return choose(job, judged(job), PROFILES, "front")


class TestTheListOfSprings:
    def test_is_the_same_for_the_one_spring_of_a_fork_in_either_leg(self) -> None:
        """Without a band for installed preload, what is there is kept: that of the leg which has the spring."""
        job = fork(
            right={"spring_fitted": False, "spring": Spring()},
            front__left__spring__rate_n_per_mm=18.0,
            job__use="soft-road",
            weights__front_aboard_kg=130.0,
        )
        one, other = listed(job), listed(renamed(job))
        assert one.options
        assert one.wanted_installed_mm.value == pytest.approx(12.0)
        assert (other.wanted_installed_mm, other.needed_n_per_mm) == (one.wanted_installed_mm, one.needed_n_per_mm)
        assert rows(other) == rows(one)

    def test_is_laid_around_what_is_fitted_in_either_leg_where_no_rate_gives_the_sag(self) -> None:
        """Trapped air alone pushes with about 2 x 45 N at 33 mm, and 6 N stand on it: every spring is too much."""
        job = fork(
            right={"spring_fitted": False, "spring": Spring()},
            **AIR,
            front__left__spring__rate_n_per_mm=18.0,
            weights__front_alone_kg=14.5,
            weights__front_aboard_kg=14.6,
        )
        one, other = listed(job), listed(renamed(job))
        assert one.needed_n_per_mm.value is None
        assert [option.mean_rate_n_per_mm for option in one.options if option.fitted_now] == [18.0]
        assert len(one.options) > 1
        assert rows(other) == rows(one)

    def test_keeps_the_length_of_each_spring_where_they_differ(self) -> None:
        """A new spring is as long as the one it replaces, and so its spacer stays (common practice, no published
        source)."""
        unlike = {"spring__free_length_mm": 260.0, "spring__set_length_mm": 248.0, "spring__set_length_in_mm": 240.0}
        job = fork(right=unlike | {"stack__spacer_mm": 120.0})
        one, other = listed(job), listed(renamed(job))
        assert rows(other) == rows(one)
        for option in one.options:
            assert [fitting.free_length_mm for fitting in option.fittings] == [250.0, 260.0]
            spacers = [fitting.spacer_mm.value for fitting in option.fittings]
            assert spacers[0] is not None
            assert spacers[1] is not None
            assert spacers[0] - spacers[1] == pytest.approx(10.0)


class TestAMixedPairOfTheVan:
    VAN = Stock(
        (
            StockSpring(end="front", rate_n_per_mm=9.0, free_length_mm=250.0, count=1),
            StockSpring(end="front", rate_n_per_mm=10.0, free_length_mm=250.0, count=1),
        )
    )

    def test_has_its_stiffer_spring_in_the_leg_with_the_adjuster(self) -> None:
        """One adjuster moves k / (kL + kR) of what it adds: 10 / 19 of it on the stiffer spring, 9 / 19 on the other."""
        job = fork(
            right={"adjuster__counting": "none", "adjuster__total_turns": None, "adjuster__now": None},
            front__left__spring__rate_n_per_mm=9.5,
        )
        for made, sides in ((job, ("left", "right")), (renamed(job), ("right", "left"))):
            choice = choose(made, judged(made), PROFILES, "front", self.VAN)
            (mixed,) = [one for one in choice.options if {f.spring.rate_n_per_mm for f in one.fittings} == {9.0, 10.0}]
            placed = {fitting.place: fitting.spring.rate_n_per_mm for fitting in mixed.fittings}
            assert placed == {sides[0]: 10.0, sides[1]: 9.0}

    def test_leaves_a_spring_in_its_leg_unless_its_like_is_in_the_other(self) -> None:
        """Either of two 9.5 N/mm may stay beside the 10.0; of 9.4 and 9.6 each stays where it is."""
        adjuster = {"adjuster__counting": "none", "adjuster__total_turns": None, "adjuster__now": None}
        same = fork(right=adjuster, front__left__spring__rate_n_per_mm=9.5)
        unlike = fork(right={"spring__rate_n_per_mm": 9.6}, front__left__spring__rate_n_per_mm=9.4)
        for job, rate, stays in ((same, 9.5, "right"), (unlike, 9.4, "left"), (unlike, 9.6, "right")):
            other = {"left": "right", "right": "left"}[stays]
            for made, place in ((job, stays), (renamed(job), other)):
                choice = choose(made, judged(made), PROFILES, "front", self.VAN)
                pairs = [{f.spring.rate_n_per_mm: f for f in one.fittings} for one in choice.options]
                (pair,) = [one for one in pairs if one.keys() == {rate, 10.0}]
                assert (pair[rate].place, pair[rate].spring.fitted) == (place, place)

    def test_is_looked_at_with_the_same_one_of_two_springs_that_are_nearly_alike(self) -> None:
        """Both 11.0 N/mm, but only of one are wire and coils known, and with them what is left at full travel."""
        coils = Coils(wire_mm=4.6, outer_mm=38.0, total_coils=36.0, ends="closed_ground")
        rates = (10.0, 12.0, 12.0)
        van = Stock(tuple(StockSpring(end="front", rate_n_per_mm=k, free_length_mm=250.0, count=1) for k in rates))
        job = fork(right={"spring__coils": coils}, front__left__spring__rate_n_per_mm=11.0)
        one, other = (choose(made, judged(made), PROFILES, "front", van) for made in both_ways(job))
        assert sorted(map(str, rows(one))) == sorted(map(str, rows(other)))
