"""The change of preload or rate that brings a wanted sag."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.equilibrium import Limit, PredictedSag, fork_sag
from stanchion.mechanics.fork import Fork, ForkLeg, TrappedAir, with_added_preload, with_rate
from stanchion.mechanics.fork_change import preload_for_sag, rate_for_sag
from stanchion.mechanics.gas import circle_area, least_air_volume

K, KT = 9.0, 30.0
PLAIN = Fork((ForkLeg(rate_n_per_mm=K, preload_mm=12.0),) * 2, 120.0)
TOP_OUT = Fork(
    (ForkLeg(rate_n_per_mm=K, preload_mm=10.0, top_out_rate_n_per_mm=KT, top_out_mm=20.0),) * 2,
    120.0,
)
AIR = TrappedAir(area_mm2=circle_area(43.0), least_volume_mm3=least_air_volume(39.0, 120.0))
WITH_AIR = Fork((ForkLeg(rate_n_per_mm=K, preload_mm=12.0, air=AIR),) * 2, 120.0)


def crosses(tries: list[PredictedSag], wanted: float) -> bool:
    """Whether the sag passes the wanted one between two tries that both have the load on the springs."""
    carried = [sag.sag_mm if sag.loaded.limit is not Limit.BOTTOMED else None for sag in tries]
    return any(a is not None and b is not None and a > wanted > b for a, b in pairwise(carried))


forks = st.sampled_from([PLAIN, TOP_OUT, WITH_AIR])
wanted = st.floats(5, 100)
loads = st.floats(300, 2500)


@settings(max_examples=300)
@given(forks, wanted, loads)
def test_the_preload_found_brings_the_wanted_sag(fork: Fork, sag: float, load: float) -> None:
    added = preload_for_sag(fork, sag, load, -140.0)
    if added is None:
        tries = [fork_sag(with_added_preload(fork, float(added)), load, -140.0) for added in range(-130, 200)]
        assert not crosses(tries, sag)
    else:
        assert fork_sag(with_added_preload(fork, added), load, -140.0).sag_mm == pytest.approx(sag, abs=1e-6)


@settings(max_examples=300)
@given(forks, wanted, loads)
def test_the_rate_found_brings_the_wanted_sag(fork: Fork, sag: float, load: float) -> None:
    rate = rate_for_sag(fork, sag, load, -140.0)
    if rate is None:
        tries = [fork_sag(with_rate(fork, 0.01 * 1.05**i), load, -140.0) for i in range(280)]
        assert not crosses(tries, sag)
    else:
        assert fork_sag(with_rate(fork, rate), load, -140.0).sag_mm == pytest.approx(sag, abs=1e-6)


def test_a_plain_fork_wants_the_rate_of_the_textbook() -> None:
    """Load over squeeze: 756 N on two legs, 12 mm of preload and 23 mm of sag."""
    assert rate_for_sag(PLAIN, 23.0, 756.0) == pytest.approx(756.0 / 2 / (12.0 + 23.0))


def test_no_spring_no_answer() -> None:
    bare = Fork((ForkLeg(),), 120.0)
    assert preload_for_sag(bare, 30.0, 756.0) is None
    assert rate_for_sag(bare, 30.0, 756.0) is None


@pytest.mark.parametrize("sag", [0.0, -5.0, 120.0, float("nan")])
def test_a_sag_outside_the_travel_cannot_be_wanted(sag: float) -> None:
    with pytest.raises(OutOfRange, match="wanted sag"):
        preload_for_sag(PLAIN, sag, 756.0)
    with pytest.raises(OutOfRange, match="wanted sag"):
        rate_for_sag(PLAIN, sag, 756.0)
