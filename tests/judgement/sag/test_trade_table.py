"""The trade's table of rider and static sag, as a check on what the finder of remedies comes to.

The table: common practice, no published source. It says which work may follow from where both sags lie; the finder works
on how they answer to preload and knows nothing of it. Track targets: static 15 to 25, rider 28 to 38 mm.
"""

from __future__ import annotations

from itertools import product

import pytest

from judgement_jobs import FULL, judged, put, repeated, sag_end
from stanchion.judgement.sag.available_preload import AvailablePreload
from stanchion.judgement.sag.remedies import find_remedy
from stanchion.judgement.sag.remedy import Remedy
from stanchion.judgement.sag.response import ByRule
from stanchion.judgement.sag.targets import Aims

TARGETS = {"static": (15.0, 25.0), "rider": (28.0, 38.0)}
APART = TARGETS["rider"][1] - TARGETS["static"][0]
"""Sags further apart than this can never both be in target, whatever the preload."""
NEAR = TARGETS["rider"][0] - TARGETS["static"][1]
"""Nor can sags nearer to each other than this."""
ALLOWED = {
    ("in", "in"): {""},
    ("in", "below"): {"less", "stiffer", "softer"},
    ("in", "above"): {"more", "softer", "stiffer"},
    ("above", "below"): {"stiffer"},
    ("above", "in"): {"more", "stiffer"},
    ("above", "above"): {"more", "stiffer", "softer"},
    ("below", "above"): {"softer"},
    ("below", "in"): {"less", "softer"},
    ("below", "below"): {"less", "softer", "stiffer"},
}
"""The ways that may be asked for. Softer with both above: too stiff with too little preload; stiffer with both below, or
with rider sag in target and static above: too soft with too much preload, or no room left for more of it. Softer with
rider sag in target and static below: only where the sags lie no further apart than the targets, and there is no room for
less preload (the test below holds that)."""
ROOMS = {
    "plenty": AvailablePreload(turned=(-8.0, 8.0), spacer=(-4.0, 3.0)),
    "fully in": AvailablePreload(turned=(-8.0, 0.0), spacer=(-4.0, 3.0)),
    "fully out": AvailablePreload(turned=(0.0, 8.0), spacer=(-4.0, 3.0)),
    "no adjuster": AvailablePreload(turned=(0.0, 0.0), spacer=(-4.0, 3.0)),
    "no spacer": AvailablePreload(turned=(-2.0, 4.0), spacer=(0.0, 0.0)),
    "at the limit": AvailablePreload(turned=(-8.0, 8.0), spacer=(-7.0, 0.0), no_more=True),
}


def remedy(static: float, rider: float, room: AvailablePreload) -> Remedy:
    aims = Aims(targets={"static": TARGETS["static"], "rider": TARGETS["rider"]}, slack_mm={})
    return find_remedy(ByRule({"static": static, "rider": rider}, 1.0, 1.0), aims, room)


def lies(sag_mm: float, target: tuple[float, float]) -> str:
    return "below" if sag_mm < target[0] else "above" if sag_mm > target[1] else "in"


@pytest.mark.parametrize("room", ROOMS)
def test_no_pair_of_sags_is_answered_against_the_table(room: str) -> None:
    for static, more in product(range(3, 45), range(1, 36)):
        rider = static + more
        found = remedy(static, rider, ROOMS[room])
        cell = (lies(rider, TARGETS["rider"]), lies(static, TARGETS["static"]))
        assert found.way in ALLOWED[cell], (static, rider, cell, found)


@pytest.mark.parametrize("room", ROOMS)
def test_the_spring_is_judged_by_how_far_the_sags_lie_apart(room: str) -> None:
    for static, more in product(range(3, 45), range(1, 36)):
        found = remedy(static, static + more, ROOMS[room])
        if more > APART + 1.0:
            assert (found.work, found.way) == ("spring", "stiffer"), (static, more, found)
        if more < NEAR - 1.0:
            assert (found.work, found.way) == ("spring", "softer"), (static, more, found)


@pytest.mark.parametrize("room", ROOMS)
def test_turns_and_spacers_bring_both_sags_in_within_their_room(room: str) -> None:
    """By the rule itself: both sags fall by what is added. Half a millimetre at the edge is let go by."""
    for static, more in product(range(3, 45), range(1, 36)):
        found = remedy(static, static + more, ROOMS[room])
        if found.work not in ("turns", "spacer"):
            continue
        added = found.turned_mm + found.spacer_mm
        assert 14.5 <= static - added <= 25.5, (static, more, found)
        assert 27.5 <= static + more - added <= 38.5, (static, more, found)
        low, high = ROOMS[room].turned
        assert low - 1e-6 <= found.turned_mm <= high + 1e-6
        low, high = ROOMS[room].spacer
        assert low - 1e-6 <= found.spacer_mm <= high + 1e-6
        assert found.spacer_mm == 0.0 or abs(found.spacer_mm) >= 1.0
        assert found.work != "spacer" or found.turned_mm * found.spacer_mm >= 0.0


@pytest.mark.parametrize("room", ROOMS)
def test_a_spring_is_asked_for_only_where_no_preload_within_reach_does(room: str) -> None:
    """Every tenth of a millimetre is tried, adjuster and spacer together."""
    turned, spacer = ROOMS[room].turned, ROOMS[room].spacer
    most = 0.0 if ROOMS[room].no_more else turned[1] + spacer[1]
    tried = [step / 10.0 for step in range(round(10 * (turned[0] + spacer[0])), round(10 * most) + 1)]
    for static, more in product(range(3, 45, 2), range(1, 36)):
        if remedy(static, static + more, ROOMS[room]).work != "spring":
            continue
        within = [t for t in tried if 15.0 <= static - t <= 25.0 and 28.0 <= static + more - t <= 38.0]
        assert not within, (static, more, within[:3])


def test_static_below_and_rider_above_is_too_soft_whether_or_not_a_rate_brings_both_in() -> None:
    """On a fork whose band leaves no room for the little preload that the stiffest of those springs would need."""
    given = {
        (static, rider): judged(put(FULL, sag__front=repeated(sag_end(static, rider)))).sag.front.advice
        for static, rider in product((5.0, 7.0, 9.0, 11.0, 13.0), (41.0, 43.0, 45.0, 47.0, 49.0))
    }
    asked = {sags: (one.values["work"], one.values["way"]) for sags, one in given.items() if one is not None}
    assert {sags: ask for sags, ask in asked.items() if ask != ("spring", "stiffer")} == {}
    assert len(asked) == len(given)
    assert {one.code for one in given.values() if one is not None} > {"no_spring_needs_less"}
