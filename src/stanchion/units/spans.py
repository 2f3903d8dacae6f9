"""Two ends of a range as one text: both with as many decimals, and the unit once."""

from __future__ import annotations

import re

from stanchion.job.spec import Kind
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show

_NUMBER = re.compile(r"([-−]?\d+)(?:\.(\d+))?(.*)")


def show_span(
    low: float, high: float, kind: Kind, units: Units = METRIC, *, between: str = " to ", short: bool = False
) -> str:
    """A range as it is read; one number where both ends read alike.

    Args:
        low: its low end.
        high: its high end.
        kind: what both are.
        units: how they are shown.
        between: what stands between them.
        short: whether decimals that neither end needs are left out.

    >>> show_span(2.0, 4.0, Kind.LENGTH), show_span(2.02, 1.98, Kind.LENGTH)
    ('2.0 to 4.0 mm', '2.0 mm')
    >>> show_span(8.0, 15.0, Kind.LENGTH, between="–", short=True), show_span(8.0, 12.5, Kind.LENGTH, short=True)
    ('8–15 mm', '8.0 to 12.5 mm')
    >>> show_span(2.0, 2.25, Kind.TURNS)
    '2.00 to 2.25 turns'
    """
    ends = [_NUMBER.fullmatch(show(value, kind, units)) for value in (low, high)]
    first, last = ends
    if first is None or last is None:  # times
        return f"{show(low, kind, units)}{between}{show(high, kind, units)}"
    decimals = max(len(end[2] or "") for end in (first, last))
    numbers = [(end[1], (end[2] or "").ljust(decimals, "0")) for end in (first, last)]
    while short and decimals and all(after[decimals - 1] == "0" for _, after in numbers):
        decimals -= 1
        numbers = [(whole, after[:decimals]) for whole, after in numbers]
    texts = [f"{whole}.{after}" if after else whole for whole, after in numbers]
    return between.join(dict.fromkeys(texts)) + last[3]
