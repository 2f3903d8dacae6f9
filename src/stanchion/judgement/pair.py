"""What rider sag and static sag together say of springs and preload: one table, and nothing but the table.

Common practice, no published source. The numbers that go with an advice are worked out in remedy.py.
"""

from __future__ import annotations

from typing import Literal

from stanchion.record import record

Where = Literal["below", "in", "above"]
Static = Literal["topped_out", "below", "in", "above"]
Room = Literal["enough", "into_target", "some", "end", "unknown"]
Blocked = Literal["", "stiction", "swapped", "impossible", "changed"]
Spacer = Literal["in_band", "out_of_band", "unknown", "none"]


@record(kw_only=True)
class Pair:
    """What the table asks about one end."""

    rider: Where
    """Rider sag against its target."""
    static: Static
    """Static sag against its target; topped out counts before in or below."""
    projected: Where | None = None
    """Static sag once rider sag is right, against its target; None where it does not hold, the static state being
    topped out or on the top-out spring."""
    blocked: Blocked = ""
    """Why nothing is to be said of springs."""
    installed: str = ""
    """Verdict on installed preload: "", "loose", "low", "in", "near_limit", "high", "over_limit"."""
    at_limit: bool = False
    """Installed preload is at its limit or over it."""
    top_out: str = "no"
    """Whether there is a top-out spring: "no", "unknown", "yes"."""
    wide: bool = False
    """Rider minus static sag is large: a soft spring and not only a top-out spring that holds static sag down."""
    room: Room = "enough"
    """What the adjuster has left in the direction needed: for the whole change, for enough of it that rider sag comes
    within its target, for less, or nothing."""
    spacer: Spacer = "in_band"
    """Whether another spacer could do what the adjuster cannot, installed preload staying in its band; none: this
    spring has no spacer."""


def advise(pair: Pair) -> str:
    """The code of the advice for a pair of sags.

    >>> advise(Pair(rider="in", static="in", installed="in"))
    'pair_suits'
    >>> advise(Pair(rider="above", static="above", projected="in", room="end", spacer="in_band"))
    'longer_spacer'
    """
    if pair.blocked:
        return _BLOCKED[pair.blocked]
    if pair.rider == "in":
        return _rider_in(pair)
    return _rider_above(pair) if pair.rider == "above" else _rider_below(pair)


_BLOCKED = {
    "stiction": "find_friction",
    "swapped": "measure_again_swapped",
    "impossible": "measure_again_impossible",
    "changed": "measure_again_changed",
}
_UNFIT = ("loose", "low", "high")


def _rider_in(pair: Pair) -> str:
    if pair.static == "in":
        if pair.installed == "over_limit":
            return "pair_suits_over_limit"
        return "pair_suits_recheck" if pair.installed in _UNFIT else "pair_suits"
    if pair.static == "above":
        return "too_stiff_contradicted" if pair.at_limit else "too_stiff_little_preload"
    if pair.wide or pair.top_out == "no":
        return "too_soft_held_up"
    return "top_out_hides_static" if pair.top_out == "yes" else "too_soft_or_top_out"


def _rider_above(pair: Pair) -> str:
    if pair.static in ("below", "topped_out"):
        return "too_soft"
    if pair.at_limit:
        return "stiffer_at_limit"
    if pair.projected == "below":
        return "too_soft_projected"
    if pair.room == "enough":
        # Static sag that would still be too large says "too stiff" in its turn, but only once rider sag is right.
        return "add_preload_then_static" if _still_above(pair) else "add_preload"
    if pair.room == "unknown":
        return "add_preload_headroom_unknown"
    if pair.spacer == "in_band":
        return "longer_spacer"
    if pair.spacer == "unknown":
        return "longer_spacer_unchecked"
    return "add_preload_into_target" if pair.room == "into_target" else "stiffer_no_room"


def _still_above(pair: Pair) -> bool:
    """Whether static sag stays too large; a state on the top-out spring does not answer to preload."""
    return pair.projected == "above" or (pair.projected is None and pair.static == "above")


def _rider_below(pair: Pair) -> str:
    if pair.static == "above":
        return "too_stiff"
    if pair.static == "in":
        if pair.projected not in ("in", None):
            return "too_stiff_projected"
        if pair.room == "enough":
            return "less_preload"
    elif pair.room in ("enough", "into_target", "some"):
        return "less_preload_measure_again"
    if pair.room == "unknown":
        return "less_preload_headroom_unknown"
    if pair.spacer == "in_band":
        return "shorter_spacer"
    if pair.spacer == "unknown":
        return "shorter_spacer_unchecked"
    return "less_preload_into_target" if pair.room == "into_target" else "softer_no_room"


ADVICE = (
    "find_friction",
    "measure_again_swapped",
    "measure_again_impossible",
    "measure_again_changed",
    "pair_suits",
    "pair_suits_recheck",
    "pair_suits_over_limit",
    "too_soft_held_up",
    "too_soft_or_top_out",
    "top_out_hides_static",
    "too_stiff_little_preload",
    "too_stiff_contradicted",
    "too_soft",
    "too_soft_projected",
    "stiffer_at_limit",
    "stiffer_no_room",
    "add_preload",
    "add_preload_then_static",
    "add_preload_into_target",
    "add_preload_headroom_unknown",
    "longer_spacer",
    "longer_spacer_unchecked",
    "too_stiff",
    "too_stiff_projected",
    "softer_no_room",
    "less_preload",
    "less_preload_into_target",
    "less_preload_measure_again",
    "less_preload_headroom_unknown",
    "shorter_spacer",
    "shorter_spacer_unchecked",
)
"""Every advice there is."""
NOTES = frozenset({"pair_suits", "top_out_hides_static"})
"""Advice that asks for no work; the rest are warnings."""
NO_ADVICE = frozenset(_BLOCKED.values())
"""Where nothing is said of springs."""
