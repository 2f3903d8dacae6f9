"""The stock of springs as lines of a form."""

from __future__ import annotations

from stanchion.job.spec import Kind
from stanchion.judgement.springs.stock import Stock
from stanchion.ui.form_lines import FormLine, Heading, Row
from stanchion.units.known_units import Units
from stanchion.units.quantity import unit_name


def stock(of: Stock, units: Units) -> tuple[FormLine, ...]:
    """Every spring of the stock, and room for one more."""
    lines: list[FormLine] = []
    length = unit_name(Kind.LENGTH, units)
    heads = ("for", unit_name(Kind.RATE, units), f"free {length}", "count", f"wire {length}", f"coil {length}", "coils")
    for row in range(len(of.rows) + 1):
        name = f"Spring {row + 1}" if row < len(of.rows) else "One more"
        lines.append(Heading(name, heads))
        names = ("end", "rate_n_per_mm", "free_length_mm", "count", "wire_mm", "outer_mm", "total_coils")
        lines.append(Row("", tuple((row, field) for field in names)))
        lines.append(Row(f"ends, solid {length}"[:12], ((row, "ends"), None, (row, "solid_length_mm"))))
        lines.append(Row("label", ((row, "label"),)))
    return tuple(lines)
