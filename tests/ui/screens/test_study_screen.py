"""The study of how well readings repeat, by keys alone: from Sag to the figure that changes, and into the next job."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from driving import USUAL, WIDE, a_job, app_on, on_disk, shown, typed
from stanchion.job.repeatability import Repeatability
from stanchion.job.study import Study
from stanchion.judgement.sag.own_reading import repeatability_of
from stanchion.store.studies import add_study, load_studies
from stanchion.ui.screens.study import StudyScreen
from timing import at_rest, eventually

BASE = {"front_down": 510.0, "front_up": 514.0, "rear_down": 620.0, "rear_up": 623.0}


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_a_study_of_the_machine_alone_by_keys(tmp_path: Path, size: tuple[int, int]) -> None:
    once = [
        (f"sag.front.{name}.0", value)
        for name, value in (("hanging_mm", 548.0), ("static.down_mm", 518.0), ("static.up_mm", 522.0))
    ]
    app = app_on(tmp_path, a_job(*once), "sag")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+d")
        await eventually(pilot, lambda: "No study yet" in shown(app))
        await pilot.press("enter")
        await eventually(pilot, lambda: isinstance(app.screen, StudyScreen))
        screen = app.screen
        assert isinstance(screen, StudyScreen)
        for name in ("Anna", "Ben"):
            await typed(pilot, name)
            await pilot.press("enter")
        await pilot.press("enter")  # a tape in mm
        await eventually(pilot, lambda: "The order" in shown(app))
        assert shown(app).count("Anna, front") == shown(app).count("Ben, rear") == 3
        await pilot.press("enter")
        for number, one in enumerate(screen.going.asked[4:]):
            await at_rest(pilot)
            assert screen.going.one == one
            assert str(one.key[1]).partition("_")[2] in shown(app).splitlines()[1].casefold()
            await typed(pilot, f"{BASE[str(one.key[1])] + (number % 4) * 0.5}")
            await pilot.press("enter")
        await eventually(pilot, lambda: "what the study gives" in shown(app))
        assert "One reading of Anna" in shown(app)
        await pilot.press("enter")
        await eventually(pilot, lambda: on_disk(app).repeatability.by == "Anna")
        kept = load_studies(app.workspace.places).studies
        assert on_disk(app).repeatability == repeatability_of(kept)
        session = app.session
        assert session is not None
        assert not session.assessment.sag.front.static.single_readings
        await pilot.press("ctrl+z")
        await eventually(pilot, lambda: on_disk(app).repeatability == Repeatability())
        await pilot.press("ctrl+d")
        await eventually(pilot, lambda: "Use the studies of Anna" in shown(app))


async def test_a_study_that_is_left_is_not_kept_and_the_job_stays(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "sag")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+d")
        await eventually(pilot, lambda: "No study yet" in shown(app))
        await pilot.press("down", "down", "enter")
        await eventually(pilot, lambda: isinstance(app.screen, StudyScreen))
        await typed(pilot, "Anna")
        await pilot.press("enter", "escape")
        await eventually(pilot, lambda: not isinstance(app.screen, StudyScreen))
        assert load_studies(app.workspace.places).studies == ()
        await pilot.press("ctrl+d")
        await eventually(pilot, lambda: "Go on with the study begun" in shown(app))
        await pilot.press("enter")
        await eventually(pilot, lambda: "Second person" in shown(app))


async def test_a_new_job_has_the_technicians_own_study(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "machine")
    readings = tuple(
        tuple(tuple(base + 0.5 * ((n + person) % 3) for n in range(3)) for person in range(2)) for base in BASE.values()
    )
    add_study(Study(of="alone", on=date(2026, 3, 7), by="Anna", readings=readings), app.workspace.places)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f8")
        await eventually(pilot, lambda: "The next job" in shown(app))
        await pilot.press("f8")
        await eventually(pilot, lambda: app.session is not None and app.session.job.repeatability.by == "Anna")
        session = app.session
        assert session is not None
        assert session.job.repeatability.alone_mm is not None
