"""What it takes to put other springs into one end of the machine, fork or shock alike."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from stanchion.base.record import record
from stanchion.job.model import Adjuster, End, Path, Side, Spring
from stanchion.job.spec import Progressive
from stanchion.judgement.criteria.thresholds import FREE_LENGTHS_NOTE_MM, SAME_COIL_DIAMETER_MM, SLACK
from stanchion.judgement.ends.adjuster import near_end
from stanchion.judgement.ends.coils import spring_of_coils
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.spring_law import law_of
from stanchion.judgement.results.assessment import Band, CoilFigures, PreloadFigures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.left_out import LeftOut
from stanchion.judgement.springs.candidates import InHand, Pair
from stanchion.mechanics.spring_curve import RateOrCurve

PLACEHOLDER_MM = 10.0
"""Installed preload of it."""
PLACEHOLDER_RATE_N_PER_MM = 10.0
"""Rate of it."""
PLACEHOLDER = Spring(
    rate_n_per_mm=PLACEHOLDER_RATE_N_PER_MM, free_length_mm=100.0, set_length_mm=100.0 - PLACEHOLDER_MM
)
"""Stands in while an end is built; its rate and preload are put in afterwards."""
NO_ADJUSTER = Adjuster(counting="none")
Installed = tuple[float, ...]
"""Installed preload of each spring, read as the job reads it."""


@record
class AdjusterInUse:
    """One adjuster of an end, as it is judged near its end."""

    range_mm: float | None
    per_turn_mm: float | None
    in_clicks: bool
    """Whether a turn of it is a click."""

    def near_end(self, added_mm: float) -> bool:
        """Whether it is near either end where it adds so much."""
        if self.range_mm == 0.0:
            return False
        left = (added_mm, None if self.range_mm is None else self.range_mm - added_mm)
        return any(near_end(left_mm, None, self.per_turn_mm, in_clicks=self.in_clicks) for left_mm in left)


def in_use(figures: PreloadFigures) -> AdjusterInUse:
    """The adjuster of a spring, from its figures."""
    range_mm, per_turn_mm = figures.adjuster_range_mm.value, figures.mm_per_turn.value
    return AdjusterInUse(range_mm, per_turn_mm, figures.turned_in == "clicks")


@record(kw_only=True)
class Span:
    """What the adjusters of one end can do, in mm at the spring."""

    range_mm: float | None
    """From fully out to fully in; 0 without an adjuster, None where it is not known."""
    per_turn_mm: float | None
    step_mm: float | None
    """Preload of the least that they are turned; None where that is not known."""
    added_now_mm: float | None
    """What they add where they stand."""
    no_fully_out: bool = False
    """A collar whose ends nobody counted: it is counted from where it stands, and preload must keep to its band."""
    share: float = 1.0
    """How much of what they add the end feels: 1 where every spring has one."""
    adjusters: tuple[AdjusterInUse, ...] = ()
    """Each of them."""

    def near_end(self, added_mm: float) -> bool:
        """Whether any adjuster is near an end of its own where they add so much; a collar without counted ends has
        none."""
        return not self.no_fully_out and any(one.near_end(added_mm) for one in self.adjusters)


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
        """Rate of the springs fitted now [N/mm], the mean of two; of a progressive spring, the one rate that gives its
        force at about rider sag. None where it is not known."""

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

    @property
    def installed_now(self) -> Figure:
        """Installed preload of the springs fitted now, the mean of two."""

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


TYPICAL_TRAVEL = 1.0 / 3.0
"""Share of full travel at which a progressive spring is compared with one rate: about where the rider brings it."""


def spring_of(new: InHand, old: Spring, at: Path, travel_mm: float | None) -> RateOrCurve:
    """Rate or curve of a spring in the place of another one.

    Args:
        new: the spring.
        old: the one that is recorded there, for the free length where that of the new one is not known.
        at: path of the recorded one.
        travel_mm: how far full travel compresses it, without packers; None: not recorded. Where too little is known
            for the curve of a progressive spring, the middle of its label stands in.
    """
    if not isinstance(new.rate_n_per_mm, Progressive) and not new.coils.tester and not new.second.fitted:
        return new.rate_n_per_mm
    known = law_of(as_spring(new, old), at, travel_mm, at).spring
    return new.middle_n_per_mm if known is None else known


def as_spring(new: InHand, old: Spring) -> Spring:
    """A spring as it would be recorded in the place of another one.

    Args:
        new: the spring.
        old: the one that is recorded there, for the free length where that of the new one is not known.
    """
    free_mm = old.free_length_mm if new.free_length_mm is None else new.free_length_mm
    return Spring(rate_n_per_mm=new.rate_n_per_mm, free_length_mm=free_mm, coils=new.coils, second=new.second)


def coils_of(
    new: InHand, old: Spring, at: Path, preloads_mm: tuple[Figure, Figure], travels_mm: tuple[Figure, Figure]
) -> CoilFigures:
    """The figures of a spring's coils in the place of another one.

    Args:
        new: the spring.
        old: the one that is recorded there.
        at: path of the recorded one.
        preloads_mm: preload with the adjuster fully in and as it is, both from the mechanical stop.
        travels_mm: how far full travel compresses it, without packers and with them.
    """
    spring = as_spring(new, old)
    whole, shortened = travels_mm
    law = law_of(spring, at, whole.value, at) if new.second.fitted else None
    return spring_of_coils(spring, law, at, preloads_mm, shortened)


def same_diameter(new: InHand, old: Spring) -> bool:
    """Whether a spring is as thick as the one it replaces, where both are known."""
    one, other = new.coils.outer_mm, old.coils.outer_mm
    return one is None or other is None or abs(one - other) <= SAME_COIL_DIAMETER_MM + SLACK


def other_length(new: InHand, old: Spring) -> bool:
    """Whether a spring is known to be of another free length than the one it replaces."""
    one, other = new.free_length_mm, old.free_length_mm
    return one is not None and other is not None and abs(one - other) > FREE_LENGTHS_NOTE_MM + SLACK
