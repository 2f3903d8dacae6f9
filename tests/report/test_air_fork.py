"""A fork sprung by air on the check, as JSON, on the sheet, in the story, on the work list and on the next occasion."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from air_jobs import AIR, air_job, with_air
from stanchion.job.carry import carried
from stanchion.job.codec import dumps, loads
from stanchion.job.edit import apply
from stanchion.job.model import Adjuster, Job, Leg, Rear, Spring, Stack
from stanchion.job.returning import returning, setup_of
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.judgement.work.work_list import ticked, work_list
from stanchion.planning.machine_story import row_of
from stanchion.planning.spring_choice import choose
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.report.sheet_tables import fork_facts, settings_table, spring_table
from stanchion.report.story import COLUMNS
from stanchion.units.known_units import METRIC
from stanchion.wording.work_sentences import item_words

PROFILES = load_profiles()
JOB = air_job()
REAR = Rear(spring=Spring(rate_n_per_mm=50.0))


def test_check_says_what_the_leg_is_and_what_pressure_does() -> None:
    text = as_text("air.toml", JOB, assess(JOB, PROFILES))
    assert "sprung by air" in text
    assert "no spring in this leg" in text  # the damper's leg
    assert "Set 9.30 bar (now 8.30 bar)" in " ".join(text.split())
    assert "+0.10 bar            machine alone −0.5 mm, rider aboard −1.2 mm, at full travel 30 N" in text
    assert "Fast, most likely    4263 N (n = 1.3); 3729 to 4863 N" in text
    assert "fast 4263 N (air spring 4263 N)" in text
    assert "Combined fork rate   –  sprung by air: see the rate at the sags" in text
    assert "this leg has no spring" not in text


def test_json_has_the_same() -> None:
    a = assess(JOB, PROFILES)
    front = as_json("air.toml", JOB, a)["predicted"]["front"]
    assert a.predicted.front.air is not None
    assert front["air"]["rider"]["tenth_bar_mm"] == a.predicted.front.air.rider.tenth_bar_mm.value
    assert "air" not in as_json("air.toml", JOB, a)["predicted"]["rear"]


def test_the_sheet_asks_to_check_the_pressure_at_its_temperature() -> None:
    rows = dict(settings_table(JOB, METRIC).rows)
    assert [cell for cell in rows["Fork air, left"] if cell] == ["8.30 bar", "extended, 20.0 °C", "[ ]"]
    assert "Fork preload, left" not in rows


def test_the_sheet_has_the_chambers_and_calls_a_leg_without_coils_sprung_by_air() -> None:
    job = with_air(JOB, in_use_c=35.0, wanted_bar=9.0)
    assert dict(spring_table(replace(job, rear=REAR), assess(job, PROFILES), METRIC).rows)["Spring rate"] == (
        "sprung by air",
        "no spring",
        "50.00 N/mm",
    )
    assert dict(fork_facts(job, assess(job, PROFILES), METRIC).rows) == {
        "Travel": ("300.0 mm",),
        "Top-out spring": ("none",),
        "At full travel": ("2827 N: air spring 2827 N",),
        "Air chamber": ("left: bore 34.0 mm, 380 ml",),
        "Balance chamber": ("left: port at 12.0 mm of travel, rod 12.0 mm, 45 ml",),
        "Highest allowed": ("left: 13.00 bar",),
        "Wanted in use": ("left: 9.00 bar at 35.0 °C",),
        "Frequency": ("1.56 Hz",),  # sqrt(7340 N/m / 76.5 kg) / (2 pi)
    }


def test_the_story_gives_the_pressure_in_place_of_a_rate() -> None:
    column = next(column for column in COLUMNS if column.name == "front_spring")
    assert column.cell(row_of("air.toml", JOB, None, PROFILES), METRIC) == "8.30 bar"


def test_the_work_list_returns_to_an_earlier_pressure() -> None:
    then = with_air(JOB, pressure_bar=9.4, set_at_c=15.0)
    job = replace(JOB, returning=returning(JOB, setup_of(then), job="then.toml", run=None, title="then"))
    found = work_list(job)
    assert found is not None
    assert [item_words(item) for item in found.open_items] == ["Left air: 8.30 to 9.40 bar"]
    for edit in ticked(job, found.open_items[0]):
        job = apply(job, edit)
    assert job.front.left.air == then.front.left.air


def test_pressures_go_along_to_the_next_occasion_and_through_the_file() -> None:
    assert loads(dumps(JOB)).job == JOB
    assert carried(JOB, "air.toml", dt.date(2026, 6, 1)).front.left.air == JOB.front.left.air


@pytest.mark.parametrize("job", [JOB, replace(JOB, front=replace(JOB.front, left=Leg(spring_fitted=False)))])
def test_no_springs_are_chosen_for_a_fork_without_coils(job: Job) -> None:
    choice = choose(job, assess(job, PROFILES), PROFILES, "front")
    assert choice.options == ()
    assert choice.by_two_sags_n_per_mm.problem in ("air_sprung", "fork_without_spring")


def test_springs_are_chosen_for_the_coil_leg_of_a_fork_with_air_in_the_other() -> None:
    coil = Leg(
        spring=Spring(rate_n_per_mm=4.0, free_length_mm=480.0, set_length_mm=475.0, set_length_in_mm=465.0),
        adjuster=Adjuster(total_turns=10.0, pitch_mm=1.0, now=2.0),
        stack=Stack(spacer_mm=60.0),
    )
    job = air_job(replace(AIR, pressure_bar=4.0), right=coil)
    a = assess(job, PROFILES)
    choice = choose(job, a, PROFILES, "front")
    assert choice.by_two_sags_n_per_mm.value is None  # air carries part of what the rider adds
    fitted = next(option for option in choice.options if option.fitted_now)
    assert fitted.stands is not None
    assert fitted.stands.sags.rider_mm.value == pytest.approx(a.predicted.front.rider.sag_mm.value, abs=1e-6)
    low, high = choice.window_n_per_mm or (0.0, 0.0)
    assert low < (choice.needed_n_per_mm.value or 0.0) < high
