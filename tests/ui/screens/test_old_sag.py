"""Sag that was read with other springs or preload is called old wherever it stands."""

from __future__ import annotations

from dataclasses import replace

import pytest

from judgement_jobs import FULL, PROFILES, judged, put
from stanchion.bench.session import Session
from stanchion.job.model import Job, Run
from stanchion.planning.machine_story import row_of, story_rows
from stanchion.planning.on_travel import on_travel
from stanchion.report.check import as_text
from stanchion.report.sheet_tables import sag_table
from stanchion.report.side_view import travels
from stanchion.report.story import row_lines, story_table
from stanchion.ui import story_lines
from stanchion.ui.gauge import place
from stanchion.ui.predicted_lines import picture_lines, predicted_lines
from stanchion.ui.present import state_lines
from stanchion.ui.run_lines import run_pages
from stanchion.ui.sag_scale import sag_lines
from stanchion.ui.travel_drawing import travel_lines
from stanchion.units.known_units import METRIC

READ: Job = put(FULL, front__travel_mm=120.0, sag__front__rider__preload_at=(2.0, 2.0))
"""Rider sag of the fork was read at 2 turns; 4 are in."""


def test_the_prediction_marks_it_below_the_measured_column() -> None:
    lines = [line.plain for line in predicted_lines(judged(READ), METRIC, 60)]
    at = next(number for number, line in enumerate(lines) if line.startswith("Measured"))
    assert lines[at + 1].split() == ["old"]
    assert lines[at + 1].rstrip().endswith("old")
    assert len(lines[at + 1].rstrip()) == len(lines[at][: lines[at].index("33.0") + 4])
    assert "old" not in " ".join(line.plain for line in predicted_lines(judged(FULL), METRIC, 60))


def test_the_force_curve_names_the_marks_that_are_old() -> None:
    session = Session(put(READ, weights__front_aboard_kg=118.0), PROFILES)
    text = " ".join(line.plain for line in picture_lines(session, "front", 40, 30, plain=True))
    assert "S static R rider, measured: R old" in text


def test_verdicts_of_both_states_stand_apart() -> None:
    """The longest verdict takes more columns than the large figure above it, so a short word stands for it."""
    figures = replace(judged(FULL).sag.front.static, verdict="borderline")
    line = state_lines((figures, figures), METRIC, 13)[0].plain
    assert line.split() == ["target", "15–25", "edge?", "15–25", "edge?"]


def test_the_fork_to_scale_marks_it() -> None:
    unpredicted = put(READ, front__left__spring__rate_n_per_mm=None)
    on = on_travel(unpredicted, judged(unpredicted), "front")
    drawn = " ".join(line.plain for line in travel_lines(on, "front", METRIC, 40, 20))
    assert "R rider 33 old" in drawn
    assert "S static 20 old" not in drawn


def test_where_it_is_predicted_the_travel_is_drawn_with_that_as_the_geometry_is_reckoned() -> None:
    """33 mm were read at 2 turns: at 4, 1 mm further in, it is 1 mm less."""
    a = judged(READ)
    foreseen = a.predicted.front.rider.sag_mm.value
    assert foreseen == pytest.approx(32.0)
    on = on_travel(READ, a, "front")
    assert (on.rider_mm.value, on.old, on.predicted) == (foreseen, frozenset(), frozenset({"rider"}))
    drawn = " ".join(line.plain for line in travel_lines(on, "front", METRIC, 40, 20))
    assert "R rider 32 predicted" in drawn
    assert "S static 20 predicted" not in drawn  # read as the machine stands
    narrow = " ".join(line.plain for line in travel_lines(on, "front", METRIC, 17, 20, figures_only=True))
    assert "pred." in narrow
    (fork,) = [one for one in travels(READ, a, METRIC) if one.name == "Fork"]
    assert [mark.value for mark in fork.marks] == ["20.0 mm", f"{foreseen:.1f} mm (predicted)"]


def test_so_is_the_scale_below_the_large_figures() -> None:
    """32 mm predicted of 60; the 33 mm that were read stay above it, and are called old there."""
    a = judged(READ)
    (line,) = sag_lines(a.sag.front, a.predicted.front, METRIC, 69, tall=False)
    assert line.plain.startswith("pred. 0├")
    scale = line.plain[line.plain.index("├") : line.plain.index("┤") + 1]
    assert scale.index("S") == place(20.0, 60.0, len(scale))
    assert scale.index("r") == place(32.0, 60.0, len(scale))
    assert "R" not in scale
    static, rider = sag_lines(a.sag.front, a.predicted.front, METRIC, 69, tall=True)
    assert static.plain.startswith("static 0├")
    assert rider.plain.startswith("pred.  0├")
    (now,) = sag_lines(judged(FULL).sag.front, judged(FULL).predicted.front, METRIC, 69, tall=False)
    assert "pred" not in now.plain
    assert "R" in now.plain


def test_beside_a_run_it_is_old_where_the_run_was_ridden_otherwise() -> None:
    """Read at 2 turns, and ridden so: it belongs to that run, though 4 turns are in by now."""
    ridden = put(READ, front__left__adjuster__now=2.0)
    job = replace(READ, runs=(Run(time="9:00", front=ridden.front, rear=ridden.rear), Run(front=READ.front)))
    session = Session(job, PROFILES)
    for at, old in ((0, False), (1, True)):
        lines = [line.plain for line in run_pages(session, at, 71, 40, tyres=False)[0]]
        assert any("R │ old" in line for line in lines) is old
        assert any("R │ 33" in line for line in lines) is not old


def test_the_story_marks_it_in_its_rows_and_in_full() -> None:
    rows = list(story_rows([("a.toml", READ)], PROFILES))
    assert "33.0 old" in " ".join(story_table(rows, METRIC, tabs=False))
    assert dict(row_lines(rows[0], METRIC))["Sag front"] == "static 20.0 mm (ok), rider 33.0 mm (old)"
    for terminal in (60, 80, 120):
        assert "33.0 old" in story_lines.line(rows[0], METRIC, terminal, terminal, marked=False).plain


def test_the_story_gives_every_sag_its_own_verdict() -> None:
    """Rider sag in target says nothing of static sag, which is below its own."""
    job = put(FULL, sag__front__static__down_mm=(590.0,), sag__front__static__up_mm=(592.0,))
    assert dict(row_lines(row_of("a.toml", job, None, PROFILES), METRIC))["Sag front"] == (
        "static 9.0 mm (below target), rider 33.0 mm (ok)"
    )


def test_check_and_sheet_mark_it() -> None:
    text = as_text("a.toml", READ, judged(READ))
    line = next(line for line in text.splitlines() if "33.0 mm" in line and "target" in line)
    assert ", old" in line
    rows = dict(sag_table(judged(READ), METRIC).rows)
    assert "old" in next(cells for name, cells in rows.items() if "33.0 mm" in cells)
