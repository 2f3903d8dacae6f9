"""What is asked for, in which order, and in which words."""

from __future__ import annotations

import textwrap
from dataclasses import replace
from datetime import date

import pytest

from judgement_jobs import FULL, LEG, codes, found, judged, put, sag_end, split
from stanchion.bench.found_round import found_steps
from stanchion.bench.guided_measuring import (
    DOUBTS,
    PARTS,
    GuideStep,
    StepGroup,
    alone_so_far,
    doubts,
    first_open,
    half_taken,
    missing,
    not_found_yet,
    outdated,
    steps,
)
from stanchion.job.edit import spec_at
from stanchion.job.model import ENDS, Adjuster, Coils, Job, Leg, Readings, SagEnd, SecondSpring, Spring
from stanchion.job.spec import Many, Number
from stanchion.judgement.criteria.cautions import CAUTIONS
from stanchion.judgement.missing import next_missing
from stanchion.judgement.results.findings import Severity
from stanchion.ui.guide_lines import outcome_lines
from stanchion.units.known_units import METRIC
from stanchion.wording import bench_guide_sentences
from stanchion.wording.finding_words import FINDINGS
from stanchion.wording.two_springs_guide_sentences import OTHERWISE

LOADED = put(
    FULL,
    geometry__rake_deg=24.0,
    **{f"weights__{end}_{what}_kg": kg for end in ENDS for what, kg in (("alone", 90.0), ("aboard", 120.0))},
)
GAUGES = replace(Job().sag, front=SagEnd(gauge="travel"), rear=SagEnd(gauge="travel"))
RINGS = Adjuster(counting="rings")
BENCH: tuple[tuple[StepGroup, str], ...] = (("front", "front__left"), ("rear", "rear"))
ON_EACH_OTHER = SecondSpring(arranged="end_to_end", rate_n_per_mm=20.0)
BESIDE = SecondSpring(arranged="side_by_side", rate_n_per_mm=4.0)
SOFTER = Spring(rate_n_per_mm=9.0, second=ON_EACH_OTHER)
"""A main spring that closes before the second."""
EVERY: list[tuple[GuideStep, ...]] = [
    *(steps(part, job) for part in PARTS for job in (Job(), split(Job()), put(Job(), sag=GAUGES))),
    *(steps("sag", job, alone=True) for job in (Job(), put(Job(), sag=GAUGES))),
    steps("front", put(Job(), front__left=Leg(adjuster=RINGS, spring=Spring(set_length_at=2.0)))),
    steps("rear", put(Job(), rear__collar=RINGS, rear__spring=Spring(set_length_at=2.0))),
    *(
        steps(part, put(Job(), **{f"{at}__spring": replace(spring, set_length_at=reads)}))
        for part, at in BENCH
        for spring in (SOFTER, Spring(second=ON_EACH_OTHER), Spring(second=BESIDE))
        for reads in (None, 2.0)
    ),
]


def names(ordered: tuple[GuideStep, ...]) -> list[str]:
    return [".".join(str(step) for step in one.path) for one in ordered]


def test_sag_is_asked_for_in_the_order_of_the_work() -> None:
    """Both wheels hanging, then the machine alone, then the rider aboard, who gets on once."""
    assert names(steps("sag", Job())) == [
        "sag.front.hanging_mm",
        "sag.rear.hanging_mm",
        "sag.front.static.down_mm",
        "sag.front.static.up_mm",
        "sag.rear.static.down_mm",
        "sag.rear.static.up_mm",
        "sag.front.rider.down_mm",
        "sag.front.rider.up_mm",
        "sag.rear.rider.down_mm",
        "sag.rear.rider.up_mm",
    ]


