"""The readings of sag that the guide asks for, in the order of the work, and the words for each."""

from __future__ import annotations

from stanchion.job.model import State
from stanchion.wording.guide_sentences import Reading
from stanchion.wording.verdicts import STATE_WORDS

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
