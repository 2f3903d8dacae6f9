"""A change is told as it was done at the bench: how many turns, clicks or mm, and which way."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from judgement_jobs import FULL, PAIRS, put, split
from stanchion.job.diff import differences
from stanchion.job.model import Job
from stanchion.units.known_units import Units
from stanchion.wording.changes import changes_in_words, step_in_words
from strategies import jobs

SET = put(
    FULL,
    front__left__rebound__now=10.0,
    front__left__air_gap_mm=110.0,
    rear__rebound__now=11.0,
    rear__high_speed_compression__now=2.0,
    rear__high_speed_compression__unit="turns",
    front__oil="5W",
)


def change_words(before: Job, after: Job, units: Units | None = None) -> tuple[str, ...]:
    return changes_in_words(differences(before, after), after, units or Units())


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"front__left__adjuster__now": 6.0}, "Fork preload 2 turns in"),
        ({"front__left__adjuster__now": 3.0}, "Fork preload 1 turn out"),
        ({"rear__collar__now": 3.5}, "Shock preload 1.5 turns in"),
        ({"rear__rebound__now": 12.0}, "Shock rebound 1 click out"),
        ({"rear__rebound__now": 8.0}, "Shock rebound 3 clicks in"),
        ({"rear__high_speed_compression__now": 1.5}, "Shock high-speed compression 0.5 turns in"),
        ({"front__left__air_gap_mm": 105.0}, "Fork air gap 110.0 mm → 105.0 mm (−5.0 mm)"),
        ({"front__left__spring__rate_n_per_mm": 10.0}, "Fork spring rate 9.50 N/mm → 10.00 N/mm (+0.50 N/mm)"),
        ({"front__fork_height_mm": 4.0}, "Fork height none → 4.0 mm"),
        ({"rear__low_speed_compression__now": 14.0}, "Shock low-speed compression 14 clicks from closed, not recorded"),
        ({"rear__rebound__now": None}, "Shock rebound no longer recorded (was 11 clicks from closed)"),
        ({"front__oil": "7.5W"}, "Fork oil 5W → 7.5W"),
        ({"front__top_out__fitted": "yes"}, "Fork top-out spring fitted no → yes"),
        ({"rear__linkage": PAIRS}, "Shock linkage pairs changed, 0 → 4 rows"),
        ({"front__left__stack__washers_mm": (1.5, 2.0)}, "Fork washer 1.5 mm → 1.5 mm, 2.0 mm"),
        ({"job__venue": "Elsewhere"}, "Job: venue none → Elsewhere"),
        ({"sag__front__hanging_mm": (610.0,)}, "Front sag: L1, wheel hanging 600.0 mm → 610.0 mm"),
    ],
)
def test_each_sort_of_change_has_its_own_words(change: dict[str, Any], words: str) -> None:
    [line] = change_words(SET, put(SET, **change))
    assert line.startswith(words)


class TestReadingsThatShow:
    """Common practice, no published source: the more rings or mm show, the less preload there is."""

    RINGS = put(FULL, front__left__adjuster__counting="rings", front__left__adjuster__now=4.0)

    def test_a_ring_less_showing_is_a_ring_more_preload(self) -> None:
        after = put(self.RINGS, front__left__adjuster__now=3.0)
        assert change_words(self.RINGS, after) == ("Fork preload 1 ring in (4 → 3 rings showing)",)

    def test_a_collar_read_from_the_other_side_goes_by_its_own_ends(self) -> None:
        ends = {"rear__collar__reading_out": 10.0, "rear__collar__reading_in": 25.0}
        before = put(FULL, rear__collar__counting="mm", rear__collar__now=12.0, **ends)
        assert change_words(before, put(before, rear__collar__now=14.0)) == (
            "Shock preload 2 mm more (12 → 14 mm showing)",
        )

    def test_a_collar_whose_ends_are_not_known_is_given_no_direction(self) -> None:
        before = put(FULL, rear__collar__counting="mm", rear__collar__now=12.0)
        assert change_words(before, put(before, rear__collar__now=14.0)) == ("Shock preload 12 → 14 mm showing",)

    def test_a_position_counted_another_way_than_before_is_no_step(self) -> None:
        lines = change_words(FULL, self.RINGS)
        assert lines == ("Fork adjuster counted in turns → rings",)
        other = put(self.RINGS, front__left__adjuster__now=2.0)
        assert change_words(FULL, other)[1] == "Fork adjuster now 4 → 2 (−2)"


class TestLegs:
    def test_a_leg_is_named_where_they_are_entered_apart(self) -> None:
        before = split(SET)
        assert change_words(before, put(before, front__right__adjuster__now=6.0)) == ("Fork right preload 2 turns in",)

    def test_the_same_change_to_both_legs_is_said_once(self) -> None:
        before = split(SET)
        after = put(before, front__left__adjuster__now=6.0, front__right__adjuster__now=6.0)
        assert change_words(before, after) == ("Fork preload 2 turns in",)
        unlike = put(before, front__left__adjuster__now=6.0, front__right__adjuster__now=5.0)
        assert change_words(before, unlike) == ("Fork left preload 2 turns in", "Fork right preload 1 turn in")

    def test_legs_set_apart_are_said_to_be(self) -> None:
        assert change_words(SET, split(SET)) == ("Fork: legs entered separately",)
        assert change_words(split(SET), SET) == ("Fork: legs entered as one",)


def test_what_was_noted_beside_a_measurement_is_no_change() -> None:
    """With which chain a ratio was measured is filled in when a job is carried on: nobody did that at the bench."""
    before = put(SET, upkeep__front_teeth=15.0)
    assert change_words(before, put(before, upkeep__ratio_with__front_teeth=15.0)) == ()
    known = put(before, upkeep__ratio_with__front_teeth=14.0)
    assert change_words(known, put(known, upkeep__ratio_with__front_teeth=15.0)) != ()


def test_lengths_are_told_in_the_units_shown() -> None:
    [line] = change_words(SET, put(SET, front__left__air_gap_mm=105.0), Units(lengths="in"))
    assert "(−0.197 in)" in line


def test_a_step_of_undo_names_two_changes_and_counts_the_rest() -> None:
    after = put(SET, front__left__adjuster__now=6.0)
    assert step_in_words(SET, after) == "Fork preload 4 → 6 turns (2 turns in)"
    assert step_in_words(after, SET) == "Fork preload 6 → 4 turns (2 turns out)"
    assert step_in_words(SET, SET) == ""
    many = put(after, front__left__air_gap_mm=105.0, front__fork_height_mm=6.0, front__travel_mm=130.0)
    assert step_in_words(SET, many).endswith("; and 2 more")


NOTED = {
    "id",
    "carried_id",
    "preload_at",
    "rates_n_per_mm",
    "stacks_mm",
    "free_lengths_mm",
    "set_lengths_mm",
    "set_lengths_in_mm",
    "air_gaps_mm",
    "linkage_mm",
    "motion_ratios",
    "pressures_bar",
    "second_springs",
    "riders_kg",
    "hanging_holds",
    "aboard_rider_kg",
    "aboard_rider_at",
    "ratio_with",
    "geometry_with",
    "swingarm_with",
    "set_lengths_with",
}
"""What the program itself notes beside what a person enters."""


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(jobs(), jobs())
def test_any_two_jobs_can_be_told_apart_in_words(a: Job, b: Job) -> None:
    lines, found = change_words(a, b), differences(a, b)
    if any(
        change.path not in (("returning",), ("changes",)) and not NOTED.intersection(change.path) for change in found
    ):
        assert lines
    if not found:
        assert not lines
    assert all(line.strip() and "\x1b" not in line and "\n" not in line for line in lines)


def test_with_what_preload_a_sag_was_read_is_noted_and_no_change() -> None:
    assert change_words(SET, put(SET, sag__front__rider__preload_at=(4.0, 4.0))) == ()
