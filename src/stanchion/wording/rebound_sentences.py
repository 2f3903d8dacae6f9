"""The sentences on rebound left as it was with another spring, or turned the wrong way."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stanchion.job.model import End
from stanchion.wording.finding_tables import DampingWords, Words
from stanchion.wording.labels import END_NAMES

_ENDS = " {turn_text:words}; Damping says by how much. If rebound is right as it stands, confirm it there."

REBOUND: DampingWords = {
    "rebound_for_stiffer": Words(
        "Stiffer spring, rebound as before",
        "{where}: {rate_now:rate} is fitted, {with_spring_text:words} {rate_then:rate}; rebound still stands "
        "{now:counted} out. The stiffer spring wants more rebound damping." + _ENDS,
    ),
    "rebound_for_softer": Words(
        "Softer spring, rebound as before",
        "{where}: {rate_now:rate} is fitted, {with_spring_text:words} {rate_then:rate}; rebound still stands "
        "{now:counted} out. The softer spring wants less rebound damping." + _ENDS,
    ),
    "rebound_out_for_stiffer": Words(
        "Stiffer spring, rebound turned out",
        "{where}: {rate_now:rate} is fitted, {with_spring_text:words} {rate_then:rate}; rebound was turned out, the "
        "wrong way, to {now:counted} out. The stiffer spring wants more rebound damping." + _ENDS,
    ),
    "rebound_in_for_softer": Words(
        "Softer spring, rebound turned in",
        "{where}: {rate_now:rate} is fitted, {with_spring_text:words} {rate_then:rate}; rebound was turned in, the "
        "wrong way, to {now:counted} out. The softer spring wants less rebound damping." + _ENDS,
    ),
}
"""Headline and sentence of each."""

WITH_SPRING: Mapping[str, str] = {
    "run": "in an earlier run",
    "found": "as found",
    "job": "in the job before",
}
"""When the other spring was in."""

TURN: Mapping[str, str] = {
    "in": "Turn rebound in",
    "out": "Turn rebound out",
    "closed": "Rebound is fully in: more takes work inside the damper",
    "open": "Rebound is fully out: less takes work inside the damper",
}
"""Which way to turn: damping counts out from fully in."""


NOTHING_LEFT = (
    "There is nothing to confirm: since the springs were changed rebound was turned or confirmed, or they differ "
    "little."
)
NO_OTHER_SPRING = (
    "No earlier run, state as found or job before has other springs to compare with: there is nothing to confirm."
)


def rebound_right_words(ends: Sequence[End]) -> str:
    """That rebound was confirmed.

    >>> rebound_right_words(["front", "rear"])
    'Rebound of fork and shock is right as it stands, with the springs fitted now.'
    """
    return (
        f"Rebound of {' and '.join(END_NAMES[end] for end in ends)} is right as it stands, with the springs fitted now."
    )
