"""How the values of choices are shown."""

from __future__ import annotations

from stanchion.job.model import Path
from stanchion.wording.american import worded
from stanchion.wording.complaint_labels import WHAT_WORDS, WHERE_WORDS

_CHOICES: dict[tuple[str, str], str] = {
    ("counting", "none"): "none",
    ("arranged", "end_to_end"): "end to end",
    ("arranged", "side_by_side"): "side by side",
    ("balance", "unknown"): "unsure",
    ("balance", "port"): "port",
    ("balance", "pressure"): "pumped",
    ("outer", "own_area"): "own area",
    ("outer", "floating"): "by a piston",
    ("chain", "unknown"): "not known",
    ("gauge", "length"): "length",
    ("gauge", "travel"): "travel used",
    ("fitted", "unknown"): "not known",
    ("top_out_legs", "unknown"): "not said",
    ("top_out_legs", "sprung"): "leg with spring",
    ("top_out_legs", "both"): "both legs",
    ("layout", "rocker_on_frame"): "rocker on frame",
    ("layout", "rocker_on_swingarm"): "rocker on swingarm",
    ("ends", "closed_ground"): "ground",
    ("ends", "open_ground"): "open gr.",
    ("wire", "unknown"): "unsure",
    ("wire", "ordinary"): "ordinary spring",
    ("wire", "en_10270_1"): "EN 10270-1",
    ("wire", "en_10270_2"): "EN 10270-2",
    ("wire", "hard_drawn"): "hard drawn",
    ("wire", "oil_tempered"): "oil tempered",
    ("wire", "chrome_silicon"): "chrome-silicon",
    ("wire", "chrome_vanadium"): "chrome-vanadium",
    ("damper", "front"): "fork, each leg",
    ("damper", "left"): "fork, left leg",
    ("damper", "right"): "fork, right leg",
    ("damper", "rear"): "shock",
    ("turned", "high_speed_compression"): "high-speed comp.",
    ("stroke_by", "speed_below"): "speed below 0",
    ("stroke_by", "speed_above"): "speed above 0",
    ("stroke_by", "force_sign"): "sign of the force",
    ("stroke_by", "two_columns"): "column of its own",
    ("signs", "plus_minus"): "comp. +, rebound −",
    ("signs", "minus_plus"): "comp. −, rebound +",
    ("signs", "both_plus"): "both +",
    ("gas", "mean"): "mean at low speed",
    ("gas", "shock"): "by shock pressure",
    ("gas", "removed"): "taken out already",
    **{("where", code): words for code, words in WHERE_WORDS.items()},
    **{("what", code): words for code, words in WHAT_WORDS.items()},
    ("verdict", "not_said"): "not said",
    ("verdict", "same"): "the same",
}


def choice_word(path: Path, value: object) -> str:
    """How the value of a choice or a yes-or-no is shown.

    >>> choice_word(("front", "dampers_split"), False), choice_word(("sag", "rear", "gauge"), "travel")
    ('no', 'travel used')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    name = path[-1] if path else ""
    return worded(_CHOICES.get((str(name), str(value)), "")) or str(value)
