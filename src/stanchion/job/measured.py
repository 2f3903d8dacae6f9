"""With which chain and tyres motion ratio and geometry were measured: it is noted when they are, and carried along."""

from __future__ import annotations

from dataclasses import fields, replace

from stanchion.job.model import ChainAndTyres, Geometry, Job, Path, Upkeep

_NAMES = tuple(field.name for field in fields(ChainAndTyres))


def on_now(upkeep: Upkeep) -> ChainAndTyres:
    """The chain and tyres that are on."""
    return ChainAndTyres(**{name: getattr(upkeep, name) for name in _NAMES})


def noted(job: Job, path: Path, before: Job | None = None) -> Job:
    """The job after something was entered at a path: a measurement belongs to the chain and tyres that are on.

    Entering the same value again counts: it was measured again and is still so. Where other chain or tyres are entered
    over those that were on, and a measurement does not say with which it was made, it was with those.

    Args:
        job: the job after the entry.
        path: where something was entered.
        before: the job before the field came in hand.
    """
    if before is not None and path[:1] == ("upkeep",) and path[1:] in [(name,) for name in _NAMES]:
        replaced = replace(ChainAndTyres(), **{str(path[1]): getattr(before.upkeep, str(path[1]))})
        return replace(job, upkeep=_with_known(job, replaced))
    if path[:2] in (("rear", "motion_ratio"), ("rear", "linkage")):
        return measured_again(job, ratio=True)
    if path[:1] == ("geometry",):
        return measured_again(job, geometry=True)
    return job


def measured_again(job: Job, *, ratio: bool = False, geometry: bool = False) -> Job:
    """The job with motion ratio or geometry measured with the chain and tyres that are on."""
    upkeep, now = job.upkeep, on_now(job.upkeep)
    ratio_with = now if ratio else upkeep.ratio_with
    geometry_with = now if geometry else upkeep.geometry_with
    if (ratio_with, geometry_with) == (upkeep.ratio_with, upkeep.geometry_with):
        return job
    return replace(job, upkeep=replace(upkeep, ratio_with=ratio_with, geometry_with=geometry_with))


def carried_along(job: Job) -> Upkeep:
    """Upkeep for the next occasion: what was not known of the measurements' chain and tyres is what is on now."""
    return _with_known(job, on_now(job.upkeep))


def _with_known(job: Job, on: ChainAndTyres) -> Upkeep:
    """Upkeep with what was not known of the measurements' chain and tyres taken from what was on."""
    upkeep = job.upkeep
    measured = bool(job.rear.linkage) or job.rear.motion_ratio is not None
    return replace(
        upkeep,
        ratio_with=filled_in(upkeep.ratio_with, on) if measured else ChainAndTyres(),
        geometry_with=filled_in(upkeep.geometry_with, on) if job.geometry != Geometry() else ChainAndTyres(),
    )


def filled_in(known: ChainAndTyres, other: ChainAndTyres) -> ChainAndTyres:
    """What is known, and from the other what is not.

    >>> filled_in(ChainAndTyres(front_teeth=15.0), ChainAndTyres(front_teeth=16.0, rear_teeth=44.0)).rear_teeth
    44.0
    """
    taken = {}
    for name in _NAMES:
        own = getattr(known, name)
        taken[name] = getattr(other, name) if own in (None, "") else own
    return ChainAndTyres(**taken)
