"""A machine that steers more quickly than it was measured, or ridden last, is said so before it is ridden."""

from __future__ import annotations

from dataclasses import replace

import pytest

from judgement_jobs import FULL, PROFILES, judged, put
from stanchion.job.model import Geometry, Job, Run
from stanchion.judgement.assess import assess
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.wording.finding_words import sentence

MACHINE = put(
    FULL,
    geometry=Geometry(
        rake_deg=24.0,
        offset_mm=30.0,
        wheelbase_mm=1400.0,
        front_radius_mm=298.5,
        rear_radius_mm=315.0,
        fork_height_mm=4.0,
        length_adjuster_mm=0.0,
    ),
    front__fork_height_mm=4.0,
    rear__length_adjuster_mm=0.0,
)
"""Measured with both wheels hanging, and set so still."""


def less(job: Job, previous: Job | None = None) -> Finding | None:
    return next((one for one in assess(job, PROFILES, previous).findings if one.code == "trail_less"), None)


@pytest.mark.parametrize(("height", "said"), [(4.0, False), (18.0, False), (30.0, True), (0.0, False)])
def test_forks_pushed_up_through_the_yokes_take_trail(height: float, said: bool) -> None:
    """By the frame's tilt alone, 14 mm at 1400 mm is 0.57 degrees and about 4 mm of trail; 26 mm is over a degree."""
    assert (less(put(MACHINE, front__fork_height_mm=height)) is not None) == said


def test_the_sentence_gives_both_states_and_what_to_check() -> None:
    finding = less(put(MACHINE, front__fork_height_mm=30.0))
    assert finding is not None
    assert finding.severity is Severity.WARNING
    words = sentence(finding)
    assert words.startswith("Geometry, extended: trail 9")
    assert "when it was measured, 100." in words
    assert "check fork height, shock length and sags" in words


def test_of_what_was_ridden_last_the_run_counts_and_without_one_the_job_before() -> None:
    ridden = put(MACHINE, geometry__fork_height_mm=30.0, front__fork_height_mm=30.0)  # measured as it is now
    assert less(ridden) is None
    before = put(MACHINE, front__fork_height_mm=2.0)
    finding = less(ridden, before)
    assert finding is not None
    assert finding.values["since"] == "ridden"
    run = Run(time="10:20", front=ridden.front, rear=ridden.rear)
    assert less(replace(ridden, runs=(run,)), before) is None  # it was ridden so


def test_a_baseline_with_the_rider_aboard_is_compared_with_the_sag_of_today() -> None:
    a = judged(MACHINE)
    front, rear = (end.rider.sag_mm.value for end in (a.sag.front, a.sag.rear))
    assert front is not None
    base = put(MACHINE, geometry__measured="rider", geometry__front_sag_mm=front, geometry__rear_sag_mm=rear)
    assert less(base) is None
    finding = less(put(base, geometry__front_sag_mm=front - 28.0))  # the front sits 28 mm deeper than then
    assert finding is not None
    assert finding.values["since"] == "measured"
    assert sentence(finding).startswith("Geometry, rider aboard: trail ")
