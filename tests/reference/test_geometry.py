"""Trail of measured and benchmark vehicles, and the exact tilt of the frame."""

from __future__ import annotations

import math

import pytest

from stanchion.mechanics.geometry import Baseline, attitude, ground_trail, normal_trail


class TestBenchmarkBicycle:
    """J. P. Meijaard, J. M. Papadopoulos, A. Ruina & A. L. Schwab, Proc. R. Soc. A 463 (2007), Table 1 (read on the
    journal's page): front radius 0.35 m, steer axis tilt pi/10, trail 0.08 m."""

    def test_offset_and_normal_trail_give_the_published_trail_back(self) -> None:
        """The offset and normal trail are our own computation from the published three."""
        offset = 32.0714267
        assert normal_trail(350.0, 18.0, offset) == pytest.approx(76.0845213, abs=5e-7)
        assert ground_trail(350.0, 18.0, offset) == pytest.approx(80.0, abs=5e-7)


class TestMeasuredBicycles:
    """BicycleParameters data set (J. K. Moore, M. Hubbard, D. L. Peterson, A. L. Schwab, J. D. G. Kooijman), measured
    inputs and the published benchmark files of BicycleParameters 1.5.2 (read). R = dF/(2 pi nF), rake = 90° - gamma."""

    @pytest.mark.parametrize(
        ("distance_m", "turns", "gamma_deg", "offset_m", "published_rad", "published_m", "digits_m"),
        [
            (28.06, 13, 67.1, 0.0705, 0.399680399, 0.0685808540382, 1e-12),
            (29.044, 14, 71.1, 0.0385, 0.329867229, 0.072, 5e-4),
            (29.366, 14, 74.2, 0.0315, 0.275762022, 0.062, 5e-4),
        ],
        ids=["Browser", "Fisher", "Pista"],
    )
    def test_trail(
        self,
        distance_m: float,
        turns: int,
        gamma_deg: float,
        offset_m: float,
        published_rad: float,
        published_m: float,
        digits_m: float,
    ) -> None:
        radius = 1000.0 * distance_m / (2 * math.pi * turns)
        rake = 90.0 - gamma_deg
        assert math.radians(rake) == pytest.approx(published_rad, abs=5e-10)
        assert ground_trail(radius, rake, 1000.0 * offset_m) == pytest.approx(1000.0 * published_m, abs=1000 * digits_m)

    def test_normal_trail_of_the_browser(self) -> None:
        """63.175682 mm: from the package's own function for mechanical trail."""
        assert normal_trail(1000 * 28.06 / (26 * math.pi), 22.9, 70.5) == pytest.approx(63.175682, abs=5e-7)


class TestMotorcycleOf1994:
    """R. S. Sharp (1994) parameter set (transcription): wheelbase 1.435 m, rake 0.47 rad, radii 0.336 and 0.321 m,
    normal trail 0.094 m. Everything that follows from them is our own exact computation, not published."""

    rake = math.degrees(0.47)
    offset = 336.0 * math.sin(0.47) - 94.0
    machine = Baseline(
        rake_deg=rake, offset_mm=offset, wheelbase_mm=1435.0, front_radius_mm=336.0, rear_radius_mm=321.0
    )

    def test_offset_and_ground_trail(self) -> None:
        assert self.offset == pytest.approx(58.1697919, abs=5e-7)
        assert ground_trail(336.0, self.rake, self.offset) == pytest.approx(105.4321932, abs=5e-7)

    @pytest.mark.parametrize(
        ("rear", "front", "rake", "trail", "normal", "wheelbase"),
        [
            (0, 0, 26.929016, 105.432193, 94.000000, 1435.000000),
            (20, 0, 26.130579, 100.035108, 89.810785, 1435.348390),
            (-10, 0, 27.328298, 108.155022, 96.083905, 1434.930312),
            (0, 10, 26.571926, 103.010690, 92.130034, 1430.592407),
            (0, -10, 27.283883, 107.851335, 95.852465, 1439.463569),
        ],
    )
    def test_ride_height(
        self, rear: float, front: float, rake: float, trail: float, normal: float, wheelbase: float
    ) -> None:
        """The given wheelbase is taken along the ground; the table was worked out apart from the program."""
        stands = attitude(self.machine, rear_lower_axle_mm=rear, front_shorter_mm=front)
        assert stands.rake_deg == pytest.approx(rake, abs=1e-6)
        assert stands.trail_mm == pytest.approx(trail, abs=1e-6)
        assert stands.normal_trail_mm == pytest.approx(normal, abs=1e-6)
        assert stands.wheelbase_mm == pytest.approx(wheelbase, abs=1e-6)


@pytest.mark.parametrize(
    ("rake", "trail"), [(23.0, 94.114921), (23.5, 97.078261), (24.0, 100.061674), (25.0, 106.091498)]
)
def test_trail_grows_with_rake(rake: float, trail: float) -> None:
    """Own computation: radius 298.5 mm, offset 30 mm."""
    assert ground_trail(298.5, rake, 30.0) == pytest.approx(trail, abs=5e-7)
