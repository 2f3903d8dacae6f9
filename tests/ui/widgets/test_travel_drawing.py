"""Fork and shock are drawn to scale: what stands in a line lies there to half a line, whatever the numbers."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from driving import USUAL, WIDE, a_job, app_on, shown
from judgement_jobs import FULL, put
from stanchion.job.model import Job, Run
from stanchion.ui.travel_drawing import BEYOND, LEAST_HEIGHT, LEAST_WIDTH, NUMBER, Place, travel_drawing
from timing import at_rest

HALF = 0.5 + 1e-6
ANY = st.floats(allow_nan=False, allow_infinity=False)
TRAVEL = st.floats(20, 500)
SHARE = st.floats(0, 1)
HEIGHT = st.integers(LEAST_HEIGHT, 60)
LETTERS = "SRM"


def drawn(full: float, shares: list[float], height: int, unit: float = 1.0) -> tuple[str, ...]:
    places = [Place(share * full, f"at {share:.3f}", LETTERS[lane], lane) for lane, share in enumerate(shares)]
    return travel_drawing(full, tuple(places), height, 30, unit=unit)


@given(TRAVEL, st.lists(SHARE, min_size=1, max_size=3), HEIGHT)
def test_each_letter_lies_where_its_number_does_to_half_a_line(full: float, shares: list[float], height: int) -> None:
    lines = drawn(full, shares, height)
    assert len(lines) == height
    for letter, share in zip(LETTERS, shares, strict=False):
        (line,) = (at for at, text in enumerate(lines) if letter in text[NUMBER : NUMBER + 7])
        assert abs(line - share * (height - 1)) <= HALF


@given(TRAVEL, HEIGHT, st.sampled_from([1.0, 25.4]))
def test_each_number_of_the_scale_lies_where_it_says_to_half_a_line(full: float, height: int, unit: float) -> None:
    numbered = {
        at: float(text[:NUMBER]) for at, text in enumerate(drawn(full, [], height, unit)) if text[:NUMBER].strip()
    }
    assert numbered[0] == 0.0
    assert len(numbered) >= 2 or height < 12
    for line, number in numbered.items():
        assert abs(line - number * unit / full * (height - 1)) <= HALF


@given(TRAVEL, SHARE, SHARE, HEIGHT)
def test_deeper_is_never_drawn_higher(full: float, first: float, second: float, height: int) -> None:
    lines = drawn(full, sorted((first, second)), height)
    rows = [next(at for at, text in enumerate(lines) if letter in text[NUMBER : NUMBER + 7]) for letter in "SR"]
    assert rows[0] <= rows[1]


@given(TRAVEL, SHARE, SHARE, HEIGHT)
def test_used_travel_and_rubber_are_filled_from_and_to_where_they_lie(
    full: float, used: float, rubber: float, height: int
) -> None:
    lines = travel_drawing(full, (), height, 30, used=used * full, rubber_from=rubber * full)
    pressed = [at for at, text in enumerate(lines) if "▒" in text]
    assert abs(pressed[0] - rubber * (height - 1)) <= HALF
    assert pressed[-1] == height - 1
    filled = [at for at, text in enumerate(lines) if "░" in text]
    if used > 0.0 and pressed[0] > 0:
        assert filled[0] == 0
        assert abs(filled[-1] - min(used * (height - 1), pressed[0] - 1)) <= HALF


@given(
    ANY,
    st.lists(
        st.builds(Place, ANY, st.text(max_size=12), st.sampled_from(["", *LETTERS]), st.integers(0, 2)), max_size=9
    ),
    st.integers(0, 60),
    st.integers(0, 60),
    st.one_of(st.none(), ANY),
    st.one_of(st.none(), ANY),
)
def test_any_numbers_give_a_drawing_of_the_room_asked_for_or_none(
    full: float, places: list[Place], height: int, width: int, used: float | None, rubber: float | None
) -> None:
    lines = travel_drawing(full, tuple(places), height, width, used=used, rubber_from=rubber)
    if lines:
        assert [len(line) for line in lines] == [width] * height
        assert width >= LEAST_WIDTH
    else:
        assert height < LEAST_HEIGHT or width < LEAST_WIDTH or not 0.01 < full < 10_000


@given(TRAVEL, st.lists(SHARE, min_size=1, max_size=6), HEIGHT)
def test_words_keep_their_order_and_are_all_told(full: float, shares: list[float], height: int) -> None:
    words = [f"{at} {share:.2f}" for at, share in enumerate(sorted(shares))]
    places = tuple(Place(share * full, word) for share, word in zip(sorted(shares), words, strict=True))
    text = "\n".join(travel_drawing(full, places, height, 40))
    found = [text.index(word) for word in words]
    assert found == sorted(found)


def test_what_lies_beyond_the_travel_is_marked_as_such() -> None:
    lines = travel_drawing(100.0, (Place(130.0, "marker", "M", 2),), 11, 30)
    assert BEYOND in lines[-1]
    assert "M" not in "".join(lines)


JOB = put(
    FULL,
    front__travel_mm=120.0,
    rear__stroke_mm=60.0,
    rear__bump_rubber_mm=10.0,
    runs=(
        Run(time="10:00", front_marker_mm=100.0, rear_marker_mm=40.0),
        Run(front_marker_mm=112.0, rear_marker_mm=48.0),
    ),
)
"""Front sags 20 and 33 mm, rear 7.5 and 28.5 mm at the wheel with a ratio of 0.4."""
TUBE = re.compile(r"(?:\d+(?:\.\d)?|   ) ([┌│┤└][^┐│┘]{3}[┐│┘])")


def tubes(text: str) -> list[list[str]]:
    """The tubes on a screen, each as its lines."""
    rows = [TUBE.findall(line.split("▏", 1)[-1]) for line in text.splitlines()]
    return [[row[nth] for row in rows if len(row) > nth] for nth in range(max(map(len, rows)))]


def check(tube: list[str], full: float, places: dict[str, float]) -> None:
    """Every letter of a tube lies at its place."""
    assert (tube[0][0], tube[-1][0]) == ("┌", "└")
    for letter, value in places.items():
        (line,) = (at for at, text in enumerate(tube) if letter in text)
        assert abs(line - value / full * (len(tube) - 1)) <= HALF


async def test_front_and_rear_are_drawn_to_scale_where_there_is_room(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB)
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        text = shown(app)
        (fork,) = tubes(text)
        check(fork, 120.0, {"S": 20.0, "R": 33.0, "M": 112.0})
        for words in ("FORK, ALONG THE LEG, mm", "S static 20", "R rider 33", "M run 2 112", "left 8", "full 120"):
            assert words in text
        await pilot.press("f4")
        await at_rest(pilot)
        text = shown(app)
        (shock,) = tubes(text)
        check(shock, 60.0, {"S": 3.0, "R": 11.4, "M": 48.0})
        for words in ("SHOCK, ALONG ITS SHAFT, mm", "S static 3", "M run 2 48", "left 12", "rubber 50", "full 60"):
            assert words in text


async def test_both_ends_of_the_run_in_hand_are_drawn_beside_it(tmp_path: Path) -> None:
    app = app_on(tmp_path, JOB, "runs")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        fork, shock = tubes(shown(app))
        check(fork, 120.0, {"S": 20.0, "R": 33.0, "M": 112.0})
        check(shock, 60.0, {"S": 3.0, "R": 11.4, "M": 48.0})
        await pilot.press("pagedown")
        await at_rest(pilot)
        fork, shock = tubes(shown(app))
        check(fork, 120.0, {"M": 100.0})
        check(shock, 60.0, {"M": 40.0})


@pytest.mark.parametrize("screen", ["front", "rear", "runs"])
async def test_a_terminal_of_the_usual_size_keeps_its_room_for_figures(tmp_path: Path, screen: str) -> None:
    app = app_on(tmp_path, JOB, screen)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "┌" not in "".join(line.split("▏", 1)[-1] for line in shown(app).splitlines()[8:])


async def test_without_the_travel_it_says_what_it_waits_for_and_sags_are_drawn_as_they_come(tmp_path: Path) -> None:
    job: Job = a_job(("sag.front.hanging_mm.0", 140.0))
    app = app_on(tmp_path, job)
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        text = shown(app)
        assert "FORK, ALONG THE LEG" in text
        assert "needs fork travel" in text
    job = replace(JOB, runs=())
    app = app_on(tmp_path / "other", job)
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        (fork,) = tubes(shown(app))
        check(fork, 120.0, {"S": 20.0, "R": 33.0})
        assert "M" not in "".join(fork)
