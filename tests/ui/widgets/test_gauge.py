"""The gauge of an adjuster keeps to scale, whatever the numbers, and never takes a figure's place."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from air_jobs import air_job
from driving import USUAL, WIDE, a_job, app_on, shown, typed
from judgement_jobs import put
from stanchion.job.model import Job, Spring
from stanchion.ui.gauge import MARK, TAIL, UNKNOWN, gauge, place, ruler
from timing import at_rest

HALF = 0.5 + 1e-6
LEFT = st.one_of(st.just(0.0), st.floats(1e-300, 1e308))
ANY = st.one_of(st.none(), st.floats(allow_nan=False, allow_infinity=False))
WIDTH = st.integers(3, 120)


@given(ANY, ANY, WIDTH)
def test_any_numbers_give_a_line_of_the_width_asked_for(out: float | None, to_in: float | None, width: int) -> None:
    line = gauge(out, to_in, width)
    assert len(line) == width
    assert (MARK in line) != (UNKNOWN in line or width == 2)


@given(LEFT, LEFT, WIDTH)
def test_the_mark_stands_at_its_share_to_half_a_column(out: float, to_in: float, width: int) -> None:
    line = gauge(out, to_in, width)
    if out == to_in == 0.0:
        assert MARK not in line
        return
    share = (out / 4) / (out / 4 + to_in / 4)
    assert abs(line.index(MARK) - share * (width - 1)) <= HALF


@given(LEFT, LEFT, LEFT, WIDTH)
def test_more_screwed_in_never_stands_further_out(first: float, second: float, total: float, width: int) -> None:
    low, high = sorted(min(one, total) for one in (first, second))
    lines = [gauge(out, total - out, width) for out in (low, high)]
    if total > 0.0:
        assert lines[0].index(MARK) <= lines[1].index(MARK)


@given(st.floats(0.25, 999), WIDTH)
def test_the_turns_of_the_ruler_stand_below_the_mark_at_so_many(total: float, width: int) -> None:
    line = ruler(total, width)
    assert len(line) == width + TAIL
    numbers = [int(word) for word in line.split()]
    assert numbers[0] == 0
    for turns in numbers:
        at = gauge(float(turns), total - turns, width).index(MARK)
        assert line[at:].startswith(str(turns))
        assert at == place(turns, total, width)


@given(ANY, WIDTH)
def test_a_ruler_of_anything_is_a_line(total: float | None, width: int) -> None:
    assert len(ruler(total, width)) == width + TAIL


ADJUSTER = (
    ("front.left.spring.free_length_mm", 250.0),
    ("front.left.spring.set_length_mm", 238.0),
    ("front.left.spring.set_length_in_mm", 230.0),
    ("front.left.adjuster.total_turns", 8.0),
)


def bars(text: str) -> list[str]:
    """The gauges that stand on a screen, from end to end."""
    return [
        line.split("out ", 1)[1].removesuffix(" in")
        for line in map(str.rstrip, text.splitlines())
        if "out ├" in line or "out ●" in line
    ]


@pytest.mark.parametrize("size", [USUAL, WIDE], ids=["80x24", "120x40"])
async def test_the_gauge_follows_the_adjuster_and_no_line_moves(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(tmp_path, a_job(*ADJUSTER))
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        before = shown(app)
        assert MARK not in before
        (empty,) = bars(before)
        assert UNKNOWN in empty
        for _ in range(6):
            await pilot.press("enter")
        # spring rate, free, set, at, fully in, read on, counted in, total: then where it stands now
        await pilot.press("enter", "enter")
        await typed(pilot, "2")
        await pilot.pause()
        (drawn,) = bars(shown(app))
        # 2 of 8 turns: a quarter of the way in
        assert abs(drawn.index(MARK) - 0.25 * (len(drawn) - 1)) <= HALF
        rows = [
            [y for y, line in enumerate(text.splitlines()) if "Combined fork rate" in line]
            for text in (before, shown(app))
        ]
        assert rows[0] == rows[1]


async def test_a_fork_without_an_adjuster_has_no_gauge(tmp_path: Path) -> None:
    job: Job = a_job(*ADJUSTER, ("front.left.adjuster.counting", "none"))
    app = app_on(tmp_path, job)
    async with app.run_test(size=WIDE) as pilot:
        await pilot.pause()
        assert "├" not in shown(app)
        assert "Combined fork rate" in shown(app)


async def test_what_figures_wait_for_takes_no_line_of_its_own_and_pushes_none_out(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "rear")
    async with app.run_test(size=USUAL) as pilot:
        await pilot.pause()
        right = [line.split("▏")[1].rstrip() for line in shown(app).splitlines()[2:18]]
        assert [line for line in right if line.startswith(" Headroom in")] == [" Headroom in  – thread pitch"]
        assert right[-3:] == [
            f" out ├{UNKNOWN * 20}┤ in",
            " Wheel rate   – spring rate",
            " Ratio        – motion ratio",
        ]


async def test_split_legs_have_a_gauge_each_and_no_figure_is_pushed_out(tmp_path: Path) -> None:
    job = a_job(*ADJUSTER, ("front.left.adjuster.now", 0.0))
    job = put(job, front__right=replace(job.front.left, spring=Spring()))
    app = app_on(tmp_path, job)
    async with app.run_test(size=USUAL) as pilot:
        await pilot.pause()
        text = shown(app)
        # the legs wait for different readings, which takes the gauge's line
        for words in ("Preload now", "Headroom in", "left needs", "right needs"):
            assert words in text
    job = put(job, front__left__spring__rate_n_per_mm=9.5)
    job = put(job, front__right=replace(job.front.left, adjuster=replace(job.front.left.adjuster, now=8.0)))
    app = app_on(tmp_path / "other", job)
    async with app.run_test(size=USUAL) as pilot:
        await pilot.pause()
        (line,) = (line for line in shown(app).splitlines() if MARK in line)
        left, right = line.split("▏ ")[-1].split()[1::2]
        assert (left[0], right[-1]) == (MARK, MARK)  # fully out, fully in


async def test_a_fork_sprung_by_air_has_no_preload_beside_the_sheet(tmp_path: Path) -> None:
    job = air_job()
    app = app_on(tmp_path, replace(job, front=replace(job.front, right=None)), "front")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        right = [line.split("▏")[1].strip() for line in shown(app).splitlines()[2:18] if "▏" in line]
        assert right[:2] == ["SPRUNG BY AIR", "Pressure and sags: Prediction"]
        assert not any("reload" in line or "Headroom" in line for line in right)
