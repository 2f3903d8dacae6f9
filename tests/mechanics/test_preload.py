"""Preload, range and headroom: definitions, and the check values every bench uses."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.preload import (
    added_preload,
    adjuster_range,
    fraction_from_reading,
    headroom_in,
    headroom_out,
    installed_preload,
    new_spacer,
    per_turn,
    preload_force,
    preload_now,
    range_from_pitch,
    settings_beside,
)

lengths = st.floats(50, 400)
fractions = st.floats(0, 1)


class TestCheckValues:
    """Common practice, no published source: free 250 mm, set 238 mm fully out and 230 mm fully in."""

    def test_installed_preload_is_12_and_range_8_and_greatest_20(self) -> None:
        installed = installed_preload(250.0, 238.0)
        span = adjuster_range(238.0, 230.0)
        assert (installed, span, preload_now(installed, span)) == (12.0, 8.0, 20.0)

    def test_sixteen_turns_give_half_a_millimetre_each(self) -> None:
        assert per_turn(8.0, 16.0) == 0.5
        assert range_from_pitch(0.5, 16.0) == 8.0

    def test_four_turns_in_leave_twelve(self) -> None:
        at = fraction_from_reading(4.0, 0.0, 16.0)
        assert (headroom_out(16.0, at), headroom_in(16.0, at)) == (4.0, 12.0)
        assert (headroom_out(8.0, at), headroom_in(8.0, at)) == (2.0, 6.0)


@given(st.floats(0, 60), fractions)
def test_headroom_out_and_in_make_up_the_range(total: float, fraction: float) -> None:
    assert headroom_out(total, fraction) + headroom_in(total, fraction) == pytest.approx(total)
    assert headroom_out(total, fraction) == added_preload(total, fraction)


@given(lengths, lengths, st.floats(0, 30), st.floats(0, 0.95))
def test_where_the_set_length_was_read_does_not_change_what_is_installed(
    free: float, set_out: float, span: float, at: float
) -> None:
    read = set_out - span * at
    assert installed_preload(free, read, added_preload(span, at)) == pytest.approx(installed_preload(free, set_out))
    assert adjuster_range(read, set_out - span, at) == pytest.approx(span, abs=1e-9)


def test_more_rings_showing_is_less_preload() -> None:
    assert fraction_from_reading(7, reading_out=7, reading_in=1) == 0.0
    assert fraction_from_reading(1, reading_out=7, reading_in=1) == 1.0
    assert fraction_from_reading(2, reading_out=7, reading_in=1) > fraction_from_reading(5, reading_out=7, reading_in=1)


def test_a_reading_at_the_end_survives_rounding() -> None:
    assert fraction_from_reading(0.1 + 0.2, 0.0, 0.3) == 1.0


def test_a_loose_spring_has_negative_preload_and_no_force() -> None:
    loose = installed_preload(250.0, 252.0)
    assert loose == -2.0
    assert preload_force(9.5, loose) == 0.0


@given(lengths, lengths, st.floats(-5, 30), st.floats(-5, 30))
def test_the_new_spacer_gives_the_wanted_preload(old_free: float, new_free: float, old: float, wanted: float) -> None:
    """The leg's length from cap to spring foot stays: spacer and set length add up to the same."""
    spacer = 500.0
    old_set = old_free - old
    cut = new_spacer(spacer, old_free, new_free, old, wanted)
    new_set = spacer + old_set - cut
    assert installed_preload(new_free, new_set) == pytest.approx(wanted, abs=1e-9)


@pytest.mark.parametrize(
    "call",
    [
        lambda: installed_preload(0.0, 238.0),
        lambda: installed_preload(250.0, float("nan")),
        lambda: installed_preload(250.0, 238.0, float("inf")),
        lambda: adjuster_range(230.0, 238.0),
        lambda: adjuster_range(238.0, 230.0, 1.0),
        lambda: adjuster_range(238.0, 230.0, -0.1),
        lambda: per_turn(8.0, 0.0),
        lambda: range_from_pitch(0.0, 8.0),
        lambda: range_from_pitch(1.0, -1.0),
        lambda: fraction_from_reading(4.0, 3.0, 3.0),
        lambda: fraction_from_reading(17.0, 0.0, 16.0),
        lambda: fraction_from_reading(float("nan"), 0.0, 16.0),
        lambda: preload_force(0.0, 12.0),
        lambda: headroom_out(8.0, 1.1),
        lambda: headroom_in(-8.0, 0.5),
        lambda: new_spacer(10.0, 240.0, 260.0, 12.0, 12.0),
    ],
)
def test_what_no_bench_can_read_is_refused(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange, match="out of range: it must be"):
        call()


@pytest.mark.parametrize("change_mm", [math.nan, math.inf, -math.inf])
def test_no_setting_is_beside_a_change_that_is_no_ordinary_number(change_mm: float) -> None:
    with pytest.raises(OutOfRange):
        settings_beside(change_mm, 0.25, (-2.0, 6.0))


def test_an_end_of_the_adjuster_that_is_not_known_is_no_limit() -> None:
    assert settings_beside(1.7, 0.25, (-math.inf, math.inf)) == (1.75, 1.5)
