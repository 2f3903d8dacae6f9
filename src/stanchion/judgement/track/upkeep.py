"""Upkeep: hours since services, torques still open, and measurements that a change of parts makes stale."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.measured import filled_in, on_now
from stanchion.job.model import ChainAndTyres, Geometry, Job, Path, Service, Upkeep
from stanchion.judgement.criteria.thresholds import SLACK, WHEELBASE_DIFFERS_MM
from stanchion.judgement.ends.set_length_by_stack import stale_set_lengths
from stanchion.judgement.results.assessment import UpkeepFigures
from stanchion.judgement.results.figures import Figure, derive, recorded
from stanchion.judgement.results.findings import Finding, Severity

SERVICES = ("fork_oil", "fork_seals", "shock")


def upkeep_figures(upkeep: Upkeep) -> UpkeepFigures:
    """Hours since oil and seals were renewed, and the ratio of the sprockets."""
    hours = recorded(upkeep.machine_hours, ("upkeep", "machine_hours"))

    def since(name: str, service: Service) -> Figure:
        return derive(lambda now, then: now - then, hours, recorded(service.at_hours, ("upkeep", name, "at_hours")))

    return UpkeepFigures(
        fork_oil_hours=since("fork_oil", upkeep.fork_oil),
        fork_seals_hours=since("fork_seals", upkeep.fork_seals),
        shock_hours=since("shock", upkeep.shock),
        gear_ratio=derive(
            lambda rear, front: rear / front,
            recorded(upkeep.rear_teeth, ("upkeep", "rear_teeth")),
            recorded(upkeep.front_teeth, ("upkeep", "front_teeth")),
        ),
    )


def upkeep_findings(job: Job, previous: Job | None) -> Iterator[Finding]:
    """Findings on impossible hours, torques still open, and measurements that are stale.

    Args:
        job: the job.
        previous: the job it was carried from, where it is to hand.
    """
    upkeep = job.upkeep
    for name in SERVICES:
        then, now = getattr(upkeep, name).at_hours, upkeep.machine_hours
        if then is not None and now is not None and then > now + SLACK:
            where = ("upkeep", name, "at_hours")
            yield Finding("hours_run_backwards", Severity.WARNING, where, {"then": then, "now": now})
    still_open = [torque for torque in upkeep.torques if not torque.done]
    if still_open:
        names = tuple(torque.what for torque in still_open)
        yield Finding(
            "torques_open", Severity.WARNING, ("upkeep", "torques"), {"count": len(still_open), "names": names}
        )
    yield from _stale(job, previous)
    yield from stale_set_lengths(job, previous)
    yield from _wheelbases(job)


def _stale(job: Job, previous: Job | None) -> Iterator[Finding]:
    """Findings on motion ratio and geometry that were measured before gearing, axle or tyres were changed.

    The parts fitted at the time are recorded with the measurement. Where they are not, and the measurement is the
    previous job's, the parts of the previous job are taken. A front tyre does not affect the motion ratio. The axle is
    moved to tension every chain, so a change of the axle alone is only a note.
    """
    changed = [what for what in changed_since_ratio(job, previous) if what != "front_tyre"]
    if changed:
        where: Path = ("rear", "linkage") if job.rear.linkage else ("rear", "motion_ratio")
        yield Finding("motion_ratio_stale", how_stale(changed), where, {"changed": tuple(changed)})
    changed = changed_since_geometry(job, previous)
    if changed:
        values = {"changed": tuple(changed), "tyres": True if {"front_tyre", "rear_tyre"} & set(changed) else None}
        yield Finding("geometry_stale", how_stale(changed), ("geometry",), values)


def changed_since_ratio(job: Job, previous: Job | None) -> list[str]:
    """Codes of changes to chain and tyres since the motion ratio was measured; empty where it was not measured."""
    if _linkage(job) is None:
        return []
    then = job.upkeep.ratio_with
    if previous is not None and _linkage(job) == _linkage(previous):
        then = filled_in(then, on_now(previous.upkeep))
    return changed_between(on_now(job.upkeep), then)


def changed_since_geometry(job: Job, previous: Job | None) -> list[str]:
    """Codes of changes to chain and tyres since the geometry was measured; empty where it was not measured."""
    if job.geometry == Geometry():
        return []
    then = job.upkeep.geometry_with
    if previous is not None and job.geometry == previous.geometry:
        then = filled_in(then, on_now(previous.upkeep))
    return changed_between(on_now(job.upkeep), then)


def how_stale(changed: list[str]) -> Severity:
    """How grave it is that something was measured before a change.

    Args:
        changed: codes of what was changed.
    """
    return Severity.NOTE if changed == ["axle_mark"] else Severity.WARNING


def changed_between(now: ChainAndTyres, before: ChainAndTyres) -> list[str]:
    """Codes of changes to chain and tyres. A value recorded in only one of the two is not a change.

    Args:
        now: what is fitted.
        before: what was fitted then.
    """
    found = []
    if _differs(now.front_teeth, before.front_teeth) or _differs(now.rear_teeth, before.rear_teeth):
        found.append("gearing")
    if _differs(now.axle_mark_mm, before.axle_mark_mm):
        found.append("axle_mark")
    for name in ("front_tyre", "rear_tyre"):
        one, other = (" ".join(getattr(of, name).split()).casefold() for of in (now, before))
        if one and other and one != other:
            found.append(name)
    return found


def _differs(now: float | None, before: float | None) -> bool:
    return now is not None and before is not None and abs(now - before) > SLACK


def _linkage(job: Job) -> object:
    """The motion ratio as it was measured; None where it was not."""
    rear = job.rear
    return (rear.points, rear.link_mm) if rear.by_points else rear.linkage or rear.motion_ratio


def _wheelbases(job: Job) -> Iterator[Finding]:
    """Finding on a wheelbase that differs from the one of the geometry."""
    as_set, measured = job.upkeep.wheelbase_mm, job.geometry.wheelbase_mm
    if as_set is not None and measured is not None and abs(as_set - measured) > WHEELBASE_DIFFERS_MM + SLACK:
        values: dict[str, object] = {"set_mm": as_set, "measured_mm": measured}
        yield Finding("wheelbase_differs", Severity.NOTE, ("upkeep", "wheelbase_mm"), values)
