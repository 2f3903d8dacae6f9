"""A remedy for the sags of one end, and what is asked about other springs to find it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, Protocol

from stanchion.base.record import record
from stanchion.job.model import State
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.sag.targets import Aims

Work = Literal["none", "turns", "spacer", "spring"]
Way = Literal["", "more", "less", "stiffer", "softer"]
Reason = Literal["", "apart", "limit", "no_room"]
NoRate = Literal["no_rate_needs_more", "no_rate_needs_less", "no_rate_sold"]


@record(kw_only=True)
class NoSuitableRate:
    """No rate that is sold brings both sags in."""

    reason: NoRate
    """What is in the way."""
    nearest_n_per_mm: float | None
    """The rate sold with which the worse sag misses its target least; that of the springs fitted where no other comes
    nearer by enough to be worth fitting; None where it is not known."""
    way: Literal["", "stiffer", "softer"]
    """Which springs those are; "" for the ones fitted."""
    between_n_per_mm: Band | None = None
    """The rates that would, where it is only that none of them is sold."""


@record(kw_only=True)
class Remedy:
    """The least work that brings both sags into target."""

    work: Work
    way: Way = ""
    """For preload "more" or "less", for a spring "stiffer" or "softer"."""
    reason: Reason = ""
    """Why it takes another spring: the sags lie too far apart or too near each other, installed preload is at its
    limit, or neither adjusters nor spacer can go further."""
    turned_mm: float = 0.0
    """Preload to add by the adjusters."""
    spacer_mm: float = 0.0
    """By how much the spacer is to be longer."""
    after_mm: Mapping[State, float | None]
    """Sags to expect once it is done."""
    edge: bool = False
    """It brings a sag only to the edge of its target, or near it, or in within the uncertainty of its readings."""
    spring_suits: bool = False
    """It is only asked for first since the sags can be read again: another spring would bring both in."""
    no_spring_nearer: bool = False
    """Springs would bring both sags in only within the uncertainty of their readings, and none that is sold comes
    nearer to the targets than those fitted."""
    no_suitable_rate: NoSuitableRate | None = None
    """Springs of no rate that is sold bring both sags in; the work is then what brings the worse one nearest."""
    aim_mm: float | None = None
    """Preload at the adjusters, from now, that comes nearest to the middle of the target for rider sag with both sags
    in target; None where there is none."""


class Springs(Protocol):
    """Finds out about other springs before one is chosen; called only where nothing lighter than a spring does."""

    def __call__(self, aims: Aims, *, exactly: bool = False) -> NoSuitableRate | None:
        """What comes nearest where no rate that is sold brings both sags in; None where one does, or it is not known.

        Args:
            aims: the targets.
            exactly: whether the targets are taken as they are, rather than widened by the uncertainty of the sags.
        """

    def brings_in(self, aims: Aims, way: Way, *, in_band: bool = False) -> bool:
        """Whether a spring can be named, stiffer or softer as asked, that brings both sags in without any slack.

        Args:
            aims: the targets.
            way: "stiffer" or "softer".
            in_band: whether installed preload must then be in its band.
        """

    def comes_nearer(self, aims: Aims, way: Way, sags_mm: Mapping[State, float | None]) -> bool:
        """Whether the spring that would be named takes the sags nearer to their targets than they come without it.

        Args:
            aims: the targets.
            way: "stiffer" or "softer".
            sags_mm: the sags without it.
        """


class NoSprings:
    """Nothing is known of other springs."""

    def __call__(self, aims: Aims, *, exactly: bool = False) -> NoSuitableRate | None:
        """Not known."""
        del aims, exactly
        return None

    def brings_in(self, aims: Aims, way: Way, *, in_band: bool = False) -> bool:
        """Not known."""
        del aims, way, in_band
        return False

    def comes_nearer(self, aims: Aims, way: Way, sags_mm: Mapping[State, float | None]) -> bool:
        """Not known, and so not ruled out."""
        del aims, way, sags_mm
        return True
