"""Runs in what `stanchion check` prints."""

from __future__ import annotations

from dataclasses import replace

from judgement_jobs import FULL, judged, put
from stanchion.job.model import Job
from stanchion.job.runs import new_run
from stanchion.report.check import as_json, as_text


def two_runs() -> Job:
    job = put(FULL, front__travel_mm=120.0)
    job = replace(job, runs=(replace(new_run(job, "10:20"), front_marker_mm=110.0, best_lap_s=92.4),))
    job = put(job, rear__rebound__now=12.0)
    return replace(job, runs=(*job.runs, new_run(job, "11:05")))


def test_the_text_tells_lap_travel_and_what_was_changed() -> None:
    text = as_text("a.toml", two_runs(), judged(two_runs()))
    assert "10:20, best 1:32.4, fork 110.0 mm of 120.0 mm" in text
    assert "Shock rebound 12 clicks from closed, not recorded before" in text


def test_the_data_hold_every_run_with_travel_used_or_why_not() -> None:
    data = as_json("a.toml", two_runs(), judged(two_runs()))
    first, second = data["runs"]
    assert first["front"] == {"used_mm": 110.0, "available_mm": 120.0, "left_mm": 10.0}
    assert second["front"]["used_mm"] is None
    assert "marker" in data["missing"]["runs.1.front.used_mm"]
    assert second["changed"] == ["Shock rebound 12 clicks from closed, not recorded before"]
