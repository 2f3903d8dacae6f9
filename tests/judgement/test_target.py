"""What is asked for to bring rider sag to its target, against hand calculation in the test's own arithmetic.

Targets and bands are the track profile's: rider sag 28 to 38 mm in front, installed preload 8 to 15 mm (common
practice, no published source). Formulas are the balance of forces along the fork: W cos(rake) = sum of k (P + x).
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from judgement_jobs import codes, judged, put
from stanchion.job.model import Job
from stanchion.judgement.findings import Finding, Severity
from stanchion.judgement.wording import sentence

ALONG_N_PER_KG = 9.80665 * math.cos(math.radians(24.0))
"""Load along the fork of one kilogram: standard gravity (NIST SP 811 App. B.8, exact) and the rake of these jobs."""
UNSPRUNG_KG = 14.0


def fork(**more: Any) -> Job:
    """2 x 9.5 N/mm, free 250, set 238 to 230 over 8 turns, 4 in, rake 24 degrees, 120 mm of travel; invented."""
    values: dict[str, Any] = {
        "front__left__spring__rate_n_per_mm": 9.5,
        "front__left__spring__free_length_mm": 250.0,
        "front__left__spring__set_length_mm": 238.0,
        "front__left__spring__set_length_in_mm": 230.0,
        "front__left__adjuster__total_turns": 8.0,
        "front__left__adjuster__now": 4.0,
        "front__travel_mm": 120.0,
        "front__top_out__fitted": "no",
        "weights__front_unsprung_kg": UNSPRUNG_KG,
        "geometry__rake_deg": 24.0,
    }
    return put(Job(), **(values | more))


def scale_for(sag_mm: float, mean_preload_mm: float, sum_of_rates: float = 19.0) -> float:
    """What the front scale must show for that sag: both springs squeezed by preload and sag carry the load."""
    return sum_of_rates * (mean_preload_mm + sag_mm) / ALONG_N_PER_KG + UNSPRUNG_KG


def target_of(job: Job, end: str = "front") -> Finding:
    predicted = judged(job).predicted
    target = (predicted.front if end == "front" else predicted.rear).target
    assert target is not None
    return target


class TestInstalledPreloadAtItsLimit:
    JOB = fork(
        front__left__spring__set_length_mm=235.0,
        front__left__spring__set_length_in_mm=227.0,
        front__left__adjuster__now=1.0,
        weights__front_aboard_kg=scale_for(39.0, 16.0),
    )
    """Installed 15 mm, 16 mm now; rider sag 39 mm needs 6 mm more, and the adjuster has 7."""

    def test_no_more_preload_is_asked_of_the_adjuster_either_but_a_stiffer_spring(self) -> None:
        # more preload needed, installed already at the limit: stiffer (common practice, no published source)
        target = target_of(self.JOB)
        assert (target.code, target.severity) == ("target_at_limit", Severity.WARNING)
        assert target.values["mm"] == pytest.approx(6.0)
        assert sentence(target).endswith("installed is at its limit of 15 mm. Stiffer spring.")
        assert "target_at_limit" in codes(judged(self.JOB))

    def test_below_the_limit_the_adjuster_gives_it(self) -> None:
        assert target_of(put(self.JOB, front__left__spring__set_length_mm=236.0)).code == "target_more"

    def test_less_preload_is_still_asked_of_the_adjuster(self) -> None:
        light = put(self.JOB, front__left__adjuster__now=7.0, weights__front_aboard_kg=scale_for(27.0, 22.0))
        assert target_of(light).code == "target_less"


class TestASpringThatWouldComeLoose:
    def legs(self, left_mm: float) -> Job:
        """The left leg has that preload now, at its adjuster; the right one 2 mm and no adjuster."""
        job = fork(
            front__left__spring__set_length_mm=250.0 - left_mm + 12.0,
            front__left__spring__set_length_in_mm=238.0 - left_mm + 12.0,
            front__left__adjuster__total_turns=12.0,
            front__left__adjuster__now=12.0,
        )
        job = put(job, front__right=job.front.left, front__preload_difference_meant=True)
        return put(job, front__right__adjuster__counting="none", front__right__spring__set_length_mm=248.0)

    def test_is_the_one_that_is_turned_and_not_the_one_with_least_preload(self) -> None:
        # 27.5 to 33 mm takes 5.5 mm at both springs, 11 mm at one of two alike: 12 mm leaves 1 mm there
        target = target_of(put(self.legs(12.0), weights__front_aboard_kg=scale_for(27.5, 7.0)))
        assert target.code == "target_less"
        assert target.values["mm"] == pytest.approx(11.0)

    def test_and_is_told_where_it_would(self) -> None:
        loose = put(self.legs(5.0), weights__front_aboard_kg=scale_for(29.5, 3.5))
        target = target_of(loose)
        assert target.values["mm"] == pytest.approx(7.0)  # 3.5 mm at both, 7 mm at one: 5 mm leaves -2 mm
        assert target.code == "target_loose"
        assert target.values["preload_mm"] == pytest.approx(-2.0)
