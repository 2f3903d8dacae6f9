"""The long run over spoilt input: `python tests/hostile/fuzz.py [COUNT] [SEED]`. Tells the slowest of each reader."""

from __future__ import annotations

import sys
import tracemalloc
from pathlib import Path
from random import Random
from time import process_time

sys.path[:0] = [str(Path(__file__).parents[2] / "src"), str(Path(__file__).parents[1])]

from spoilt import readers  # noqa: E402


def main(count: int = 100_000, seed: int = 1) -> None:
    """Read so many inputs with every reader; an input that breaks a promise is shown and ends the run."""
    for name, reader in readers().items():
        dice = Random(seed)
        reader.read(reader.spoil(dice))
        slowest = (0.0, "")
        for at in range(count):
            given = reader.spoil(dice)
            began = process_time()
            try:
                reader.read(given)
            except Exception:
                print(f"{name}, input {at} of seed {seed}: {given!r}", flush=True)
                raise
            slowest = max(slowest, (process_time() - began, repr(given)[:200]), key=lambda pair: pair[0])
        tracemalloc.start()
        for _ in range(min(count, 2000)):
            reader.read(reader.spoil(dice))
        most = tracemalloc.get_traced_memory()[1] / 1e6
        tracemalloc.stop()
        print(f"{name:<12}{count} inputs, slowest {1000 * slowest[0]:.1f} ms, most memory {most:.1f} MB", flush=True)


if __name__ == "__main__":
    main(*(int(argument) for argument in sys.argv[1:]))
