"""What can wait gives way to the keys: collecting garbage, and work in the background over very many files."""

from __future__ import annotations

import asyncio
import gc
import time

from textual.worker import Worker

STEPS_AT_ONCE = 20
BREATH_S = 0.01
"""After so many steps work in the background leaves the processor to the screen for so long."""

STARTED_S = 0.3
"""So long after the screens are there the first figures have been drawn, and Python's own rounds may begin."""
RESTED_S = 0.6
"""Without a key for so long, nobody is likely to press one within the next hundredth of a second."""


class LowPriority:
    """Asked by work in the background between two of its steps: lets it breathe, and says whether to give it up.

    Args:
        worker: does the work.
    """

    def __init__(self, worker: Worker[None]) -> None:
        self._worker = worker
        self._steps = 0

    def given_up(self) -> bool:
        """Whether nobody wants the work any more."""
        self._steps += 1
        if self._steps % STEPS_AT_ONCE == 0:
            time.sleep(BREATH_S)
        return self._worker.is_cancelled


class IdleCollector:
    """Collects garbage when no key was pressed for a moment: a full collection takes longer than any key may wait.

    What is alive then is frozen, so that the collections Python starts by itself between keys look only at what is new.

    Args:
        loop: runs the screen.
    """

    def __init__(self, loop: asyncio.AbstractEventLoop) -> None:
        self._loop = loop
        self._last = 0.0
        self._due: asyncio.TimerHandle | None = None
        loop.call_later(STARTED_S, gc.enable)

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
