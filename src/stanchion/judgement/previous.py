"""Findings on springs that differ in free length from those of the job this one was carried from."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.model import SIDES, Job, Path, Side
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.front import length_severity, made_up, spacer_for
from stanchion.judgement.results.findings import Finding, Severity


def previous_findings(job: Job, previous: Job | None) -> Iterator[Finding]:
    """Findings on springs of another free length than before, with the spacer that keeps installed preload."""
    if previous is None:
        if job.job.carried_from:
            yield Finding("previous_absent", Severity.NOTE, ("job", "carried_from"), {"name": job.job.carried_from})
        return
    for side in SIDES if job.front.split or previous.front.split else SIDES[:1]:
        yield from _leg_findings(job, previous, side)
    yield from _longer_or_shorter(job.rear.spring.free_length_mm, previous.rear.spring.free_length_mm, ("rear",), {})


def _leg_findings(job: Job, previous: Job, side: Side) -> Iterator[Finding]:
    new, old = job.front.leg(side), previous.front.leg(side)
    if not (new.spring_fitted and old.spring_fitted):
        return
    new_free, old_free = new.spring.free_length_mm, old.spring.free_length_mm
    values: dict[str, object] = {}
    if not job.front.split and not previous.front.split:
        values["both_legs"] = True
    if new_free is not None and old_free is not None:
        values["spacer_mm"] = spacer_for(old.stack.spacer_mm, old_free, new_free, None)
    where_side: Side = side if job.front.split else "left"
    spacer = values.get("spacer_mm")
    for finding in _longer_or_shorter(new_free, old_free, ("front", where_side), values):
        if isinstance(spacer, float) and made_up(new, spacer):
            yield Finding("length_made_up", Severity.NOTE, finding.where, finding.values)
        else:
            yield finding


def _longer_or_shorter(
    new_free: float | None, old_free: float | None, where: Path, values: dict[str, object]
) -> Iterator[Finding]:
    if new_free is None or old_free is None:
        return
    difference = abs(new_free - old_free)
    severity = length_severity(difference)
    if severity is None or difference <= SLACK:
        return
    yield Finding(
        "shorter_than_before" if new_free < old_free else "longer_than_before",
        severity,
        (*where, "spring", "free_length_mm"),
        {"old_mm": old_free, "new_mm": new_free, "difference_mm": difference, **values},
    )
