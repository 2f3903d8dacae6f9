"""What check prints: the promised keys, reasons for what is missing, and nothing a terminal would obey."""

from __future__ import annotations

import json
import unicodedata
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from complete_job import complete_job
from judgement_jobs import FULL, PROFILES, judged, put, sag_end, split
from sheet_jobs import JOBS
from stanchion.job import codec
from stanchion.job.model import Job, Leg
from stanchion.job.upkeep import StacksThen, Upkeep
from stanchion.judgement.assess import assess
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.units.known_units import Units
from strategies import jobs

ROOT = Path(__file__).parents[2]
LEG_KEYS = {
    "installed_preload_mm",
    "adjuster_range_mm",
    "mm_per_turn",
    "preload_now_mm",
    "preload_force_n",
    "headroom_out_mm",
    "headroom_in_mm",
    "headroom_out_turns",
    "headroom_in_turns",
}
REAR_KEYS = {"installed_preload_mm", "preload_now_mm", "preload_force_n", "wheel_rate_n_per_mm"}
SAG_KEYS = {"sag_mm", "stiction_mm", "uncertainty_mm"}


def at(data: Any, path: str) -> Any:
    for step in path.split("."):
        data = data[int(step)] if isinstance(data, list) else data[step]
    return data


def report(job: Job) -> dict[str, Any]:
    data = as_json("lantern.toml", job, judged(job))
    json.dumps(data, allow_nan=False)
    return data


def nulls(data: Any, path: str = "") -> set[str]:
    """The path of every null, in lists too; another walk than the program's own."""
    if isinstance(data, (dict, list)):
        items = data.items() if isinstance(data, dict) else enumerate(data)
        return {found for key, value in items for found in nulls(value, f"{path}.{key}" if path else str(key))}
    return {path} if data is None else set()


def explained(job: Job) -> dict[str, str]:
    """The reasons of a report, each null having one and each reason its null."""
    data = report(job)
    missing: dict[str, str] = data.pop("missing")
    assert nulls(data) == set(missing)
    assert all(reason.strip() and reason != "there is no such figure" for reason in missing.values())
    return missing


def test_the_json_has_every_key_it_promises() -> None:
    for job in (FULL, Job(), split(FULL)):
        data = report(job)
        assert data["file"] == "lantern.toml"
        assert data["front"]["left"].keys() >= LEG_KEYS
        assert data["front"]["right"].keys() >= LEG_KEYS
        assert "rate_n_per_mm" in data["front"]
        assert data["rear"].keys() >= REAR_KEYS
        for end in ("front", "rear"):
            for state in ("static", "rider"):
                assert data["sag"][end][state].keys() >= SAG_KEYS
        for finding in data["findings"]:
            assert finding.keys() >= {"code", "severity", "where", "text"}
            assert finding["severity"] in ("note", "warning", "fault")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "to 38.0 mm), in target"),
        ({"front__left__adjuster__now": 2.0}, "to 38.0 mm), old"),
        ({"sag__front__rider__down_mm": (575.0,), "sag__front__rider__up_mm": (575.0,)}, "to 38.0 mm), BELOW"),
        ({"sag__front__rider__down_mm": (540.0,), "sag__front__rider__up_mm": (540.0,)}, "to 38.0 mm), ABOVE"),
    ],
)
def test_the_text_says_where_a_sag_lies(changes: dict[str, Any], words: str) -> None:
    job = put(FULL, sag__front__rider__preload_at=(4.0, 4.0))
    text = as_text("job.toml", put(job, **changes), judged(put(job, **changes)))
    front = text.partition("Front sag\n")[2].split("\n\n")[0]
    (line,) = [line for line in front.splitlines() if line.strip().startswith("Rider aboard")]
    assert words in line


def test_the_json_holds_the_figures_unrounded_and_metric() -> None:
    data = report(FULL)
    assert at(data, "front.left.installed_preload_mm") == 12.0
    assert at(data, "front.right.preload_now_mm") == 14.0
    assert at(data, "front.rate_n_per_mm") == 19.0
    assert at(data, "rear.wheel_rate_n_per_mm") == pytest.approx(15.2)
    assert at(data, "sag.front.rider.sag_mm") == 33.0
    assert at(data, "sag.front.static.uncertainty_assumed") is True
    assert data["worst"] == "note"


SHOWN = (
    Job(),
    FULL,
    split(FULL, Leg(spring_fitted=False)),
    put(FULL, front__left__adjuster__now=99.0),
    put(FULL, job__use="upright"),
    complete_job(),
    *(codec.loads(path.read_bytes()).job for path in sorted((ROOT / "sample_jobs").glob("*.toml"))),
)


