"""Waiting for what is to come, and medians of times taken turn about so that other work falls on all alike."""

from __future__ import annotations

import asyncio
import statistics
from collections.abc import Callable, Mapping
from time import monotonic, perf_counter, sleep

from textual.constants import MAX_FPS
from textual.pilot import Pilot

from textual_private import due_within, widgets_have_taken_all

HANGS_S = 60.0
"""What has not come by then never will, on however busy a machine. No test is about a time: this only ends one that hangs."""
DRAWN_S = 1.2 / MAX_FPS
"""Textual draws what has changed at its next tick."""
SOON_S = 0.5
HELD_S = 3.0
"""Work in the background that a test itself holds up is not waited for longer."""


def until(true: Callable[[], bool], within: float = HANGS_S) -> None:
    """Wait for something that another thread or process does."""
    end = monotonic() + within
    while not true():
        assert monotonic() < end, "it never came"
        sleep(0.005)


async def eventually(pilot: Pilot[int], true: Callable[[], bool], describe: Callable[[], object] = str) -> None:
    """Wait for something that the application does; where it never comes, say what there is instead."""
    end = monotonic() + HANGS_S
    while not true():
        assert monotonic() < end, f"it never came\n{describe()}"
        assert pilot.app.is_running, "the program has ended"
        await asyncio.sleep(0.01)


async def at_rest(pilot: Pilot[int]) -> None:
    """Wait until the application has taken every message, its work in the background is done, and the screen drawn."""
    end = monotonic() + HELD_S
    quiet = 0
    while quiet < 2 and monotonic() < end:
        if any(not worker.is_finished for worker in pilot.app.workers) or due_within(pilot.app, SOON_S):
            quiet = 0
        else:
            await widgets_have_taken_all(pilot)
            quiet += 1
        await asyncio.sleep(DRAWN_S)


def medians_ms(
    works: Mapping[str, Callable[[], object]], rounds: int = 60, clock: Callable[[], float] = perf_counter
) -> dict[str, float]:
    """The median time of each piece of work [ms], the pieces run in turn in every round.

    Args:
        works: the pieces.
        rounds: how often each is run.
        clock: seconds; time.process_time counts only what this process had of the processor.
    """
    taken: dict[str, list[float]] = {name: [] for name in works}
    for work in works.values():
        work()
    for _ in range(rounds):
        for name, work in works.items():
            start = clock()
            work()
            taken[name].append(clock() - start)
    return {name: 1000.0 * statistics.median(times) for name, times in taken.items()}


def table(title: str, medians: Mapping[str, float], unit_of: str) -> str:
    """Times, and their ratio to one of them."""
    lines = [title]
    for name, ms in medians.items():
        lines.append(f"  {name:<34}{ms:9.3f} ms {ms / medians[unit_of]:8.2f} x {unit_of}")
    return "\n".join(lines)
