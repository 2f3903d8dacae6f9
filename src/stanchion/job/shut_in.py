"""Air that was shut in at one venue and carried to another: it keeps its amount, and gauges read otherwise there."""

from __future__ import annotations

from dataclasses import replace

from stanchion.job.air import PRESSURES
from stanchion.job.model import AirLeg, Job, Leg, Path
from stanchion.job.name_match import match_key
from stanchion.job.outside import NOWHERE, Outside


def carried_from_there(job: Job) -> Job:
    """The job carried forward: air that was shut in there is noted to be from there. The altitude goes along until
    another venue is entered, the barometer does not."""
    there = job.job.outside
    front = job.front
    left, right = _shut_in(front.left, there), None if front.right is None else _shut_in(front.right, there)
    rear = replace(job.rear, air=_set_in(job.rear.air, there))
    if there != NOWHERE and rear.gas_pressure_bar is not None and rear.gas_set_in == NOWHERE:
        rear = replace(rear, gas_set_in=there)
    occasion = replace(job.job, barometer_hpa=None)
    return replace(job, job=occasion, front=replace(front, left=left, right=right), rear=rear)


def _set_in(air: AirLeg, there: Outside) -> AirLeg:
    return replace(air, set_in=there) if there != NOWHERE and air.fitted and air.set_in == NOWHERE else air


def _shut_in(leg: Leg, there: Outside) -> Leg:
    air, bleed = _set_in(leg.air, there), leg.bleed
    if there != NOWHERE and leg.air_gap_mm is not None and bleed.closed_in == NOWHERE:
        bleed = replace(bleed, closed_in=there)
    return replace(leg, air=air, bleed=bleed)


def outside_noted(job: Job, path: Path, before: Job | None) -> Job:
    """The job after an entry: a pressure that is entered was set here, and so is what was bled; the altitude of a job
    that was carried forward goes with its venue.

    Args:
        job: the job after the entry.
        path: where something was entered.
        before: the job before the visit to the field.
    """
    if path == ("job", "venue") and before is not None and job.job.carried_from and not job.runs:
        there = before.job
        same = match_key(job.job.venue) == match_key(there.venue)
        if there.altitude_m is not None and there.venue.strip():
            return replace(job, job=replace(job.job, altitude_m=there.altitude_m if same else None))
    if path[:2] == ("rear", "air") and path[-1] in PRESSURES:
        return replace(job, rear=replace(job.rear, air=replace(job.rear.air, set_in=NOWHERE)))
    if path == ("rear", "gas_pressure_bar"):
        return replace(job, rear=replace(job.rear, gas_set_in=NOWHERE))
    if path[:1] != ("front",) or path[1:2] not in (("left",), ("right",)):
        return job
    side = "left" if path[1] == "left" else "right"
    leg = job.front.left if side == "left" else job.front.right
    if leg is None:
        return job
    if path[2:3] == ("air",) and path[-1] in PRESSURES:
        leg = replace(leg, air=replace(leg.air, set_in=NOWHERE))
    elif path[2:3] == ("bleed",) and path[3:4] != ("closed_in",):
        leg = replace(leg, bleed=replace(leg.bleed, closed_in=NOWHERE))
    else:
        return job
    return replace(job, front=replace(job.front, left=leg) if side == "left" else replace(job.front, right=leg))
