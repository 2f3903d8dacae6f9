"""The legs of a fork under each other's names, alike and unlike."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from typing import Any

from rates import one_rate
from stanchion.job.model import Coils, Job, Leg
from stanchion.judgement.assess import assess
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Finding
from stanchion.judgement.springs.stock import Stock, StockSpring
from stanchion.planning.spring_choice import SpringChoice, choose
from stanchion.wording.finding_words import sentence
from stanchion.wording.verdicts import severity_word
from true_machines.asks import target_at
from true_machines.judged import PROFILES, Contradiction, Judged

_OTHER = {"left": "right", "right": "left"}


def legs_by_another_name(judged: Judged) -> Iterator[Contradiction]:
    """With the legs' names swapped, nothing else is said: of the fork as it is, and of one whose legs are unlike."""
    job = judged.case.job
    if job.front.right is not None:
        yield from _differences(job, judged.assessment)
    unlike = with_unlike_legs(job, judged.case.seed)
    assessment = assess(unlike, PROFILES)
    yield from _differences(unlike, assessment)
    if judged.case.seed % 3 == 0:
        yield from _other_springs(unlike, assessment, judged.case.seed)


def with_unlike_legs(job: Job, seed: int) -> Job:
    """The job with legs that differ in what legs may differ in; some of it is then not known."""
    rng = random.Random(f"legs {seed}")
    front = job.front

    def leg(made: Leg) -> Leg:
        if not made.spring_fitted:
            return made
        spring, stack, adjuster = made.spring, made.stack, made.adjuster
        rate, length = one_rate(spring.rate_n_per_mm), spring.set_length_mm or 0.0
        if adjuster.total_turns is not None:
            turns, now = adjuster.total_turns, adjuster.now or 0.0
            finer = rng.choice((0.996, 1.004, 1.5))
            adjuster = rng.choice(
                (
                    adjuster,
                    adjuster,
                    replace(adjuster, now=rng.uniform(0.0, turns)),
                    replace(adjuster, total_turns=turns * finer, now=now * finer),
                    replace(adjuster, now=None),
                    replace(adjuster, total_turns=None),
                )
            )
        if stack.spacer_mm is not None:
            stack = replace(stack, spacer_mm=stack.spacer_mm + rng.choice((0.0, 0.0, 0.3, -1.0, 5.0)))
        spring = replace(
            spring,
            rate_n_per_mm=rng.choice((rate, rate, rate, rate * 1.1, None)),
            set_length_mm=length + rng.choice((0.0, 0.0, 0.0, -2.0, 0.4)),
            free_length_mm=rng.choice((spring.free_length_mm,) * 9 + (None,)),
        )
        if rng.random() < 0.2:
            coils = Coils(wire_mm=4.6, outer_mm=38.0, total_coils=rng.choice((30.0, 36.0)), ends="closed_ground")
            spring = replace(spring, coils=coils)
        gap = made.air_gap_mm
        gap = None if gap is None else gap + rng.choice((0.0, 0.0, 10.0))
        return replace(made, spring=spring, stack=stack, adjuster=adjuster, air_gap_mm=gap)

    front = replace(front, left=leg(front.left), right=leg(front.right or front.left))
    if front.top_out.fitted == "yes":
        front = replace(front, top_out_legs=rng.choice(("unknown", "both", "left", "right")))
    return replace(job, front=front)


def renamed(job: Job) -> Job:
    """The same machine with the names of its legs swapped."""
    front = job.front
    legs = _OTHER.get(front.top_out_legs, front.top_out_legs)
    swapped = replace(front, left=front.leg("right"), right=front.left, top_out_legs=legs)
    return replace(job, front=swapped, sag=_notes_swapped(job))


def _differences(job: Job, assessment: Assessment) -> Iterator[Contradiction]:
    other = assess(renamed(job), PROFILES)
    one_side, other_side = (sorted(map(_told, _all_told(made))) for made in (assessment, other))
    if one_side != other_side:
        apart = [str(a) for a in one_side if a not in other_side] + [
            f"swapped: {b}" for b in other_side if b not in one_side
        ]
        code = next((a[0] for a in one_side + other_side if (a in one_side) != (a in other_side)), "?")
        yield Contradiction(f"g {code} changes with the legs' names", "front", "; ".join(apart)[:400])
    for one, another in (
        (assessment.front.left, other.front.right),
        (assessment.front.right, other.front.left),
        (assessment.springs.left, other.springs.right),
        (assessment.predicted, other.predicted),
        (assessment.sag, other.sag),
    ):
        mine, theirs = list(_figures(one)), list(_figures(another))
        if not _same(mine, theirs):
            shown = [f"{a}, swapped: {b}" for a, b in zip(mine, theirs, strict=False) if not _same([a], [b])]
            yield Contradiction(
                "g figures change with the legs' names", "front", f"{type(one).__name__} {'; '.join(shown)}"
            )


