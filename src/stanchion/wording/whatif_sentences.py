"""The words for a comparison of two jobs: names of rows and steps, and what a change of preload does."""

from __future__ import annotations

from typing import Literal

from stanchion.job.model import Path
from stanchion.job.spec import Kind
from stanchion.judgement.results.figures import Figure
from stanchion.planning.preload_effect import PreloadEffect
from stanchion.planning.whatif import WhatIf
from stanchion.planning.whatif_rows import WhatifRow
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import show
from stanchion.wording.figure_names import FIGURE_NAMES, ON_THE_BRAKES, ON_THE_GAS
from stanchion.wording.labels import END_NAMES, part_label
from stanchion.wording.phrases import fill
from stanchion.wording.verdicts import STATE_WORDS

ROWS: dict[str, str] = {
    "static_predicted": "Static sag, predicted",
    "rider_predicted": "Rider sag, predicted",
    "static_captured": "Static sag, measured",
    "rider_captured": "Rider sag, measured",
    "rise": "Vertical rise",
    "brakes_fork_mm": FIGURE_NAMES["fork_used_mm"],
    "brakes_rear_kg": FIGURE_NAMES["rear_kg"],
    "brakes_trail_mm": FIGURE_NAMES["trail_mm"],
    "damping_pct": "Rebound, same ratio",
    "axle_back_mm": "Axle goes back",
    "axle_forward_mm": "Axle goes forward",
    "axle_room_mm": "Left in its slots",
    "axle_back_beyond_mm": "Axle back, past slots",
    "axle_forward_beyond_mm": "Axle forward, too far",
    "gas_anti_squat_pct": FIGURE_NAMES["anti_squat_pct"],
    "gas_rear_mm": FIGURE_NAMES["rear_rises_mm"],
    "gas_front_kg": FIGURE_NAMES["front_kg"],
    "installed_preload_mm": "Installed preload",
    "preload_now_mm": "Preload now",
    "headroom_out_mm": "Headroom out",
    "headroom_out_turns": "Headroom out, turns",
    "headroom_out_clicks": "Headroom out, clicks",
    "headroom_in_mm": "Headroom in",
    "headroom_in_clicks": "Headroom in, clicks",
    "headroom_in_turns": "Headroom in, turns",
    "coil_bind_clearance_mm": "Left, adjuster in",
    "change_over_mm": "Changes over at",
    "rake_deg": "Rake",
    "trail_mm": "Trail",
    "normal_trail_mm": "Normal trail",
    "wheelbase_mm": "Wheelbase",
}
"""Names of rows, at most 22 characters."""
LEAST_SAID_MM = 0.05
"""What is less is shown as nothing."""
GAS_ROWS = ("gas_anti_squat_pct", "gas_rear_mm", "gas_front_kg")
"""Rows on the machine on the gas."""
AXLE_GOES = (
    "Height, rake, trail, wheelbase, braking and drive are here with the axle where the chain puts it, at the motion "
    "ratio of now. Once the axle is moved, measure the geometry again."
)
AXLE_CANNOT = (
    "The slots do not let the axle go there: the figures are for where it stands now. Other links, or other teeth, "
    "bring it back within its slots."
)
AXLE_UNKNOWN = (
    "The figures leave the axle where it stands: enter chain, links and both sprockets on the screen On the gas to see "
    "where the chain puts it."
)
_OF_THE_CHAIN: tuple[Path, ...] = (("upkeep", "front_teeth"), ("upkeep", "rear_teeth"), ("drive", "links"))


def axle_words(seen: WhatIf) -> str:
    """Where the axle is in a trial of other teeth or links; empty for any other."""
    codes = {row.code for row in seen.rows}
    if codes & {"axle_back_mm", "axle_forward_mm"}:
        return AXLE_GOES
    if codes & {"axle_back_beyond_mm", "axle_forward_beyond_mm"}:
        return AXLE_CANNOT
    return AXLE_UNKNOWN if any(one.path in _OF_THE_CHAIN for one in seen.differences) else ""


BRAKES_ROWS = ("brakes_fork_mm", "brakes_rear_kg", "brakes_trail_mm")
"""Rows on the machine on the brakes, with the fork's air squeezed slowly."""
_BASES: dict[str, Literal["measured", "predicted"]] = {
    "static_predicted": "predicted",
    "rider_predicted": "predicted",
    "static_captured": "measured",
    "rider_captured": "measured",
}
BASIS = {"measured": "sag measured → to expect", "predicted": "sag predicted"}
"""Whether sags are measured or predicted, above their rows."""
NOW_AND_THEN = {"measured": ("measured ", ", to expect "), "predicted": ("predicted ", ", then ")}
"""The same in one line with them."""
RIDER_BEFORE = (
    "Scales: the {rider_kg:mass} that the rider added to them are taken as the earlier rider's weight. Weigh again "
    "with the rider tried here, and measure sag."
)

