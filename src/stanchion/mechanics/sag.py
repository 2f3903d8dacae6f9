"""Sag and stiction from readings, and their uncertainty.

A length shrinks as the suspension is used: pushed down and let rise it reads short, lifted and let settle it reads
long. A gauge that reads travel used grows instead, so there the pushed-down reading is the larger.
"""

from __future__ import annotations

from collections.abc import Sequence

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.limits import finite, not_negative, positive
from stanchion.mechanics.statistics import Uncertainty, resolution_uncertainty, together, type_a_uncertainty

SINGLE_READING_UNCERTAINTY_MM = 1.0
"""Standard uncertainty of a reading taken once [mm] (common practice, no published source)."""


def sag(hanging_mm: float, down_mm: float, up_mm: float) -> float:
    """Sag from lengths: the length with the wheel hanging less the middle of the two readings.

    .. math:: s = L_1 - (d + u) / 2

    Args:
        hanging_mm: L1, wheel hanging clear [mm], > 0.
        down_mm: pushed down and let rise [mm], >= 0.
        up_mm: lifted and let settle [mm], >= 0.

    Returns:
        Sag [mm]; a little below zero is possible where readings scatter.

    Raises:
        OutOfRange: a length is negative, or L1 is zero.

    Source:
        Common practice, no published source.

    >>> sag(548.0, 510.0, 516.0)
    35.0
    """
    return positive("hanging length", hanging_mm) - _middle(down_mm, up_mm)


def sag_from_down(hanging_mm: float, down_mm: float) -> float:
    """Sag from the pushed-down reading only, as one person alone can take it. It is too large by half the stiction.

    .. math:: s = L_1 - d

    Args:
        hanging_mm: L1, wheel hanging clear [mm], > 0.
        down_mm: pushed down and let rise [mm], >= 0.

    Returns:
        Sag [mm].

    Raises:
        OutOfRange: a length is negative, or L1 is zero.

    Source:
        Common practice, no published source.

    >>> sag_from_down(548.0, 510.0)
    38.0
    """
    return positive("hanging length", hanging_mm) - not_negative("pushed-down reading", down_mm)


def sag_from_travel(down_mm: float, up_mm: float) -> float:
    """Sag from a gauge that reads travel used.

    .. math:: s = (d + u) / 2

    Args:
        down_mm: travel read after pushing down [mm], >= 0.
        up_mm: travel read after lifting [mm], >= 0.

    Returns:
        Sag [mm].

    Raises:
        OutOfRange: a reading is negative.

    Source:
        Common practice, no published source.

    >>> sag_from_travel(38.0, 32.0)
    35.0
    """
    return _middle(down_mm, up_mm)


def stiction(down_mm: float, up_mm: float) -> float:
    """Spread between the two readings of one state, read as a length.

    .. math:: t = u - d

    Args:
        down_mm: pushed down and let rise [mm], >= 0.
        up_mm: lifted and let settle [mm], not shorter than down_mm.

    Returns:
        Stiction [mm], >= 0.

    Raises:
        OutOfRange: up shorter than down: the readings are swapped.

    Source:
        Common practice, no published source.

    >>> stiction(510.0, 516.0)
    6.0
    """
    not_negative("pushed-down reading", down_mm)
    if not up_mm >= down_mm:
        raise OutOfRange("lifted reading", up_mm, f"no shorter than the pushed-down reading, {down_mm:g}")
    return finite("lifted reading", up_mm) - down_mm


def stiction_from_travel(down_mm: float, up_mm: float) -> float:
    """Spread between the two readings of one state, from a gauge that reads travel used.

    .. math:: t = d - u

    Args:
        down_mm: travel read after pushing down [mm], not less than up_mm.
        up_mm: travel read after lifting [mm], >= 0.

    Returns:
        Stiction [mm], >= 0.

    Raises:
        OutOfRange: down less than up: the readings are swapped.

    Source:
        Common practice, no published source.

    >>> stiction_from_travel(38.0, 32.0)
    6.0
    """
    not_negative("lifted reading", up_mm)
    if not down_mm >= up_mm:
        raise OutOfRange("pushed-down reading", down_mm, f"no less travel than the lifted reading, {up_mm:g}")
    return finite("pushed-down reading", down_mm) - up_mm


