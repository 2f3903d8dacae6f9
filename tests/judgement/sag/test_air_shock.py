"""A shock sprung by air behind its linkage: sags, wheel rate, full travel, the pressure to set, and what else it says."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from scipy.optimize import brentq

from air_jobs import SHOCK_AIR, air_shock_job, with_shock_air
from stanchion.bench.guided_measuring import steps
from stanchion.bench.session import Session
from stanchion.job.carry import carried
from stanchion.job.codec import dumps, loads
from stanchion.job.edit import Edit, apply
from stanchion.job.found import found_value
from stanchion.job.measured import changed_since_read
from stanchion.job.model import STATES, Job, Readings, SagEnd, Spring
from stanchion.job.returning import returning, setup_of
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.work.work_list import ticked, work_list
from stanchion.mechanics.air_spring import AirSpring, Chamber
from stanchion.mechanics.linkage import constant_ratio
from stanchion.mechanics.rear import RearEnd, rear_position, rear_shock_force
from stanchion.planning.machine_story import row_of
from stanchion.planning.spring_choice import choose
from stanchion.report.sheet_tables import settings_table
from stanchion.report.story import COLUMNS
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import sentence
from stanchion.wording.work_sentences import item_words

PROFILES = load_profiles()
JOB = air_shock_job()
G, AMBIENT = 9.80665, 0.101325
MAIN, RING = math.pi / 4 * 46.0**2, math.pi / 4 * (46.0**2 - 16.0**2)


def judged(job: Job) -> Assessment:
    found = assess(job, PROFILES)
    assert found.faults == ()
    return found


def along(bar: float, s: float, *, n: float = 1.0, kelvin: float = 293.15) -> float:
    """Force of the shock by hand, from p V^n = const, main chamber less balance chamber."""
    warm = kelvin / 293.15
    out = MAIN * ((bar / 10 + AMBIENT) * warm * math.pow(330_000.0 / (330_000.0 - MAIN * s), n) - AMBIENT)
    back = RING * ((0.9 + AMBIENT) * warm * math.pow(60_000.0 / (60_000.0 + RING * s), n) - AMBIENT)
    return out - back


def at_wheel(bar: float, z: float, **air: float) -> float:
    """At the wheel, through s = 0.38 z + 0.0003 z²."""
    return along(bar, 0.38 * z + 0.0003 * z * z, **air) * (0.38 + 0.0006 * z)


def sag(bar: float, load: float, **air: float) -> float:
    def where(force: float) -> float:
        if at_wheel(bar, 0.0, **air) >= force:
            return 0.0
        return float(brentq(lambda z: at_wheel(bar, z, **air) - force, 0, 290))

    return where(load) - where(-17.0 * G)


LOADS = {"static": (58.0 - 17.0) * G, "rider": (111.5 - 17.0) * G}


def test_sags_and_rate_are_those_of_the_gas_law_through_the_linkage() -> None:
    """scipy's brentq finds the balance independently; the ratio is a parabola, which the pairs give to 0.1 mm."""
    p = judged(JOB).predicted.rear
    for state in STATES:
        assert p.state(state).sag_mm.value == pytest.approx(sag(11.0, LOADS[state]), abs=0.15)
    assert p.air is not None
    z = p.rider.travel_mm.value or 0.0
    slope = (at_wheel(11.0, z + 0.01) - at_wheel(11.0, z - 0.01)) / 0.02
    assert p.air.rider.rate_n_per_mm.value == pytest.approx(slope, rel=0.02)
    assert judged(JOB).rear.wheel_rate_n_per_mm.value == pytest.approx(slope, rel=0.02)


def test_what_pressure_temperature_and_a_fast_stroke_do() -> None:
    p = judged(JOB).predicted.rear
    assert p.air is not None
    now = sag(11.0, LOADS["rider"])
    assert p.air.rider.tenth_bar_mm.value == pytest.approx(sag(11.1, LOADS["rider"]) - now, abs=0.05)
    assert p.air.rider.warmer_mm.value == pytest.approx(sag(11.0, LOADS["rider"], kelvin=303.15) - now, abs=0.1)
    full = at_wheel(11.0, 300.0)
    assert p.full_travel.slow_n.value == pytest.approx(full, rel=0.01)
    assert p.full_travel.fast_n.value == pytest.approx(p.air.fast_n.value)
    assert (p.air.fast_n.value or 0.0) > (p.full_travel.slow_n.value or 0.0)


def test_fast_its_air_has_n_1_3_and_the_gas_of_its_damper_1_4() -> None:
    """By hand, at full travel: s = 0.38 · 300 + 0.0003 · 300², and the gas of 11 bar in 100 ml behind a 14 mm shaft."""
    rear = replace(JOB.rear, shaft_mm=14.0, gas_pressure_bar=11.0, gas_volume_ml=100.0)
    p = judged(replace(JOB, rear=rear)).predicted.rear
    s, area, absolute = 141.0, math.pi / 4 * 14.0**2, 1.1 + AMBIENT
    gas = area * (absolute * math.pow(100_000.0 / (100_000.0 - area * s), 1.4) - AMBIENT)
    slope = 0.38 + 0.0006 * 300.0
    assert p.full_travel.fast_n.value == pytest.approx(at_wheel(11.0, 300.0, n=1.3) + gas * slope, rel=0.01)
    slow = area * (absolute * 100_000.0 / (100_000.0 - area * s) - AMBIENT)
    known = (p.full_travel.fast_n.value or 0.0) - (p.full_travel.slow_n.value or 0.0)
    by_hand = at_wheel(11.0, 300.0, n=1.3) - at_wheel(11.0, 300.0) + (gas - slow) * slope
    assert known == pytest.approx(by_hand, rel=0.005)
    assert p.air is not None
    assert p.air.fast_n.value == pytest.approx(p.full_travel.fast_n.value)  # one figure, with its range
    assert (p.air.fast_least_n.value or 0.0) < (p.air.fast_n.value or 0.0) < (p.air.fast_most_n.value or 0.0)