def test_each_reading_of_sag_says_what_it_belongs_to() -> None:
    expected = ["Wheel hanging"] * 2 + ["Machine alone"] * 4 + ["Rider aboard"] * 4
    assert [step.state for step in steps("sag", Job())] == expected
    assert [step.caution for step in steps("sag", Job())] == ["support"] * 4 + ["keep_clear"] * 2 + ["support"] * 2 + [
        "keep_clear"
    ] * 2
    assert {(step.most, step.again) for step in steps("sag", Job())} == {(5, "repeat")}


def test_a_gauge_that_reads_travel_asks_for_no_l1_at_its_end() -> None:
    job = put(Job(), sag__front=SagEnd(gauge="travel"))
    assert "sag.front.hanging_mm" not in names(steps("sag", job))
    assert "sag.rear.hanging_mm" in names(steps("sag", job))
    first = steps("sag", job)[1]
    assert "travel" in first.read


def test_one_person_alone_is_asked_for_no_lifted_reading_and_reads_why_the_marker_is_needed() -> None:
    ordered = steps("sag", Job(), alone=True)
    assert not any(name.endswith("up_mm") for name in names(ordered))
    assert all("marker" in step.read for step in ordered if step.path[-1] == "down_mm")
    travel = steps("sag", put(Job(), sag=GAUGES), alone=True)
    assert len(travel) == 4
    assert all("how far" in step.read for step in travel)


def test_each_leg_is_asked_for_where_they_are_split_and_a_leg_without_a_spring_for_its_air_gap_only() -> None:
    job = split(FULL, Leg(spring_fitted=False))
    ordered = steps("front", job)
    assert [step.path for step in ordered if step.path[1] == "right"] == [("front", "right", "air_gap_mm")]
    assert {step.state for step in ordered} == {"Left leg", "Right leg", "Fork"}
    assert {step.state for step in steps("front", FULL)} == {"Both legs alike", "Fork"}


def test_what_trapped_air_and_travel_used_need_of_the_fork_is_asked_after_its_legs() -> None:
    last = steps("front", split(FULL, LEG))[-3:]
    assert names(last) == ["front.stanchion_outer_mm", "front.stanchion_inner_mm", "front.travel_mm"]
    assert all(step.optional and step.end == "front" for step in last)


def test_an_adjuster_is_asked_for_as_it_is_counted() -> None:
    def of(counting: str) -> list[str]:
        return [name.rsplit(".", 1)[1] for name in names(steps("rear", put(Job(), rear__collar__counting=counting)))]

    assert "reading_out" not in of("turns")
    assert {"reading_out", "reading_in", "now"} <= set(of("rings"))
    assert not {"now", "pitch_mm", "total_turns", "set_length_in_mm"} & set(of("none"))


def test_a_set_length_read_elsewhere_is_not_asked_for_with_the_adjuster_fully_out() -> None:
    def words(job: Job) -> list[str]:
        return [step.do for step in steps("front", job) if step.path[-1] == "set_length_mm"]

    [usual] = words(FULL)
    [elsewhere] = words(put(FULL, front__left__spring__set_length_at=2.0))
    assert "fully out" in usual
    assert "fully out" not in elsewhere


