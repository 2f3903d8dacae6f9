"""An invented damper whose law is known: what is read from its damper sheets can be held against it."""

from __future__ import annotations

from dataclasses import replace

from stanchion.job.model import Clicker, DamperCurve, DamperSheet, Job, Rear

SPEEDS = (10.0, 25.0, 50.0, 100.0, 150.0, 250.0, 500.0)
GAS_N = 180.0
KNEE = 150.0


def resisting(stroke: str, position: float, speed: float) -> float:
    """Force against the motion [N]: two straight slopes that meet at 150 mm/s; each click out takes off a fixed share
    of that fully in, from rebound 3 %, from compression nothing."""
    low, high = (3.0, 1.2) if stroke == "rebound" else (1.5, 0.6)
    share = 1.0 - 0.03 * position if stroke == "rebound" else 1.0
    return share * (low * min(speed, KNEE) + high * max(0.0, speed - KNEE))


def outwards(stroke: str, position: float, speed: float, gas: float = GAS_N) -> float:
    """Force with which the damper pushes outwards, gas included [N]."""
    force = resisting(stroke, position, speed)
    return gas + (force if stroke == "compression" else -force)


def invented_curve(stroke: str, position: float, speeds: tuple[float, ...] = SPEEDS, gas: float = GAS_N) -> DamperCurve:
    """One curve as a job keeps it."""
    forces = tuple(outwards(stroke, position, v, gas) for v in speeds)
    return DamperCurve(stroke=stroke, position=position, speeds_mm_per_s=speeds, forces_n=forces)


def invented_sheet(positions: tuple[float, ...] = (4.0, 8.0, 12.0), gas: float = GAS_N) -> DamperSheet:
    """A sheet of the shock, gas entered, rebound turned."""
    curves = tuple(invented_curve(stroke, at, gas=gas) for at in positions for stroke in ("compression", "rebound"))
    return DamperSheet(damper="rear", turned="rebound", file="invented.csv", gas="entered", gas_n=gas, curves=curves)


def job_with(*sheets: DamperSheet, rebound: float | None = 8.0) -> Job:
    """A job with these sheets."""
    return replace(Job(), rear=Rear(rebound=Clicker(now=rebound, total=24.0)), damper_sheets=sheets)
