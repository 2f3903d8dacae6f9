"""The words of a work list: what to change, which way, how far, and what to do where that is not possible."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from stanchion.base.text import clean
from stanchion.job.diff import Difference
from stanchion.job.edit import spec_at
from stanchion.job.ends import STEPS
from stanchion.job.spec import Kind, Number
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show
from stanchion.wording.american import worded
from stanchion.wording.choice_words import choice_word
from stanchion.wording.finding_tables import Words, WorkWords
from stanchion.wording.labels import label, uncapitalised
from stanchion.wording.positions import DAMPERS, FROM_CLOSED, bare, counted, showing

if TYPE_CHECKING:
    from stanchion.judgement.work.work import Item, WorkList
    from stanchion.planning.work_targets import WorkTarget

GROUPS = {
    "bench": "On the bench, taken apart",
    "height": "Fork height and shock length",
    "preload": "Preload",
    "damping": "Damping, counted from closed: close it gently first, then open it",
    "upkeep": "Chain and tyres",
}
"""Headings of the groups, in the order of the work."""

_SAG_AGAIN = "Measure the {of}sags again: springs or preload were changed."
_SAG_BACK = "The {of}sags that were read with these settings count again."
CLOSING = "Then, before it is ridden:"
UNTITLED = "an earlier setup"

WORK: WorkWords = {
    "work_list_open": Words(
        "Work list not finished",
        "Work list: {left:count} still to do. Tick them off as they are done, or put the list away.",
    ),
    "work_list_done": Words(
        "Work list done: put it away",
        "Work list: everything that can be done is done. Read the cautions at its end, then put it away.",
    ),
}
"""The words for findings on a work list."""

_PLACES = {"front": "Fork", "left": "Left", "right": "Right", "rear": "Shock"}
_SPRUNG = {"front": "both legs", "rear": "the shock"}
_WHEELS = {"front": "Front", "rear": "Rear"}
_TURNED = {
    "preload": "preload",
    "collar": "preload",
    "shock_rebound": DAMPERS["rebound"],
    **DAMPERS,
}
_DAMPERS = frozenset(_TURNED) - {"preload", "collar"}
_OF_PARTS = (
    *("stack", "top_out", "shock_top_out", "bleed", "air_pressure", "sprockets", "chain", "stops", "shock_stops"),
)
"""Kinds of work with several parts, each named."""
_READ_MM = 0.5
"""What a move of the axle must come to before it is named [mm]."""
_NAMES = {
    "oil_volume": "oil volume",
    "air_gap": "air gap",
    "packers": "packers",
    "shock_packers": "packers",
    "bump_rubber": "bump rubber",
    "stops": "bump rubber or hydraulic stop",
    "shock_stops": "bump rubber or hydraulic stop",
    "gas": "gas pressure",
    "length": "shock length adjuster",
    "link": "link of the rear linkage",
    "oil": "fork oil",
    "tyre": "tyre",
    "pressure": "tyre pressure wanted hot",
    "axle": "axle mark",
}
_BRIEF = {
    "rate_n_per_mm": "",
    "free_length_mm": "free length",
    "spacer_mm": "spacer",
    "washers_mm": "washers",
    "seats_mm": "seats",
    "fitted": "fitted",
    "works_over_mm": "works over",
    "top_out_legs": "in",
    "at_mm": "at compression",
    "touches_mm": "rubber touches at",
    "pairs": "rubber with",
    "hydraulic_mm": "hydraulic stop",
    "pressure_bar": "at pressure",
    "balance_bar": "balance",
    "bore_mm": "bore",
    "length_mm": "chamber",
    "volume_ml": "chamber",
    "balance": "balance chamber",
    "port_mm": "port at",
    "rod_mm": "rod",
    "balance_length_mm": "balance chamber",
    "balance_ml": "balance chamber",
    "outer": "outer chamber",
    "outer_bar": "outer chamber",
    "outer_most_bar": "most in the outer chamber",
    "outer_bore_mm": "outer bore",
    "outer_tube_mm": "tube in it",
    "outer_length_mm": "outer chamber",
    "outer_ml": "outer chamber",
    "front_teeth": "front teeth",
    "chain": "size",
    "links": "links",
    "rear_teeth": "rear teeth",
}
_OF_SECOND = {
    "arranged": "second spring",
    "rate_n_per_mm": "second spring",
    "free_length_mm": "second free length",
    "solid_length_mm": "second solid length",
    "divider_mm": "divider",
    "stop_mm": "travel to the stop",
    "gap_mm": "gap",
}


def sag_words(found: WorkList) -> tuple[str, ...]:
    """Which sags are to be measured again after the work, and which of those read before then count again."""
    both = len(found.sag_again) + len(found.sag_back) > 1 and bool(found.sag_again) != bool(found.sag_back)
    return tuple(
        words.format(of="" if both else " and ".join(ends) + " ")
        for words, ends in ((_SAG_AGAIN, found.sag_again), (_SAG_BACK, found.sag_back))
        if ends
    )


def item_words(item: Item, units: Units = METRIC) -> str:
    """What is to be done, in one line, with both positions.

    >>> from stanchion.judgement.work.work import Item
    >>> now = Difference(("front", "left", "rebound", "now"), 9.0, 12.0)
    >>> item_words(Item(kind="rebound", place="left", changes=(now,), amount=3.0, unit="clicks", direction="out"))
    'Left rebound: 3 clicks out (from 9 to 12 clicks)'
    """
    if item.kind == "spring_out":
        legs = "springs out of both legs" if item.place == "front" else f"{_PLACES[item.place].lower()} spring out"
        return f"Take the {legs}: none was fitted"
    if item.kind == "air_leg":
        legs = _SPRUNG.get(item.place) or f"the {_PLACES[item.place].lower()} leg"
        parts = [_part(change, units) for change in _distinct(item)[1:]]
        by = "air" if item.changes[0].new else "a coil spring"
        return f"Go back to {by} in {legs}" + (f": {', '.join(parts)}" if parts else "")
    name = _name(item)
    if item.problem and not item.changes:
        return f"{name}: {_PROBLEM_HEADS[item.problem]}"
    if item.kind in _TURNED:
        return f"{name}: {_turned(item)}"
    if item.kind in ("spring", "shock_spring"):
        new = any(change.path[-1] == "spring_fitted" for change in item.changes)
        parts = [_part(change, units, bare_old=new) for change in _distinct(item) if change.path[-1] != "spring_fitted"]
        parts += _set_length(item, units)
        return f"{'Fit a' if new else 'Change the'} {name}" + (f": {', '.join(parts)}" if parts else "")
    if item.kind in _OF_PARTS:
        return f"{name}: {', '.join(_part(change, units) for change in _distinct(item))}{_axle(item, units)}"
    return f"{name}: {_plain(item, units)}"


def _axle(item: Item, units: Units) -> str:
    """How far the axle moves with other sprockets; empty where it is not known, or not by as much as can be read."""
    back = item.values.get("axle_back_mm")
    if not isinstance(back, float) or abs(back) < _READ_MM:
        return ""
    return f" (axle {show(abs(back), Kind.LENGTH, units)} {'back' if back > 0.0 else 'forward'})"


def instead_words(item: Item, units: Units = METRIC) -> str:
    """What to do where the earlier setting cannot be reached; empty where it can."""
    values = item.values
    then = counted(_number(values.get("then")), str(values.get("then_unit", "")))
    if item.problem == "beyond_range":
        most = counted(_number(values.get("most")), item.unit)
        if item.kind in _DAMPERS:
            return f"The range recorded ends at {most}. Do not force it: count the range again before going on."
        if item.kind == "collar":
            return f"The range recorded ends at {most}: do not force it. Check the spring and the count of the range."
        missing = values.get("missing_mm")
        by = f", {show(missing, Kind.LENGTH, units)}," if isinstance(missing, float) else ""
        return f"The range ends at {most}: do not force it. Set that, and make up the rest{by} with the spacer."
    if item.problem == "counted_otherwise":
        if item.kind in _DAMPERS:
            return f"It was {then} {FROM_CLOSED}. Count it in {values.get('then_unit')} again, then set it."
        return f"It was {then}. Count it that way again, or enter the whole range in both jobs to have it worked out."
    if item.problem == "no_adjuster":
        return f"It was {then}. No adjuster is recorded now: enter the one there is, or use the spacer."
    if item.problem == "read_otherwise":
        lengths = [show(_number(values.get(name)), Kind.LENGTH, units) for name in ("then_mm", "now_mm")]
        return f"It was {lengths[0]} and is {lengths[1]} now with the same spring and spacers: measure it again."
    if values.get("by_share"):
        return f"It was {then}; this is the same share of the whole range."
    return ""


def unrecorded_words(found: WorkList) -> str:
    """What was not recorded then and stays as it is; empty where all was."""
    paths = set(found.unrecorded)
    names = []
    for path in found.unrecorded:
        in_leg = path[:1] == ("front",) and path[1] in ("left", "right")
        twin = ("front", "left" if path[1] == "right" else "right", *path[2:])
        names.append(uncapitalised(label(path, both_legs=in_leg and (not found.legs_apart or twin in paths))))
    return f"Not recorded then, so left as it is: {'; '.join(dict.fromkeys(names))}." if names else ""


def progress_words(found: WorkList) -> str:
    """How far the work is."""
    not_done, done = len(found.open_items), len(found.done)
    stuck = sum(1 for item in found.items if item.problem)
    words = f"{done} of {done + not_done} done" if done + not_done else "nothing to do"
    return words + (f", {stuck} to look at" if stuck else "")


# --- the parts of a line ----------------------------------------------------------------------------------------------

_PROBLEM_HEADS = {
    "counted_otherwise": "was counted in another way",
    "no_adjuster": "has no adjuster now",
    "read_otherwise": "reads differently",
}


def not_done_words(found: WorkList, units: Units = METRIC) -> str:
    """What is left of a list that is to be put away."""
    left = "; ".join(clean(item_words(item, units), 120) for item in found.open_items)
    return f"{len(found.open_items)} of {len(found.open_items) + len(found.done)} not done: {left}."


def _name(item: Item) -> str:
    place = _WHEELS[item.place] if item.kind in ("tyre", "pressure") else _PLACES[item.place]
    if item.kind == "spring":
        return "springs of both legs" if item.place == "front" else f"{place.lower()} spring"
    if item.kind == "shock_spring":
        return "shock spring"
    if item.kind in ("set_length", "shock_set_length"):
        return f"{place} set length"
    if item.kind == "stack":
        return f"{place} spacer stack"
    if item.kind in ("top_out", "shock_top_out"):
        return f"{place} top-out spring"
    if item.kind == "bleed":
        return f"Bleed the {'fork' if item.place == 'front' else f'{place.lower()} leg'}, extended"
    if item.kind == "air_pressure":
        return f"{place} air"
    if item.kind in ("sprockets", "chain"):
        return item.kind.capitalize()
    if item.kind == "fork_height":
        return "Fork height"
    if item.kind == "axle" and item.changes[0].path[-1] == "wheelbase_mm":
        return "Wheelbase"
    if item.kind in ("oil", "length", "link", "axle"):
        return worded(_NAMES[item.kind].capitalize())
    return worded(f"{place} {_TURNED.get(item.kind) or _NAMES[item.kind]}")


def _turned(item: Item) -> str:
    """Turns, clicks or rings, which way, from where to where."""
    change = item.changes[-1]
    old, new, unit = change.old, _number(change.new), item.unit
    if old is None:
        if item.kind in _DAMPERS:
            return f"set to {counted(new, unit)} {FROM_CLOSED} (not recorded now)"
        from_out = "fully out, then " if unit in STEPS else ""
        return f"{from_out}{counted(new, unit)}{' in' if unit in STEPS else showing(unit)} (not recorded now)"
    span = f"from {bare(_number(old))} to {counted(new, unit)}{showing(unit)}"
    way = f" {item.direction}" if item.direction else ""
    return f"{counted(_number(item.amount), unit)}{way} ({span})" if way else span


def _plain(item: Item, units: Units) -> str:
    """A value from now to then, with the difference where it is a length or a volume."""
    change = item.changes[0]
    old, new = _value(change, change.old, units), _value(change, change.new, units)
    if item.kind in ("packers", "shock_packers"):
        if not change.new:
            return f"take them out ({old})"
        return f"put {new} in" if not change.old else f"from {old} to {new}"
    if item.amount is None or change.old is None:
        recorded = change.old is None or change.old == ""
        return f"{new} (not recorded now)" if recorded else f"from {old} to {new}"
    spec = spec_at(change.path)
    by = show(item.amount, spec.kind, units) if isinstance(spec, Number) else bare(item.amount)
    span = f"(from {_without_unit(old, new)} to {new})"
    if item.kind == "fork_height":
        return worded(f"tube edge {by} {item.direction} at top yoke {span}")
    return f"{by} {item.direction} {span}"


def _part(change: Difference, units: Units, *, bare_old: bool = False) -> str:
    """One of several changes of an item."""
    of_air = change.path[-2:] == ("air", "pressure_bar")  # the pressure itself; a leg is bled at one
    name = "" if of_air else _BRIEF.get(str(change.path[-1]), "")
    if change.path[-2:] == ("stops", "rate_n_per_mm"):
        name = "rubber"
    if "second" in change.path:
        name = _OF_SECOND[str(change.path[-1])]
    old, new = _value(change, change.old, units), _value(change, change.new, units)
    words = new if bare_old or change.old is None or change.old in ("", ()) else f"{_without_unit(old, new)} to {new}"
    return f"{name} {words}".strip()


def _set_length(item: Item, units: Units) -> list[str]:
    """The set length to reach, where no change of the stack explains it."""
    if any("stack" in change.path for change in item.changes) or any(c.path[-1] == "set_length_at" for c in item.along):
        return []
    found = (c for c in item.along if c.path[-1] == "set_length_mm" and None not in (c.old, c.new))
    return [f"set length {_part(change, units)}" for change in found][:1]


def _distinct(item: Item) -> list[Difference]:
    """The changes; of one leg only, where both legs share them."""
    return [change for change in item.changes if item.place != "front" or change.path[:2] != ("front", "right")]


def _without_unit(old: str, new: str) -> str:
    number, _, unit = old.rpartition(" ")
    return number if number and new.endswith(f" {unit}") and "+" not in old + new else old


def _value(change: Difference, value: Any, units: Units) -> str:
    spec = spec_at(change.path)
    if value is None or value in ("", ()):
        return "none"
    if change.path[-1] == "pairs":
        return f"{len(value)} measured pair{'s' if len(value) > 1 else ''}"
    if isinstance(value, tuple):
        *first, last = (show(one, Kind.LENGTH, units) for one in value)
        return " + ".join([*(one.rpartition(" ")[0] for one in first), last])
    if isinstance(spec, Number):
        return bare(value) if spec.kind is Kind.COUNT else show(value, spec.kind, units)
    if isinstance(value, str) and change.path[-1] in ("fitted", "top_out_legs", "arranged"):
        return choice_word(change.path, value)
    return clean(str(value), 60)


def _number(value: object) -> float:
    return value if isinstance(value, float) else 0.0


def groups_of(items: Sequence[Item]) -> list[tuple[str, list[Item]]]:
    """The items under their groups, in the order of the work."""
    found = [(name, [item for item in items if item.group == name]) for name in GROUPS]
    return [(name, items) for name, items in found if items]


# --- what is returned to ----------------------------------------------------------------------------------------------


def target_about(target: WorkTarget) -> str:
    """Day and venue of another job, and its machine if that is another one; empty for the open job."""
    of = target.occasion
    if of is None:
        return ""
    about = " ".join(part for part in (of.date.isoformat(), clean(of.venue, 40)) if part)
    return f"{clean(target.machine, 40)}, {about}" if target.machine else about


def target_what(target: WorkTarget) -> str:
    """The job as it stands, or which run of it."""
    if target.found_on is not None:
        tyres = [show(bar, Kind.PRESSURE) for bar in target.tyres_bar if bar is not None]
        return f"as found on {target.found_on.isoformat()}" + (
            f" ({worded('tyres cold')} {' and '.join(tyres)})" if tyres else ""
        )
    if target.ridden is None or target.run is None:
        return "as the job stands"
    lap = target.ridden.best_lap_s
    best = f"best {show(lap, Kind.TIME)}" if lap is not None else ""
    return ", ".join(part for part in (f"run {target.run + 1}", clean(target.ridden.time, 20), best) if part)


def target_title(target: WorkTarget) -> str:
    """The name of what is returned to."""
    return ", ".join(part for part in (target_about(target), target_what(target)) if part)


def target_offered(target: WorkTarget) -> str:
    """What it is among the setups of its job."""
    notes = [_ORDER[target.order], "best lap of all" if target.best_lap else ""]
    remark = ", ".join(note for note in notes if note)
    return f"{target_what(target)} ({remark})" if remark else target_what(target)


_ORDER = {"": "", "latest": "the latest", "previous": "the one before"}
