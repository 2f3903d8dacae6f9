"""Which springs could be fitted: those in stock, those fitted now, or standard steps around the rate needed."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.edit import spec_at
from stanchion.job.model import Coils, End, Job, Path, SecondSpring, Side, Spring
from stanchion.job.spec import Number, Progressive, Rate, middle_rate
from stanchion.judgement.criteria.thresholds import FREE_LENGTHS_NOTE_MM, SLACK
from stanchion.judgement.ends.coil_data import coil_data
from stanchion.judgement.ends.spring_law import unmarked_rate
from stanchion.judgement.springs.stock import Stock

STEPS_EACH_WAY = 3
"""So many standard rates are shown below and above the rate needed."""
MOST_MIXED = 40
"""So many mixed pairs are looked at, those whose sum comes nearest to what is needed."""


@record(kw_only=True)
class InHand:
    """One spring that could be fitted."""

    label: str = ""
    """Own words of the stock's row; empty otherwise."""
    rate_n_per_mm: Rate
    """One rate, or the two of a progressive spring."""
    free_length_mm: float | None
    """None: not known, and taken to be that of the spring it replaces."""
    coils: Coils = Coils()
    second: SecondSpring = SecondSpring()
    """A second spring fitted with it now; a spring that replaces it comes alone."""
    count: int = 1
    """How many there are of it."""
    row: int | None = None
    """The row of the stock it is from; None: it is not from the stock."""
    alone: bool = False
    """Whether it is the main spring fitted now with the second one beside it taken out."""
    fitted: Side | End | None = None
    """Where it is fitted now ("left", "right" or "rear"); None: it is not."""

    @property
    def middle_n_per_mm(self) -> float:
        """The rate it is sorted by: its own, or the middle of its label."""
        return middle_rate(self.rate_n_per_mm)

    @property
    def one_rate(self) -> bool:
        """Whether its label is all that there is to its rate."""
        return not isinstance(self.rate_n_per_mm, Progressive) and not self.second.fitted


Pair = tuple[InHand, ...]
"""The springs of one choice: one for each leg that has a spring, or the shock's."""


def to_hand(job: Job, end: End, stock: Stock | None, needed: float, step: float) -> list[Pair]:
    """Every choice worth a look.

    Args:
        job: the job, for the springs fitted now and for the legs that have one.
        end: which end.
        stock: the springs in stock; None, or one that lists no spring for this end: standard steps are shown.
        needed: rate needed of each spring [N/mm].
        step: step between standard rates [N/mm].

    Returns:
        The springs fitted now, those in stock singly or in pairs, and mixed pairs of equal free length.
    """
    places = _places(job, end)
    fitted = [_fitted(job, place) for place in places]
    now = tuple(spring for spring in fitted if spring is not None)
    listed = [] if stock is None else list(_listed(stock, end))
    alone = main_alone(now)
    pairs: list[Pair] = [now, *([] if alone is None else [alone])] if places and len(now) == len(places) else []
    if not listed:
        lengths = [spring_at(job, place).free_length_mm for place in places]
        there = alone or now  # what is there already need not be bought
        present = {spring.rate_n_per_mm if spring.one_rate else None for spring in there} if pairs else set[float]()
        steps = [rate for rate in standard_steps(needed, step) if {rate} != present and _is_a_rate(rate)]
        return pairs + [tuple(InHand(rate_n_per_mm=rate, free_length_mm=mm) for mm in lengths) for rate in steps]
    pairs += [(spring,) * len(places) for spring in listed if spring.count >= len(places)]
    if len(places) == 2:
        alike = len(now) == 2 and replace(now[0], fitted=now[1].fitted) == now[1]
        legs = _Legs(alike=alike, stiffer="left" if _order(job, "left") > _order(job, "right") else "right")
        pairs += [legs.arranged(*both) for both in _mixed([*now[: 1 if alike else 2], *listed], needed)]
    return pairs


def with_the_needed(pairs: list[Pair], around_it: list[Pair], needed: float) -> list[Pair]:
    """The choices and among them the standard step nearest to the rate needed, which may lie far from the best of them:
    so that what is said to be needed can be found in the list.

    Args:
        pairs: the choices, around the best of them.
        around_it: those around the rate needed.
        needed: that rate [N/mm].
    """
    steps = [pair for pair in around_it if all(spring.fitted is None for spring in pair)]
    nearest = min(steps, key=lambda pair: abs(pair[0].middle_n_per_mm - needed), default=None)
    return pairs if nearest is None or nearest in pairs else [*pairs, nearest]


def main_alone(now: Pair) -> Pair | None:
    """The main springs fitted now with the second ones beside them taken out; None where there is none beside.

    Args:
        now: the springs fitted now.
    """
    if not any(spring.second.arranged == "side_by_side" for spring in now):
        return None
    if any(spring.second.arranged == "end_to_end" for spring in now):
        return None  # a spring that stands on another one cannot stay by itself
    return tuple(replace(spring, second=SecondSpring(), alone=True, fitted=None) for spring in now)


def fitted_now(job: Job, end: End) -> Pair:
    """The springs fitted now; none where the rate of one is not known."""
    places = _places(job, end)
    now = tuple(spring for spring in (_fitted(job, place) for place in places) if spring is not None)
    return now if len(now) == len(places) else ()


