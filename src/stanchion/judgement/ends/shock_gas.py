"""The gas of the shock: over its stroke where its volume is known, else as one force."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.model import Rear
from stanchion.judgement.criteria.thresholds import MOST_COMPRESSION_OF_AIR
from stanchion.judgement.ends.outside import pressure_in
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.air_spring import AirSpring, Chamber
from stanchion.mechanics.gas import ML_MM3, circle_area, temperature_ratio
from stanchion.mechanics.shock import BAR_MPA


@record
class ShockGas:
    """The gas as far as it is known."""

    extended_n: Figure
    """Its force on the shaft with the shock extended, at the temperature now."""
    spring: AirSpring | None
    """Its force over the stroke; None where the volume is not known: one force is taken."""
    full_n: Figure
    """Its force at full stroke; absent where the volume is not known."""

    @property
    def constant_n(self) -> float:
        """The one force that is taken where the volume is not known."""
        return (self.extended_n.value or 0.0) if self.spring is None else 0.0

    def at(self, stroke_mm: Figure) -> Figure:
        """Its force at a shock travel; 0 where nothing is known of it."""
        if self.spring is None:
            return Figure(self.extended_n.value or 0.0)
        return derive(lambda mm: max(0.0, self._state(mm)[0]), stroke_mm)

    def rate_at(self, stroke_mm: Figure) -> Figure:
        """Its rate at a shock travel."""
        return Figure(0.0) if self.spring is None else derive(lambda mm: self._state(mm)[1], stroke_mm)

    def _state(self, stroke_mm: float) -> tuple[float, float]:
        return (0.0, 0.0) if self.spring is None else self.spring.state(stroke_mm)


def gas_of(rear: Rear, here_mpa: float) -> ShockGas:
    """The gas of a shock as recorded.

    Args:
        rear: the shock.
        here_mpa: pressure outside now [MPa].
    """
    there_mpa = pressure_in(rear.gas_set_in)
    then_mpa = here_mpa if there_mpa is None else there_mpa
    pressure = recorded(rear.gas_pressure_bar, ("rear", "gas_pressure_bar"))
    area = derive(circle_area, recorded(rear.shaft_mm, ("rear", "shaft_mm")))
    ratio = 1.0
    if rear.gas_set_at_c is not None and rear.temperature_c is not None:
        ratio = temperature_ratio(rear.gas_set_at_c, rear.temperature_c)

    def force(bar: float, mm2: float) -> float:
        inside = bar * BAR_MPA
        if (ratio, then_mpa) != (1.0, here_mpa):
            inside = (inside + then_mpa) * ratio - here_mpa
        return max(0.0, inside * mm2)

    extended = derive(force, pressure, area)
    volume = recorded(rear.gas_volume_ml, ("rear", "gas_volume_ml"))
    if pressure.value is None or area.value is None or volume.value is None:
        return ShockGas(extended, None, derive(lambda *known: known[0], extended, volume))
    stroke, volume_mm3 = recorded(rear.stroke_mm, ("rear", "stroke_mm")), volume.value * ML_MM3
    if volume_mm3 - area.value * (stroke.value or 0.0) <= volume_mm3 / MOST_COMPRESSION_OF_AIR:
        return ShockGas(extended, None, absent("gas_no_room"))
    if stroke.value is None:  # the linkage alone settles how far the shaft goes in
        return ShockGas(extended, None, stroke)
    spring = AirSpring(
        main=Chamber(area_mm2=area.value, volume_mm3=volume_mm3, pressure_mpa=pressure.value * BAR_MPA + then_mpa),
        temperature_ratio=ratio,
        ambient_mpa=here_mpa,
    )
    left = max(0.0, stroke.value - (rear.packers_mm or 0.0))
    return ShockGas(extended, spring, Figure(max(0.0, spring.state(left)[0])))
