"""What the hand-over sheet draws: travels to scale, sags against their targets, adjusters between their ends."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.model import ENDS, SIDES, STATES, Job
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment
from stanchion.report.sheet_shape import Gauge, Mark, SagBar, Travel
from stanchion.report.sheet_tables import band, headroom, state_name
from stanchion.units.known_units import Units
from stanchion.units.quantity import show


def travels(job: Job, a: Assessment, units: Units) -> Iterator[Travel]:
    """The fork's travel and the rear wheel's, where they are known and there is a sag to show on them."""
    for end, name, full in (("front", "Fork", job.front.travel_mm), ("rear", "Rear wheel", job.rear.wheel_travel_mm)):
        sags = [(state, a.sag.end(end).state(state).shown_mm.value) for state in STATES]  # type: ignore[arg-type]
        marks = tuple(_mark(state, sag, units) for state, sag in sags if sag is not None)
        if full is not None and marks:
            yield Travel(name, _mark("full travel", full, units), marks)


def sag_bars(a: Assessment, units: Units) -> Iterator[SagBar]:
    """Each captured sag that has a target."""
    for end in ENDS:
        for state in STATES:
            of = a.sag.end(end).state(state)
            if of.shown_mm.value is not None and of.target is not None:
                name = state_name(end, state)
                yield SagBar(name, _mark(name, of.shown_mm.value, units), *of.target, band(of.target, units))


def gauges(job: Job, a: Assessment, units: Units) -> Iterator[Gauge]:
    """Each preload adjuster whose room both ways is known."""
    legs = [(f"Fork {side}", a.front.leg(side)) for side in SIDES] if job.front.split else [("Fork", a.front.left)]
    for name, figures in [*legs, ("Shock", a.rear.spring)]:
        out, to_in = figures.headroom_out_mm.value, figures.headroom_in_mm.value
        if out is not None and to_in is not None and out + to_in > 0 and figures.has_spring:
            yield Gauge(
                name,
                Mark("out", out, headroom(figures.headroom_out_mm, figures.headroom_out_turns, units)),
                Mark("in", to_in, headroom(figures.headroom_in_mm, figures.headroom_in_turns, units)),
            )


def _mark(name: str, mm: float, units: Units) -> Mark:
    return Mark(name, mm, show(mm, Kind.LENGTH, units))
