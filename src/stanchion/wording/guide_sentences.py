"""The readings that the guide asks for, in the order of the work, and the words for each.

A new measurement is a row here, of three short lines at most; guided_measuring.py has the names of `when`.
"""

from __future__ import annotations

from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import Path, State
from stanchion.judgement.results.codes import Caution
from stanchion.wording.verdicts import STATE_WORDS


@record(kw_only=True)
class Reading:
    """One row: a reading and the words for it."""

    path: Path
    """Path of the field, from the part that the table is for."""
    do: str
    """What to do with the machine; on the bench also what to measure."""
    read: str = ""
    """Who does what, and what to read."""
    caution: Caution | Literal[""] = ""
    """Code of the caution that goes with it."""
    when: str = "always"
    """When it applies."""
    again: str = ""
    """What repeating it means: "repeat" (averaged), "piece" (the next one of several), or nothing."""
    optional: bool = False
    """Whether it may be left empty."""
    title: str = ""
    """Its name, in at most 15 characters; empty: the name of the field."""
    state: str = ""
    """The leg or state it belongs to, shown above its name."""
    travel: str = ""
    """What to read with a gauge that gives travel."""
    alone: str = ""
    """What to do for one person alone."""


_LEG, _AXLE = "One holds it upright, one reads the fork leg.", "One holds it upright, one reads axle to mark."
_ABOARD_LEG, _ABOARD_AXLE = (
    "One holds the machine, one reads the fork leg.",
    "One holds the machine, one reads axle to mark.",
)
_TRAVEL = "One holds the machine, one reads travel used."
MARKER = {
    "length": "Read the length where the marker stopped.",
    "travel": "Read how far the marker moved.",
}
"""What one person alone reads, by what the gauge gives."""


def _state(end: str, state: State, which: str, do: str, alone: str = "") -> Reading:
    aboard = state == "rider"
    front = _ABOARD_LEG if aboard else _LEG
    rear = _ABOARD_AXLE if aboard else _AXLE
    return Reading(
        path=("sag", end, state, f"{which}_mm"),
        do=do,
        read=front if end == "front" else rear,
        caution="support" if end == "front" else "keep_clear",
        when="always" if which == "down" else "lifted",
        again="repeat",
        title=f"{end.capitalize()}, {which}",
        state=STATE_WORDS[state].capitalize(),
        travel=_TRAVEL,
        alone=alone,
    )


def _hanging(end: str, do: str, read: str) -> Reading:
    return Reading(
        path=("sag", end, "hanging_mm"),
        do=do,
        read=read,
        caution="support",
        when="length",
        again="repeat",
        title=f"{end.capitalize()}, L1",
        state="Wheel hanging",
    )


SAG: tuple[Reading, ...] = (
    _hanging(
        "front",
        "Lift the front by the frame, not under the fork feet: wheel hanging clear.",
        "Read along the fork leg, mark to mark.",
    ),
    _hanging(
        "rear",
        "Lift the rear by the frame, not under the swingarm: wheel hanging clear.",
        "Read from the axle to the mark straight above.",
    ),
    _state(
        "front",
        "static",
        "down",
        "Machine upright on its wheels, brakes off: push the front down, let it rise slowly.",
        "Alone: marker to the seal; let the front down onto its wheel slowly, no bounce.",
    ),
    _state("front", "static", "up", "Lift the front a little by the bars, let it settle slowly."),
    _state(
        "rear",
        "static",
        "down",
        "Push the tail down, let it rise slowly.",
        "Alone: zero the gauge at the axle; let the rear down onto its wheel slowly, no bounce.",
    ),
    _state("rear", "static", "up", "Lift the tail a little, let it settle slowly."),
    _state(
        "front",
        "rider",
        "down",
        "Rider in full gear, riding position, feet up: push the front down, let it rise slowly.",
        "Alone: marker to the seal; sit down slowly into riding position, get off gently.",
    ),
    _state("front", "rider", "up", "Rider stays aboard: lift the front a little, let it settle slowly."),
    _state(
        "rear",
        "rider",
        "down",
        "Rider in riding position, feet up: push the tail down, let it rise slowly.",
        "Alone: zero the gauge at the axle; sit down slowly into riding position, get off gently.",
    ),
    _state("rear", "rider", "up", "Rider stays aboard: lift the tail a little, let it settle slowly."),
)
"""Wheels hanging first, then the machine alone, then with the rider: nobody gets on or off twice."""

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

WHOLE = {"sag": "Sag", "front": "Fork", "rear": "Shock", "found": "As found"}
"""What each guide measures."""

DONE = "All taken."
MISSING = "Still to be taken: {names}."
NEXT_MISSING = "Enter goes to the first of them; Esc goes back to the form."
IN_DOUBT = "All taken, but some readings are in doubt."
"""Said at the end if the readings allow no advice."""
NEXT_IN_DOUBT = "Next: correct what is named above, then measure that end again."
NEXT = {
    "sag": "Next: do what is advised above, one end at a time, then measure again. Once both suit, ride and log the "
    "run.",
    "front": "Next: the shock, or the sag on the machine.",
    "rear": "Next: the sag on the machine.",
    "found": "Next: start work. Whatever you change from now on, this record stays as it is.",
}
"""What to do after each guide, if nothing is missing."""
TIGHTEN: Caution = "after_work_torque"
"""Caution at the end of work on the bench."""
NO_PAIR = "{end} cannot be judged yet: it needs both sags, each with a target."


def bench_name(part: Path, *, split: bool = False) -> str:
    """What is measured on the bench: shock, fork, a leg, or both legs where they are entered as one.

    >>> bench_name(("front",)), bench_name(("front", "left")), bench_name(("front", "left"), split=True)
    ('Fork', 'Both legs alike', 'Left leg')
    """
    if len(part) == 1:
        return WHOLE[str(part[0])]
    return f"{str(part[1]).capitalize()} leg" if split else "Both legs alike"
