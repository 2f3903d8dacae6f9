"""The words for why recorded values give no figure, by the code of the problem."""

from __future__ import annotations

PROBLEMS: dict[str, str] = {
    "out_of_range": "the values do not fit together",
    "no_spring": "this leg has no spring",
    "one_spring": "one leg has a spring, so there is no mean",
    "no_stack": "a shock has no spacer stack",
    "no_adjuster": "there is no adjuster",
    "adjuster_beyond_range": "the adjuster reading lies beyond its range",
    "adjuster_ends_equal": "the adjuster reads the same at both ends",
    "set_lengths_order": "set length fully in is longer than fully out",
    "set_length_read_fully_in": "both set lengths were read fully in",
    "readings_swapped": "the readings are swapped",
    "down_only": "only pushed-down readings were taken",
    "single_reading": "one reading each: repeat to see the spread",
    "topped_out": "static sag is topped out",
    "on_top_out": "static sag stands on the top-out spring",
    "tester_one_length": "the spring tester was read at one length only",
    "tester_two_readings": "two tester readings give no uncertainty",
    "tester_falls": "the tester readings do not rise as the spring is pressed",
    "no_target": "the profile has no target for it",
    "linkage_pairs": "the linkage pairs do not rise",
    "linkage_ratio": "the linkage pairs give a motion ratio that cannot be",
    "no_air": "the trapped air cannot be as recorded",
    "beyond_measured": "beyond what was measured of the linkage",
}
"""Why recorded values give no figure."""
