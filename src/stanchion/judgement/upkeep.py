"""What was done to the machine: hours since, torques still open, and what a change of chain or tyres makes stale."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.model import Geometry, Job, Path, Service, Upkeep
from stanchion.judgement.assessment import UpkeepFigures
from stanchion.judgement.figures import Figure, derive, recorded
from stanchion.judgement.findings import Finding, Severity

SERVICES = ("fork_oil", "fork_seals", "shock")
_SLACK = 1e-6


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
    """Hours that cannot be, torques still open, and what is stale since the job before.

    Args:
        job: the job.
        previous: the job it was carried from, where it is to hand.
    """
    upkeep = job.upkeep
    for name in SERVICES:
        then, now = getattr(upkeep, name).at_hours, upkeep.machine_hours
        if then is not None and now is not None and then > now + _SLACK:
            where = ("upkeep", name, "at_hours")
            yield Finding("hours_run_backwards", Severity.WARNING, where, {"then": then, "now": now})
    still_open = [torque for torque in upkeep.torques if not torque.done]
    if still_open:
        names = ", ".join(torque.what or "unnamed" for torque in still_open)
        yield Finding("torques_open", Severity.NOTE, ("upkeep", "torques"), {"count": len(still_open), "names": names})
    if previous is not None:
        yield from _stale(job, previous)


def _stale(job: Job, previous: Job) -> Iterator[Finding]:
    """Motion ratio and geometry that were measured before gearing, axle or tyres were changed.

    A front tyre does not touch the motion ratio. The axle alone is moved for every slack chain, so it makes no more
    than a note.
    """
    changed = _changed(job.upkeep, previous.upkeep)
    if not changed:
        return
    severity = Severity.NOTE if changed == ["axle mark"] else Severity.WARNING
    at_rear = [what for what in changed if what != "front tyre"]
    linkage = _linkage(job)
    if at_rear and linkage is not None and linkage == _linkage(previous):
        where: Path = ("rear", "linkage") if job.rear.linkage else ("rear", "motion_ratio")
        yield Finding("motion_ratio_stale", severity, where, {"changed": _listed(at_rear)})
    if job.geometry != Geometry() and job.geometry == previous.geometry:
        tyres = any("tyre" in what for what in changed)
        values = {"changed": _listed(changed), "tyres": "tyre radius" if tyres else None}
        yield Finding("geometry_stale", severity, ("geometry",), values)


def _changed(now: Upkeep, before: Upkeep) -> list[str]:
    """What was changed of chain and tyres; what was written down first or not again is no change."""
    told = []
    if _other(now.front_teeth, before.front_teeth) or _other(now.rear_teeth, before.rear_teeth):
        told.append("gearing")
    if _other(now.axle_mark_mm, before.axle_mark_mm):
        told.append("axle mark")
    for name in ("front_tyre", "rear_tyre"):
        one, other = (" ".join(getattr(of, name).split()).casefold() for of in (now, before))
        if one and other and one != other:
            told.append(name.replace("_", " "))
    return told


def _other(now: float | None, before: float | None) -> bool:
    return now is not None and before is not None and abs(now - before) > _SLACK


def _linkage(job: Job) -> object:
    """The motion ratio as it was measured; None where it was not."""
    return job.rear.linkage or job.rear.motion_ratio


def _listed(changed: list[str]) -> str:
    if "front tyre" in changed and "rear tyre" in changed:
        changed = [*(what for what in changed if "tyre" not in what), "tyres"]
    return ", ".join(changed)
