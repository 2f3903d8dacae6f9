"""The words for what advice on the sags has to say in some cases only: codes, and values that are True."""

from __future__ import annotations

AT_EDGE: dict[str, str] = {
    "static": "Static sag is too close to the edge of its target",
    "rider": "Rider sag is too close to the edge of its target",
    "both": "Both are too close to the edges of their targets",
}
"""Which sag of an end is too close to the edge of its target to be judged."""

STAYS_OUT: dict[str, str] = {
    "static": "static sag stays outside its target.",
    "rider": "rider sag stays outside its target.",
    "both": "both stay outside their targets.",
}
"""Which sag of an end is still outside its target after what the advice asks for."""

NEAR_EDGE: dict[str, str] = {
    "static": "static near the edge of its target",
    "rider": "rider near the edge of its target",
    "both": "both near the edges of their targets",
}
"""Which expected sag lies in its target, but closer to the edge than can be told."""

HELD: dict[str, str] = {
    "static": "static at most that: it was read topped out",
    "rider": "rider at most that: it was read topped out",
    "both": "both at most that: they were read topped out",
}
"""Which expected sag is the most there can be, since its load is known only from a state that stood topped out."""

RECHECK: dict[str, str] = {
    "spacer": "recheck lengths and spacer first",
    "lengths": "recheck the lengths first",
}
"""What to look at again where installed preload is out of its band; a shock has no spacer."""

PREDICTED = "predicted"
"""Follows the part of the job where advice rests on predicted sag."""

PERHAPS = {
    "band_low": "Installed preload is perhaps below its band",
    "band_high": "Installed preload is perhaps above its band",
    "stands_low": "Preload is perhaps below its band",
    "stands_high": "Preload is perhaps above its band",
}
"""The same as in FLAGS where preload is so near the edge of its band that its readings cannot tell."""

FLAGS = {
    "rider_topped_out": "rider topped out",
    "static_topped_out": "static topped out",
    "rider_after_topped_out": "rider topped out",
    "static_after_topped_out": "static topped out",
    "static_by_load": "(predicted)",
    "rider_by_load": "rider predicted, static measured",
    "again": "Measure again before buying one.",
    "unread": "Measure again.",
    "again_spacer": "Measure again before cutting one.",
    "band_low": "Installed preload is below its band",
    "band_high": "Installed preload is above its band",
    "stands_low": "Preload is below its band",
    "stands_high": "Preload is above its band",
    "through_linkage": "motion ratio",
    "second_first": "of the second spring",
    "main_chamber": "the main chamber to",
    "hides": "Preload would only hide it.",
    "then": "expect",
    "each": "each",
    "new_fully_out": "adjuster fully out",
    "new_fully_in": "adjuster fully in",
    "apart": "both adjusters alike",
    "alike_out": "both fully out",
    "alike_in": "both fully in",
    "replaces_both": "It replaces both springs.",
    "by_spring": "a spring",
    "by_spacer": "a spacer",
    "recheck_adjuster": "and where the adjuster was when you read them",
    "band_out": "Installed preload then stays out of its band.",
    "no_band": "This use has no band for installed preload: see the manual.",
    "outer_room": "pump the outer chamber up further,",
    "sag_outdated": "it was read before a change",
    "by_prediction": "until then the advice goes by predicted sag",
    "no_advice": "until then there is no advice",
    "changed_since": "Changed since: ride again to judge.",
    "rider_since": "The rider was changed: if another one rode, ride again to judge.",
    "tyres": "tyre radius",
    "both_scales": "the scales were",
    "static_stays_out": "Static sag stays out of target: the balance chamber sets that.",
}
"""Words for values that are True; the first four stand in place of a sag."""

SAG_CHANGES: dict[str, str] = {
    "preload": "preload",
    "springs": "springs",
    "spacer": "spacer",
    "set_length": "set length",
    "oil": "oil",
    "linkage": "linkage",
    "pressure": "pressure",
    "rider": "rider",
}
"""What was changed since sag was read."""
