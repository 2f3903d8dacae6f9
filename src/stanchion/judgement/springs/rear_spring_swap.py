"""A shock with another spring put on. The collar stays where it is, so a longer spring is squeezed that much more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.job.model import End, Job
from stanchion.judgement.ends.coils import spring_of_coils
from stanchion.judgement.ends.rear import rear_figures
from stanchion.judgement.ends.rear_model import RearModel, rear_model
from stanchion.judgement.results.assessment import Band, PreloadFigures
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.springs.candidates import Pair
from stanchion.judgement.springs.spring_swap import (
    NO_ADJUSTER,
    PLACEHOLDER,
    Fitting,
    Installed,
    Span,
    other_length,
    same_diameter,
)
from stanchion.mechanics.limits import positive
from stanchion.mechanics.rear_change import rear_rate_for_sag


class RearSpringSwap:
    """The shock."""

    end: End = "rear"

    def __init__(self, job: Job, figures: PreloadFigures) -> None:
        self.rear = job.rear
        self.figures = figures
        bare = replace(job, rear=replace(job.rear, spring=PLACEHOLDER, collar=NO_ADJUSTER))
        built = rear_figures(bare.rear, None, (None, None), with_uncertainty=False)
        self.bare = rear_model(bare, built.figures, built.linkage)
        self.computable = self.bare.computable
        self.omitted = self.bare.omitted
        self.lengths_now = (job.rear.spring.free_length_mm,)
        self.rate_now = job.rear.spring.rate_n_per_mm
        counted = job.rear.collar.counting != "none"
        self.span = Span(
            range_mm=self.figures.adjuster_range_mm.value if counted else 0.0,
            per_turn_mm=self.figures.mm_per_turn.value,
            added_now_mm=self.figures.headroom_out_mm.value if counted and not self.figures.as_it_stands else 0.0,
            no_fully_out=self.figures.as_it_stands,
        )

    def needed(self, installed_mm: float, added_mm: float, sag_mm: float, load_n: float) -> float | None:
        """Rate of the spring that gives a sag at that preload; None where none does."""
        if self.bare.rear is None or not 0.0 < sag_mm < self.bare.rear.travel_mm:
            return None
        rear = replace(self.bare.rear, preload_mm=installed_mm + added_mm)
        return rear_rate_for_sag(rear, sag_mm, load_n, self.bare.hanging_n)

    def rate_by_two_sags(self, sags_mm: Sequence[float], loads_n: Sequence[float]) -> float:
        """At the shock: each load and each sag through the linkage."""
        if self.bare.rear is None:
            raise OutOfRange("rear end", 0, "one that can be computed: ask `computable` first")
        at = [self.bare.rear.linkage.state(sag_mm) for sag_mm in sags_mm]
        more_mm = positive("what the rider is to add at the shock", at[1][0] - at[0][0])
        loads = [load_n / ratio for load_n, (_, ratio, _) in zip(loads_n, at, strict=True)]
        return positive("what the rider adds at the shock", loads[1] - loads[0]) / more_mm

    def model(self, springs: Pair, installed_mm: Installed) -> RearModel:
        """The rear end with that spring, collar fully out."""
        if self.bare.rear is None:
            raise OutOfRange("rear end", 0, "one that can be computed: ask `computable` first")
        rate = springs[0].rate_n_per_mm
        return replace(self.bare, rear=replace(self.bare.rear, rate_n_per_mm=rate, preload_mm=installed_mm[0]))

    @property
    def installed_stays_mm(self) -> float | None:
        """What the collar fully out gives the spring fitted now; a shock has no spacer to change it."""
        return self.figures.installed_preload_mm.value

    def installed_unchanged(self, springs: Pair) -> Installed | None:
        """As the collar stands: the present one and what the new spring is longer."""
        new, old, now = springs[0].free_length_mm, self.rear.spring.free_length_mm, self.figures.installed_preload_mm
        if now.value is None:
            return None
        return (now.value + (0.0 if new is None or old is None else new - old),)

    def spacer_range(self, springs: Pair, installed_mm: Installed, band: Band) -> Band:
        """A shock has no spacer."""
        return (0.0, 0.0)

    def respaced(self, springs: Pair, installed_mm: Installed, longer_mm: float) -> Installed:
        """A shock has no spacer."""
        return installed_mm

    def fits(self, springs: Pair) -> bool:
        """What another length does stands in installed preload, where that is known."""
        old = self.rear.spring
        if springs[0].fitted is None and not same_diameter(springs[0], old):
            return False
        return self.figures.installed_preload_mm.known or not other_length(springs[0], old)

    def fittings(self, springs: Pair, installed_mm: Installed) -> tuple[Fitting, ...]:
        """The spring on the shock."""
        new, old, at = springs[0], self.rear.spring, ("rear", "spring")
        at_out_mm = installed_mm[0]
        free = old.free_length_mm if new.free_length_mm is None else new.free_length_mm
        whole = Figure(self.span.range_mm) if self.span.range_mm is not None else self.figures.adjuster_range_mm
        stroke = recorded(self.rear.stroke_mm, ("rear", "stroke_mm"))
        fitting = Fitting(
            place="rear",
            spring=new,
            free_length_mm=free,
            installed_mm=at_out_mm,
            set_length_mm=old.set_length_mm,
            set_length_in_mm=old.set_length_in_mm,
            spacer_mm=absent("no_stack"),
            coils=spring_of_coils(
                new.coils,
                (*at, "coils"),
                recorded(free, (*at, "free_length_mm")),
                (derive(lambda mm: at_out_mm + mm, whole), Figure(at_out_mm)),
                derive(lambda mm: max(0.0, mm - (self.rear.packers_mm or 0.0)), stroke),
            ),
        )
        return (fitting,)
