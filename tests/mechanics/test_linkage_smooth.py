"""The smooth curve through linkage pairs, against NumPy's least squares and linkages whose geometry is known."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.polynomial import Legendre, legendre
from scipy.stats import chi2

from linkages import Path, ratio, ratio_slope, read_pairs, straight_shock, usual_ones
from stanchion.base.errors import OutOfRange
from stanchion.mechanics.linkage_smooth import SmoothLinkage, linkage_uncertainty, smooth_through_pairs

PAIRS = ((20.0, 7.0), (40.0, 14.5), (65.0, 24.0), (90.0, 34.0), (120.0, 47.0))
RATE, PRELOAD = 90.0, 12.0
DRAWN = 60


def by_numpy(pairs: tuple[tuple[float, float], ...], step: float, z: float) -> tuple[list[float], float]:
    """s, m and dm/dz at z, and the standard uncertainty of m: NumPy's Legendre shapes and least squares.

    The assumptions are further rows: shape j >= 2 is 0, give or take L / 6000 of the mean ratio / 2.5^(j - 2).
    """
    wheel, shock = np.array(pairs).T
    length, mean = wheel[-1], shock[-1] / wheel[-1]
    shapes = [Legendre.basis(j, domain=[0.0, length]) for j in range(6)]
    shock_shapes = [shape.integ(lbnd=0.0) for shape in shapes]
    u = step / np.sqrt(12.0) * np.sqrt(1.0 + mean**2)
    rows = np.vstack([np.array([shape(wheel) for shape in shock_shapes]).T / u, np.zeros((4, 6))])
    for j in (2, 3, 4, 5):
        rows[len(wheel) + j - 2, j] = 1.0 / (mean * length / 6000.0 / 2.5 ** (j - 2))
    read = np.concatenate([shock / u, np.zeros(4)])
    best = np.linalg.lstsq(rows, read, rcond=None)[0]
    at = np.array([[shock_shapes[j](z), shapes[j](z), shapes[j].deriv()(z)] for j in range(6)]).T
    return list(at @ best), float(np.sqrt(at[1] @ np.linalg.inv(rows.T @ rows) @ at[1]))


@pytest.mark.parametrize("step", [1.0, 0.1])
@pytest.mark.parametrize("z", [0.0, 31.0, 120.0])
def test_it_is_numpy_s_least_squares(step: float, z: float) -> None:
    curve = smooth_through_pairs(PAIRS, step)
    state, of_ratio = by_numpy(PAIRS, step, z)
    assert curve.state(z) == pytest.approx(state, rel=1e-7, abs=1e-9)
    known = linkage_uncertainty(curve.moved(z), RATE, state[1])
    assert known.motion_ratio.standard == pytest.approx(of_ratio, rel=1e-7)
    assert smooth_through_pairs(((0.0, 0.0), *reversed(PAIRS)), step) == curve


@pytest.mark.parametrize("freedom", [1, 3, 10, 30])
def test_pairs_fit_up_to_the_99_percent_point_of_chi_squared(freedom: int) -> None:
    curve = replace(smooth_through_pairs(PAIRS, 1.0), freedom=freedom)
    most = float(chi2.ppf(0.99, freedom))  # SciPy's; the approximation is within 2 % of it
    assert replace(curve, scatter=0.98 * most).fits
    assert not replace(curve, scatter=1.02 * most).fits


def test_a_pair_misread_by_five_millimetres_fits_no_smooth_curve_and_is_named() -> None:
    wrong = tuple((z, s + 5.0 if z == 65.0 else s) for z, s in PAIRS)
    curve = smooth_through_pairs(wrong, 1.0)
    assert smooth_through_pairs(PAIRS, 1.0).fits
    assert not curve.fits
    assert curve.furthest[0] == 65.0
    assert 2.0 < curve.furthest[1] < 5.0


@pytest.mark.parametrize(
    ("pairs", "step"),
    [
        (PAIRS[:2], 1.0),
        (((10.0, 4.0), (20.0, 4.0), (30.0, 9.0)), 1.0),
        (((10.0, 4.0), (10.0, 5.0), (30.0, 9.0)), 1.0),
        (PAIRS, 0.0),
    ],
)
def test_it_refuses_what_gives_no_curve(pairs: tuple[tuple[float, float], ...], step: float) -> None:
    with pytest.raises(OutOfRange):
        smooth_through_pairs(pairs, step)


def wheel_rate_off(path: Path, pairs: tuple[tuple[float, float], ...], step: float, z: float) -> tuple[float, bool]:
    """By how many stated standard uncertainties the wheel rate is off the true one, and whether the pairs fit."""
    curve: SmoothLinkage = smooth_through_pairs(pairs, step)
    shock, of_curve, slope = curve.state(z)
    force = RATE * (PRELOAD + shock)
    known = linkage_uncertainty(curve.moved(z), RATE, of_curve, force, slope)
    rate = RATE * of_curve**2 + force * slope
    true = RATE * ratio(path, z) ** 2 + RATE * (PRELOAD + path(z)) * ratio_slope(path, z)
    return (rate - true) / known.wheel_rate.standard, curve.fits


@pytest.mark.parametrize(
    ("gap", "step", "travel", "z"),
    [(10.0, 1.0, 120.0, 30.0), (30.0, 1.0, 120.0, 30.0), (20.0, 0.1, 120.0, 30.0), (50.0, 1.0, 300.0, 100.0)],
)
@pytest.mark.parametrize("kind", ["rocker", "straight"])
def test_the_true_wheel_rate_lies_within_the_stated_uncertainty(
    kind: str, gap: float, step: float, travel: float, z: float
) -> None:
    """95 % is stated; of 60, chance alone gives fewer than 85 % once in 500 times (binomial).

    With rockers the deviations are of the stated size, within a third either way: the assumption about bending is one
    size for all of them. A shock straight to the frame bends less, so that its rate is better known than stated.
    """
    rng = np.random.default_rng(int(gap))
    paths = usual_ones(travel) if kind == "rocker" else [straight_shock(rng) for _ in range(DRAWN)]
    off = []
    for path in paths:
        deviation, fits = wheel_rate_off(path, read_pairs(path, rng, travel, gap, step), step, z)
        if fits:
            off.append(deviation)
    assert len(off) >= 0.9 * DRAWN
    assert np.mean(np.abs(off) < 1.96) >= 0.85
    if kind == "rocker":
        assert 0.66 < np.sqrt(np.mean(np.square(off))) < 1.34


@pytest.mark.parametrize(("travel", "third"), [(120.0, 0.02), (300.0, 0.05)])
def test_linkages_bend_by_as_much_as_is_assumed(travel: float, third: float) -> None:
    """Shares of the shapes in the ratio of random rockers: the assumed sizes are within a factor of two and a half."""
    t = np.cos(np.linspace(0.0, np.pi, 21))
    shares = []
    for path in usual_ones(travel):
        fitted = legendre.legfit(t, [ratio(path, travel * (x + 1.0) / 2.0) for x in t], 6)
        shares.append(fitted / fitted[0])
    found = np.sqrt(np.mean(np.square(shares), axis=0))
    for j in (2, 3, 4):
        assert 0.4 < found[j] / (third / 2.5 ** (j - 2)) < 2.0