class TestTwoSprings:
    @pytest.mark.parametrize(("part", "at"), BENCH)
    def test_the_second_is_asked_for_after_the_first_and_only_where_there_is_one(
        self, part: StepGroup, at: str
    ) -> None:
        def of(second: SecondSpring) -> list[str]:
            job = put(Job(), **{f"{at}__spring": Spring(rate_n_per_mm=60.0, second=second)})
            return [".".join(map(str, one.path)).split("spring.")[-1] for one in steps(part, job)]

        def asked(second: SecondSpring) -> list[str]:
            return [name for name in of(second) if name.startswith("second")]

        kinds = {"end_to_end": ["divider_mm", "stop_mm"], "side_by_side": ["gap_mm"], "none": []}
        for arranged, own in kinds.items():
            names = ["rate_n_per_mm", "free_length_mm", *own, "solid_length_mm"] if own else []
            assert asked(SecondSpring(arranged=arranged, rate_n_per_mm=20.0)) == [f"second.{name}" for name in names]
        for second, words in ((ON_EACH_OTHER, "as end to end"), (BESIDE, "as side by side")):
            job = put(Job(), **{f"{at}__spring": Spring(second=second)})
            assert words in next(one.read for one in steps(part, job) if "second" in one.path)
        both = of(ON_EACH_OTHER)
        assert both.index("free_length_mm") + 1 == both.index("second.rate_n_per_mm")
        assert both.index("second.solid_length_mm") + 1 == both.index("set_length_mm")

    def test_each_leg_by_itself_and_none_where_air_or_no_spring_is_fitted(self) -> None:
        job = split(put(FULL, front__left__spring__second=BESIDE), LEG)
        assert {step.path[1] for step in steps("front", job) if "second" in step.path} == {"left"}
        for field, value in (("spring_fitted", False), ("air__fitted", True)):
            without = put(job, **{f"front__left__{field}": value})
            assert not [step for step in steps("front", without) if "second" in step.path]

    @pytest.mark.parametrize(("part", "at"), BENCH)
    @pytest.mark.parametrize("main", [9.0, 60.0])
    @pytest.mark.parametrize("second", [ON_EACH_OTHER, BESIDE], ids=lambda second: second.arranged)
    def test_what_may_not_be_left_out_gives_where_they_change_over(
        self, part: StepGroup, at: str, main: float, second: SecondSpring
    ) -> None:
        """The readings without a stop or gap, in the order asked; with one of those the lengths are spared."""
        job = put(FULL, **{f"{at}__spring__second": second, f"{at}__spring__rate_n_per_mm": main})
        own = put(FULL, **{f"{at}__spring__coils": Coils()})
        assert not missing(steps(part, own), own)
        lengths = {"free_length_mm": 60.0, "solid_length_mm": 30.0}
        given = 0
        job = put(job, **{f"{at}__spring__coils": Coils()})
        while open_ones := missing(steps(part, job), job):
            assert not judged(job).change_overs or not judged(job).change_overs[0].at_mm.known
            path = open_ones[0].path
            assert "second" in path or path[-2:] == ("coils", "solid_length_mm"), path
            job, given = put(job, **{"__".join(map(str, path)): lengths[str(path[-1])]}), given + 1
        assert given == (1 if second is BESIDE else 2)
        assert judged(job).change_overs[0].at_mm.known or judged(job).change_overs[0].at_mm.problem
        closes = replace(second, gap_mm=15.0) if second is BESIDE else replace(second, stop_mm=15.0)
        spared = put(FULL, **{f"{at}__spring": replace(SOFTER, second=closes)})
        assert not {"second", "coils"} & {step for one in missing(steps(part, spared), spared) for step in one.path}

    def test_the_main_spring_is_asked_for_in_words_for_two(self) -> None:
        rows = {row.do for row in (*bench_guide_sentences.LEG, *bench_guide_sentences.SHOCK)}
        for otherwise in OTHERWISE.values():
            assert set(otherwise) <= rows
        asked = {
            one.path[-1]: one for one in steps("rear", put(Job(), rear__spring=SOFTER)) if "second" not in one.path
        }
        assert (asked["free_length_mm"].title, asked["rate_n_per_mm"].title) == ("Both, free", "Spring rate")
        assert "main spring" in asked["rate_n_per_mm"].do
        assert "over both springs" in asked["set_length_mm"].do
        alone = {one.path[-1]: one.do for one in steps("rear", Job())}
        assert "main" not in alone["rate_n_per_mm"]

    def test_lengths_that_leave_a_spring_no_travel_are_doubted_at_once(self) -> None:
        second = replace(ON_EACH_OTHER, free_length_mm=30.0, solid_length_mm=35.0)
        job = put(FULL, rear__spring__second=second)
        [solid] = [one for one in steps("rear", job) if one.path[-2:] == ("second", "solid_length_mm")]
        assert "second_lengths" in [finding.code for finding in doubts(solid, judged(job).findings)]


