"""How long judging takes, on a job in which every field is filled in; run with -s to see the figures.

Times are medians. Other work on the machine can only make them longer, so the best of a few rounds counts.
"""

from __future__ import annotations

import statistics
from collections.abc import Callable
from time import perf_counter

from complete_job import complete_job
from judgement_jobs import PROFILES, put
from stanchion.judgement.assess import assess
from stanchion.judgement.effects import effects
from stanchion.judgement.whatif import compare

KEYSTROKE_MS = 1.0
"""What one full assessment may take."""
COMPARE_MS = 4.0
"""What a comparison may take: two assessments, and both machines once more."""


def median_ms(work: Callable[[], object], enough_ms: float = 0.0, times: int = 100, rounds: int = 8) -> float:
    """The median of a round, in the best round; no more rounds once one is good enough."""
    best = float("inf")
    for _ in range(rounds):
        taken = []
        for _ in range(times):
            start = perf_counter()
            work()
            taken.append(perf_counter() - start)
        best = min(best, 1000.0 * statistics.median(taken))
        if best < enough_ms:
            break
    return best


def test_a_complete_job_is_judged_within_a_millisecond() -> None:
    job = complete_job()
    taken = median_ms(lambda: assess(job, PROFILES, job), KEYSTROKE_MS)
    print(f"\nassess, every field filled in: {taken:.2f} ms")
    assert taken < KEYSTROKE_MS


def test_the_cost_hardly_grows_with_linkage_points() -> None:
    taken = {}
    for points in (1, 3, 6, 12):
        job = complete_job(points)
        taken[points] = median_ms(lambda job=job: assess(job, PROFILES), rounds=3)  # type: ignore[misc]
        print(f"\nassess, {points} linkage pairs: {taken[points]:.2f} ms", end="")
    print()
    assert taken[12] < 2.0 * taken[1]


def test_two_jobs_are_compared_at_every_keystroke() -> None:
    job = complete_job()
    other = put(job, front__left__adjuster__now=8.0, rear__collar__now=4.0)
    taken = median_ms(lambda: compare(job, other, PROFILES), COMPARE_MS, times=40)
    print(f"\ncompare two complete jobs: {taken:.2f} ms")
    assert taken < COMPARE_MS


def test_effects_take_about_as_long_as_judging() -> None:
    job = complete_job()
    assessment = assess(job, PROFILES)
    taken = median_ms(lambda: effects(job, assessment), 2.0 * KEYSTROKE_MS, times=40)
    print(f"\neffects of one step of everything: {taken:.2f} ms")
    assert taken < 2.0 * KEYSTROKE_MS
