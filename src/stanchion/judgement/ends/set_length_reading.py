"""Where the set lengths of a leg were read, and the lengths they correspond to at the damper's stop.

Preload is given as it was read: free length less set length, plus what the adjuster adds. Where it was read matters
only with a top-out spring: at the stop, every preload of the leg is less by the reading point. The top-out spring gives
way as the adjuster is turned, so two set lengths read assembled differ by less than the range of the adjuster. The
range is therefore taken between the lengths converted to the stop.
"""

from __future__ import annotations

from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.job.model import Front, Leg, Side, Spring, TopOut
from stanchion.judgement.ends.top_out_bench import as_it_counts
from stanchion.mechanics.air_spring import AirSpring
from stanchion.mechanics.reading_point import reading_point_assembled, reading_point_touching
from stanchion.mechanics.solve import bracketed_root
from stanchion.mechanics.spring_curve import RateOrCurve, SpringCurve, force_at

_NEVER_ON_THE_STOP_MM = 150.0
"""Length assumed for a top-out spring whose length is not known: the longest that a job can record. It ensures that
neither reading counts as on the stop; the length itself cancels in the difference."""


def reading_point(top_out: TopOut, leg: Leg, spring: RateOrCurve | None, squeezed_mm: float | None) -> float | None:
    """Compression at which a set length of that leg is read.

    Args:
        top_out: the top-out spring, which counts where it is known to be fitted.
        leg: the leg, which records how its set lengths were read.
        spring: rate or curve of the main spring; None: not known.
        squeezed_mm: free length less set length as read.

    Returns:
        Compression from the stop [mm], 0 on the stop and without a top-out spring; None where too little is known.
    """
    if top_out.fitted != "yes" or leg.read_at == "stop":
        return 0.0
    top_out = as_it_counts(top_out)
    stiff, length = top_out.rate_n_per_mm, top_out.works_over_mm
    if length is None:
        return None
    if leg.read_at == "touching":
        return reading_point_touching(length)
    if stiff is None or spring is None or squeezed_mm is None:
        return None
    return reading_point_assembled(spring, squeezed_mm, stiff, length)


def squeezed(spring: Spring) -> float | None:
    """Free length less set length, as read."""
    if spring.free_length_mm is None or spring.set_length_mm is None:
        return None
    return spring.free_length_mm - spring.set_length_mm


def is_read_assembled(top_out: TopOut, leg: Leg) -> bool:
    """Whether both set lengths were, or may have been, read against a top-out spring."""
    both = leg.spring.set_length_mm is not None and leg.spring.set_length_in_mm is not None
    return both and leg.read_at == "assembled" and top_out.fitted != "no"


def lengths_for_range(top_out: TopOut, leg: Leg, law: RateOrCurve | None) -> Spring | None:
    """The spring with both set lengths converted to the stop, to take the range of the adjuster from.

    Args:
        top_out: the top-out spring.
        leg: the leg.
        law: rate or curve of its main spring; None: not known.

    Returns:
        The spring; None where the lengths were not both read assembled, or too little is known to convert them. Where
        only the length of the top-out spring is missing, both are too long by the same amount.
    """
    top_out = as_it_counts(top_out)
    spring, stiff = leg.spring, top_out.rate_n_per_mm
    free, out, fully_in = spring.free_length_mm, spring.set_length_mm, spring.set_length_in_mm
    if leg.read_at != "assembled" or top_out.fitted != "yes" or stiff is None:
        return None
    if law is None or free is None or out is None or fully_in is None:
        return None
    length = _NEVER_ON_THE_STOP_MM if top_out.works_over_mm is None else top_out.works_over_mm
    try:
        return replace(
            spring,
            set_length_mm=out + reading_point_assembled(law, free - out, stiff, length),
            set_length_in_mm=fully_in + reading_point_assembled(law, free - fully_in, stiff, length),
        )
    except OutOfRange:
        return None


def read_point(front: Front, side: Side, spring: RateOrCurve, squeezed_mm: float) -> float:
    """Compression at which a set length is read that leaves the spring squeezed so far."""
    if as_it_counts(front.top_out).rate_n_per_mm is None:
        return 0.0
    return reading_point(front.top_out_of(side), front.leg(side), spring, squeezed_mm) or 0.0


def read_squeezed(front: Front, side: Side, spring: RateOrCurve, at_stop_mm: float) -> float:
    """Free length less set length as it is read, from the preload at the stop: read_point() turned round."""
    point = read_point(front, side, spring, 0.0)
    if front.leg(side).read_at != "assembled" or point == 0.0:
        return at_stop_mm + point
    if at_stop_mm + point <= 0.0:  # loose where it is read: the two springs do not push
        return at_stop_mm + point
    stiff, apart_mm = front.top_out.rate_n_per_mm or 1.0, at_stop_mm + point
    if isinstance(spring, SpringCurve | AirSpring):
        pushed = bracketed_root(lambda mm: mm + force_at(spring, mm) / stiff - apart_mm, 0.0, apart_mm)
    else:
        pushed = apart_mm / (1.0 + spring / stiff)
    return pushed if read_point(front, side, spring, pushed) > 0.0 else at_stop_mm
