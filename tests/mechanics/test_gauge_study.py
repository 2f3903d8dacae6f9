"""The crossed study against an independent calculation (numpy, scipy) on random studies, and at its edges."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy import stats

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.gauge_study import gauge_study, variance_ratio_chance, with_own
from stanchion.mechanics.statistics import Uncertainty


def test_sums_of_squares_by_least_squares_on_random_studies() -> None:
    """Sequential least squares with columns for places, people and both: the fall of the residual at each."""
    random = np.random.default_rng(5)
    for p, o, r in ((2, 2, 3), (4, 2, 3), (3, 3, 2), (5, 2, 4)):
        effect = random.normal(0.0, 5.0, (p, 1, 1)) + random.normal(0.0, 1.0, (1, o, 1))
        effect = effect + random.normal(0.0, random.choice([0.0, 2.0]), (p, o, 1))
        x = 500.0 + effect + random.normal(0.0, 0.5, (p, o, r))
        study = gauge_study(x.tolist())
        place, person = (axis.ravel() for axis in np.indices((p, o, r))[:2])
        models = [
            np.ones((x.size, 1)),
            np.eye(p)[place],
            np.hstack([np.eye(p)[place], np.eye(o)[person]]),
            np.eye(p * o)[place * o + person],
        ]
        left = [float(np.sum((x.ravel() - m @ np.linalg.lstsq(m, x.ravel(), rcond=None)[0]) ** 2)) for m in models]
        falls = [before - after for before, after in pairwise(left)]
        found = (study.places.squares, study.people.squares, study.interaction.squares, study.repeats.squares)
        assert found == pytest.approx((*falls, left[-1]), rel=1e-6, abs=1e-8)
        ratio = study.interaction.mean_square / study.repeats.mean_square
        chance = stats.f.sf(ratio, study.interaction.freedom, study.repeats.freedom)
        assert study.interaction_chance == pytest.approx(chance, abs=1e-10)
        assert study.pooled == (chance > 0.25)


def test_the_f_distribution_is_that_of_scipy() -> None:
    random = np.random.default_rng(6)
    for _ in range(300):
        first, second = (float(one) for one in random.integers(1, 80, 2))
        ratio = float(random.exponential(2.0))
        expected = float(stats.f.sf(ratio, first, second))
        assert variance_ratio_chance(ratio, 1.0, first, second) == pytest.approx(expected, rel=1e-9, abs=1e-12)


def test_a_large_number_of_invented_studies_gives_back_what_they_were_made_with() -> None:
    """Means of variances over many studies: one reading scatters by 0.6 mm, people differ by 0.8 mm at one place."""
    random = np.random.default_rng(7)
    p, o, r, studies = 4, 2, 3, 1500
    x = 500.0 + random.normal(0.0, 0.8, (studies, p, o, 1)) + random.normal(0.0, 0.6, (studies, p, o, r))
    found = [gauge_study(one.tolist()) for one in x]
    repeats = np.mean([one.repeats.mean_square for one in found])
    assert math.sqrt(repeats) == pytest.approx(0.6, rel=0.03)
    unpooled = np.mean([one.interaction.mean_square / r + one.repeats.mean_square * (1 - 1 / r) for one in found])
    assert math.sqrt(unpooled) == pytest.approx(1.0, rel=0.03)


def test_one_person_reading_too_long_everywhere_does_not_count_in_one_reading() -> None:
    noise = [[[0.0, 1.0], [1.0, 0.0]], [[1.0, 0.0], [0.0, 1.0]], [[0.0, 1.0], [0.0, 1.0]]]
    offset = [[[one + 3.0 * person for one in repeats] for person, repeats in enumerate(place)] for place in noise]
    assert gauge_study(offset).one_reading == gauge_study(noise).one_reading
    assert gauge_study(offset).between_people == pytest.approx(3.0 / math.sqrt(2.0), rel=0.05)


def test_an_interaction_that_is_no_chance_is_part_of_one_reading() -> None:
    places = [[[500.0, 500.4, 500.2], [503.0, 503.3, 503.1]], [[620.0, 620.3, 620.1], [617.0, 617.2, 617.4]]]
    study = gauge_study(places)
    assert not study.pooled
    expected = study.interaction.mean_square / 3 + study.repeats.mean_square * 2 / 3
    assert study.one_reading.standard == pytest.approx(math.sqrt(expected))
    assert study.one_reading.freedom == pytest.approx(1.0, abs=0.1)  # by one comparison of two people at two places


def test_readings_that_are_all_alike_scatter_by_nothing() -> None:
    study = gauge_study([[[500.0] * 3] * 2, [[600.0] * 3] * 2])
    assert study.one_reading.standard == study.together == 0.0
    assert study.pooled


@pytest.mark.parametrize(
    "readings",
    [
        [],
        [[[1.0, 2.0], [1.0, 2.0]]],
        [[[1.0, 2.0]], [[1.0, 2.0]]],
        [[[1.0], [1.0]], [[1.0], [1.0]]],
        [[[1.0, 2.0], [1.0, 2.0]], [[1.0, 2.0], [1.0]]],
        [[[1.0, 2.0], [1.0, math.nan]], [[1.0, 2.0], [1.0, 2.0]]],
    ],
)
def test_what_is_no_crossed_study_is_refused(readings: list[list[list[float]]]) -> None:
    with pytest.raises(OutOfRange):
        gauge_study(readings)


def test_repeats_are_pooled_with_the_study_unless_they_scatter_more_than_it_explains() -> None:
    own = Uncertainty(0.5, 16.0)
    pooled = with_own([510.0, 510.8, 510.4], own)
    assert pooled.standard == pytest.approx(math.sqrt((16 * 0.25 + 2 * 0.16) / 18 / 3))
    assert pooled.freedom == 18.0
    alone = with_own([508.0, 511.0, 513.0], own)
    assert alone.standard == pytest.approx(float(np.std([508.0, 511.0, 513.0], ddof=1)) / math.sqrt(3.0))
    assert alone.freedom == 2.0
