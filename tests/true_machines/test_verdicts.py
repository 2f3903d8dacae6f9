"""What is said of random machines never contradicts itself, nor the machine as it truly is.

A few hundred machines here. For 2,000 of them, with a table of what was found and the seeds to see it again:

    python tests/survey_machines.py 2000 --seed 1 --jobs 2

and for one machine, `python tests/survey_machines.py 1 --seed 57`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache

import pytest

from true_machines.checks import CHECKS
from true_machines.judged import Contradiction, Judged
from true_machines.machines import case

SEEDS = range(5001, 5251)

Check = Callable[[Judged], Iterator[Contradiction]]


@cache
def judged(seed: int) -> Judged:
    """The machine of that seed, judged once for all checks."""
    return Judged(case(seed))


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.__name__)
def test_no_machine_is_contradicted(check: Check) -> None:
    found = [(one.kind, seed, one.where, one.shown) for seed in SEEDS for one in check(judged(seed))]
    first = {kind: (seed, where, shown) for kind, seed, where, shown in reversed(found)}
    told = [f"{count} × {kind}: seed {first[kind]}" for kind, count in Counter(kind for kind, *_ in found).items()]
    assert not found, "\n".join(told)


def test_the_machines_are_of_every_kind() -> None:
    """A check that finds nothing has had something to find it in."""
    lightest = Counter((end, judged(seed).truth(end).lightest) for seed in SEEDS[:100] for end in ("front", "rear"))
    assert all(lightest["front", work] >= 5 for work in ("none", "turns", "spacer", "spring"))
    assert all(lightest["rear", work] >= 5 for work in ("none", "turns", "spring"))
    assert {judged(seed).case.mode for seed in SEEDS} == {"exact", "noise", "drift", "false", "doubtful", "unread"}
