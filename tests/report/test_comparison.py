"""A comparison says what differs, both values and by how much, and nothing else."""

from __future__ import annotations

from dataclasses import replace

from judgement_jobs import PROFILES, put
from stanchion.job.model import Job
from stanchion.planning.machine_story import row_of
from stanchion.report.comparison import SAME, Comparison, compared, comparison_lines
from stanchion.units.known_units import METRIC, Units
from story_jobs import occasion, ridden, weekends

JOBS = weekends()


def comparison_of(
    one: Job, other: Job, at: int | None = None, to: int | None = None, units: Units = METRIC
) -> Comparison:
    return compared(row_of("a.toml", one, at, PROFILES), row_of("b.toml", other, to, PROFILES), units)


def lines(comparison: Comparison) -> list[str]:
    return [line for _, line in comparison_lines(comparison, 100)]


def test_a_job_and_itself_do_not_differ() -> None:
    same = comparison_of(JOBS["a.toml"], JOBS["a.toml"])
    assert same.same
    assert lines(same) == [SAME]


def test_positions_are_told_with_both_values_and_the_way_between_them() -> None:
    one = occasion(3, rear__rebound__now=11.0)
    found = lines(comparison_of(one, put(one, front__left__adjuster__now=6.0, rear__rebound__now=14.0)))
    assert "Fork preload 4 → 6 turns (2 turns in)" in found
    assert "Shock rebound 11 → 14 clicks from closed (3 clicks out)" in found
    assert "Fork preload now 14.0 mm → 15.0 mm (+1.0 mm)" in found


def test_lengths_are_told_in_the_unit_in_use() -> None:
    one = occasion(3, front__fork_height_mm=6.0)
    other = put(one, front__fork_height_mm=8.54)
    assert "Fork height 0.236 in → 0.336 in (+0.100 in)" in lines(comparison_of(one, other, units=Units(lengths="in")))


def test_two_runs_are_compared_by_lap_markers_pressures_and_settings_ridden() -> None:
    found = lines(comparison_of(JOBS["a.toml"], JOBS["a.toml"], 0, 1))
    assert found[:6] == [
        "RUN",
        "Best lap 1:32.4 → 1:31.8 (−0.6 s)",
        "Fork share used 93 % → 90 % (−3 points)",
        "Shock share used 69 % → 72 % (+3 points)",
        "Fork marker 112.0 mm → 108.0 mm (−4.0 mm)",
        "Shock shaft marker 44.0 mm → 46.0 mm (+2.0 mm)",
    ]
    assert "Front tyre, hot none → 2.30 bar" in found
    assert "Shock rebound 10 → 14 clicks from closed (4 clicks out)" in found
    assert not any("preload" in line for line in found)  # turned only after both runs


def test_runs_of_two_jobs_are_compared_too() -> None:
    found = lines(comparison_of(JOBS["a.toml"], JOBS["b.toml"], 1, 0))
    assert "Best lap 1:31.8 → 1:30.1 (−1.7 s)" in found
    assert "Fork preload 4 → 8 turns (4 turns in)" in found
    assert "Job: venue Gravel Loop → Lake Ring" in found
    assert "Front rider sag 33.0 mm → 30.0 mm (−3.0 mm)" in found


def test_what_the_rider_said_stands_side_by_side() -> None:
    job = occasion(3)
    said = replace(
        job, runs=(ridden(job, "9:00", None, said="Dives."), ridden(job, "9:40", None, said="Better.\nSlow."))
    )
    comparison = comparison_of(said, said, 0, 1)
    found = [line for _, line in comparison_lines(comparison, 30)]
    assert found[-3:] == ["THE RIDER SAID", "Dives.        | Better.", "              | Slow."]


def test_markers_of_another_datum_are_compared_by_the_travel_used() -> None:
    job = occasion(3)
    runs = (ridden(job, "9:00", None, 112.0), ridden(job, "9:40", None, 95.0, marker_from="static"))
    found = lines(comparison_of(replace(job, runs=runs), replace(job, runs=runs), 0, 1))
    assert "Fork travel used 112.0 mm → 115.0 mm (+3.0 mm)" in found  # 20 mm of static sag


def test_a_run_and_a_job_as_it_stands_are_compared_by_their_settings_alone() -> None:
    found = lines(comparison_of(JOBS["a.toml"], JOBS["a.toml"], 1))
    assert found == [
        "FIGURES",
        "Fork preload now 14.0 mm → 15.0 mm (+1.0 mm)",
        "RECORDED",
        "Fork preload 4 → 6 turns (2 turns in)",
    ]


def test_what_is_known_on_one_side_only_is_said_so() -> None:
    bare = replace(occasion(3), sag=Job().sag)
    assert "Front rider sag 33.0 mm → not known" in lines(comparison_of(occasion(3), bare))


def test_hostile_text_is_shown_harmless() -> None:
    job = occasion(3, venue="\x1b[31mred", rider="x[/foo]y")
    runs = (ridden(job, "\x1b]0;t\x07", None, said="a\x1b[2J"), ridden(job, "9:00", None, said="b"))
    job = replace(job, runs=runs)
    text = "\n".join(lines(comparison_of(job, occasion(3)))) + "\n".join(lines(comparison_of(job, job, 0, 1)))
    assert "\x1b" not in text
    assert "\x07" not in text
    assert "x[/foo]y" in text
