"""The table of sag pairs, every combination of it (common practice, no published source)."""

from __future__ import annotations

from itertools import product

import pytest
from stanchion.judgement.pair import ADVICE, NO_ADVICE, Pair, advise

LOW = ("below", "topped_out")

ALL = [
    Pair(
        rider=rider,  # type: ignore[arg-type]
        static=static,  # type: ignore[arg-type]
        projected=projected,  # type: ignore[arg-type]
        installed=installed,
        at_limit=at_limit,
        top_out=top_out,
        wide=wide,
        room=room,  # type: ignore[arg-type]
        spacer=spacer,  # type: ignore[arg-type]
    )
    for rider, static, projected, installed, at_limit, top_out, wide, room, spacer in product(
        ("below", "in", "above"),
        ("topped_out", "below", "in", "above"),
        (None, "below", "in", "above"),
        ("", "loose", "low", "in", "near_limit", "high", "over_limit"),
        (False, True),
        ("no", "unknown", "yes"),
        (False, True),
        ("enough", "into_target", "some", "end", "unknown"),
        ("in_band", "out_of_band", "unknown", "none"),
    )
]


def row(pair: Pair) -> tuple[str, str]:
    return pair.rider, "low" if pair.static in LOW else pair.static


def test_every_combination_has_its_advice_and_every_advice_its_combination() -> None:
    given = {advise(pair) for pair in ALL}
    assert given == set(ADVICE) - NO_ADVICE


@pytest.mark.parametrize(
    ("blocked", "code"),
    [
        ("stiction", "find_friction"),
        ("swapped", "measure_again_swapped"),
        ("impossible", "measure_again_impossible"),
    ],
)
def test_friction_or_readings_at_fault_give_no_advice_on_springs(blocked: str, code: str) -> None:
    for rider, static in product(("below", "in", "above"), ("topped_out", "below", "in", "above")):
        assert advise(Pair(rider=rider, static=static, blocked=blocked)) == code  # type: ignore[arg-type]


def test_in_and_in_suits_unless_installed_preload_is_out_of_band() -> None:
    expected = {
        "": "pair_suits",
        "in": "pair_suits",
        "near_limit": "pair_suits",
        "loose": "pair_suits_recheck",
        "low": "pair_suits_recheck",
        "high": "pair_suits_recheck",
        "over_limit": "pair_suits_over_limit",
    }
    for pair in ALL:
        if row(pair) == ("in", "in"):
            assert advise(pair) == expected[pair.installed]


def test_in_and_below_is_too_soft_with_a_top_out_spring_only_if_the_difference_is_large() -> None:
    for pair in ALL:
        if row(pair) == ("in", "low"):
            if pair.wide or pair.top_out == "no":
                assert advise(pair) == "too_soft_held_up"
            elif pair.top_out == "yes":
                assert advise(pair) == "top_out_hides_static"
            else:
                assert advise(pair) == "too_soft_or_top_out"


def test_in_and_above_is_too_stiff_unless_installed_preload_says_the_opposite() -> None:
    for pair in ALL:
        if row(pair) == ("in", "above"):
            assert advise(pair) == ("too_stiff_contradicted" if pair.at_limit else "too_stiff_little_preload")


def test_above_and_below_is_too_soft_whatever_the_adjuster_has() -> None:
    for pair in ALL:
        if row(pair) == ("above", "low"):
            assert advise(pair) == "too_soft"


def test_below_and_above_is_too_stiff_whatever_the_adjuster_has() -> None:
    for pair in ALL:
        if row(pair) == ("below", "above"):
            assert advise(pair) == "too_stiff"


def test_more_preload_with_installed_already_at_the_limit_is_never_a_longer_spacer() -> None:
    for pair in ALL:
        if pair.at_limit:
            assert "longer_spacer" not in advise(pair)
            assert not advise(pair).startswith("add_preload")
            if row(pair) in (("above", "in"), ("above", "above")):
                assert advise(pair) == "stiffer_at_limit"


def test_above_with_projected_static_in_target_is_preload_then_a_spacer_in_band_then_stiffer() -> None:
    for pair in ALL:
        if row(pair) in (("above", "in"), ("above", "above")) and pair.projected == "in" and not pair.at_limit:
            assert advise(pair) == by_room(pair, "add_preload", "longer_spacer", "stiffer_no_room")


def test_above_with_projected_static_below_target_is_too_soft() -> None:
    for pair in ALL:
        if row(pair) in (("above", "in"), ("above", "above")) and pair.projected == "below" and not pair.at_limit:
            assert advise(pair) == "too_soft_projected"


def test_above_with_projected_static_still_above_is_measured_again_before_springs_are_judged() -> None:
    for pair in ALL:
        if row(pair) in (("above", "in"), ("above", "above")) and pair.projected == "above" and not pair.at_limit:
            assert advise(pair) == by_room(pair, "add_preload_then_static", "longer_spacer", "stiffer_no_room")


def test_below_and_in_is_less_preload_where_projected_static_is_in_target_and_softer_otherwise() -> None:
    for pair in ALL:
        if row(pair) == ("below", "in"):
            if pair.projected in ("in", None):
                assert advise(pair) == by_room(pair, "less_preload", "shorter_spacer", "softer_no_room")
            else:
                assert advise(pair) == "too_stiff_projected"


def test_below_and_below_is_less_preload_then_a_shorter_spacer_in_band_then_softer() -> None:
    for pair in ALL:
        if row(pair) == ("below", "low"):
            if pair.room in ("into_target", "some"):  # not fully out yet: out with what there is, and measure again
                assert advise(pair) == "less_preload_measure_again"
            else:
                assert advise(pair) == by_room(pair, "less_preload_measure_again", "shorter_spacer", "softer_no_room")


def test_a_static_state_on_the_top_out_spring_does_not_answer_to_preload() -> None:
    for pair in ALL:
        if pair.projected is None and pair.rider == "above" and not pair.at_limit and pair.room == "enough":
            if pair.static == "in":
                assert advise(pair) == "add_preload"
            if pair.static == "above":
                assert advise(pair) == "add_preload_then_static"


def by_room(pair: Pair, enough: str, spacer: str, otherwise: str) -> str:
    """The three steps: by the adjuster, by the spacer, by another spring."""
    if pair.room == "enough":
        return enough
    if pair.room == "unknown":
        return f"{'add' if pair.rider == 'above' else 'less'}_preload_headroom_unknown"
    if pair.spacer == "in_band":
        return spacer
    if pair.spacer == "unknown":
        return f"{spacer}_unchecked"
    if pair.room == "into_target":  # what the adjuster has left is enough for the target, if not for its middle
        return f"{'add' if pair.rider == 'above' else 'less'}_preload_into_target"
    return otherwise
