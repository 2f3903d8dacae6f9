"""The readings that the guide asks for at a fork leg or a shock that is sprung by air, and the words for each."""

from __future__ import annotations

from stanchion.wording.guide_sentences import Reading

PUMP = "Screwing the pump on or off lets air out: take the reading with it on."
PRESSURES: tuple[Reading, ...] = (
    Reading(
        path=("air", "pressure_bar"),
        do="Wheel off the ground, fully extended, pump on: read the main chamber.",
        read=PUMP,
        caution="air_pump",
        when="by_air",
    ),
    Reading(
        path=("air", "balance_bar"),
        do="Wheel off the ground, fully extended, pump on: read the balance chamber.",
        read=PUMP,
        caution="air_pump",
        when="balance_pumped",
        title="Balance",
    ),
    Reading(
        path=("air", "outer_bar"),
        do="Wheel off the ground, fully extended, pump on: read the outer chamber.",
        read=PUMP,
        caution="air_pump",
        when="with_outer",
        title="Outer",
    ),
    Reading(
        path=("air", "set_at_c"),
        do="Read the temperature at which the pressure of the fork or shock is set.",
        when="by_air",
        optional=True,
        title="Set at",
    ),
)
"""The pressures: asked for before sag is read, and when the machine is taken as found."""
CHAMBERS: tuple[Reading, ...] = (
    Reading(
        path=("air", "bore_mm"),
        do="Take the bore that the piston seals in from the manual, or measure it with the air spring apart.",
        caution="fork_air",
        when="by_air",
        optional=True,
        title="Bore",
    ),
    Reading(
        path=("air", "length_mm"),
        do="Extended: take the length of the main chamber, piston to cap, from the manual, or measure it.",
        caution="fork_air",
        when="by_air_unmeasured",
        optional=True,
    ),
    Reading(
        path=("air", "port_mm"),
        do="From the manual, take the travel at which the piston passes the port.",
        when="balanced_by_port",
        optional=True,
    ),
    Reading(
        path=("air", "rod_mm"),
        do="Measure the diameter of the rod that passes through the balance chamber.",
        caution="fork_air",
        when="balanced",
        optional=True,
    ),
    Reading(
        path=("air", "balance_length_mm"),
        do="Extended: take the length of the balance chamber from the manual, or measure it.",
        caution="fork_air",
        when="balance_unmeasured",
        optional=True,
    ),
    Reading(
        path=("air", "outer_bore_mm"),
        do="Take the bore of the outer chamber from the manual, or measure it with the air spring apart.",
        caution="fork_air",
        when="outer_on_own_area",
        optional=True,
    ),
    Reading(
        path=("air", "outer_tube_mm"),
        do="Measure the diameter of what stands in that bore: rod or cartridge. Nothing there: enter 0.",
        caution="fork_air",
        when="outer_on_own_area",
        optional=True,
    ),
    Reading(
        path=("air", "outer_length_mm"),
        do="Extended: take the length of the outer chamber from the manual, or measure it.",
        caution="fork_air",
        when="outer_unmeasured",
        optional=True,
    ),
)
"""What the force of the air is worked out from."""