CASES: dict[str, str] = {
    "free": "{where}, {state:text}, no top-out spring at work: the front {moves:text} {rise:length} along the leg "
    "({vertical:length} vertically), and sag {sags:text} by {sag:length}.",
    "top_out_when_extended": "{where}, {state:text}: the front {moves:text} {rise:length} along the leg "
    "({vertical:length} vertically), sag {sags:text} by only {sag:length}: the top-out spring works when extended.",
    "on_top_out": "{where}, {state:text}: still on the top-out spring: the front {moves:text} only {rise:length} along "
    "the leg ({vertical:length} vertically), and sag does not show it.",
    "topped_out": "{where}, {state:text}: topped out before the change: the front {moves:text} {rise:length} along the "
    "leg; nothing shows while it is topped out.",
    "bottomed": "{where}, {state:text}: at full travel before the change: the front {moves:text} {rise:length} along "
    "the leg; nothing shows while it is there.",
    "": "{where}, {state:text}: what this preload does cannot be said until the load is known.",
}
"""What a change of preload does at the front, by the case it falls under."""

PASSES_OVER = " That holds for only part of the change; the rest of it acts differently."

COLLAR = (
    "{where}, {state:text}: 1 mm of collar raises the rear by {per_mm:length} here; {added:length} {more:text} of it "
    "{moves:text} the rear by {rise:length}, and sag {sags:text} by {sag:length}."
)
"""What a change of preload does at the rear."""
COLLAR_AT_END = {
    "topped_out": "{where}, {state:text}: topped out before the change, so turning the collar shows little or nothing.",
    "bottomed": "{where}, {state:text}: at full travel before the change, so turning the collar shows little or "
    "nothing.",
    "": "{where}, {state:text}: what the collar does here is not known.",
}


def basis_of(row: WhatifRow) -> Literal["measured", "predicted", ""]:
    """Whether a row is a measured or a predicted sag; empty for other rows."""
    return _BASES.get(row.code, "")


def rider_note(seen: WhatIf, units: Units = METRIC) -> str:
    """Which rider's weight the scales are taken to show, where another rider is tried; else empty."""
    if seen.rider_by_scales_kg is None:
        return ""
    return fill(RIDER_BEFORE, {"rider_kg": seen.rider_by_scales_kg}, units)


def brakes_sentence(seen: WhatIf, units: Units = METRIC) -> str:
    """What the change does on the brakes; empty where that is not known, or nothing."""
    words = []
    fork, trail = (
        row.change if row.change is not None and abs(row.change) >= LEAST_SAID_MM else 0.0
        for row in (seen.row(("front",), "brakes_fork_mm"), seen.row(("geometry",), "brakes_trail_mm"))
    )
    if fork:
        words.append(f"{show(abs(fork), Kind.LENGTH, units)} {'more' if fork > 0.0 else 'less'} fork travel")
    if trail:
        words.append(f"trail {'+' if trail > 0.0 else '−'}{show(abs(trail), Kind.LENGTH, units)}")
    return f"On the brakes, slow stroke: {', '.join(words)}." if words else ""


def row_name(row: WhatifRow) -> str:
    """The name of a row within its part of the machine."""
    return ROWS[row.code]


def row_part(row: WhatifRow) -> str:
    """The part of the machine a row belongs to, or that it holds on the brakes or on the gas."""
    return riding_words(row) or part_label(row.where, both_legs=row.both_legs)


def riding_words(row: WhatifRow) -> str:
    """The heading of a row that holds on the brakes or on the gas; empty for another."""
    return ON_THE_BRAKES if row.code in BRAKES_ROWS else ON_THE_GAS if row.code in GAS_ROWS else ""


def preload_sentence(effect: PreloadEffect, units: Units = METRIC) -> str:
    """What a change of preload does in one state, and under which case it falls."""
    rise, sag = effect.rise_along_mm.value, effect.sag_change_mm.value
    values: dict[str, object] = {
        "state": STATE_WORDS[effect.state],
        "rise": _size(effect.rise_along_mm),
        "vertical": _size(effect.rise_mm),
        "sag": _size(effect.sag_change_mm),
        "moves": "sinks" if rise is not None and rise < 0.0 else "rises",
        "sags": "grows" if sag is not None and sag > 0.0 else "falls",
        "per_mm": effect.per_mm.value,
        "added": abs(effect.added_mm),
        "more": "more" if effect.added_mm > 0.0 else "less",
    }
    where = END_NAMES[effect.end].capitalize()
    if effect.end == "front":
        template = CASES[effect.case]
    elif effect.per_mm.known:
        template = COLLAR
        values["moves"] = "lowers" if values["moves"] == "sinks" else "raises"
    else:
        template = COLLAR_AT_END.get(effect.case, COLLAR_AT_END[""])
    passes = PASSES_OVER if effect.case and effect.case_after != effect.case else ""
    return fill(template, values, units, where) + passes


def _size(figure: Figure) -> float | None:
    return None if figure.value is None else abs(figure.value)
