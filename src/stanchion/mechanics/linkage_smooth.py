"""Linkage pairs that were read with a tape: the smooth curve through them, and the uncertainty of what follows.

In a curve through every pair, the error of every reading enters the slope, the more so the closer the pairs are. The
ratio of rigid links changes gently. This curve may miss the pairs by as much as they can be misread, and gives the
ratio far more exactly than differences of neighbouring pairs.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.mechanics.limits import positive
from stanchion.mechanics.linkage import Linkage, through_pairs
from stanchion.mechanics.monotone import LEAST_FOR_A_CURVE
from stanchion.mechanics.statistics import Uncertainty, combine, resolution_uncertainty

_SHAPES = (
    (1.0,),
    (-1.0, 2.0),
    (1.0, -6.0, 6.0),
    (-1.0, 12.0, -30.0, 20.0),
    (1.0, -20.0, 90.0, -140.0, 70.0),
    (-1.0, 30.0, -210.0, 560.0, -630.0, 252.0),
)
"""Legendre polynomials on 0 to 1, by rising powers of the share of travel: what the motion ratio is made of."""
_BEND_PER_MM = 1.0 / 6000.0
"""Usual size of the third shape for each mm of travel, as a share of the ratio: 2 % over 120 mm, 5 % over 300 mm. What
rockers and links of random lengths give, worked out from their geometry in tests/mechanics; a shock straight between
swingarm and frame bends less."""
_GENTLER = 2.5
"""By so much is each further shape smaller than the one before; from the same linkages."""
_SURELY = 2.326348
"""Quantile of the normal distribution for 99 %."""


@record
class SmoothLinkage:
    """Motion ratio as a sum of basis functions, with the effect of each source of uncertainty."""

    length_mm: float
    """Wheel travel of the last pair [mm]."""
    shares: tuple[float, ...]
    """Coefficient of each basis function in the ratio."""
    moved_shares: tuple[tuple[float, ...], ...]
    """Change of the coefficients for one standard uncertainty of each pair and of each assumption."""
    scatter: float
    """Sum of the squared deviations of the pairs, each in standard uncertainties."""
    freedom: int
    """Degrees of freedom of that sum."""
    furthest: tuple[float, float]
    """The pair with the largest deviation: its wheel travel, and its shock travel less that of the curve [mm]."""

    @property
    def fits(self) -> bool:
        """Whether the deviations of the pairs can be reading errors, at a significance level of 1 %.

        .. math:: \\chi^2 \\le \\nu (1 - 2 / (9 \\nu) + 2.326 \\sqrt{2 / (9 \\nu)})^3

        Source:
            E. B. Wilson & M. M. Hilferty, Proc. Natl. Acad. Sci. 17 (1931) (from memory; checked against SciPy).
        """
        part = 2.0 / (9.0 * self.freedom)
        return self.scatter <= self.freedom * (1.0 - part + _SURELY * math.sqrt(part)) ** 3

    def state(self, wheel_mm: float) -> Moved:
        """Shock travel [mm], motion ratio and dm/dz [1/mm] at one wheel travel [mm]."""
        return self._of(self.shares, _at(wheel_mm / self.length_mm))

    def moved(self, wheel_mm: float) -> tuple[Moved, ...]:
        """Effect of each source of uncertainty at one wheel travel, for `linkage_uncertainty`."""
        shapes = _at(wheel_mm / self.length_mm)
        return tuple(self._of(shares, shapes) for shares in self.moved_shares)

    def _of(self, shares: Sequence[float], shapes: Sequence[Moved]) -> Moved:
        shock, ratio, slope = (_sum(shares, each) for each in zip(*shapes, strict=True))
        return shock * self.length_mm, ratio, slope / self.length_mm


@lru_cache(maxsize=64)
def smooth_through_pairs(pairs: Pairs, step_mm: float) -> SmoothLinkage:
    """The smooth curve through (0, 0) that fits the pairs best.

    .. math:: m = \\sum a_j P_j(z / L), \\quad
        \\sum_i \\frac{(s_i - \\int_0^{z_i} m\\,dz)^2}{u_i^2} + \\sum_{j \\ge 2} \\frac{a_j^2}{b_j^2} = \\min, \\quad
        u_i^2 = (1 + \\bar m^2)\\,a^2 / 12

    Args:
        pairs: (vertical wheel travel, shock travel) [mm], in any order, as `through_pairs` takes them.
        step_mm: smallest division a of the tape [mm], > 0.

    Returns:
        The curve.

    Raises:
        OutOfRange: so few pairs that they are joined by straight lines, pairs that do not rise, or no division.

    Source:
        JCGM 100:2008, 4.3.7 (division of the scale) and 4.3.8 (what is known beforehand); weighted least squares, with
        what is known beforehand as further observations, is checked against NumPy.

    >>> curve = smooth_through_pairs(((30.0, 11.0), (60.0, 22.0), (90.0, 34.0), (120.0, 46.0)), 1.0)
    >>> [round(figure, 4) for figure in curve.state(60.0)], curve.fits
    ([22.1734, 0.3835, 0.0005], True)
    """
    points = sorted((pair for pair in pairs if pair != (0.0, 0.0)), key=lambda pair: pair[0])
    if len(points) + 1 < LEAST_FOR_A_CURVE:
        raise OutOfRange("number of linkage pairs", len(points), f"{LEAST_FOR_A_CURVE - 1} or more for a curve")
    for (z0, s0), (z1, s1) in pairwise([(0.0, 0.0), *points]):
        if not (z0 < z1 < math.inf and s0 < s1 < math.inf):
            raise OutOfRange("linkage pair", z1, "such that both travels rise from pair to pair")
    length, end = points[-1]
    mean_ratio = positive("motion ratio", end / length)
    u = resolution_uncertainty(positive("division of the tape", step_mm)) * math.hypot(1.0, mean_ratio)
    rows = [[length / u * shock for shock, _, _ in _at(z / length)] for z, _ in points]
    for j in range(2, len(_SHAPES)):
        size = mean_ratio * length * _BEND_PER_MM / _GENTLER ** (j - 2)
        rows.append([1.0 / size if at == j else 0.0 for at in range(len(_SHAPES))])
    read = [s / u for _, s in points] + [0.0] * (len(rows) - len(points))
    normal = [[math.fsum(row[i] * row[j] for row in rows) for j in range(len(_SHAPES))] for i in range(len(_SHAPES))]
    moved = tuple(tuple(column) for column in _solved(normal, rows))
    shares = tuple(_sum(read, of_shape) for of_shape in zip(*moved, strict=True))
    off = [value - _sum(row, shares) for row, value in zip(rows, read, strict=True)]
    far, (wheel, _) = max(zip(off, points, strict=False), key=lambda each: abs(each[0]))
    scatter = math.fsum(each * each for each in off)
    return SmoothLinkage(length, shares, moved, scatter, len(rows) - len(_SHAPES), (wheel, far * u))


def _at(x: float) -> list[Moved]:
    """Integral, value and derivative of each basis function at one share of travel."""
    return [
        (
            math.fsum(c * x ** (n + 1) / (n + 1) for n, c in enumerate(shape)),
            math.fsum(c * x**n for n, c in enumerate(shape)),
            math.fsum(n * c * x ** (n - 1) for n, c in enumerate(shape) if n),
        )
        for shape in _SHAPES
    ]


def _sum(left: Sequence[float], right: Sequence[float]) -> float:
    return math.fsum(a * b for a, b in zip(left, right, strict=True))


def _solved(matrix: list[list[float]], rights: list[list[float]]) -> list[list[float]]:
    """Solutions of a symmetric positive definite system for several right-hand sides, by Cholesky decomposition."""
    size = len(matrix)
    low = [[0.0] * size for _ in range(size)]
    for i in range(size):
        for j in range(i + 1):
            rest = matrix[i][j] - _sum(low[i][:j], low[j][:j])
            low[i][j] = math.sqrt(positive("pivot", rest)) if i == j else rest / low[j][j]
    solutions = []
    for right in rights:
        forward: list[float] = []
        for i in range(size):
            forward.append((right[i] - _sum(low[i][:i], forward)) / low[i][i])
        back = [0.0] * size
        for i in reversed(range(size)):
            back[i] = (forward[i] - math.fsum(low[k][i] * back[k] for k in range(i + 1, size))) / low[i][i]
        solutions.append(back)
    return solutions


Pairs = tuple[tuple[float, float], ...]
Moved = tuple[float, float, float]

_FURTHEST = 3
"""Points to either side of a place that bear on the curve there: slopes at the ends of a piece take their neighbours,
and a reading may move the place into the next piece."""
_STEPS = (1.0, 1.0 / 16.0, 1.0 / 256.0)
"""Steps of the differentiation in standard uncertainties: smaller where the pairs would fall into disorder."""


@record
class LinkageUncertainty:
    """Uncertainty at one wheel travel of the values from linkage pairs."""

    motion_ratio: Uncertainty
    wheel_rate: Uncertainty
    """Of the wheel rate [N/mm]."""
    collar_effect: Uncertainty | None
    """Of the rise at the wheel for 1 mm of preload; None where the wheel rate is not above 0."""


@lru_cache(maxsize=64)
def moved_by_readings(pairs: Pairs, wheel_mm: float, step_mm: float) -> tuple[Moved, ...]:
    """Change of shock travel, motion ratio and its slope for one standard uncertainty of each reading.

    .. math:: u_i(y) = \\frac{1}{2} (f(x_i + u_i) - f(x_i - u_i)), \\quad u_i = a / \\sqrt{12}

    Wheel travel and shock travel of every pair count as independent readings. The error they share, because all are
    measured from one length at full extension, is left out.

    Args:
        pairs: (vertical wheel travel, shock travel) [mm], in any order, as `through_pairs` takes them.
        wheel_mm: where on the travel [mm]; beyond the last pair the curve goes straight on.
        step_mm: smallest division a of the tape [mm], >= 0.

    Returns:
        For each reading that bears on the curve there: change of s [mm], of m, and of dm/dz [1/mm].

    Raises:
        OutOfRange: pairs that give no curve, or so near each other that a reading may be in any order.

    Source:
        JCGM 100:2008, 5.1.3 note 2 (sensitivities by numerical differentiation); 4.3.7 (division of the scale).
    """
    points = sorted(pair for pair in pairs if pair != (0.0, 0.0))
    standard = resolution_uncertainty(step_mm)
    beyond = sum(1 for wheel, _ in points if wheel < wheel_mm)
    near = points[max(0, beyond - _FURTHEST) : beyond + _FURTHEST]
    return tuple(_moved(near, at, of, standard, wheel_mm) for at in range(len(near)) for of in (0, 1))


def _moved(points: list[tuple[float, float]], at: int, of: int, standard: float, wheel_mm: float) -> Moved:
    """What one reading moves: of pair `at` the wheel travel (`of` 0) or the shock travel (1)."""
    for share in _STEPS:
        try:
            more, less = (_state(points, at, of, way * share * standard, wheel_mm) for way in (1.0, -1.0))
        except OutOfRange:
            continue
        shock, ratio, slope = ((up - down) / 2.0 / share for up, down in zip(more, less, strict=True))
        return shock, ratio, slope
    raise OutOfRange("linkage pair", points[at][of], "further from the next pair than it can be read")


def _state(points: list[tuple[float, float]], at: int, of: int, by_mm: float, wheel_mm: float) -> Moved:
    wheel, shock = points[at]
    moved = (wheel + by_mm, shock) if of == 0 else (wheel, shock + by_mm)
    linkage: Linkage = through_pairs([*points[:at], moved, *points[at + 1 :]])
    return linkage.reaching(wheel_mm).state(wheel_mm)


def linkage_uncertainty(
    moved: tuple[Moved, ...], rate_n_per_mm: float, motion_ratio: float, force_n: float = 0.0, ratio_slope: float = 0.0
) -> LinkageUncertainty:
    """Uncertainty of motion ratio, wheel rate and collar effect from that of the linkage pairs alone.

    .. math:: u_i(K) = 2 k m\\,u_i(m) + F_s\\,u_i(m') + k m'\\,u_i(s), \\quad
              u_i(c) = c (u_i(m) / m - u_i(K) / K), \\quad u^2 = \\sum u_i^2

    Args:
        moved: what each reading moves, as `moved_by_readings` gives it.
        rate_n_per_mm: spring rate k [N/mm], > 0.
        motion_ratio: m there, > 0.
        force_n: force along the shock there [N].
        ratio_slope: dm/dz there [1/mm].

    Returns:
        The uncertainties.

    Raises:
        OutOfRange: rate or ratio not above 0.

    Source:
        JCGM 100:2008, 5.1.2, with the wheel rate k m² + Fs dm/dz and the collar effect c = k m / K.

    >>> pairs = ((60.0, 24.0), (120.0, 48.0))
    >>> known = linkage_uncertainty(moved_by_readings(pairs, 30.0, 1.0), 90.0, 0.4)
    >>> round(known.motion_ratio.standard, 4), round(known.wheel_rate.standard, 2)  # 2 x 90 x 0.4 x 0.00518
    (0.0052, 0.37)
    """
    rate, ratio = positive("spring rate", rate_n_per_mm), positive("motion ratio", motion_ratio)
    wheel_rate = rate * ratio * ratio + force_n * ratio_slope
    of_rate = [2.0 * rate * ratio * m + force_n * slope + rate * ratio_slope * s for s, m, slope in moved]
    collar = None
    if wheel_rate > 0.0:
        effect = rate * ratio / wheel_rate
        collar = _together(
            [effect * (m / ratio - at_wheel / wheel_rate) for (_, m, _), at_wheel in zip(moved, of_rate, strict=True)]
        )
    return LinkageUncertainty(_together([m for _, m, _ in moved]), _together(of_rate), collar)


def _together(parts: list[float]) -> Uncertainty:
    return Uncertainty(combine(*(math.fabs(part) for part in parts)))
