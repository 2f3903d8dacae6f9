"""The braking that the runs' markers stand for, and what leaves some fork travel on the brakes, in words."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.planning.braking_of_runs import BrakingOfRuns
from stanchion.planning.travel_left import SagThen, TravelLeft, WayKind, WayThere
from stanchion.planning.travel_left_sure import ReadingOf
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show
from stanchion.units.spans import show_span
from stanchion.wording.american import worded
from stanchion.wording.balance_sentences import NONE, Named, g_words, markers_words, range_of
from stanchion.wording.figure_names import FIGURE_NAMES
from stanchion.wording.finding_words import reason

WAYS: dict[WayKind, tuple[str, Kind]] = {
    "air_gap": ("air gap", Kind.LENGTH),
    "rate": ("rate", Kind.RATE),
    "pressure": ("air pressure", Kind.PRESSURE),
}
"""What is set, and its kind."""
_SAG = {"static": "static sag", "rider": "rider sag"}
LIMITS: dict[WayKind, str] = {
    "air_gap": "Air gap: alike in both legs, never smaller than the manual allows; it acts on the last part of the "
    "travel.",
    "rate": "Rate: both legs alike, preload as it is; in the steps in which springs are sold.",
    "pressure": "Pressure: never above the highest that the manual allows.",
}
"""What holds of each way."""
SURE_BY: dict[ReadingOf, str] = {"marker": "fork markers", "height": "height of the centre of mass"}
"""What makes a setting uncertain."""
SURER_BY: dict[ReadingOf, str] = {
    "marker": "ride another run with the marker set",
    "height": "measure the height of the centre of mass",
}
"""What would make it surer, by what makes most of its uncertainty."""
ENOUGH = "nothing needs changing"
SAG_FIRST = "Front sag is out of its target as it is: put that right first, then look here again."


def ridden_lines(ridden: BrakingOfRuns) -> Iterator[Named]:
    """The braking that the markers stand for: all runs together, then each."""
    if not ridden.runs:
        return
    known = ridden.known
    if known:
        mean, spread = g_words(ridden.mean_g.value or 0.0), ridden.spread_g.value
        apart = "" if spread is None else f", scatter {spread:.2f} g"
        yield FIGURE_NAMES["ridden_g"], f"{mean} by {markers_words(len(known))}{apart} (estimate)"
    else:
        yield FIGURE_NAMES["ridden_g"], f"{NONE}  {clean(reason(ridden.runs[-1].slow_g))}"
    for run in ridden.runs:
        name = f"  run {run.at + 1}"
        if run.middle_g.known:
            yield name, f"its marker stands for {range_of(run.slow_g, run.fast_g, None, METRIC, ' to ')}"
        elif known or len(ridden.runs) > 1:
            yield name, f"{NONE}  {clean(reason(run.slow_g))}"


def left_name(left: TravelLeft, units: Units) -> str:
    """The name of what leaves the travel wanted.

    >>> from stanchion.judgement.results.figures import Figure
    >>> g = Figure(0.9)
    >>> left_name(TravelLeft(wanted_mm=10.0, slow_g=g, fast_g=g, markers=0, left_mm=g, ways=()), METRIC)
    'To leave 10 mm'
    """
    mm = show(left.wanted_mm, Kind.LENGTH, units)
    return f"To leave {mm.replace('.0 ', ' ')}"


def is_enough(left: TravelLeft) -> bool:
    """Whether the travel wanted is left as the machine is set."""
    return left.left_mm.value is not None and left.left_mm.value >= left.wanted_mm - SLACK


def left_words(left: TravelLeft, units: Units) -> str:
    """For which braking, and what is left as the machine is set."""
    if left.left_mm.value is None:
        return f"{NONE}  {clean(reason(left.left_mm))}"
    at = range_of(left.slow_g, left.fast_g, None, METRIC, " to ")
    by = f"as ridden, by {markers_words(left.markers)}" if left.markers else "the braking looked at"
    enough = f": {ENOUGH}" if is_enough(left) else ""
    return f"at {at}, {by}: {show(left.left_mm.value, Kind.LENGTH, units)} left now{enough}"


def left_lines(left: TravelLeft, units: Units) -> Iterator[Named]:
    """What leaves the travel wanted: for which braking, then each way, then what holds of them. Where enough is left,
    no way is given: it could only ask for the opposite of what the sags ask for."""
    yield left_name(left, units), left_words(left, units)
    if is_enough(left):
        return
    if any(sag.was_out for way in left.ways for sag in way.sags):
        yield "", SAG_FIRST
    for way in left.ways:
        yield f"  by {WAYS[way.kind][0]}", way_words(way, units)
    if any(way.sure is not None for way in left.ways):
        by = list(dict.fromkeys(one for way in left.ways if way.sure is not None for one in way.sure.by))
        yield "", worded(f"± (95 %): by the {' and the '.join(SURE_BY[one] for one in by)} alone.")
    for way in left.ways:
        if way.then.known:
            yield "", LIMITS[way.kind]


def way_words(way: WayThere, units: Units) -> str:
    """One way: what to set, and what it does to sag."""
    if way.then.value is None or way.now.value is None:
        return f"{NONE}  {clean(reason(way.then))}"
    kind = WAYS[way.kind][1]
    words = show_change(way.now.value, way.then.value, kind, units)
    if way.sure is not None:
        number, _, unit = words.rpartition(" ")
        words = f"{number} ± {show(way.sure.expanded, kind, units).rpartition(' ')[0]} {unit}"
        if not way.told:
            words += worded(f" (± larger than the change: {SURER_BY[way.sure.by[0]]} first)")
    if way.oil_ml.value is not None:
        more = "more" if way.oil_ml.value > 0.0 else "less"
        words += f", {show(abs(way.oil_ml.value), Kind.VOLUME, units)} {more} oil a leg"
    elif way.kind == "air_gap":
        words += f" (oil: {clean(reason(way.oil_ml))})"
    if way.left_mm.value is not None:
        words += f": leaves {show(way.left_mm.value, Kind.LENGTH, units)}"
    return words + "".join(f"; {_sag_words(sag, units)}" for sag in way.sags)


def show_change(now: float, then: float, kind: Kind, units: Units) -> str:
    """A value and what it is changed to, the unit once.

    >>> show_change(110.0, 69.0, Kind.LENGTH, METRIC)
    '110.0 → 69.0 mm'
    """
    before, after = show(now, kind, units), show(then, kind, units)
    unit = after.partition(" ")[2]
    return f"{before.removesuffix(f' {unit}')} → {after}"


def _sag_words(sag: SagThen, units: Units) -> str:
    words = f"{_SAG[sag.state]} {show_change(sag.now.value or 0.0, sag.then.value or 0.0, Kind.LENGTH, units)}"
    if sag.out and sag.target is not None:
        still = "still out" if sag.was_out else "OUT"
        words += f", {still} of its target ({show_span(*sag.target, Kind.LENGTH, units, short=True)})"
    return words
