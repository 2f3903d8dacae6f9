"""Work that waits while keys are pressed: collecting garbage, and background work over many files."""

from __future__ import annotations

import asyncio
import gc
import time

from textual.worker import Worker

STEPS_AT_ONCE = 20
BREATH_S = 0.01
"""After every STEPS_AT_ONCE steps, background work pauses for this long."""

STARTED_S = 0.3
"""After this time the first figures have been drawn, and Python may collect garbage by itself."""
RESTED_S = 0.6
"""Without a key for this long, one is unlikely within the next hundredth of a second."""


class LowPriority:
    """Called by background work between two steps: pauses it now and then, and says whether to give it up.

    Args:
        worker: does the work.
    """

    def __init__(self, worker: Worker[None]) -> None:
        self._worker = worker
        self._steps = 0

    def given_up(self) -> bool:
        """Whether the work is no longer needed."""
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
        """Wait again, because a key was pressed."""
        self._last = self._loop.time()
        if self._due is None:
            self._due = self._loop.call_later(RESTED_S, self._look)

    def _look(self) -> None:
        remaining_s = self._last + RESTED_S - self._loop.time()
        if remaining_s > 0:
            self._due = self._loop.call_later(remaining_s, self._look)
            return
        self._due = None
        gc.unfreeze()
        gc.collect()
        gc.freeze()