@pytest.mark.parametrize("job", SHOWN, ids=range(len(SHOWN)))
def test_every_null_says_why(job: Job) -> None:
    assert explained(job)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(jobs())
def test_every_null_of_any_job_says_why(job: Job) -> None:
    explained(job)


def test_words_that_are_not_there_wait_for_their_figure() -> None:
    missing = explained(put(FULL, front__left__spring__free_length_mm=None, sag__front__rider__down_mm=()))
    assert missing["front.left.verdict"] == "needs free length"
    assert missing["springs.front.left.rate_calculated_range_n_per_mm"] == (
        "needs wire diameter, coil outside diameter and coils in total"
    )
    assert missing["predicted.rear.rider.limit"].startswith("needs ")
    assert explained(complete_job())["predicted.front.rider.limit"] == "it settles between its stops"
    assert explained(split(FULL, Leg(spring_fitted=False)))["springs.front.right.shear_modulus_source"] == (
        "this leg has no spring"
    )


def test_a_reason_names_the_reading_that_is_wanted() -> None:
    missing = report(put(FULL, front__left__spring__set_length_in_mm=None))["missing"]
    assert missing["front.left.adjuster_range_mm"] == "needs set length fully in"


def test_the_text_gives_figures_with_units_findings_worst_first_cautions_and_the_last_word() -> None:
    job = put(FULL, front__left__spring__set_length_mm=234.0, front__left__adjuster__now=16.0)
    text = as_text("lantern.toml", job, judged(job))
    assert text.startswith("lantern.toml\n")
    assert "Installed preload    16.0 mm  (band 8.0 to 15.0 mm)" in text
    assert "Headroom out         4.0 mm, 16 turns" in text
    assert text.index("FAULT") < text.index("WARNING") < text.index("NOTE") < text.index("Cautions")
    assert text.endswith("no number here approves a machine as safe.")
    assert "standard uncertainty of 1 mm" in text
    assert "Combined fork rate   19.00 N/mm, springs alone" in text
    assert "Vertical wheel rate  15.20 N/mm at 28.5 mm of wheel travel" in text


def test_upkeep_has_no_heading_where_nothing_of_it_was_recorded() -> None:
    noted = replace(Job(), upkeep=Upkeep(set_lengths_with=StacksThen(left_mm=100.0)))
    assert "Upkeep" not in as_text("a.toml", noted, judged(noted))
    hours = replace(Job(), upkeep=Upkeep(machine_hours=12.0))
    assert "\nUpkeep\n" in as_text("a.toml", hours, judged(hours))


def test_the_text_says_why_a_figure_is_missing() -> None:
    text = as_text("empty.toml", Job(), judged(Job()))
    assert "Adjuster range       –  needs set length and set length fully in" in text


def test_the_text_follows_the_display_units() -> None:
    text = as_text("lantern.toml", FULL, judged(FULL), Units(lengths="in", rates="kg/mm"))
    assert "0.472 in" in text
    assert "1.937 kg/mm" in text


def test_an_invented_sample_is_marked() -> None:
    assert "invented sample" in as_text("s.toml", put(FULL, job__sample=True), judged(FULL))


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(jobs())
def test_any_job_prints_as_harmless_text_and_as_json(job: Job) -> None:
    assessment = assess(job, PROFILES)
    text = as_text("\x1b]0;x\x07.toml", job, assessment)
    assert not [c for c in text.replace("\n", "") if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Co", "Cn")]
    data = as_json("x.toml", job, assessment)
    json.loads(json.dumps(data, allow_nan=False))
    assert all(at(data, path) is None for path in data["missing"])


def test_a_measured_sag_below_the_predicted_one_is_less_and_has_no_sign() -> None:
    text = as_text("damson.toml", JOBS["soft_springs"], judged(JOBS["soft_springs"]))
    assert "5.7 mm, measured 0.1 mm less" in text
    assert "12.2 mm, measured 0.1 mm more" in text


def test_static_sag_at_the_middle_of_the_target_is_told_from_the_sag_to_expect() -> None:
    """24 and 40 mm: with 7 mm less rider sag, 33.0, static sag is 17.0 mm; of 6 and 42 mm none would be left."""
    job = put(FULL, sag__front=sag_end(24.0, 40.0), sag__rear=sag_end(6.0, 42.0))
    text = as_text("a", job, judged(job))
    assert "Static to expect     17.0 mm when rider sag is at mid target, 33.0 mm, springs as they are" in text
    assert text.count("Static to expect") == 1
