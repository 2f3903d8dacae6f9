"""Garbage waits for the keys to rest, and goes then."""

from __future__ import annotations

import asyncio
import gc
import weakref
from collections.abc import Iterator

import pytest

from stanchion.ui import idle
from stanchion.ui.idle import IdleCollector
from timing import HANGS_S


class Circle:
    """Refers to itself, so that only a collection takes it away."""

    def __init__(self) -> None:
        self.me = self


@pytest.fixture(autouse=True)
def nothing_collects_by_itself(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(idle, "RESTED_S", 0.1)
    monkeypatch.setattr(idle, "STARTED_S", 1.0)
    gc.unfreeze()
    gc.disable()
    yield
    gc.enable()
    gc.collect()
    gc.freeze()  # as after collecting the tests


async def gone(circle: weakref.ref[Circle]) -> None:
    """Wait until it has been collected."""
    async with asyncio.timeout(HANGS_S):
        while circle() is not None:
            await asyncio.sleep(0.01)


async def test_garbage_goes_when_the_keys_rest_and_not_before() -> None:
    circle = weakref.ref(Circle())
    resting = IdleCollector(asyncio.get_running_loop())
    for _ in range(5):
        resting.disturb()
        await asyncio.sleep(0.04)
        assert circle() is not None
    await gone(circle)


async def test_what_was_put_aside_goes_at_a_later_rest() -> None:
    resting = IdleCollector(asyncio.get_running_loop())
    alive = Circle()
    circle = weakref.ref(alive)
    resting.disturb()
    async with asyncio.timeout(HANGS_S):
        while not gc.get_freeze_count():
            await asyncio.sleep(0.01)
    del alive
    assert circle() is not None
    resting.disturb()
    await gone(circle)


async def test_python_s_own_rounds_begin_a_moment_after_the_start(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(idle, "STARTED_S", 0.05)
    IdleCollector(asyncio.get_running_loop())
    assert not gc.isenabled()
    async with asyncio.timeout(HANGS_S):
        while not gc.isenabled():
            await asyncio.sleep(0.01)
