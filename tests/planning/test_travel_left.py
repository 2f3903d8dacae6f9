"""What leaves 10 mm of fork travel on the brakes: for which braking, by which change, and what it does to sag."""

from __future__ import annotations

from dataclasses import replace

import pytest

import make_samples
from judgement_jobs import PROFILES, judged, put, split
from stanchion.job.measured import noted
from stanchion.job.model import Job, Run
from stanchion.judgement.criteria.thresholds import LEFT_ON_THE_BRAKES_MM, RATE_STEPS_N_PER_MM, USUAL_AIR_GAP_MM
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.mechanics.oil_level import oil_area
from stanchion.planning.braking_of_runs import braking_of_runs
from stanchion.planning.travel_left import TravelLeft, WayThere, travel_left
from stanchion.planning.whatif import compare
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.finding_words import reason
from stanchion.wording.travel_left_sentences import SAG_FIRST, left_lines, ridden_lines

WELL = make_samples.well_set()
"""The invented sport machine, not ridden yet."""
SOFT = replace(make_samples.soft_springs(), runs=())
"""The same with springs so soft that braking takes nearly all of its 120 mm."""


def ridden(*markers_mm: float) -> Job:
    """The soft one with runs whose fork markers stood there."""
    return replace(SOFT, runs=tuple(Run(front_marker_mm=mm) for mm in markers_mm))


def found(job: Job) -> TravelLeft:
    return travel_left(job, PROFILES, braking_of_runs(job, PROFILES))


def way(job: Job, kind: str) -> WayThere:
    return next(one for one in found(job).ways if one.kind == kind)


def left_on_brakes(job: Job, slow_g: float, fast_g: float) -> float:
    """Travel left by the figures of the brakes themselves, each stroke at its own braking."""
    slow, fast = (brakes_figures(put(job, balance__braking_g=g), judged(job)) for g in (slow_g, fast_g))
    assert slow.slow.fork_left_mm.value is not None
    assert fast.fast.fork_left_mm.value is not None
    return min(slow.slow.fork_left_mm.value, fast.fast.fork_left_mm.value)


def test_as_ridden_what_is_left_is_what_the_marker_left() -> None:
    """120 mm of travel less the marker, by both strokes: that braking is what put it there."""
    of = found(ridden(114.0))
    assert of.markers == 1
    assert of.left_mm.value == pytest.approx(6.0, abs=1e-3)
    assert (of.slow_g.value or 0.0) < (of.fast_g.value or 0.0)
    two = found(ridden(112.0, 114.0))
    assert two.markers == 2
    assert two.left_mm.value == pytest.approx(7.0, abs=0.2)


def test_without_a_marker_it_is_the_braking_looked_at() -> None:
    of = found(put(WELL, balance__braking_g=0.95))
    assert (of.markers, of.slow_g.value, of.fast_g.value) == (0, 0.95, 0.95)
    assert of.left_mm.value == pytest.approx(left_on_brakes(WELL, 0.95, 0.95))


def test_braking_no_tyre_holds_is_bumps_or_a_reading() -> None:
    """Beyond 1.2 g: common practice, no published source."""
    hard = found(put(WELL, balance__braking_g=1.25))
    assert reason(hard.left_mm) == "deeper than braking alone brings it: bumps, or a reading"
    assert not hard.ways
    deep = braking_of_runs(replace(WELL, runs=(Run(front_marker_mm=114.0),)), PROFILES)
    assert reason(deep.runs[0].slow_g) == reason(hard.left_mm)
    assert found(replace(WELL, runs=(Run(front_marker_mm=114.0),))).markers == 0


@pytest.mark.parametrize(
    "job", [ridden(114.0), ridden(113.0, 115.5), put(ridden(114.0), front__left__air_gap_mm=105.0)]
)
def test_the_air_gap_is_the_largest_that_leaves_it_and_the_trial_of_it_says_so_too(job: Job) -> None:
    of, gap = found(job), way(job, "air_gap")
    assert gap.then.value is not None
    assert gap.now.value is not None
    at_g = (of.slow_g.value or 0.0, of.fast_g.value or 0.0)
    tried, one_more = (compare_left(job, "air_gap_mm", gap.then.value + mm, at_g) for mm in (0.0, 1.0))
    assert tried >= LEFT_ON_THE_BRAKES_MM > one_more
    assert gap.left_mm.value == pytest.approx(tried, abs=1e-6)
    area = oil_area(job.front.stanchion_inner_mm or 0.0, job.front.damper_rod_mm or 0.0)
    assert gap.oil_ml.value == pytest.approx((gap.now.value - gap.then.value) * area / 1000.0)