@pytest.mark.parametrize("ordered", EVERY, ids=len)
def test_every_reading_is_a_number_of_the_job_and_its_words_fit_the_smallest_screen(
    ordered: tuple[GuideStep, ...],
) -> None:
    for step in ordered:
        spec = spec_at(step.path)
        assert isinstance(spec, Number | Many), step.path
        assert bool(step.again) is isinstance(spec, Many)
        assert len(step.title) <= 15, step.title
        assert len(textwrap.wrap(step.do, 48)) + len(textwrap.wrap(step.read, 48)) <= 3, step
        assert step.do.endswith(".")
        assert not step.caution or step.caution in CAUTIONS
    assert len({step.path for step in ordered}) == len(ordered)


def test_it_begins_and_goes_on_at_the_first_reading_missing() -> None:
    assert first_open(steps("sag", Job()), Job()) == 0
    assert first_open(steps("sag", FULL), FULL) == len(steps("sag", FULL))
    gap = put(FULL, sag__rear__static=Readings())
    assert [step.path[-1] for step in missing(steps("sag", gap), gap)] == ["down_mm", "up_mm"]
    assert first_open(steps("sag", gap), gap) == 4


def test_what_may_be_left_out_is_not_missed() -> None:
    assert [step.path[-1] for step in missing(steps("front", FULL), FULL)] == []
    assert any(step.optional for step in steps("front", FULL))


def test_pushed_down_only_of_two_states_is_one_person_alone() -> None:
    one = put(Job(), sag__front__static=Readings(down_mm=(20.0,)))
    two = put(one, sag__rear__static=Readings(down_mm=(8.0,)))
    assert [alone_so_far(job) for job in (Job(), one, two, FULL)] == [False, False, True, False]


def test_a_state_still_to_be_lifted_is_not_judged_yet_unless_nobody_can_lift() -> None:
    job = put(FULL, sag__front__rider=Readings(down_mm=(566.0,)))
    assert half_taken(steps("sag", job), judged(job)) == {("sag", "front", "rider"), ("sag", "front"), ("sag",)}
    assert half_taken(steps("sag", job, alone=True), judged(job)) == frozenset()
    both = put(job, sag__rear__static=Readings(down_mm=(590.0,)))
    states = {("sag", "front", "rider"), ("sag", "rear", "static")}
    assert half_taken(steps("sag", both), judged(both)) == states | {("sag", "front"), ("sag", "rear"), ("sag",)}


def test_a_reading_on_the_bench_is_doubted_with_what_it_brings_to_light_at_the_same_leg() -> None:
    job = put(split(FULL), front__left__adjuster__pitch_mm=0.9)  # 8 mm over 16 turns are 0.5 mm a turn
    findings = judged(job).findings
    for side, doubted in (("left", True), ("right", False)):
        [step] = [one for one in steps("front", job) if one.path == ("front", side, "spring", "set_length_in_mm")]
        assert ("pitch_disagrees" in [finding.code for finding in doubts(step, findings)]) is doubted


def test_readings_of_sag_are_counted_in_nothing_and_those_of_an_adjuster_as_it_is_counted() -> None:
    assert {step.counted for step in steps("sag", FULL)} == {""}
    counted = {step.path[-1]: step.counted for step in steps("rear", put(FULL, rear__collar__counting="rings"))}
    assert {name for name, what in counted.items() if what} == {"now", "reading_out", "reading_in"}
    assert counted["now"] == "rings"


def test_with_no_reading_taken_nothing_is_out_of_date() -> None:
    empty = put(FULL, sag__front__rider=Readings(preload_at=(9.0, 9.0)))
    taken = put(FULL, sag__front__rider__preload_at=(9.0, 9.0))
    [lifted] = [one for one in steps("sag", FULL) if one.path == ("sag", "front", "rider", "up_mm")]
    assert (outdated(lifted, empty), outdated(lifted, taken), outdated(lifted, FULL)) == (False, True, False)


