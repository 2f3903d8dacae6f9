"""A shock with another spring put on. The collar stays where it is, so a longer spring is squeezed that much more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stanchion.base.errors import OutOfRange
from stanchion.job.model import AirLeg, End, Job, Path
from stanchion.judgement.ends.rear import rear_figures
from stanchion.judgement.ends.rear_model import RearModel, rear_model
from stanchion.judgement.ends.spring_law import as_one_rate, curve_known, law_of_shock
from stanchion.judgement.results.assessment import Band, PreloadFigures
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.springs.candidates import Pair
from stanchion.judgement.springs.spring_swap import (
    NO_ADJUSTER,
    PLACEHOLDER,
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
from stanchion.mechanics.limits import positive
from stanchion.mechanics.rear import with_shock_spring
from stanchion.mechanics.rear_change import rear_rate_for_sag

_SPRING: Path = ("rear", "spring")
_STROKE: Path = ("rear", "stroke_mm")


class RearSpringSwap:
    """The shock."""

    end: End = "rear"

    def __init__(self, job: Job, figures: PreloadFigures) -> None:
        self.rear = job.rear
        self.figures = figures
        coil = replace(job.rear, spring=PLACEHOLDER, collar=NO_ADJUSTER, air=AirLeg())
        bare = replace(job, rear=coil)
        built = rear_figures(
            bare.rear, None, (None, None), with_uncertainty=False, arm_mm=job.swingarm.pivot_to_axle_mm
        )
        self.bare = rear_model(bare, built.figures, built.linkage)
        # Until the curve of the spring fitted now is known, the sags read with it correct no load.
        curve = curve_known(law_of_shock(job.rear), job.rear.spring)
        computable = derive(lambda *_: 0.0, self.bare.computable, curve)
        self.computable = absent("air_sprung") if job.rear.air.fitted else computable
        self.omitted = self.bare.omitted
        self.lengths_now = (job.rear.spring.free_length_mm,)
        squeezed = derive(
            lambda now, mm: now + mm * TYPICAL_TRAVEL, figures.preload_now_mm, recorded(job.rear.stroke_mm, _STROKE)
        )
        self.rate_now = as_one_rate(law_of_shock(job.rear), job.rear.spring.rate_n_per_mm, squeezed)
        counted = job.rear.collar.counting != "none"
        self.span = Span(
            range_mm=self.figures.adjuster_range_mm.value if counted else 0.0,
            per_turn_mm=self.figures.mm_per_turn.value,
            step_mm=self.figures.step_mm,
            added_now_mm=self.figures.headroom_out_mm.value if counted and not self.figures.as_it_stands else 0.0,
            no_fully_out=self.figures.as_it_stands,
            adjusters=(in_use(self.figures),) if counted else (),
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
        spring = spring_of(springs[0], self.rear.spring, _SPRING, self.rear.stroke_mm)
        return replace(self.bare, rear=with_shock_spring(self.bare.rear, spring, installed_mm[0]))

    @property
    def installed_stays_mm(self) -> float | None:
        """What the collar fully out gives the spring fitted now; a shock has no spacer to change it."""
        return self.figures.installed_preload_mm.value

    @property
    def installed_now(self) -> Figure:
        """As the collar gives."""
        return self.figures.installed_preload_mm

    def installed_unchanged(self, springs: Pair) -> Installed | None:
        """As the collar stands: the present one and what the new spring is longer."""
        new, old, now = springs[0].free_length_mm, self.rear.spring.free_length_mm, self.figures.installed_preload_mm
        if now.value is None:
            return None
        return (now.value + (0.0 if new is None or old is None else new - old),)

    def spacer_range(self, springs: Pair, installed_mm: Installed, band: Band) -> Band:
        """A shock has no spacer."""
        del springs, installed_mm, band
        return (0.0, 0.0)

    def respaced(self, springs: Pair, installed_mm: Installed, longer_mm: float) -> Installed:
        """A shock has no spacer."""
        del springs, longer_mm
        return installed_mm

    def fits(self, springs: Pair) -> bool:
        """What another length does stands in installed preload, where that is known."""
        old = self.rear.spring
        if springs[0].fitted is None and not same_diameter(springs[0], old):
            return False
        return self.figures.installed_preload_mm.known or not other_length(springs[0], old)

    def fittings(self, springs: Pair, installed_mm: Installed) -> tuple[Fitting, ...]:
        """The spring on the shock."""
        new, old = springs[0], self.rear.spring
        at_out_mm = installed_mm[0]
        free = old.free_length_mm if new.free_length_mm is None else new.free_length_mm
        whole = Figure(self.span.range_mm) if self.span.range_mm is not None else self.figures.adjuster_range_mm
        stroke = recorded(self.rear.stroke_mm, _STROKE)
        fitting = Fitting(
            place="rear",
            spring=new,
            free_length_mm=free,
            installed_mm=at_out_mm,
            set_length_mm=old.set_length_mm,
            set_length_in_mm=old.set_length_in_mm,
            spacer_mm=absent("no_stack"),
            coils=coils_of(
                new,
                old,
                _SPRING,
                (derive(lambda mm: at_out_mm + mm, whole), Figure(at_out_mm)),
                (stroke, derive(lambda mm: max(0.0, mm - (self.rear.packers_mm or 0.0)), stroke)),
            ),
        )
        return (fitting,)
