"""The chain: its pitch, its length in links, and how far the axle moves for other teeth."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal

from stanchion.base.errors import OutOfRange
from stanchion.job.model import Drive, Job, Upkeep
from stanchion.judgement.criteria.thresholds import AXLE_STAYS_MM, CHAIN_APART_MM
from stanchion.judgement.predict.swingarm import measured_arm
from stanchion.judgement.results.figures import Figure, absent, derive, first_known, recorded
from stanchion.judgement.results.gas import AxleMove, ChainFigures
from stanchion.mechanics.chain import centres_for, chain_links, pitch_of

_EVEN = 2.0


def chain_figures(job: Job) -> ChainFigures:
    """The chain of a job, and what one tooth more or less asks of it.

    Args:
        job: the job.
    """
    teeth = front, rear = _teeth(job.upkeep)
    tight = tightest(job)
    pitch = chain_pitch(job)
    moves: list[AxleMove] = []
    for end in ("front", "rear"):
        for step in (-1.0, 1.0):
            now = teeth[0 if end == "front" else 1].value
            if now is not None:
                moves.append(_axle_move(job, "front" if end == "front" else "rear", now + step))
    taut = derive(
        lambda p, z1, z2, links, now: centres_for(p, z1, z2, links) - now,
        pitch,
        front,
        rear,
        recorded(job.drive.links, ("drive", "links")),
        tight,
    )
    back = taut.value or 0.0
    return ChainFigures(
        pitch_mm=pitch,
        needed_links=derive(chain_links, pitch, front, rear, tight),
        taut_back_mm=taut,
        hangs="short" if back < -AXLE_STAYS_MM else "slack" if back > CHAIN_APART_MM else "",
        taut_fits=None if taut.value is None else fits(job.drive, back),
        axle_moves=tuple(moves),
    )


def chain_pitch(job: Job) -> Figure:
    """Pitch of the chain [mm], by its size."""
    return _pitch(job.drive)


def _pitch(drive: Drive) -> Figure:
    size = drive.chain
    return Figure(needs=(("drive", "chain"),)) if size == "unknown" else Figure(pitch_of(size))


def axle_back_for(job: Job, front_teeth: float, rear_teeth: float, links: float | None = None) -> Figure:
    """How far back the axle moves for other teeth, the chain as taut as it is now [mm]; below 0: forward.

    Args:
        job: the job, with the teeth and the chain fitted now.
        front_teeth: teeth of the front sprocket then.
        rear_teeth: teeth of the rear sprocket then.
        links: links of the chain then; None: as many as now.
    """
    teeth = replace(job.upkeep, front_teeth=front_teeth, rear_teeth=rear_teeth)
    return axle_back(job.upkeep, job.drive, teeth, replace(job.drive, links=links))


def axle_back(fitted: Upkeep, drive: Drive, fitted_then: Upkeep, drive_then: Drive) -> Figure:
    """How far back the axle moves for other teeth, links or another chain, as taut as it is now [mm]; below 0: forward.

    Args:
        fitted: the sprockets now.
        drive: the chain now.
        fitted_then: the sprockets then; those that are not recorded stay.
        drive_then: the chain then; its size or its links stay where they are not recorded.
    """
    now = _pitch(drive), *_teeth(fitted), recorded(drive.links, ("drive", "links"))
    chain = _pitch(drive_then), *_teeth(fitted_then), recorded(drive_then.links, ("drive", "links"))
    then = tuple(first_known(new, old) for new, old in zip(chain, now, strict=True))
    return derive(lambda *of: centres_for(*of[4:]) - centres_for(*of[:4]), *now, *then)


def tightest(job: Job) -> Figure:
    """Distance of the sprockets where the chain is tightest: pivot, axle and front sprocket on one line [mm]."""
    arm = measured_arm(job)
    if isinstance(arm, Figure):
        return arm
    return Figure(arm.length_mm + math.hypot(arm.sprocket_ahead_mm, arm.sprocket_above_mm))


def fits(drive: Drive, back_mm: float) -> bool | None:
    """Whether the slots of the axle allow a move; None where that is not known.

    >>> fits(Drive(axle_back_mm=5.0), 4.0), fits(Drive(axle_back_mm=5.0), 6.0), fits(Drive(), -4.0)
    (True, False, None)
    """
    if abs(back_mm) < AXLE_STAYS_MM:
        return True
    room_mm = drive.axle_back_mm if back_mm > 0.0 else drive.axle_forward_mm
    return None if room_mm is None else abs(back_mm) <= room_mm


def _teeth(upkeep: Upkeep) -> tuple[Figure, Figure]:
    front, rear = (recorded(getattr(upkeep, name), ("upkeep", name)) for name in ("front_teeth", "rear_teeth"))
    return front, rear


def _axle_move(job: Job, end: Literal["front", "rear"], teeth: float) -> AxleMove:
    upkeep = job.upkeep
    front, rear = (teeth, upkeep.rear_teeth) if end == "front" else (upkeep.front_teeth, teeth)
    if front is None or rear is None:
        missing = Figure(needs=(("upkeep", "rear_teeth" if rear is None else "front_teeth"),))
        return AxleMove(end=end, teeth=teeth, back_mm=missing, fits=None, links=missing)
    back = axle_back_for(job, front, rear)
    return AxleMove(
        end=end,
        teeth=teeth,
        back_mm=back,
        fits=None if back.value is None else fits(job.drive, back.value),
        links=_links_nearest(job, front, rear),
    )


def _links_nearest(job: Job, front_teeth: float, rear_teeth: float) -> Figure:
    """The even number of links with which the axle stays nearest to where it is."""
    pitch, (front, rear), on = chain_pitch(job), _teeth(job.upkeep), recorded(job.drive.links, ("drive", "links"))

    def nearest(pitch_mm: float, now_front: float, now_rear: float, links: float) -> float:
        stays = centres_for(pitch_mm, now_front, now_rear, links)
        return _EVEN * round(chain_links(pitch_mm, front_teeth, rear_teeth, stays) / _EVEN)

    try:
        return derive(nearest, pitch, front, rear, on)
    except OutOfRange:
        return absent("out_of_range")
