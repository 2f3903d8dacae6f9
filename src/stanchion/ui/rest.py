"""Garbage is collected while the keys rest: a full round takes longer than any key may wait."""

from __future__ import annotations

import asyncio
import gc

RESTED_S = 0.6
"""Without a key for so long, nobody is likely to press one within the next hundredth of a second."""


class Rest:
    """Waits for the keys to rest, and collects then.

    What is alive then is put aside, so that the rounds Python begins by itself amid the keys look at what is new only.

    Args:
        loop: runs the screen.
    """

    def __init__(self, loop: asyncio.AbstractEventLoop) -> None:
        self._loop = loop
        self._last = 0.0
        self._due: asyncio.TimerHandle | None = None

    def disturb(self) -> None:
        """A key came."""
        self._last = self._loop.time()
        if self._due is None:
            self._due = self._loop.call_later(RESTED_S, self._look)

    def _look(self) -> None:
        left = self._last + RESTED_S - self._loop.time()
        if left > 0:
            self._due = self._loop.call_later(left, self._look)
            return
        self._due = None
        gc.unfreeze()
        gc.collect()
        gc.freeze()
