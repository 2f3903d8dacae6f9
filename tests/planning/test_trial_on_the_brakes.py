"""A trial says beside sag what the change does on the brakes: less or more fork travel, and the trail there."""

from __future__ import annotations

from typing import Any

import pytest

import make_samples
from judgement_jobs import PROFILES, put
from stanchion.planning.whatif import WhatIf, compare
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.whatif_sentences import brakes_sentence

JOB = make_samples.well_set()
"""The invented sport machine: 9.5 N/mm, 110 mm of air, stanchions 6 mm up."""


def tried(**fields: Any) -> WhatIf:
    return compare(JOB, put(JOB, **fields), PROFILES)


def effects(seen: WhatIf) -> tuple[float, float]:
    """Change of fork travel used and of trail on the brakes."""
    fork = seen.row(("front",), "brakes_fork_mm").change
    trail = seen.row(("geometry",), "brakes_trail_mm").change
    assert fork is not None
    assert trail is not None
    return fork, trail


@pytest.mark.parametrize(
    ("fields", "fork", "trail"),
    [
        ({"front__left__spring__rate_n_per_mm": 10.0}, -1, 1),
        ({"front__left__adjuster__now": 6.0}, -1, 1),
        ({"front__left__air_gap_mm": 100.0}, -1, 1),
        ({"front__fork_height_mm": 11.0}, -1, -1),
        ({"rear__length_adjuster_mm": 2.0}, -1, -1),
        ({"front__left__spring__rate_n_per_mm": 9.0}, 1, -1),
        ({"front__left__air_gap_mm": 120.0}, 1, -1),
        ({"front__fork_height_mm": 1.0}, 1, 1),
        ({"rear__length_adjuster_mm": -2.0}, 1, 1),
    ],
)
def test_spring_preload_air_gap_and_both_heights_each_have_their_effect_there(
    fields: dict[str, float], fork: int, trail: int
) -> None:
    """Stiffer, more preload or a smaller gap dives less and keeps trail; stanchions further up or a higher rear cost trail,
    and change fork travel by a few tenths."""
    seen = tried(**fields)
    changed = effects(seen)
    assert changed[0] * fork > 0.05
    assert changed[1] * trail > 0.05
    words = brakes_sentence(seen)
    assert ("less fork travel" if fork < 0 else "more fork travel") in words
    assert f"trail {'+' if trail > 0 else '−'}" in words


def test_the_sentence_has_the_size_of_the_rows_in_the_units_shown() -> None:
    seen = tried(front__left__spring__rate_n_per_mm=10.0)
    fork, trail = effects(seen)
    expected = f"On the brakes, slow stroke: {-fork:.1f} mm less fork travel, trail +{trail:.1f} mm."
    assert brakes_sentence(seen, METRIC) == expected
    assert f"{-fork / 25.4:.3f} in less" in brakes_sentence(seen, Units(lengths="in"))


def test_a_change_that_does_nothing_there_says_nothing() -> None:
    """Rebound moves nothing in steady braking."""
    assert not brakes_sentence(tried(front__left__rebound__now=8.0))
    without = put(JOB, weights__front_aboard_kg=None, weights__rear_aboard_kg=None)
    assert not brakes_sentence(compare(without, put(without, front__left__air_gap_mm=100.0), PROFILES))
