"""A fork with other springs put in: preloads at the stop, spacers to cut, and what its lengths then read."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.job.model import SIDES, End, Front, Job, Path, Side, Spring
from stanchion.judgement.criteria.thresholds import SAME_ADDED_MM
from stanchion.judgement.ends.adjusters_alike import set_alike
from stanchion.judgement.ends.fork_model import ForkModel, fork_model
from stanchion.judgement.ends.front import front_figures
from stanchion.judgement.ends.preload_adjustment import per_turn_of_legs, step_of_legs
from stanchion.judgement.ends.set_length_by_stack import by_stack
from stanchion.judgement.ends.set_length_reading import read_point, read_squeezed
from stanchion.judgement.ends.spring_law import as_one_rate, curve_known, law_of_leg
from stanchion.judgement.results.assessment import Band, FrontFigures
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.springs.candidates import InHand, Pair
from stanchion.judgement.springs.spring_swap import (
    NO_ADJUSTER,
    PLACEHOLDER,
    PLACEHOLDER_RATE_N_PER_MM,
    TYPICAL_TRAVEL,
    Fitting,
    Installed,
    Span,
    coils_of,
    in_use,
    other_length,
    same_diameter,
    spring_of,
)
from stanchion.mechanics.fork import Fork, fork_of, with_spring
from stanchion.mechanics.fork_change import rate_for_sag
from stanchion.mechanics.limits import positive
from stanchion.mechanics.preload import new_spacer
from stanchion.mechanics.spring_curve import RateOrCurve

_TRAVEL: Path = ("front", "travel_mm")
_MOST_ROUNDS = 40


class ForkSpringSwap:
    """The fork. A spacer is cut for the installed preload that is wanted."""

    end: End = "front"

    def __init__(self, job: Job, figures: FrontFigures) -> None:
        job = by_stack(job)
        self.front = job.front
        self.sides: tuple[Side, ...] = tuple(s for s in SIDES if job.front.leg(s).coil_fitted)
        self.figures = figures
        bare = replace(job, front=_bare(job.front))
        self.bare = fork_model(bare, front_figures(bare.front, None)[0])
        by_air = any(job.front.leg(side).air.fitted for side in SIDES)
        # Until the curves of the springs fitted now are known, the sags read with them correct no load.
        curves = [curve_known(law_of_leg(job.front, s), job.front.leg(s).spring) for s in self.sides]
        computable = derive(lambda *_: 0.0, self.bare.computable, *curves)
        self.computable = absent("air_sprung") if by_air and not self.sides else computable
        self._beside_air = by_air
        self.omitted = self.bare.omitted
        self.lengths_now = tuple(job.front.leg(side).spring.free_length_mm for side in self.sides)
        rates = [self._rate_now(side) for side in self.sides]
        known = [rate for rate in rates if rate is not None]
        self.rate_now = sum(known) / len(known) if known and len(known) == len(rates) else None
        self.span = self._span()

    def _rate_now(self, side: Side) -> float | None:
        now, travel = self.figures.leg(side).preload_now_mm, recorded(self.front.travel_mm, _TRAVEL)
        squeezed = derive(lambda preload, mm: preload + mm * TYPICAL_TRAVEL, now, travel)
        return as_one_rate(law_of_leg(self.front, side), self.front.leg(side).spring.rate_n_per_mm, squeezed)

    def _law(self, side: Side, spring: InHand) -> RateOrCurve:
        old, at = self.front.leg(side).spring, ("front", side, "spring")
        return spring_of(spring, old, at, self.front.travel_mm)

    def _span(self) -> Span:
        legs = [(self.front.leg(side), self.figures.leg(side)) for side in self.sides]
        turned = [(leg, figures) for leg, figures in legs if leg.adjuster.counting != "none"]
        adjusted = [figures for _, figures in turned]
        if not adjusted:
            return Span(range_mm=0.0, per_turn_mm=None, step_mm=None, added_now_mm=0.0)
        ranges = [figures.adjuster_range_mm.value for figures in adjusted]
        known = [value for value in ranges if value is not None]
        alike = set_alike(self.front, self.figures)
        now = _same([figures.headroom_out_mm.value for figures in adjusted]) if alike is None else alike.added_mm
        return Span(
            range_mm=min(known) if len(known) == len(ranges) else None,
            per_turn_mm=per_turn_of_legs(turned),
            step_mm=step_of_legs(turned),
            added_now_mm=now,
            share=len(adjusted) / len(legs),
            adjusters=tuple(in_use(figures) for figures in adjusted),
        )

    def needed(self, installed_mm: float, added_mm: float, sag_mm: float, load_n: float) -> float | None:
        """Rate of each spring that gives a sag at that preload; None where none does.

        Where the set length is read against a top-out spring, the preload at the stop depends on the rate: it is
        worked out again until both fit.
        """
        rate: float | None = PLACEHOLDER_RATE_N_PER_MM
        for _ in range(_MOST_ROUNDS):
            if rate is None:
                return None
            before = rate
            fork = self._fork([(before, installed_mm)] * len(self.sides), added_mm)
            if not 0.0 < sag_mm < fork.travel_mm:
                return None
            rate = rate_for_sag(fork, sag_mm, self.bare.along(load_n), self.bare.hanging_n)
            if rate is not None and abs(rate - before) < 1e-9 * before:
                break
        return rate

    def rate_by_two_sags(self, sags_mm: Sequence[float], loads_n: Sequence[float]) -> float:
        """Along the legs, the springs alike; not beside a leg whose air carries part of it."""
        if self._beside_air:
            raise OutOfRange("legs sprung by air", 1, "0")
        more_mm = positive("what the rider is to add to sag", sags_mm[1] - sags_mm[0])
        more_n = positive("what the rider adds in load", loads_n[1] - loads_n[0])
        return self.bare.along(more_n) / more_mm / len(self.sides)

    def model(self, springs: Pair, installed_mm: Installed) -> ForkModel:
        """The fork with those springs, adjusters fully out."""
        adjusted = tuple(
            leg.coil_fitted and leg.adjuster.counting != "none"
            for leg in (self.front.leg("left"), self.front.leg("right"))
        )
        laws = [self._law(side, spring) for side, spring in zip(self.sides, springs, strict=True)]
        fork = self._fork(list(zip(laws, installed_mm, strict=True)), 0.0)
        return replace(self.bare, fork=fork, adjusted=adjusted if any(adjusted) else self.bare.adjusted)

    @property
    def installed_stays_mm(self) -> float | None:
        """A spacer is cut for what is wanted."""
        return None

    @property
    def installed_now(self) -> Figure:
        """The mean of the legs that have a spring."""
        if not self.sides:
            return absent("fork_without_spring")
        return derive(
            lambda *mm: sum(mm) / len(mm), *(self.figures.leg(side).installed_preload_mm for side in self.sides)
        )

    def installed_unchanged(self, springs: Pair) -> Installed | None:
        """The spacers stay, so a longer spring is squeezed that much more."""
        kept = []
        for side, new in zip(self.sides, springs, strict=True):
            leg, figures = self.front.leg(side), self.figures.leg(side)
            now, old = figures.installed_preload_mm.value, leg.spring.free_length_mm
            if now is None:
                return None
            longer = 0.0 if new.free_length_mm is None or old is None else new.free_length_mm - old
            if new.fitted is not None and longer == 0.0:
                kept.append(now)
                continue
            at_stop = now - (figures.read_at_mm or 0.0)
            kept.append(read_squeezed(self.front, side, self._law(side, new), at_stop + longer))
        return tuple(kept)

    def spacer_range(self, springs: Pair, installed_mm: Installed, band: Band) -> Band:
        """So that every spring stays in the band."""
        room: Band = (-math.inf, math.inf)
        for side, spring, now in zip(self.sides, springs, installed_mm, strict=True):
            at_stop = self._at_stop(side, spring, now)
            ends = [self._at_stop(side, spring, end) - at_stop for end in band]
            room = (max(room[0], ends[0]), min(room[1], ends[1]))
        return room

    def respaced(self, springs: Pair, installed_mm: Installed, longer_mm: float) -> Installed:
        """As each spring is read then."""
        return tuple(
            read_squeezed(self.front, side, self._law(side, s), self._at_stop(side, s, now) + longer_mm)
            for side, s, now in zip(self.sides, springs, installed_mm, strict=True)
        )

    def fits(self, springs: Pair) -> bool:
        """A spring of another length takes another spacer, and so asks how long the present one is."""
        for side, new in zip(self.sides, springs, strict=True):
            leg = self.front.leg(side)
            if new.fitted is None and not same_diameter(new, leg.spring):
                return False
            if other_length(new, leg.spring) and leg.stack.spacer_mm is None:
                return False
        return True

    def fittings(self, springs: Pair, installed_mm: Installed) -> tuple[Fitting, ...]:
        """Each spring in its leg."""
        return tuple(self._fitting(side, s, mm) for side, s, mm in zip(self.sides, springs, installed_mm, strict=True))

    def _at_stop(self, side: Side, spring: InHand, installed_mm: float) -> float:
        return installed_mm - read_point(self.front, side, self._law(side, spring), installed_mm)

    def _fork(self, springs: Sequence[tuple[RateOrCurve, float]], added_mm: float) -> Fork:
        """The bare fork with springs and installed preloads put in; the adjusters add in the legs that have one."""
        if self.bare.fork is None:
            raise OutOfRange("number of springs", 0, "1 or more: ask `computable` first")
        remaining = iter(springs)
        legs = []
        for side, made in zip(SIDES, self.bare.fork.legs, strict=True):
            if side in self.sides:
                spring, installed = next(remaining)
                leg = self.front.leg(side)
                at_stop = installed - read_point(self.front, side, spring, installed)
                added = 0.0 if leg.adjuster.counting == "none" else added_mm
                legs.append(with_spring(made, spring, at_stop + added))
            else:
                legs.append(made)
        return fork_of(legs, self.bare.fork.travel_mm)

    def _fitting(self, side: Side, new: InHand, installed_mm: float) -> Fitting:
        front, leg, figures = self.front, self.front.leg(side), self.figures.leg(side)
        old = leg.spring
        at: Path = ("front", side, "spring")
        free = old.free_length_mm if new.free_length_mm is None else new.free_length_mm
        law = self._law(side, new)
        at_stop = installed_mm - read_point(front, side, law, installed_mm)
        whole = figures.adjuster_range_mm
        before = derive(lambda mm: mm - (figures.read_at_mm or 0.0), figures.installed_preload_mm)
        where_read = 0.0
        if old.set_length_at is not None and old.free_length_mm is not None and old.set_length_mm is not None:
            read = old.free_length_mm - old.set_length_mm
            where_read = derive(lambda mm: read - mm, figures.installed_preload_mm).value or 0.0
        set_in = None
        if free is not None and whole.value is not None and old.set_length_in_mm is not None:
            set_in = free - read_squeezed(front, side, law, at_stop + whole.value)
        whole_travel = recorded(front.travel_mm, _TRAVEL)
        travel = derive(lambda mm: max(0.0, mm - (front.packers_mm or 0.0)), whole_travel)
        return Fitting(
            place=side,
            spring=new,
            free_length_mm=free,
            installed_mm=installed_mm,
            set_length_mm=None if free is None else free - read_squeezed(front, side, law, at_stop + where_read),
            set_length_in_mm=set_in,
            spacer_mm=_spacer(
                recorded(leg.stack.spacer_mm, ("front", side, "stack", "spacer_mm")),
                recorded(old.free_length_mm, (*at, "free_length_mm")),
                recorded(free, (*at, "free_length_mm")),
                before,
                Figure(at_stop),
            ),
            coils=coils_of(
                new, old, at, (derive(lambda mm: at_stop + mm, whole), Figure(at_stop)), (whole_travel, travel)
            ),
        )


def _bare(front: Front) -> Front:
    """The fork with a stand-in for every spring and no adjuster, so that neither need be recorded."""
    legs = [
        replace(leg, spring=PLACEHOLDER if leg.coil_fitted else Spring(), adjuster=NO_ADJUSTER)
        for leg in (front.left, front.leg("right"))
    ]
    return replace(front, left=legs[0], right=legs[1])


def _spacer(spacer: Figure, old_free: Figure, new_free: Figure, before: Figure, after: Figure) -> Figure:
    """The spacer to cut. Preloads are those at the stop, so that it does not matter where the lengths were read."""
    made = derive(new_spacer, spacer, old_free, new_free, before, after)
    return absent("no_spacer_short_enough") if made.problem == "out_of_range" else made


def _same(values: list[float | None]) -> float | None:
    """The value all have, or the least of them where they differ by less than shows; None where one is not known."""
    known = [value for value in values if value is not None]
    return min(known) if len(known) == len(values) and max(known) - min(known) <= SAME_ADDED_MM else None
