"""The top-out spring as it counts: as entered, and what is not entered by its readings on the bench."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from stanchion.base.errors import OutOfRange
from stanchion.job.model import Front, Path, Rear, TopOut
from stanchion.judgement.criteria.thresholds import RATE_SOURCES_DIFFER, SLACK
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.bench_top_out import BenchTopOut, bench_top_out


@lru_cache(maxsize=32)  # most keystrokes leave it unchanged
def by_bench(top_out: TopOut) -> BenchTopOut | None:
    """What the readings on the bench give; None where there are too few, or they cannot be right."""
    pairs = [(p.travel_mm, p.force_n) for p in top_out.bench if p.travel_mm is not None and p.force_n is not None]
    try:
        return bench_top_out([travel for travel, _ in pairs], [force for _, force in pairs])
    except OutOfRange:
        return None


def as_it_counts(top_out: TopOut) -> TopOut:
    """The top-out spring, with rate and length by the bench where they are not entered."""
    if not top_out.bench or None not in (top_out.rate_n_per_mm, top_out.works_over_mm):
        return top_out
    found = by_bench(top_out)
    if found is None:
        return top_out
    rate, length = top_out.rate_n_per_mm, top_out.works_over_mm
    return replace(
        top_out,
        rate_n_per_mm=found.rate_n_per_mm if rate is None else rate,
        works_over_mm=found.works_over_mm if length is None else length,
    )


def bench_findings(front: Front, rear: Rear) -> Iterator[Finding]:
    """Findings on readings of a top-out spring that cannot be right, or give another rate than the one entered."""
    for at, top_out in ((("front", "top_out"), front.top_out), (("rear", "top_out"), rear.top_out)):
        if top_out.fitted == "yes":
            yield from _findings(at, top_out)


def _findings(at: Path, top_out: TopOut) -> Iterator[Finding]:
    under_force = [pair for pair in top_out.bench if pair.travel_mm is not None and pair.force_n]
    found, rate = by_bench(top_out), top_out.rate_n_per_mm
    if found is None:
        if len(under_force) > 1:
            yield Finding("top_out_bench_disordered", Severity.WARNING, (*at, "bench"), {})
        return
    values: dict[str, object] = {"rate": found.rate_n_per_mm, "over_mm": found.works_over_mm}
    if rate is None or top_out.works_over_mm is None:
        yield Finding("top_out_by_bench", Severity.NOTE, at, values)
    elif abs(found.rate_n_per_mm - rate) > RATE_SOURCES_DIFFER * rate + SLACK:
        yield Finding("top_out_bench_differs", Severity.NOTE, at, {**values, "label": rate})
