"""The words for what loads and springs predict: findings on loads, predicted sag, the working rate, and geometry."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TypedDict, cast

from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import GAUGE_STEP_BAR
from stanchion.judgement.results.assessment import GeometryFigures
from stanchion.judgement.results.codes import OutsideFrom
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Finding
from stanchion.judgement.results.left_out import LeftOut
from stanchion.judgement.results.predicted import AirFigures, AirInUse, FullTravelFigures, Stroke
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.finding_tables import GeometryWords, PredictionWords, Words
from stanchion.wording.phrases import listed
from stanchion.wording.verdicts import STATE_WORDS

PREDICTION: PredictionWords = {
    # --- loads --------------------------------------------------------------------------------------------------
    "scales_disagree_machine": Words(
        "Scales and machine's mass disagree",
        "Weights: the scales give {scales_kg:mass} for the machine alone, but {entered_kg:mass} is entered. Weigh "
        "again; until then the scales are used.",
    ),
    "scales_disagree_rider": Words(
        "Scales and rider's mass disagree",
        "Weights: the scales give {scales_kg:mass} for the rider, but {entered_kg:mass} is entered. Weigh again "
        "with this rider aboard, in full gear; until then the scales are used.",
    ),
    "scales_disagree_aboard": Words(
        "Scales and masses disagree",
        "Weights: the scales give {scales_kg:mass} with the rider aboard, the masses {entered_kg:mass}. Weigh "
        "again; until then the scales are used.",
    ),
    "scales_contradict_machine": Words(
        "Scales or machine's mass wrong",
        "Weights: the scales give {scales_kg:mass} for the machine alone, but {entered_kg:mass} is entered, so the "
        "predicted sags are in doubt. Correct the mass or weigh again.",
    ),
    "scales_contradict_rider": Words(
        "Scales or rider's mass wrong",
        "Weights: the scales give {scales_kg:mass} for the rider, but {entered_kg:mass} is entered, so the "
        "predicted sags are in doubt. Correct the mass, or weigh again with this rider aboard.",
    ),
    "scales_contradict_aboard": Words(
        "Scales or masses wrong",
        "Weights: the scales give {scales_kg:mass} with the rider aboard, the masses {entered_kg:mass}, so the "
        "predicted sags are in doubt. Correct the masses or weigh again.",
    ),
    "scales_other_rider": Words(
        "Scales read with another rider",
        "Weights: [the {scale:text} scale was][{both_scales_text:words}] read with {was_kg:mass} aboard; the "
        "predicted sags are for {rider_kg:mass}. Weigh "
        "again with this rider aboard to be sure.",
    ),
    "scales_swapped": Words(
        "Scale shows no more with the rider",
        "{path:label}: {aboard_kg:mass} with the rider aboard, {alone_kg:mass} alone, so the predicted sags are in "
        "doubt. Swap the two readings or weigh again.",
    ),
    # --- predicted sag ------------------------------------------------------------------------------------------
    "predicted_bottoms": Words(
        "Springs predicted to bottom",
        "{path:label}: the load presses these springs to full travel. Recheck rate, preload and loads before "
        "anyone rides.",
    ),
    "predicted_tops_out": Words(
        "Predicted to top out",
        "{path:label}: preload carries more than the load, so the suspension stays topped out. Check preload and "
        "loads.",
    ),
    "predicted_twice": Words(
        "Linkage balances at two places",
        "{path:label}: the motion ratio falls so fast that the load balances at two places. Measure the pairs again.",
    ),
    "sag_not_as_predicted": Words(
        "Sag not as predicted",
        "{path:label}: measured {captured_mm:length}, springs and loads give {predicted_mm:length}. {hint_text:words}",
    ),
    "bled_beyond_travel": Words(
        "Bled beyond full travel",
        "{path:label}: the fork cannot be bled at more compression than it has travel. Correct it; until then the "
        "figures leave out the air.",
    ),
    "air_no_room": Words(
        "No room for air at full travel",
        "{path:label}: air gap and solids leave no air at full travel. Recheck both; until then the figures "
        "leave out the air.",
    ),
    # --- the working rate ---------------------------------------------------------------------------------------
    "working_rate_high": Words(
        "Measured rate above calculated rate",
        "{path:label}: the measured rate is {working:rate}, the calculated rate {predicted:rate} ({share:share} "
        "off). {hint_text:words}",
    ),
    "working_rate_low": Words(
        "Measured rate below calculated rate",
        "{path:label}: the measured rate is {working:rate}, the calculated rate {predicted:rate} ({share:share} "
        "off). {hint_text:words}",
    ),
}


class HintWords(TypedDict):
    """What to check if a measured figure is not as predicted."""

    estimate: str
    friction: str
    label: str
    without: str


class LeftOutWords(TypedDict):
    """What a prediction leaves out."""

    rake: str
    unsprung_front: str
    unsprung_rear: str
    travel_front: str
    travel_rear: str
    top_out: str
    air: str
    air_diameter: str
    solids: str
    gas: str
    stop: str


HINTS: HintWords = {
    "estimate": "Weigh it: the loads are estimates.",
    "friction": "Find the friction first.",
    "label": "Check label, friction, lengths, scales.",
    "without": "Enter what is missing first.",
}
"""What a measured sag or rate that is not as predicted points to; at most 40 characters."""

OMITTED: LeftOutWords = {
    "rake": "rake",
    "unsprung_front": "unsprung mass",
    "unsprung_rear": "unsprung mass",
    "travel_front": "full travel",
    "travel_rear": "full travel",
    "top_out": "top-out spring",
    "air": "air trapped above the oil",
    "air_diameter": "air trapped above the oil (enter the stanchion's diameters)",
    "solids": "solids in the air space",
    "gas": "gas force",
    "stop": "the bump rubber's force",
}
"""What a prediction leaves out because it was not entered."""


def omitted_words(codes: tuple[LeftOut, ...]) -> str:
    """What is left out, as a list in words.

    >>> omitted_words(("rake", "air"))
    'rake and air trapped above the oil'
    """
    names = list(dict.fromkeys(OMITTED[code] for code in codes))
    return listed(names) or "nothing"


GEOMETRY: GeometryWords = {
    "geometry_sag_when_extended": Words(
        "Sag entered for an extended machine",
        "{path:label} is {sag_mm:length}, but the geometry was measured extended, so the sag is ignored. Enter the "
        "state it was measured in.",
    ),
    "trail_not_positive": Words(
        "Trail not above zero",
        "Geometry: rake, offset and front tyre radius give a trail of {trail_mm:length}, which is impossible. Measure "
        "them again.",
    ),
    "trail_less": Words(
        "Less trail than before",
        "Geometry, {geometry_state_text:words}: trail {trail_mm:length}, rake {rake_deg:angle}; {since_text:words} "
        "{then_mm:length} and {rake_then_deg:angle}. It steers quicker and may shake its head: check fork height, "
        "shock length and sags, and ride slowly at first.",
    ),
}

SINCE: dict[str, str] = {"measured": "when it was measured,", "ridden": "when it was last ridden,"}
"""What the trail is compared with."""

OUTSIDE_FROM: dict[OutsideFrom, str] = {
    "": "",
    "where_set": ", taken as where it was set: enter the altitude",
    "sea_level": ", assumed: enter the altitude",
}
"""After a pressure outside, what it is taken from where it is not recorded."""


def air_changes(air: AirFigures, units: Units) -> Iterator[tuple[str, str]]:
    """What may change about air, in words, and the beginning of the names of the figures on it."""
    tenth = show(GAUGE_STEP_BAR, Kind.PRESSURE, units)
    yield f"+{tenth}", "tenth_bar"
    if air.full.outer_bar_n is not None:
        yield f"Outer +{tenth.split(' ')[0]}", "outer_bar"
    yield "10 °C warmer", "warmer"
    yield "1000 m higher", "higher"


def in_use_words(of: AirInUse, units: Units) -> Iterator[str]:
    """The pressure that an air spring has in use, and what to set for the one wanted there."""
    leg = f"{of.where}: " if of.where in ("left", "right") else ""
    celsius = show(of.at_c.value or 0.0, Kind.TEMPERATURE, units)
    if of.in_use_bar.value is not None:
        yield f"{leg}{show(of.in_use_bar.value, Kind.PRESSURE, units)} at {celsius}"
    if of.set_bar.value is not None and of.wanted_bar is not None:
        wanted, bar = (show(one, Kind.PRESSURE, units) for one in (of.wanted_bar, of.set_bar.value))
        cold = show(of.set_c.value or 0.0, Kind.TEMPERATURE, units)
        yield f"{leg}for {wanted} there, set {bar} at {cold}"


def shock_gas_words(extended: Figure, full: Figure, why: str, units: Units, *, carried: bool = False) -> str:
    """The force of the shock's gas, and what it does over the stroke; nothing where it is not known.

    Args:
        extended: its force with the shock extended.
        full: its force at full stroke.
        why: why that is not known.
        units: units to show.
        carried: whether the altitude here is taken as that where it was set.

    >>> from stanchion.units.known_units import METRIC
    >>> shock_gas_words(Figure(201.0), Figure(), "needs gas volume", METRIC)
    '201 N, taken as constant over the stroke (needs gas volume)'
    """
    if extended.value is None:
        return ""
    force = show(extended.value, Kind.FORCE, units)
    where = "; altitude taken as where it was set" if carried else ""
    if full.value is not None:
        return f"{force} extended, {show(full.value, Kind.FORCE, units)} at full stroke{where}"
    return f"{force}, taken as constant over the stroke ({why}){where}"


_PARTS = {
    "coil_n": "coil spring",
    "air_spring_n": "air spring",
    "trapped_n": "trapped air",
    "gas_n": "gas",
    "rubber_n": "rubber",
}


def parts_words(of: FullTravelFigures, stroke: Stroke, units: Units) -> str:
    """What the force at full travel consists of; nothing where it is not known or a coil spring alone gives it."""
    forces = [(word, getattr(of.parts(stroke), name, None)) for name, word in _PARTS.items()]
    known = [(word, force) for word, force in forces if force is not None]
    if [word for word, _ in known] == [_PARTS["coil_n"]]:
        return ""
    return ", ".join(f"{word} {show(force, Kind.FORCE, units)}" for word, force in known)


GEOMETRY_STATES: dict[str, str] = {**{str(state): word for state, word in STATE_WORDS.items()}, "extended": "extended"}
"""The states in which geometry is given or was measured."""

SAG_FROM: dict[str, str] = {
    "captured": "by measured sag",
    "captured_old": "by old sag",
    "predicted": "by predicted sag",
    "predicted_doubted": "by predicted sag, in doubt",
    "extended": "no sag known",
}
"""Where the sags of that state come from."""


def hint_words(values: Mapping[str, object]) -> str:
    """What to look at first where a measured figure is not as predicted; what is missing is named.

    >>> hint_words({"hint": "without", "left_out": ("gas",)})
    'Enter what is missing first: gas force.'
    """
    left_out, hints = values.get("left_out"), cast(Mapping[str, str], HINTS)
    named = f": {omitted_words(cast(tuple[LeftOut, ...], left_out))}." if left_out else ""
    words = hints[str(values["hint"])]
    return f"{words.removesuffix('.')}{named}" if named else words


def not_as_predicted(doubt: Finding) -> str:
    """Words beside the difference of a sag that is not as predicted.

    >>> from stanchion.judgement.results.findings import Severity
    >>> not_as_predicted(Finding("sag_not_as_predicted", Severity.NOTE, ("sag", "rear", "rider"), {"hint": "label"}))
    'Rear rider sag differs. Check label, friction, lengths, scales.'
    """
    _, end, state = doubt.where
    return f"{str(end).capitalize()} {state} sag differs. {hint_words(doubt.values)}"


def geometry_state(figures: GeometryFigures) -> str:
    """The state in which geometry is given now, and whether it goes by old sag, or by sag in doubt."""
    came_from = (figures.front_from, figures.rear_from)
    marks = (SAG_FROM[of] for of in ("captured_old", "predicted_doubted") if of in came_from)
    return ", ".join((GEOMETRY_STATES[figures.state], *marks))


def softer_or_stiffer(more_n: float) -> str:
    """What springs are that give so much more force than others at the same travel.

    >>> softer_or_stiffer(-469.0), softer_or_stiffer(230.0)
    ('softer', 'stiffer')
    """
    return "stiffer" if more_n > 0.0 else "softer"
