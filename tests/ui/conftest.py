"""The screens are run as the program runs them."""

from __future__ import annotations

import asyncio

import pytest


@pytest.fixture(autouse=True)
async def tasks_as_in_the_program() -> None:
    """From Python 3.12 on Textual lets the program's tasks begin as soon as they are made, and those of its test runs not."""
    eager = getattr(asyncio, "eager_task_factory", None)
    if eager is not None:
        asyncio.get_running_loop().set_task_factory(eager)
