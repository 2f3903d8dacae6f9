"""Frequency and damping in the check, as JSON, and on the sheet beside the job before."""

from __future__ import annotations

import re

import make_samples
from judgement_jobs import judged, put
from stanchion.job.model import Job
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_shape import Section

WELL_SET = make_samples.well_set()
TITLE = "Frequency and damping, at rider sag"


def on_sheet(job: Job, previous: Job | None) -> dict[str, str]:
    sheet = make_sheet(job, judged(job), previous, before=None if previous is None else judged(previous))
    found = [part for part in sheet.parts if isinstance(part, Section) and part.title == TITLE]
    return {line.word: line.text for part in found for line in part.lines}


def test_the_check_prints_both_ends_and_what_they_rest_on() -> None:
    text = as_text("a.toml", WELL_SET, judged(WELL_SET))
    section = text[text.index(TITLE) : text.index("Findings, worst first")]
    assert re.search(r"Rear +wheel rate 20\.00 N/mm, sprung mass 108\.0 kg, frequency 2\.17 Hz", section)
    assert "Front to rear        1.12 by frequency" in section
    assert "By springs and masses alone" in section
    assert TITLE not in as_text("a.toml", Job(), judged(Job()))


def test_an_estimate_says_so_and_what_would_make_it_a_measurement() -> None:
    job = put(WELL_SET, weights__rear_unsprung_kg=None)
    text = as_text("a.toml", job, judged(job))
    assert re.search(r"Rear .*frequency \d\.\d\d Hz \(estimate\)", text)
    assert "Rear: sprung mass is an estimate: enter the unsprung mass." in text  # both wheels were weighed
    weights = {
        f"weights__{end}_{what}_kg": None for end in ("front", "rear") for what in ("alone", "aboard", "unsprung")
    }
    by_sags = put(WELL_SET, **weights)
    both = "sprung mass is an estimate: weigh both wheels with the rider aboard, and enter the unsprung mass"
    assert f"Rear: {both}" in " ".join(as_text("a.toml", by_sags, judged(by_sags)).split())


def test_json_has_numbers_or_the_reason() -> None:
    job = put(WELL_SET, geometry__rake_deg=None)
    data = as_json("a.toml", job, judged(job))
    assert round(data["damping"]["rear"]["frequency_hz"], 3) == 2.166
    assert data["damping"]["front"]["wheel_rate_n_per_mm"] is None
    assert data["damping"]["front_to_rear"] is None
    assert "rake" in data["missing"]["damping.front_to_rear"].lower()


def test_the_sheet_compares_with_the_job_before_and_is_no_longer_without_one() -> None:
    assert on_sheet(WELL_SET, None) == {}
    softer = put(WELL_SET, rear__spring__rate_n_per_mm=60.0)
    lines = on_sheet(WELL_SET, softer)
    # sqrt(80 / 60) = 1.155 by the springs; one ratio, so the gas has no part in it
    assert "rear about 15 % more rebound damping" in lines["Damping"]
    assert lines["Frequency"].startswith(
        "now front 2.42 Hz, rear 2.17 Hz, front to rear 1.12; 2026-05-16 front 2.42 Hz"
    )
