"""Values that are likely each by itself, but not beside one another."""

from __future__ import annotations

from dataclasses import replace

import pytest

from judgement_jobs import FULL, codes, found, judged, put
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Adjuster, Coils, Job, Run
from stanchion.judgement.results.findings import Severity
from stanchion.wording.finding_words import sentence

COILS = Coils(wire_mm=4.5, outer_mm=42.5, total_coils=22.0)
"""22 · 4.5 = 99 mm solid."""


def with_coils(coils: Coils) -> Job:
    return put(FULL, front__left__spring__coils=coils)


def test_a_solid_length_far_from_coils_times_wire_is_asked_about() -> None:
    for sound in (None, 95.0, 99.0, 105.0):
        assert "solid_length_unlikely" not in codes(judged(with_coils(replace(COILS, solid_length_mm=sound))))
    finding = found(judged(with_coils(replace(COILS, solid_length_mm=9.9))), "solid_length_unlikely")
    assert (finding.severity, finding.where) == (Severity.WARNING, ("front", "left", "spring", "coils"))
    assert "solid length 9.9 mm, but coils times wire come to 99.0 mm" in sentence(finding)


def test_too_few_coils_for_the_free_length_are_asked_about() -> None:
    assert "too_few_coils" not in codes(judged(with_coils(COILS)))  # 250 / 22 = 11.4 mm a coil, 38 mm across
    finding = found(judged(with_coils(replace(COILS, total_coils=2.2))), "too_few_coils")
    assert "2.2 coils over 250.0 mm make a pitch of 113.6 mm" in sentence(finding)


def test_pitch_times_turns_longer_than_any_adjuster_is_asked_about() -> None:
    collar = Adjuster(pitch_mm=1.5, total_turns=10.0, now=2.0)
    assert "adjuster_range_unlikely" not in codes(judged(put(FULL, rear__collar=collar)))
    finding = found(judged(put(FULL, rear__collar=replace(collar, total_turns=100.0))), "adjuster_range_unlikely")
    assert "150.0 mm" in sentence(finding)


def test_solids_that_fill_the_air_space_are_asked_about() -> None:
    # π/4 · 40² · 110 mm = 138 ml.
    job = put(FULL, front__stanchion_inner_mm=40.0, front__left__air_gap_mm=110.0, front__left__solids_ml=60.0)
    assert "solids_fill_air" not in codes(judged(job))
    finding = found(judged(put(job, front__left__solids_ml=120.0)), "solids_fill_air")
    assert "solids of 120 ml do not fit in an air space of 138 ml" in sentence(finding)


@pytest.mark.parametrize(("name", "value"), [("front_hot_c", 190.0), ("rear_hot_c", 8.0), ("front_hot_bar", 5.5)])
def test_a_tyre_hot_as_none_is_is_asked_about(name: str, value: float) -> None:
    run = Run(front_hot_c=80.0, rear_hot_c=80.0, front_hot_bar=2.4)
    assert "implausible" not in codes(judged(put(FULL, runs=(run,))))
    odd = judged(apply(put(FULL, runs=(run,)), Edit(("runs", 0, name), value)))
    assert found(odd, "implausible").where == ("runs", 0, name)


def test_a_rake_no_motorcycle_has_is_asked_about() -> None:
    assert "implausible" not in codes(judged(put(FULL, geometry__rake_deg=24.0)))
    assert found(judged(put(FULL, geometry__rake_deg=6.0)), "implausible").where == ("geometry", "rake_deg")
