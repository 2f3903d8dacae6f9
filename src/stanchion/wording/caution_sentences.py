"""The words of the cautions: in full, in brief for one line, and condensed for the hand-over sheet."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypedDict

from stanchion.judgement.results.codes import Caution


class CautionWords(TypedDict):
    """The words of each caution."""

    fork_caps: str
    fork_air: str
    one_leg: str
    shock_spring: str
    shock_gas: str
    hot_shock: str
    support: str
    rider_steadied: str
    keep_clear: str
    adjuster_end: str
    bleed_extended: str
    fork_height: str
    used_oil: str
    oil_on_discs: str
    after_work_torque: str
    after_work_brakes: str
    after_work_chain: str
    before_riding: str
    road_machine: str
    judgement: str


CAUTIONS: CautionWords = {
    "fork_caps": "Fork caps hold stored force: unload the spring first, use the proper compressor, and face away.",
    "fork_air": "Release any air pressure in a fork before opening its cap.",
    "one_leg": "Never let the machine's weight down onto one fork leg.",
    "shock_spring": "A shock spring holds stored force: unload it first, use a proper spring compressor, face away.",
    "shock_gas": "Never open or heat a shock that is under gas pressure.",
    "hot_shock": "A hot shock burns: let it cool before touching it.",
    "support": "Support the machine so that it cannot fall before taking weight off a wheel.",
    "rider_steadied": "With the rider aboard, a second person steadies the machine while the readings are taken.",
    "keep_clear": "Keep hands clear of the spring and the linkage.",
    "adjuster_end": "Do not force an adjuster at its end.",
    "bleed_extended": "Bleed forks only fully extended.",
    "fork_height": "After raising stanchions check tyre, mudguard and yoke clearance at full compression.",
    "used_oil": "Wear gloves for used oil, and dispose of it properly.",
    "oil_on_discs": "Keep oil and grease off discs, pads and tyres; clean off any that gets there before it is ridden.",
    "after_work_torque": "After work: tighten to the manufacturer's torque values and lock the collar.",
    "after_work_brakes": "Pump the brakes; check that lines and steering move freely through the travel.",
    "after_work_chain": "Check chain slack and sidestand, then ride slowly first.",
    "before_riding": "Before riding: every torque done, brakes pumped until firm, both wheels turn freely.",
    "road_machine": "Road machine: after a change of height check sidestand, lights and mirrors, and the local rules.",
    "judgement": "Maker's manual, local rules and a qualified technician's judgement come first: "
    "no number here approves a machine as safe.",
}

BRIEF: dict[Caution, str] = {
    "fork_caps": "Fork caps hold stored force: unload, use the compressor, face away.",
    "shock_spring": "Shock springs hold stored force: unload, use a compressor, face away.",
    "support": "Before taking weight off a wheel, support the machine: it can fall.",
    "rider_steadied": "Rider aboard: a second person steadies the machine.",
    "fork_height": "Stanchions raised: check tyre, mudguard and yokes fully compressed.",
    "oil_on_discs": "Keep oil off discs, pads and tyres; clean off any before riding.",
    "after_work_torque": "After work: tighten to the maker's torque values; lock the collar.",
    "after_work_brakes": "Pump the brakes; see that lines and steering move freely throughout.",
    "before_riding": "Before riding: torques done, brakes firm, both wheels turn freely.",
    "road_machine": "Road machine: check sidestand, lights and the local rules.",
    "judgement": "Maker's manual and qualified judgement come first, not these numbers.",
}
"""Shorter words for the long ones; each fits one line of eighty columns."""

CONDENSED: tuple[tuple[frozenset[str], str], ...] = (
    (
        frozenset({"fork_caps", "shock_spring"}),
        "Fork caps and springs hold stored force: unload first, proper compressor, face away.",
    ),
    (frozenset({"fork_air"}), "Release air pressure before opening a fork."),
    (frozenset({"shock_gas", "hot_shock"}), "Never open or heat a shock under gas; let a hot one cool."),
    (frozenset({"support", "one_leg"}), "Support the machine; never let its weight down onto one fork leg."),
    (frozenset({"rider_steadied"}), "With the rider aboard a second person steadies the machine."),
    (frozenset({"keep_clear"}), "Hands clear of spring and linkage."),
    (frozenset({"adjuster_end"}), "Do not force an adjuster at its end."),
    (frozenset({"bleed_extended"}), "Bleed forks only fully extended."),
    (frozenset({"fork_height"}), "Stanchions raised: check clearance at full compression."),
    (frozenset({"used_oil"}), "Gloves for used oil."),
    (frozenset({"oil_on_discs"}), "No oil on discs, pads or tyres."),
    (
        frozenset({"after_work_torque", "after_work_brakes", "after_work_chain"}),
        "After work: the manual's torques, collar locked, lines and steering free, chain slack, sidestand.",
    ),
    (
        frozenset({"before_riding"}),
        "Before riding: brakes pumped until firm, both wheels turn freely; first ride slow.",
    ),
    (frozenset({"road_machine"}), "Road machine: sidestand, lights, mirrors and local rules."),
)
"""Sentences of the hand-over sheet, each for one or more cautions."""


def condensed(codes: Iterable[str]) -> tuple[str, ...]:
    """The sentences for these cautions, each once, in the order they are shown.

    >>> condensed(["keep_clear", "adjuster_end", "judgement"])
    ('Hands clear of spring and linkage.', 'Do not force an adjuster at its end.')
    """
    apply = set(codes)
    return tuple(sentence for stands_for, sentence in CONDENSED if stands_for & apply)
