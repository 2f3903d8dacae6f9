"""A top-out spring from forces on the bench: the line that falls to nothing where the spring is let go."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import linregress

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.bench_top_out import bench_top_out
from stanchion.mechanics.fork import ForkLeg, spring_forces


@given(st.floats(5.0, 100.0), st.floats(5.0, 60.0), st.floats(0.05, 0.4))
def test_forces_of_the_model_give_its_spring_back(rate: float, length: float, step: float) -> None:
    """The leg without its main spring is drawn out by the forces that the model gives it."""
    leg = ForkLeg(top_out_rate_n_per_mm=rate, top_out_mm=length)
    travels = [length * step * n for n in range(4)]
    found = bench_top_out(travels, [-spring_forces(leg, x) for x in travels])
    assert found.rate_n_per_mm == pytest.approx(rate, rel=1e-9)
    assert found.works_over_mm == pytest.approx(length, rel=1e-9)


def test_scattered_readings_are_fitted_by_least_squares() -> None:
    """Against scipy's linear regression."""
    travels, forces = [0.0, 4.0, 8.0, 12.0, 16.0], [611.0, 475.0, 362.0, 236.0, 127.0]
    line, found = linregress(travels, forces), bench_top_out([*travels, 30.0], [*forces, 0.0])
    assert found.rate_n_per_mm == pytest.approx(-line.slope)
    assert found.works_over_mm == pytest.approx(-line.intercept / line.slope)
    assert found.rate_uncertainty_n_per_mm == pytest.approx(line.stderr)
    assert sum(found.off_n) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("travels", "forces"),
    [
        ([0.0], [600.0]),
        ([0.0, 30.0], [600.0, 0.0]),
        ([5.0, 5.0], [300.0, 310.0]),
        ([0.0, 5.0, 9.0], [100.0, 200.0, 300.0]),
    ],
)
def test_what_gives_no_spring_is_refused(travels: list[float], forces: list[float]) -> None:
    with pytest.raises(OutOfRange):
        bench_top_out(travels, forces)
