"""Coils that may touch at full travel, by how sure the readings are."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from judgement_jobs import FULL, PROFILES, codes, found, judged, put, split
from stanchion.job.model import Coils, Job, Repeatability
from stanchion.judgement.ends import coils_sure
from stanchion.judgement.results.findings import Severity
from stanchion.mechanics.propagation import propagated
from stanchion.report.figure_numbers import sure_figures
from stanchion.wording.finding_words import sentence

COILS = Coils(wire_mm=4.5, outer_mm=42.5, total_coils=22.0, wire="oil_tempered")
"""Solid 22 · 4.5 = 99 mm. By caliper 22 · 0.1 / √3 mm, by counting 4.5 · 0.25 / √12 mm: ± 2.6 mm alone (by hand)."""
MEASURED = replace(COILS, solid_length_mm=99.0)


def with_room(room_mm: float, coils: Coils = COILS, **changes: Any) -> Job:
    """The adjuster fully in, and travel such that so much is left."""
    job = put(
        FULL, front__left__spring__coils=coils, front__left__adjuster__now=16.0, front__travel_mm=100.0, **changes
    )
    left_mm = judged(job).springs.left.clearance_now_mm.value
    assert left_mm is not None
    return put(job, front__travel_mm=100.0 + left_mm - room_mm)


def test_it_is_as_sure_as_every_other_figure_says() -> None:
    """One answer: the same readings and errors, whether one spring is asked at a key or the whole job."""
    own = Repeatability(bench_mm=0.6, bench_freedom=9.0)
    for job in (
        with_room(1.0),
        with_room(0.5, MEASURED),
        with_room(1.0, front__packers_mm=3.0, front__left__adjuster__counting="turns"),
        with_room(1.0, replace(COILS, ends="closed", total_coils=20.0)),
        replace(with_room(1.0), repeatability=own),
        with_room(1.0, sag__tape_resolution_mm=0.5),
    ):
        room = judged(job).springs.left.clearance_now_mm.value
        assert room is not None
        finding = next(one for one in judged(job).findings if one.code.startswith("coil_bind"))
        known = sure_figures(job, PROFILES)["springs.front.left.clearance_now_mm"]
        assert finding.values["expanded_mm"] == pytest.approx(known.uncertainty.expanded, rel=1e-6)


def test_a_fault_stays_one_and_says_that_the_coils_may_touch() -> None:
    """2.5 mm left is under 3 mm (common practice, no published source), and within ± 2.7 mm of none."""
    finding = found(judged(with_room(2.5)), "coil_bind_near")
    assert finding.severity is Severity.FAULT
    assert "2.5 mm left" in sentence(finding)
    assert "± 2.7 mm, so they may touch" in sentence(finding)
    sure = found(judged(with_room(2.5, MEASURED)), "coil_bind_near")
    assert sure.severity is Severity.FAULT
    assert "±" not in sentence(sure)


def test_room_that_was_enough_is_warned_about_where_the_coils_may_touch() -> None:
    """Thirty coils by a caliper: 30 · 0.1 / √3 = 1.73 mm, so ± 3.5 mm; 3.2 mm of room may be none."""
    many = replace(COILS, total_coils=30.0, wire_mm=3.3)
    finding = found(judged(with_room(3.2, many)), "coils_may_touch")
    assert finding.severity is Severity.WARNING
    assert "3.2 mm (± 3.5 mm) left" in sentence(finding)
    assert "close the spring until its coils touch" in sentence(finding)
    assert "coils_may_touch" not in codes(judged(with_room(3.2, replace(many, solid_length_mm=99.0))))
    assert "coils_may_touch" not in codes(judged(with_room(4.2, many)))


def test_the_reading_that_makes_most_of_it_is_the_one_to_repeat() -> None:
    """With solid length measured, lengths read by someone whose own ± is 3 mm make most of it."""
    own = Repeatability(bench_mm=1.6, bench_freedom=9.0)
    job = replace(with_room(3.2, MEASURED), repeatability=own)
    assert "Measure set length" in sentence(found(judged(job), "coils_may_touch"))


def test_as_set_now_it_may_touch_and_further_in_even_more() -> None:
    many = replace(COILS, total_coils=30.0, wire_mm=3.3)
    job = with_room(3.2, many)
    out = put(job, front__travel_mm=131.0, front__left__adjuster__now=8.0)
    room = judged(out).springs.left
    assert (room.clearance_now_mm.value or 0.0) > 3.0 > (room.coil_bind_clearance_mm.value or 0.0)
    shorter = put(out, front__travel_mm=131.0 + (room.clearance_now_mm.value or 0.0) - 3.2)
    assert [code for code in codes(judged(shorter)) if code.startswith("coil")] == ["coils_may_touch"]


def test_the_other_leg_and_the_shock_are_asked_too() -> None:
    many = replace(COILS, total_coils=30.0, wire_mm=3.3)
    job = with_room(3.2, many)
    apart = put(split(job), front__left__spring__coils=Coils())
    assert found(judged(apart), "coils_may_touch").where[1] == "right"


def test_nothing_is_worked_out_at_a_key_where_there_is_room(monkeypatch: pytest.MonkeyPatch) -> None:
    """Counted, not timed: 20 mm of room asks for nothing; where little is left, one spring is worked out once for all
    keys that leave it as it is."""
    coils_sure.room_sure.cache_clear()
    asked: list[object] = []

    def counted(*given: Any) -> Any:
        asked.append(given)
        return propagated(*given)

    monkeypatch.setattr(coils_sure, "propagated", counted)
    judged(with_room(20.0))
    assert not asked
    for pressure in (2.0, 2.1, 2.2):
        judged(with_room(2.5, rear__gas_pressure_bar=pressure))
    assert len(asked) == 1
