"""Steering geometry now: which state it is given for, what moves it and which way."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from judgement_jobs import FULL, codes, found, judged, put, sag_end
from stanchion.job.model import Geometry, Job, SagEnd
from stanchion.judgement.results.assessment import GeometryFigures
from stanchion.judgement.results.findings import Severity
from stanchion.wording.finding_words import reason, sentence
from stanchion.wording.prediction_sentences import geometry_state

BASE: dict[str, Any] = {
    "geometry__rake_deg": 24.0,
    "geometry__offset_mm": 30.0,
    "geometry__wheelbase_mm": 1400.0,
    "geometry__front_radius_mm": 298.5,
    "geometry__rear_radius_mm": 315.0,
}
MACHINE = put(FULL, **BASE)
"""Baseline with the suspension extended; captured sags with the rider are 33 mm along the leg and 28.5 mm."""
AS_MEASURED = put(
    MACHINE,
    geometry__measured="rider",
    geometry__front_sag_mm=33.0,
    geometry__rear_sag_mm=28.5,
    geometry__fork_height_mm=5.0,
    front__fork_height_mm=5.0,
    geometry__length_adjuster_mm=0.0,
    rear__length_adjuster_mm=0.0,
)
"""Baseline with the rider aboard, and nothing changed since."""

SHARP = put(
    AS_MEASURED,
    geometry__rake_deg=math.degrees(0.47),
    geometry__offset_mm=336.0 * math.sin(0.47) - 94.0,
    geometry__wheelbase_mm=1435.0,
    geometry__front_radius_mm=336.0,
    geometry__rear_radius_mm=321.0,
)
"""R. S. Sharp (1994) parameter set (transcription): wheelbase 1.435 m, rake 0.47 rad, radii 0.336 and 0.321 m, normal
trail 0.094 m."""


def geometry(job: Job) -> GeometryFigures:
    return judged(job).geometry


def values(figures: GeometryFigures) -> tuple[float, float, float, float]:
    four = (figures.rake_deg, figures.trail_mm, figures.normal_trail_mm, figures.wheelbase_mm)
    rake, trail, normal, wheelbase = (figure.value for figure in four)
    assert rake is not None
    assert trail is not None
    assert normal is not None
    assert wheelbase is not None
    return rake, trail, normal, wheelbase


class TestTheStateItIsGivenFor:
    def test_captured_sags_with_the_rider_come_first(self) -> None:
        figures = geometry(MACHINE)
        assert (figures.state, figures.front_from, figures.rear_from) == ("rider", "captured", "captured")
        assert figures.front_rise_mm.value == pytest.approx(-33.0 * math.cos(math.radians(24.0)))
        assert figures.rear_rise_mm.value == pytest.approx(-28.5)

    def test_without_rider_sag_at_both_ends_it_is_the_machine_alone(self) -> None:
        front = sag_end(20.0, 33.0)
        figures = geometry(put(MACHINE, sag__front=SagEnd(hanging_mm=front.hanging_mm, static=front.static)))
        assert (figures.state, figures.front_from) == ("static", "captured")
        assert figures.rear_rise_mm.value == pytest.approx(-7.5)

    def test_old_sag_is_not_how_the_machine_stands_now(self) -> None:
        """Read at 4 turns; 8 are in. The front stands as springs and loads foresee it."""
        scales = {"weights__front_alone_kg": 83.0, "weights__front_aboard_kg": 118.0}
        read = put(MACHINE, **scales, sag__front__rider__preload_at=(4.0, 4.0), front__left__adjuster__now=8.0)
        assessment = judged(read)
        now, measured = assessment.geometry, assessment.sag.front.rider.sag_mm.value
        expected = assessment.predicted.front.rider.sag_mm.value
        assert (now.state, now.front_from, now.rear_from) == ("rider", "predicted", "captured")
        assert measured is not None
        assert expected is not None
        assert expected < measured - 1.5  # four turns of a collar with a pitch of 1 mm
        stands = judged(put(read, sag__front=sag_end(14.0, expected))).geometry
        assert values(now) == pytest.approx(values(stands), abs=1e-6)

    def test_a_predicted_sag_that_is_in_doubt_is_called_so_beside_the_geometry_it_gives(self) -> None:
        """The scales give the rider 60 kg, and 90 are entered; the front is not measured."""
        scales = {"front_alone_kg": 83.0, "front_aboard_kg": 113.0, "rear_alone_kg": 85.0, "rear_aboard_kg": 115.0}
        job = put(MACHINE, sag__front=SagEnd(), **{f"weights__{name}": kg for name, kg in scales.items()})
        sure, doubted = (geometry(put(job, job__rider_mass_kg=kg)) for kg in (60.0, 90.0))
        assert (sure.front_from, doubted.front_from) == ("predicted", "predicted_doubted")
        assert geometry_state(sure) == "rider aboard"
        assert geometry_state(doubted) == "rider aboard, by predicted sag, in doubt"

    def test_where_nothing_is_foreseen_old_sag_is_taken_and_called_so(self) -> None:
        """No rate is known: only the old sag tells about how the machine stands."""
        read = put(MACHINE, sag__front__rider__preload_at=(4.0, 4.0), front__left__adjuster__now=8.0)
        unknown = put(read, front__left__spring__rate_n_per_mm=None)
        assert geometry(unknown).front_from == "captured_old"

    def test_with_no_sag_known_it_is_the_machine_extended(self) -> None:
        figures = geometry(put(MACHINE, sag__front=SagEnd(), sag__rear=SagEnd()))
        assert (figures.state, figures.front_from, figures.rear_from) == ("extended",) * 3
        assert values(figures)[0] == pytest.approx(24.0, abs=1e-9)

    def test_it_says_in_which_state_the_baseline_was_measured(self) -> None:
        assert geometry(MACHINE).baseline_state == "extended"
        assert geometry(AS_MEASURED).baseline_state == "rider"


class TestTheBaseline:
    def test_nothing_changed_gives_the_baseline_back(self) -> None:
        figures = geometry(AS_MEASURED)
        baseline = figures.baseline
        for name in ("rake_deg", "trail_mm", "normal_trail_mm", "wheelbase_mm"):
            assert getattr(figures, name).value == pytest.approx(getattr(baseline, name).value, abs=1e-9)
        assert figures.pitch_deg.value == pytest.approx(0.0, abs=1e-9)

    def test_trail_of_the_baseline_follows_from_radius_rake_and_offset(self) -> None:
        """Own computation: radius 298.5 mm, offset 30 mm, rake 24°."""
        baseline = geometry(AS_MEASURED).baseline
        assert baseline.trail_mm.value == pytest.approx(100.061674, abs=5e-7)
        assert baseline.normal_trail_mm.value == pytest.approx(91.410888, abs=5e-7)

    @pytest.mark.parametrize("missing", list(BASE))
    def test_with_one_of_its_values_missing_it_waits_for_that_one(self, missing: str) -> None:
        figures = geometry(put(AS_MEASURED, **{missing: None}))
        assert figures.wheelbase_mm.needs == (tuple(missing.split("__")),)
        assert figures.pitch_deg.needs == (tuple(missing.split("__")),)

    def test_a_sag_then_is_not_guessed(self) -> None:
        figures = geometry(put(AS_MEASURED, geometry__front_sag_mm=None))
        assert reason(figures.rake_deg) == "needs front sag then"
        assert figures.baseline.rake_deg.value == 24.0

    def test_a_height_known_at_one_time_only_leaves_the_change_unknown(self) -> None:
        now_only = geometry(put(AS_MEASURED, geometry__fork_height_mm=None))
        then_only = geometry(put(AS_MEASURED, rear__length_adjuster_mm=None))
        assert reason(now_only.trail_mm) == "needs fork height then"
        assert reason(then_only.trail_mm) == "needs length adjuster"

    def test_heights_never_recorded_are_left_out(self) -> None:
        figures = geometry(put(AS_MEASURED, geometry__fork_height_mm=None, front__fork_height_mm=None))
        assert values(figures) == pytest.approx(values(geometry(AS_MEASURED)))


class TestWhatMovesIt:
    """Ride-height changes of the Sharp machine; the table was worked out apart from the program, by the exact tilt."""

    def test_raising_the_tubes_ten_millimetres(self) -> None:
        figures = geometry(put(SHARP, front__fork_height_mm=15.0))
        assert values(figures) == pytest.approx((26.571926, 103.010690, 92.130034, 1430.592407), abs=1e-6)

    def test_ten_millimetres_more_front_sag_do_the_same(self) -> None:
        figures = geometry(put(SHARP, sag__front=sag_end(20.0, 43.0)))
        assert values(figures) == pytest.approx((26.571926, 103.010690, 92.130034, 1430.592407), abs=1e-6)

    def test_a_longer_shock_raises_the_rear_by_its_length_over_the_motion_ratio(self) -> None:
        """8 mm over a ratio of 0.4 is 20 mm at the wheel."""
        figures = geometry(put(SHARP, rear__length_adjuster_mm=8.0))
        assert figures.rear_rise_mm.value == pytest.approx(20.0)
        assert values(figures) == pytest.approx((26.130579, 100.035108, 89.810785, 1435.348390), abs=1e-6)

    def test_more_rear_sag_lowers_the_rear(self) -> None:
        figures = geometry(put(SHARP, sag__rear=sag_end(7.5, 38.5)))
        assert figures.rear_rise_mm.value == pytest.approx(-10.0)
        assert values(figures) == pytest.approx((27.328298, 108.155022, 96.083905, 1434.930312), abs=1e-6)

    def test_without_a_motion_ratio_only_a_changed_shock_length_is_in_the_way(self) -> None:
        unlinked = put(AS_MEASURED, rear__motion_ratio=None)
        assert geometry(unlinked).rake_deg.known
        assert reason(geometry(put(unlinked, rear__length_adjuster_mm=2.0)).rake_deg) == "needs motion ratio"

    @settings(max_examples=60, deadline=None)
    @given(st.floats(0.5, 40.0))
    def test_nose_down_makes_rake_and_trail_smaller_and_nose_up_larger(self, by_mm: float) -> None:
        before = values(geometry(AS_MEASURED))
        for nose_down in (
            put(AS_MEASURED, front__fork_height_mm=5.0 + by_mm),
            put(AS_MEASURED, sag__front=sag_end(20.0, 33.0 + by_mm)),
            put(AS_MEASURED, rear__length_adjuster_mm=by_mm),
        ):
            figures = geometry(nose_down)
            after = values(figures)
            assert figures.pitch_deg.value is not None
            assert figures.pitch_deg.value > 0.0
            assert after[0] < before[0]
            assert after[1] < before[1]
            assert after[2] < before[2]
        for nose_up in (
            put(AS_MEASURED, front__fork_height_mm=5.0 - by_mm),
            put(AS_MEASURED, sag__rear=sag_end(7.5, 28.5 + by_mm)),
        ):
            after = values(geometry(nose_up))
            assert after[0] > before[0]
            assert after[1] > before[1]

    @settings(max_examples=60, deadline=None)
    @given(st.floats(-20.0, 20.0), st.floats(0.0, 60.0))
    def test_from_the_front_as_it_stands_the_way_back_leads_to_the_baseline(self, height: float, sag: float) -> None:
        there = put(AS_MEASURED, front__fork_height_mm=height, sag__front=sag_end(0.0, sag))
        rake, _, _, wheelbase = values(geometry(there))
        back = put(
            AS_MEASURED,
            geometry__rake_deg=rake,
            geometry__wheelbase_mm=wheelbase,
            geometry__fork_height_mm=height,
            geometry__front_sag_mm=sag,
        )
        assert values(geometry(back)) == pytest.approx(values(geometry(AS_MEASURED)), abs=1e-6)

    def test_a_swingarm_that_does_not_reach_takes_no_geometry_away(self) -> None:
        """200 mm long and 44 degrees down, which no axle 80 mm lower reaches: the axle is taken to go straight then."""
        lifted = put(AS_MEASURED, geometry__rear_sag_mm=108.5)
        short = put(lifted, swingarm__pivot_to_axle_mm=200.0, swingarm__arm_down_deg=44.0)
        assert values(geometry(short)) == values(geometry(lifted))


class TestWhatIsSaid:
    def test_a_baseline_begun_says_what_is_still_to_be_measured(self) -> None:
        finding = found(judged(put(MACHINE, geometry__offset_mm=None, geometry__rear_radius_mm=None)), "missing")
        assert finding.where == ("geometry",)
        assert sentence(finding) == "Geometry: still to measure: fork offset; rear tyre radius."

    def test_no_baseline_or_a_rake_alone_is_not_asked_to_be_filled_in(self) -> None:
        for job in (FULL, put(FULL, geometry__rake_deg=24.0)):
            assert not [f for f in judged(job).findings if f.where[:1] == ("geometry",)]
            assert not geometry(job).entered
            assert geometry(job).rake_deg.needs

    def test_a_whole_baseline_has_nothing_to_be_said_of_it(self) -> None:
        assert codes(judged(MACHINE)) == codes(judged(FULL))
        assert codes(judged(AS_MEASURED)) == codes(judged(FULL))

    def test_sag_at_an_extended_baseline_is_questioned_and_not_used(self) -> None:
        job = put(MACHINE, geometry__front_sag_mm=30.0)
        finding = found(judged(job), "geometry_sag_when_extended")
        assert finding.severity is Severity.WARNING
        assert sentence(finding).startswith(
            "Geometry: front sag then is 30.0 mm, but the geometry was measured extended"
        )
        assert values(geometry(job)) == values(geometry(MACHINE))

    def test_a_trail_that_no_machine_has_is_questioned(self) -> None:
        finding = found(judged(put(MACHINE, geometry__offset_mm=130.0)), "trail_not_positive")
        assert "measure them again" in sentence(finding).lower()


def test_a_machine_that_cannot_stand_has_no_geometry_and_says_so() -> None:
    absurd = put(
        MACHINE,
        geometry=Geometry(rake_deg=5.0, offset_mm=0.0, wheelbase_mm=700.0, front_radius_mm=500.0, rear_radius_mm=100.0),
        rear__length_adjuster_mm=50.0,
        geometry__length_adjuster_mm=-20.0,
        rear__motion_ratio=0.1,
    )
    assert reason(geometry(absurd).rake_deg) == "the values do not fit together"
