"""The machine on the gas in words: anti-squat, where both ends stand, what small changes do, and the chain."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.text import clean
from stanchion.job.model import Job, Path
from stanchion.job.spec import Kind
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.gas import AxleMove, ChainFigures, GasChange, GasEffect, GasFigures
from stanchion.units.known_units import Units
from stanchion.units.quantity import MINUS, show
from stanchion.wording.american import worded
from stanchion.wording.balance_sentences import ESTIMATE, NONE, Named, g_words
from stanchion.wording.figure_names import FIGURE_NAMES as NAMES
from stanchion.wording.figure_names import ON_THE_GAS
from stanchion.wording.finding_words import reason

STEADY = "Steady acceleration through a chain: no air drag, no damping, rigid tyres; the fork's air has time to cool."
"""What holds of every figure on the gas."""
TREND = (
    "Track machines sit near 100 % with the sag of a corner exit: common practice, no published source. The trend from "
    "one setup to the next matters more than the number."
)
"""What anti-squat is good for."""
BY_HEIGHT = (
    "The height of the centre of mass is not measured; anti-squat and the lifting of the front wheel rest on it. Lift "
    "the front wheel on to a block and weigh, with two people and the machine tied down."
)
EARLY = (
    "The front wheel lifts before this acceleration is reached: check the acceleration, the weights and the height of "
    "the centre of mass."
)
LEAST_MM, WHOLE_PCT = 0.05, 100.0
BEYOND = ", beyond its slots"
"""Said of a way of the axle that its slots do not allow."""
SQUATS_ALL_THE_SAME = (
    "The rear squats though anti-squat is above 100 %: the fork extends, the machine tips back, and more of its weight "
    "rests on the rear wheel."
)
CHANGES: dict[GasChange, str] = {
    "rear_up": "Rear {amount} higher",
    "axle_back": "Axle {amount} back",
    "sprocket_up": "Sprocket {amount} up",
    "pivot_up": "Pivot {amount} up",
    "front_tooth": "Front tooth +1",
    "rear_tooth": "Rear tooth +1",
}
"""What a small change is called."""


DO: dict[str, str] = {
    "pivot_to_axle_mm": "Tape from the centre of the pivot to the centre of the axle, along the swingarm.",
    "pivot_up_mm": "Upright on both wheels on level ground: ground to the centre of the pivot.",
    "arm_down_deg": "Only where the pivot's height cannot be had: gauge along the line from pivot to axle.",
    "sprocket_up_mm": "Ground to the centre of the front sprocket, the machine as for the pivot.",
    "sprocket_ahead_mm": "Plumb lines from both centres: how far the sprocket's is ahead of the pivot's.",
    "measured": "As geometry: it stood as when rake and wheelbase were measured. Otherwise enter how it stood.",
    "links": "Count inner and outer links together, the joining one too.",
    "chain": "Stamped on the side plates.",
    "axle_forward_mm": "Room in front of the axle in its slots, as it stands now.",
    "axle_back_mm": "Room behind the axle in its slots, as it stands now.",
}
"""What to do for a reading, by the name of its field."""


def do_words(path: Path | None) -> str:
    """What to do for the reading of a field; empty where there is nothing to do."""
    known = path is not None and path[0] in ("swingarm", "drive")
    return worded(DO.get(str(path[-1]), "")) if path is not None and known else ""


def share(of_pct: float) -> str:
    """A share in whole per cent.

    >>> share(101.6), share(-3.4)
    ('102 %', '−3 %')
    """
    return f"{of_pct:.0f} %".replace("-", MINUS)


def percent(figure: Figure) -> str:
    """A share; a dash with the reason where there is none.

    >>> percent(Figure(101.6))
    '102 %'
    """
    return f"{NONE}  {clean(reason(figure))}" if figure.value is None else share(figure.value)


def shown(figure: Figure, kind: Kind | None, units: Units) -> str:
    """A figure with its unit, or why there is none; no kind: an acceleration."""
    if figure.value is None:
        return f"{NONE}  {clean(reason(figure))}"
    return g_words(figure.value) if kind is None else show(figure.value, kind, units)


def rises(squats_mm: Figure, units: Units) -> str:
    """How far the rear rises on the gas, by how far it squats; minus where it squats.

    >>> from stanchion.units.known_units import METRIC
    >>> rises(Figure(-1.44), METRIC), rises(Figure(3.0), METRIC), rises(Figure(0.01), METRIC)
    ('1.4 mm', '−3.0 mm, it squats', '0.0 mm')
    """
    if squats_mm.value is None:
        return f"{NONE}  {clean(reason(squats_mm))}"
    far = show(abs(squats_mm.value), Kind.LENGTH, units)
    if squats_mm.value <= 0.0 or far == show(0.0, Kind.LENGTH, units):
        return far
    return f"{MINUS}{far}, it squats"


def acceleration_words(job: Job, gas: GasFigures) -> str:
    """The acceleration looked at, and where it is from."""
    words = g_words(gas.acceleration_g.value or 0.0)
    return f"{words} (usual for {clean(job.job.use)}, estimate)" if gas.acceleration_g.estimate else words


def gas_lines(job: Job, gas: GasFigures, units: Units) -> Iterator[Named]:
    """What a machine does on the gas; only why not, where it cannot be computed."""
    stands = gas.stands
    if not stands.anti_squat_pct.known:
        yield ON_THE_GAS, f"{NONE}  {clean(reason(stands.anti_squat_pct))}"
        return
    yield NAMES["acceleration_g"], acceleration_words(job, gas)
    yield NAMES["anti_squat_pct"], percent(stands.anti_squat_pct) + _estimate(stands.anti_squat_pct)
    arm, chain, squat, transfer = (
        show(one.value or 0.0, Kind.ANGLE, units)
        for one in (stands.arm_deg, stands.chain_deg, stands.squat_deg, stands.transfer_deg)
    )
    yield "  its lines", f"squat line {squat}, load transfer line {transfer}; swingarm {arm} down, chain {chain} up"
    if gas.over_travel:
        first, last = gas.over_travel[0], gas.over_travel[-1]
        used = show(last.rear_used_mm, Kind.LENGTH, units)
        yield "  over the travel", f"{share(first.anti_squat_pct)} hanging, {share(last.anti_squat_pct)} at {used}"
    if gas.over_travel_unknown is not None:
        yield "  over the travel", f"{NONE}  {clean(reason(gas.over_travel_unknown))}"
    yield NAMES["anti_squat_there_pct"], percent(gas.anti_squat_there_pct) + _estimate(gas.anti_squat_there_pct)
    yield NAMES["rear_rises_mm"], rises(gas.rear_squats_mm, units) + _estimate(gas.rear_squats_mm)
    for name, field, kind in GAS_ROWS:
        figure: Figure = getattr(gas, field)
        yield worded(name), shown(figure, kind, units) + _estimate(figure)


def _estimate(figure: Figure) -> str:
    return ESTIMATE if figure.known and figure.estimate else ""


GAS_ROWS: tuple[tuple[str, str, Kind | None], ...] = (
    (NAMES["fork_extends_mm"], "fork_extends_mm", Kind.LENGTH),
    (NAMES["front_kg"], "front_kg", Kind.MASS),
    (NAMES["rake_deg"], "rake_deg", Kind.ANGLE),
    (NAMES["trail_mm"], "trail_mm", Kind.LENGTH),
    (NAMES["wheelbase_mm"], "wheelbase_mm", Kind.LENGTH),
    (NAMES["front_lifts_g"], "front_lifts_g", None),
)
"""What is shown of a machine on the gas besides anti-squat and its rear: name, field of GasFigures, and kind; none for
an acceleration."""


def change_words(effect: GasEffect, units: Units) -> str:
    """What a small change is called, with its amount."""
    return CHANGES[effect.change].format(amount=show(effect.amount, Kind.LENGTH, units))


def by_how_much(figure: Figure, kind: Kind | None, units: Units) -> str:
    """A change with its sign; no kind: points of anti-squat.

    >>> from stanchion.units.known_units import METRIC
    >>> by_how_much(Figure(-4.81), None, METRIC), by_how_much(Figure(1.2), Kind.LENGTH, METRIC)
    ('−4.8', '+1.2 mm')
    """
    if figure.value is None:
        return NONE
    far = f"{abs(figure.value):.1f}" if kind is None else show(abs(figure.value), kind, units)
    sign = "" if far.strip("0. ") in ("", "mm", "in") else MINUS if figure.value < 0.0 else "+"
    return sign + far


def effect_lines(gas: GasFigures, units: Units) -> Iterator[Named]:
    """A line for each small change: anti-squat, rear on the gas, trail."""
    for effect in gas.effects:
        words = f"anti-squat {by_how_much(effect.anti_squat_pct, None, units)} points"
        if effect.rear_squats_mm.known:
            up = Figure(0.0 - (effect.rear_squats_mm.value or 0.0))
            words += f", rear rises by {by_how_much(up, Kind.LENGTH, units)}"
        words += f", trail {by_how_much(effect.trail_mm, Kind.LENGTH, units)}"
        if effect.axle_back_mm.value:
            words += f"; wheelbase {by_how_much(effect.wheelbase_mm, Kind.LENGTH, units)}"
        if not effect.axle_back_mm.known:
            words += "; axle where it is, because the chain's length is not known"
        if effect.fits is False:
            words += f"; axle{BEYOND.removeprefix(',')}"
        yield change_words(effect, units), words


def chain_lines(job: Job, gas: GasFigures, units: Units) -> Iterator[Named]:
    """Length of the chain, and how far the axle moves for other teeth; none where nothing is recorded of it."""
    chain = gas.chain
    if chain.needed_links.value is not None:
        fitted = "" if job.drive.links is None else f"{job.drive.links:g} links fitted; "
        yield "Chain", f"{fitted}{chain.needed_links.value:.1f} needed where it is tightest, by the distances measured"
        if words := taut_words(chain, units):
            yield "  as it stands", words
    for move in chain.axle_moves:
        if move.back_mm.known:
            yield f"  {move_name(move)}", move_words(move, job, units)


def taut_words(chain: ChainFigures, units: Units) -> str:
    """How far the axle goes for a chain that is too short or slack where it stands; empty where the chain suits.

    >>> from stanchion.units.known_units import METRIC
    >>> of = {"pitch_mm": Figure(), "needed_links": Figure(), "axle_moves": ()}
    >>> taut_words(ChainFigures(taut_back_mm=Figure(-1.3), hangs="short", taut_fits=True, **of), METRIC)
    'too short: axle at least 1.3 mm forward, and further for the slack'
    """
    if not chain.hangs:
        return ""
    far = show(abs(chain.taut_back_mm.value or 0.0), Kind.LENGTH, units)
    beyond = ", beyond its slots" if chain.taut_fits is False else ""
    if chain.hangs == "short":
        return f"too short: axle at least {far} forward{beyond or ', and further for the slack'}"
    return f"slack: axle up to {far} back{beyond}"


def move_name(move: AxleMove) -> str:
    """Which sprocket with how many teeth.

    >>> move_name(AxleMove(end="rear", teeth=45.0, back_mm=Figure(), fits=None, links=Figure()))
    'rear 45 teeth'
    """
    return f"{move.end} {move.teeth:g} teeth"


def move_words(move: AxleMove, job: Job, units: Units) -> str:
    """How far the axle moves for other teeth, and whether its slots allow it."""
    back = move.back_mm.value or 0.0
    words = f"axle {show(abs(back), Kind.LENGTH, units)} {'back' if back > 0.0 else 'forward'}"
    if move.fits is False:
        words += BEYOND
        if move.links.value is not None and move.links.value != job.drive.links:
            words += f": fit a chain of {move.links.value:g} links"
    return words


def gas_brief(job: Job, gas: GasFigures, units: Units) -> Iterator[Named]:
    """The machine on the gas and its chain in a few lines, for paper; only why not, where it cannot be computed."""
    first, *others = gas_lines(job, gas, units)
    if not others:
        yield first
    else:
        lines = dict([first, *others])
        travel = lines.get("  over the travel", "")
        name = NAMES["anti_squat_pct"]
        yield name, lines[name] + (f"; {travel}" if travel else "")
        rear = NAMES["rear_rises_mm"].lower()
        moves = [f"{rear} {rises(gas.rear_squats_mm, units)}"] if gas.rear_squats_mm.known else []
        moves += [f"{name.lower()} {lines[worded(name)]}" for name, field, _ in GAS_ROWS if getattr(gas, field).known]
        yield f"At {g_words(gas.acceleration_g.value or 0.0)}", ", ".join(moves)
        points = (
            f"{change_words(one, units).lower()}: {by_how_much(one.anti_squat_pct, None, units)}" for one in gas.effects
        )
        yield "Small changes", f"points of anti-squat for {', '.join(points)}"
    if words := taut_words(gas.chain, units):
        yield "Chain", words
    moved = [
        f"{move_name(move)}: {move_words(move, job, units)}" for move in gas.chain.axle_moves if move.back_mm.known
    ]
    if moved:
        yield "Other teeth", "; ".join(moved)
    if others:
        yield "", worded(STEADY)


def gas_notes(gas: GasFigures, *, measured_height: bool) -> Iterator[str]:
    """Sentences on what the figures on the gas rest on; none where there are none.

    Args:
        gas: the machine on the gas.
        measured_height: whether the height of the centre of mass was measured.
    """
    if not gas.stands.anti_squat_pct.known:
        return
    lifts, looked_at = gas.front_lifts_g.value, gas.acceleration_g.value
    if lifts is not None and looked_at is not None and lifts <= looked_at:
        yield EARLY
    squats_mm, there_pct = gas.rear_squats_mm.value, gas.anti_squat_there_pct.value
    if squats_mm is not None and there_pct is not None and squats_mm >= LEAST_MM and there_pct > WHOLE_PCT:
        yield SQUATS_ALL_THE_SAME
    yield worded(STEADY)
    yield TREND
    if not measured_height:
        yield worded(BY_HEIGHT)
