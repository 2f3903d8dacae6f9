"""The readings of a caliper that the guide asks for where no rate is marked on a spring, and the words for each."""

from __future__ import annotations

from stanchion.wording.guide_sentences import Reading

CALIPER: tuple[Reading, ...] = (
    Reading(
        path=("spring", "coils", "wire_mm"),
        do="No rate marked: measure the bare wire with a caliper, to 0.05 mm: an error counts fourfold in the rate.",
        when="unmarked",
        optional=True,
        title="Wire",
    ),
    Reading(
        path=("spring", "coils", "outer_mm"),
        do="Measure across the coils, outside, in the middle of the spring.",
        when="unmarked",
        optional=True,
        title="Coils, outside",
    ),
    Reading(
        path=("spring", "coils", "total_coils"),
        do="Count all coils from tip to tip, to a quarter: the rate is calculated from them.",
        when="unmarked",
        optional=True,
        title="Coils in all",
    ),
)
"""They come after the free length, for which the spring is out."""
