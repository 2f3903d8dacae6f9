"""Weights on both wheels, the centre of mass and the machine on the brakes, in words."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.model import Job, Path, State
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import LEAST_LIFT_DEG, USUAL_HEIGHT_MM
from stanchion.judgement.results.balance import BrakesFigures, WheelWeights
from stanchion.judgement.results.figures import Figure
from stanchion.planning.braking_of_runs import BrakingOfRuns
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show
from stanchion.units.spans import show_span
from stanchion.wording.american import worded
from stanchion.wording.figure_names import FIGURE_NAMES as NAMES
from stanchion.wording.figure_names import ON_THE_BRAKES
from stanchion.wording.finding_words import reason
from stanchion.wording.prediction_sentences import omitted_words

Named = tuple[str, str]
"""The name of a figure, at most 20 columns, and what there is under it."""

STEADY = "Steady braking, front wheel only: no air drag, no damping, rigid tyres, a telescopic fork without anti-dive."
"""What holds of every figure on the brakes."""
STEADY_BRIEF = "Steady: no air drag, no damping, rigid tyres."
"""The same in few words."""
ARC_ON_THE_BRAKES = "The wheelbase there leaves out the arc of the swingarm, which is not entered."
BAND = "Of two figures, one holds for a slow stroke, the other for one so fast that the fork's air keeps its heat."
BY_HEIGHT = (
    "The height of the centre of mass is not measured: lift the front wheel on to a block and weigh, with two people "
    "and the machine tied down."
)
BY_SHARES = "The weights are masses times shares, an estimate: read scales under both wheels, alone and with the rider."
BY_USE = "The braking looked at is a usual one, an estimate: a fork marker on a run says what was ridden."
NONE = "–"


def weight_lines(weights: WheelWeights, state: State, units: Units) -> Iterator[Named]:
    """Weights and centre of mass in one state; only why not, where nothing was weighed or estimated."""
    name = f"Weight, {'alone' if state == 'static' else 'with rider'}"
    if not weights.total_kg.known:
        yield name, f"{NONE}  {clean(reason(weights.total_kg))}"
        return
    front, rear = (show(one.value or 0.0, Kind.MASS, units) for one in (weights.front_kg, weights.rear_kg))
    share = f"{weights.front_share_pct.value or 0.0:.1f} % on the front"
    total = show(weights.total_kg.value or 0.0, Kind.MASS, units)
    yield name, f"{total}: front {front}, rear {rear}, {share}{_estimate(weights.total_kg)}"
    yield f"  {worded(NAMES['ahead_mm'])}", _ahead(weights, units)
    yield f"  {worded(NAMES['height_mm'])}", height_words(weights, units)


def _ahead(weights: WheelWeights, units: Units) -> str:
    if weights.ahead_mm.value is None:
        return f"{NONE}  {clean(reason(weights.ahead_mm))}"
    doubt = weights.ahead_expanded_mm.value
    sure = "" if doubt is None else f" ± {show(doubt, Kind.LENGTH, units)}"
    return (
        f"{show(weights.ahead_mm.value, Kind.LENGTH, units)}{sure} ahead of the rear axle{_estimate(weights.ahead_mm)}"
    )


def height_words(weights: WheelWeights, units: Units) -> str:
    """The height of the centre of mass with where it is from, or why there is none."""
    mm, doubt, steepest = weights.height_mm.value, weights.height_expanded_mm.value, weights.lifted_deg.value
    if mm is None:
        return f"{NONE}  {clean(reason(weights.height_mm))}"
    height = show(mm, Kind.LENGTH, units)
    if weights.height_from == "usual":
        return f"{height} (estimate: {show_span(*USUAL_HEIGHT_MM, Kind.LENGTH, units, short=True)} is usual)"
    if weights.height_from == "entered":
        return f"{height} (estimate, as entered)"
    angle = "" if steepest is None else f", front lifted by {show(steepest, Kind.ANGLE, units)}"
    more = "" if steepest is None or steepest >= LEAST_LIFT_DEG else ": lift it further"
    sure = "" if doubt is None else f" ± {show(doubt, Kind.LENGTH, units)}"
    return f"{height}{sure}{angle}{more}{_estimate(weights.height_mm)}"


ESTIMATE = " (estimate)"
"""Said of a figure that rests on an estimate."""


def _estimate(figure: Figure) -> str:
    return ESTIMATE if figure.estimate else ""


def is_estimate(slow: Figure, fast: Figure) -> bool:
    """Whether two figures, of which at least one is known, rest on an estimate."""
    return any(one.known and one.estimate for one in (slow, fast))


def g_words(deceleration_g: float) -> str:
    """A deceleration.

    >>> g_words(0.9)
    '0.90 g'
    """
    return f"{deceleration_g:.2f} g"


def between(slow: Figure, fast: Figure, kind: Kind | None, units: Units) -> str:
    """Two figures as a range, the lower one first; one where both show alike. No kind: a deceleration.

    >>> from stanchion.units.known_units import METRIC
    >>> between(Figure(105.35), Figure(97.44), Kind.LENGTH, METRIC), between(Figure(1.04), Figure(1.04), None, METRIC)
    ('97.4 to 105.4 mm', '1.04 g')
    """
    if slow.value is None or fast.value is None:
        known = next((one for one in (slow, fast) if one.value is not None), None)
        if known is None or known.value is None:
            return f"{NONE}  {clean(reason(slow))}"
        which = "slowly" if known is slow else "fast"
        return f"{range_of(known, known, kind, units)} with its air squeezed {which}"
    return range_of(slow, fast, kind, units, " to ")


def range_of(slow: Figure, fast: Figure, kind: Kind | None, units: Units, dash: str = "–") -> str:
    """Two figures of which one is known at least as a range, the lower one first."""
    values = [one.value for one in (slow, fast) if one.value is not None]
    low, high = min(values), max(values)
    if kind is not None:
        return show_span(low, high, kind, units, between=dash)
    shown = [g_words(one) for one in (low, high)]
    return shown[0] if shown[0] == shown[1] else f"{shown[0].removesuffix(' g')}{dash}{shown[1]}"


NO_MARKER = "no run has a fork marker"


def ridden_words(ridden: BrakingOfRuns) -> str:
    """That the braking which the markers stand for is looked at now, and how far runs differ."""
    markers = markers_words(len(ridden.known))
    mean = g_words(ridden.mean_g.value or 0.0)
    return f"Braking looked at: {mean}, an estimate by {markers}{_scatter(ridden.spread_g)}."


def markers_words(count: int) -> str:
    """How many fork markers.

    >>> markers_words(1), markers_words(2)
    ('1 fork marker', '2 fork markers')
    """
    return f"{count} fork marker{'s' if count > 1 else ''}"


def _scatter(spread_g: Figure) -> str:
    return "" if spread_g.value is None else f", scatter {spread_g.value:.2f} g"


_LEVEL = "Both wheels on scales, level and upright, fluids as ridden, nobody aboard: read both."
_ABOARD = "Rider in full gear and riding position, feet up; a second person steadies it without lifting: read both."
DO: dict[str, str] = {
    "front_alone_kg": _LEVEL,
    "rear_alone_kg": _LEVEL,
    "front_aboard_kg": _ABOARD,
    "rear_aboard_kg": _ABOARD,
    "height_alone_mm": "Only where the front is not lifted: as known from elsewhere, or judged.",
    "height_aboard_mm": "Only where the front is not lifted: as known from elsewhere, or judged.",
    "blocked": "Block fork and shock at ride height with solid struts or straps. Brakes off, gearbox in neutral. Then "
    "choose yes.",
    "raised_mm": "Two people; rear wheel chocked on its scale, machine tied down, nobody under it. Lift the front "
    "wheel on to a block, 250 mm or more: enter how much higher it stands than level.",
    "alone_kg": "Machine upright and still, straps slack, nobody touching it: read the front scale.",
    "aboard_kg": "Only with a helper on each side: rider in riding position, read the front scale. Otherwise leave it "
    "empty. Then another height: several make a line.",
}
"""What to do for a reading, by the name of its field; the form has them in the order of the work."""


def do_words(path: Path | None) -> str:
    """What to do for the reading of a field; empty where there is nothing to do."""
    return "" if path is None else worded(DO.get(str(path[-1]), ""))


BRAKES_ROWS: tuple[tuple[str, str, Kind | None], ...] = (
    (NAMES["fork_used_mm"], "fork_used_mm", Kind.LENGTH),
    (NAMES["fork_left_mm"], "fork_left_mm", Kind.LENGTH),
    (NAMES["rear_kg"], "rear_kg", Kind.MASS),
    (NAMES["rear_used_mm"], "rear_used_mm", Kind.LENGTH),
    (NAMES["rake_deg"], "rake_deg", Kind.ANGLE),
    (NAMES["trail_mm"], "trail_mm", Kind.LENGTH),
    (NAMES["wheelbase_mm"], "wheelbase_mm", Kind.LENGTH),
    (NAMES["fork_ends_g"], "fork_ends_g", None),
    (NAMES["rear_lifts_g"], "rear_lifts_g", None),
)
"""What is shown of a machine on the brakes: name, field of OnBrakes, and kind; none for a deceleration."""


def braking_words(job: Job, brakes: BrakesFigures) -> str:
    """The deceleration looked at, and where it is from."""
    of = brakes.braking
    words = range_of(of.slow_g, of.fast_g, None, METRIC, " to ")
    if of.source == "ridden":
        return f"{words} as ridden, by {markers_words(of.markers)}{_scatter(of.spread_g)} (estimate)"
    return f"{words} (usual for {clean(job.job.use)}, estimate)" if of.source == "usual" else words


def brakes_lines(job: Job, brakes: BrakesFigures, units: Units) -> Iterator[Named]:
    """What a machine does on the brakes; only why not, where it cannot be computed."""
    why = brakes.slow.fork_used_mm
    if not any(getattr(of, name).known for of in (brakes.slow, brakes.fast) for _, name, _ in BRAKES_ROWS):
        yield ON_THE_BRAKES, f"{NONE}  {clean(reason(why))}"
        return
    yield NAMES["braking_g"], braking_words(job, brakes)
    for name, field, kind in BRAKES_ROWS:
        slow, fast = getattr(brakes.slow, field), getattr(brakes.fast, field)
        yield name, between(slow, fast, kind, units) + (ESTIMATE if is_estimate(slow, fast) else "")


def _by_height(brakes: BrakesFigures, units: Units) -> Iterator[str]:
    """How far the figures may be off because the height of the centre of mass is not known better."""
    off = brakes.height_off_mm.value
    if brakes.by_height is None or off is None:
        return
    low, high = brakes.by_height
    words = f"Height ± {show(off, Kind.LENGTH, units)}: "
    used = (low.fork_used_mm, high.fork_used_mm)
    if all(one.known for one in used):
        words += f"fork travel used {range_of(*used, Kind.LENGTH, units, ' to ')} with its air squeezed slowly, "
    lifts = (high.rear_lifts_g, low.rear_lifts_g)
    if all(one.known for one in lifts):
        yield f"{words}rear wheel lifts at {range_of(*lifts, None, units, ' to ')}."


def brakes_notes(brakes: BrakesFigures, rider: WheelWeights, units: Units, *, brief: bool = False) -> Iterator[str]:
    """Sentences on what the figures on the brakes rest on; none where there are none.

    Args:
        brakes: the machine on the brakes.
        rider: weights with the rider aboard.
        units: units to show.
        brief: what always holds in few words.
    """
    if not brakes.slow.rear_lifts_g.known:
        return
    yield worded(STEADY_BRIEF if brief else STEADY)
    if not brakes.by_arc:
        yield ARC_ON_THE_BRAKES
    if ends_early(brakes):
        yield "The fork reaches its end under this braking: stiffer springs or a smaller air gap keep it off."
    if brakes.slow != brakes.fast:
        yield BAND
    yield from _by_height(brakes, units)
    if rider.height_from != "lifted":
        yield worded(BY_HEIGHT)
    if rider.total_kg.estimate and not brief:
        yield BY_SHARES
    if brakes.braking.source == "usual" and not brief:
        yield BY_USE
    if brakes.omitted:
        yield f"Left out because it was not entered: {omitted_words(brakes.omitted)}."


def ends_early(brakes: BrakesFigures) -> bool:
    """Whether the fork reaches its end before the deceleration looked at, its air squeezed slowly."""
    ends, looked_at = brakes.slow.fork_ends_g.value, brakes.braking.slow_g.value
    return ends is not None and looked_at is not None and ends <= looked_at
