"""The words of the cautions: in full, in brief for one line, and condensed for the hand-over sheet."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypedDict

from stanchion.judgement.results.codes import Caution
from stanchion.wording.american import worded


class CautionWords(TypedDict):
    """The words of each caution."""

    fork_caps: str
    fork_air: str
    air_pump: str
    air_shock: str
    one_leg: str
    shock_spring: str
    shock_gas: str
    hot_shock: str
    support: str
    lift_front: str
    chain_still: str
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
    "air_pump": "Air springs: use only a fork or shock pump, never an air line; never exceed the highest pressure the "
    "manual allows.",
    "air_shock": "Air shock: release all pressure before opening it; fill nitrogen only through a regulator.",
    "one_leg": "Never let the machine's weight down onto one fork leg.",
    "shock_spring": "A shock spring holds stored force: unload it first, use a proper spring compressor, face away.",
    "shock_gas": "Never open or heat a shock that is under gas pressure.",
    "hot_shock": "A hot shock burns: let it cool before touching it.",
    "support": "Support the machine so that it cannot fall before taking weight off a wheel.",
    "lift_front": "Lifting the front: two people, machine tied down, rear wheel chocked, nobody under it.",
    "chain_still": "At the chain: engine off, gearbox in neutral, fingers clear of the sprockets.",
    "rider_steadied": "With the rider aboard, a second person steadies the machine while the readings are taken.",
    "keep_clear": "Keep hands clear of the spring and the linkage.",
    "adjuster_end": "Do not force an adjuster at its end.",
    "bleed_extended": "Bleed forks only fully extended.",
    "fork_height": "After raising stanchions check tyre, mudguard and yoke clearance at full compression.",
    "used_oil": "Wear gloves for used oil, and dispose of it properly.",
    "oil_on_discs": "Keep oil and grease off discs, pads and tyres; clean off any before riding.",
    "after_work_torque": "After work: tighten to the manual's torque values and lock the collar.",
    "after_work_brakes": "Pump the brakes; check that lines and steering move freely through the travel.",
    "after_work_chain": "Check chain slack and sidestand, then ride slowly at first.",
    "before_riding": "Before riding: check every torque, pump the brakes until firm, see that both wheels turn freely.",
    "road_machine": "Road machine: after a change of height check sidestand, lights and mirrors, and the local rules.",
    "judgement": "The manual, local rules and a qualified technician's judgement come first: no number here "
    "approves a machine as safe.",
}

BRIEF: dict[Caution, str] = {
    "fork_caps": "Fork caps hold stored force: unload, use the compressor, face away.",
    "shock_spring": "Shock springs hold stored force: unload, use a compressor, face away.",
    "air_pump": "Air spring: use only a fork pump; never exceed the manual's pressure.",
    "air_shock": "Air shock: release it before opening; nitrogen by regulator only.",
    "support": "Before taking weight off a wheel, support the machine: it can fall.",
    "lift_front": "Lifting the front: two people, tied down, nobody under the machine.",
    "chain_still": "At the chain: engine off, in neutral, fingers clear of the sprockets.",
    "rider_steadied": "Rider aboard: a second person steadies the machine.",
    "fork_height": "Stanchions raised: check tyre, mudguard, yokes at full travel.",
    "oil_on_discs": "Keep oil off discs, pads and tyres; clean off any before riding.",
    "after_work_torque": "After work: tighten to the manual's torque values; lock the collar.",
    "after_work_brakes": "Pump the brakes; see that lines and steering move freely throughout.",
    "before_riding": "Before riding: check every torque, pump the brakes, spin both wheels.",
    "road_machine": "Road machine: check sidestand, lights and the local rules.",
    "judgement": "The manual and qualified judgement come first, not these numbers.",
}
"""Shorter words for the long ones; each fits one line of eighty columns."""

CONDENSED: tuple[tuple[frozenset[str], str], ...] = (
    (
        frozenset({"fork_caps", "shock_spring"}),
        "Fork caps and springs hold stored force: unload first, proper compressor, face away.",
    ),
    (frozenset({"fork_air"}), "Release air pressure before opening a fork."),
    (frozenset({"air_pump"}), "Air spring: use a fork pump only; never exceed the manual's pressure."),
    (frozenset({"air_shock"}), "Air shock: release all pressure before opening; nitrogen only with a regulator."),
    (frozenset({"shock_gas", "hot_shock"}), "Never open or heat a shock under gas; let a hot one cool."),
    (frozenset({"support", "one_leg"}), "Support the machine; never let its weight down onto one fork leg."),
    (frozenset({"lift_front"}), "Lift the front with two people, tied down; nobody under it."),
    (frozenset({"chain_still"}), "At the chain: engine off, fingers clear of the sprockets."),
    (frozenset({"rider_steadied"}), "With the rider aboard a second person steadies the machine."),
    (frozenset({"keep_clear"}), "Keep hands clear of spring and linkage."),
    (frozenset({"adjuster_end"}), "Do not force an adjuster at its end."),
    (frozenset({"bleed_extended"}), "Bleed forks only fully extended."),
    (frozenset({"fork_height"}), "Stanchions raised: check clearance at full compression."),
    (frozenset({"used_oil"}), "Wear gloves for used oil."),
    (frozenset({"oil_on_discs"}), "Keep oil off discs, pads and tyres."),
    (
        frozenset({"after_work_torque", "after_work_brakes", "after_work_chain"}),
        "After work: tighten to the manual's torques, lock the collar, check lines, steering, chain, sidestand.",
    ),
    (
        frozenset({"before_riding"}),
        "Before riding: pump the brakes until firm, see that both wheels turn freely, ride slowly at first.",
    ),
    (frozenset({"road_machine"}), "Road machine: check sidestand, lights, mirrors and local rules."),
)
"""Sentences of the hand-over sheet, each for one or more cautions."""


def condensed(codes: Iterable[str]) -> tuple[str, ...]:
    """The sentences for these cautions, each once, in the order they are shown.

    >>> condensed(["keep_clear", "adjuster_end", "judgement"])
    ('Keep hands clear of spring and linkage.', 'Do not force an adjuster at its end.')
    """
    apply = set(codes)
    return tuple(worded(sentence) for stands_for, sentence in CONDENSED if stands_for & apply)
