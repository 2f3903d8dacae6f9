"""Damping as a share of the critical one, by damper sheets, and where a sheet says that rebound should stand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stanchion.job.model import SIDES, End, Front, Job, Rear
from stanchion.judgement.criteria.thresholds import CLICKS_AT_MM_PER_S, WHEEL_SPEEDS_MM_PER_S
from stanchion.judgement.predict.damper_sheets import damping_as_set, latest_sheet, position_for, sheet_figures
from stanchion.judgement.predict.loaded_machine import LoadedMachine
from stanchion.judgement.results.dampers import STROKES, Damper, SheetFigures, Stroke
from stanchion.judgement.results.damping import DampingRatio
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.load import cosine_of_rake
from stanchion.mechanics.vibration import damping_ratio


def damping_ratios(job: Job, machine: LoadedMachine, end: End, rate: Figure, mass: Figure) -> Iterator[DampingRatio]:
    """The damping ratio of an end in both strokes at the stated wheel speeds; nothing without a sheet of its damper.

    Args:
        job: the job.
        machine: the machine loaded.
        end: which end.
        rate: its vertical rate at the wheel at rider sag.
        mass: what its springs carry.
    """
    dampers: tuple[Damper, ...] = SIDES if end == "front" else ("rear",)
    sheets = [latest_sheet(job, damper) for damper in dampers]
    if not any(sheets):
        return
    shaft_per_wheel = _shaft_per_wheel(job, machine, end)
    for stroke in STROKES:
        for speed in WHEEL_SPEEDS_MM_PER_S:
            at_wheel = _at_wheel(job, sheets, stroke, speed, shaft_per_wheel)
            ratio = derive(damping_ratio, at_wheel, rate, mass)
            yield DampingRatio(stroke=stroke, wheel_mm_per_s=speed, ratio=ratio)


def _shaft_per_wheel(job: Job, machine: LoadedMachine, end: End) -> Figure:
    """How far the damper moves for each unit that the wheel moves vertically, where it stands with the rider."""
    if end == "front":
        rake = recorded(job.geometry.rake_deg, ("geometry", "rake_deg"))
        return derive(lambda degrees: 1.0 / cosine_of_rake(degrees), rake)
    rear, travel = machine.rear.rear, machine.travel("rear", "rider")
    return travel if rear is None else derive(rear.linkage.motion_ratio, travel)


def _at_wheel(
    job: Job, sheets: list[SheetFigures | None], stroke: Stroke, speed: float, shaft_per_wheel: Figure
) -> Figure:
    """Damping at the wheel, vertically: that of each damper at its own speed, times the square of what it moves."""
    if shaft_per_wheel.value is None:
        return shaft_per_wheel
    along = [damping_as_set(job, sheet, stroke, speed * shaft_per_wheel.value) for sheet in sheets]
    return derive(lambda moves, *each: sum(each) * moves**2, shaft_per_wheel, *along)


def rebound_for(job: Job, end: End, then: Front | Rear, factor: Figure) -> Figure:
    """Where rebound should stand by the sheet of its damper, for so many times the damping it had then.

    Args:
        job: the job with the sheets.
        end: which end.
        then: that end as it was set then.
        factor: damping wanted over damping then.
    """
    dampers = ("left", "front") if end == "front" else ("rear",)
    rebound = [
        at for at, sheet in enumerate(job.damper_sheets) if sheet.damper in dampers and sheet.turned == "rebound"
    ]
    if not rebound:
        return absent("no_damper_sheet")
    if factor.value is None:
        return factor
    as_then = _set_as(job, then)
    return position_for(as_then, sheet_figures(as_then, rebound[-1]), factor.value, CLICKS_AT_MM_PER_S)


def _set_as(job: Job, then: Front | Rear) -> Job:
    return replace(job, front=then) if isinstance(then, Front) else replace(job, rear=then)
