"""Lines of the printed text that its sections share."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.spec import Kind
from stanchion.judgement.results.figures import Figure
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.finding_words import reason

NAME = 20
"""Width of the column of names."""


def figure_line(name: str, figure: Figure, kind: Kind, units: Units, after: str = "") -> Iterator[str]:
    """One figure with its name and unit; where there is none, why.

    >>> from stanchion.units.known_units import METRIC
    >>> list(figure_line("Trail", Figure(100.06, estimate=True), Kind.LENGTH, METRIC))
    ['  Trail                100.1 mm (estimate)']
    """
    if figure.value is None:
        yield f"  {name:<{NAME}} –  {clean(reason(figure))}"
    else:
        estimate = " (estimate)" if figure.estimate else ""
        yield f"  {name:<{NAME}} {show(figure.value, kind, units)}{estimate}{after}"


def plus_minus(expanded: Figure, kind: Kind, units: Units) -> str:
    """An expanded uncertainty as it follows its figure; nothing where there is none.

    >>> from stanchion.units.known_units import METRIC
    >>> plus_minus(Figure(1.25), Kind.LENGTH, METRIC), plus_minus(Figure(), Kind.LENGTH, METRIC)
    (' ± 1.3 mm', '')
    """
    return "" if expanded.value is None else f" ± {show(expanded.value, kind, units)}"
