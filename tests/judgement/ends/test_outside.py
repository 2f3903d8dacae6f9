"""The pressure outside: by altitude, by barometer, and what carrying a machine to another altitude changes."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from air_jobs import AIR, air_job, with_air
from judgement_jobs import FULL, PROFILES, codes, found, judged, put
from stanchion.bench.session import Session
from stanchion.job.carry import carried
from stanchion.job.model import Bleed, Job, Leg, Outside, Run
from stanchion.job.outside import NOWHERE
from stanchion.judgement.assess import assess
from stanchion.judgement.ends.fork_model import fork_model
from stanchion.judgement.ends.front import front_figures
from stanchion.judgement.ends.outside import pressure_in
from stanchion.judgement.track.tyres import tyre_figures
from stanchion.mechanics.gas import ambient_pressure, pressure_altitude
from stanchion.report.check import as_text
from stanchion.ui.predicted_lines import predicted_lines
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import sentence

VALLEY, PASS = Outside(altitude_m=200.0), Outside(altitude_m=1800.0)
MAIN = ("front", "left", "air", "pressure_bar")


def at(job: Job, outside: Outside) -> Job:
    venue = "Nordhang" if outside == VALLEY else "Passhof"
    there: dict[str, Any] = {"altitude_m": outside.altitude_m, "barometer_hpa": outside.barometer_hpa}
    return replace(job, job=replace(job.job, venue=venue, **there))


def carried_up(job: Job) -> Job:
    """The job of the valley carried to the pass."""
    return at(carried(at(job, VALLEY), "valley.toml", dt.date(2026, 6, 7)), PASS)


@pytest.mark.parametrize(
    ("height_m", "pascal"),
    [
        # ISO 2533 / ICAO Doc 7488 standard atmosphere, table of pressure by geopotential altitude
        (0.0, 101_325.0),
        (500.0, 95_461.0),
        (1000.0, 89_874.6),
        (2000.0, 79_495.2),
        (3000.0, 70_108.5),
    ],
)
def test_altitude_gives_the_pressure_of_the_standard_atmosphere(height_m: float, pascal: float) -> None:
    assert ambient_pressure(height_m) * 1e6 == pytest.approx(pascal, rel=2e-5)
    assert pressure_altitude(pascal / 1e6) == pytest.approx(height_m, abs=0.5)


def test_a_barometer_wins_over_altitude_and_one_reduced_to_sea_level_is_questioned() -> None:
    assert pressure_in(Outside(altitude_m=1800.0, barometer_hpa=820.0)) == pytest.approx(0.0820)
    assert pressure_in(NOWHERE) is None
    assert "barometer_off" not in codes(judged(at(FULL, Outside(altitude_m=1800.0, barometer_hpa=835.0))))
    finding = found(judged(at(FULL, Outside(altitude_m=1800.0, barometer_hpa=1018.0))), "barometer_off")
    assert "1018 hPa; 815 hPa is usual at 1800 m" in sentence(finding)


def rider_sag(job: Job) -> float:
    return assess(job, PROFILES).predicted.front.rider.sag_mm.value or 0.0


def test_an_air_spring_set_in_the_valley_is_stiffer_on_the_pass_until_it_is_set_there() -> None:
    valley, up = at(air_job(), VALLEY), carried_up(air_job())
    assert up.front.left.air.set_in == VALLEY
    by_bar = (ambient_pressure(200.0) - ambient_pressure(1800.0)) * 10.0
    higher = with_air(
        at(air_job(), PASS), pressure_bar=(AIR.pressure_bar or 0.0) + by_bar
    )  # what the gauge reads there
    assert rider_sag(up) == pytest.approx(rider_sag(higher), abs=1e-9)
    assert rider_sag(up) < rider_sag(valley)
    finding = found(judged(up), "gauges_read_more")
    assert finding.values["by_bar"] == pytest.approx(by_bar)
    assert "Check the air spring's pressure here" in sentence(finding)
    session = Session(up, PROFILES)
    session.type(MAIN, "8.4")
    assert session.job.front.left.air.set_in == NOWHERE
    assert "gauges_read_more" not in codes(session.assessment)
    session.undo()
    assert session.job == up


def test_a_second_occasion_at_the_same_venue_shifts_nothing() -> None:
    again = carried(at(air_job(), PASS), "pass.toml", dt.date(2026, 6, 7))
    assert again.job.outside == PASS
    assert rider_sag(again) == rider_sag(at(air_job(), PASS))
    assert not {"gauges_read_more", "outside_unknown"} & set(codes(judged(again)))


def test_without_an_altitude_a_new_venue_is_asked_for_and_sea_level_is_taken_where_nothing_is_known() -> None:
    up = carried_up(air_job())
    unknown = at(up, NOWHERE)
    assert "outside_unknown" in codes(judged(unknown))
    assert rider_sag(unknown) == rider_sag(at(air_job(), VALLEY))
    assert rider_sag(air_job()) == rider_sag(at(air_job(), Outside(altitude_m=0.0)))
    for job, words in (
        (unknown, ", taken as where it was set: enter the altitude"),
        (air_job(), ", assumed: enter the altitude"),
        (at(up, PASS), ""),
    ):
        a = judged(job)
        lines = [line.plain for line in predicted_lines(a, METRIC, 90)] + as_text("job.toml", job, a).splitlines()
        said = [line for line in lines if line.strip().startswith("Air outside")]
        assert len(said) == 2
        assert all(line.endswith(f"hPa{words}") for line in said), said
    air = assess(air_job(), PROFILES).predicted.front.air
    assert air is not None
    assert air.outside_hpa.value == pytest.approx(1013.25)
    assert air.outside_hpa.estimate


def force_at(job: Job, travel_mm: float) -> float:
    return fork_model(job, front_figures(job.front, None)[0]).force(travel_mm)


def test_a_fork_closed_in_the_valley_pushes_out_on_the_pass_by_the_difference_on_its_area() -> None:
    sizes = {"front__stanchion_outer_mm": 43.0, "front__stanchion_inner_mm": 39.0, "front__travel_mm": 120.0}
    job = put(FULL, front__left__air_gap_mm=110.0, **sizes)
    closed = at(put(job, front__left__bleed=Bleed(closed_in=VALLEY)), PASS)
    area = 3.141592653589793 / 4 * 43.0**2
    by_mpa = ambient_pressure(200.0) - ambient_pressure(1800.0)
    more_n = force_at(closed, 0.0) - force_at(at(job, PASS), 0.0)
    assert more_n == pytest.approx(2 * area * by_mpa, rel=1e-9)  # both legs, nothing squeezed yet
    assert "Bleed the fork" in sentence(found(judged(closed), "gauges_read_more"))


def test_tyres_brought_along_read_more_until_they_are_read_here() -> None:
    before = at(FULL, VALLEY)
    bare: dict[str, Any] = {"front": replace(before.front, left=replace(before.front.left, air_gap_mm=None))}
    up = at(carried(replace(before, **bare), "valley.toml", dt.date(2026, 6, 7)), PASS)
    finding = found(assess(up, PROFILES, before), "gauges_read_more")
    assert "Set the tyres" in sentence(finding)
    read = replace(up, runs=(Run(front_cold_bar=2.1),))
    assert "gauges_read_more" not in codes(assess(read, PROFILES, before))
    down = assess(at(up, Outside(altitude_m=0.0)), PROFILES, at(before, PASS))
    assert "gauges_read_less" in codes(down)


def test_a_hot_tyre_is_expected_by_its_absolute_pressure() -> None:
    run = Run(front_cold_bar=2.1, front_cold_c=20.0, front_hot_c=70.0)
    low, high = (
        tyre_figures(at(replace(FULL, runs=(run,)), outside), 0, "front").expected_hot_bar.value
        for outside in (Outside(altitude_m=0.0), Outside(altitude_m=1500.0))
    )
    warmed = 343.15 / 293.15
    assert low == pytest.approx((2.1 + 1.01325) * warmed - 1.01325)
    assert high == pytest.approx((2.1 + 0.84556) * warmed - 0.84556, abs=1e-5)  # ISO 2533: 845.56 hPa at 1500 m


def test_altitude_stays_with_the_venue_of_a_job_carried_forward() -> None:
    session = Session(carried(at(air_job(), PASS), "pass.toml", dt.date(2026, 6, 7)), PROFILES)
    for text in ("P", "Nordhang"):
        session.type(("job", "venue"), text)
        assert session.job.job.outside == NOWHERE
    for text in ("Passhof", " passhof ", "\uff30asshof"):  # the last with a full-width P
        session.type(("job", "venue"), text)
        assert session.job.job.outside == PASS
    first = Session(at(air_job(), PASS), PROFILES)
    first.type(("job", "venue"), "Passhof GP")  # not carried: the name is put right
    assert first.job.job.outside == PASS


def test_a_barometer_is_of_its_day() -> None:
    job = at(air_job(right=Leg(air=AIR)), Outside(barometer_hpa=905.0))
    then = carried(job, "x.toml", dt.date(2026, 6, 7))
    assert then.job.outside == NOWHERE
    assert [leg.air.set_in.barometer_hpa for leg in (then.front.left, then.front.leg("right"))] == [905.0, 905.0]


@pytest.mark.parametrize("here", [NOWHERE, Outside(altitude_m=900.0), Outside(altitude_m=1100.0)])
def test_legs_set_at_different_altitudes_say_the_same_whichever_is_the_left_one(here: Outside) -> None:
    """Sea level and 2000 m are 101 325 and 79 495 Pa, 900 and 1100 m about 90 970 and 88 760 (ISO 2533): from 900 m the
    pass is further off, so that gauges read less here; from 1100 m the coast is, and they read more."""
    low, high = (Leg(air=replace(AIR, set_in=Outside(altitude_m=metres))) for metres in (0.0, 2000.0))
    one = at(replace(air_job(), front=replace(air_job().front, left=low, right=high)), here)
    other = replace(one, front=replace(one.front, left=high, right=low))
    assert rider_sag(one) == pytest.approx(rider_sag(other), abs=1e-9)
    code = {None: "outside_unknown", 900.0: "gauges_read_less", 1100.0: "gauges_read_more"}[here.altitude_m]
    assert sentence(found(judged(one), code)) == sentence(found(judged(other), code))
