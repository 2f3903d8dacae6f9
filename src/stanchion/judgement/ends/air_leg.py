"""The air of a leg or a shock as mechanics computes it, and what is missing for that."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import AirLeg, Job, Path, Side
from stanchion.judgement.criteria.thresholds import MOST_COMPRESSION_OF_AIR, SLACK
from stanchion.judgement.ends.outside import outside_mpa, pressure_in
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.air_spring import AirSpring, Chamber, with_port
from stanchion.mechanics.gas import ML_MM3, circle_area, temperature_ratio
from stanchion.mechanics.limits import positive
from stanchion.mechanics.shock import BAR_MPA


@record
class AirLaw:
    """The air of one leg, as far as it is known."""

    spring: AirSpring | None
    """None where it cannot be computed."""
    known: Figure
    """The pressure of its main chamber [bar above ambient]; absent, with what is missing, where the spring is None."""


def air_of_leg(job: Job, side: Side) -> AirLaw:
    """The air that springs a leg of a fork."""
    front = job.front
    at: Path = ("front", side if front.split else "left", "air")
    travel = recorded(front.travel_mm, ("front", "travel_mm"))
    return air_of(front.leg(side).air, at, front.temperature_c, travel, outside_mpa(job))


def air_of(air: AirLeg, at: Path, now_c: float | None, travel: Figure, here_mpa: float) -> AirLaw:
    """The air that springs a leg.

    Args:
        air: the air as recorded.
        at: its path.
        now_c: temperature of the fork now; None: as when the pressures were set.
        travel: full travel without packers.
        here_mpa: pressure outside now [MPa].
    """
    there_mpa = pressure_in(air.set_in)
    then_mpa = here_mpa if there_mpa is None else there_mpa
    pressure = recorded(air.pressure_bar, (*at, "pressure_bar"))
    bore = recorded(air.bore_mm, (*at, "bore_mm"))
    volume = _volume(air.volume_ml, air.length_mm, (*at, "length_mm"), derive(circle_area, bore))
    needs = [pressure, bore, volume, travel]
    if air.balance == "unknown":
        needs.append(Figure(needs=((*at, "balance"),)))
    ring = derive(_ring_area, bore, recorded(air.rod_mm, (*at, "rod_mm")))
    balance_volume = _volume(air.balance_ml, air.balance_length_mm, (*at, "balance_length_mm"), ring)
    if air.balance in ("port", "pressure"):
        name = "port_mm" if air.balance == "port" else "balance_bar"
        needs += [ring, balance_volume, recorded(getattr(air, name), (*at, name))]
    floating = air.outer == "floating"
    outer_area = derive(circle_area, bore) if floating else _outer_area(air, at)
    outer_volume = _volume(air.outer_ml, air.outer_length_mm, (*at, "outer_length_mm"), outer_area)
    if air.outer != "none":
        needs += [recorded(air.outer_bar, (*at, "outer_bar")), outer_area, outer_volume]
    known = derive(lambda bar, *_: bar, *needs)
    bar, bore_mm, mm3, travel_mm = pressure.value, bore.value, volume.value, travel.value
    if not known.known or bar is None or bore_mm is None or mm3 is None or travel_mm is None:
        return AirLaw(None, known)

    def chamber(area_mm2: float, volume_mm3: float, gauge_bar: float | None) -> Chamber:
        return Chamber(area_mm2=area_mm2, volume_mm3=volume_mm3, pressure_mpa=(gauge_bar or 0.0) * BAR_MPA + then_mpa)

    try:
        main, outer = chamber(circle_area(bore_mm), mm3, bar), None
        if air.outer != "none" and outer_area.value is not None and outer_volume.value is not None:
            outer = chamber(outer_area.value, outer_volume.value, air.outer_bar)
        if not all(_has_room(*each, travel_mm) for each in _shrinking(main, outer, floating=floating)):
            return AirLaw(None, absent("air_chamber_short"))
        ratio = 1.0 if air.set_at_c is None or now_c is None else temperature_ratio(air.set_at_c, now_c)
        spring = AirSpring(main=main, outer=outer, floating=floating, temperature_ratio=ratio, ambient_mpa=here_mpa)
        if ring.value is not None and balance_volume.value is not None:
            if air.balance == "port":
                spring = with_port(spring, ring.value, balance_volume.value, air.port_mm or 0.0)
            elif air.balance == "pressure":
                spring = replace(spring, balance=chamber(ring.value, balance_volume.value, air.balance_bar))
    except OutOfRange:
        return AirLaw(None, absent("air_chamber_short"))
    return AirLaw(spring, known)


def compared_only(air: AirLeg, where: Path, values: Mapping[str, object]) -> Iterator[Finding]:
    """Note that nothing can be predicted of air whose pressure is recorded, but not the sizes of its chambers.

    Args:
        air: the air as recorded.
        where: the path of the leg or shock.
        values: what the finding carries besides.
    """
    sized = air.bore_mm is not None and (air.volume_ml is not None or air.length_mm is not None)
    if air.fitted and air.pressure_bar is not None and not sized:
        yield Finding("air_compared_only", Severity.NOTE, (*where, "air"), dict(values))


def over_pressure(air: AirLeg, where: Path, values: Mapping[str, object]) -> Iterator[Finding]:
    """Fault where a chamber has more pressure than the maker allows.

    Args:
        air: the air as recorded.
        where: the path of the leg or shock.
        values: what the finding carries besides.
    """
    for name in air.pumped if air.fitted else ():
        bar, most_bar = getattr(air, name), air.most_bar_of(name)
        if bar is not None and most_bar is not None and bar > most_bar + SLACK:
            found = {"pressure_bar": bar, "most_bar": most_bar, **values}
            yield Finding("air_over_most", Severity.FAULT, (*where, "air", name), found)


def _volume(ml: float | None, length_mm: float | None, at: Path, area: Figure) -> Figure:
    """Volume of a chamber [mm³]: as recorded, or its area times its length."""
    return Figure(ml * ML_MM3) if ml is not None else derive(lambda a, mm: a * mm, area, recorded(length_mm, at))


def _ring_area(bore_mm: float, rod_mm: float) -> float:
    """Area of the bore around the rod; absent where the rod fills it."""
    return positive("area around the rod", circle_area(bore_mm) - (circle_area(rod_mm) if rod_mm > 0.0 else 0.0))


def _outer_area(air: AirLeg, at: Path) -> Figure:
    """Area on which an outer chamber pushes that has one of its own."""
    bore = recorded(air.outer_bore_mm, (*at, "outer_bore_mm"))
    return derive(_ring_area, bore, recorded(air.outer_tube_mm, (*at, "outer_tube_mm")))


def _shrinking(main: Chamber, outer: Chamber | None, *, floating: bool) -> tuple[tuple[float, float], ...]:
    """Volume and area of what is squeezed at full travel: behind a floating piston both chambers as one."""
    if outer is None:
        return ((main.volume_mm3, main.area_mm2),)
    if floating:
        return ((main.volume_mm3 + outer.volume_mm3, main.area_mm2),)
    return ((main.volume_mm3, main.area_mm2), (outer.volume_mm3, outer.area_mm2))


def _has_room(volume_mm3: float, area_mm2: float, travel_mm: float) -> bool:
    return volume_mm3 - area_mm2 * travel_mm > volume_mm3 / MOST_COMPRESSION_OF_AIR
