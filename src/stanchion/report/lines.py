"""Lines, columns and cells of printed text that several reports share."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from stanchion.base.text import clean
from stanchion.job.outside import Outside
from stanchion.job.spec import Kind
from stanchion.judgement.results.figures import Figure
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, show_settable
from stanchion.wording.finding_words import reason

NONE = "–"
"""Stands for what is not recorded or cannot be had."""
WIDTH = 100
"""Columns of printed text where no terminal says how many there are."""
NAME = 20
"""Columns for the name of a figure."""
GAP = "  "
"""Between two columns of a table."""


def named_line(name: str, text: str) -> str:
    """A line of a section: a name, and what there is under it.

    >>> named_line("Sprockets", "15 / 44")
    '  Sprockets            15 / 44'
    """
    return f"  {name:<{NAME}} {text}"


def figure_line(
    name: str, figure: Figure, kind: Kind, units: Units, after: str = "", *, settable: bool = False
) -> Iterator[str]:
    """One figure with its name and unit; where there is none, why.

    Args:
        name: what the figure is called.
        figure: the figure.
        kind: what it measures.
        units: units to show.
        after: what follows a figure that is known.
        settable: whether it is shown in the steps in which it can be set.

    >>> from stanchion.units.known_units import METRIC
    >>> list(figure_line("Trail", Figure(100.06, estimate=True), Kind.LENGTH, METRIC))
    ['  Trail                100.1 mm (estimate)']
    """
    if figure.value is None:
        yield named_line(name, f"{NONE}  {clean(reason(figure))}")
    else:
        estimate = " (estimate)" if figure.estimate else ""
        written = show_settable if settable else show
        yield named_line(name, f"{written(figure.value, kind, units)}{estimate}{after}")


def plus_minus(expanded: Figure, kind: Kind, units: Units) -> str:
    """An expanded uncertainty as it follows its figure; nothing where there is none.

    >>> from stanchion.units.known_units import METRIC
    >>> plus_minus(Figure(1.25), Kind.LENGTH, METRIC), plus_minus(Figure(), Kind.LENGTH, METRIC)
    (' ± 1.3 mm', '')
    """
    return "" if expanded.value is None else f" ± {show(expanded.value, kind, units)}"


def recorded_text(value: float | None, kind: Kind, units: Units, none: str = NONE) -> str:
    """A recorded number with its unit; `none` where there is none."""
    return none if value is None else show(value, kind, units)


def figure(of: Figure, kind: Kind, units: Units) -> str:
    """A derived number with its unit; one that rests on an estimate says so."""
    if of.value is None:
        return NONE
    return ("about " if of.estimate else "") + show(of.value, kind, units)


def outside_words(outside: Outside, units: Units) -> str:
    """Altitude and barometer as they are recorded; empty where neither is.

    >>> from stanchion.units.known_units import METRIC
    >>> outside_words(Outside(altitude_m=1500.0, barometer_hpa=848.0), METRIC)
    '1500 m, barometer 848 hPa'
    """
    altitude = recorded_text(outside.altitude_m, Kind.ALTITUDE, units, "")
    barometer = recorded_text(outside.barometer_hpa, Kind.BAROMETER, units, "")
    return ", ".join(part for part in (altitude, f"barometer {barometer}" if barometer else "") if part)


def by_leg(values: Sequence[str], between: str = "/") -> str:
    """One value where the legs are alike, all where they are not.

    >>> by_leg(["8.5", "8.5"]), by_leg(["8.5", "9.0"])
    ('8.5', '8.5/9.0')
    """
    return values[0] if len(set(values)) == 1 else between.join(values)


def list_lines(jobs: Sequence[Sequence[str]], width: int) -> Iterator[str]:
    """The jobs, numbered, in columns where those fit; otherwise in lines below one another, so that nothing is cut.

    Args:
        jobs: of each the day, machine, rider, venue, verdict and file name.
        width: columns there are.

    >>> job = ("2026-05-31", "Grey Mule", "A. Venn", "Bench", "NOTE gas", "mule.toml")
    >>> list(list_lines([job], 80))
    ['1  2026-05-31  Grey Mule  A. Venn  Bench  NOTE gas  mule.toml']
    >>> list(list_lines([job], 40))
    ['1  2026-05-31  Grey Mule, A. Venn, Bench', '   NOTE gas', '   mule.toml']
    """
    numbers = [str(number) for number in range(1, len(jobs) + 1)]
    table = [(number.rjust(len(numbers[-1])), *cells) for number, cells in zip(numbers, jobs, strict=True)]
    widths = [max(map(len, cells)) for cells in zip(*table, strict=True)]
    if sum(widths) + len(GAP) * (len(widths) - 1) <= width:
        for cells in table:
            yield GAP.join(cell.ljust(room) for cell, room in zip(cells, widths, strict=True)).rstrip()
        return
    for number, day, machine, rider, venue, verdict, name in table:
        indent = " " * (len(number) + len(GAP))
        whose = ", ".join(part for part in (machine, rider, venue) if part)
        yield from _wrapped(f"{number}{GAP}{day}{GAP}{whose}", width, indent + " " * (len(day) + len(GAP)))
        yield from _wrapped(indent + verdict, width, indent)
        yield indent + name


def _wrapped(text: str, width: int, indent: str) -> list[str]:
    return textwrap.wrap(text, width, subsequent_indent=indent, break_on_hyphens=False, break_long_words=False)
