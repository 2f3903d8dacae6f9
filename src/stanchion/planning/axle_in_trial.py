"""Where the chain puts the axle in a trial of other teeth or links, and the geometry with it there."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Job
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.predict.chain import axle_back_for, fits
from stanchion.judgement.predict.geometry import line_at_geometry_of
from stanchion.judgement.results.figures import Figure
from stanchion.mechanics.geometry import Baseline, attitude


@record(kw_only=True)
class AxleInTrial:
    """How far the chain moves the axle."""

    asked_mm: float
    """Back [mm]; below 0: forward."""
    fits: bool | None
    """Whether its slots let it; None where that is not known."""
    room_mm: float | None
    """How far the slots let it go that way from where it stands now; None where that is not entered."""

    @property
    def goes_mm(self) -> float:
        """How far it goes: not at all where its slots do not let it."""
        return 0.0 if self.fits is False else self.asked_mm


STAYS = AxleInTrial(asked_mm=0.0, fits=True, room_mm=None)


def axle_in_trial(job: Job, changed: Job) -> AxleInTrial:
    """How far the axle has to move for other teeth or links; it stays where chain, teeth or links are not known.

    Args:
        job: the job.
        changed: the same job with something changed.
    """
    teeth, links = (changed.upkeep.front_teeth, changed.upkeep.rear_teeth), changed.drive.links
    if teeth[0] is None or teeth[1] is None or changed.drive.chain != job.drive.chain:
        return STAYS
    back = axle_back_for(job, teeth[0], teeth[1], links).value
    if back is None or abs(back) < SLACK:
        return STAYS
    drive = changed.drive
    room = drive.axle_back_mm if back > 0.0 else drive.axle_forward_mm
    return AxleInTrial(asked_mm=back, fits=fits(drive, back), room_mm=room)


def axle_rows(of: AxleInTrial) -> Iterator[tuple[str, Figure, Figure]]:
    """Codes and figures of the rows: how far the axle goes, and what room its slots then have left that way."""
    if of.asked_mm == 0.0:
        return
    way = "back" if of.asked_mm > 0.0 else "forward"
    yield f"axle_{way}{'_beyond' if of.fits is False else ''}_mm", Figure(0.0), Figure(abs(of.asked_mm))
    if of.room_mm is not None and of.fits is not False:
        yield "axle_room_mm", Figure(of.room_mm), Figure(max(0.0, of.room_mm - abs(of.asked_mm)))


def axle_lower_mm(job: Job, motion_ratio: Figure, back_mm: float) -> float:
    """How much lower in the frame the axle lies once it has gone back along the swingarm; 0 where that is not known.

    Args:
        job: the job.
        motion_ratio: of the rear.
        back_mm: how far back [mm].
    """
    line = line_at_geometry_of(job, motion_ratio)
    return 0.0 if line is None else back_mm * math.sin(math.radians(line.down_deg))


def with_axle_back(job: Job, motion_ratio: Figure, back_mm: float) -> Job:
    """The job with the geometry as it would have been measured with the axle further back along the swingarm.

    Args:
        job: the job.
        motion_ratio: of the rear.
        back_mm: how far back [mm]; below 0: forward.
    """
    of = job.geometry
    if back_mm == 0.0 or of.wheelbase_mm is None or of.rake_deg is None:
        return job
    lower_mm = axle_lower_mm(job, motion_ratio, back_mm)
    level_mm = math.sqrt(max(0.0, back_mm**2 - lower_mm**2)) * math.copysign(1.0, back_mm)
    if of.offset_mm is None or of.front_radius_mm is None or of.rear_radius_mm is None:
        return job
    try:
        baseline = Baseline(
            rake_deg=of.rake_deg,
            offset_mm=of.offset_mm,
            wheelbase_mm=of.wheelbase_mm,
            front_radius_mm=of.front_radius_mm,
            rear_radius_mm=of.rear_radius_mm,
        )
        stands = attitude(baseline, rear_lower_axle_mm=lower_mm, rear_axle_back_mm=level_mm)
    except OutOfRange:
        return job
    return replace(job, geometry=replace(of, rake_deg=stands.rake_deg, wheelbase_mm=stands.wheelbase_mm))
