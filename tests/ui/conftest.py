"""The screens are run as the program runs them, but for what would be done over and over for hundreds of tests."""

from __future__ import annotations

import asyncio

import pytest
from textual.css.stylesheet import Stylesheet
from textual.pilot import Pilot

from stanchion.ui import idle
from textual_private import parsed_once, wait_for_busy_widgets_only


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
def _busy_widgets_only() -> None:
    """A sign from every widget after every key takes a sixth of a key."""
    wait_for_busy_widgets_only(Pilot)


@pytest.fixture(scope="session", autouse=True)
def _no_rests() -> None:
    """Whenever no key came for a moment, the program looks through all that is in memory: here that is every test."""
    idle.RESTED_S = 60.0
