"""How sure installed preload is where an edge of its band is near."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from judgement_jobs import FULL, PROFILES, found, judged, put, split
from stanchion.job.model import Adjuster, Job, Repeatability, Side
from stanchion.judgement.ends import preload_sure
from stanchion.judgement.results.findings import Severity
from stanchion.mechanics.propagation import propagated
from stanchion.planning.how_sure import how_sure
from stanchion.report.figure_numbers import sure_figures
from stanchion.wording.finding_words import sentence

AT_EDGE = {
    "front__left__spring__set_length_mm": 234.9,
    "front__left__spring__set_length_in_mm": 226.9,
}
"""15.1 mm installed against a limit of 15 (common practice, no published source)."""


def test_it_is_as_sure_as_every_other_figure_says() -> None:
    """One answer: the same readings and errors, whether one spring is asked at a key or the whole job."""
    for changes in (
        {},
        {"front__left__spring__set_length_at": 2.0},
        {"sag__tape_resolution_mm": 0.5},
        {"front__left__adjuster__counting": "clicks", "front__left__adjuster__total_clicks": 16.0},
    ):
        job = put(FULL, **AT_EDGE, **changes)
        if "front__left__spring__set_length_at" in changes:  # then 1 mm of it is the adjuster's
            job = put(job, front__left__spring__free_length_mm=251.2)
        unsure = judged(job).front.left.unsure_mm
        of = sure_figures(job, PROFILES)["front.left.installed_preload_mm"]
        assert unsure is not None, changes
        assert unsure == pytest.approx(of.uncertainty.expanded, rel=1e-6), changes


def test_a_collar_that_has_no_fully_out_too() -> None:
    collar = Adjuster(counting="turns", pitch_mm=1.5, now=22.0)
    job = put(FULL, rear__collar=collar, rear__spring__set_length_mm=161.9, rear__spring__set_length_at=22.0)
    spring = judged(job).rear.spring
    assert spring.as_it_stands
    of = sure_figures(job, PROFILES)["rear.installed_preload_mm"]
    assert spring.unsure_mm == pytest.approx(of.uncertainty.expanded, rel=1e-6)


def test_by_a_caliper_the_same_preload_is_over_its_limit() -> None:
    """15.1 mm by a tape cannot be told from 15; by a caliper that reads 0.1 mm it can (0.08 mm)."""
    by_tape, by_caliper = (judged(put(FULL, **AT_EDGE, sag__tape_resolution_mm=mm)) for mm in (1.0, 0.1))
    assert (by_tape.front.left.verdict, by_caliper.front.left.verdict) == ("borderline", "over_limit")
    (found,) = (one for one in by_tape.findings if one.code == "preload_borderline")
    assert found.severity is Severity.NOTE
    assert "15.1 mm (± 0.8 mm) is too near 15 mm to tell whether it is over it" in sentence(found)


def test_inside_the_band_the_edge_is_shown_to_be_near_and_nothing_is_asked() -> None:
    near = judged(put(FULL, front__left__spring__set_length_mm=241.5, front__left__spring__set_length_in_mm=233.5))
    assert near.front.left.verdict == "in"
    assert near.front.left.unsure_mm == pytest.approx(0.80, abs=0.01)
    assert not [one for one in near.findings if one.code.startswith("preload_")]


def test_a_spring_that_may_be_loose_stays_a_fault() -> None:
    loose = judged(put(FULL, front__left__spring__set_length_mm=250.0, front__left__spring__set_length_in_mm=242.0))
    assert loose.front.left.verdict in ("loose", "low")
    barely = judged(
        put(
            FULL,
            front__left__spring__set_length_mm=249.8,
            front__left__spring__set_length_in_mm=241.8,
            front__left__adjuster__now=0.0,
        )
    )
    assert barely.front.left.verdict == "low"
    assert any(one.severity >= Severity.WARNING and one.where[0] == "front" for one in barely.findings)


def test_nothing_is_worked_out_at_a_key_where_no_edge_is_near(monkeypatch: pytest.MonkeyPatch) -> None:
    """Counted, not timed: 12 mm of preload in a band of 8 to 15, read by a tape in mm, asks for nothing; at the edge
    one spring alone is worked out again, and once for all keys that leave it as it is."""
    preload_sure.preload_expanded.cache_clear()
    asked: list[object] = []

    def counted(*given: Any) -> Any:
        asked.append(given)
        return propagated(*given)

    monkeypatch.setattr(preload_sure, "propagated", counted)
    judged(put(FULL, sag__tape_resolution_mm=0.5))
    assert not asked
    for pressure in (2.0, 2.1, 2.2):
        judged(put(FULL, **AT_EDGE, rear__gas_pressure_bar=pressure))
    assert len(asked) == 1


def test_lengths_by_the_technicians_own_study_decide_here_as_in_check() -> None:
    """One answer: the half-width at the edge is that of `check --json`, by the study's scatter and degrees of freedom."""
    own = Repeatability(bench_mm=0.6, bench_freedom=9.0)
    near = replace(put(FULL, **AT_EDGE), repeatability=own)
    wide, usual = judged(near).front.left.unsure_mm, judged(put(FULL, **AT_EDGE)).front.left.unsure_mm
    assert wide is not None
    assert usual is not None
    assert wide > usual
    known = sure_figures(near, PROFILES)["front.left.installed_preload_mm"]
    assert wide == pytest.approx(known.uncertainty.expanded, rel=1e-6)


def _apart(mm: float, tape_mm: float = 1.0) -> Job:
    leg = replace(FULL.front.left, spring=replace(FULL.front.left.spring, free_length_mm=250.0 - mm))
    return put(split(FULL, leg), front__preload_difference_meant=True, sag__tape_resolution_mm=tape_mm)


def test_springs_of_unequal_length_that_the_tape_cannot_tell_are_to_be_measured_again() -> None:
    """1.5 mm by a tape in mm is 1.5 ± 0.8 mm, against the 1 mm that springs sold as equal may differ by (common
    practice, no published source); 2.5 mm is a clear difference, and so is 1.5 mm by a caliper."""
    unsure, clear, by_caliper = (
        found(judged(job), "free_lengths_differ") for job in (_apart(1.5), _apart(2.5), _apart(1.5, 0.1))
    )
    assert unsure.severity is Severity.NOTE
    assert "1.5 mm (± 0.8 mm) shorter" in sentence(unsure)
    assert "measure the difference by caliper" in sentence(unsure)
    assert clear.severity is Severity.WARNING
    assert "±" not in sentence(clear)
    assert "±" not in sentence(by_caliper)


def test_the_difference_of_two_lengths_is_as_sure_as_every_other_figure() -> None:
    for job in (_apart(1.5), replace(_apart(1.5), repeatability=Repeatability(bench_mm=0.6, bench_freedom=9.0))):
        known = how_sure(job, lambda j: {"apart": _free_mm(j, "left") - _free_mm(j, "right")}).figures["apart"]
        told = found(judged(job), "free_lengths_differ").values["expanded_mm"]
        assert told == pytest.approx(known.uncertainty.expanded, rel=1e-6)


def _free_mm(job: Job, side: Side) -> float:
    length = job.front.leg(side).spring.free_length_mm
    assert length is not None
    return length
