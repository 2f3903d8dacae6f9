"""What the tape's division leaves uncertain in a linkage, against linkages read again and again with a tape."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.linkage import through_pairs
from stanchion.mechanics.linkage_smooth import Pairs, linkage_uncertainty, moved_by_readings

RATE, PRELOAD = 90.0, 12.0
READINGS = 1000
"""They give a standard deviation to 2.2 % (one standard error), and 15 % is allowed."""


def pairs_of(count: int, travel: float = 120.0) -> Pairs:
    """Pairs of a linkage whose ratio is known: it rises from 0.35 by 0.0006 for each mm."""
    wheel = [travel * (i + 1) / count for i in range(count)]
    return tuple((z, 0.35 * z + 0.0003 * z * z) for z in wheel)


def spread(pairs: Pairs, wheel_mm: float, step_mm: float, seed: int) -> tuple[float, float, float]:
    """Standard deviation of ratio, wheel rate and collar effect with every reading off by up to half a division.

    The curve is SciPy's, as an independent reference.
    """
    rng = np.random.default_rng(seed)
    results = []
    for _ in range(READINGS):
        read = np.array([(0.0, 0.0), *pairs])
        read[1:] += rng.uniform(-step_mm / 2, step_mm / 2, (len(pairs), 2))
        if len(pairs) < 3:
            i = min(int(np.searchsorted(read[:, 0], wheel_mm)), len(pairs))
            ratio = (read[i, 1] - read[i - 1, 1]) / (read[i, 0] - read[i - 1, 0])
            shock, slope = read[i - 1, 1] + ratio * (wheel_mm - read[i - 1, 0]), 0.0
        else:
            curve = PchipInterpolator(read[:, 0], read[:, 1])
            shock, ratio, slope = (float(curve(wheel_mm, order)) for order in range(3))
        at_wheel = RATE * ratio**2 + RATE * (PRELOAD + shock) * slope
        results.append((ratio, at_wheel, RATE * ratio / at_wheel))
    return tuple(np.std(results, axis=0))


@pytest.mark.parametrize(
    ("count", "wheel_mm", "step_mm"),
    [
        (2, 30.0, 1.0),
        (2, 90.0, 1.0),
        (3, 30.0, 1.0),
        (4, 15.0, 0.5),
        (4, 40.0, 0.5),
        (4, 80.0, 1.0),
        (6, 50.0, 0.2),
        (12, 66.0, 0.05),
    ],
)
def test_it_is_what_pairs_read_again_and_again_spread_by(count: int, wheel_mm: float, step_mm: float) -> None:
    pairs = pairs_of(count)
    shock, ratio, slope = through_pairs(pairs).state(wheel_mm)
    force = RATE * (PRELOAD + shock)
    known = linkage_uncertainty(moved_by_readings(pairs, wheel_mm, step_mm), RATE, ratio, force, slope)
    of_ratio, of_rate, of_collar = spread(pairs, wheel_mm, step_mm, seed=count)
    assert known.motion_ratio.standard == pytest.approx(of_ratio, rel=0.15)
    assert known.wheel_rate.standard == pytest.approx(of_rate, rel=0.15)
    assert known.collar_effect is not None
    assert known.collar_effect.standard == pytest.approx(of_collar, rel=0.15)


def test_one_pair_by_hand() -> None:
    """m = s / z, so that u(m) = u sqrt(1 + m²) / z, and of k m² it is 2 k m u(m)."""
    u_m = (1.0 / 12.0) ** 0.5 * (1.0 + 0.4**2) ** 0.5 / 50.0
    known = linkage_uncertainty(moved_by_readings(((50.0, 20.0),), 20.0, 1.0), 90.0, 0.4)
    assert known.motion_ratio.standard == pytest.approx(u_m, rel=1e-3)
    assert known.wheel_rate.standard == pytest.approx(2 * 90.0 * 0.4 * u_m, rel=1e-3)
    assert known.wheel_rate.expanded == pytest.approx(1.96 * 2 * 90.0 * 0.4 * u_m, rel=1e-3)


def test_pairs_twice_as_far_apart_or_read_twice_as_finely_tell_the_ratio_twice_as_well() -> None:
    def ratio(pairs: Pairs, step_mm: float) -> float:
        return linkage_uncertainty(moved_by_readings(pairs, 20.0, step_mm), 90.0, 0.4).motion_ratio.standard

    near = ratio(((50.0, 20.0),), 1.0)
    assert ratio(((100.0, 40.0),), 1.0) == pytest.approx(near / 2, rel=1e-3)
    assert ratio(((50.0, 20.0),), 0.5) == pytest.approx(near / 2, rel=1e-3)


def test_far_pairs_do_not_count_and_the_datum_has_no_uncertainty() -> None:
    pairs = pairs_of(12)
    near = moved_by_readings(pairs, 15.0, 0.1)
    assert near == moved_by_readings(pairs[:6], 15.0, 0.1) == moved_by_readings(((0.0, 0.0), *pairs), 15.0, 0.1)


def test_pairs_nearer_than_they_can_be_read_still_give_a_figure() -> None:
    known = linkage_uncertainty(moved_by_readings(((50.0, 20.0), (50.1, 20.04)), 20.0, 1.0), 90.0, 0.4)
    assert known.motion_ratio.standard == pytest.approx(0.0062, abs=0.0005)
    with pytest.raises(OutOfRange):
        moved_by_readings(((50.0, 20.0), (50.0, 21.0)), 20.0, 1.0)


def test_beyond_the_last_pair_it_is_that_of_the_straight_piece_that_goes_on() -> None:
    pairs = ((60.0, 24.0), (120.0, 48.0))
    beyond, before = (moved_by_readings(pairs, at, 1.0) for at in (124.0, 119.0))
    assert [m for _, m, _ in beyond] == pytest.approx([m for _, m, _ in before])
    assert linkage_uncertainty(beyond, 90.0, 0.4, 1000.0, -0.1).collar_effect is None