def _listed(stock: Stock, end: End) -> Iterator[InHand]:
    """The springs in stock that can be chosen from."""
    for at, row in stock.of(end):
        if row.rate_n_per_mm is not None and row.count > 0:
            yield InHand(
                label=row.label,
                rate_n_per_mm=row.rate_n_per_mm,
                free_length_mm=row.free_length_mm,
                coils=row.coils,
                count=row.count,
                row=at,
            )


def _places(job: Job, end: End) -> tuple[Side | End, ...]:
    """Where a spring goes."""
    if end == "rear":
        return ("rear",)
    return tuple(side for side in ("left", "right") if job.front.leg(side).coil_fitted)


_SPRING: Path = ("rear", "spring")


def spring_at(job: Job, place: Side | End) -> Spring:
    """The spring recorded in that place."""
    return job.rear.spring if place == "rear" else job.front.leg("left" if place == "left" else "right").spring


def _fitted(job: Job, place: Side | End) -> InHand | None:
    spring = spring_at(job, place)
    rate = spring.rate_n_per_mm
    if rate is None:
        rate = unmarked_rate(spring, _SPRING).value
    bend = coil_data(spring.coils, (*_SPRING, "coils")).bend
    if rate is None and bend is not None:
        rate = (bend.first_n_per_mm + bend.last_n_per_mm) / 2.0  # to sort by: its curve says what it gives
    if rate is None:
        return None
    return InHand(
        rate_n_per_mm=rate,
        free_length_mm=spring.free_length_mm,
        coils=spring.coils,
        second=spring.second,
        fitted=place,
    )


def standard_steps(needed: float, step: float) -> Iterator[float]:
    """Rates sold, around the one needed.

    >>> list(standard_steps(9.1, 0.25))
    [8.5, 8.75, 9.0, 9.25, 9.5, 9.75]
    """
    below = math.floor(needed / step + SLACK)
    for number in range(below - STEPS_EACH_WAY + 1, below + STEPS_EACH_WAY + 1):
        if number > 0:
            yield number * step


def _is_a_rate(rate: float) -> bool:
    """Whether a job can hold it."""
    spec = spec_at(("rear", "spring", "rate_n_per_mm"))
    return isinstance(spec, Number) and spec.low <= rate <= spec.high


def _mixed(springs: list[InHand], needed: float) -> list[tuple[InHand, InHand]]:
    """Two springs of different rows and of one free length whose rates together come near twice the rate needed; the
    softer one first."""
    # Two that are fitted and of one rate stand in the order of what they are: their legs' names say nothing.
    ordered = sorted(
        springs, key=lambda spring: (spring.middle_n_per_mm, spring.free_length_mm or 0.0, repr(spring.coils))
    )
    rates = [spring.middle_n_per_mm for spring in ordered]
    found: dict[tuple[int, int], float] = {}
    for i, rate in enumerate(rates):
        middle = bisect_left(rates, 2.0 * needed - rate)
        for j in (*_near(range(middle - 1, -1, -1), i, ordered), *_near(range(middle, len(rates)), i, ordered)):
            found[min(i, j), max(i, j)] = abs(rate + rates[j] - 2.0 * needed)
    nearest = sorted(found, key=lambda both: (found[both], rates[both[1]] - rates[both[0]], both))[:MOST_MIXED]
    return [(ordered[i], ordered[j]) for i, j in nearest]


def _near(places: Iterable[int], i: int, springs: list[InHand]) -> Iterator[int]:
    """The first partner in that direction of each of a few; the next ones come less near."""
    taken = 0
    for j in places:
        if j != i and _go_together(springs[i], springs[j]):
            yield j
            taken += 1
            if taken == 2:
                return


def _go_together(one: InHand, other: InHand) -> bool:
    """Whether they are two springs that may stand side by side: of one free length, and no pair by themselves."""
    if one.fitted and other.fitted:
        return False
    if one.second.fitted or other.second.fitted:
        return False
    if one.rate_n_per_mm == other.rate_n_per_mm and (one.fitted or other.fitted or min(one.count, other.count) > 1):
        return False
    if one.free_length_mm is None or other.free_length_mm is None:
        return True
    return abs(one.free_length_mm - other.free_length_mm) <= FREE_LENGTHS_NOTE_MM + SLACK


def _order(job: Job, side: Side) -> tuple[tuple[float, ...], str]:
    """Which of two legs takes the stiffer spring: the greater one.

    A turn does more on a stiffer spring, so it is the leg with the adjuster; then the one that has the stiffer spring
    now. The rest tells unlike legs apart by what they are, and not by their names.
    """
    leg = job.front.leg(side)
    rate = None if leg.spring.rate_n_per_mm is None else middle_rate(leg.spring.rate_n_per_mm)
    has = (leg.adjuster.counting != "none", rate or 0.0, job.front.top_out_legs == side)
    return tuple(map(float, has)), repr(leg)


@record(kw_only=True)
class _Legs:
    """Which spring of a mixed pair goes into which leg."""

    alike: bool
    """The springs fitted now are the same, so that either may stay."""
    stiffer: Side
    """The leg that takes the stiffer one."""

    def arranged(self, softer: InHand, stiffer: InHand) -> Pair:
        """Left and right. A spring that is fitted stays in its leg, unless the one in the other leg is the same."""
        left, right = (softer, stiffer) if self.stiffer == "right" else (stiffer, softer)
        if self.alike:
            left = replace(left, fitted="left") if left.fitted else left
            right = replace(right, fitted="right") if right.fitted else right
        elif left.fitted == "right" or right.fitted == "left":
            left, right = right, left
        return left, right
