"""An end of the machine that is sprung by air: what is recorded of it, and its model."""

from __future__ import annotations

from stanchion.job.model import SIDES, AirLeg, End, Job
from stanchion.judgement.ends.fork_model import ForkModel
from stanchion.judgement.ends.rear_model import RearModel

AirModel = ForkModel | RearModel
"""A model of an end that air may spring."""


def airs_of(job: Job, end: End) -> dict[str, AirLeg]:
    """The air of each leg that it springs, or of the shock, in the order of the model's air springs."""
    if end == "rear":
        return {"rear": job.rear.air} if job.rear.air.fitted else {}
    return {side: job.front.leg(side).air for side in SIDES if job.front.leg(side).air.fitted}


def has_air(job: Job, end: End) -> bool:
    """Whether air springs an end, or a leg of it."""
    return bool(airs_of(job, end))


def temperature_now(job: Job, end: End) -> float | None:
    """Temperature of fork or shock now [°C]; None: not recorded."""
    return job.front.temperature_c if end == "front" else job.rear.temperature_c
