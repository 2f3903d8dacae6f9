"""A study of how well readings repeat: several places, read by several people, several times each.

A crossed study: everybody reads every place equally often. Its analysis of variance separates what repeats of one
person scatter by, what two people differ by at every place alike, and what they differ by at one place and not at
another (interaction). Names follow JCGM 200:2012, 2.21 and 2.25: repeatability and reproducibility.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import finite, not_negative
from stanchion.mechanics.statistics import Uncertainty, mean, standard_deviation

POOLED_ABOVE = 0.25
"""Chance above which an interaction counts as none, and is pooled with the repeats (customary in gauge studies; from
memory, no source read)."""
SCATTER_DOUBTED = 0.05
"""Chance below which repeats scatter more than a study explains: the 5 % that an interval of 95 % leaves."""
LEAST = 2
"""Places, people and repeats a study has at least."""

_STEPS = 500
_TINY = 1e-300
_SETTLED = 1e-15


@record
class Source:
    """One line of an analysis of variance."""

    squares: float
    """Sum of squares."""
    freedom: int
    """Degrees of freedom."""

    @property
    def mean_square(self) -> float:
        """Sum of squares over its degrees of freedom."""
        return self.squares / self.freedom


@record(kw_only=True)
class GaugeStudy:
    """What a study gives, in the unit of its readings."""

    places: Source
    people: Source
    interaction: Source
    repeats: Source
    interaction_chance: float
    """How likely the interaction, or a larger one, is where there is none."""
    pooled: bool
    """Whether the interaction counts as none."""
    repeatability: Uncertainty
    """Standard deviation of one person's repeats at one place."""
    between_people: float
    """Standard deviation between people, at every place alike."""
    by_place: float
    """Standard deviation of what people differ by at one place only; 0 if it counts as none."""
    one_reading: Uncertainty
    """Standard uncertainty of one reading of one person, without what that person reads too long or too short
    everywhere, which drops out of a difference of two of this person's readings."""

    @property
    def reproducibility(self) -> float:
        """Standard deviation between people, with that at one place only."""
        return math.hypot(self.between_people, self.by_place)

    @property
    def together(self) -> float:
        """Standard deviation of a reading of anybody: repeatability and reproducibility."""
        return math.hypot(self.repeatability.standard, self.reproducibility)


