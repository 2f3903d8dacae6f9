"""What it takes to put other springs into one end of the machine, fork or shock alike."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from stanchion.base.record import record
from stanchion.job.model import Adjuster, End, Side, Spring
from stanchion.judgement.criteria.thresholds import FREE_LENGTHS_NOTE_MM, SAME_COIL_DIAMETER_MM, SLACK
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.results.assessment import Band, CoilFigures
from stanchion.judgement.results.codes import LeftOut
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.springs.candidates import InHand, Pair

PLACEHOLDER_MM = 10.0
"""Installed preload of it."""
PLACEHOLDER = Spring(rate_n_per_mm=10.0, free_length_mm=100.0, set_length_mm=100.0 - PLACEHOLDER_MM)
"""Stands in while an end is built; its rate and preload are put in afterwards."""
NO_ADJUSTER = Adjuster(counting="none")
Installed = tuple[float, ...]
"""Installed preload of each spring, read as the job reads it."""


@record(kw_only=True)
class Span:
    """What the adjusters of one end can do, in mm at the spring."""

    range_mm: float | None
    """From fully out to fully in; 0 without an adjuster, None where it is not known."""
    per_turn_mm: float | None
    added_now_mm: float | None
    """What they add where they stand."""
    no_fully_out: bool = False
    """A collar whose ends nobody counted: it is counted from where it stands, and preload must keep to its band."""
    share: float = 1.0
    """How much of what they add the end feels: 1 where every spring has one."""


@record(kw_only=True)
class Fitting:
    """One spring in its place."""

    place: Side | End
    """"left", "right" or "rear"."""
    spring: InHand
    free_length_mm: float | None
    installed_mm: float
    """Installed preload, read as the job reads it."""
    set_length_mm: float | None
    """What the set length will read at the adjuster position where it was read before."""
    set_length_in_mm: float | None
    """The same fully in; None where that is not recorded."""
    spacer_mm: Figure
    """Spacer to cut; a shock has none."""
    coils: CoilFigures
    """What is left at full travel."""


class SpringSwap(Protocol):
    """One end, with other springs to be put in."""

    end: End
    """Which end."""

    @property
    def computable(self) -> Figure:
        """Known where the end can be computed; else what that waits for."""

    @property
    def span(self) -> Span:
        """What its adjusters can do."""

    @property
    def omitted(self) -> tuple[LeftOut, ...]:
        """What was not entered and is left out."""

    @property
    def rate_now(self) -> float | None:
        """Rate of the springs fitted now [N/mm], the mean of two; None where it is not known."""

    @property
    def lengths_now(self) -> tuple[float | None, ...]:
        """Free length of the spring fitted now in each place."""

    def needed(self, installed_mm: float, added_mm: float, sag_mm: float, load_n: float) -> float | None:
        """Rate of each spring that gives a sag at that preload; None where none does."""

    def rate_by_two_sags(self, sags_mm: Sequence[float], loads_n: Sequence[float]) -> float:
        """Rate of each spring by what more load adds to sag.

        Raises:
            OutOfRange: the sags do not rise with the loads.
        """

    def model(self, springs: Pair, installed_mm: Installed) -> EndModel:
        """The end with those springs, adjusters fully out."""

    @property
    def installed_stays_mm(self) -> float | None:
        """Installed preload that a spring of the present length is fitted with whatever is wanted; None: as wanted."""

    def installed_unchanged(self, springs: Pair) -> Installed | None:
        """Installed preload those springs get where spacers or collar stay as they are; None: it is not known."""

    def spacer_range(self, springs: Pair, installed_mm: Installed, band: Band) -> Band:
        """How much longer the spacers may be cut with installed preload in a band; (0, 0) where there is none."""

    def respaced(self, springs: Pair, installed_mm: Installed, longer_mm: float) -> Installed:
        """Installed preload once the spacers are that much longer."""

    def fits(self, springs: Pair) -> bool:
        """Whether nothing recorded speaks against their going in where the present springs are."""

    def fittings(self, springs: Pair, installed_mm: Installed) -> tuple[Fitting, ...]:
        """Each spring in its place."""


def same_diameter(new: InHand, old: Spring) -> bool:
    """Whether a spring is as thick as the one it replaces, where both are known."""
    one, other = new.coils.outer_mm, old.coils.outer_mm
    return one is None or other is None or abs(one - other) <= SAME_COIL_DIAMETER_MM + SLACK


def other_length(new: InHand, old: Spring) -> bool:
    """Whether a spring is known to be of another free length than the one it replaces."""
    one, other = new.free_length_mm, old.free_length_mm
    return one is not None and other is not None and abs(one - other) > FREE_LENGTHS_NOTE_MM + SLACK
