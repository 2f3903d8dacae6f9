"""Points read by two lengths or in a photograph lie where they were."""

from __future__ import annotations

import math

import pytest

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.point_reading import axle_place, by_two_lengths, in_photograph

AXLE = axle_place(580.0, 95.0)
POINTS = [(-190.0, -60.0), (-60.0, -120.0), (10.0, 200.0), (-35.0, 18.0)]


@pytest.mark.parametrize("point", POINTS)
def test_two_lengths_give_the_point_back(point: tuple[float, float]) -> None:
    across = AXLE[0] * point[1] - AXLE[1] * point[0]  # to the left of the line to the axle, which leads back: below
    found = by_two_lengths(AXLE, math.hypot(*point), math.dist(point, AXLE), below=across > 0.0)
    assert found == pytest.approx(point, abs=1e-9)


def test_of_two_places_below_is_the_lower_one() -> None:
    low, high = (by_two_lengths(AXLE, 200.0, 420.0, below=below) for below in (True, False))
    assert low[1] < high[1]


@pytest.mark.parametrize(("near", "far"), [(100.0, 100.0), (800.0, 100.0), (10.0, 700.0)])
def test_lengths_that_do_not_meet_are_refused(near: float, far: float) -> None:
    with pytest.raises(OutOfRange, match="distance from the axle"):
        by_two_lengths(AXLE, near, far, below=True)


@pytest.mark.parametrize("point", POINTS)
@pytest.mark.parametrize("looks_left", [False, True])
@pytest.mark.parametrize("tilt_deg", [0.0, 3.0])
def test_a_photograph_gives_the_point_back_whichever_way_the_machine_looks(
    point: tuple[float, float], looks_left: bool, tilt_deg: float
) -> None:
    """3.1 pixels a millimetre; a picture held askew is set right by the height of the axle."""
    tilt = complex(math.cos(math.radians(tilt_deg)), math.sin(math.radians(tilt_deg)))

    def seen(at: tuple[float, float]) -> tuple[float, float]:
        turned = complex(*at) * tilt
        return 2400.0 + 3.1 * turned.real * (-1.0 if looks_left else 1.0), 1500.0 - 3.1 * turned.imag

    found = in_photograph(seen(point), seen((0.0, 0.0)), seen(AXLE), 580.0, 95.0 if tilt_deg else None)
    assert found == pytest.approx(point, abs=1e-6)


def test_an_axle_lower_than_the_swingarm_is_long_is_refused() -> None:
    with pytest.raises(OutOfRange, match="height of the axle"):
        axle_place(500.0, 510.0)


def test_a_photograph_with_the_axle_straight_below_the_pivot_is_refused() -> None:
    with pytest.raises(OutOfRange, match="to one side"):
        in_photograph((1.0, 1.0), (600.0, 400.0), (600.0, 900.0), 580.0)
