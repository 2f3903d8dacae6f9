"""What the hand-over sheet says of air and gas in a leg or shock, besides the pressures to check."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from stanchion.job.model import SIDES, AirLeg, Front
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment
from stanchion.report.lines import NONE, figure, recorded_text
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.choice_words import choice_word

BY_AIR = "sprung by air"


def fork_air_rows(front: Front, units: Units) -> Iterator[tuple[str, Sequence[str]]]:
    """Chambers and pressures of each leg, which is named where the legs are entered separately."""
    for side in SIDES if front.split else SIDES[:1]:
        yield from air_rows(front.leg(side).air, units, f"{side}: " if front.split else "")


def air_rows(air: AirLeg, units: Units, leg: str = "") -> Iterator[tuple[str, Sequence[str]]]:
    """Chambers, the highest pressure allowed and the pressure wanted in use, as far as they are recorded.

    Args:
        air: the air spring.
        units: display units.
        leg: what comes before each value.
    """
    if not air.fitted:
        return
    wanted = recorded_text(air.wanted_bar, Kind.PRESSURE, units)
    at = "" if air.in_use_c is None else f" at {show(air.in_use_c, Kind.TEMPERATURE, units)}"
    for name, text in (
        ("Air chamber", _chamber(air.bore_mm, "bore", air.volume_ml, air.length_mm, units)),
        ("Balance chamber", _balance(air, units)),
        ("Outer chamber", _outer(air, units)),
        ("Highest allowed", _highest(air, units)),
        ("Wanted in use", wanted if wanted == NONE else wanted + at),
    ):
        yield name, [text if text == NONE else leg + text]


def gas_forces(a: Assessment, units: Units) -> str:
    """Force of the shock's gas extended and at full stroke, where it is worked out over the stroke."""
    out, full = a.rear.gas_force_n, a.rear.gas_full_n
    return NONE if full.value is None else " / ".join(figure(one, Kind.FORCE, units) for one in (out, full))


def _balance(air: AirLeg, units: Units) -> str:
    if air.balance not in ("port", "pressure"):
        return NONE
    port = "" if air.balance == "pressure" or air.port_mm is None else f" at {_length(air.port_mm, units)} of travel"
    sizes = _chamber(air.rod_mm, "rod", air.balance_ml, air.balance_length_mm, units)
    return choice_word(("air", "balance"), air.balance) + port + ("" if sizes == NONE else f", {sizes}")


def _outer(air: AirLeg, units: Units) -> str:
    if air.outer == "none":
        return NONE
    tube = f"tube {_length(air.outer_tube_mm, units)}" if air.outer_tube_mm else ""
    bore, tube = (air.outer_bore_mm, tube) if air.outer == "own_area" else (None, "")
    sizes = _chamber(bore, "bore", air.outer_ml, air.outer_length_mm, units)
    parts = (choice_word(("air", "outer"), air.outer), "" if sizes == NONE else sizes, tube)
    return ", ".join(part for part in parts if part)


def _highest(air: AirLeg, units: Units) -> str:
    most = recorded_text(air.most_bar, Kind.PRESSURE, units)
    if air.outer == "none" or air.outer_most_bar is None:
        return most
    outer = f"outer chamber {show(air.outer_most_bar, Kind.PRESSURE, units)}"
    return outer if most == NONE else f"{most}, {outer}"


def _chamber(diameter_mm: float | None, name: str, ml: float | None, length_mm: float | None, units: Units) -> str:
    """The size of a chamber; its length only where no volume is recorded, because only then it counts."""
    parts = []
    if diameter_mm is not None:
        parts.append(f"{name} {_length(diameter_mm, units)}")
    if ml is not None:
        parts.append(show(ml, Kind.VOLUME, units))
    elif length_mm is not None:
        parts.append(f"{_length(length_mm, units)} long")
    return ", ".join(parts) or NONE


def _length(mm: float, units: Units) -> str:
    return show(mm, Kind.LENGTH, units)
