"""What is wrong with the user's own files is told at the start, whatever screen opens."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from textual.widgets import Static

from complete_job import complete_job
from stanchion.bench.workspace import Workspace
from stanchion.job.codec import dumps
from stanchion.store.paths import Places
from stanchion.store.settings import LastPlace, save_last_place
from stanchion.ui.app import StanchionApp
from stanchion.ui.keys import KEYS
from stanchion.ui.messages import MOST_SHOWN
from stanchion.ui.screens.dialogs import HelpScreen
from textual_private import messages

CONFIG = {
    "them = 1": "'them' is not a setting this version knows; it is left alone. The nearest is 'theme'.",
    'theme = "nigth"': "there is no theme 'nigth'; 'daylight' is used. The nearest is 'night'.",
    '[keys]\n"undoo" = "ctrl+b"': "keys.undoo: there is no such action. The nearest is 'undo'.",
    '[keys]\n"undo" = "f1"': "keys.undo: already taken: f1 (help).",
    '[units]\nlenths = "in"': "'units.lenths' is not a setting this version knows; it is left alone.",
}


@pytest.fixture
def places(tmp_path: Path) -> Places:
    """The folders, with a job that was open last."""
    where = Places(tmp_path / "jobs", tmp_path / "config", tmp_path / "state", tmp_path / "cache")
    where.jobs.mkdir()
    where.config.mkdir()
    (where.jobs / "one.toml").write_bytes(dumps(complete_job()))
    return where


def app_with(places: Places, config: str, screen: str = "", sample: str | None = None) -> StanchionApp:
    (places.config / "config.toml").write_text(config)
    if screen:
        save_last_place(LastPlace("one.toml", screen), places)
    return StanchionApp(Workspace(places), sample, lambda: dt.date(2026, 5, 31))


def said(app: StanchionApp) -> str:
    return " ".join(messages(app))


@pytest.mark.parametrize("config", CONFIG)
async def test_with_a_job_open_it_is_said_over_its_screen(places: Places, config: str) -> None:
    app = app_with(places, config, "sag")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert app.current_mode == "sag"
        assert CONFIG[config] in said(app)


async def test_with_a_sample_opened_too(places: Places) -> None:
    app = app_with(places, "them = 1", sample="well_set")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert CONFIG["them = 1"] in said(app)


async def test_with_no_job_open_it_stands_below_the_list(places: Places) -> None:
    app = app_with(places, "them = 1")
    async with app.run_test(size=(80, 24)) as pilot:
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert app.current_mode == "jobs"
        words = str(app.screen.query_one("#jobs-message", Static).render())
        assert "'them' is not a setting" in words


async def test_of_many_there_is_room_for_a_few_and_the_rest_is_counted(places: Places) -> None:
    app = app_with(places, "\n".join(f"a{number} = 1" for number in range(9)), "machine")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert said(app).count("is not a setting") == MOST_SHOWN - 1
        assert f"{10 - MOST_SHOWN} more things cannot be used: `stanchion doctor` names them." in said(app)


async def test_the_help_lists_the_name_of_every_action(places: Places) -> None:
    app = app_with(places, "", "machine")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("f1")
        await pilot.pause()
        assert isinstance(app.screen, HelpScreen)
        words = "\n".join(str(one.render()) for one in app.screen.query("Static"))
        assert "NAMES FOR [KEYS] IN CONFIG.TOML" in words
        for key in KEYS:
            assert f"\n{key.id} " in words
