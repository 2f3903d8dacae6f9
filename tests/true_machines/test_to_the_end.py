"""Advice carried out to the letter ends with both sags in, or with an honest word, in as few works as it promises.

For more machines: `python tests/survey_machines.py 400 --seed 1102001 --carried-out`.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import cast

import pytest

from stanchion.job.model import ENDS, End
from stanchion.judgement.results.assessment import Assessment
from true_machines.asks import Ask
from true_machines.judged import Judged, asked_at
from true_machines.machines import case
from true_machines.to_the_end import carried_to_the_end, followed

FIRST, MACHINES, AT_ONCE = 1101001, 60, 15

ONCE_WRONG = (1102158, 1102322)
"""Forks whose top-out spring kept static sag low: the springs named for rider sag alone took turns for static sag then."""


@pytest.mark.parametrize("start", range(FIRST, FIRST + MACHINES, AT_ONCE))
def test_carried_out_it_comes_to_a_good_end(start: int) -> None:
    seeds = (*range(start, start + AT_ONCE), *(ONCE_WRONG if start == FIRST else ()))
    found = [(seed, one) for seed in seeds for one in carried_to_the_end(Judged(case(seed)))]
    assert not found, "\n".join(f"seed {seed}, {one.where}, {one.kind}: {one.shown}" for seed, one in found)


def test_there_is_work_of_every_kind_to_carry_out() -> None:
    judged = [Judged(case(seed)) for seed in range(FIRST, FIRST + MACHINES)]
    courses = [followed(one, end) for one in judged if one.believable for end in ENDS]
    works = Counter(ask.work for course in courses if course is not None for ask in course.done)
    assert all(works[work] >= 3 for work in ("turns", "spacer", "spring")), works
    assert sum(course is None for course in courses) <= 0.05 * len(courses)


@pytest.mark.parametrize("factor", [-1.0, 2.0])
def test_work_the_wrong_way_or_twice_as_much_is_found(factor: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """Turns and spacers the wrong way, or twice as far; the spring of 0.7 times the rate, or with twice the preload."""

    def wrongly(assessment: Assessment, end: End) -> Ask | None:
        ask = asked_at(assessment, end)
        if ask is None or ask.work not in ("turns", "spacer", "spring"):
            return ask
        values = dict(ask.finding.values)
        for name in ("preload_mm", "turns", "spacer_change_mm", "new_installed_mm", "new_preload_mm"):
            if isinstance(values.get(name), float):
                values[name] = abs(factor) * cast("float", values[name])
        if factor < 0.0 and ask.work == "spring":
            rate = cast("float | None", values.get("new_rate_n_per_mm"))
            values["new_rate_n_per_mm"] = None if rate is None else 0.7 * rate
        elif factor < 0.0:
            values["turned_way"] = "in" if values["turned_way"] == "out" else "out"
            ask = replace(ask, way="less" if ask.way == "more" else "more")
        return replace(ask, finding=replace(ask.finding, values=values))

    machines = [Judged(case(seed)) for seed in range(FIRST, FIRST + 30)]
    asked = {
        (one.case.seed, end)
        for one in machines
        if one.case.mode in ("exact", "unread")
        for end in ENDS
        if (ask := asked_at(one.assessment, end)) is not None and ask.work in ("turns", "spacer", "spring")
    }
    monkeypatch.setattr("true_machines.to_the_end.asked_at", wrongly)
    found = {(one.case.seed, wrong.where) for one in machines for wrong in carried_to_the_end(one)}
    assert len(asked) >= 10
    assert len(asked & found) >= 0.8 * len(asked), asked - found
