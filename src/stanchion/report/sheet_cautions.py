"""The cautions, condensed for a sheet: each sentence stands for one or more codes of judgement/criteria/cautions.py."""

from __future__ import annotations

from collections.abc import Iterable

CONDENSED: tuple[tuple[frozenset[str], str], ...] = (
    (
        frozenset({"fork_caps", "shock_spring"}),
        "Fork caps and springs hold stored force: unload first, proper compressor, face away.",
    ),
    (frozenset({"shock_gas", "hot_shock"}), "Never open or heat a shock under gas; let a hot one cool."),
    (frozenset({"support", "one_leg"}), "Support the machine; never its weight onto one fork leg."),
    (frozenset({"keep_clear"}), "Hands clear of spring and linkage."),
    (frozenset({"adjuster_end"}), "Do not force an adjuster at its end."),
    (frozenset({"bleed_extended"}), "Bleed forks only fully extended."),
    (frozenset({"fork_height"}), "Stanchions raised: check clearance at full compression."),
    (frozenset({"used_oil"}), "Gloves for used oil."),
    (
        frozenset({"after_work_torque", "after_work_brakes", "after_work_chain"}),
        "After work: the manual's torques, collar locked, brakes pumped, lines and steering free, chain slack, "
        "sidestand; first ride slow.",
    ),
)
SAID_AT_THE_END = frozenset({"judgement"})
"""Codes that the closing words of every sheet stand for."""


def condensed(codes: Iterable[str]) -> tuple[str, ...]:
    """The sentences for these cautions, each once, in the order they are shown.

    >>> condensed(["keep_clear", "adjuster_end", "judgement"])
    ('Hands clear of spring and linkage.', 'Do not force an adjuster at its end.')
    """
    apply = set(codes)
    return tuple(sentence for stands_for, sentence in CONDENSED if stands_for & apply)
