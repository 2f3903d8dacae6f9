"""What each end carries, corrected by the sag that was measured: the one way in which readings correct the model.

A sag says what the springs push back with, and that is what they carry. Scales, masses and shares give the load
where no sag was measured; where the other state was, its correction is taken over as far as it concerns this one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Literal

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import STATES, State
from stanchion.judgement.criteria.thresholds import BOTTOMED_MM, TOPPED_OUT_MM
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.loads import EndLoads
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.sag.working_rate import Captured


@record(kw_only=True)
class Carried:
    """What one end carries."""

    loads: Mapping[State, Figure]
    """Vertical load on the springs [N]."""
    by_sag: frozenset[State]
    """The states whose load is the one that their measured sag gives, read with what is fitted now."""
    by_old_sag: frozenset[State] = frozenset()
    """The same for sag read with other springs or preload, from the springs and preload it was read with."""
    static_at_most_n: float | None = None
    """What the springs carry at most with the machine alone, where nothing more is known than that it is topped out."""
    held: frozenset[State] = frozenset()
    """The states measured as topped out whose load is the most that this reading allows, not what scales give."""

    def known(self) -> dict[State, float]:
        """The loads that are known [N]."""
        return {state: load.value for state, load in self.loads.items() if load.value is not None}


Blocked = Literal["find_friction", "measure_again_swapped", "measure_again_impossible", "measure_again_changed"]


def blocked_by(captured: Captured) -> Blocked | None:
    """Why nothing is said of springs."""
    states = (captured.static, captured.rider)
    if any(state.swapped for state in states):
        return "measure_again_swapped"
    if captured.impossible or any(state.impossible for state in states):
        return "measure_again_impossible"
    if any(state.sticks for state in states):
        return "find_friction"
    return "measure_again_changed" if any(state.changed for state in states) else None


def sags_believed(captured: Captured) -> dict[State, float]:
    """The measured sags that correct the model: those that are not doubted, nor read on the stop. Old ones among
    them."""
    if blocked_by(captured) not in (None, "measure_again_changed"):
        return {}
    known: dict[State, float] = {}
    for state in STATES:
        figures = captured.state(state).figures
        if figures.sag_mm.value is not None and not figures.topped_out:
            known[state] = figures.sag_mm.value
    return known


def sags_now(captured: Captured) -> dict[State, float]:
    """The sags that are believed and were read with what is fitted now."""
    return {state: mm for state, mm in sags_believed(captured).items() if not captured.state(state).changed}


def topped_out_at(captured: Captured, state: State) -> float | None:
    """The sag that a state measured as topped out has at most [mm]; None where it is not."""
    figures = captured.state(state).figures
    return max(TOPPED_OUT_MM, figures.sag_mm.value or 0.0) if figures.topped_out else None


@record(kw_only=True)
class AsRead:
    """One end as it was when a sag was read."""

    model: EndModel
    """Its springs, air and linkage."""
    loads: EndLoads
    """What scales or masses gave then."""
    other_rider: bool = False
    """Another rider was aboard than now."""


def carried_at(model: EndModel, loads: EndLoads, captured: Captured, as_read: Mapping[State, AsRead]) -> Carried:
    """What an end carries, corrected by its measured sags.

    Args:
        model: its springs.
        loads: what scales and masses give.
        captured: its readings.
        as_read: the end as it was when a sag was read that is old now; an old sag without it is left out.
    """
    now = AsRead(model=model, loads=loads)
    when_read = {
        state: as_read[state] if captured.state(state).changed else now
        for state in STATES
        if state in as_read or not captured.state(state).changed
    }
    measured = {state: mm for state, mm in sags_believed(captured).items() if state in when_read}
    topped: dict[State, float] = {}
    if blocked_by(captured) in (None, "measure_again_changed"):
        found = {state: topped_out_at(captured, state) for state in when_read}
        topped = {state: at_most for state, at_most in found.items() if at_most is not None}
    known = carried(model, loads, measured, topped, when_read)
    old = frozenset(state for state in known.by_sag if captured.state(state).changed)
    return replace(known, by_sag=known.by_sag - old, by_old_sag=old)


def carried(
    model: EndModel,
    loads: EndLoads,
    measured_mm: Mapping[State, float],
    topped_out_mm: Mapping[State, float],
    when_read: Mapping[State, AsRead] | None = None,
) -> Carried:
    """What an end carries.

    Args:
        model: the springs of that end.
        loads: what scales or masses give.
        measured_mm: the sags to go by; a sag that is doubted, or stands topped out, is left out.
        topped_out_mm: states measured as topped out, and the sag they have at most.
        when_read: the end as it was when a state was read, where it was not as it is now.
    """
    now = AsRead(model=model, loads=loads)

    def then(state: State) -> AsRead:
        return (when_read or {}).get(state, now)

    loads_by_sag = {
        state: load_n
        for state, sag_mm in measured_mm.items()
        if (load_n := load_of_sag(then(state).model, sag_mm)) is not None
    }
    known: dict[State, Figure] = {}
    held: set[State] = set()
    for state in STATES:
        weighed = loads.load(state)
        if state in loads_by_sag:
            known[state] = _with_rider_now(loads_by_sag[state], weighed, then(state), state)
            continue
        more_n = sum(_taken_over(then(other).loads, other, by_sag_n) for other, by_sag_n in loads_by_sag.items())
        if weighed.value is not None and weighed.value + more_n > 0.0:
            load_n = weighed.value + more_n
            if state in topped_out_mm:
                at_most = load_of_sag(then(state).model, topped_out_mm[state])
                if at_most is not None:
                    most_n = _with_rider_now(at_most, weighed, then(state), state).value or load_n
                    held |= {state} if most_n < load_n else set()
                    load_n = min(load_n, most_n)
            weighed = Figure(load_n, estimate=weighed.estimate)
        known[state] = weighed
    at_most_n = None
    if "static" in topped_out_mm and known["static"].value is None:
        at_most_n = load_of_sag(then("static").model, topped_out_mm["static"])
    return Carried(loads=known, by_sag=frozenset(loads_by_sag), static_at_most_n=at_most_n, held=frozenset(held))


def _with_rider_now(by_sag_n: float, weighed: Figure, then: AsRead, state: State) -> Figure:
    """The load that a sag gives; with another rider aboard since, more or less by what scales or masses give more."""
    if not then.other_rider:
        return Figure(by_sag_n, estimate=not weighed.known)
    before = then.loads.load(state)
    if weighed.value is None or before.value is None:
        return weighed
    return Figure(max(0.0, by_sag_n + weighed.value - before.value), estimate=weighed.estimate)


def _taken_over(loads: EndLoads, measured: State, by_sag_n: float) -> float:
    """What the sag measured in one state adds to the load of the other [N].

    With the rider aboard an end carries S + A: the machine alone, and what the rider adds. What is found to be missing
    from a part is missing from the whole, so what static sag corrects is added to S + A as it is. What is found to be
    missing from the whole may lie in either part, and is given to both by their size, so that S gets S / (S + A) of
    it. For a spring, motion ratio or rake whose figure is off this is exact, since every load found from a sag is then
    off by one factor. For shares and scales it is the least-squares estimate where each part's variance goes with its
    size. A set length that was read wrong shifts both loads alike, and would want all of it; but with lengths read to
    0.7 mm the share still gives static sag more closely, as tests/true_machines/test_corrected_loads.py shows.
    """
    static_n, rider_n = loads.static_n.value, loads.rider_n.value
    if static_n is None or rider_n is None:
        return 0.0
    if measured == "static":
        return by_sag_n - static_n
    part = min(1.0, static_n / rider_n) if rider_n > 0.0 else 1.0
    return (by_sag_n - rider_n) * part


def load_of_sag(model: EndModel, sag_mm: float) -> float | None:
    """Vertical load [N] under which the springs give a sag; None where no load does."""
    if sag_mm <= 0.0 or not model.computable.known:
        return None
    travel_mm = model.unloaded.travel_mm + sag_mm
    if travel_mm > model.full_travel_mm - (BOTTOMED_MM if model.end_unknown is None else 0.0):
        return None  # the stop may carry part of it
    try:
        load_n = model.force(travel_mm) / model.along(1.0)
    except OutOfRange:
        return None
    return load_n if load_n > 0.0 else None
