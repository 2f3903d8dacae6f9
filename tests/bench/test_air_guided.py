"""Pressures of air springs where readings are asked for: before sag, and as the machine was found."""

from __future__ import annotations

from dataclasses import replace

from air_jobs import AIR, air_job, with_air
from stanchion.bench.guided_readings import Guided
from stanchion.bench.session import Session
from stanchion.job.edit import Edit, apply, value_at
from stanchion.job.found import found_otherwise, found_value
from stanchion.job.model import Leg
from stanchion.judgement.criteria.profiles import load_profiles

PROFILES = load_profiles()
PUMPED = replace(AIR, balance="pressure", balance_bar=6.0)
MAIN, BALANCE, AT_C = (("front", "left", "air", name) for name in ("pressure_bar", "balance_bar", "set_at_c"))


def test_pressures_and_their_temperature_are_asked_for_before_the_sags() -> None:
    walk = Guided(
        Session(air_job(replace(PUMPED, pressure_bar=None, balance_bar=None, set_at_c=None)), PROFILES), "sag"
    )
    assert [step.path for step in walk.steps[:4]] == [MAIN, BALANCE, AT_C, ("sag", "front", "hanging_mm")]
    assert walk.field == MAIN
    assert walk.step is not None
    assert walk.step.caution == "air_pump"
    walk.type("13.5")  # the maker allows 13
    walk.take()
    assert walk.hindrance == "doubtful"
    walk.type("8.5")
    walk.take()
    assert walk.field == BALANCE
    assert [step.path[0] for step in Guided(Session(air_job(AIR), PROFILES), "sag").steps].count("front") == 2


def test_the_round_as_found_records_pressures_and_later_ones_leave_the_record_alone() -> None:
    session = Session(air_job(PUMPED, right=Leg(air=PUMPED)), PROFILES)
    walk = Guided(session, "found")
    for path, text in ((MAIN, "7.9"), (AT_C, "12"), (("front", "right", "air", "pressure_bar"), "8.3")):
        assert walk.go_to(path)
        walk.type(text)
        walk.take()
    job = session.job
    assert [found_value(job, path) for path in (MAIN, AT_C, BALANCE)] == [7.9, 12.0, None]
    assert value_at(job, MAIN) == 7.9
    pumped = apply(job, Edit(MAIN, 9.0))
    assert found_value(pumped, MAIN) == 7.9
    assert [one.path for one in found_otherwise(with_air(job, pressure_bar=8.3), pumped)] == [MAIN]
    session.undo()
    session.undo()
    session.undo()
    assert session.job == air_job(PUMPED, right=Leg(air=PUMPED))


def test_a_coil_leg_is_asked_for_no_pressure() -> None:
    walk = Guided(Session(air_job(replace(AIR, fitted=False)), PROFILES), "found")
    assert not any("air" in step.path for step in walk.steps)
