"""The readings of the round at swingarm, sprockets and chain, and the words for each."""

from __future__ import annotations

from stanchion.wording.guide_sentences import Reading

_STANDING = "Upright on both wheels on level ground, as when rake and wheelbase were measured."
_STATE = "Swingarm"

SWINGARM: tuple[Reading, ...] = (
    Reading(
        path=("swingarm", "pivot_to_axle_mm"),
        do="Tape from the centre of the pivot to the centre of the axle, along the swingarm.",
        caution="chain_still",
        state=_STATE,
        title="Pivot to axle",
    ),
    Reading(
        path=("swingarm", "pivot_up_mm"),
        do=_STANDING,
        read="Ground to the centre of the pivot.",
        caution="support",
        state=_STATE,
        title="Pivot height",
    ),
    Reading(
        path=("swingarm", "sprocket_up_mm"),
        do=_STANDING,
        read="Ground to the centre of the front sprocket.",
        caution="chain_still",
        state=_STATE,
        title="Sprocket height",
    ),
    Reading(
        path=("swingarm", "sprocket_ahead_mm"),
        do="Hang a plumb line from the centre of the pivot and one from that of the front sprocket.",
        read="How far the sprocket's line is ahead of the pivot's.",
        caution="chain_still",
        state=_STATE,
        title="Sprocket ahead",
    ),
)
"""Read as the machine stands."""
STOOD: tuple[Reading, ...] = (
    Reading(
        path=("swingarm", "front_sag_mm"),
        do="As the machine stands now: how far the fork is compressed from full extension.",
        caution="support",
        state="As it stands",
        title="Front sag then",
    ),
    Reading(
        path=("swingarm", "rear_sag_mm"),
        do="As the machine stands now: how far the rear wheel is up from hanging.",
        caution="support",
        state="As it stands",
        title="Rear sag then",
    ),
)
"""Read too where it does not stand as when the geometry was measured."""
CHAIN: tuple[Reading, ...] = (
    Reading(
        path=("upkeep", "front_teeth"),
        do="Count the teeth of the front sprocket, or read what is stamped on it.",
        caution="chain_still",
        state="Chain",
        title="Front teeth",
    ),
    Reading(
        path=("upkeep", "rear_teeth"),
        do="Count the teeth of the rear sprocket, or read what is stamped on it.",
        caution="chain_still",
        state="Chain",
        title="Rear teeth",
    ),
    Reading(
        path=("drive", "links"),
        do="Count inner and outer links together, the joining one too.",
        caution="chain_still",
        optional=True,
        state="Chain",
        title="Chain links",
    ),
    Reading(
        path=("drive", "axle_forward_mm"),
        do="Room in front of the axle in its slots, as it stands now.",
        caution="chain_still",
        optional=True,
        state="Chain",
        title="Axle forward",
    ),
    Reading(
        path=("drive", "axle_back_mm"),
        do="Room behind the axle in its slots, as it stands now.",
        caution="chain_still",
        optional=True,
        state="Chain",
        title="Axle back",
    ),
)
"""Teeth, links and the way of the axle."""
NEXT = "Next: choose the size of the chain on the form, if it is not there yet, and look at anti-squat beside it."
"""What to do after the last reading."""
