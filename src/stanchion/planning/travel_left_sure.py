"""How sure a setting that leaves some fork travel on the brakes is: by the fork markers and by the height of the centre
of mass.

Where the braking is told by the markers, a height read too large makes that braking too small, so that most of it drops
out of what is left; where the braking was chosen, all of it counts. The braking chosen counts as exact.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.criteria.thresholds import MARKER_READING_MM
from stanchion.judgement.predict.balance import wheel_weights
from stanchion.judgement.predict.brakes import fork_left
from stanchion.mechanics.propagation import ErrorPart, effect_of, summed
from stanchion.mechanics.statistics import NORMAL, limits_uncertainty, mean
from stanchion.planning.braking_of_runs import RunAsRidden

ReadingOf = Literal["marker", "height"]
"""What makes it uncertain: the fork marker of a run, or the height of the centre of mass."""
LEAST_MM_PER_UNIT = 1e-9
"""A setting that moves what is left by less than this does nothing to it."""


@record(kw_only=True)
class Taken:
    """The braking, and how much higher the centre of mass is taken to lie, with one reading moved."""

    slow_g: float
    fast_g: float
    higher_mm: float = 0.0


@record(kw_only=True)
class Moved:
    """What one standard uncertainty of a reading does to the braking and the height, less and more; None where no
    braking is known then."""

    by: ReadingOf
    less: Taken | None
    more: Taken | None


@record(kw_only=True)
class SettingSure:
    """How sure a setting is."""

    expanded: float
    """Expanded uncertainty, 95 %, in the unit of the setting."""
    by: tuple[ReadingOf, ...]
    """What makes it uncertain, the most first."""


def brakings_moved(
    job: Job, profiles: Profiles, at_g: tuple[float, float], markers: Sequence[int]
) -> tuple[Moved, ...]:
    """What each reading that the travel left rests on does to the braking and the height.

    Args:
        job: the job.
        profiles: bands and targets.
        at_g: deceleration of a slow and of a fast stroke [g].
        markers: the runs, from 0, whose fork markers that deceleration is the mean of; none: it was chosen.
    """
    return tuple(_moved(job, profiles, at_g, markers))


def setting_sure(
    changed: Job, profiles: Profiles, at_g: tuple[float, float], moved: Sequence[Moved], left_by_value: float | None
) -> SettingSure | None:
    """How sure a setting is; None where no reading has a known uncertainty, or the setting does nothing.

    Args:
        changed: the job with the setting made.
        profiles: bands and targets.
        at_g: deceleration of a slow and of a fast stroke [g].
        moved: what each reading does to the braking and the height.
        left_by_value: by how many mm a larger setting changes what is left, by its own unit.
    """
    if not moved or left_by_value is None or abs(left_by_value) < LEAST_MM_PER_UNIT:
        return None
    assessment = assess(changed, profiles)

    def left(at: Taken | None) -> float | None:
        return None if at is None else fork_left(changed, assessment, at.slow_g, at.fast_g, at.higher_mm).value

    as_read = left(Taken(slow_g=at_g[0], fast_g=at_g[1]))
    if as_read is None:
        return None
    parts: list[ErrorPart[ReadingOf]] = []
    for one in moved:
        effect = effect_of(as_read, left(one.less), left(one.more))
        if effect is None:
            return None
        parts.append(ErrorPart(one.by, float(effect / left_by_value)))
    found = summed(0.0, parts)
    if found.uncertainty.standard == 0.0:
        return None
    return SettingSure(expanded=found.uncertainty.expanded, by=tuple(dict.fromkeys(part.name for part in found.parts)))


def slope(at: tuple[float, float | None], beside: tuple[float, float | None]) -> float | None:
    """What is left by a setting, from two settings with what each leaves.

    >>> slope((96.0, 10.1), (97.0, 9.9)), slope((96.0, 10.1), (97.0, None))
    (-0.1999999999999993, None)
    """
    if at[1] is None or beside[1] is None or at[0] == beside[0]:
        return None
    return (at[1] - beside[1]) / (at[0] - beside[0])


def _moved(job: Job, profiles: Profiles, at_g: tuple[float, float], markers: Sequence[int]) -> Iterator[Moved]:
    runs = [RunAsRidden(job, at, profiles) for at in markers]
    marker_mm = limits_uncertainty(MARKER_READING_MM)
    for run in runs:
        others = [one for one in runs if one is not run]
        less, more = (_mean(others, run, deeper_mm=by) for by in (-marker_mm, marker_mm))
        yield Moved(by="marker", less=less, more=more)
    off = wheel_weights(job, assess(job, profiles), "rider").height_expanded_mm
    if off.value is None:
        return
    low, high = (
        _mean(runs, None, higher_mm=by)
        if runs
        else Taken(slow_g=float(at_g[0]), fast_g=float(at_g[1]), higher_mm=float(by))
        for by in (-off.value / NORMAL, off.value / NORMAL)
    )
    yield Moved(by="height", less=low, more=high)


def _mean(
    runs: Sequence[RunAsRidden], moved: RunAsRidden | None, *, deeper_mm: float = 0.0, higher_mm: float = 0.0
) -> Taken | None:
    """The mean braking of runs, the marker of one more moved; None where one of them tells none then."""
    brakings = [run.braking(higher_mm=higher_mm) for run in runs]
    if moved is not None:
        brakings.append(moved.braking(deeper_mm=deeper_mm, higher_mm=higher_mm))
    slow = [of.slow_g.value for of in brakings if of.slow_g.value is not None]
    fast = [of.fast_g.value for of in brakings if of.fast_g.value is not None]
    if len(slow) < len(brakings) or len(fast) < len(brakings):
        return None
    return Taken(slow_g=float(mean(slow)), fast_g=float(mean(fast)), higher_mm=float(higher_mm))
