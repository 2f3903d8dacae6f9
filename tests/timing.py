"""Medians of times, taken turn about so that other work on the machine falls on all alike."""

from __future__ import annotations

import statistics
from collections.abc import Callable, Mapping
from time import perf_counter


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
