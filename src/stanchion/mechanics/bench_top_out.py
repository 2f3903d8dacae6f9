"""A top-out spring from forces measured on the bench, without the main spring."""

from __future__ import annotations

from collections.abc import Sequence

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import finite, positive
from stanchion.mechanics.statistics import fit_line


@record
class BenchTopOut:
    """Rate and length of a top-out spring, from a line through its readings."""

    rate_n_per_mm: float
    works_over_mm: float
    rate_uncertainty_n_per_mm: float | None
    """Standard uncertainty of the rate; None of two readings."""
    off_n: tuple[float, ...]
    """How far each reading is off the line [N]."""


def bench_top_out(travels_mm: Sequence[float], forces_n: Sequence[float]) -> BenchTopOut:
    """The top-out spring whose force falls on a line to nothing where it is let go.

    .. math:: F = k_t (x_t - x)

    Args:
        travels_mm: travel x from the mechanical stop of each reading [mm], at least two different ones.
        forces_n: force of the spring at each [N]; a reading without force counts as beyond its end and is left out.

    Returns:
        Rate k_t and length x_t.

    Raises:
        OutOfRange: fewer than two readings under force, all at one travel, or forces that do not fall; a reading that
            is infinite or not a number.

    Source:
        Hooke's law; a line by least squares (JCGM 100:2008, H.3).

    >>> found = bench_top_out([0.0, 5.0, 10.0, 25.0], [600.0, 450.0, 300.0, 0.0])
    >>> found.rate_n_per_mm, found.works_over_mm
    (30.0, 20.0)
    """
    read = [(finite("travel", x), finite("force", force)) for x, force in zip(travels_mm, forces_n, strict=True)]
    pairs = [(x, force) for x, force in read if force > 0.0]
    if len(pairs) < len(("two", "readings")):
        raise OutOfRange("number of readings under force", len(pairs), "2 or more")
    x, forces = [pair[0] for pair in pairs], [pair[1] for pair in pairs]
    if len(pairs) == len(("two", "readings")):
        positive("distance of the readings", abs(x[1] - x[0]))
        slope, uncertainty = (forces[1] - forces[0]) / (x[1] - x[0]), None
        intercept = forces[0] - slope * x[0]
    else:
        line = fit_line(x, forces)
        slope, intercept, uncertainty = line.slope, line.intercept, line.slope_uncertainty
    rate = positive("fall of the force", -slope)
    return BenchTopOut(
        rate_n_per_mm=rate,
        works_over_mm=positive("length it works over", intercept / rate),
        rate_uncertainty_n_per_mm=uncertainty,
        off_n=tuple(force - intercept - slope * at for at, force in pairs),
    )
