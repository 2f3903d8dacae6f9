"""What is said of random machines never contradicts itself, nor the machine as it truly is.

A few hundred machines here. For 2,000 of them, with a table of what was found and the seeds to see it again:

    python tests/survey_machines.py 2000 --seed 1 --jobs 2

and for one machine, `python tests/survey_machines.py 1 --seed 57`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from typing import cast

import pytest

from stanchion.job.model import ENDS, End, Readings, SagEnd
from stanchion.judgement.results.assessment import Assessment
from true_machines.asks import Ask
from true_machines.checks import CHECKS
from true_machines.judged import Contradiction, Judged, asked_at
from true_machines.legs import legs_by_another_name
from true_machines.machines import case
from true_machines.whole_list import opposed
from true_machines.work_done import left_open, reading_off, remedies_keep_their_promise, unread_off

ONCE_WRONG = (70247, 70597, 80480, 91148, 110964, 111190, 731312, 852060, 731266, 852356, 930054, 930058, 1201125)
"""Machines whose advice led there and back, to a spacer or turns that did not do, to a longer spacer beside less preload,
to one leg's preload for both, to another spring where a shorter or a longer spacer does, or to turns while the list put
other springs first; or whose mixed pairs stood in the legs by the legs' names."""
SEEDS = (*range(5001, 5251), *ONCE_WRONG)

Check = Callable[[Judged], Iterator[Contradiction]]


@cache
def judged(seed: int) -> Judged:
    """The machine of that seed, judged once for all checks."""
    return Judged(case(seed))


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.__name__)
def test_no_machine_is_contradicted(check: Check) -> None:
    found = [(one.kind, seed, one.where, one.shown) for seed in SEEDS for one in check(judged(seed))]
    first = {kind: (seed, where, shown) for kind, seed, where, shown in reversed(found)}
    problems = [f"{count} × {kind}: seed {first[kind]}" for kind, count in Counter(kind for kind, *_ in found).items()]
    assert not found, "\n".join(problems)


@pytest.mark.parametrize(
    ("one", "other", "kind"),
    [
        (
            "Fork: make the spacer longer by 3.0 mm.",
            "Front sag: take off preload 2 mm.",
            "m opposite: more beside less",
        ),
        ("Run: the spring is too soft. Fit a stiffer one.", "Front sag: fit a softer spring.", "m opposite: stiffer"),
        (
            "Fork: do not fit a longer spacer; if more is needed, fit a stiffer spring.",
            "Fit a longer spacer.",
            "m asked",
        ),
        ("Run: fit a stiffer one.", "Front sag: springs and preload suit.", "m asked"),
        ("Run: fit a stiffer one. Changed since: ride again to judge.", "Front sag: springs and preload suit.", ""),
        ("Run: 0 mm left: fit stiffer springs last.", "Front sag: springs and preload suit.", ""),
        ("Fork: do not fit a longer spacer.", "Front sag: fit a stiffer spring with less preload.", ""),
    ],
)
def test_two_sentences_that_ask_for_opposite_work_are_found(one: str, other: str, kind: str) -> None:
    found = [contradiction.kind for contradiction in opposed([one, other], "front")]
    assert len(found) == bool(kind), found
    assert all(of.startswith(kind) for of in found)


def test_the_machines_are_of_every_kind() -> None:
    """A check that finds nothing has had something to find it in."""
    lightest = Counter((end, judged(seed).truth(end).lightest) for seed in SEEDS[:100] for end in ("front", "rear"))
    assert all(lightest["front", work] >= 5 for work in ("none", "turns", "spacer", "spring"))
    assert all(lightest["rear", work] >= 5 for work in ("none", "turns", "spring"))
    assert {judged(seed).case.mode for seed in SEEDS} == {"exact", "noise", "drift", "false", "doubtful", "unread"}


