"""Runs in what `stanchion check` prints."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from complete_job import complete_job
from judgement_jobs import FULL, judged, put
from stanchion.job.model import Complaint, Job, Torque
from stanchion.job.runs import new_run
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json


def two_runs() -> Job:
    job = put(FULL, front__travel_mm=120.0, rear__rebound__now=10.0)
    job = replace(job, runs=(replace(new_run(job, "10:20"), front_marker_mm=110.0, best_lap_s=92.4),))
    job = put(job, rear__rebound__now=12.0)
    return replace(job, runs=(*job.runs, new_run(job, "11:05")))


def test_the_text_tells_lap_travel_and_what_was_changed() -> None:
    text = as_text("a.toml", two_runs(), judged(two_runs()))
    assert "10:20, best 1:32.4, fork 110.0 mm of 120.0 mm" in text
    assert "Shock rebound 2 clicks out" in text


def test_the_data_hold_every_run_with_travel_used_or_why_not() -> None:
    data = as_json("a.toml", two_runs(), judged(two_runs()))
    first, second = data["runs"]
    assert first["front"] == {
        "used_mm": 110.0,
        "available_mm": 120.0,
        "left_mm": 10.0,
        "share_used": pytest.approx(110 / 120),
        "on_rubber_mm": None,
        "in_hydraulic_mm": None,
        "verdict": "used",
    }
    assert second["front"]["used_mm"] is None
    assert "marker" in data["missing"]["runs.1.front.used_mm"]
    assert second["changed"] == ["Shock rebound 2 clicks out"]


def test_the_riders_standard_words_are_in_the_text_and_as_codes_in_the_data() -> None:
    complaints = (Complaint(where="bumps", what="packs_down"), Complaint(what="loose"))
    job = replace(FULL, runs=(replace(new_run(FULL, "10:20"), complaints=complaints),))
    assert "rider: packs down, over bumps; something is loose" in as_text("a.toml", job, judged(job))
    (run,) = as_json("a.toml", job, judged(job))["runs"]
    assert run["complaints"] == [
        {"where": "bumps", "what": "packs_down"},
        {"where": "anywhere", "what": "loose"},
    ]


def test_the_text_tells_of_tyres_and_upkeep() -> None:
    job = complete_job()
    text = as_text("a.toml", job, judged(job))
    assert "front tyre 2.00 bar cold, 2.30 bar hot, 2.44 bar hot by the gas law, 2.00 bar to set cold" in text
    assert "Fork oil             2026-04-02, at 30 h, 11.5 h ago" in text
    assert "Sprockets            15 / 44 (2.93)" in text
    assert "Front tyre           invented slick, medium, 2.30 bar wanted hot" in text
    assert "  [x] axle nut, 100.0 N·m, TR" in text


def test_the_data_tell_of_tyres_and_upkeep_or_why_not() -> None:
    job = complete_job()
    data = as_json("a.toml", job, judged(job))
    assert data["runs"][0]["front_tyre"]["cold_to_set_bar"] == pytest.approx(2.0)
    assert data["runs"][0]["rear"]["verdict"] == "used"  # 14 of 61 mm left, of which a hydraulic stop takes some
    assert data["upkeep"]["fork_oil"] == {"on": "2026-04-02", "at_hours": 30.0, "hours_since": 11.5}
    assert data["upkeep"]["torques"][0] == {"what": "axle nut", "torque_nm": 100.0, "done": True, "initials": "TR"}
    assert json.loads(json.dumps(data)) == data
    empty = as_json("a.toml", FULL, judged(FULL))
    assert "hour meter" in empty["missing"]["upkeep.fork_oil.hours_since"]


def test_hostile_names_of_torques_and_tyres_are_printed_as_text() -> None:
    rows = (Torque(what="\x1b[31mnut", initials="\u202ex"),)
    job = put(FULL, upkeep__torques=rows, upkeep__front_tyre="a\nb\x1b]0;x")
    text = as_text("a.toml", job, judged(job))
    assert "\x1b" not in text
    assert "\u202e" not in text
    assert "a\nb" not in text
