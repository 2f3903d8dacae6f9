"""The fields of what was done to the machine."""

from __future__ import annotations

from dataclasses import replace

from stanchion.job.edit import spec_at
from stanchion.job.model import Job, Path
from stanchion.job.spec import Rows
from stanchion.ui.forms import Heading, Line, Row, row_of
from stanchion.units.known_units import Units

SERVICES = (("fork_oil", "Fork oil"), ("fork_seals", "Fork seals"), ("shock", "Shock"))
TORQUES: Path = ("upkeep", "torques")


def upkeep_form(job: Job, units: Units) -> tuple[Line, ...]:
    """Hours and services, chain, tyres, and what is to be tightened, with room for one torque more."""

    def across(label: str, *cells: Path, unit: str | None = None) -> Row:
        return replace(row_of(units, *cells, label=label, unit=unit), across=True)

    def one(name: str, unit: str | None = None) -> Row:
        return row_of(units, ("upkeep", name), unit=unit)

    lines: list[Line] = [one("machine_hours", "h"), Heading("Renewed", ("on", "at hours"))]
    for name, label in SERVICES:
        lines.append(across(label, ("upkeep", name, "on"), ("upkeep", name, "at_hours"), unit="h"))
    lines += [
        Heading("Chain", ("front", "rear")),
        across("Teeth", ("upkeep", "front_teeth"), ("upkeep", "rear_teeth")),
        one("axle_mark_mm"),
        row_of(units, ("upkeep", "wheelbase_mm"), label="Wheelbase set"),
        Heading("Tyres", ("front", "rear")),
        one("front_tyre"),
        one("rear_tyre"),
        across("Hot wanted", ("upkeep", "front_wanted_bar"), ("upkeep", "rear_wanted_bar")),
    ]
    spec = spec_at(TORQUES)
    most = spec.most if isinstance(spec, Rows) else 0
    lines.append(Heading("Torques", ("done", "torque", "initials")))
    for at in range(min(most, len(job.upkeep.torques) + 1)):
        own = (*TORQUES, at)
        lines.append(row_of(units, (*own, "what"), label=f"Torque {at + 1}"))
        if at < len(job.upkeep.torques):
            cells = ((*own, name) for name in ("done", "torque_nm", "initials"))
            lines.append(across(" done, N·m, by", *cells, unit=""))
    return tuple(lines)
