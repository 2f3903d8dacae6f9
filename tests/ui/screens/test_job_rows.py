"""The rows of the list of jobs: what is cut is marked, and no two jobs look alike."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from driving import a_job, app_on, shown
from stanchion.store.listing import JobRow, twins
from stanchion.ui.job_rows import layout, row_lines
from stanchion.ui.space import kept_distinct

DAY = dt.date(2026, 5, 31)
LONG = "Damson with the long swing arm, no. "


def row(at: int, machine: str, rider: str = "B. T.", venue: str = "Gravel Loop", **more: object) -> JobRow:
    """One job of the list, with a warning."""
    about = {"severity": "warning", "headline": "installed preload over its limit", **more}
    return JobRow(Path("jobs"), f"job-{at}.toml", DAY, at, machine, rider, venue, **about)  # type: ignore[arg-type]


def plain(rows: list[JobRow], width: int) -> list[str]:
    """The rows as text."""
    numbers = twins(rows)
    how = layout(rows, width, numbered=bool(numbers))
    return [line.plain for line in row_lines(rows, how, numbers)]


NAMES = st.sampled_from(
    ["", "Quince", *(f"{LONG}{n}" for n in range(30)), *(f"{LONG}{n} blue, spare wheels" for n in range(9)), "灰" * 30]
)
RIDERS = st.sampled_from(["", "B. T.", "Bartholomew T. of the long name", "Bartholomew T. of the longer name"])
VENUES = st.sampled_from(["Windfall Ring (invented), north", "Windfall Ring (invented), south", "Loop"])


@given(
    st.lists(st.tuples(NAMES, RIDERS, VENUES, st.booleans()), min_size=1, max_size=20),
    st.sampled_from([36, 56, 76, 116]),
)
def test_no_two_jobs_look_alike_and_no_line_is_too_long(jobs: list[tuple[str, str, str, bool]], width: int) -> None:
    rows = [row(at, *of, copy_of="job-0.toml" if copy and at else "") for at, (*of, copy) in enumerate(jobs)]
    lines = plain(rows, width)
    assert len(set(lines)) == len(lines), lines
    assert all(cell_len(part) <= width for line in lines for part in line.split("\n"))


@pytest.mark.parametrize("width", [36, 56, 76])
def test_a_name_that_is_cut_is_marked_and_the_machine_has_room_before_rider_and_venue(width: int) -> None:
    first, second = plain([row(1, f"{LONG}11"), row(2, f"{LONG}12", "Bartholomew T. of the long name")], width)
    assert "11" in first
    assert "12" in second
    assert "…" in second
    whole = plain([row(1, "Damson no. 11", "A. Q.", "Loop")], width)[0]
    assert "Damson no. 11" in whole
    assert "WARNING" in whole


def test_where_no_cut_tells_names_apart_they_are_numbered() -> None:
    names = ["a" * 40 + f"{n:02}" + "b" * 40 for n in range(12)]
    assert len(set(kept_distinct(names, 4).values())) == len(names)
    assert all(len(words) <= 4 for words in kept_distinct(names, 4).values())


@pytest.mark.parametrize("size", [(80, 24), (60, 18), (40, 10)])
async def test_two_machines_of_one_day_are_told_apart_on_the_screen(tmp_path: Path, size: tuple[int, int]) -> None:
    app_on(tmp_path, a_job(machine=f"{LONG}11")).workspace.close()
    app = app_on(tmp_path, a_job(machine=f"{LONG}12"))
    async with app.run_test(size=size) as pilot:
        await pilot.press("f9")
        await app.workers.wait_for_complete()
        await pilot.pause()
        rows = [line for line in shown(app).splitlines() if f"{DAY.isoformat()} " in line]
        assert len(rows) == len(set(rows)) == 2, shown(app)
        assert any("11" in line for line in rows)
