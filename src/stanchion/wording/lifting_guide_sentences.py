"""The readings of the round that finds the height of the centre of mass, and the words for each and for its end."""

from __future__ import annotations

from stanchion.job.spec import Kind
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.american import worded
from stanchion.wording.guide_sentences import Reading

_ALONE = "Both wheels on scales, level and upright, fluids as ridden, nobody aboard."
_ABOARD = "Rider in full gear, riding position, feet up; a second person steadies it without lifting."

LEVEL: tuple[Reading, ...] = (
    Reading(
        path=("geometry", "wheelbase_mm"),
        do="Machine standing on its wheels: measure from the front axle to the rear axle.",
        state="Standing level",
        title="Wheelbase",
    ),
    Reading(
        path=("geometry", "front_radius_mm"),
        do="Measure from the ground up to the front axle.",
        state="Standing level",
        title="Front radius",
    ),
    Reading(
        path=("geometry", "rear_radius_mm"),
        do="Measure from the ground up to the rear axle.",
        state="Standing level",
        title="Rear radius",
    ),
    Reading(
        path=("weights", "front_alone_kg"),
        do=_ALONE,
        read="Read the front scale.",
        caution="support",
        state="Level, alone",
        title="Front scale",
    ),
    Reading(
        path=("weights", "rear_alone_kg"),
        do=_ALONE,
        read="Read the rear scale.",
        caution="support",
        state="Level, alone",
        title="Rear scale",
    ),
    Reading(
        path=("weights", "front_aboard_kg"),
        do=_ABOARD,
        read="Read the front scale.",
        caution="rider_steadied",
        state="Level, with rider",
        title="Front scale",
    ),
    Reading(
        path=("weights", "rear_aboard_kg"),
        do=_ABOARD,
        read="Read the rear scale.",
        caution="rider_steadied",
        state="Level, with rider",
        title="Rear scale",
    ),
)
"""Read with both wheels on scales of one height."""

BLOCKED = Reading(
    path=("balance", "blocked"),
    do="Block fork and shock at ride height: struts or tight straps. Brakes off, neutral.",
    read="Enter: it is blocked. Esc: it cannot be.",
    caution="lift_front",
    state="Before lifting",
    title="Blocked",
)
BLOCKED_VALUE = "yes"
"""What Enter records of it."""

RAISED = Reading(
    path=("raised_mm",),
    do="Two people, tied down, rear wheel chocked: lift the front wheel on to a block.",
    read="Enter how much higher the wheel stands.",
    caution="lift_front",
    title="Block height",
)
ALONE = Reading(
    path=("alone_kg",),
    do="Upright and still, straps slack, nobody touching it.",
    read="Read the front scale.",
    caution="lift_front",
    title="Scale, alone",
)
ABOARD = Reading(
    path=("aboard_kg",),
    do="Rider aboard only with a helper on each side; otherwise Enter goes on.",
    read="Read the front scale.",
    caution="lift_front",
    optional=True,
    title="Scale, rider",
)
BLOCK = "Block {number}"
"""What the readings on one block belong to."""

CONFIRMED = "yes"
NOT_CONFIRMED = "not yet"
"""Whether what Enter confirms was confirmed."""

NEXT = "Next: lower the front with two people and take the struts or straps out of fork and shock."
ASSUMED = "Each reading of a scale is taken as good to ± {scale}."
"""What the uncertainty rests on."""
SCATTER = (
    "The readings scatter more than the scale explains: read each again, upright and still, straps slack, same "
    "pressures and fluids."
)
_HIGHER = "One more block, {raised}, would make it ± {higher}"
_AGAIN = "the same blocks read once more: ± {again}."


def improvement_words(raised_mm: float | None, higher_mm: float | None, again_mm: float, units: Units) -> str:
    """What would make the height better known.

    Args:
        raised_mm: height of one more block that is still safe [mm]; None: the front is as high as it should go.
        higher_mm: expanded uncertainty with it [mm].
        again_mm: expanded uncertainty with the same blocks read once more [mm].
        units: units to show.

    >>> from stanchion.units.known_units import METRIC
    >>> improvement_words(None, None, 21.0, METRIC)
    'The same blocks read once more: ± 21.0 mm.'
    """
    again = _AGAIN.format(again=show(again_mm, Kind.LENGTH, units))
    if raised_mm is None or higher_mm is None:
        return worded(again[0].upper() + again[1:])
    raised, higher = (show(mm, Kind.LENGTH, units) for mm in (raised_mm, higher_mm))
    return worded(f"{_HIGHER.format(raised=raised, higher=higher)}; {again}")
