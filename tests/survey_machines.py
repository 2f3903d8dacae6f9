"""Holds the verdicts on random machines against the machines: `python tests/survey_machines.py 2000 --seed 1`."""

from __future__ import annotations

import argparse
import multiprocessing
import sys
from collections import Counter, defaultdict
from functools import partial
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]

from true_machines.checks import CHECKS  # noqa: E402
from true_machines.judged import Judged  # noqa: E402
from true_machines.machines import case, described  # noqa: E402
from true_machines.to_the_end import carried_to_the_end  # noqa: E402


def found_at(seed: int, *, carried_out: bool = False) -> list[tuple[str, str, int, str, str]]:
    """Every contradiction of one machine: kind, end, seed, how it was written down, the words.

    Args:
        seed: the machine.
        carried_out: only what comes of its advice, carried out to the end.
    """
    made = case(seed)
    judged = Judged(made)
    found = []
    for check in (carried_to_the_end,) if carried_out else CHECKS:
        found += [(one.kind, one.where, seed, made.mode, one.shown) for one in check(judged)]
    return found


def main() -> None:
    """Survey so many machines and print the table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("machines", type=int, nargs="?", default=2000)
    asked.add_argument("--seed", type=int, default=1, help="seed of the first machine; the others follow")
    asked.add_argument("--examples", type=int, default=2, help="examples of each kind")
    asked.add_argument("--only", default="", help="kinds that begin with this")
    asked.add_argument("--jobs", type=int, default=1, help="processes at once")
    asked.add_argument("--carried-out", action="store_true", help="only the advice, carried out to the end")
    options = asked.parse_args()
    found_by = partial(found_at, carried_out=options.carried_out)
    seeds = range(options.seed, options.seed + options.machines)
    if options.jobs > 1:
        with multiprocessing.Pool(options.jobs) as pool:
            found = [one for each in pool.imap(found_by, seeds, 20) for one in each]
    else:
        found = [one for seed in seeds for one in found_by(seed)]
    found = [one for one in found if one[0].startswith(options.only)]
    counts = Counter(kind for kind, *_ in found)
    ends = Counter(kind for kind, _ in {(kind, (seed, end)) for kind, end, seed, *_ in found})
    seeds_of: dict[str, list[int]] = defaultdict(list)
    for kind, _, seed, *_ in found:
        if seed not in seeds_of[kind]:
            seeds_of[kind].append(seed)
    wrong = {(seed, end) for _, end, seed, *_ in found}
    letters = Counter(letter for letter, _ in {(kind[0], (seed, end)) for kind, end, seed, *_ in found})
    print(
        f"{options.machines} machines from seed {options.seed}: {len(wrong)} of {2 * options.machines} ends contradicted"
    )
    print("Ends by letter: " + ", ".join(f"{letter} {letters[letter]}" for letter in sorted(letters)) + "\n")
    print("| kind of contradiction | ends | found | seeds |\n| --- | ---: | ---: | --- |")
    for kind in sorted(counts):
        print(f"| {kind} | {ends[kind]} | {counts[kind]} | {' '.join(map(str, seeds_of[kind][:5]))} |")
    print("\nExamples")
    for kind in sorted(counts):
        for _, end, seed, mode, shown in [one for one in found if one[0] == kind][: options.examples]:
            print(f"\n{kind} (seed {seed}, {mode})\n  {described(case(seed), end)}\n  {shown}")
    raise SystemExit(1 if found else 0)


if __name__ == "__main__":
    main()
