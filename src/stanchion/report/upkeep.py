"""Upkeep as text."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.model import Service, Torque, Upkeep
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import UpkeepFigures
from stanchion.judgement.results.figures import Figure
from stanchion.report.lines import NONE, named, recorded
from stanchion.units.known_units import Units
from stanchion.units.quantity import show

SERVICES = (("Fork oil", "fork_oil"), ("Fork seals", "fork_seals"), ("Shock", "shock"))


def upkeep_lines(upkeep: Upkeep, figures: UpkeepFigures, units: Units) -> Iterator[str]:
    """A line for each thing that was recorded."""
    for name, value in upkeep_rows(upkeep, figures, units):
        if value:
            yield named(name, value)
    for torque in upkeep.torques:
        yield f"  {'[x]' if torque.done else '[ ]'} {torque_words(torque, units)}"


def upkeep_rows(upkeep: Upkeep, figures: UpkeepFigures, units: Units) -> Iterator[tuple[str, str]]:
    """What was recorded by its name, torques apart; an empty text for what was not."""
    yield "Hour meter", _hours(upkeep.machine_hours)
    for name, attribute in SERVICES:
        yield name, _service(getattr(upkeep, attribute), getattr(figures, f"{attribute}_hours"))
    teeth = [upkeep.front_teeth, upkeep.rear_teeth]
    if any(count is not None for count in teeth):
        ratio = figures.gear_ratio.value
        shown = " / ".join(NONE if count is None else f"{count:g}" for count in teeth)
        yield "Sprockets", shown + (f" ({ratio:.2f})" if ratio is not None else "")
    yield "Axle mark", recorded(upkeep.axle_mark_mm, Kind.LENGTH, units, "")
    yield "Wheelbase as set", recorded(upkeep.wheelbase_mm, Kind.LENGTH, units, "")
    for name, tyre, wanted in (
        ("Front tyre", upkeep.front_tyre, upkeep.front_wanted_bar),
        ("Rear tyre", upkeep.rear_tyre, upkeep.rear_wanted_bar),
    ):
        hot = f"{show(wanted, Kind.PRESSURE, units)} hot wanted" if wanted is not None else ""
        yield name, ", ".join(part for part in (clean(tyre), hot) if part)


def _hours(hours: float | None) -> str:
    return "" if hours is None else f"{show(hours, Kind.COUNT)} h"


def _service(service: Service, since: Figure) -> str:
    parts = [service.on.isoformat() if service.on else "", _hours(service.at_hours)]
    if since.value is not None:
        parts.append(f"{show(since.value, Kind.COUNT)} h ago")
    return ", ".join(part for part in parts if part)


def torque_words(torque: Torque, units: Units) -> str:
    """A fastener, its torque, and who saw to it."""
    value = recorded(torque.torque_nm, Kind.TORQUE, units, "")
    return ", ".join(part for part in (clean(torque.what) or "unnamed", value, clean(torque.initials)) if part)