def _other_springs(job: Job, assessment: Assessment, seed: int) -> Iterator[Contradiction]:
    swapped = renamed(job)
    under_the_other = assess(swapped, PROFILES)
    one = choose(job, assessment, PROFILES, "front")
    other = choose(swapped, under_the_other, PROFILES, "front")
    if not _same([one.needed_n_per_mm.value], [other.needed_n_per_mm.value]):
        shown = f"{one.needed_n_per_mm}, swapped: {other.needed_n_per_mm}"
        yield Contradiction("g rate needed changes with the legs' names", "front", shown)
    yield from _other_rows(one, other, "list of springs")
    stock = _van(seed, one.needed_n_per_mm.value or 9.0)
    one, other = (
        choose(of, judged_as, PROFILES, "front", stock)
        for of, judged_as in ((job, assessment), (swapped, under_the_other))
    )
    yield from _other_rows(one, other, "list of the van's springs")


def _van(seed: int, around: float) -> Stock:
    """A few springs, singly and in pairs, of one length and of others."""
    rng = random.Random(f"van {seed}")
    return Stock(
        tuple(
            StockSpring(
                end="front",
                rate_n_per_mm=round(around * rng.uniform(0.8, 1.3), 2),
                count=rng.choice((1, 1, 2)),
                free_length_mm=rng.choice((250.0, 250.0, 260.0)),
            )
            for _ in range(4)
        )
    )


def _other_rows(one: SpringChoice, other: SpringChoice, what: str) -> Iterator[Contradiction]:
    mine, theirs = _rows(one), _rows(other)
    if mine != theirs:
        shown = f"{[row for row in mine if row not in theirs][:2]}, swapped: {[r for r in theirs if r not in mine][:2]}"
        yield Contradiction(f"g {what} changes with the legs' names", "front", shown)


def _rows(choice: SpringChoice) -> list[str]:
    """What is said of each choice, the legs in any order; which of two that come equally near is first says nothing."""

    def rounded(value: float | None) -> float | None:
        return None if value is None else round(value, 6)

    rows = []
    for one in choice.options:
        legs = sorted(
            str(
                [
                    rounded(mm)
                    for mm in (one_rate(f.spring.rate_n_per_mm), f.installed_mm, f.set_length_mm, f.spacer_mm.value)
                ]
            )
            for f in one.fittings
        )
        rows.append(f"{one.verdict} {legs} {rounded(one.turns_for_target.value)}")
    return sorted(rows)


def _all_told(assessment: Assessment) -> list[Finding]:
    target = target_at(assessment, "front")
    return [*assessment.findings, *([] if target is None else [target])]


def _notes_swapped(job: Job) -> Any:
    sag = job.sag

    def turned(readings: Any) -> Any:
        return replace(
            readings,
            preload_at=readings.preload_at[::-1],
            rates_n_per_mm=readings.rates_n_per_mm[::-1],
            stacks_mm=readings.stacks_mm[::-1],
        )

    return replace(sag, front=replace(sag.front, static=turned(sag.front.static), rider=turned(sag.front.rider)))


def _told(finding: Finding) -> tuple[Any, ...]:
    """What a finding says, in whatever order it names the legs."""
    words = re.sub(r"\b([Ll]eft|[Rr]ight)\b", "leg", sentence(finding))
    return finding.code, severity_word(finding.severity), " ".join(sorted(re.split(r"[.,;]?\s+|[.,;]$", words)))


def _figures(node: object) -> Iterator[float | None]:
    if isinstance(node, Figure):
        yield node.value
    elif is_dataclass(node):
        for one in fields(node):
            yield from _figures(getattr(node, one.name))


def _same(mine: list[float | None], theirs: list[float | None]) -> bool:
    return len(mine) == len(theirs) and all(
        a is b is None or (a is not None and b is not None and abs(a - b) < 1e-6)
        for a, b in zip(mine, theirs, strict=True)
    )