def compare_left(job: Job, name: str, value: float, at_g: tuple[float, float]) -> float:
    return left_on_brakes(tried(job, name, value), *at_g)


def tried(job: Job, name: str, value: float) -> Job:

    path = ("front", "left", *name.split("__"))
    return noted(put(job, **{f"front__left__{name}": value}), path, job, tried=True)


def exact_gap(job: Job, at_g: tuple[float, float]) -> float:
    """The air gap that leaves just what is wanted, by halving; the braking as given."""
    low, high = 30.0, 110.0
    while high - low > 0.01:
        middle = (low + high) / 2.0
        low, high = (middle, high) if compare_left(job, "air_gap_mm", middle, at_g) >= 10.0 else (low, middle)
    return low


def test_the_gap_is_as_sure_as_the_marker_that_it_rests_on() -> None:
    """Its marker read 2 mm wrong at most (thresholds: common practice, no published source), by limits: JCGM 100:2008,
    4.3.7. The height is entered, so that nothing is known of how sure it is."""
    job = put(ridden(113.0), balance__height_aboard_mm=620.0)
    sure = way(job, "air_gap").sure
    assert sure is not None
    assert sure.by == ("marker",)
    gaps = []
    for mm in (113.0 - 2.0 / 3.0**0.5, 113.0 + 2.0 / 3.0**0.5):
        run = braking_of_runs(replace(job, runs=(Run(front_marker_mm=mm),)), PROFILES).runs[0]
        gaps.append(exact_gap(job, (run.slow_g.value or 0.0, run.fast_g.value or 0.0)))
    assert sure.expanded == pytest.approx(1.96 * (gaps[0] - gaps[1]) / 2.0, rel=0.1)


def test_with_the_braking_chosen_the_height_counts_and_with_markers_most_of_it_drops_out() -> None:
    """The usual height is 560 to 700 mm (thresholds: common practice, no published source)."""
    job = put(SOFT, balance__braking_g=0.8)
    sure = way(job, "air_gap").sure
    assert sure is not None
    assert sure.by == ("height",)
    by_height = [exact_gap(put(job, balance__height_aboard_mm=mm), (0.8, 0.8)) for mm in (560.0, 700.0)]
    assert sure.expanded == pytest.approx((by_height[0] - by_height[1]) / 2.0, rel=0.25)  # far from straight
    marked, known = (
        way(one, "air_gap").sure for one in (ridden(113.0), put(ridden(113.0), balance__height_aboard_mm=630.0))
    )
    assert marked is not None
    assert known is not None
    assert marked.by == ("marker", "height")
    assert known.expanded <= marked.expanded < known.expanded + 0.3 * sure.expanded


def test_more_marked_runs_make_the_gap_surer() -> None:
    one, four = (way(ridden(*of), "air_gap").sure for of in ((113.0,), (113.0,) * 4))
    assert one is not None
    assert four is not None
    assert four.expanded < 0.6 * one.expanded


def test_an_uncertainty_larger_than_the_change_is_said_and_what_would_make_it_smaller() -> None:
    near = ridden(110.5)
    assert not way(near, "air_gap").told
    words = dict(left_lines(found(near), METRIC))["  by air gap"]
    assert " ± " in words
    assert "(± larger than the change: ride another run with the marker set first)" in words
    far = ridden(115.0)
    assert way(far, "air_gap").told
    assert "larger than the change" not in dict(left_lines(found(far), METRIC))["  by air gap"]
    assert ("", "± (95 %): by the fork markers and the height of the centre of mass alone.") in left_lines(
        found(far), METRIC
    )


def test_a_marker_so_near_the_end_that_a_deeper_one_tells_nothing_is_moved_one_way() -> None:
    assert way(ridden(117.0), "air_gap").sure is not None


def test_the_rate_is_the_next_that_is_sold_and_the_step_below_it_leaves_less() -> None:
    job = ridden(114.0)
    of, rate = found(job), way(job, "rate")
    step = RATE_STEPS_N_PER_MM["front"][0]
    assert rate.then.value is not None
    assert (rate.then.value / step) == pytest.approx(round(rate.then.value / step))
    at_g = (of.slow_g.value or 0.0, of.fast_g.value or 0.0)
    does, below = (compare_left(job, "spring__rate_n_per_mm", rate.then.value - less, at_g) for less in (0.0, step))
    assert does >= LEFT_ON_THE_BRAKES_MM > below


