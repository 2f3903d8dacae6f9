"""The order of the changes that answer a complaint, and which of them go opposite ways."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import cast

from stanchion.job.model import End
from stanchion.judgement.criteria.riders_words import CHANGE_KINDS, ChangeKind

_OTHER_WAY = {"more": "less", "less": "more", "stiffer": "softer", "softer": "stiffer"} | {
    "lower": "higher",
    "higher": "lower",
}
_BY_FINDING: Mapping[str, tuple[str, ...]] = {
    "bottoms_add_preload": ("preload_more", "air_gap_less", "compression_more"),
    "bottoms_air_gap": ("air_gap_less", "compression_more"),
    "bottoms_damping": ("compression_more", "fast_compression_more"),
}
"""In which order a finding on a run asks for changes at its end; other springs come last."""


def opposite(do: ChangeKind) -> ChangeKind:
    """The change of the same part the other way.

    >>> opposite("front_rebound_more"), opposite("rear_spring_softer")
    ('front_rebound_less', 'rear_spring_stiffer')
    """
    part, _, way = do.rpartition("_")
    other = f"{part}_{_OTHER_WAY[way]}"
    return next(one for one in CHANGE_KINDS if one == other)


def in_order(changes: Iterable[ChangeKind], found: Iterable[str], end: End) -> list[ChangeKind]:
    """The changes with those of one end in the order in which the finding on its travel asks for them.

    Args:
        changes: in the order of their rows.
        found: the codes of the findings on the latest run at that end.
        end: which end.

    >>> in_order(["front_compression_more", "front_air_gap_less"], ["bottoms_air_gap"], "front")
    ['front_air_gap_less', 'front_compression_more']
    """
    changes = list(changes)
    asked: Sequence[str] = next((_BY_FINDING[code] for code in found if code in _BY_FINDING), ())
    wanted = [cast(ChangeKind, f"{end}_{part}") for part in (*asked, "spring_stiffer")]
    support = {
        f"{end}_{part}" for part in ("preload_more", "air_gap_less", "compression_more", "fast_compression_more")
    }
    if not asked:
        return changes
    places = [at for at, do in enumerate(changes) if do in support or do in wanted]
    there = [changes[at] for at in places]
    rank = {do: at for at, do in enumerate(wanted[:-1])} | {wanted[-1]: len(wanted) + 1}
    for at, do in zip(places, sorted(there, key=lambda one: rank.get(one, len(wanted))), strict=True):
        changes[at] = do
    return changes
