"""The long run over spoilt input: `python tests/hostile/fuzz.py [COUNT] [SEED] [READER ...]`.

Tells of each reader how many inputs it made something of, how long the slowest took and the most memory.
"""

from __future__ import annotations

import sys
import tracemalloc
from pathlib import Path
from random import Random
from time import process_time
from typing import Any

sys.path[:0] = [str(Path(__file__).parents[2] / "src"), str(Path(__file__).parents[1])]

from spoilt import Reader, readers  # noqa: E402

LONGEST_S = 0.020
"""No input may hold the program up for longer."""


def once(reader: Reader, given: Any) -> tuple[float, bool]:
    """Read one input: how long it took [s of the processor], and whether anything came of it."""
    began = process_time()
    used = reader.read(given)
    return process_time() - began, used


def run(name: str, reader: Reader, count: int, seed: int) -> None:
    """Read so many inputs; one that breaks a promise is shown and ends the run."""
    dice = Random(seed)
    once(reader, reader.spoil(dice))
    slowest, used = 0.0, 0
    for at in range(count):
        given = reader.spoil(dice)
        try:
            took, taken = once(reader, given)
            if took > LONGEST_S:  # the machine may have been busy with something else
                took = min(once(reader, given)[0] for _ in range(3))
            assert took <= LONGEST_S, f"{1000 * took:.1f} ms"
        except Exception:
            print(f"{name}, input {at} of seed {seed}: {given!r}", flush=True)
            raise
        slowest, used = max(slowest, took), used + taken
    tracemalloc.start()
    for _ in range(min(count, 2000)):
        reader.read(reader.spoil(dice))
    most = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    print(
        f"{name:<12}{count} inputs, {100 * used / count:.0f} % of them used, slowest {1000 * slowest:.1f} ms, "
        f"most memory {most:.1f} MB",
        flush=True,
    )


def main(arguments: list[str]) -> None:
    """Run every reader, or those named."""
    count = int(arguments[0]) if arguments else 100_000
    seed = int(arguments[1]) if len(arguments) > 1 else 1
    for name, reader in readers().items():
        if name in (arguments[2:] or [name]):
            run(name, reader, count, seed)


if __name__ == "__main__":
    main(sys.argv[1:])