def test_the_sags_are_those_of_the_trial_and_one_out_of_its_target_is_said() -> None:
    job = ridden(117.0)
    rate = way(job, "rate")
    seen = compare(job, put(job, front__left__spring__rate_n_per_mm=rate.then.value), PROFILES)
    by_state = {sag.state: sag for sag in rate.sags}
    for state, sag in by_state.items():
        assert sag.then == seen.row(("front",), f"{state}_captured").changed
    assert set(by_state) == {"static", "rider"}
    words = dict(left_lines(found(job), METRIC))
    assert "still out of its target (15 to 25 mm)" in words["  by rate"]
    assert ("", SAG_FIRST) in left_lines(found(job), METRIC)
    assert ("", SAG_FIRST) not in left_lines(found(WELL), METRIC)


def test_where_enough_is_left_nothing_needs_changing_and_no_change_is_shown() -> None:
    of = found(replace(WELL, runs=(Run(front_marker_mm=95.0),)))
    assert (of.left_mm.value or 0.0) > LEFT_ON_THE_BRAKES_MM
    [(name, words)] = left_lines(of, METRIC)
    assert name == "To leave 10 mm"
    assert words.endswith("nothing needs changing")


def test_no_air_gap_outside_the_usual_is_proposed() -> None:
    narrow = put(ridden(119.0), front__left__air_gap_mm=USUAL_AIR_GAP_MM[0] + 1.0)
    gap = way(narrow, "air_gap")
    assert gap.then.value is None or gap.then.value >= USUAL_AIR_GAP_MM[0]
    if gap.then.value is None:
        assert reason(gap.then) == "no air gap that may be set leaves that"


def test_no_air_gap_is_proposed_below_the_least_of_the_manual() -> None:
    job = ridden(117.0)
    free = way(job, "air_gap")
    assert free.then.value is not None
    held = way(put(job, front__air_gap_least_mm=free.then.value + 1.0), "air_gap")
    assert reason(held.then) == "no air gap that may be set leaves that"
    assert way(put(job, front__air_gap_least_mm=free.then.value), "air_gap").then == free.then


def test_an_air_fork_has_pressure_only_and_never_above_the_highest_allowed() -> None:
    air = put(make_samples.air_fork(), balance__braking_g=1.1)
    of = found(air)
    assert [one.kind for one in of.ways] == ["pressure"]
    leg = air.front.left.air
    assert leg.most_bar is not None
    assert leg.pressure_bar is not None
    tight = put(air, front__left__air__most_bar=leg.pressure_bar, balance__braking_g=1.1)
    [pressure] = found(tight).ways
    assert pressure.then.value is None or pressure.then.value <= leg.pressure_bar


def test_legs_that_stand_apart_are_changed_alike() -> None:
    apart = split(ridden(114.0))
    assert way(apart, "air_gap").then == way(ridden(114.0), "air_gap").then
    assert way(apart, "rate").then == way(ridden(114.0), "rate").then


def test_without_a_gap_it_says_what_is_needed() -> None:
    gap = way(put(ridden(100.0), front__left__air_gap_mm=None), "air_gap")
    assert not gap.then.known
    assert gap.then.needs == (("front", "left", "air_gap_mm"),)


def test_check_json_and_sheet_carry_the_braking_ridden_and_what_leaves_it() -> None:
    job = ridden(112.0, 114.0)
    text = as_text("j", job, judged(job))
    assert "Braking as ridden" in text
    assert "by 2 fork markers, scatter 0.0" in text
    assert "To leave 10 mm" in text
    data = as_json("j", job, judged(job))
    runs, left = data["braking_of_runs"], data["travel_left"]
    assert [one["run"] for one in runs["runs"]] == [1, 2]
    assert runs["mean_g"] == pytest.approx(sum(one["slow_g"] + one["fast_g"] for one in runs["runs"]) / 4.0)
    assert left["markers"] == 2
    assert [one["way"] for one in left["ways"]] == ["air_gap", "rate"]
    assert not any("nan" in str(one) for one in left["ways"])
    assert all(one["then_expanded"] > 0.0 and one["then_expanded_by"] == ["marker", "height"] for one in left["ways"])
    assert dict(ridden_lines(braking_of_runs(WELL, PROFILES))) == {}


def test_in_other_units_the_lines_speak_of_the_same_travel() -> None:
    lines = dict(left_lines(found(ridden(114.0)), Units(lengths="in", rates="kg/mm")))
    assert "To leave 0.394 in" in lines
    assert " in: leaves 0." in lines["  by air gap"] or " in, " in lines["  by air gap"]
