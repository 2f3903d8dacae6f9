"""How fast both ends swing at rider sag, and how much damping would just stop that.

Worked out when it is asked for; the assessment of a job does not hold it.
"""

from __future__ import annotations

from stanchion.job.model import ENDS, End, Job
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.loads import doubted_by, loads_at
from stanchion.judgement.predict.damping_ratios import damping_ratios
from stanchion.judgement.predict.loaded_machine import LoadedMachine, loaded_machine
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.damping import DampingFigures, EndDamping
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.equilibrium import Limit
from stanchion.mechanics.limits import G_N
from stanchion.mechanics.load import vertical_rate
from stanchion.mechanics.vibration import critical_damping, damping_change, natural_frequency


def damping_figures(job: Job, assessment: Assessment, machine: LoadedMachine | None = None) -> DampingFigures:
    """Frequency and critical damping of both ends, with the rider aboard.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        machine: the machine loaded, where that was worked out already.
    """
    machine = machine or loaded_machine(job, assessment)
    front, rear = (_end(job, assessment, machine, end) for end in ("front", "rear"))
    return DampingFigures(
        front=front, rear=rear, front_to_rear=derive(lambda f, r: f / r, front.frequency_hz, rear.frequency_hz)
    )


def damping_wanted(now: DampingFigures, then: DampingFigures) -> dict[End, Figure]:
    """Damping that each end wants now over its damping then, for the same damping ratio."""
    return {end: _wanted(now.end(end), then.end(end)) for end in ENDS}


def _wanted(now: EndDamping, then: EndDamping) -> Figure:
    return derive(damping_change, then.wheel_rate_n_per_mm, then.sprung_kg, now.wheel_rate_n_per_mm, now.sprung_kg)


def _end(job: Job, assessment: Assessment, machine: LoadedMachine, end: End) -> EndDamping:
    if assessment.predicted.end(end).doubted:
        rate = mass = absent(doubted_by(job, end))
    else:
        rate, mass = _wheel_rate(job, machine, end), _sprung_mass(job, machine, end)
    loads = loads_at(job, end)
    return EndDamping(
        wheel_rate_n_per_mm=rate,
        sprung_kg=mass,
        weighed=loads.believed.load("rider").known,
        unsprung_known=loads.unsprung_kg is not None,
        frequency_hz=derive(natural_frequency, rate, mass),
        critical_n_s_per_m=derive(critical_damping, rate, mass),
        ratios=tuple(damping_ratios(job, machine, end, rate, mass)),
        omitted=machine.end(end).omitted,
    )


def _wheel_rate(job: Job, machine: LoadedMachine, end: End) -> Figure:
    """Vertical rate at the wheel where the machine stands with its rider."""
    model, load = machine.end(end), machine.load(end, "rider")
    travel = machine.travel(end, "rider")
    if travel.value is None or load.value is None:
        return travel
    limit = model.equilibrium(load.value).limit
    if limit is not Limit.NONE:
        return absent("rider_topped_out" if limit is Limit.TOPPED_OUT else "rider_bottomed")
    if travel.value > model.measured_to_mm + SLACK:
        return absent("beyond_tester")
    if end == "rear":
        rate = derive(machine.rear.rate, travel)
        return rate if rate.value is None or rate.value > 0.0 else absent("force_falls")
    return derive(
        lambda mm, rake: vertical_rate(machine.front.rate(mm), rake),
        travel,
        recorded(job.geometry.rake_deg, ("geometry", "rake_deg")),
    )


def _sprung_mass(job: Job, machine: LoadedMachine, end: End) -> Figure:
    """Mass on the springs by scales or shares; where nothing was weighed, by the sags. Unsprung mass that was not
    weighed is in it: an estimate then."""
    loads = loads_at(job, end)
    load = loads.believed.load("rider")
    if not load.known and not loads.doubted and machine.load(end, "rider").known:
        load = derive(lambda load_n, _: load_n, machine.load(end, "rider"), Figure(0.0, estimate=True))
    weighed = Figure(0.0, estimate=loads.unsprung_kg is None)
    return derive(lambda load_n, _: load_n / G_N, load, weighed)
