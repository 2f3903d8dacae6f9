"""Sag, stiction and their uncertainty."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.sag import (
    change_uncertainty,
    friction_force,
    reading_uncertainty,
    sag,
    sag_from_down,
    sag_from_travel,
    sag_uncertainty,
    state_uncertainty,
    stiction,
    stiction_from_travel,
    within_spread,
)
from stanchion.mechanics.statistics import Uncertainty, together


@given(st.floats(400, 700), st.floats(0, 120), st.floats(0, 20))
def test_a_travel_gauge_and_a_tape_agree(hanging: float, travel: float, friction: float) -> None:
    down, up = travel + friction / 2 + 10, travel - friction / 2 + 10
    assert sag(hanging, hanging - down, hanging - up) == pytest.approx(sag_from_travel(down, up))
    assert stiction(hanging - down, hanging - up) == pytest.approx(stiction_from_travel(down, up), abs=1e-9)


def test_one_person_alone_reads_half_the_stiction_too_much() -> None:
    assert sag_from_down(548.0, 510.0) - sag(548.0, 510.0, 516.0) == stiction(510.0, 516.0) / 2


def test_swapped_readings_have_no_stiction() -> None:
    with pytest.raises(OutOfRange, match="lifted reading"):
        stiction(516.0, 510.0)
    with pytest.raises(OutOfRange, match="pushed-down reading"):
        stiction_from_travel(32.0, 38.0)


def test_one_reading_is_trusted_to_a_millimetre() -> None:
    """Common practice, no published source."""
    assert reading_uncertainty([510.0], 1.0).standard == 1.0
    assert reading_uncertainty([510.0], 0.1).standard == 1.0
    assert reading_uncertainty([510.0], 12.0).standard == pytest.approx(math.sqrt(12.0))


def test_repeats_that_agree_are_trusted_to_the_tape() -> None:
    assert reading_uncertainty([510.0, 510.0, 510.0], 1.0).standard == pytest.approx(1 / math.sqrt(12))


def test_repeats_know_their_own_spread_the_worse_the_fewer_they_are() -> None:
    """JCGM 100:2008, 4.2.3 and G.3.3: n - 1 degrees of freedom; t by the NIST/SEMATECH table, 12.706 and 4.303."""
    two, three = reading_uncertainty([510.0, 511.0], 0.0), reading_uncertainty([510.0, 511.0, 512.0], 0.0)
    assert two.expanded == pytest.approx(12.706 * 0.5, rel=1e-4)
    assert three.expanded == pytest.approx(4.303 / math.sqrt(3.0), rel=1e-4)


def test_a_shared_hanging_length_cancels_in_a_difference() -> None:
    state, hanging = state_uncertainty([510.0], [516.0], 1.0, mounted=False), Uncertainty(1.0)
    apart = together(sag_uncertainty(hanging, state), sag_uncertainty(hanging, state))
    assert change_uncertainty(state, state).standard == pytest.approx(1.0)
    assert change_uncertainty(state, state).standard < apart.standard


def test_below_its_expanded_uncertainty_a_change_is_measuring_spread() -> None:
    assert within_spread(1.95, Uncertainty(1.0))
    assert not within_spread(-1.97, Uncertainty(1.0))


def test_friction_holds_the_machine_half_the_stiction_either_way() -> None:
    """Weight W on rate k with friction F: pushed down it rests at (W + F)/k, lifted at (W - F)/k."""
    rate, weight, friction = 18.0, 900.0, 54.0
    spread = (weight + friction) / rate - (weight - friction) / rate
    assert friction_force(rate, spread) == pytest.approx(friction)


@pytest.mark.parametrize(
    "call",
    [
        lambda: sag(0.0, 510.0, 516.0),
        lambda: sag(548.0, -1.0, 516.0),
        lambda: sag(548.0, 510.0, float("nan")),
        lambda: reading_uncertainty([], 1.0),
        lambda: reading_uncertainty([510.0, 511.0], -1.0),
        lambda: state_uncertainty([], [516.0], 1.0, mounted=False),
        lambda: state_uncertainty([510.0], [516.0], -1.0, mounted=True),
        lambda: friction_force(0.0, 6.0),
        lambda: friction_force(18.0, -6.0),
        lambda: within_spread(1.0, Uncertainty(-1.0)),
    ],
)
def test_readings_that_mean_nothing_are_refused(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange):
        call()
