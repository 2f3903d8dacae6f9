"""The screens are run as the program runs them."""

from __future__ import annotations

import asyncio

import pytest
from textual.pilot import Pilot

from timing import at_rest

PAUSE_S = 0.1
"""A pause as long as this is made for what the application does meanwhile; a shorter one looks at it on the way."""


@pytest.fixture(autouse=True)
async def tasks_as_in_the_program() -> None:
    """From Python 3.12 on Textual lets the program's tasks begin as soon as they are made, and those of its test runs not."""
    eager = getattr(asyncio, "eager_task_factory", None)
    if eager is not None:
        asyncio.get_running_loop().set_task_factory(eager)


@pytest.fixture(autouse=True)
def pauses_end_when_the_work_is_done(monkeypatch: pytest.MonkeyPatch) -> None:
    """On a busy machine a pause is as long as the work it was made for."""
    only_time = Pilot.pause

    async def pause(pilot: Pilot[int], delay: float | None = None) -> None:
        await only_time(pilot, delay)
        if delay is not None and delay >= PAUSE_S:
            await at_rest(pilot)

    monkeypatch.setattr(Pilot, "pause", pause)
