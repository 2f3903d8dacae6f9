"""The words for what loads and springs predict: findings on loads, predicted sag, the working rate, and geometry."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypedDict

from stanchion.judgement.results.assessment import GeometryFigures
from stanchion.judgement.results.codes import LeftOut
from stanchion.judgement.results.findings import Finding
from stanchion.wording.finding_tables import GeometryWords, PredictionWords, Words
from stanchion.wording.verdicts import STATE_WORDS

PREDICTION: PredictionWords = {
    # --- loads --------------------------------------------------------------------------------------------------
    "scales_disagree_machine": Words(
        "Scales and machine's mass disagree",
        "Weights: the scales give {scales_kg:mass} for the machine alone, but {entered_kg:mass} is entered. Weigh "
        "again; the scales are used.",
    ),
    "scales_disagree_rider": Words(
        "Scales and rider's mass disagree",
        "Weights: the scales give {scales_kg:mass} for the rider, but {entered_kg:mass} is entered. Weigh again with "
        "this rider aboard, in full gear; the scales are used.",
    ),
    "scales_disagree_aboard": Words(
        "Scales and masses disagree",
        "Weights: the scales give {scales_kg:mass} with the rider aboard, the masses {entered_kg:mass}. Weigh again; "
        "the scales are used.",
    ),
    "scales_swapped": Words(
        "Scale shows no more with the rider",
        "{path:label}: {aboard_kg:mass} with the rider aboard, {alone_kg:mass} alone. Swap the two readings or weigh "
        "again.",
    ),
    # --- predicted sag ------------------------------------------------------------------------------------------
    "predicted_bottoms": Words(
        "Springs predicted to bottom",
        "{path:label}: the load presses these springs to full travel. Recheck rate, preload and loads before "
        "anyone rides it.",
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
        "{path:label}: measured {captured_mm:length}, springs and loads give {predicted_mm:length}. {hint_text:text}",
    ),
    "bled_beyond_travel": Words(
        "Bled beyond full travel",
        "{path:label}: the fork was bled at more compression than it has travel. Correct it; until then the "
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
        "off). {hint_text:text}",
    ),
    "working_rate_low": Words(
        "Measured rate below calculated rate",
        "{path:label}: the measured rate is {working:rate}, the calculated rate {predicted:rate} ({share:share} "
        "off). {hint_text:text}",
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


HINTS: HintWords = {
    "estimate": "Weigh it: the loads are estimates.",
    "friction": "Find the friction first.",
    "label": "Check label, friction, lengths, scales.",
    "without": "Enter the missing values first.",
}
"""What a measured sag or rate that is not as predicted points to; at most 40 characters."""

OMITTED: LeftOutWords = {
    "rake": "rake",
    "unsprung_front": "unsprung mass",
    "unsprung_rear": "unsprung mass",
    "travel_front": "full travel",
    "travel_rear": "full travel",
    "top_out": "top-out spring",
    "air": "trapped air",
    "air_diameter": "trapped air (enter the stanchion's diameters)",
    "solids": "solids in the air space",
    "gas": "gas force",
}
"""What a prediction leaves out because it was not entered."""


def omitted_words(codes: tuple[LeftOut, ...]) -> str:
    """What is left out, as a list in words.

    >>> omitted_words(("rake", "air"))
    'rake and trapped air'
    """
    names = list(dict.fromkeys(OMITTED[code] for code in codes))
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}" if names else "nothing"


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
}

GEOMETRY_STATES: dict[str, str] = {**{str(state): word for state, word in STATE_WORDS.items()}, "extended": "extended"}
"""The states in which geometry is given or was measured."""

SAG_FROM: dict[str, str] = {
    "captured": "by measured sag",
    "captured_old": "by old sag",
    "predicted": "by predicted sag",
    "extended": "no sag known",
}
"""Where the sags of that state come from."""


def not_as_predicted(doubt: Finding) -> str:
    """Words beside the difference of a sag that is not as predicted.

    >>> from stanchion.judgement.results.findings import Severity
    >>> not_as_predicted(Finding("sag_not_as_predicted", Severity.NOTE, ("sag", "rear", "rider"), {"hint": "label"}))
    'Rear rider sag differs. Check label, friction, lengths, scales.'
    """
    _, end, state = doubt.where
    hints: Mapping[str, object] = HINTS
    return f"{str(end).capitalize()} {state} sag differs. {hints[str(doubt.values['hint'])]}"


def geometry_state(figures: GeometryFigures) -> str:
    """The state in which geometry is given now, and whether it goes by old sag."""
    old = "captured_old" in (figures.front_from, figures.rear_from)
    return GEOMETRY_STATES[figures.state] + (f", {SAG_FROM['captured_old']}" if old else "")