def gauge_study(readings: Sequence[Sequence[Sequence[float]]]) -> GaugeStudy:
    """Analysis of variance of a crossed study with interaction, all three random.

    .. math:: SS_P = o r \\sum (\\bar x_i - \\bar x)^2, \\quad SS_O = p r \\sum (\\bar x_j - \\bar x)^2, \\quad
              SS_E = \\sum (x_{ijk} - \\bar x_{ij})^2, \\quad
              SS_{PO} = r \\sum (\\bar x_{ij} - \\bar x_i - \\bar x_j + \\bar x)^2,

              s_r^2 = MS_E, \\quad s_{PO}^2 = (MS_{PO} - MS_E) / r, \\quad s_O^2 = (MS_O - MS_{PO}) / (p r)

    for p places, o people and r repeats; a variance below 0 counts as 0. Where the interaction is no larger than chance
    makes it one time in four, it is pooled: :math:`s_r^2 = (SS_E + SS_{PO}) / (\\nu_E + \\nu_{PO})`, and
    :math:`s_O^2 = (MS_O - s_r^2) / (p r)`. One reading has :math:`u^2 = s_r^2 + s_{PO}^2`, its degrees of freedom by
    Welch and Satterthwaite from those of the two mean squares.

    Args:
        readings: by place, then person, then repeat, in any one unit; at least two of each, equally many everywhere.

    Returns:
        What they give.

    Raises:
        OutOfRange: fewer than two of anything, unequal counts, or a reading that is no ordinary number.

    Source:
        Two-way analysis of variance with interaction, random effects: any textbook of statistics; the degrees of
        freedom JCGM 100:2008, G.4.1. Checked against a published study in tests/reference/ (from memory).

    >>> study = gauge_study([[[10.0, 12.0], [11.0, 13.0]], [[20.0, 22.0], [21.0, 23.0]]])
    >>> round(study.repeatability.standard, 3), study.repeatability.freedom, round(study.between_people, 3)
    (1.265, 5.0, 0.316)
    """
    p, o, r = _checked(readings)
    cells = [[mean(repeats) for repeats in people] for people in readings]
    by_place = [mean(row) for row in cells]
    by_person = [mean([row[person] for row in cells]) for person in range(o)]
    whole = mean(by_place)
    places = Source(o * r * math.fsum((one - whole) ** 2 for one in by_place), p - 1)
    people = Source(p * r * math.fsum((one - whole) ** 2 for one in by_person), o - 1)
    apart = (cells[i][j] - by_place[i] - by_person[j] + whole for i in range(p) for j in range(o))
    interaction = Source(r * math.fsum(one**2 for one in apart), (p - 1) * (o - 1))
    within = (
        (one - cell) ** 2
        for taken, means in zip(readings, cells, strict=True)
        for repeats, cell in zip(taken, means, strict=True)
        for one in repeats
    )
    repeats = Source(math.fsum(within), p * o * (r - 1))
    chance = variance_ratio_chance(interaction.mean_square, repeats.mean_square, interaction.freedom, repeats.freedom)
    pooled = chance > POOLED_ABOVE
    error, crossed = repeats, max(0.0, interaction.mean_square - repeats.mean_square) / r
    if pooled:
        error, crossed = Source(repeats.squares + interaction.squares, repeats.freedom + interaction.freedom), 0.0
    beside = error.mean_square if pooled else interaction.mean_square
    single = Uncertainty(math.sqrt(error.mean_square), float(error.freedom))
    return GaugeStudy(
        places=places,
        people=people,
        interaction=interaction,
        repeats=repeats,
        interaction_chance=chance,
        pooled=pooled,
        repeatability=single,
        between_people=math.sqrt(max(0.0, people.mean_square - beside) / (p * r)),
        by_place=math.sqrt(crossed),
        one_reading=single if crossed == 0.0 else _of_two(interaction, 1.0 / r, repeats, 1.0 - 1.0 / r),
    )


def _of_two(first: Source, share: float, second: Source, rest: float) -> Uncertainty:
    """The uncertainty whose square is a sum of two mean squares, with its effective degrees of freedom."""
    parts = (share * first.mean_square, rest * second.mean_square)
    variance = math.fsum(parts)
    shares = (parts[0] / variance, parts[1] / variance)  # squares of very small numbers would be lost
    inverse = shares[0] ** 2 / first.freedom + shares[1] ** 2 / second.freedom
    return Uncertainty(math.sqrt(variance), max(1.0, 1.0 / inverse))


def _checked(readings: Sequence[Sequence[Sequence[float]]]) -> tuple[int, int, int]:
    """How many places, people and repeats there are."""
    o = len(readings[0]) if readings else 0
    r = len(readings[0][0]) if o else 0
    for name, count in (("places", len(readings)), ("people", o), ("repeats", r)):
        if count < LEAST:
            raise OutOfRange(f"number of {name}", count, f"{LEAST} or more")
    for people in readings:
        if len(people) != o or any(len(repeats) != r for repeats in people):
            raise OutOfRange("number of readings", len(people), "equal at every place and for everybody")
        for repeats in people:
            for reading in repeats:
                finite("reading", reading)
    return len(readings), o, r


