"""The records of what damper sheets say: forces at stated speeds, what a click does, one sheet beside another."""

from __future__ import annotations

from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import DamperSheet
from stanchion.judgement.results.figures import Figure

Damper = Literal["front", "left", "right", "rear"]
"""Each leg of the fork, one leg, or the shock."""
DAMPERS: tuple[Damper, ...] = ("front", "left", "right", "rear")
Stroke = Literal["compression", "rebound"]
STROKES: tuple[Stroke, Stroke] = ("compression", "rebound")


@record(kw_only=True)
class ForceFigures:
    """Force at one speed."""

    speed_mm_per_s: float
    force_n: Figure
    """Force against the motion, gas taken out where it is known."""
    damping_n_s_per_m: Figure
    """Coefficient of the linear damper with the same force there."""


@record(kw_only=True)
class CurveFigures:
    """One stroke at one position."""

    stroke: Stroke
    position: float | None
    speeds_mm_per_s: tuple[float, ...]
    forces_n: tuple[float, ...]
    """Force against the motion at each."""
    spreads_n: tuple[float, ...]
    at: tuple[ForceFigures, ...]
    """At the stated speeds that were measured."""
    low_n_s_per_m: Figure
    """Slope at low speed."""
    high_n_s_per_m: Figure
    """Slope at high speed."""


@record(kw_only=True)
class ClickFigures:
    """What the adjuster does to the force of one stroke at one speed."""

    stroke: Stroke
    speed_mm_per_s: float
    positions: tuple[float, ...]
    forces_n: tuple[float, ...]
    per_click_n: Figure
    """What a click or turn out takes off the force."""


@record(kw_only=True)
class GasBeside:
    """The gas force by the other of two ways: the shock's pressure, or the mean of both strokes."""

    force_n: Figure
    by_pressure: bool
    """Whether it is by the shock's gas pressure and shaft; else it is the mean of both strokes at low speed."""
    expanded_n: float
    """Expanded uncertainty, 95 %, of the difference to the force taken out, as far as it is known [N]."""
    apart_n: float
    """By how much it is more than the force taken out [N]."""

    @property
    def contradicts(self) -> bool:
        """Whether both differ by more than they are uncertain."""
        return abs(self.apart_n) > self.expanded_n


@record(kw_only=True)
class SheetFigures:
    """What one damper sheet says."""

    sheet: DamperSheet
    gas_n: Figure
    """Gas force taken out; absent: it is not known, and still in the forces."""
    gas_beside: GasBeside | None = None
    """The same another way, where both are known."""
    curves: tuple[CurveFigures, ...]
    clicks: tuple[ClickFigures, ...]

    @property
    def damper(self) -> Damper:
        """Which damper was measured."""
        return next(name for name in DAMPERS if name == self.sheet.damper)

    @property
    def turned(self) -> Stroke:
        """The stroke that the adjuster which was turned is for."""
        return "rebound" if self.sheet.turned == "rebound" else "compression"

    def of(self, stroke: Stroke) -> tuple[CurveFigures, ...]:
        """The curves of one stroke, in the order of their positions."""
        return tuple(curve for curve in self.curves if curve.stroke == stroke)


@record(kw_only=True)
class ForceDifference:
    """One sheet beside an earlier one, at one speed."""

    stroke: Stroke
    position: float | None
    speed_mm_per_s: float
    force_n: float
    """Of the later sheet."""
    difference_n: float
    """By how much the later one is above the earlier one."""
    band_n: Figure
    """Differences up to this are within what the readings scatter."""

    @property
    def beyond(self) -> bool:
        """Whether the two differ by more than their readings scatter."""
        return self.band_n.value is not None and abs(self.difference_n) > self.band_n.value
