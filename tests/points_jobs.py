"""A job whose linkage was read by its points: a rocker on the frame of an invented machine, read three ways."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import make_samples
from judgement_jobs import put
from stanchion.job.model import Job, LinkagePair, Pixel, PointRead, PointsRead

ARM_MM, BELOW_MM = 580.0, 95.0
AXLE = (-math.sqrt(ARM_MM**2 - BELOW_MM**2), -BELOW_MM)
PLACES = {
    "rocker": (-84.0, -100.0),
    "link_end": (-102.0, -131.0),
    "link_far": (-182.0, -43.0),
    "shock_moved": (-145.0, -118.0),
    "shock_held": (-67.0, 183.0),
}
"""The shock is 310.94 mm long as read; from its 312 mm the ratio goes from 0.454 to 0.508 over 125 mm."""
LINK_MM = math.dist(PLACES["link_end"], PLACES["link_far"])


def by_coordinates() -> PointsRead:
    """Level and plumb from the pivot."""

    def at(name: str) -> PointRead:
        return PointRead(forward_mm=PLACES[name][0], up_mm=PLACES[name][1])

    return _with(PointsRead(used="points", layout="rocker_on_frame", axle_below_mm=BELOW_MM), at)


def by_lengths() -> PointsRead:
    """Between centres."""

    def at(name: str) -> PointRead:
        x, z = PLACES[name]
        side = "below" if AXLE[0] * z - AXLE[1] * x > 0.0 else "above"
        return PointRead(from_pivot_mm=math.hypot(x, z), from_axle_mm=math.dist((x, z), AXLE), side=side)

    return _with(replace(by_coordinates(), read_by="lengths"), at)


def by_photograph() -> PointsRead:
    """A machine that looks left, 3 pixels to the millimetre."""

    def seen(x: float, z: float) -> tuple[float, float]:
        return 2000.0 - 3.0 * x, 1500.0 - 3.0 * z

    def at(name: str) -> PointRead:
        right, down = seen(*PLACES[name])
        return PointRead(right_px=right, down_px=down)

    pivot, axle = (Pixel(right_px=right, down_px=down) for right, down in (seen(0.0, 0.0), seen(*AXLE)))
    return _with(replace(by_coordinates(), read_by="photo", axle_below_mm=None, pivot=pivot, axle=axle), at)


def _with(points: PointsRead, at: Callable[[str], PointRead]) -> PointsRead:
    return replace(
        points,
        rocker=at("rocker"),
        link_end=at("link_end"),
        link_far=at("link_far"),
        shock_moved=at("shock_moved"),
        shock_held=at("shock_held"),
    )


def by_points(points: PointsRead | None = None, **changes: object) -> Job:
    """The sample that is well set, its ratio by points."""
    job = make_samples.well_set()
    return put(
        job, rear__points=by_coordinates() if points is None else points, swingarm__pivot_to_axle_mm=ARM_MM, **changes
    )


PAIRS = tuple(
    LinkagePair(wheel_mm=wheel, shock_mm=shock)
    for wheel, shock in ((30.0, 14.0), (60.0, 29.0), (90.0, 44.0), (120.0, 59.0))
)
"""What a tape reads of that linkage, to 1 mm."""
