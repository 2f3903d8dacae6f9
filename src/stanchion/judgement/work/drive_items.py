"""The chain as an item of work."""

from __future__ import annotations

from collections.abc import Iterator

from stanchion.job.diff import Difference
from stanchion.job.model import Drive
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.work.work import Item


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
