"""The shock's linkage and the rate felt at the wheel."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

from judgement_jobs import FULL, PAIRS, codes, found, judged, put, repeated, sag_end
from linkages import read_pairs, usual_ones
from stanchion.job.model import Job, LinkagePair, SagEnd, Spring
from stanchion.judgement.ends.rear import shock_figures
from stanchion.judgement.results.findings import Severity
from stanchion.planning.on_travel import predicted_curve
from stanchion.wording.finding_words import sentence

CLOSE = tuple(
    LinkagePair(wheel_mm=float(z), shock_mm=float(round(0.35 * z + 0.0003 * z * z))) for z in range(10, 121, 10)
)
"""Pairs every 10 mm, read to 1 mm, of a linkage whose ratio rises from 0.35 by 0.0006 for each mm."""


def test_one_constant_ratio_gives_the_rate_at_the_wheel() -> None:
    rear = judged(FULL).rear  # exact: 95 * 0.4 * 0.4
    assert rear.motion_ratio.value == 0.4
    assert rear.wheel_rate_n_per_mm.value == pytest.approx(15.2)
    assert rear.at_travel_mm == 28.5


@pytest.mark.parametrize(("rider", "static", "at"), [(True, True, 28.5), (False, True, 7.5), (False, False, 0.0)])
def test_wheel_rate_is_given_at_rider_sag_else_at_static_sag_else_extended(
    rider: bool, static: bool, at: float
) -> None:
    end = FULL.sag.rear
    empty = type(end.static)()
    job = put(
        FULL,
        sag__rear=SagEnd(
            hanging_mm=end.hanging_mm, static=end.static if static else empty, rider=end.rider if rider else empty
        ),
    )
    assert judged(job).rear.at_travel_mm == at


def test_without_captured_sag_they_are_given_where_the_rider_is_predicted_to_sit() -> None:
    job = put(
        Job(),
        rear__spring=Spring(rate_n_per_mm=90.0, free_length_mm=165.0, set_length_mm=153.0),
        rear__collar__counting="none",
        rear__wheel_travel_mm=120.0,
        rear__linkage=PAIRS,
        weights__rear_alone_kg=82.0,
        weights__rear_aboard_kg=124.0,
        weights__rear_unsprung_kg=18.0,
    )
    rear = judged(job).rear
    wheel, shock = zip((0.0, 0.0), *((p.wheel_mm, p.shock_mm) for p in PAIRS), strict=True)
    path = PchipInterpolator(wheel, shock)  # SciPy's, as an independent reference
    load = (124.0 - 18.0) * 9.80665  # standard gravity, NIST SP 811 App. B.8 (exact)
    z = brentq(lambda z: 90.0 * (12.0 + path(z)) * path(z, 1) - load, 0.0, 100.0, xtol=1e-12)
    slope = 90.0 * path(z, 1) ** 2 + 90.0 * (12.0 + path(z)) * path(z, 2)
    assert z > 1.0
    assert rear.at_travel_mm == pytest.approx(z, abs=1e-6)
    assert rear.motion_ratio.value == pytest.approx(float(path(z, 1)))
    assert rear.wheel_rate_n_per_mm.value == pytest.approx(float(slope), rel=1e-6)


def test_a_changing_ratio_brings_in_the_force_along_the_shock_with_its_gas() -> None:
    job = put(FULL, rear__linkage=PAIRS, rear__shaft_mm=14.0)
    without = judged(job)
    assert "gas_unknown" in codes(without)
    with_gas = judged(put(job, rear__gas_pressure_bar=10.0))
    assert "gas_unknown" not in codes(with_gas)
    gas = math.pi / 4 * 14.0**2 * 1.0  # 10 bar is 1 N/mm²
    assert with_gas.rear.gas_force_n.value == pytest.approx(gas)
    rates = [a.rear.wheel_rate_n_per_mm.value for a in (without, with_gas)]
    assert rates[0] is not None
    assert rates[1] is not None
    assert rates[1] > rates[0]


def test_the_changing_ratio_needs_preload_now_and_says_so() -> None:
    job = put(FULL, rear__linkage=PAIRS, rear__collar__now=None)
    assert judged(job).rear.wheel_rate_n_per_mm.needs == (("rear", "collar", "now"),)
    assert judged(put(job, rear__linkage=())).rear.wheel_rate_n_per_mm.value == pytest.approx(15.2)


def test_measured_pairs_win_over_the_one_ratio() -> None:
    ratio = judged(put(FULL, rear__linkage=PAIRS)).rear.motion_ratio.value
    assert ratio is not None
    assert 0.34 < ratio < 0.38


def test_a_pair_half_typed_is_not_yet_a_pair() -> None:
    job = put(FULL, rear__linkage=(LinkagePair(wheel_mm=30.0),))
    assert judged(job).rear.motion_ratio.value == 0.4


def test_sag_beyond_the_measured_pairs_gives_no_rate_and_says_so() -> None:
    assessment = judged(put(FULL, rear__linkage=(LinkagePair(wheel_mm=20.0, shock_mm=8.0),)))
    assert assessment.rear.wheel_rate_n_per_mm.problem == "beyond_measured"
    assert found(assessment, "linkage_beyond_measured").values == {"travel_mm": 28.5, "covered_mm": 20.0}


@pytest.mark.parametrize("pairs", [((30.0, 12.0), (60.0, 11.0)), ((1e-300, 4.0),), ((30.0, 1e-9), (60.0, 20.0))])
def test_pairs_that_do_not_rise_by_what_a_gauge_shows_are_a_fault(pairs: tuple[tuple[float, float], ...]) -> None:
    rows = tuple(LinkagePair(wheel_mm=z, shock_mm=s) for z, s in pairs)
    assessment = judged(put(FULL, rear__linkage=rows))
    assert "linkage_pairs" in codes(assessment)
    assert assessment.rear.motion_ratio.problem == "linkage_pairs"


def test_without_a_ratio_the_wheel_rate_waits_for_one() -> None:
    assert judged(put(FULL, rear__motion_ratio=None)).rear.wheel_rate_n_per_mm.needs == (("rear", "motion_ratio"),)


@pytest.mark.parametrize("pairs", [((0.01, 4.0),), ((300.0, 1.0),), ((30.0, 1e-3), (60.0, 20.0))])
def test_pairs_that_give_an_impossible_ratio_are_a_fault(pairs: tuple[tuple[float, float], ...]) -> None:
    rows = tuple(LinkagePair(wheel_mm=z, shock_mm=s) for z, s in pairs)
    job = put(FULL, rear__linkage=rows, sag__rear=SagEnd())
    assert "linkage_ratio" in codes(judged(job))
    assert judged(job).rear.wheel_rate_n_per_mm.problem == "linkage_ratio"


def test_a_ratio_that_falls_so_steeply_that_the_wheel_rate_is_lost_is_a_fault() -> None:
    """k m² + F dm/dz: 95 N/mm against pairs whose ratio halves within 30 mm of wheel."""
    pairs = tuple(
        LinkagePair(wheel_mm=z, shock_mm=s) for z, s in ((30.0, 20.0), (60.0, 28.0), (90.0, 32.0), (120.0, 34.0))
    )
    assessment = judged(put(FULL, rear__linkage=pairs))
    assert (assessment.rear.wheel_rate_n_per_mm.value or 0.0) < 0.0
    assert found(assessment, "wheel_rate_negative").severity is Severity.FAULT
    assert "wheel_rate_negative" not in codes(judged(put(FULL, rear__linkage=PAIRS)))


class TestPairsReadWithATape:
    """What the division of the tape leaves uncertain; the propagation itself is checked in tests/mechanics."""

    def test_ratio_and_rate_carry_it_and_one_ratio_has_none(self) -> None:
        coarse, fine = (
            judged(put(FULL, rear__linkage=PAIRS, sag__tape_resolution_mm=step)).rear for step in (1.0, 0.1)
        )
        for name in ("motion_ratio_uncertainty", "wheel_rate_uncertainty_n_per_mm"):
            assert getattr(coarse, name).value == pytest.approx(10.0 * getattr(fine, name).value, rel=0.01)
        assert judged(put(FULL, rear__linkage=PAIRS)).rear.motion_ratio_uncertainty == coarse.motion_ratio_uncertainty
        assert judged(FULL).rear.motion_ratio_uncertainty.problem == "one_ratio"
        assert judged(FULL).rear.wheel_rate_uncertainty_n_per_mm.problem == "one_ratio"

    def test_without_a_rate_the_ratio_still_has_one(self) -> None:
        rear = judged(put(FULL, rear__linkage=PAIRS, rear__spring__rate_n_per_mm=None)).rear
        assert rear.motion_ratio_uncertainty.known
        assert rear.wheel_rate_uncertainty_n_per_mm.needs == (("rear", "spring", "rate_n_per_mm"),)

    def test_a_wheel_rate_uncertain_by_more_than_a_tenth_is_warned_of_with_what_helps(self) -> None:
        """One pair z, s: m = s/z and k m², so that ± is 1.96 · 2 k m · u sqrt(1 + m²)/z, 10.2 % at 30 mm, 2.5 at 120."""
        near, far = (put(FULL, rear__linkage=(LinkagePair(wheel_mm=z, shock_mm=0.4 * z),)) for z in (30.0, 120.0))
        finding = found(judged(near), "wheel_rate_uncertain")
        off = 1.96 * 2 * math.sqrt((1.0 + 0.4**2) / 12.0) / (0.4 * 30.0)
        assert finding.severity is Severity.WARNING
        assert finding.values["share"] == pytest.approx(off, rel=0.01)
        assert "further apart" in sentence(finding)
        assert "wheel_rate_uncertain" not in codes(judged(far))
        assert "wheel_rate_uncertain" not in codes(judged(put(near, sag__tape_resolution_mm=0.1)))
        assert "wheel_rate_uncertain" not in codes(judged(FULL))

    @pytest.mark.parametrize(("gap", "step", "most"), [(10.0, 1.0, 2), (20.0, 1.0, 2), (30.0, 1.0, 3), (10.0, 0.1, 3)])
    def test_usual_linkages_read_all_through_the_travel_are_seldom_warned_of(
        self, gap: float, step: float, most: int
    ) -> None:
        """Of 60 rockers with 120 mm of wheel travel; the curve through every pair is too uncertain for nearly all of
        them at 1 mm. What is told instead is near the true rate (tests/mechanics/test_linkage_smooth.py)."""
        rng = np.random.default_rng(11)
        warned, smoothed = 0, 0
        for path in usual_ones(120.0):
            pairs = read_pairs(path, rng, 120.0, gap, step)
            rows = tuple(LinkagePair(wheel_mm=z, shock_mm=s) for z, s in pairs)
            assessment = judged(put(FULL, rear__linkage=rows, sag__tape_resolution_mm=step))
            assert "wheel_rate_negative" not in codes(assessment)
            warned += bool({"wheel_rate_uncertain", "linkage_not_smooth"} & set(codes(assessment)))
            smoothed += assessment.rear.smooth is not None
        assert warned <= most
        assert smoothed >= (50 if step == 1.0 else 1)

    def test_what_is_told_is_by_the_smooth_curve_where_that_knows_it_better(self) -> None:
        rear = judged(put(FULL, rear__linkage=CLOSE)).rear
        assert rear.smooth is not None
        assert rear.best_motion_ratio == (rear.smooth.motion_ratio, rear.smooth.motion_ratio_uncertainty)
        assert rear.best_wheel_rate == (rear.smooth.wheel_rate_n_per_mm, rear.smooth.wheel_rate_uncertainty_n_per_mm)
        true = 95.0 * 0.3671**2 + 95.0 * (15.0 + 0.35 * 28.5 + 0.0003 * 28.5**2) * 0.0006  # m = 0.35 + 0.0006 z
        off, rate = rear.best_wheel_rate[1].value, rear.best_wheel_rate[0].value
        assert off is not None
        assert rate == pytest.approx(true, abs=off)
        assert off < 0.1 * true < (rear.wheel_rate_uncertainty_n_per_mm.value or 0.0)
        fine = judged(put(FULL, rear__linkage=PAIRS, sag__tape_resolution_mm=0.05)).rear
        assert fine.smooth is None
        assert fine.best_wheel_rate[0] == fine.wheel_rate_n_per_mm
        without = judged(put(FULL, rear__linkage=CLOSE, rear__spring__rate_n_per_mm=None)).rear
        assert without.smooth is None

    def test_a_pair_misread_is_named_and_the_curve_through_every_pair_is_told(self) -> None:
        wrong = tuple(
            LinkagePair(wheel_mm=60.0, shock_mm=25.0) if pair.wheel_mm == 60.0 else pair for pair in CLOSE
        )  # 22.1 is true
        assessment = judged(put(FULL, rear__linkage=wrong))
        finding = found(assessment, "linkage_not_smooth")
        assert finding.severity is Severity.WARNING
        assert finding.values["wheel_mm"] == 60.0
        assert finding.values["off_mm"] == pytest.approx(2.3, abs=0.7)
        assert "60.0 mm" in sentence(finding)
        assert len(sentence(finding)) <= 160
        assert assessment.rear.smooth is None

    @pytest.mark.parametrize(("step", "advice"), [(1.0, "add_preload_measure_again"), (0.05, "add_preload")])
    def test_where_the_collar_does_not_surely_do_so_much_the_sag_is_measured_after_it(
        self, step: float, advice: str
    ) -> None:
        sags = repeated(sag_end(12.0, 34.0, 0.0))
        job = put(FULL, rear__linkage=PAIRS, sag__rear=sags, sag__tape_resolution_mm=step)
        assert found(judged(job), advice).where == ("sag", "rear")

    @pytest.mark.parametrize(
        ("wheel_mm", "stroke_mm", "end_mm"),
        [
            (124.0, None, 124.0),
            (None, 46.0, 122.44),
            (124.0, 46.0, 122.44),
            (300.0, 46.0, 122.44),
            (124.0, 90.0, 124.0),
        ],
    )
    def test_a_last_pair_a_little_short_takes_nothing_away(
        self, wheel_mm: float | None, stroke_mm: float | None, end_mm: float
    ) -> None:
        """The last slope of the pairs is 0.41 by PCHIP's rule for ends: (3 · 0.4 − 0.3833) / 2."""
        job = put(FULL, rear__linkage=PAIRS, rear__wheel_travel_mm=wheel_mm, rear__stroke_mm=stroke_mm)
        assessment = judged(job)
        assert found(assessment, "linkage_goes_on").values == {
            "last_mm": 120.0,
            "end_mm": pytest.approx(end_mm, abs=0.05),
        }
        assert len(sentence(found(assessment, "linkage_goes_on"))) <= 160
        curve = predicted_curve(job, assessment, "rear", 5)
        assert curve is not None
        assert curve.points[-1][0] == pytest.approx(end_mm, abs=0.05)
        force = 95.0 * (15.0 + 45.0 + 0.4083 * (end_mm - 120.0)) * 0.4083
        assert curve.points[-1][1] == pytest.approx(force, rel=1e-3)

    @pytest.mark.parametrize(("wheel_mm", "stroke_mm"), [(130.0, None), (None, 55.0), (120.0, None), (124.0, 40.0)])
    def test_a_last_pair_far_short_or_not_short_does_not_go_on(
        self, wheel_mm: float | None, stroke_mm: float | None
    ) -> None:
        job = put(FULL, rear__linkage=PAIRS, rear__wheel_travel_mm=wheel_mm, rear__stroke_mm=stroke_mm)
        assessment = judged(job)
        assert "linkage_goes_on" not in codes(assessment)
        known = wheel_mm == 120.0 or stroke_mm == 40.0
        assert (predicted_curve(job, assessment, "rear", 5) is not None) is known


