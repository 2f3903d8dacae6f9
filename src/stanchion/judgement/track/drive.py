"""Swingarm and chain: readings that cannot be, a chain too short or too long, what was measured before a change.

Comparisons of a few numbers; what the machine does on the gas is worked out elsewhere, when it is asked for.
"""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.measured import filled_in, on_now
from stanchion.job.model import Drive, Job, Swingarm
from stanchion.judgement.criteria.thresholds import ARM_ANGLES_DIFFER_DEG, CHAIN_APART_MM, SLACK
from stanchion.judgement.predict.chain import chain_pitch, tightest
from stanchion.judgement.predict.swingarm import measured_arm
from stanchion.judgement.results.figures import Figure, derive, recorded
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.track.upkeep import changed_between, how_stale
from stanchion.mechanics.chain import centres_for
from stanchion.mechanics.swingarm import arm_down


def drive_findings(job: Job, previous: Job | None) -> Iterator[Finding]:
    """Findings on swingarm and chain.

    Args:
        job: the job.
        previous: the job it was carried from, where it is to hand.
    """
    if job.drive != Drive():
        yield from _chain(job)
    if job.swingarm != Swingarm():
        yield from _arm(job)
        changed = changed_since_swingarm(job, previous)
        if changed:
            yield Finding("swingarm_stale", how_stale(changed), ("swingarm",), {"changed": tuple(changed)})


def changed_since_swingarm(job: Job, previous: Job | None) -> list[str]:
    """Codes of changes since the swingarm was measured that it depends on: the axle, and the rear tyre's height.

    Args:
        job: the job.
        previous: the job it was carried from, where it is to hand.
    """
    if job.swingarm == Swingarm():
        return []
    then = job.upkeep.swingarm_with
    if previous is not None and job.swingarm == previous.swingarm:
        then = filled_in(then, on_now(previous.upkeep))
    return [what for what in changed_between(on_now(job.upkeep), then) if what in ("axle_mark", "rear_tyre")]


def _chain(job: Job) -> Iterator[Finding]:
    links = job.drive.links
    if links is None:
        return
    if links % 2.0 != 0.0:
        yield Finding("chain_odd", Severity.WARNING, ("drive", "links"), {"links": links})
    front, rear = (recorded(getattr(job.upkeep, name), ("upkeep", name)) for name in ("front_teeth", "rear_teeth"))
    reaches = derive(centres_for, chain_pitch(job), front, rear, Figure(links))
    apart = tightest(job)
    if apart.value is None:
        return
    least_mm = apart.value - (job.drive.axle_forward_mm or 0.0)
    around = reaches.problem == "out_of_range"
    if around or (reaches.value is not None and least_mm > reaches.value + CHAIN_APART_MM):
        values: dict[str, object] = {
            "links": links,
            "front_teeth": front.value,
            "rear_teeth": rear.value,
            "apart_mm": least_mm,
        }
        if reaches.value is not None:
            values["reaches_mm"] = reaches.value
        if around or job.drive.axle_forward_mm is not None:
            yield Finding("chain_short", Severity.WARNING, ("drive", "links"), values)
        else:
            yield Finding("chain_by_slot", Severity.NOTE, ("drive", "axle_forward_mm"), values)
    if reaches.value is None or job.drive.axle_back_mm is None:
        return
    most_mm = apart.value + job.drive.axle_back_mm
    if reaches.value > most_mm + CHAIN_APART_MM:
        values = {
            "links": links,
            "front_teeth": front.value,
            "rear_teeth": rear.value,
            "apart_mm": most_mm,
            "reaches_mm": reaches.value,
        }
        yield Finding("chain_long", Severity.WARNING, ("drive", "links"), values)


def _arm(job: Job) -> Iterator[Finding]:
    arm, radius_mm = job.swingarm, job.geometry.rear_radius_mm
    found = measured_arm(job)
    if isinstance(found, Figure):
        if found.problem == "arm_reaches_not":
            values = {"length_mm": arm.pivot_to_axle_mm, "pivot_mm": arm.pivot_up_mm, "axle_mm": radius_mm}
            yield Finding("arm_impossible", Severity.WARNING, ("swingarm", "pivot_to_axle_mm"), values)
        return
    by_gauge = arm.arm_down_deg
    if by_gauge is None or arm.pivot_up_mm is None or arm.pivot_to_axle_mm is None or radius_mm is None:
        return
    by_heights = arm_down(arm.pivot_to_axle_mm, arm.pivot_up_mm - radius_mm)
    if abs(by_heights - by_gauge) > ARM_ANGLES_DIFFER_DEG + SLACK:
        both: dict[str, object] = {"gauge_deg": by_gauge, "heights_deg": by_heights}
        yield Finding("arm_angles_differ", Severity.WARNING, ("swingarm", "arm_down_deg"), both)
