"""The crossed study against a published one: ten parts, three appraisers, three trials, of the worked example of gauge
repeatability and reproducibility in AIAG, Measurement Systems Analysis, 4th edition (data and printed results from
memory)."""

from __future__ import annotations

import pytest

from stanchion.mechanics.gauge_study import gauge_study

A = [
    [0.29, -0.56, 1.34, 0.47, -0.80, 0.02, 0.59, -0.31, 2.26, -1.36],
    [0.41, -0.68, 1.17, 0.50, -0.92, -0.11, 0.75, -0.20, 1.99, -1.25],
    [0.64, -0.58, 1.27, 0.64, -0.84, -0.21, 0.66, -0.17, 2.01, -1.31],
]
B = [
    [0.08, -0.47, 1.19, 0.01, -0.56, -0.20, 0.47, -0.63, 1.80, -1.68],
    [0.25, -1.22, 0.94, 1.03, -1.20, 0.22, 0.55, 0.08, 2.12, -1.62],
    [0.07, -0.68, 1.34, 0.20, -1.28, 0.06, 0.83, -0.34, 2.19, -1.50],
]
C = [
    [0.04, -1.38, 0.88, 0.14, -1.46, -0.29, 0.02, -0.46, 1.77, -1.49],
    [-0.11, -1.13, 1.09, 0.20, -1.07, -0.67, 0.01, -0.56, 1.45, -1.77],
    [-0.15, -0.96, 0.67, 0.11, -1.45, -0.49, 0.21, -0.49, 1.87, -2.16],
]
READINGS = [[[trial[part] for trial in person] for person in (A, B, C)] for part in range(10)]


def test_the_table_of_the_analysis_is_as_printed() -> None:
    study = gauge_study(READINGS)
    assert (study.people.freedom, round(study.people.squares, 4)) == (2, 3.1673)
    assert (study.places.freedom, round(study.places.squares, 4)) == (9, 88.3619)
    assert (study.interaction.freedom, round(study.interaction.squares, 4)) == (18, 0.3590)
    assert (study.repeats.freedom, round(study.repeats.squares, 4)) == (60, 2.7589)
    assert study.people.mean_square == pytest.approx(1.58363, abs=5e-6)
    assert study.places.mean_square == pytest.approx(9.81799, abs=5e-6)
    assert study.interaction.mean_square == pytest.approx(0.01994, abs=5e-6)
    assert study.repeats.mean_square == pytest.approx(0.04598, abs=5e-6)
    assert study.interaction.mean_square / study.repeats.mean_square == pytest.approx(0.434, abs=5e-4)


def test_the_standard_deviations_are_as_printed_with_the_interaction_pooled() -> None:
    study = gauge_study(READINGS)
    assert study.pooled
    assert study.repeatability.standard == pytest.approx(0.199933, abs=5e-7)
    assert study.repeatability.freedom == 78
    assert study.between_people == pytest.approx(0.226838, abs=5e-7)
    assert study.together == pytest.approx(0.302373, abs=2e-6)  # its last digit is remembered with doubt
