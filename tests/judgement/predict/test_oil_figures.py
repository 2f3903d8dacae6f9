"""What the oil level of a fork does, as recorded: oil for a change, another gap, and the gap for a wanted reserve."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from judgement_jobs import judged, put
from rates import WEIGHED, known
from stanchion.job.model import Job
from stanchion.job.runs import new_run
from stanchion.judgement.results.predicted import GapFigures, OilFigures
from stanchion.planning.on_travel import predicted_curve, with_gap
from stanchion.units.known_units import METRIC
from stanchion.wording.oil_sentences import oil_lines

FILLED = put(
    WEIGHED,
    front__stanchion_inner_mm=39.0,
    front__stanchion_outer_mm=43.0,
    front__left__air_gap_mm=110.0,
    front__left__oil_volume_ml=505.0,
    geometry__rake_deg=24.0,
)


def oil(job: Job) -> OilFigures:
    found = judged(job).predicted.front.oil
    assert found is not None
    return found


def there(gap: GapFigures | None) -> GapFigures:
    assert gap is not None
    return gap


def _leg_force(job: Job, travel_mm: float, gap_change_mm: float, exponent: float) -> float:
    """Spring and trapped air of one leg: the tube that slides in displaces by its outer diameter, the gap stands in the
    inner one with the leg pushed in, and the air is at 1.01325 bar when the leg is extended (ISO 2533, value from memory)."""
    spring, front = job.front.left.spring, job.front
    assert isinstance(spring.rate_n_per_mm, float)
    preload = known(judged(job).front.left.preload_now_mm.value)
    outer, inner = (math.pi / 4.0 * known(mm) ** 2 for mm in (front.stanchion_outer_mm, front.stanchion_inner_mm))
    volume = (known(front.left.air_gap_mm) + gap_change_mm) * inner + outer * known(front.travel_mm)
    pressure: float = 0.101325 * ((volume / (volume - outer * travel_mm)) ** exponent - 1.0)
    return spring.rate_n_per_mm * (preload + travel_mm) + pressure * outer


def test_oil_for_a_length_of_gap_with_and_without_the_rod() -> None:
    assert oil(FILLED).ml_per_mm.value == pytest.approx(1.19459, abs=5e-6)
    assert oil(FILLED).ml_per_mm_by_rod.problem == "no_rod"
    assert oil(put(FILLED, front__damper_rod_mm=12.0)).ml_per_mm_by_rod.value == pytest.approx(1.08149, abs=5e-6)


@pytest.mark.parametrize(("rod", "ml"), [(None, 1.19459), (12.0, 1.08149)])
def test_a_gap_to_compare_has_the_forces_of_a_fork_set_so(rod: float | None, ml: float) -> None:
    job = put(FILLED, front__damper_rod_mm=rod)
    gap = there(oil(put(job, front__gap_compared_mm=95.0)).compared)
    alike = judged(put(job, front__left__air_gap_mm=95.0)).predicted.front.full_travel
    assert gap.slow_n.value == pytest.approx(known(alike.slow_n.value))
    assert gap.fast_n.value == pytest.approx(known(alike.fast_n.value))
    assert gap.oil_ml.value == pytest.approx(15.0 * ml, abs=1e-4)


def test_with_the_gap_for_the_reserve_the_fork_has_that_reserve() -> None:
    gap = there(oil(put(FILLED, front__reserve_wanted_n=2300.0)).for_reserve)
    so_set = judged(put(FILLED, front__left__air_gap_mm=known(gap.gap_mm.value))).predicted.front.full_travel
    assert so_set.reserve_n.value == pytest.approx(2300.0, abs=1e-3)


def test_with_the_gap_for_travel_left_the_same_blow_ends_so_much_earlier() -> None:
    """The force at the marker, fast (n = 1.3), is reached at full travel less what is wanted."""
    job = put(FILLED, front__left_wanted_mm=8.0)
    job = replace(job, runs=(replace(new_run(job, "10:20"), front_marker_mm=117.0),))
    gap = there(oil(job).for_left)
    assert known(gap.change_mm.value) < 0.0
    deeper = there(oil(put(job, front__left_wanted_mm=3.0)).for_left)
    assert deeper.change_mm.value == pytest.approx(0.0, abs=1e-6)  # 117 of 120 mm: 3 mm are left now


def test_the_gap_for_travel_left_is_told_for_a_slow_stroke_too() -> None:
    """How fast the marker was driven there is not known: the air takes n = 1 slowly and 1.3 fast. Slowly the air adds
    less at the same travel, so that the gap must shrink by another amount."""
    job = put(FILLED, front__left_wanted_mm=8.0)
    job = replace(job, runs=(replace(new_run(job, "10:20"), front_marker_mm=117.0),))
    figures = oil(job)
    fast, slow = there(figures.for_left), there(figures.for_left_slow)
    assert known(slow.change_mm.value) < 0.0
    for gap, exponent in ((fast, 1.3), (slow, 1.0)):
        before, after = (
            _leg_force(job, travel_mm, change_mm, exponent)
            for travel_mm, change_mm in ((117.0, 0.0), (112.0, known(gap.change_mm.value)))
        )
        assert after == pytest.approx(before, rel=1e-6)
    (line,) = [line for line in oil_lines(job.front, figures, METRIC) if "travel left" in line]
    assert f"by a slow stroke {known(slow.gap_mm.value):.1f} mm" in line


def test_what_no_gap_gives_is_said() -> None:
    job = put(FILLED, front__reserve_wanted_n=10.0)
    alone = known(judged(put(job, front__left__air_gap_mm=490.0)).predicted.front.full_travel.reserve_n.value)
    assert alone > 10.0  # hardly any air left to squeeze, and still more than is wanted
    assert there(oil(job).for_reserve).change_mm.problem == "springs_give_more"
    assert "For 10 N of reserve: the springs alone give more, whatever the air gap." in list(
        oil_lines(job.front, oil(job), METRIC)
    )


def test_both_gaps_are_drawn_over_each_other_and_said() -> None:
    job = put(FILLED, front__gap_compared_mm=95.0, front__air_gap_least_mm=100.0)
    a = judged(job)
    now = predicted_curve(job, a, "front", 30)
    other = predicted_curve(replace(job, front=with_gap(job.front, 95.0)), a, "front", 30)
    assert now is not None
    assert other is not None
    assert other.points[-1][1] == pytest.approx(known(there(oil(job).compared).slow_n.value))
    assert other.points[-1][1] > now.points[-1][1]
    said = " ".join(oil_lines(job.front, oil(job), METRIC))
    assert "5.0 mm of air gap: 6 ml." in said
    assert "air gap 95.0 mm, +18 ml a leg to 523 ml" in said
    assert "under the least allowed, 100.0 mm" in said
