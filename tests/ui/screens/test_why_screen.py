"""Why a figure is what it is, by one key on every screen."""

from __future__ import annotations

from pathlib import Path

import pytest

from complete_job import complete_job
from driving import USUAL, WIDE, app_on, on_disk, shown
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.store.samples import samples
from stanchion.ui.core import PARTS
from stanchion.ui.screens.why import WhyScreen
from timing import at_rest, eventually


def well_set() -> Job:
    return next(loads(sample.data).job for sample in samples() if sample.name == "well_set")


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_it_leads_from_a_figure_over_its_steps_to_a_reading(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(tmp_path, well_set(), "sag")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        before = on_disk(app)
        await pilot.press("f12")
        await eventually(pilot, lambda: "Measured static sag, front: 17.5 mm" in shown(app), lambda: shown(app))
        assert shown(app).index("Measured static sag, front") < shown(app).index("Measured static sag, rear"), (
            "of the field in hand first"
        )
        await pilot.press("enter")
        await at_rest(pilot)
        assert "mean of L1, wheel hanging" in shown(app)
        assert "= 142 − (" in shown(app)
        await eventually(pilot, lambda: "Uncertainty: ± 0.8 mm (95 %); the largest part" in shown(app))
        while "Enter: how" not in highlighted(app):
            await pilot.press("down")
            await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        assert "= (142 + 142 + 142) / 3" in shown(app)
        await pilot.press("escape")
        await at_rest(pilot)
        assert "Enter: how" in highlighted(app), "back on the step it came from"
        await pilot.press("enter")
        await at_rest(pilot)
        while "reading 2 (" not in highlighted(app):
            await pilot.press("down")
            await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        assert not isinstance(app.screen, WhyScreen)
        assert app.shown.current_field == ("sag", "front", "hanging_mm", 1)
        assert on_disk(app) == before


def highlighted(app: object) -> str:
    from stanchion.ui.widgets.choices import Choices

    choices = app.screen.query_one(Choices)  # type: ignore[attr-defined]
    at = choices.highlighted
    return "" if at is None else str(choices.options[at].prompt)


@pytest.mark.parametrize("part", [part for part in PARTS if part not in ("earlier", "worklist")])
async def test_every_screen_of_a_job_has_it(tmp_path: Path, part: str) -> None:
    app = app_on(tmp_path, complete_job(), part)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("escape", "?")
        await eventually(pilot, lambda: isinstance(app.screen, WhyScreen) and "Following" not in shown(app))
        assert ": " in shown(app).splitlines()[2], shown(app)
        await pilot.press("f12")
        await at_rest(pilot)
        assert not isinstance(app.screen, WhyScreen)


async def test_it_begins_with_what_the_screen_shows_and_letters_narrow_it(tmp_path: Path) -> None:
    app = app_on(tmp_path, well_set(), "front")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f12")
        await eventually(pilot, lambda: "Installed preload" in shown(app), lambda: shown(app))
        rows = rows_of(app)
        assert [row.partition(",")[0] for row in rows[:3]] == ["Installed preload", "Preload now", "Headroom out"]
        assert rows.index("Combined fork rate, both legs together: 19.00 N/mm") < rows.index("Also used here")
        assert rows.index("Also used here") < rows.index("Predicted static sag, front: 17.2 mm")
        assert highlighted(app).startswith("Force now"), "the figure nearest to the spring rate in hand"
        await pilot.press("p", "r", "e", "space", "s", "a")
        await at_rest(pilot)
        assert rows_of(app)[0] == "Predicted static sag, front: 17.2 mm"
        assert all("sag" in row and "pre" in row.lower() for row in rows_of(app)), rows_of(app)
        await pilot.press("backspace", "z", "z")
        await at_rest(pilot)
        assert rows_of(app) == ["No figure has these letters."]
        await pilot.press("escape")
        await at_rest(pilot)
        assert rows_of(app) == rows


def rows_of(app: object) -> list[str]:
    from stanchion.ui.widgets.choices import Choices

    return [str(option.prompt) for option in app.screen.query_one(Choices).options]  # type: ignore[attr-defined]
