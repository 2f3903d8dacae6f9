"""The swingarm by the linkage points beside the swingarm as it was measured: both at full extension."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.record import record
from stanchion.job.model import Job
from stanchion.judgement.criteria.thresholds import ARM_AND_POINTS_DIFFER_DEG, SLACK
from stanchion.judgement.ends.points_law import points_law
from stanchion.judgement.predict.geometry import EXTENDED, geometry_figures
from stanchion.judgement.predict.swingarm import arm_in
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Finding, Severity


@record(kw_only=True)
class ArmTwice:
    """The swingarm below horizontal at full extension, the frame as it stood when the geometry was measured."""

    points_deg: float
    """By the linkage points and the length of the shock."""
    measured_deg: float
    """As measured, turned back by the sag it was measured with."""


def arm_twice(job: Job, motion_ratio: Figure) -> ArmTwice | None:
    """Both angles of the swingarm; None where either is not known.

    Args:
        job: the job.
        motion_ratio: of the rear, needed only where the shock length was changed.
    """
    curve = points_law(job.rear, job.swingarm.pivot_to_axle_mm).curve
    if curve is None or curve.linkage is None or curve.extended.arm_deg is None:
        return None
    if job.rear.link_mm is not None and not job.rear.by_points:  # then the geometry knows nothing of that link
        return None
    turned = arm_in(job, EXTENDED, motion_ratio)
    pitch_deg = geometry_figures(job, EXTENDED, motion_ratio).pitch_deg.value
    if isinstance(turned, Figure) or pitch_deg is None:
        return None
    return ArmTwice(points_deg=curve.extended.arm_deg, measured_deg=turned.arm.down_deg + pitch_deg)


def points_and_arm_findings(job: Job, motion_ratio: Figure) -> Iterator[Finding]:
    """A warning where the two angles differ by more than tape readings explain.

    Args:
        job: the job.
        motion_ratio: of the rear, needed only where the shock length was changed.
    """
    both = arm_twice(job, motion_ratio)
    if both is None:
        return
    differ_deg = abs(both.points_deg - both.measured_deg)
    if differ_deg > ARM_AND_POINTS_DIFFER_DEG + SLACK:
        values: dict[str, object] = {
            "points_deg": both.points_deg,
            "measured_deg": both.measured_deg,
            "differ_deg": differ_deg,
            "read_extended": job.rear.eye_to_eye_mm is None,
        }
        yield Finding("points_and_arm_differ", Severity.WARNING, ("rear", "points"), values)