def test_the_pressure_advised_brings_rider_sag_in_and_the_maker_s_highest_ends_it() -> None:
    advice = judged(JOB).predicted.rear.target
    assert advice is not None
    assert advice.where == ("sag", "rear")
    bar = advice.values["pressure_bar"]
    assert isinstance(bar, float)
    then = judged(with_shock_air(JOB, pressure_bar=bar)).predicted.rear.rider.sag_mm.value
    assert then == pytest.approx(advice.values["rider_after_mm"])
    assert sentence(advice).count("Set the main chamber to 12.50 bar (now 11.00 bar)") == 1
    at_most = judged(with_shock_air(JOB, most_bar=11.2)).predicted.rear.target
    assert at_most is not None
    assert at_most.code == "air_at_most"
    assert "air_over_most" in [one.code for one in judged(with_shock_air(JOB, most_bar=10.0)).findings]


def test_more_pressure_never_gives_more_sag() -> None:
    sags = [
        judged(with_shock_air(JOB, pressure_bar=bar)).predicted.rear.rider.sag_mm.value or 0.0 for bar in range(9, 16)
    ]
    assert sags == sorted(sags, reverse=True)


def test_a_chamber_without_end_is_a_constant_force() -> None:
    air = AirSpring(main=Chamber(area_mm2=1000.0, volume_mm3=1e15, pressure_mpa=1.101325))
    rear = RearEnd(rate_n_per_mm=1e-9, preload_mm=0.0, linkage=constant_ratio(0.5), travel_mm=120.0, curve=air)
    assert [rear_shock_force(rear, s) for s in (0.0, 60.0)] == pytest.approx([1000.0, 1000.0], rel=1e-9)
    assert (rear_position(rear, 499.0).travel_mm, rear_position(rear, 501.0).travel_mm) == (0.0, 120.0)


def test_a_shock_of_unknown_area_says_what_it_needs_and_advises_by_the_readings() -> None:
    job = with_shock_air(JOB, bore_mm=None)
    a = judged(job)
    assert a.predicted.rear.rider.sag_mm.needs == (("rear", "air", "bore_mm"),)
    missing = next(one for one in a.findings if one.code == "missing" and one.where == ("rear",))
    assert str(missing.values["needs"]).count("bore_mm") == 1
    read = Readings(down_mm=(470.0,) * 3, up_mm=(470.0,) * 3)
    sags = SagEnd(hanging_mm=(600.0,) * 3, static=replace(read, down_mm=(560.0,) * 3, up_mm=(560.0,) * 3), rider=read)
    advice = judged(replace(job, sag=replace(job.sag, rear=sags))).sag.rear.advice
    assert advice is not None
    assert advice.code == "air_add_unknown"


def test_pressure_makes_sag_old_and_so_does_a_coil_spring_in_its_place() -> None:
    session = Session(JOB, PROFILES)
    session.type(("sag", "rear", "rider", "down_mm", 0), "500")
    assert session.job.sag.rear.rider.pressures_bar == (11.0, 9.0)
    assert not changed_since_read(session.job, "rear", "rider")
    for edit in (Edit(("rear", "air", "balance_bar"), 8.5), Edit(("rear", "air", "fitted"), value=False)):
        assert changed_since_read(apply(session.job, edit), "rear", "rider")


def test_it_goes_through_file_sheet_story_work_list_and_the_next_occasion() -> None:
    assert loads(dumps(JOB)).job == JOB
    rows = dict(settings_table(JOB, METRIC).rows)
    assert [cell for cell in rows["Shock air"] if cell] == ["11.00 bar", "extended, 20.0 °C", "[ ]"]
    assert "Shock preload" not in rows
    column = next(column for column in COLUMNS if column.name == "rear_spring")
    assert column.cell(row_of("x.toml", JOB, None, PROFILES), METRIC) == "11.00 bar"
    then = with_shock_air(JOB, pressure_bar=12.0, set_at_c=15.0)
    job = replace(JOB, returning=returning(JOB, setup_of(then), job="then.toml", run=None, title="then"))
    found = work_list(job)
    assert found is not None
    assert [item_words(item) for item in found.open_items] == ["Shock air: 11.00 to 12.00 bar"]
    for edit in ticked(job, found.open_items[0]):
        job = apply(job, edit)
    assert job.rear.air == then.rear.air
    assert carried(JOB, "x.toml", JOB.job.date).rear.air == SHOCK_AIR
    coil = replace(JOB, rear=replace(JOB.rear, air=replace(SHOCK_AIR, fitted=False), spring=Spring(rate_n_per_mm=55.0)))
    back = replace(coil, returning=returning(coil, setup_of(JOB), job="x.toml", run=None, title="x"))
    again = work_list(back)
    assert again is not None
    assert item_words(again.open_items[0]).startswith("Go back to air in the shock")


def test_no_spring_is_chosen_and_the_guide_asks_for_air() -> None:
    a = judged(JOB)
    choice = choose(JOB, a, PROFILES, "rear")
    assert (choice.options, choice.by_two_sags_n_per_mm.problem) == ((), "air_sprung")
    asked = [step.path for step in steps("rear", JOB)]
    assert ("rear", "air", "balance_bar") in asked
    assert not any(path[:2] in (("rear", "spring"), ("rear", "collar")) for path in asked)
    assert {"air_pump", "air_shock"} <= set(a.cautions)
    assert found_value(JOB, ("rear", "air", "pressure_bar")) is None
