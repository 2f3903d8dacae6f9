"""The readings of fork and shock on the bench that the guide asks for, in the order of the work."""

from __future__ import annotations

from stanchion.wording.guide_sentences import Reading

RATE = "Read the rate marked on the spring. None marked: Enter goes on to the caliper."
LEG: tuple[Reading, ...] = (
    Reading(path=("spring", "rate_n_per_mm"), do=RATE, when="sprung"),
    Reading(
        path=("spring", "free_length_mm"),
        do="Spring out of the fork, standing free: measure it end to end.",
        caution="fork_caps",
        when="sprung",
    ),
    Reading(
        path=("spring", "set_length_mm"),
        do="Adjuster fully out, leg extended: measure the fitted spring, end to end.",
        caution="fork_caps",
        when="set_fully_out",
        title="Set length, out",
    ),
    Reading(
        path=("spring", "set_length_mm"),
        do='Adjuster where "Set length read at" says, leg extended: measure the fitted spring.',
        caution="fork_caps",
        when="set_elsewhere",
    ),
    Reading(
        path=("spring", "set_length_in_mm"),
        do="Adjuster fully in, leg extended: measure the fitted spring again.",
        caution="adjuster_end",
        when="adjusting",
        title="Set length, in",
    ),
    Reading(
        path=("adjuster", "total_turns"),
        do="Count the turns from fully out to fully in.",
        caution="adjuster_end",
        when="turning",
        title="Turns in all",
    ),
    Reading(
        path=("adjuster", "total_clicks"),
        do="Count the clicks from fully out to fully in.",
        caution="adjuster_end",
        when="in_clicks",
        title="Clicks in all",
    ),
    Reading(
        path=("adjuster", "reading_out"),
        do="Adjuster fully out: count the rings, or read the mm showing.",
        caution="adjuster_end",
        when="showing",
        title="Reads, out",
    ),
    Reading(
        path=("adjuster", "reading_in"),
        do="Adjuster fully in: count the rings, or read the mm showing.",
        caution="adjuster_end",
        when="showing",
        title="Reads, in",
    ),
    Reading(
        path=("adjuster", "now"),
        do="Adjuster as it is to be ridden: count the turns in from fully out.",
        caution="adjuster_end",
        when="in_turns",
    ),
    Reading(
        path=("adjuster", "now"),
        do="Adjuster as it is to be ridden: count the clicks in from fully out.",
        caution="adjuster_end",
        when="in_clicks",
    ),
    Reading(
        path=("adjuster", "now"),
        do="Adjuster as it is to be ridden: count the rings, or read the mm showing.",
        when="showing",
    ),
    Reading(path=("stack", "spacer_mm"), do="Spacer tube out: measure its length.", when="sprung", optional=True),
    Reading(
        path=("stack", "washers_mm"),
        do="Measure the thickness of each washer in the stack.",
        read="If there are none: Enter goes on.",
        when="sprung",
        again="piece",
        optional=True,
        title="Washers",
    ),
    Reading(
        path=("stack", "seats_mm"),
        do="Measure the height of each spring seat in the stack.",
        read="If there are none: Enter goes on.",
        when="sprung",
        again="piece",
        optional=True,
        title="Spring seats",
    ),
    Reading(
        path=("air_gap_mm",),
        do="Spring and spacer out, fork fully compressed: measure from the stanchion's top edge to the oil.",
        caution="used_oil",
        optional=True,
    ),
)
"""Readings of each leg of the fork."""
FORK: tuple[Reading, ...] = (
    Reading(
        path=("stanchion_outer_mm",),
        do="Measure the stanchion's outside diameter with a caliper.",
        optional=True,
        title="Outside dia.",
    ),
    Reading(
        path=("stanchion_inner_mm",),
        do="Fork cap off: measure the inside diameter at the stanchion's top with a caliper.",
        caution="fork_caps",
        optional=True,
        title="Inside dia.",
    ),
    Reading(
        path=("travel_mm",),
        do="Spring out: measure how far the fork goes from extended to its stop, or take the manual's travel.",
        caution="support",
        optional=True,
        title="Fork travel",
    ),
)
"""Readings that both legs of the fork share, after those of the legs."""
SHOCK: tuple[Reading, ...] = (
    Reading(path=("spring", "rate_n_per_mm"), do=RATE, when="sprung"),
    Reading(
        path=("spring", "free_length_mm"),
        do="Spring off the shock, standing free: measure it end to end.",
        caution="shock_spring",
        when="sprung",
    ),
    Reading(
        path=("spring", "set_length_mm"),
        do="Shock extended, collar fully out: measure from the collar to the spring seat.",
        caution="shock_spring",
        when="set_fully_out",
        title="Set length, out",
    ),
    Reading(
        path=("spring", "set_length_mm"),
        do='Shock extended, collar where "Set length read at" says: measure from the collar to the spring seat.',
        caution="shock_spring",
        when="set_elsewhere",
    ),
    Reading(
        path=("spring", "set_length_in_mm"),
        do="Collar fully in, if you can: measure from the collar to the spring seat again.",
        caution="adjuster_end",
        when="adjusting",
        optional=True,
        title="Set length, in",
    ),
    Reading(
        path=("collar", "pitch_mm"),
        do="Turn the collar once: measure how far it has moved.",
        caution="keep_clear",
        when="turning",
        title="Thread pitch",
    ),
    Reading(
        path=("collar", "total_turns"),
        do="Count the turns from fully out to fully in.",
        caution="adjuster_end",
        when="turning",
        title="Turns in all",
    ),
    Reading(
        path=("collar", "total_clicks"),
        do="Count the clicks from fully out to fully in.",
        caution="adjuster_end",
        when="in_clicks",
        title="Clicks in all",
    ),
    Reading(
        path=("collar", "reading_out"),
        do="Collar fully out: count the rings, or read the mm showing.",
        when="showing",
        title="Reads, out",
    ),
    Reading(
        path=("collar", "reading_in"),
        do="Collar fully in: count the rings, or read the mm showing.",
        caution="adjuster_end",
        when="showing",
        title="Reads, in",
    ),
    Reading(
        path=("collar", "now"),
        do="Collar as it is to be ridden: count the turns in from fully out.",
        caution="adjuster_end",
        when="in_turns",
    ),
    Reading(
        path=("collar", "now"),
        do="Collar as it is to be ridden: count the clicks in from fully out.",
        caution="adjuster_end",
        when="in_clicks",
    ),
    Reading(
        path=("collar", "now"),
        do="Collar as it is to be ridden: count the rings, or read the mm showing.",
        when="showing",
    ),
    Reading(
        path=("eye_to_eye_mm",),
        do="Shock extended: measure from the middle of one eye to the other.",
        caution="shock_gas",
        optional=True,
        title="Eye to eye",
    ),
    Reading(
        path=("stroke_mm",),
        do="Shock extended: measure the shaft from body to stop, or take the manual's stroke.",
        caution="shock_gas",
        optional=True,
        title="Stroke",
    ),
    Reading(
        path=("shaft_mm",),
        do="Measure the shaft's diameter with a caliper.",
        caution="shock_gas",
        optional=True,
        title="Shaft",
    ),
    Reading(
        path=("wheel_travel_mm",),
        do="Spring off: raise the wheel from hanging to its stop, measure how far the axle went.",
        caution="support",
        optional=True,
    ),
)
"""Readings of the shock."""
