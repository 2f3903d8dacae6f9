"""The chain as an item of work, and how far the axle moves when teeth or links change."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.base.errors import OutOfRange
from stanchion.job.diff import Difference
from stanchion.job.model import Drive, Setup, Upkeep
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.work.work import Item
from stanchion.mechanics.chain import centres_for, pitch_of


def chain_items(now: Drive, then: Drive) -> Iterator[Item]:
    """The work on the chain that brings one setup to another; none for what the setup to reach does not record.

    Args:
        now: the present chain.
        then: the chain to reach.
    """
    changes = []
    if then.chain not in ("unknown", now.chain):
        changes.append(Difference(("drive", "chain"), now.chain, then.chain))
    if then.links is not None and (now.links is None or abs(then.links - now.links) > SLACK):
        changes.append(Difference(("drive", "links"), now.links, then.links))
    if changes:
        yield Item(kind="chain", place="rear", changes=tuple(changes))


def axle_back(now: Setup, then: Setup) -> float | None:
    """How far back the axle moves from one setup to another, its chain as taut as before [mm]; below 0: forward.

    Args:
        now: the present setup.
        then: the setup to reach; the chain stays where it records none.

    Returns:
        The way; None where teeth, links or the size of the chain are not known, or no chain goes round.
    """
    before, after = (_centres(of.upkeep or Upkeep(), of.drive or now.drive or Drive()) for of in (now, then))
    return None if before is None or after is None else after - before


def _centres(upkeep: Upkeep, drive: Drive) -> float | None:
    front, rear, links = upkeep.front_teeth, upkeep.rear_teeth, drive.links
    if front is None or rear is None or links is None or drive.chain == "unknown":
        return None
    try:
        return centres_for(pitch_of(drive.chain), front, rear, links)
    except OutOfRange:
        return None
