"""What the oil level of the fork does, in words."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.model import Front
from stanchion.job.spec import Kind
from stanchion.judgement.results.predicted import GapFigures, OilFigures
from stanchion.units.known_units import Units
from stanchion.units.quantity import MINUS, show
from stanchion.wording.american import worded
from stanchion.wording.finding_words import reason

STEP_MM = 5.0
"""Length of air gap whose oil is shown."""


def step_words(oil: OilFigures, units: Units) -> str:
    """Oil for some mm of air gap, in short: in the open tube, and around the rod where one is recorded."""
    amounts = [one.value for one in (oil.ml_per_mm_by_rod, oil.ml_per_mm) if one.value is not None]
    shown = [show(STEP_MM * ml, Kind.VOLUME, units) for ml in amounts]
    words = f"{show(STEP_MM, Kind.LENGTH, units)} of air gap: {shown[0]}" if shown else ""
    return f"{words} around the rod, {shown[1]} without it" if len(shown) > 1 else words


def oil_lines(front: Front, oil: OilFigures, units: Units) -> Iterator[str]:
    """Each line that there is something to say on."""
    yield step_words(oil, units) + "."
    wanted = (
        ("To compare", oil.compared),
        (f"For {show(front.reserve_wanted_n or 0.0, Kind.FORCE, units)} of reserve", oil.for_reserve),
    )
    for name, gap in wanted:
        if gap is not None:
            yield f"{name}: {gap_words(front, gap, units)}."
    if oil.for_left is not None:
        name = f"For {show(front.left_wanted_mm or 0.0, Kind.LENGTH, units)} of travel left"
        yield f"{name}: {_between(front, oil.for_left, oil.for_left_slow, units)}."


def _between(front: Front, fast: GapFigures, slow: GapFigures | None, units: Units) -> str:
    """The air gap by a fast stroke, and which it is by a slow one where that differs: the truth lies between."""
    words = gap_words(front, fast, units)
    slow_mm, fast_mm = None if slow is None else slow.gap_mm.value, fast.gap_mm.value
    if slow_mm is None or fast_mm is None or min(slow_mm, fast_mm) < 0.0:
        return words
    by_slow, by_fast = (show(mm, Kind.LENGTH, units) for mm in (slow_mm, fast_mm))
    return words if by_slow == by_fast else f"{words}; by a slow stroke {by_slow}"


def gap_words(front: Front, gap: GapFigures, units: Units) -> str:
    """An air gap, the oil it takes, and the force at full travel with it; or why there is none."""
    new_mm, oil_ml = gap.gap_mm.value, gap.oil_ml.value
    if new_mm is None or oil_ml is None:
        return clean(reason(gap.gap_mm) or reason(gap.oil_ml))
    if new_mm < 0.0:
        return "no air gap would be left: that needs other springs"
    words = f"air gap {show(new_mm, Kind.LENGTH, units)}, {_more(oil_ml, units)} a leg"
    volume = front.left.oil_volume_ml
    if volume is not None:
        words += f" to {show(volume + oil_ml, Kind.VOLUME, units)}"
    if gap.slow_n.value is not None and gap.fast_n.value is not None:
        slow, fast = (show(one.value, Kind.FORCE, units) for one in (gap.slow_n, gap.fast_n) if one.value is not None)
        words += f", full travel {slow} slow, {fast} fast"
    least = front.air_gap_least_mm
    if least is not None and new_mm < least:
        words += f": under the least allowed, {show(least, Kind.LENGTH, units)}"
    return worded(words)


def _more(oil_ml: float, units: Units) -> str:
    amount = show(abs(oil_ml), Kind.VOLUME, units)
    return f"{MINUS if oil_ml < 0.0 else '+'}{amount}"
