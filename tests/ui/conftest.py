"""The screens are run as the program runs them, but for what would be done over and over for hundreds of tests."""

from __future__ import annotations

import asyncio

import pytest
from textual.app import App
from textual.css.stylesheet import Stylesheet
from textual.pilot import Pilot

from stanchion.ui import idle
from stanchion.ui.commands import merging
from textual_private import (
    Compositor,
    draw_first_and_last,
    draw_update,
    let_pilots_wait_by,
    parsed_once,
)
from timing import settled_with_short_work


@pytest.fixture(autouse=True)
async def tasks_as_in_the_program() -> None:
    """From Python 3.12 on Textual lets the program's tasks begin as soon as they are made, and those of its test runs not."""
    eager = getattr(asyncio, "eager_task_factory", None)
    if eager is not None:
        asyncio.get_running_loop().set_task_factory(eager)


@pytest.fixture(scope="session", autouse=True)
def _parsed_once() -> None:
    """Parsing the same stylesheets anew takes an eighth of each start of the program."""
    parsed_once(Stylesheet)


@pytest.fixture(scope="session", autouse=True)
def _exact_waits() -> None:
    """Most of the time of a test would be waits for nothing."""
    let_pilots_wait_by(settled_with_short_work, App, Pilot)


@pytest.fixture(scope="session", autouse=True)
def _no_rests() -> None:
    """Whenever no key came for a moment, the program looks through all that is in memory: here that is every test."""
    idle.RESTED_S = 60.0


@pytest.fixture(scope="session", autouse=True)
def _copies_looked_for_at_once() -> None:
    """The program looks for copies of a job a third of a second after opening it, and each test waits until it has."""
    merging.LOOK_AFTER_S = 0.01


@pytest.fixture(scope="session", autouse=True)
def _frames_as_looked_at() -> None:
    """Frames that nobody looks at take a quarter of a test."""
    draw_first_and_last(Compositor, App)


@pytest.fixture
def every_frame(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every frame is drawn, as in a terminal."""
    monkeypatch.setattr(Compositor, "render_update", draw_update)
