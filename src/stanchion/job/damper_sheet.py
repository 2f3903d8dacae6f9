"""Damper sheets: the force of a damper against its speed as a dynamometer measured it, as far as the job keeps it."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.spec import Kind, choice, many, number, rows, text

MOST_SHEETS = 4
MOST_POSITIONS = 8
MOST_CURVES = 2 * MOST_POSITIONS
"""Both strokes at each position of an adjuster."""
MOST_POINTS = 16


@record(kw_only=True)
class DamperCurve:
    """One stroke at one position of the adjuster that was turned."""

    stroke: str = choice("compression", "rebound")
    """Which way the shaft moved."""
    position: float | None = number(Kind.COUNT, 0, 200, 1)
    """Where the adjuster stood, counted as the job counts it: out from fully in; None: not stated."""
    speeds_mm_per_s: tuple[float, ...] = many(Kind.SPEED, 0, 10_000, 10, most=MOST_POINTS)
    """Shaft speeds, rising [mm/s]."""
    forces_n: tuple[float, ...] = many(Kind.FORCE, -50_000, 50_000, 10, most=MOST_POINTS)
    """Force with which the damper pushed outwards at each speed, gas included; below 0 where it pulled [N]."""
    spreads_n: tuple[float, ...] = many(Kind.FORCE, 0, 50_000, 10, most=MOST_POINTS)
    """Standard deviation of the readings that each force is the mean of [N]; empty: single readings."""


@record(kw_only=True)
class DamperSheet:
    """One damper on the dynamometer."""

    damper: str = choice("rear", "front", "left", "right")
    """Which: the shock, each leg of the fork, or one leg."""
    turned: str = choice("rebound", "compression", "high_speed_compression")
    """The adjuster whose positions the curves have; compression of a shock with two is that at low speed."""
    file: str = text(120)
    """Name of the file it was read from."""
    sha256: str = text(64)
    """SHA-256 of that file's bytes, by which it can be told from another of the same name."""
    unread: float | None = number(Kind.COUNT, 0, 1_000_000, 1)
    """How many lines of the file could not be read; None: it was not read from a file."""
    stroke_mm: float | None = number(Kind.LENGTH, 0, 500, 1)
    """Stroke that the dynamometer drove [mm]."""
    temperature_c: float | None = number(Kind.TEMPERATURE, -40, 200, 1)
    """Mean temperature of the damper meanwhile [°C]."""
    gas: str = choice("mean", "entered", "shock", "removed")
    """What is known of the gas in the forces: taken as the mean of both strokes at low speed, entered below, worked
    out from the shock's gas pressure, or taken out of the file already."""
    gas_n: float | None = number(Kind.FORCE, 0, 20_000, 10)
    """Force of the gas on the shaft, where it was read at standstill [N]."""
    curves: tuple[DamperCurve, ...] = rows(DamperCurve, MOST_CURVES)
    """The curves, in the order of the positions."""
