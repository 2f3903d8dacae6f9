"""The readings that the guide asks for where a second spring works with the main one, and the words for each."""

from __future__ import annotations

from dataclasses import replace

from stanchion.wording.bench_guide_sentences import RATE
from stanchion.wording.guide_sentences import Reading

SOLID = "press it in the tester until its coils touch, and measure; or multiply its coils by the wire."
_RATE = "Second spring: read the rate marked on it. None marked: take it with the spring tester."
SECOND: tuple[Reading, ...] = (
    *(
        Reading(
            path=("spring", "second", "rate_n_per_mm"),
            do=_RATE,
            read=f"Entered as {in_words}; the form changes it.",
            when=arranged,
            title="Second, rate",
        )
        for arranged, in_words in (("end_to_end", "end to end"), ("side_by_side", "side by side"))
    ),
    Reading(
        path=("spring", "second", "free_length_mm"),
        do="Second spring by itself, standing free: measure it end to end.",
        when="two_springs",
        title="Second, free",
    ),
    Reading(
        path=("spring", "second", "divider_mm"),
        do="Measure how far apart the divider between them keeps both springs.",
        read="If nothing is between them: Enter goes on.",
        when="end_to_end",
        optional=True,
        title="Divider",
    ),
    Reading(
        path=("spring", "second", "stop_mm"),
        do="Unloaded: measure how far the softer spring can give way until a stop takes it.",
        read="If there is no stop: Enter goes on.",
        when="end_to_end",
        optional=True,
        title="To the stop",
    ),
    Reading(
        path=("spring", "second", "gap_mm"),
        do="On different seats: measure how far the main spring is pressed when it reaches the second.",
        read="If both stand on one seat: Enter goes on.",
        when="side_by_side",
        optional=True,
        title="Gap",
    ),
    Reading(
        path=("spring", "second", "solid_length_mm"),
        do=f"Second spring solid: {SOLID}",
        when="two_springs",
        title="Second, solid",
    ),
    Reading(
        path=("spring", "coils", "solid_length_mm"),
        do=f"Main spring solid: {SOLID}",
        when="main_closes_first",
        title="Main, solid",
    ),
)
"""They come after those of the main spring, for which both are out."""

_MAIN = {RATE: RATE.replace("the spring", "the main spring")}
OTHERWISE: dict[str, dict[str, str]] = {
    "end_to_end": {
        **_MAIN,
        "Spring out of the fork, standing free: measure it end to end.": (
            "Springs out of the fork, one on the other with what is between them: measure both, end to end."
        ),
        "Spring off the shock, standing free: measure it end to end.": (
            "Springs off the shock, one on the other with what is between them: measure both, end to end."
        ),
        "Adjuster fully out, leg extended: measure the fitted spring, end to end.": (
            "Adjuster fully out, leg extended: measure both fitted springs, end to end."
        ),
        'Adjuster where "Set length read at" says, leg extended: measure the fitted spring.': (
            'Adjuster where "Set length read at" says, leg extended: measure both fitted springs.'
        ),
        "Adjuster fully in, leg extended: measure the fitted spring again.": (
            "Adjuster fully in, leg extended: measure both fitted springs again."
        ),
        "Shock extended, collar fully out: measure from the collar to the spring seat.": (
            "Shock extended, collar fully out: measure from the collar to the far seat, over both springs."
        ),
        'Shock extended, collar where "Set length read at" says: measure from the collar to the spring seat.': (
            'Shock extended, collar where "Set length read at" says: measure from collar to far seat, both springs.'
        ),
        "Collar fully in, if you can: measure from the collar to the spring seat again.": (
            "Collar fully in, if you can: measure from the collar to the far seat again, over both springs."
        ),
    },
    "side_by_side": {
        **_MAIN,
        "Spring out of the fork, standing free: measure it end to end.": (
            "Springs out of the fork: measure the main one, standing free, end to end."
        ),
        "Spring off the shock, standing free: measure it end to end.": (
            "Springs off the shock: measure the main one, standing free, end to end."
        ),
        "Adjuster fully out, leg extended: measure the fitted spring, end to end.": (
            "Adjuster fully out, leg extended: measure the fitted main spring, end to end."
        ),
        'Adjuster where "Set length read at" says, leg extended: measure the fitted spring.': (
            'Adjuster where "Set length read at" says, leg extended: measure the fitted main spring.'
        ),
        "Adjuster fully in, leg extended: measure the fitted spring again.": (
            "Adjuster fully in, leg extended: measure the fitted main spring again."
        ),
    },
}
"""What is done with the main spring in other words, by how the second is arranged and what is done with one alone."""


def for_two(row: Reading, arranged: str) -> Reading:
    """A reading in words for two springs.

    Args:
        row: the reading.
        arranged: how the second spring is arranged; "none": there is none, and the words stay.
    """
    both = arranged == "end_to_end" and row.path == ("spring", "free_length_mm")
    return replace(
        row,
        do=OTHERWISE.get(arranged, {}).get(row.do, row.do),
        title="Both, free" if both else row.title,
    )
