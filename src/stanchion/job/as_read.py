"""The machine as it was when a sag was read, from the notes beside the readings (measured.py)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from stanchion.job.measured import other_second, said_by, sprung_by, sprung_otherwise
from stanchion.job.model import SIDES, Adjuster, AirLeg, End, Front, Job, LinkagePair, Readings, Spring, State


def as_read(job: Job, end: End, state: State) -> Job | None:
    """The job with what a state of sag was read with, the rider included; None where too little of that is known.

    What is not noted is assumed to be as now, except for lengths if another spring or stack is fitted.
    """
    readings = job.sag.end(end).static if state == "static" else job.sag.end(end).rider
    noted_with, now = said_by(readings), sprung_by(job, end)
    if other_second(job, end, readings) or sprung_otherwise(job, end, readings):
        return None
    replaced = any(old and new and old != new for old, new in zip(noted_with[1:3], now[1:3], strict=True))
    if replaced and not (noted_with[3] and noted_with[4]):
        return None
    listed = [*zip(noted_with[:7], now[:7], strict=True), (noted_with[9], now[9])]
    if any(old and new and len(old) != len(new) for old, new in listed):
        return None
    then = [iter(values) for values in noted_with[:6]]
    pairs, ratios = readings.linkage_mm, readings.motion_ratios
    if readings.riders_kg:
        job = replace(job, job=replace(job.job, rider_mass_kg=readings.riders_kg[0]))
    if end == "rear":
        rear = job.rear
        if rear.air.fitted:
            rear = replace(rear, air=_pumped_as_read(rear.air, iter(readings.pressures_bar)))
            collar, spring = rear.collar, rear.spring
        else:
            collar, spring = _set_as_read(rear.collar, rear.spring, then)
        if pairs:
            linkage = tuple(LinkagePair(wheel_mm=w, shock_mm=s) for w, s in zip(pairs[::2], pairs[1::2], strict=False))
            rear = replace(rear, linkage=linkage)
        if ratios:
            rear = replace(rear, linkage=(), motion_ratio=ratios[0])
        return replace(job, rear=replace(rear, collar=collar, spring=spring))
    unlike = any(len(set(values)) > 1 for values in noted_with[:7])
    return replace(job, front=_fork_as_read(job.front, readings, then, unlike=unlike))


def _fork_as_read(front: Front, readings: Readings, then: Sequence[Iterator[Any]], *, unlike: bool) -> Front:
    gaps, pressures = readings.air_gaps_mm, iter(readings.pressures_bar)
    half = len(readings.pressures_bar) // 2
    unlike = unlike or readings.pressures_bar[:half] != readings.pressures_bar[half:]
    if not front.split and unlike:
        front = replace(front, right=front.left)
    for side in SIDES if front.split else SIDES[:1]:
        leg = front.leg(side)
        if leg.coil_fitted:
            adjuster, spring = _set_as_read(leg.adjuster, leg.spring, then)
            leg = replace(leg, adjuster=adjuster, spring=spring)
        elif leg.air.fitted:
            leg = replace(leg, air=_pumped_as_read(leg.air, pressures))
        if gaps:
            leg = replace(leg, air_gap_mm=gaps[0 if side == "left" else -1])
        if leg != front.leg(side):
            front = replace(front, right=leg) if side == "right" else replace(front, left=leg)
    return front


def _set_as_read(adjuster: Adjuster, spring: Spring, then: Sequence[Iterator[Any]]) -> tuple[Adjuster, Spring]:
    """An adjuster and its spring as they were when a sag was read, from the next number of each note.

    What is not noted stays as it is.
    """
    positions, rates, _, free_lengths, set_lengths, set_lengths_in = then
    fully_in_mm = spring.set_length_in_mm
    if adjuster.counting != "none":
        adjuster = replace(adjuster, now=next(positions, adjuster.now))
        fully_in_mm = next(set_lengths_in, fully_in_mm)
    spring = replace(
        spring,
        rate_n_per_mm=next(rates, spring.rate_n_per_mm),
        free_length_mm=next(free_lengths, spring.free_length_mm),
        set_length_mm=next(set_lengths, spring.set_length_mm),
        set_length_in_mm=fully_in_mm,
    )
    return adjuster, spring


def _pumped_as_read(air: AirLeg, pressures: Iterator[Any]) -> AirLeg:
    """The air of a leg as it was when a sag was read, from the next numbers of the note; as now where there is none."""
    return replace(air, **{name: next(pressures, getattr(air, name)) for name in air.pumped})
