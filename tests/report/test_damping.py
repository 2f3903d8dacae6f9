"""Frequency and damping in the check, as JSON, and on the sheet beside the job before."""

from __future__ import annotations

import datetime as dt
import math
import re

import pytest

import make_samples
from judgement_jobs import PROFILES, judged, put
from stanchion.job.carry import carried
from stanchion.job.edit import apply
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.judgement.predict.damping import damping_figures
from stanchion.planning.damping_compared import damping_with_option
from stanchion.planning.spring_choice import choose
from stanchion.planning.spring_edits import as_edits
from stanchion.planning.whatif import compare
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_shape import Section, Table
from stanchion.wording.finding_words import sentence

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
    assert "Front                frequency –" in as_text("a.toml", Job(), judged(Job()))


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


def test_the_sheet_has_both_frequencies_and_compares_them_with_the_job_before() -> None:
    assert on_sheet(WELL_SET, None) == {}
    tables = {
        part.title: dict(part.rows) for part in make_sheet(WELL_SET, judged(WELL_SET)).parts if isinstance(part, Table)
    }
    assert tables["Fork"]["Frequency"] == ("2.42 Hz",)
    assert tables["Shock and linkage"]["Frequency"] == ("2.17 Hz, front to rear 1.12",)
    softer = put(WELL_SET, rear__spring__rate_n_per_mm=60.0)
    lines = on_sheet(WELL_SET, softer)
    # sqrt(80 / 60) = 1.155 by the springs; one ratio, so the gas has no part in it
    assert "rear about 15 % more rebound damping" in lines["Damping"]
    assert lines["Frequency"].startswith(
        "now front 2.42 Hz, rear 2.17 Hz, front to rear 1.12; 2026-05-16 front 2.42 Hz"
    )


def test_one_figure_of_rebound_in_check_json_sheet_trial_and_the_list_of_springs() -> None:
    """A stiffer fork spring, rebound left: by springs alone sqrt(12 / 9.5) = 1.124, with the air of the fork less. The
    same figure everywhere, and no other one in the finding."""
    job = put(carried(WELL_SET, "a.toml", dt.date(2026, 5, 17)), front__left__spring__rate_n_per_mm=12.0)
    assessment = assess(job, PROFILES, WELL_SET)
    now, then = (damping_figures(one, judged(one)).front for one in (job, WELL_SET))
    rates = [one.wheel_rate_n_per_mm.value or 0.0 for one in (now, then)]
    masses = [one.sprung_kg.value or 0.0 for one in (now, then)]
    wanted = math.sqrt(rates[0] * masses[0] / (rates[1] * masses[1]))
    assert 1.05 < wanted < 1.12
    words = f"front about {100.0 * (wanted - 1.0):.0f} % more rebound damping"
    assert words in " ".join(as_text("a.toml", job, assessment, profiles=PROFILES, previous=WELL_SET).split())
    data = as_json("a.toml", job, assessment, PROFILES, WELL_SET)
    (since,) = data["damping"]["as"]
    assert (since["what"], since["date"], since["run"]) == ("job", "2026-05-16", None)
    assert since["front"] == pytest.approx(wanted, rel=1e-12)
    assert since["rear"] == pytest.approx(1.0)
    assert words in on_sheet(job, WELL_SET)["Damping"]
    assert compare(WELL_SET, job, PROFILES).row(("front",), "damping_pct").changed.value == pytest.approx(
        100.0 * wanted, rel=5e-3
    )  # the loads are those of the measured sag there
    (left,) = [one for one in assessment.findings if one.code == "rebound_for_stiffer"]
    assert "%" not in sentence(left)
    option = max(choose(WELL_SET, judged(WELL_SET), PROFILES, "front").options, key=lambda one: one.mean_rate_n_per_mm)
    tried = WELL_SET
    for edit in as_edits(option, WELL_SET, set_adjuster=True):
        tried = apply(tried, edit)
    in_trial = compare(WELL_SET, tried, PROFILES).row(("front",), "damping_pct").changed.value
    assert in_trial is not None
    assert damping_with_option(WELL_SET, option, "front", PROFILES) == pytest.approx(in_trial / 100.0)