WITH_TOP_OUT = put(
    FULL,
    rear__top_out__fitted="yes",
    rear__top_out__rate_n_per_mm=200.0,
    rear__top_out__works_over_mm=10.0,
    weights__rear_unsprung_kg=18.0,
)
"""95 N/mm, 15 mm of preload now and a ratio of 0.4. The wheel hangs where 95 (15 + s) - 200 (10 - s) carries its weight,
18 x 9.80665 / 0.4 = 441.3 N pulling: s = 133.7 / 295 = 0.453 mm of shaft, 1.133 mm at the wheel."""


class TestWhereTheRateIsGiven:
    """Wheel rate is the slope of the balance of forces at the travel of the sag, counted from full extension."""

    def test_a_sag_counts_from_where_the_top_out_spring_lets_the_wheel_hang(self) -> None:
        hangs_mm = (2000.0 - 1425.0 - 18.0 * 9.80665 / 0.4) / 295.0 / 0.4
        assert hangs_mm == pytest.approx(1.133, abs=5e-4)
        assert judged(WITH_TOP_OUT).rear.at_travel_mm == pytest.approx(28.5 + hangs_mm, abs=1e-6)

    @pytest.mark.parametrize("rate", [None, 200.0])
    def test_where_the_hanging_wheel_is_not_known_the_sag_counts_as_it_is(self, rate: float | None) -> None:
        job = put(WITH_TOP_OUT, rear__top_out__works_over_mm=None, rear__top_out__rate_n_per_mm=rate)
        assert judged(job).rear.at_travel_mm == 28.5

    @pytest.mark.parametrize("packers", [0.0, 4.0])
    def test_no_sag_is_taken_beyond_the_stroke(self, packers: float) -> None:
        """40 mm of stroke through 0.4 are 100 mm at the wheel, 90 with 4 mm of packers."""
        job = put(FULL, rear__stroke_mm=40.0, rear__packers_mm=packers, sag__rear=sag_end(80.0, 150.0))
        assert judged(job).rear.at_travel_mm == pytest.approx((40.0 - packers) / 0.4)

    def test_a_top_out_spring_adds_its_rate_where_it_works(self) -> None:
        """At 7.5 mm of static sag 3.45 mm of shaft are used, less than its 10 mm: (95 + 200) x 0.16. At the rider's sag
        it is free: 95 x 0.16. A millimetre of collar then lifts the wheel by 95 x 0.4 / 47.2."""
        alone = put(WITH_TOP_OUT, sag__rear__rider=type(FULL.sag.rear.rider)())
        assert judged(alone).rear.wheel_rate_n_per_mm.value == pytest.approx(47.2)
        assert judged(WITH_TOP_OUT).rear.wheel_rate_n_per_mm.value == pytest.approx(15.2)
        assert shock_figures(alone, None, (None, 8.6)).collar_effect.value == pytest.approx(38.0 / 47.2)

    def test_a_bump_rubber_adds_its_rate_where_it_is_pressed(self) -> None:
        """28.5 mm of sag are 11.4 mm of shaft: beyond 8 mm, short of 12."""
        for touches_mm, along in ((8.0, 95.0 + 60.0), (12.0, 95.0)):
            job = put(FULL, rear__stops__touches_mm=touches_mm, rear__stops__rate_n_per_mm=60.0)
            assert judged(job).rear.wheel_rate_n_per_mm.value == pytest.approx(along * 0.16)

    def test_a_spring_that_is_loose_there_gives_no_rate_and_says_so(self) -> None:
        job = put(FULL, rear__spring__set_length_mm=183.0, sag__rear=SagEnd())  # 3 mm loose, and 3 mm turned in
        loose = put(job, rear__collar__now=0.0)
        assert judged(loose).rear.wheel_rate_n_per_mm.problem == "spring_not_reached"
        assert judged(put(loose, sag__rear=sag_end(8.0, 28.5))).rear.wheel_rate_n_per_mm.value == pytest.approx(15.2)

    @pytest.mark.parametrize("sags", [(3.0, 9.0), (9.0, 33.0), (30.0, 80.0)])
    def test_it_is_the_slope_with_everything_at_work(self, sags: tuple[float, float]) -> None:
        """Pairs, gas in 60 ml, a top-out spring over 6 mm and a rubber from 25 mm on, against a difference quotient."""
        job = put(
            WITH_TOP_OUT,
            rear__linkage=PAIRS,
            rear__stroke_mm=45.0,
            rear__shaft_mm=14.0,
            rear__gas_pressure_bar=10.0,
            rear__gas_volume_ml=60.0,
            rear__top_out__works_over_mm=6.0,
            rear__stops__touches_mm=25.0,
            rear__stops__rate_n_per_mm=80.0,
            sag__rear=sag_end(*sags),
        )
        wheel, shock = zip((0.0, 0.0), *((p.wheel_mm, p.shock_mm) for p in PAIRS), strict=True)
        path, area = PchipInterpolator(wheel, shock), math.pi / 4 * 14.0**2

        def at_wheel(z: float) -> float:
            s = float(path(z))
            gas = area * ((1.0 + 0.101325) * 60e3 / (60e3 - area * s) - 0.101325)  # ISO 2533, sea level
            along = 95.0 * (15.0 + s) + gas - 200.0 * max(0.0, 6.0 - s) + 80.0 * max(0.0, s - 25.0)
            return along * float(path(z, 1))

        rear = judged(job).rear
        hangs = brentq(lambda z: at_wheel(z) + 18.0 * 9.80665, 0.0, 20.0) if at_wheel(0.0) < -18.0 * 9.80665 else 0.0
        z = hangs + sags[1]
        assert rear.at_travel_mm == pytest.approx(z, abs=1e-6)
        slope = (at_wheel(z + 1e-4) - at_wheel(z - 1e-4)) / 2e-4
        assert rear.wheel_rate_n_per_mm.value == pytest.approx(slope, rel=1e-5)
