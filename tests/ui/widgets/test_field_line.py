"""What is told of the field in hand, and how its value stands in its cell."""

from __future__ import annotations

from pathlib import Path

import pytest

from driving import USUAL, a_job, app_on, bench, on_disk, shown, typed
from stanchion.bench.session import Session
from stanchion.job.edit import spec_at
from stanchion.job.spec import Kind, Number
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.ui.field_line import field_line
from stanchion.units.known_units import DISPLAY_UNITS, Units
from stanchion.units.quantity import show
from timing import at_rest


def line_of(text: str) -> str:
    """The line of the field in hand, above the warnings of a screen of 24 lines."""
    return text.splitlines()[-6].strip()


LINES_OF = (
    (("adjuster", "now"), "Fork, both legs: adjuster now: 3 turns"),
    (("compression", "now"), "Fork, both legs: compression now: 12 clicks"),
    (("spring", "set_length_at"), "empty, taken as fully out"),
    (("read_at",), "on the damper's mechanical stop · Space changes it"),
    (("counting",), "turns in from fully out · Space changes it"),
    (("oil",), "Fork, both legs: oil"),
)


async def test_the_field_in_hand_is_told_with_its_unit_and_how_it_is_changed(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("front.left.adjuster.now", 3.0), ("front.left.compression.now", 12.0)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        for field, expected in LINES_OF:
            app.jump(next(path for path in bench(app).sheet.grid.places if path[-len(field) :] == field))
            await at_rest(pilot)
            line = line_of(shown(app))
            assert line.endswith(expected), field
            assert not line.endswith(":"), field


async def test_a_field_that_cannot_be_read_says_what_the_job_keeps_and_its_warning_says_why(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("front.left.spring.rate_n_per_mm", 9.5)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await typed(pilot, "0.95kg")
        text = shown(app)
        assert line_of(text) == "Spring rate: ✖ not read; the job keeps: 9.50 N/mm"
        assert text.count("is not a unit of this field") == 1
        await pilot.press("f6")
        await at_rest(pilot)
        assert "NOT READ Fork, both legs: spring rate" in shown(app)


async def test_a_text_longer_than_its_field_is_marked_at_each_end_that_is_out_of_sight(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("job.venue", "Windfall Ring, the short northern loop")))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        app.jump(("job", "venue"))
        await at_rest(pilot)
        for keys, seen in (
            (("home",), "Windfall Ring, the shor…"),
            (("end",), "…he short northern loop "),
            (["left"] * 30, " Ring, the short northe…"),
            (("right",), "…Ring, the short northe…"),
        ):
            await pilot.press(*keys)
            await at_rest(pilot)
            assert seen in shown(app), keys


async def test_a_value_in_another_unit_is_shown_with_the_decimals_it_deserves_and_kept_as_it_was(
    tmp_path: Path,
) -> None:
    app = app_on(tmp_path, a_job(("rear.spring.rate_n_per_mm", 95.0)), "rear")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("escape", "k")  # N/mm to kg/mm
        await at_rest(pilot)
        assert "9.687 " in shown(app)
        await pilot.press("down", "up", "enter")
        await at_rest(pilot)
        assert on_disk(app).rear.spring.rate_n_per_mm == 95.0
        await pilot.press("up", "end", "backspace")
        await at_rest(pilot)
        assert on_disk(app).rear.spring.rate_n_per_mm == pytest.approx(9.68 * 9.80665)


async def test_a_piece_that_was_emptied_is_told_as_empty_though_it_goes_only_when_it_is_left(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("front.left.stack.washers_mm", (1.5, 2.0))))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        app.jump(("front", "left", "stack", "washers_mm", 1))
        await at_rest(pilot)
        assert line_of(shown(app)) == "Fork, both legs: washer: 2 mm"
        await pilot.press("delete")
        await at_rest(pilot)
        assert line_of(shown(app)) == "Fork, both legs: washer: empty"
        await pilot.press("up")
        assert on_disk(app).front.left.stack.washers_mm == (1.5,)


async def test_a_large_figure_is_never_cut(tmp_path: Path) -> None:
    lengths = (("front.left.spring.free_length_mm", 24.5), ("front.left.spring.set_length_mm", 245.0))
    app = app_on(tmp_path, a_job(*lengths))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        digits = app.screen.query_one(".first")
        assert digits.value == "−220"  # type: ignore[attr-defined]
        assert digits.size.width >= 3 * 4


@pytest.mark.parametrize(
    "units", [Units(lengths, rates) for lengths in DISPLAY_UNITS[Kind.LENGTH] for rates in DISPLAY_UNITS[Kind.RATE]]
)
def test_a_value_at_the_end_of_its_range_is_told_in_every_unit(units: Units) -> None:
    """Rounded in another unit it may be one that could not be typed: 0.1 N/mm is shown as 0.01 kg/mm."""
    profiles = load_profiles()
    for path in (("front", "left", "spring", "rate_n_per_mm"), ("front", "left", "spring", "set_length_mm")):
        spec = spec_at(path)
        assert isinstance(spec, Number)
        for value in (spec.low, spec.high):
            session = Session(a_job((".".join(path), value)), profiles, None, units=units)
            assert field_line(session, path, "", 80).plain.strip().endswith(show(value, spec.kind, units).split()[-1])