def with_own(readings: Sequence[float], own: Uncertainty) -> Uncertainty:
    """Uncertainty of the mean of some repeats, where it is known from a study how well one reading repeats.

    .. math:: s_p^2 = (\\nu s_o^2 + (n - 1) s^2) / (\\nu + n - 1), \\quad u = s_p / \\sqrt n, \\quad
              \\nu_p = \\nu + n - 1

    Repeats that scatter by more than the study explains (at 5 %) are taken by themselves: something is not as it was.

    Args:
        readings: at least one reading, in the unit of the study.
        own: that of one reading by the study.

    Returns:
        The uncertainty of their mean.

    Raises:
        OutOfRange: no reading, or one that is no ordinary number.

    Source:
        JCGM 100:2008, 4.2.4 and its note (a pooled estimate of variance from well-characterised measurements).

    >>> with_own([510.0], Uncertainty(0.4, 16.0)) == Uncertainty(0.4, 16.0)
    True
    >>> repeated = with_own([509.0, 510.0], Uncertainty(0.4, 16.0))
    >>> round(repeated.standard, 3), repeated.freedom
    (0.3, 17.0)
    >>> with_own([507.0, 510.0], Uncertainty(0.4, 16.0)).freedom
    1.0
    """
    n = len(readings)
    if n < LEAST or not math.isfinite(own.freedom):
        mean(readings)
        return own.times(1.0 / math.sqrt(n))
    deviation, further = standard_deviation(readings), n - 1
    if variance_ratio_chance(deviation**2, own.standard**2, further, own.freedom) < SCATTER_DOUBTED:
        return Uncertainty(deviation / math.sqrt(n), float(further))
    freedom = own.freedom + further
    pooled = math.sqrt((own.freedom * own.standard**2 + further * deviation**2) / freedom)
    return Uncertainty(pooled / math.sqrt(n), freedom)


def variance_ratio_chance(first: float, second: float, first_freedom: float, second_freedom: float) -> float:
    """How likely the ratio of two variances is as large as it is, or larger, where both are one (F distribution).

    .. math:: Q(F) = I_{\\nu_2 / (\\nu_2 + \\nu_1 F)}(\\nu_2 / 2, \\nu_1 / 2), \\quad F = s_1^2 / s_2^2

    Args:
        first: the variance that may be the larger, >= 0.
        second: the one it is compared with, >= 0.
        first_freedom: degrees of freedom of the first, > 0.
        second_freedom: degrees of freedom of the second, > 0.

    Returns:
        The probability, 0 to 1; 1 where both variances are 0.

    Raises:
        OutOfRange: a variance is negative, or there is no degree of freedom.

    Source:
        M. Abramowitz & I. A. Stegun, Handbook of Mathematical Functions, 26.6.2 and 26.5.8 (from memory; checked
        against scipy in tests/).

    >>> round(variance_ratio_chance(4.96, 1.0, 1, 10), 3)
    0.05
    """
    if not min(first_freedom, second_freedom) > 0.0:
        raise OutOfRange("degrees of freedom", min(first_freedom, second_freedom), "above 0")
    weighted = not_negative("variance", first) * first_freedom, not_negative("variance", second) * second_freedom
    if weighted[0] == 0.0:
        return 1.0
    return _beta_share(weighted[1] / (weighted[0] + weighted[1]), second_freedom / 2.0, first_freedom / 2.0)


def _beta_share(x: float, a: float, b: float) -> float:
    """Regularised incomplete beta function, by its continued fraction."""
    if x <= 0.0 or x >= 1.0:
        return min(1.0, max(0.0, x))
    if x > (a + 1.0) / (a + b + 2.0):  # where the fraction would settle slowly
        return 1.0 - _beta_share(1.0 - x, b, a)
    front = math.exp(math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x))
    below, above = 1.0 / _not_zero(1.0 - (a + b) * x / (a + 1.0)), 1.0
    fraction = below
    for m in range(1, _STEPS):
        for term in (
            m * (b - m) * x / ((a + 2 * m - 1.0) * (a + 2 * m)),
            -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1.0)),
        ):
            below = 1.0 / _not_zero(1.0 + term * below)
            above = _not_zero(1.0 + term / above)
            fraction *= below * above
        if abs(below * above - 1.0) < _SETTLED:
            break
    return min(1.0, front * fraction / a)


def _not_zero(value: float) -> float:
    return value if abs(value) > _TINY else _TINY
