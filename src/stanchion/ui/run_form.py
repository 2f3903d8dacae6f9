"""The fields of one run, in the order they are asked for while the rider talks, and those of upkeep."""

from __future__ import annotations

from stanchion.job.edit import spec_at
from stanchion.job.model import Job, Path
from stanchion.job.spec import Rows
from stanchion.ui.form_lines import FormLine, Heading, Row, row_of
from stanchion.units.known_units import Units

ENDS = ("front", "rear")


def run_form(job: Job, units: Units, at: int) -> tuple[FormLine, ...]:
    """One run: markers, lap, pressures, temperatures, the rider's words; then what is seldom touched.

    Enter goes along these lines from the first to the last, across the two ends.

    Args:
        job: the job.
        units: display units.
        at: which run; -1: there is none yet.
    """
    if at < 0:
        return (Heading("No run yet"),)

    def one(name: str, label: str = "") -> Row:
        return row_of(units, ("runs", at, name), label=label)

    def both(label: str, name: str) -> Row:
        cells = (("runs", at, f"{end}_{name}") for end in ENDS)
        return row_of(units, *cells, label=label, across=True)

    air = row_of(units, ("runs", at, "air_c"), ("runs", at, "ground_c"), label="Air, ground", across=True)
    wanted = (("upkeep", f"{end}_wanted_bar") for end in ENDS)
    return (
        Heading(f"Run {at + 1} of {len(job.runs)}", ENDS),
        both("Marker", "marker_mm"),
        one("best_lap_s"),
        both("Tyres, hot", "hot_bar"),
        both("Tyres, cold", "cold_bar"),
        both("Hot temp.", "hot_c"),
        both("Cold temp.", "cold_c"),
        air,
        one("said"),
        one("laps", "Laps"),
        *([one("verdict", "Verdict")] if at > 0 or job.runs[at].change is not None else []),
        one("session"),
        one("time"),
        one("date"),
        one("marker_from", "Marker from"),
        row_of(units, *wanted, label="Hot wanted", across=True),
    )


SERVICES = (("fork_oil", "Fork oil"), ("fork_seals", "Fork seals"), ("shock", "Shock"))
TORQUES: Path = ("upkeep", "torques")


def upkeep_form(job: Job, units: Units) -> tuple[FormLine, ...]:
    """Hours and services, chain, tyres, and what is to be tightened, with room for one torque more."""

    def across(label: str, *cells: Path, unit: str | None = None) -> Row:
        return row_of(units, *cells, label=label, unit=unit, across=True)

    def one(name: str, unit: str | None = None) -> Row:
        return row_of(units, ("upkeep", name), unit=unit)

    lines: list[FormLine] = [one("machine_hours", "h"), Heading("Renewed", ("on", "at hours"))]
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
