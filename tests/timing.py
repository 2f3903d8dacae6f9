"""Waiting for what is to come, and medians of times taken turn about so that other work falls on all alike."""

from __future__ import annotations

import asyncio
import statistics
from collections.abc import Callable, Mapping
from time import monotonic, perf_counter, sleep

from textual.app import App
from textual.pilot import Pilot

from textual_private import due_within, fault_of, has_a_frame_due, has_taken_all, tick

HANGS_S = 60.0
"""What has not come by then never will, on however busy a machine. No test is about a time: this only ends one that hangs."""
SOON_S = 0.5
TURNS_AT_ONCE = 50
"""An application that is still busy after so many turns of its loop waits for something else in this process."""
LOOKS_EVERY_S = 0.01
SHORT_LOOKS = 5
"""After each key work in the background is waited for so many looks; what takes longer is waited for by name."""
HELD_LOOKS = 300
"""Work in the background that a test itself holds up is not waited for longer: some 3 s, and more on a busy machine."""


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


async def settled(app: App[int]) -> None:
    """Wait until an application has taken every message and drawn what has changed, however long that takes."""
    end, turns, calm = monotonic() + HANGS_S, 0, 0
    while calm < 2 and app.is_running and app.screen_stack and fault_of(app) is None:
        if not has_taken_all(app):
            assert monotonic() < end, "the program takes no more messages"
            calm, turns = 0, turns + 1
        elif has_a_frame_due(app.screen):
            tick(app.screen)
            calm = calm + 1 if has_a_frame_due(app.screen) else 0  # a screen that may not draw yet stays as it is
        else:
            calm += 1
        await asyncio.sleep(0.0 if turns < TURNS_AT_ONCE else 0.001)


async def settled_with_short_work(app: App[int]) -> None:
    """The same, and short work in the background is done."""
    await settled(app)
    for _ in range(SHORT_LOOKS):
        if all(worker.is_finished for worker in app.workers):
            return
        await asyncio.sleep(LOOKS_EVERY_S)
        await settled(app)


async def at_rest(pilot: Pilot[int]) -> None:
    """Wait until the application has taken every message, its work in the background is done, and the screen drawn."""
    await settled(pilot.app)
    for _ in range(HELD_LOOKS):
        if all(worker.is_finished for worker in pilot.app.workers) and not due_within(pilot.app, SOON_S):
            return
        await asyncio.sleep(LOOKS_EVERY_S)
        await settled(pilot.app)


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
