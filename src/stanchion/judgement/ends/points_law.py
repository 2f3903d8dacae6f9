"""The linkage by its points: its curve where they give the motion ratio, what stops it, and the measured pairs beside
it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Path, Rear
from stanchion.judgement.criteria.thresholds import (
    PAIRS_AND_POINTS_DIFFER,
    POINTS_TRAVEL_MM,
    SLACK,
    TAPE_DIVISION_MM,
)
from stanchion.judgement.ends.linkage_places import PointPlaces, linkage_places
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.linkage import Linkage
from stanchion.mechanics.linkage_points import Extended, LinkagePoints, Stopped, extended_position
from stanchion.mechanics.linkage_points_curve import PointsCurve, moved_by_points, points_curve
from stanchion.mechanics.statistics import resolution_uncertainty
from stanchion.mechanics.swingarm import ArmLine

_POINTS: Path = ("rear", "points")
EYE_TO_EYE: Path = ("rear", "eye_to_eye_mm")
Moved = tuple[tuple[float, float, float], ...]


@record
class PointsLaw:
    """What the points of a linkage give."""

    places: PointPlaces
    curve: PointsCurve | None = None
    """None where the points are not all known, or cannot be right."""
    wanted_mm: float = 0.0
    """Wheel travel it is worked out for."""

    @property
    def linkage(self) -> Linkage | None:
        """Shock travel by wheel travel, as far as the linkage moves."""
        return None if self.curve is None else self.curve.linkage

    @property
    def stopped(self) -> Stopped:
        """What keeps it from the whole travel of the wheel or the stroke of the shock; empty: nothing."""
        return "" if self.curve is None else self.curve.stopped


def shock_length(rear: Rear) -> float | None:
    """Length of the shock between its eyes, extended and as its length adjuster stands [mm]; None: not recorded."""
    return None if rear.eye_to_eye_mm is None else rear.eye_to_eye_mm + (rear.length_adjuster_mm or 0.0)


def points_law(rear: Rear, arm_mm: float | None) -> PointsLaw:
    """What the points give, over the travel of the wheel, or up to the stroke of the shock.

    Args:
        rear: the shock and its linkage.
        arm_mm: length of the swingarm from pivot to axle [mm]; None: not recorded.
    """
    places = linkage_places(rear, arm_mm)
    if places.points is None:
        return PointsLaw(places)
    wanted_mm = POINTS_TRAVEL_MM if rear.wheel_travel_mm is None else rear.wheel_travel_mm
    curve = _curve(places.points, shock_length(rear), wanted_mm)
    if curve.stopped and _goes_far_enough(rear, curve):
        curve = PointsCurve(curve.linkage, curve.extended)
    return PointsLaw(places, curve, wanted_mm)


@lru_cache(maxsize=64)
def _extended(points: LinkagePoints, shock_mm: float | None) -> Extended:
    return extended_position(points, shock_mm)


@lru_cache(maxsize=64)
def _curve(points: LinkagePoints, shock_mm: float | None, travel_mm: float) -> PointsCurve:
    return points_curve(points, shock_mm, travel_mm)


def _goes_far_enough(rear: Rear, curve: PointsCurve) -> bool:
    """Whether a linkage that stops has used up the stroke of the shock by then, or no travel is recorded that it
    should reach."""
    if curve.linkage is None:
        return False
    if rear.stroke_mm is not None:
        stroke_mm = rear.stroke_mm - (rear.packers_mm or 0.0)
        return curve.linkage.shock_travel(curve.linkage.covered_mm) >= stroke_mm
    return rear.wheel_travel_mm is None and curve.linkage.covered_mm >= POINTS_TRAVEL_MM / 3.0


def extended_line(rear: Rear, arm_mm: float | None) -> ArmLine | None:
    """The line from swingarm pivot to axle at full extension by the points, in the frame as they were read; None: not
    known.

    Args:
        rear: the shock and its linkage.
        arm_mm: length of the swingarm from pivot to axle [mm]; None: not recorded.
    """
    points, shock_mm = linkage_places(rear, arm_mm).points, shock_length(rear)
    if points is None:
        return None
    extended = _extended(points, shock_mm)
    if extended.stopped or extended.arm_deg is None:
        return None
    return ArmLine(length_mm=math.hypot(*points.axle), down_deg=extended.arm_deg)


def link_rise(now: Rear, then_mm: float | None, arm_mm: float | None) -> Figure:
    """By how much the rear of the machine is higher at the same wheel travel, because another length of the link lets
    the axle hang lower in the frame.

    Args:
        now: the shock and its linkage, with the link as it is now.
        then_mm: length of the link then [mm]; None: as the points have it.
        arm_mm: length of the swingarm from pivot to axle [mm]; None: not recorded.

    Returns:
        The rise [mm]; 0 where the points are not used, or the link is as it was.
    """
    if not now.by_points or now.link_mm == then_mm or now.points.layout == "straight":
        return Figure(0.0)
    then = replace(now, link_mm=then_mm)
    return derive(lambda before, after: after - before, _axle_below(then, arm_mm), _axle_below(now, arm_mm))


def _axle_below(rear: Rear, arm_mm: float | None) -> Figure:
    """Axle below the pivot at full extension [mm]."""
    places, shock_mm = linkage_places(rear, arm_mm), shock_length(rear)
    if places.wrong is not None:
        return absent("points_impossible")
    if places.points is None or shock_mm is None:
        return Figure(needs=(*places.needs, *(() if shock_mm is not None else (EYE_TO_EYE,))))
    extended = extended_position(places.points, shock_mm)
    if extended.stopped or extended.arm_deg is None:
        return absent("points_stop")
    return Figure(math.hypot(*places.points.axle) * math.sin(math.radians(extended.arm_deg)))


def points_uncertainty(rear: Rear, arm_mm: float | None, wheel_mm: float, tape_mm: float) -> Moved:
    """What each reading of a point moves at one wheel travel, as moved_by_points gives it.

    A reading is as fine as the tape; in a photograph as one pixel, where that is coarser. Of two lengths each is a
    reading: where they meet at a small angle, the point is far less certain across them than either length.

    Args:
        rear: the shock and its linkage.
        arm_mm: length of the swingarm from pivot to axle [mm].
        wheel_mm: wheel travel [mm].
        tape_mm: smallest division of the tape [mm].

    Raises:
        OutOfRange: the points give no linkage that reaches that travel.
    """
    points = linkage_places(rear, arm_mm).points
    if points is None or arm_mm is None:
        raise OutOfRange("number of points", 0, "as many as the linkage has")
    step_mm = tape_mm
    if rear.points.read_by == "photo":
        pivot, axle = rear.points.pivot, rear.points.axle
        across = (axle.right_px or 0.0) - (pivot.right_px or 0.0), (axle.down_px or 0.0) - (pivot.down_px or 0.0)
        step_mm = max(step_mm, math.hypot(*points.axle) / math.hypot(*across))
    standard_mm = resolution_uncertainty(step_mm)
    otherwise = tuple(_lengths_otherwise(rear, arm_mm, standard_mm)) if rear.points.read_by == "lengths" else None
    return _moved(points, shock_length(rear), wheel_mm, standard_mm, otherwise)


def _lengths_otherwise(rear: Rear, arm_mm: float, by_mm: float) -> Iterator[LinkagePoints]:
    """The points with one length after another read longer by so much, or shorter where the two would not meet.

    Raises:
        OutOfRange: two lengths that meet neither way.
    """
    ways = (_moved_lengths(rear, arm_mm, by) for by in (by_mm, -by_mm))
    for longer, shorter in zip(*ways, strict=True):
        points = linkage_places(*longer).points or linkage_places(*shorter).points
        if points is None:
            raise OutOfRange("uncertainty of a reading", by_mm, "one with which the two lengths still meet")
        yield points


def _moved_lengths(rear: Rear, arm_mm: float, by_mm: float) -> Iterator[tuple[Rear, float]]:
    """The shock with one length of its points after another moved, and the length of the swingarm."""
    read = rear.points
    yield rear, arm_mm + by_mm
    yield replace(rear, points=replace(read, axle_below_mm=(read.axle_below_mm or 0.0) + by_mm)), arm_mm
    for name in read.names:
        point = getattr(read, name)
        for cell in read.cells:
            moved = replace(point, **{cell: (getattr(point, cell) or 0.0) + by_mm})
            yield replace(rear, points=replace(read, **{name: moved})), arm_mm


@lru_cache(maxsize=64)
def _moved(
    points: LinkagePoints,
    shock_mm: float | None,
    wheel_mm: float,
    standard_mm: float,
    otherwise: tuple[LinkagePoints, ...] | None,
) -> Moved:
    return moved_by_points(points, shock_mm, wheel_mm, standard_mm, otherwise)


@record
class PairBeside:
    """One measured pair beside what the points give there."""

    wheel_mm: float
    pair_mm: float
    """Shock travel as measured [mm]."""
    points_mm: float
    """Shock travel by the points [mm]."""

    @property
    def share(self) -> float:
        """By how much the points give more, as a share of the pair."""
        return (self.points_mm - self.pair_mm) / self.pair_mm


def pairs_beside(rear: Rear, law: PointsLaw) -> tuple[PairBeside, ...]:
    """The measured pairs beside the points, as far as these reach."""
    linkage = law.linkage
    if linkage is None:
        return ()
    pairs = ((one.wheel_mm, one.shock_mm) for one in rear.linkage)
    return tuple(
        PairBeside(wheel_mm, shock_mm, linkage.shock_travel(wheel_mm))
        for wheel_mm, shock_mm in pairs
        if wheel_mm is not None and shock_mm and 0.0 < wheel_mm <= linkage.covered_mm
    )


def points_findings(rear: Rear, law: PointsLaw, tape_mm: float | None) -> Iterator[Finding]:
    """Points that cannot be, a linkage that stops too early, and pairs that say something else.

    Pairs are compared by shock travel: those that differ by more than both 2 % and what a tape can misread.

    Args:
        rear: the shock and its linkage.
        law: what the points give.
        tape_mm: smallest division of the tape [mm]; None: 1 mm is taken.
    """
    if law.places.wrong is not None:
        yield Finding("points_impossible", Severity.FAULT, law.places.wrong)
        return
    if law.curve is None:
        return
    if law.stopped:
        values: dict[str, object] = {"travel_mm": law.curve.stopped_at_mm or 0.0, "what": law.stopped}
        values |= {"never": law.curve.linkage is None, "on": rear.points.layout}
        yield Finding("points_stop", Severity.FAULT, _POINTS, values)
    if rear.eye_to_eye_mm is None:
        yield Finding("points_read_extended", Severity.NOTE, _POINTS)
    misread = 2.0 * resolution_uncertainty(TAPE_DIVISION_MM if tape_mm is None else tape_mm)
    off = [
        one
        for one in pairs_beside(rear, law)
        if abs(one.share) > PAIRS_AND_POINTS_DIFFER + SLACK and abs(one.points_mm - one.pair_mm) > misread
    ]
    if off:
        worst = max(off, key=lambda one: abs(one.share))
        values = {"wheel_mm": worst.wheel_mm, "pair_mm": worst.pair_mm, "points_mm": worst.points_mm}
        yield Finding("points_and_pairs_differ", Severity.WARNING, _POINTS, {**values, "share": abs(worst.share)})
    yield from _beside_stroke(rear, law, misread)


def _beside_stroke(rear: Rear, law: PointsLaw, misread_mm: float) -> Iterator[Finding]:
    """A note where the points use up more or less of the shock over the wheel travel entered than its stroke."""
    if law.linkage is None or law.stopped or rear.stroke_mm is None or rear.wheel_travel_mm is None:
        return
    stroke_mm, wheel_mm = rear.stroke_mm - (rear.packers_mm or 0.0), rear.wheel_travel_mm
    if stroke_mm <= 0.0 or law.linkage.covered_mm < wheel_mm - SLACK:
        return
    by_points_mm = law.linkage.shock_travel(wheel_mm)
    differ_mm = abs(by_points_mm - stroke_mm)
    if differ_mm > max(PAIRS_AND_POINTS_DIFFER * stroke_mm + SLACK, misread_mm):
        values: dict[str, object] = {"wheel_mm": wheel_mm, "points_mm": by_points_mm, "stroke_mm": stroke_mm}
        values["differ_mm"] = differ_mm
        yield Finding("points_and_stroke_differ", Severity.NOTE, _POINTS, values)
