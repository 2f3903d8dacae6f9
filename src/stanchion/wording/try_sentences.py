"""The sentences of what to try after a complaint: what to look at, what to change, what it does, why it cannot be."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from stanchion.job.complaint import Complaint
from stanchion.job.diff import Difference
from stanchion.job.model import SIDES, Job
from stanchion.judgement.criteria.riders_words import ChangeKind, Condition, HandKind, ReadingKind
from stanchion.judgement.sag.sag_advice import NO_ADVICE
from stanchion.planning.change_edits import Hindered, Hindrance
from stanchion.planning.complaint_readings import ReadingState
from stanchion.planning.what_to_try import Suggestion, WhatToTry
from stanchion.planning.whatif_rows import WhatifRow
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show
from stanchion.wording.american import worded
from stanchion.wording.changes import changes_in_words, setting_change
from stanchion.wording.complaint_labels import complaint_words
from stanchion.wording.finding_words import caution, headline, sentence
from stanchion.wording.labels import field_label, label, uncapitalised
from stanchion.wording.whatif_sentences import row_name

CHANGES: Mapping[ChangeKind, str] = {
    "front_compression_more": "Fork: more compression damping",
    "front_compression_less": "Fork: less compression damping",
    "front_fast_compression_more": "Fork: more high-speed compression damping",
    "front_fast_compression_less": "Fork: less high-speed compression damping",
    "front_rebound_more": "Fork: more rebound damping",
    "front_rebound_less": "Fork: less rebound damping",
    "front_preload_more": "Fork: more preload",
    "front_preload_less": "Fork: less preload",
    "front_spring_stiffer": "Fork: stiffer springs",
    "front_spring_softer": "Fork: softer springs",
    "front_air_gap_less": "Fork: smaller air gap",
    "front_air_gap_more": "Fork: larger air gap",
    "front_lower": "Lower the front: tubes up through the yokes",
    "front_higher": "Raise the front: tubes down through the yokes",
    "rear_compression_more": "Shock: more low-speed compression damping",
    "rear_compression_less": "Shock: less low-speed compression damping",
    "rear_fast_compression_more": "Shock: more high-speed compression damping",
    "rear_fast_compression_less": "Shock: less high-speed compression damping",
    "rear_rebound_more": "Shock: more rebound damping",
    "rear_rebound_less": "Shock: less rebound damping",
    "rear_preload_more": "Shock: more preload",
    "rear_preload_less": "Shock: less preload",
    "rear_spring_stiffer": "Shock: stiffer spring",
    "rear_spring_softer": "Shock: softer spring",
    "rear_higher": "Raise the rear: shock length or link",
    "rear_lower": "Lower the rear: shock length or link",
}
READINGS: Mapping[ReadingKind, str] = {
    "front_sag": "Front sag",
    "rear_sag": "Rear sag",
    "front_stiction": "Front stiction",
    "rear_stiction": "Rear stiction",
    "front_travel": "Fork travel used",
    "rear_travel": "Shock travel used",
    "front_preload": "Fork preload",
    "rear_preload": "Shock preload",
    "front_legs": "Both fork legs alike",
    "rear_rebound": "Rebound for the spring",
    "tyres": "Tyre pressures",
    "geometry": "Rake and trail",
    "torques": "Torques",
}
BY_HAND: Mapping[HandKind, tuple[str, str]] = {
    "head_bearings": (
        "Steering head",
        "Front wheel off the ground: no play fore and aft, no notch as the bars turn from side to side.",
    ),
    "wheel_bearings": ("Wheel bearings", "Each wheel off the ground: no play at the rim, no roughness as it turns."),
    "swingarm_bearings": (
        "Swingarm bearings",
        "Rear wheel off the ground: no play when the swingarm is pulled sideways.",
    ),
    "linkage_bearings": (
        "Linkage bearings",
        "Rear wheel off the ground: lift it. It must move the shock at once, without play and without sticking.",
    ),
    "axle_and_clamps": ("Axles, clamps", "Axles, pinch bolts and yoke bolts tightened to the manual's torque."),
    "shock_bolts": ("Shock bolts", "Upper and lower bolt of the shock, and those of the linkage, tight."),
    "caliper_bolts": ("Caliper bolts", "Brake calipers tight on their mounts, pins and clips in place."),
    "brake_lever": ("Brake lever", "Hard, with its usual travel, and it does not creep under a steady pull."),
    "brake_fluid": ("Brake fluid", "Level, colour, no leak at hoses, banjo bolts, calipers and master cylinder."),
    "brake_pads": ("Brake pads", "Enough lining, evenly worn, no oil on them; pistons move freely."),
    "brake_discs": ("Brake discs", "Run true, bobbins move, no cracks; the wheel turns freely with the brake let go."),
    "tyre_wear": ("Tyres", "Wear, age, damage, tears, pressure cold and hot; the right way round."),
    "tyre_shape": ("Front tyre shape", "A front tyre worn square turns in late, whatever the setting."),
    "wheel_balance": ("Wheel balance", "Weights in place; each wheel runs true and stops anywhere."),
    "wheel_alignment": ("Wheels in line", "Rear wheel in line with the front, axle marks alike on both sides."),
    "fork_alignment": (
        "Fork alignment",
        "Loosen the pinch bolts, pump the fork, tighten to the manual's torque: legs out of line stick.",
    ),
    "fork_damping": ("Fork by hand", "Brake on, push down: both legs resist, come up once and stop, without noise."),
    "fork_leaks": ("Fork seals", "Oil on the stanchions or the brakes? Then stop: reseal it before it is ridden."),
    "shock_damping": ("Shock by hand", "Push the seat down: it comes up once, slowly, and stops."),
    "shock_leaks": (
        "Shock seal",
        "Oil on the shaft or round the seal? Then the damping is going: have the shock serviced.",
    ),
    "bump_rubbers": ("Bump rubbers", "Rubbers whole and in place, no marks of metal on metal."),
    "chain_slack": (
        "Chain slack",
        "With axle, swingarm pivot and sprocket in line the chain still has slack; no tight spot.",
    ),
    "steering_damper": ("Steering damper", "Moves freely, is not set too tight, and is not loose or leaking."),
    "frame_and_stem": ("Frame and stem", "Cracks, bent parts, marks of a fall: frame, yokes, subframe, wheels."),
    "bodywork": ("Bodywork", "Screen, fairing, mudguards, exhaust and number plate fixed; nothing touches a wheel."),
}
"""What is looked at and felt, in short, and how."""
CONDITIONS: Mapping[Condition, str] = {
    "front_near_full": "Only where the fork comes near its end by the latest marker.",
    "rear_near_full": "Only where the shock comes near its end by the latest marker.",
    "front_kept_back": "Only where the fork leaves much of its travel unused by the latest marker.",
    "rear_kept_back": "Only where the shock leaves much of its travel unused by the latest marker.",
}
_SHORT_REASONS: Mapping[Hindrance, str] = {
    "not_recorded": "not recorded",
    "range_unknown": "range not known",
    "step_unknown": "step not known",
    "closed": "fully closed",
    "open": "fully open",
    "fully_in": "fully in",
    "fully_out": "fully out",
    "no_adjuster": "no adjuster",
    "pressure_most": "highest pressure",
    "pressure_least": "no pressure left",
    "gap_least": "least gap",
    "gap_most": "largest gap",
    "tubes_flush": "tubes flush",
    "at_datum": "at its shortest",
    "at_limit": "at its limit",
    "no_one_rate": "no one rate",
    "not_in_stock": "none in stock",
    "condition": "not now",
    "travel_used_up": "no travel left",
    "sag_first": "sag first",
    "doubt_first": "check what disagrees first",
    "sag_at_edge": "measure sag again first",
    "sag_against": "against sag",
    "sag_leaves": "sag would be out",
    "sag_further": "sag further out",
    "brings_fault": "brings a fault",
}
_REASONS: Mapping[Hindrance, str] = {
    "not_recorded": "Where it stands is not recorded: {field}.",
    "range_unknown": "How far it goes is not recorded: {field}. Count the whole range once, then it can be used.",
    "step_unknown": "How much one step changes is not known: {field}.",
    "closed": "It is fully closed already.",
    "open": "It is fully open already.",
    "fully_in": "The adjuster is fully in already.",
    "fully_out": "The adjuster is fully out already.",
    "no_adjuster": "There is no preload adjuster; preload changes only with other spacers.",
    "pressure_most": "The highest pressure allowed is reached.",
    "pressure_least": "There is no pressure left to let out.",
    "gap_least": "The air gap is at its least already.",
    "gap_most": "The air gap is as large as is usual already.",
    "tubes_flush": "The tubes are flush with the top yoke already.",
    "at_datum": "The length adjuster is at its shortest already.",
    "at_limit": "It cannot go further.",
    "no_one_rate": "The springs do not have one rate. The list of springs says what to fit instead.",
    "not_in_stock": "There is no such spring in your stock.",
    "travel_used_up": "By the latest marker no travel is left at this end: it would hit its end.",
    "sag_first": "First see to what the sag readings say: {finding}.",
    "doubt_first": "First check what disagrees at this end: {finding}. Until then leave springs and preload.",
    "sag_at_edge": "Measure sag again first: it is too near the edge of its target to judge springs or preload by.",
    "sag_against": "The sag readings ask for the opposite: {finding}.",
    "sag_leaves": "It would take sag out of its target.",
    "sag_further": "It would take sag further from its target.",
    "brings_fault": "It would bring a fault: {finding}.",
}
INSPECTION = "A matter of safety. Inspect before the machine is ridden again; no setting is offered."
SPRINGS_SUIT = "The sags suit the springs that are fitted: only if nothing else helps."
NO_EFFECT = "No effect on sag, height or steering geometry: a damper works only while the suspension moves."
NOT_COMPUTED = "What it does to sag and geometry cannot be computed from what is recorded."
CHECKED = "nothing found"
NOT_READ = "not read"
NOTHING_TO_TRY = "Nothing that is known for this can be changed on this machine."
NOTHING_RECORDED = "No setting is recorded: enter where one stands (Enter on a line)."
COMMON_PRACTICE = "Common practice, no published source."
DEFERS = "The manufacturer's manual comes first."


def title_words(of: WhatToTry, run: int) -> str:
    """The complaints about a run.

    Args:
        of: what to try.
        run: which run, from 0.
    """
    said = "; ".join(map(complaint_words, of.complaints)) or "no complaint"
    return f"Run {run + 1}: {said}"


def notes(of: WhatToTry, job: Job, units: Units = METRIC) -> Iterator[str]:
    """What is to be known before anything is changed."""
    if of.inspection:
        yield INSPECTION
    for one in of.unanswered:
        yield f"For “{complaint_words(one)}” nothing is known here: write it in the rider's own words."
    if of.changed_since:
        changes = "; ".join(changes_in_words(of.changed_since, job, units))
        yield f"Changed since this run: {changes}. Ride that first."


def nothing_words(of: WhatToTry) -> str:
    """Why no change is offered: nothing is entered yet, or nothing can be changed."""
    unknown = ("not_recorded", "range_unknown", "step_unknown")
    waits = [one for one in of.not_offered if one.hindered is not None and one.hindered.why in unknown]
    return NOTHING_RECORDED if waits else NOTHING_TO_TRY


def reading_words(state: ReadingState) -> tuple[str, str]:
    """A reading, and what it says in a few words."""
    name = worded(READINGS[state.kind])
    if state.findings:
        return name, headline(state.findings[0])
    return name, CHECKED if state.read else NOT_READ


def hand_words(kind: HandKind) -> tuple[str, str]:
    """What to feel by hand in short, and how."""
    short, how = BY_HAND[kind]
    return worded(short), worded(how)


def change_name(kind: ChangeKind) -> str:
    """A change by its kind, where it is not known by how much."""
    return worded(CHANGES[kind])


def why_words(one: Suggestion) -> str:
    """What a change does, as its row has it."""
    return worded(one.row.why)


def change_words(one: Suggestion, job: Job, units: Units = METRIC) -> str:
    """A change with its amount; by its kind where it cannot be made."""
    if not one.changes:
        return change_name(one.row.do)
    first = one.changes[0]
    if first.path[-1] == "now":
        return "; ".join(changes_in_words(one.changes, job, units))
    name, end = field_label(first.path), "Fork" if one.row.end == "front" else "Shock"
    named = name if name.startswith(end) else f"{end} {uncapitalised(name)}"
    words = f"{named} {setting_change(first, job, units)}"
    return f"{words}, each leg" if _of_two_springs(one, job) else words


def _of_two_springs(one: Suggestion, job: Job) -> bool:
    fitted = [side for side in SIDES if job.front.leg(side).coil_fitted]
    return one.row.do.startswith("front_spring") and len(fitted) > 1


def with_spring_words(one: Suggestion, units: Units = METRIC) -> str:
    """What becomes of preload with another spring; empty for any other change."""
    if "_spring_" not in one.row.do:
        return ""
    if one.then is None or one.then.code in NO_ADVICE or one.then.values.get("work") == "none":
        return "Preload: leave spacer and adjuster as they are, then measure sag."
    return f"With it: {sentence(one.then, units)}"


def opposite_words(one: Suggestion, offered: Sequence[Suggestion]) -> str:
    """That a change goes the other way than one before it; empty where it does not."""
    number = _number(one, offered)
    return f"The opposite of {number}: only if {number} made it worse." if number else ""


def opposite_in_brief(one: Suggestion, offered: Sequence[Suggestion]) -> str:
    """The same for a list."""
    number = _number(one, offered)
    return f"only if {number} made it worse" if number else ""


def _number(one: Suggestion, offered: Sequence[Suggestion]) -> int:
    """The number in the list of the change that goes the other way; 0: there is none."""
    return next((at for at, other in enumerate(offered, 1) if other.row.do == one.opposite_of), 0)


def change_in_full(changes: Iterable[Difference], job: Job, units: Units = METRIC) -> str:
    """A change with what is set now and what to set."""
    return "; ".join(changes_in_words(changes, job, units, both=True))


def hindrance_in_brief(hindered: Hindered) -> str:
    """Why a change is not offered, in two or three words."""
    return _SHORT_REASONS[hindered.why]


def hindrance_words(hindered: Hindered, job: Job) -> str:
    """Why a change is not offered, in a sentence."""
    if hindered.condition is not None:
        return CONDITIONS[hindered.condition]
    field = "" if hindered.needs is None else label(hindered.needs, both_legs=not job.front.split)
    finding = "" if hindered.finding is None else uncapitalised(headline(hindered.finding).rstrip("."))
    return worded(_REASONS[hindered.why].format(field=field, finding=finding))


_SAGS: Mapping[str, str] = {
    "static_captured": "static sag",
    "static_predicted": "static sag, predicted",
    "rider_captured": "rider sag",
    "rider_predicted": "rider sag, predicted",
}


def effect_words(row: WhatifRow, units: Units = METRIC) -> str:
    """One figure that a change moves, now and then.

    >>> from stanchion.job.spec import Kind
    >>> from stanchion.judgement.results.figures import Figure
    >>> row = WhatifRow(where=("front",), code="rider_captured", kind=Kind.LENGTH, present=Figure(31.0),
    ...                 changed=Figure(29.2))
    >>> effect_words(row)
    'Front rider sag 31.0 mm → 29.2 mm'
    """
    words = f"{row.where[0]} {_SAGS[row.code]}" if row.code in _SAGS else _of_machine(row)
    now, then = (show(figure.value or 0.0, row.kind, units) for figure in (row.present, row.changed))
    return f"{words[:1].upper()}{words[1:]} {now} → {then}"


def _of_machine(row: WhatifRow) -> str:
    """The name of a figure that belongs to neither end, with the braking it is for."""
    return f"{row_name(row)}, on the brakes" if row.code == "brakes_fork_mm" else row_name(row)


def what_it_does(one: Suggestion, units: Units = METRIC) -> list[str]:
    """The computed effect of a change, a line for each figure."""
    if one.effects:
        return [effect_words(row, units) for row in one.effects]
    damper = "compression" in one.row.do or "rebound" in one.row.do
    return [NO_EFFECT if damper else NOT_COMPUTED]


def too_far_words(one: Suggestion) -> str:
    """What says that it went too far."""
    return f"Too far when the rider says: {complaint_words(one.row.opposite)}."


def against_words(other: Complaint) -> str:
    """That it makes another complaint worse."""
    return f"It works against “{complaint_words(other)}”: settle first which of the two matters more."


def suggestion_cautions(one: Suggestion) -> list[str]:
    """The cautions that belong to a change."""
    return [caution(code) for code in one.cautions]
