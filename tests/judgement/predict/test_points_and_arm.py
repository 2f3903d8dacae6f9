"""The swingarm as measured and by the linkage points: one angle, or a warning that says what to check."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

import make_samples
from judgement_jobs import codes, found, judged, put
from stanchion.job.model import Geometry, Job, PointsRead
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.predict.geometry import line_at_geometry_of
from stanchion.judgement.predict.points_and_arm import arm_twice
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Severity
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import sentence

JOB = make_samples.well_set()
"""Read at 12 degrees, 27.5 mm of sag: from there to full extension its axle falls to asin(sin 12 + 27.5 / 560)."""
CODE = "points_and_arm_differ"


def test_a_machine_that_closes_gives_the_same_angle_twice() -> None:
    both = arm_twice(JOB, Figure(0.5))
    assert both is not None
    assert both.measured_deg == pytest.approx(14.90, abs=0.02)
    assert both.points_deg == pytest.approx(14.90, abs=0.05)
    assert CODE not in codes(judged(JOB))


@pytest.mark.parametrize(
    ("changes", "points", "measured"),
    [
        ({"rear__eye_to_eye_mm": 330.0}, "18.69°", "14.90°"),  # 18 mm too long: half of it turned by 274 mm of lever
        ({"rear__points__axle_below_mm": 60.0}, None, "14.90°"),
        ({"geometry__measured": "extended", "geometry__front_sag_mm": None, "geometry__rear_sag_mm": None}, None, None),
    ],
)
def test_a_reading_or_state_that_is_wrong_is_named(
    changes: dict[str, object], points: str | None, measured: str | None
) -> None:
    finding = found(judged(put(JOB, **changes)), CODE)
    assert finding.severity is Severity.WARNING
    text = sentence(finding, METRIC)
    assert points is None or f"{points} below horizontal by the points" in text
    assert measured is None or f"{measured} as it was measured" in text
    assert "Check eye to eye, the axle below the pivot" in text


NOT_MEASURED: dict[str, object] = {"swingarm__pivot_up_mm": None, "swingarm__arm_down_deg": None}


@pytest.mark.parametrize(
    "changes", [{}, {"rear__length_adjuster_mm": 4.0}, {"front__fork_height_mm": 8.0}, {"balance__braking_g": 0.7}]
)
def test_where_the_swingarm_is_not_measured_its_points_give_the_same_arc(changes: dict[str, object]) -> None:
    """0.01 degrees apart in the sample: on an arc of 560 mm a tenth of a millimetre at most."""
    measured, by_points = put(JOB, **changes), put(JOB, **changes, **NOT_MEASURED)
    one, other = (judged(job) for job in (measured, by_points))
    assert other.geometry.wheelbase_mm.value == pytest.approx(one.geometry.wheelbase_mm.value, abs=0.05)
    braked, again = brakes_figures(measured, one), brakes_figures(by_points, other)
    assert again.by_arc
    for name in ("wheelbase_mm", "rake_deg", "trail_mm", "fork_used_mm"):
        assert getattr(again.slow, name).value == pytest.approx(getattr(braked.slow, name).value, abs=0.05), name
    without = put(by_points, rear__points=PointsRead())
    upright = brakes_figures(without, judged(without))
    assert not upright.by_arc
    assert abs((upright.slow.wheelbase_mm.value or 0.0) - (braked.slow.wheelbase_mm.value or 0.0)) > 3.0


def test_its_line_at_the_geometry_is_that_of_full_extension_lifted_by_the_sag_then() -> None:
    job = put(JOB, **NOT_MEASURED)
    both = arm_twice(JOB, Figure(0.5))
    line = line_at_geometry_of(job, Figure(0.5))
    assert both is not None
    assert line is not None
    sine = math.sin(math.radians(both.points_deg)) - (job.geometry.rear_sag_mm or 0.0) / 560.0
    assert line.down_deg == pytest.approx(math.degrees(math.asin(sine)), abs=1e-6)
    assert (
        line_at_geometry_of(put(job, rear__link_mm=120.0), Figure(0.5)) is None
    )  # of a link the points know nothing of


@pytest.mark.parametrize("mm", [-2.0, 2.0])
def test_what_a_tape_misreads_is_no_finding(mm: float) -> None:
    for name, value in (("rear__eye_to_eye_mm", 312.0), ("swingarm__pivot_up_mm", 434.5)):
        assert CODE not in codes(judged(put(JOB, **{name: value + mm})))


def test_a_shock_made_longer_since_is_no_contradiction() -> None:
    longer = put(JOB, rear__length_adjuster_mm=4.0)
    both, before = arm_twice(longer, Figure(0.5)), arm_twice(JOB, Figure(0.5))
    assert both is not None
    assert before is not None
    assert both.points_deg > before.points_deg + 0.5
    assert CODE not in codes(judged(longer))


def test_without_the_geometry_there_is_nothing_to_compare() -> None:
    job: Job = replace(JOB, geometry=Geometry())
    assert arm_twice(job, Figure(0.5)) is None
    assert CODE not in codes(judged(job))
