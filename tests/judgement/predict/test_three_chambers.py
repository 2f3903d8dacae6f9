"""A leg with three air chambers: predicted from first principles, missed, guided, returned to, carried and written."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import replace

import pytest
from scipy.optimize import brentq

from air_jobs import AIR, FLOATING, THREE, air_job, air_shock_job, with_air
from stanchion.bench.guided_measuring import steps
from stanchion.bench.session import Session
from stanchion.job.as_read import as_read
from stanchion.job.carry import carried
from stanchion.job.codec import dumps, loads
from stanchion.job.edit import Edit, apply
from stanchion.job.found import pressures
from stanchion.job.measured import changed_since_read, noted
from stanchion.job.model import STATES, Job, Readings, Sag, SagEnd
from stanchion.job.outside import NOWHERE, Outside
from stanchion.job.returning import returning, setup_of
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.judgement.work.work_list import ticked, work_list
from stanchion.report.check import as_text
from stanchion.report.sheet_tables import fork_facts, settings_table
from stanchion.ui.adjuster_form import position_of
from stanchion.ui.forms import air_fields
from stanchion.units.known_units import METRIC
from stanchion.wording.work_sentences import item_words

PROFILES = load_profiles()
G, AMBIENT = 9.80665, 0.101325
JOB = air_job(THREE)
LEFT = ("front", "left", "air")


def force(x: float, main_bar: float = 6.4, outer_bar: float = 1.5, warm: float = 1.0) -> float:
    """By hand: 34 mm bore with a port at 12 mm, and an outer chamber of 44 mm around 28 mm."""
    main, ring = math.pi / 4 * 34.0**2, math.pi / 4 * (34.0**2 - 12.0**2)
    around = math.pi / 4 * (44.0**2 - 28.0**2)
    p = main_bar / 10.0 + AMBIENT
    in_balance = p * 380e3 / (380e3 - main * 12.0) * (45e3 + ring * 12.0) / 45e3
    return (
        main * (p * warm * 380e3 / (380e3 - main * x) - AMBIENT)
        + around * ((outer_bar / 10.0 + AMBIENT) * warm * 420e3 / (420e3 - around * x) - AMBIENT)
        - ring * (in_balance * warm * 45e3 / (45e3 + ring * x) - AMBIENT)
    )


def where(along_n: float, **of: float) -> float:
    """Where the force of the leg carries a force along it; the end of its travel where none does."""
    if force(0.0, **of) >= along_n:
        return 0.0
    return float(brentq(lambda x: force(x, **of) - along_n, 0.0, 299.9, xtol=1e-11))


def sags(**of: float) -> list[float]:
    """Both sags from the hanging wheel, by hand: rake 27 degrees, 12 kg unsprung, 56 and 88.5 kg on the front wheel."""
    along = math.cos(math.radians(27.0)) * G
    hanging_mm = where(-12.0 * along, **of)
    return [where((kg - 12.0) * along, **of) - hanging_mm for kg in (56.0, 88.5)]


def predicted(job: Job) -> list[float | None]:
    front = assess(job, PROFILES).predicted.front
    return [front.state(state).sag_mm.value for state in STATES]


def test_sags_and_the_force_at_full_travel_follow_from_the_gas_law() -> None:
    assert predicted(JOB) == pytest.approx(sags(), abs=1e-6)
    full = assess(JOB, PROFILES).predicted.front.full_travel
    assert full.slow_n.value == pytest.approx(force(300.0), rel=1e-9)
    assert predicted(with_air(JOB, outer_bar=2.0)) == pytest.approx(sags(outer_bar=2.0), abs=1e-6)


def test_a_tenth_of_a_bar_in_either_chamber_and_ten_degrees_follow_from_it_too() -> None:
    air = assess(JOB, PROFILES).predicted.front.air
    assert air is not None
    for name, then in (("tenth_bar_mm", sags(main_bar=6.5)), ("warmer_mm", sags(warm=303.15 / 293.15))):
        changes = [getattr(air.state(state), name).value for state in STATES]
        assert changes == pytest.approx([b - a for a, b in zip(sags(), then, strict=True)], abs=1e-6)
    assert all((air.state(state).higher_mm.value or 0.0) < 0.0 for state in STATES)
    assert air.full.outer_bar_n is not None
    outer = [getattr(air.state(state).outer_bar_mm, "value", None) for state in STATES]
    assert outer == pytest.approx([b - a for a, b in zip(sags(), sags(outer_bar=1.6), strict=True)], abs=1e-6)
    assert air.full.tenth_bar_n.value == pytest.approx(force(300.0, main_bar=6.5) - force(300.0), abs=1e-6)
    assert air.full.outer_bar_n.value == pytest.approx(force(300.0, outer_bar=1.6) - force(300.0), abs=1e-6)
    assert air.full.warmer_n.value == pytest.approx(force(300.0, warm=303.15 / 293.15) - force(300.0), abs=1e-6)
    two = assess(air_job(AIR), PROFILES).predicted.front.air
    assert two is not None
    assert two.full.outer_bar_n is None


def test_the_pressure_advised_brings_rider_sag_where_it_says() -> None:
    job = with_air(JOB, pressure_bar=4.5)
    said = assess(job, PROFILES).predicted.front.target
    assert said is not None
    assert said.code == "air_add"
    bar = said.values["pressure_bar"]
    assert isinstance(bar, float)
    assert said.values["rider_after_mm"] == pytest.approx(sags(main_bar=bar)[1], abs=1e-6)


def test_a_chamber_behind_a_floating_piston_takes_from_the_end_of_the_travel_and_leaves_the_sags() -> None:
    with_it, alone = air_job(FLOATING), air_job(AIR)
    assert predicted(with_it) == pytest.approx(predicted(alone), abs=1e-9)  # it still rests on its stop there
    forces = [assess(job, PROFILES).predicted.front.full_travel.slow_n.value or 0.0 for job in (with_it, alone)]
    assert forces[0] < 0.9 * forces[1]


@pytest.mark.parametrize("name", ["outer_bar", "outer_bore_mm", "outer_tube_mm", "outer_ml"])
def test_what_is_missing_of_the_outer_chamber_is_named(name: str) -> None:
    sag = assess(with_air(JOB, **{name: None}), PROFILES).predicted.front.rider.sag_mm
    assert sag.value is None
    assert sag.needs[0] == (*LEFT, "outer_length_mm" if name == "outer_ml" else name)


def test_a_floating_piston_needs_neither_bore_nor_tube() -> None:
    fields = [path[-1] for path in air_fields(FLOATING)]
    assert fields[-4:] == ["outer_bar", "outer_most_bar", "outer_length_mm", "outer_ml"]
    assert [path[-1] for path in air_fields(AIR)][-1] == "outer"
    assert [path[-1] for path in air_fields(THREE)][-6:-4] == ["outer_bar", "outer_most_bar"]


def test_an_outer_chamber_too_small_for_the_travel_is_said() -> None:
    sag = assess(with_air(JOB, outer_ml=200.0), PROFILES).predicted.front.rider.sag_mm
    assert sag.problem == "air_chamber_short"


def test_each_chamber_has_its_own_highest_pressure() -> None:
    def over(job: Job) -> list[object]:
        return [one.where[-1] for one in assess(job, PROFILES).findings if one.code == "air_over_most"]

    assert over(JOB) == []
    assert over(with_air(JOB, outer_bar=4.5)) == ["outer_bar"]
    assert over(with_air(JOB, pressure_bar=13.5)) == ["pressure_bar"]
    assert over(air_job(FLOATING)) == []  # 14.5 bar is more than the main chamber may have, but not the outer one


def test_the_guide_asks_for_it() -> None:
    def asked(job: Job, part: str) -> list[object]:
        return [step.path[-1] for step in steps("sag" if part == "sag" else "front", job) if "air" in step.path]

    blank = with_air(JOB, outer_ml=None)
    assert asked(blank, "sag") == ["pressure_bar", "outer_bar", "set_at_c"]
    assert asked(blank, "front")[-3:] == ["outer_bore_mm", "outer_tube_mm", "outer_length_mm"]
    assert "outer_bore_mm" not in asked(air_job(FLOATING), "front")
    assert "outer_bar" not in asked(air_job(AIR), "front")


def test_sag_read_at_another_outer_pressure_is_old_and_is_not_forgotten() -> None:
    read = Readings(down_mm=(830.0,), up_mm=(834.0,))
    job = replace(JOB, sag=Sag(front=SagEnd(hanging_mm=(900.0,), rider=read)))
    job = noted(job, ("sag", "front", "rider", "down_mm", 0))
    assert job.sag.front.rider.pressures_bar == (6.4, 1.5)
    assert not changed_since_read(job, "front", "rider")
    later = apply(job, Edit((*LEFT, "outer_bar"), 1.8))
    assert changed_since_read(later, "front", "rider")
    then = as_read(later, "front", "rider")
    assert then is not None
    assert then.front.left.air == THREE


def test_the_work_list_returns_to_its_pressure() -> None:
    job = with_air(JOB, outer_bar=1.8)
    job = replace(job, returning=returning(job, setup_of(JOB), job="then.toml", run=None, title="then"))
    found = work_list(job)
    assert found is not None
    assert [item_words(item) for item in found.open_items] == ["Left air: outer chamber 1.80 to 1.50 bar"]
    for edit in ticked(job, found.open_items[0]):
        job = apply(job, edit)
    assert job.front.left.air == THREE


def test_check_and_sheet_have_it() -> None:
    rows = dict(settings_table(JOB, METRIC).rows)
    assert [cell for cell in rows["Fork outer air, left"] if cell] == ["1.50 bar", "extended, 20.0 °C", "[ ]"]
    facts = dict(fork_facts(JOB, assess(JOB, PROFILES), METRIC).rows)
    assert facts["Outer chamber"] == ("left: own area, bore 44.0 mm, 420 ml, tube 28.0 mm",)
    assert facts["Highest allowed"] == ("left: 13.00 bar, outer chamber 4.00 bar",)
    assert dict(fork_facts(air_job(FLOATING), assess(air_job(FLOATING), PROFILES), METRIC).rows)["Outer chamber"] == (
        "left: by a piston, 90 ml",
    )
    text = as_text("air.toml", JOB, assess(JOB, PROFILES))
    assert "+0.10 bar   " in text
    assert "Outer +0.10 " in text
    assert "Outer" not in as_text("air.toml", air_job(AIR), assess(air_job(AIR), PROFILES))


def test_it_is_found_entered_carried_and_kept() -> None:
    assert list(pressures(JOB)) == [(*LEFT, "pressure_bar"), (*LEFT, "outer_bar")]
    assert position_of((*LEFT, "outer_most_bar")) == (*LEFT, "outer_bar")
    assert loads(dumps(JOB)).job == JOB
    there = replace(JOB, job=replace(JOB.job, altitude_m=900.0))
    next_job = carried(there, "air.toml", dt.date(2026, 6, 1))
    assert next_job.front.left.air == replace(THREE, set_in=Outside(altitude_m=900.0))
    session = Session(next_job, PROFILES)
    session.put((*LEFT, "outer_bar"), 1.6)
    assert session.job.front.left.air == replace(
        THREE, outer_bar=1.6, set_in=NOWHERE
    )  # what is pumped here is from here


def test_a_shock_has_three_chambers_as_well() -> None:
    air = replace(air_shock_job().rear.air, outer="floating", outer_bar=18.0, outer_ml=90.0)
    job = air_shock_job(air)
    with_it = assess(job, PROFILES).predicted.rear.full_travel.slow_n.value or 0.0
    alone = assess(air_shock_job(), PROFILES).predicted.rear.full_travel.slow_n.value or 0.0
    assert 0.0 < with_it < alone
    asked = [step.path[-1] for step in steps("rear", job)]
    assert "outer_bar" in asked
    assert "outer_length_mm" not in asked