def reading_scatter(
    readings_mm: Sequence[float], resolution_mm: float, own_mm: Uncertainty | None = None
) -> Uncertainty:
    """Uncertainty of the mean of repeats, without that of the division of the tape, which they share.

    .. math:: u = s / \\sqrt n, \\quad \\nu = n - 1

    Args:
        readings_mm: at least one reading [mm].
        resolution_mm: smallest division of the tape a [mm], >= 0.
        own_mm: that of one reading by a study of whoever reads [mm]; None: there is none.

    Returns:
        Its uncertainty [mm]. With a study it is by that and by the repeats together. Without, one reading has 1 mm
        (common practice), or the tape's where that is more, with infinite degrees of freedom, because the value is
        chosen on the safe side.

    Raises:
        OutOfRange: no reading, or a negative resolution.

    Source:
        JCGM 100:2008, 4.2.3; for one reading G.4.3 (degrees of freedom), the value common practice, no published
        source.

    >>> reading_scatter([510.0], 1.0).standard
    1.0
    >>> repeated = reading_scatter([509.0, 510.0, 511.0], 1.0)
    >>> round(repeated.standard, 3), repeated.freedom
    (0.577, 2.0)
    """
    tape = resolution_uncertainty(resolution_mm)
    if own_mm is not None:  # few readings are, so the module is imported only then
        from stanchion.mechanics.gauge_study import with_own  # noqa: PLC0415

        return with_own(readings_mm, own_mm)
    if len(readings_mm) == 1:
        finite("reading", readings_mm[0])
        return Uncertainty(max(SINGLE_READING_UNCERTAINTY_MM, tape))
    return Uncertainty(type_a_uncertainty(readings_mm), len(readings_mm) - 1.0)


def reading_uncertainty(
    readings_mm: Sequence[float], resolution_mm: float, own_mm: Uncertainty | None = None
) -> Uncertainty:
    """Uncertainty of the mean of the repeats of one reading, including that of the tape.

    .. math:: u = \\sqrt{s^2 / n + a^2 / 12}

    Args:
        readings_mm: at least one reading [mm].
        resolution_mm: smallest division of the tape a [mm], >= 0.
        own_mm: that of one reading by a study of whoever reads [mm]; None: there is none.

    Returns:
        Its uncertainty [mm]. Without a study, one reading has 1 mm (common practice), or the tape's where that is more.

    Raises:
        OutOfRange: no reading, or a negative resolution.

    Source:
        JCGM 100:2008, 4.2.3, 4.3.7 and 5.1.2; one reading: common practice, no published source.

    >>> reading_uncertainty([510.0], 1.0).standard
    1.0
    >>> round(reading_uncertainty([509.0, 510.0, 511.0], 1.0).standard, 3)
    0.645
    """
    scatter = reading_scatter(readings_mm, resolution_mm, own_mm)
    return together(scatter, Uncertainty(_tape(readings_mm, resolution_mm, own_mm)))


def state_uncertainty(
    down_mm: Sequence[float],
    up_mm: Sequence[float],
    resolution_mm: float,
    own_mm: Uncertainty | None = None,
    *,
    mounted: bool,
) -> Uncertainty:
    """Uncertainty of the middle of the two readings of one state, without that of L1.

    The division of the tape affects both readings equally, so its uncertainties add linearly instead of in quadrature.
    With a rider aboard, so do changes from one mounting to the next. The first pushed-down and the first lifted reading
    belong to one mounting, the second ones to the next, and so on; the scatter is that of the middles of these pairs.
    Where there are more readings of one kind, the pairs are not known, and the scatter of both kinds adds linearly.

    .. math:: u = \\sqrt{u_s^2 + ((t_d + t_u) / 2)^2}

    with :math:`u_s = \\sqrt{u_d^2 + u_u^2} / 2` of the machine alone, :math:`s(m) / \\sqrt n` of the middles m of the
    mountings, or :math:`(u_d + u_u) / 2`.

    Args:
        down_mm: pushed-down readings [mm], at least one.
        up_mm: lifted readings [mm], at least one.
        resolution_mm: smallest division of the tape [mm], >= 0.
        own_mm: that of one reading by a study of whoever reads, made in this state [mm]; None: there is none.
        mounted: whether the rider is aboard.

    Returns:
        Its uncertainty [mm].

    Raises:
        OutOfRange: no reading, or a negative resolution.

    Source:
        JCGM 100:2008, 4.2.3 (repeats), 5.2.2 (what is shared), 5.1.2 (the rest).

    >>> round(state_uncertainty([510.0], [516.0], 1.0, mounted=True).standard, 4)
    0.7071
    >>> mounted = state_uncertainty([510.0, 512.0, 511.0], [515.0, 517.0, 516.0], 0.0, mounted=True)
    >>> alone = state_uncertainty([510.0, 512.0, 511.0], [515.0, 517.0, 516.0], 0.0, mounted=False)
    >>> round(mounted.standard, 4), mounted.freedom, round(alone.standard, 4), round(alone.freedom, 6)
    (0.5774, 2.0, 0.4082, 4.0)
    """
    down, up = (reading_scatter(readings, resolution_mm, own_mm) for readings in (down_mm, up_mm))
    tape = (_tape(down_mm, resolution_mm, own_mm) + _tape(up_mm, resolution_mm, own_mm)) / 2.0
    if not mounted or len(down_mm) == len(up_mm) == 1:
        scatter = together(down.times(0.5), up.times(0.5))
    elif len(down_mm) == len(up_mm):
        middles = [(low + high) / 2.0 for low, high in zip(down_mm, up_mm, strict=True)]
        scatter = reading_scatter(middles, resolution_mm, own_mm)
    else:
        scatter = Uncertainty((down.standard + up.standard) / 2.0, min(down.freedom, up.freedom))
    return together(scatter, Uncertainty(tape))