def test_the_next_reading_missing_is_the_part_s_own_in_its_order_and_then_the_next_part_s() -> None:
    a = judged(Job())
    first = next_missing("front", a, None)
    assert first == ("front", "left", "spring", "rate_n_per_mm")
    assert next_missing("front", a, first) == ("front", "left", "spring", "free_length_mm")
    assert next_missing("front", a, ("front", "left", "adjuster", "now")) == first  # after the last the first again
    whole = judged(put(Job(), front=FULL.front))
    assert next_missing("front", whole, None) == ("rear", "spring", "rate_n_per_mm")
    assert next_missing("machine", judged(FULL), None) == ("weights", "front_alone_kg")
    begun = put(LOADED, geometry__offset_mm=30.0)
    assert next_missing("machine", judged(begun), None) == ("geometry", "front_radius_mm")
    assert next_missing("machine", a, None) == ("weights", "front_alone_kg")  # not what fork and shock wait for


def test_every_doubt_has_its_words() -> None:
    assert set(FINDINGS) >= DOUBTS


def test_swapped_readings_are_a_doubt_about_the_reading_that_shows_them_and_a_sag_out_of_target_is_none() -> None:
    swapped = put(FULL, sag__front__static=Readings(down_mm=(583.0,), up_mm=(577.0,)))
    lifted = steps("sag", swapped)[3]
    assert "readings_swapped" in [finding.code for finding in doubts(lifted, judged(swapped).findings)]
    assert not doubts(steps("sag", swapped)[5], judged(swapped).findings)
    high = put(FULL, sag__front=sag_end(45.0, 60.0))
    assert "sag_high" in codes(judged(high))
    assert not doubts(steps("sag", high)[3], judged(high).findings)


@pytest.mark.parametrize("end", ENDS)
def test_a_repeat_far_off_is_warned_about_at_that_repeat(end: str) -> None:
    # 3 mm: common practice, no published source
    near = put(FULL, **{f"sag__{end}__static": Readings(down_mm=(577.0, 580.0, 578.0), up_mm=(583.0,))})
    assert "repeat_far_off" not in codes(judged(near))
    far = put(FULL, **{f"sag__{end}__static": Readings(down_mm=(577.0, 587.0, 578.0), up_mm=(593.0,))})
    finding = found(judged(far), "repeat_far_off")
    assert finding.severity is Severity.WARNING
    assert finding.where == ("sag", end, "static", "down_mm", 1)
    assert finding.values["apart_mm"] == 10.0


def test_of_two_repeats_far_apart_the_later_is_asked_about_and_a_coarse_tape_allows_more() -> None:
    far = put(FULL, sag__front__hanging_mm=(600.0, 604.0))
    assert found(judged(far), "repeat_far_off").where == ("sag", "front", "hanging_mm", 1)
    assert "repeat_far_off" not in codes(judged(put(far, sag__tape_resolution_mm=5.0)))
    travel = put(far, sag__front__gauge="travel")
    assert "repeat_far_off" not in codes(judged(travel))


def test_sag_that_was_not_found_yet_is_not_shown_of_the_readings_before() -> None:
    ordered = found_steps(FULL)
    for end in ENDS:
        step = next(step for step in ordered if step.path[:3] == ("sag", end, "static"))
        before, not_found = judged(FULL), not_found_yet(ordered, FULL)
        assert {("sag", end, "static"), ("sag", end, "rider")} <= not_found
        with_old, shown = (
            "\n".join(line.plain for line in outcome_lines(step, ordered, before, METRIC, states))
            for states in ((), not_found)
        )
        assert " ± " in with_old
        assert " ± " not in shown
        assert "in target" not in shown
        assert step.end.upper() in shown
    taken_now = put(FULL, found__on=date(2026, 5, 16), found__sag=FULL.sag)
    assert not not_found_yet(found_steps(taken_now), taken_now)
