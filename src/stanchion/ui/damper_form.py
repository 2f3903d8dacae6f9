"""The forms of damper sheets: what holds of each, and the columns of a dynamometer's file. Pure."""

from __future__ import annotations

from stanchion.base.text import clean
from stanchion.bench.columns_session import PATH, Choosing
from stanchion.job.model import Job
from stanchion.ui.form_lines import FormLine, Heading, Row, row_of
from stanchion.units.known_units import Units

FACTS = ("damper", "turned", "gas", "gas_n", "stroke_mm", "temperature_c")


def damper_form(job: Job, units: Units) -> tuple[FormLine, ...]:
    """The facts of every damper sheet."""
    lines: list[FormLine] = []
    for at, sheet in enumerate(job.damper_sheets):
        lines.append(Heading(f"{at + 1}  {clean(sheet.file, 36)}"))
        lines += [row_of(units, ("damper_sheets", at, name)) for name in FACTS]
    return tuple(lines)


def columns_form(of: Choosing, units: Units) -> tuple[FormLine, ...]:
    """The path of a file; once it is read, what its columns hold."""
    del units
    lines: list[FormLine] = [Row("File", (PATH,))]
    if of.file is None:
        return tuple(lines)
    lines += [
        Row("Damper, adjuster", (("damper",), ("turned",))),
        Row("Speed, unit", (("speed",), ("speed_unit",))),
        Row("Force, unit", (("force",), ("force_unit",))),
        Row("Rebound by, signs", (("stroke_by",), ("signs",))),
    ]
    if of.columns.stroke_by == "two_columns":
        lines.append(Row("Force in rebound", (("rebound_force",),)))
    lines += [
        Row("Position, or fixed", (("position",), ("position_all",))),
        Row("Stroke, mm", (("stroke",),)),
        Row("Temperature, unit", (("temperature",), ("temperature_unit",))),
    ]
    return tuple(lines)
