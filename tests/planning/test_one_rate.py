"""One rate in place of springs whose rate changes, against closed forms."""

from __future__ import annotations

import pytest
from scipy.optimize import minimize_scalar

from judgement_jobs import judged, put, sag_end, split
from rates import WEIGHED, known, rising_force
from stanchion.job.model import SecondSpring
from stanchion.job.spec import Progressive
from stanchion.judgement.results.figures import Figure
from stanchion.planning.one_rate import POINTS, OneRate, one_rate
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.ui.one_rate_lines import one_rate_lines
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import reason

JOB = put(WEIGHED, front__left__spring__rate_n_per_mm=Progressive(8.0, 11.0))


def compared(job: object, end: str = "front") -> OneRate:
    of = one_rate(job, judged(job), end)  # type: ignore[arg-type]
    assert isinstance(of, OneRate), reason(of)
    return of


def test_both_rates_by_hand() -> None:
    """Without air and top-out spring, k (p + x) is the force of the curve at rider sag, or at full travel."""
    a = judged(JOB)
    p, x = known(a.front.left.preload_now_mm.value), known(a.predicted.front.rider.sag_mm.value)
    of = compared(JOB)
    force = rising_force(8.0, 11.0, 120.0, p + x)
    assert of.same_sag.rate_n_per_mm.value == pytest.approx(force / (p + x), abs=1e-6)
    assert of.same_sag.rider_mm.value == pytest.approx(x, abs=1e-6)
    full = rising_force(8.0, 11.0, 120.0, p + 120.0)
    assert of.same_full.rate_n_per_mm.value == pytest.approx(full / (p + 120.0))
    assert of.same_full.full_n.value == pytest.approx(known(of.fitted.full_n.value))
    assert of.same_full.full_n.value == pytest.approx(2 * full)
    assert of.fitted.stiffness_n_per_mm.value == pytest.approx(2 * (8.0 + 3.0 * (p + x) / 120.0), abs=1e-4)
    assert of.same_sag.stiffness_n_per_mm.value == pytest.approx(2 * force / (p + x), abs=1e-5)
    assert of.same_sag.rate_n_per_mm.estimate


def test_where_they_are_most_apart() -> None:
    """Between the stop and full travel, by scipy."""
    of = compared(JOB)
    p, k = known(judged(JOB).front.left.preload_now_mm.value), known(of.same_full.rate_n_per_mm.value)
    best = minimize_scalar(
        lambda x: -2 * (k * (p + x) - rising_force(8.0, 11.0, 120.0, p + x)), bounds=(0.0, 120.0), method="bounded"
    )
    assert of.same_full.most_apart_n.value == pytest.approx(-best.fun, rel=1e-4)
    assert of.same_full.most_apart_mm.value == pytest.approx(best.x, abs=0.5)


def test_a_travel_that_does_not_divide_evenly_is_drawn_to_its_end() -> None:
    step = POINTS - 1
    mm = next(mm for mm in (travel / 1000 for travel in range(110_000, 130_000)) if mm * step / step > mm)
    assert compared(put(JOB, front__travel_mm=mm)).same_full.points[-1][0] == mm


def test_measured_sags_decide_where_they_are_known() -> None:
    of = compared(put(JOB, sag__front=sag_end(20.0, 33.0)))
    assert of.fitted.static_mm.value == pytest.approx(20.0)
    assert of.fitted.rider_mm.value == pytest.approx(33.0)
    assert of.same_sag.rider_mm.value == pytest.approx(33.0, abs=1e-6)
    assert known(of.same_full.rider_mm.value) < 33.0


def test_legs_of_different_springs_get_one_rate_each() -> None:
    job = put(split(JOB), front__right__spring__rate_n_per_mm=9.0)
    of, a = compared(job), judged(job)
    p, x = known(a.front.left.preload_now_mm.value), known(a.predicted.front.rider.sag_mm.value)
    both = rising_force(8.0, 11.0, 120.0, p + x) + 9.0 * (p + x)
    assert of.same_sag.rate_n_per_mm.value == pytest.approx(both / 2 / (p + x), abs=1e-6)


def test_two_springs_at_the_shock() -> None:
    second = SecondSpring(arranged="side_by_side", rate_n_per_mm=30.0, gap_mm=25.0)
    job = put(WEIGHED, rear__spring__second=second)
    of, a = compared(job, "rear"), judged(job)
    rate, p = job.rear.spring.rate_n_per_mm, known(a.rear.spring.preload_now_mm.value)
    assert isinstance(rate, float)
    end = (
        p + 0.4 * 130.0
        if job.rear.stroke_mm is None
        else p + min(0.4 * (job.rear.wheel_travel_mm or 1e3), job.rear.stroke_mm)
    )
    assert of.same_full.rate_n_per_mm.value == pytest.approx((rate * end + 30.0 * (end - 25.0)) / end)
    assert of.same_sag.rider_mm.value == pytest.approx(known(of.fitted.rider_mm.value), abs=1e-6)


def test_springs_of_one_rate_have_nothing_to_compare() -> None:
    of = one_rate(WEIGHED, judged(WEIGHED), "front")
    assert isinstance(of, Figure)
    assert reason(of) == "the springs have one rate"


def test_what_it_waits_for_is_named() -> None:
    job = put(JOB, front__travel_mm=None)
    of = one_rate(job, judged(job), "front")
    assert isinstance(of, Figure)
    assert ("front", "travel_mm") in of.needs


def test_it_is_in_check_and_on_its_screen() -> None:
    a, of = judged(JOB), compared(JOB)
    said = as_text("it.toml", JOB, a)
    assert "One rate, same sag" in said
    assert "One rate, same full" in said
    apart = [line.split(" apart ")[1].strip() for line in said.splitlines() if "furthest apart" in line]
    for words, column in zip(apart, (of.same_sag, of.same_full), strict=True):
        more, at = known(column.most_apart_n.value), known(column.most_apart_mm.value)
        which = "stiffer" if more > 0 else "softer"
        assert words == f"at {at:.1f} mm of travel: {abs(more):.0f} N {which} than the springs fitted"
    assert {"softer", "stiffer"} <= set(" ".join(apart).split())  # one rate is the one at full travel, or before it
    data = as_json("it.toml", JOB, a)["one_rate"]
    assert data["rear"] is None
    assert data["front"]["same_sag"]["rate_n_per_mm"] == of.same_sag.rate_n_per_mm.value
    for width, height, drawn in ((74, 20, True), (60, 10, False)):
        lines = [line.plain for line in one_rate_lines(of, "same_sag", METRIC, width, height, plain=False)]
        assert all(len(line) <= width for line in lines if drawn)
        assert any("along the fork" in line for line in lines) == drawn
        assert any(line.startswith("Rider sag, mm") for line in lines)
        [cells] = [line.split()[-4:] for line in lines if line.startswith("Furthest apart, N")]
        assert cells[1::2] == [words.split()[7] for words in apart]
