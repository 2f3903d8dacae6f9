"""The form of the balance screen: braking to look at, weights, height of the centre of mass, the front lifted. Pure."""

from __future__ import annotations

from stanchion.job.model import ENDS, Job, Path
from stanchion.job.spec import Kind
from stanchion.ui.form_lines import FormLine, Heading, most_of, row_of
from stanchion.units.known_units import Units
from stanchion.units.quantity import unit_name

LIFTS: Path = ("balance", "lifts")


def balance_form(job: Job, units: Units) -> tuple[FormLine, ...]:
    """The lines of the form; of readings with the front lifted one line more than there are.

    Args:
        job: the job.
        units: display units.
    """
    mass, length = unit_name(Kind.MASS, units), unit_name(Kind.LENGTH, units)
    lines: list[FormLine] = [Heading("On the brakes"), row_of(units, ("balance", "braking_g"), unit="g")]
    lines.append(Heading(f"On the scales, {mass}", ENDS))
    for state, word in (("alone", "Alone"), ("aboard", "With rider")):
        cells = (("weights", f"{end}_{state}_kg") for end in ENDS)
        lines.append(row_of(units, *cells, unit="", label=word, across=True))
    lines.append(Heading("Height, judged", ("alone", "rider")))
    heights = (("balance", f"height_{state}_mm") for state in ("alone", "aboard"))
    lines.append(row_of(units, *heights, label="Centre of mass"))
    lines.append(Heading(f"Front lifted, {mass}", (f"up {length}", "alone", "rider")))
    lines.append(row_of(units, ("balance", "blocked")))
    for at in range(min(most_of(LIFTS), len(job.balance.lifts) + 1)):
        lifted: list[Path] = [(*LIFTS, at, name) for name in ("raised_mm", "alone_kg", "aboard_kg")]
        lines.append(row_of(units, *lifted, unit="", label="Reading", number=at + 1, across=True))
    return tuple(lines)