def sag_uncertainty(hanging_mm: Uncertainty, state_mm: Uncertainty) -> Uncertainty:
    """Uncertainty of a sag.

    .. math:: u = \\sqrt{u_1^2 + u_m^2}

    Errors from the division of the tape might partly cancel between L1 and the readings of the state. Since the lengths
    fall on different places of a division, this is not assumed.

    Args:
        hanging_mm: that of L1 [mm]; 0 with a gauge that reads travel.
        state_mm: that of the state: of the middle of two readings (state_uncertainty), or of the one reading
            taken alone [mm].

    Returns:
        Its uncertainty [mm].

    Raises:
        OutOfRange: an uncertainty is negative.

    Source:
        JCGM 100:2008, 5.1.2.

    >>> round(sag_uncertainty(Uncertainty(1.0), state_uncertainty([510.0], [516.0], 1.0, mounted=False)).standard, 4)
    1.2247
    """
    return together(hanging_mm, state_mm)


def change_uncertainty(first_state_mm: Uncertainty, second_state_mm: Uncertainty) -> Uncertainty:
    """Uncertainty of the difference of two sags that share L1, whose own error cancels.

    .. math:: u = \\sqrt{u_{m1}^2 + u_{m2}^2}

    Args:
        first_state_mm: state uncertainty of the one [mm], without L1.
        second_state_mm: state uncertainty of the other [mm], without L1.

    Returns:
        Uncertainty of the difference [mm].

    Raises:
        OutOfRange: an uncertainty is negative.

    Source:
        JCGM 100:2008, 5.1.2 and 5.2.2 (what both share drops out of a difference).

    >>> change_uncertainty(Uncertainty(0.6), Uncertainty(0.8)).standard
    1.0
    """
    return together(first_state_mm, second_state_mm)


def within_spread(change_mm: float, uncertainty_mm: Uncertainty) -> bool:
    """Whether a change is within measuring spread: below its expanded uncertainty.

    Args:
        change_mm: difference of two sags [mm].
        uncertainty_mm: uncertainty of that difference [mm].

    Returns:
        True where it is within measuring spread.

    Raises:
        OutOfRange: the change is no ordinary number, or the uncertainty negative.

    Source:
        JCGM 100:2008, 6.2.1 and G.3: the expanded uncertainty holds about 95 %.

    >>> within_spread(1.9, Uncertainty(1.0)), within_spread(-3.0, Uncertainty(1.0))
    (True, False)
    >>> within_spread(-3.0, Uncertainty(1.0, 2.0))
    True
    """
    return abs(finite("change", change_mm)) < not_negative("uncertainty", uncertainty_mm.expanded)


def friction_force(rate_n_per_mm: float, stiction_mm: float) -> float:
    """Approximate friction force along the suspension.

    .. math:: F = k t / 2

    Args:
        rate_n_per_mm: rate at work there, as the reading sees it [N/mm], > 0.
        stiction_mm: stiction [mm], >= 0.

    Returns:
        Friction force, one way [N].

    Raises:
        OutOfRange: rate not above 0, or stiction negative.

    Source:
        Common practice; it follows from friction holding the machine low after pushing and high after lifting.

    >>> friction_force(18.0, 6.0)
    54.0
    """
    return positive("working rate", rate_n_per_mm) * not_negative("stiction", stiction_mm) / 2.0


def _middle(down_mm: float, up_mm: float) -> float:
    return (not_negative("pushed-down reading", down_mm) + not_negative("lifted reading", up_mm)) / 2.0


def _tape(readings_mm: Sequence[float], resolution_mm: float, own_mm: Uncertainty | None) -> float:
    """Uncertainty from the division of the tape; 0 for a single reading without a study, whose 1 mm includes it."""
    return 0.0 if len(readings_mm) == 1 and own_mm is None else resolution_uncertainty(resolution_mm)