@pytest.mark.parametrize("factor", [-1.0, 3.0])
@pytest.mark.parametrize("mode", ["exact", "drift"])
def test_turns_the_wrong_way_or_three_times_too_many_are_found(
    factor: float, mode: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What rough readings and top-out springs are allowed leaves no wrong remedy unseen."""
    problems = asked_at

    def wrongly(assessment: Assessment, end: End) -> Ask | None:
        ask = problems(assessment, end)
        if ask is None or ask.work != "turns":
            return ask
        values = dict(ask.finding.values)
        for name in ("preload_mm", "turns"):
            if values[name] is not None:
                values[name] = abs(factor) * cast("float", values[name])
        if factor < 0.0:
            values["turned_way"] = "in" if values["turned_way"] == "out" else "out"
        return replace(ask, finding=replace(ask.finding, values=values))

    monkeypatch.setattr("true_machines.work_done.asked_at", wrongly)
    machines = [judged(seed) for seed in SEEDS if judged(seed).case.mode == mode]
    asked = {
        (machine.case.seed, end)
        for machine in machines
        for end in ENDS
        if (ask := problems(machine.assessment, end)) is not None and ask.work == "turns" and ask.numbers
    }
    found = {(machine.case.seed, one.where) for machine in machines for one in remedies_keep_their_promise(machine)}
    assert len(asked) >= 10
    assert len(asked & found) >= 0.8 * len(asked)


def test_what_goes_by_the_left_leg_alone_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of legs that differ in what is said of both, the left one is taken for both, wherever it is a little so."""

    def of_the_left(values: Sequence[float | None], _: float) -> float | None:
        return values[0] if values else None

    monkeypatch.setattr("stanchion.judgement.ends.preload_adjustment._alike", of_the_left)
    wrongly = [Judged(judged(seed).case) for seed in SEEDS[:60]]
    found = {machine.case.seed for machine in wrongly for one in legs_by_another_name(machine) if one.kind[0] == "g"}
    assert len(found) >= 10


def test_readings_far_apart_leave_much_open() -> None:
    """Lifted to 581 and 584 mm: 12.706 (Student's t, one degree of freedom) times 3 / 2 / 2; alike they leave nothing."""
    apart = SagEnd(rider=Readings(down_mm=(581.0, 581.0), up_mm=(581.0, 584.0)))
    assert left_open(apart) == pytest.approx(12.706 * 3.0 / 4.0, abs=0.001)
    assert left_open(SagEnd(rider=Readings(down_mm=(581.0,) * 3, up_mm=(582.0,) * 3))) == 0.0


def test_a_sag_that_was_never_read_may_come_otherwise_by_the_error_of_its_load() -> None:
    """0.5 % to 1 % of the machine and 1 % of the rider are some 15 N, on 8 to 20 N/mm at the wheel; where the rider sag
    was not read either, the label and the whole of the shares add to it."""
    for seed in SEEDS[:40]:
        machine = judged(seed)
        rear = machine.truth("rear")
        if 5.0 < rear.sags[0] < 40.0:
            with_rider = unread_off(machine.case, rear, rear, "static", rider_read=True)
            assert 0.3 < with_rider < 8.0
            assert unread_off(machine.case, rear, rear, "static", rider_read=False) > with_rider


def test_a_tape_is_off_by_its_spread_and_its_divisions() -> None:
    """Once down and once up: 3.5 times the root of (0.49 + 1 / 12) / 2."""
    assert reading_off(Readings(down_mm=(581.0,), up_mm=(582.0,))) == pytest.approx(1.874, abs=0.001)


def test_a_top_out_spring_hides_static_sag_only_where_it_is_there_and_the_sags_are_as_far_apart_as_usual() -> None:
    hidden = [truth for seed in SEEDS for end in ENDS if (truth := judged(seed).truth(end)).static_hidden(0.0)]
    assert hidden
    assert all(truth.hanging > 0.0 for truth in hidden)
    assert any(judged(seed).truth("front").hanging > 0.0 for seed in SEEDS if judged(seed).truth("front") not in hidden)
