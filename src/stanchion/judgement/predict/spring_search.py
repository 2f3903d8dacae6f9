"""Other springs for one end, as the advice on its sags asks for them. The modules for that are imported only then."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from stanchion.job.model import Job, State
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM
from stanchion.judgement.ends.preload import OUT_OF_BAND, verdict
from stanchion.judgement.results.assessment import Band, FrontFigures, PreloadFigures
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.sag.corrected_loads import Carried
from stanchion.judgement.sag.other_length import other_length
from stanchion.judgement.sag.remedy import NoSuitableRate, Way
from stanchion.judgement.sag.suggested import SuggestedSpring
from stanchion.judgement.sag.targets import Aims, worth_a_spring

if TYPE_CHECKING:
    from stanchion.judgement.springs.candidates import Pair
    from stanchion.judgement.springs.spring_option import Option, Requirements
    from stanchion.judgement.springs.spring_swap import SpringSwap

_Asked = tuple[Aims, Literal["stiffer", "softer"], NoSuitableRate | None, bool]


class SpringSearch:
    """Looks for other springs for one end.

    Args:
        job: the job.
        figures: its springs with their preload.
        band: the band for installed preload.
        static_target: the target for static sag; what the advice asks of it may be wider.
        carried: what the end carries.
    """

    def __init__(
        self,
        job: Job,
        figures: FrontFigures | PreloadFigures,
        band: PreloadBand | None,
        static_target: Band | None,
        carried: Carried,
    ) -> None:
        self._job, self._figures, self._band = job, figures, band
        self._answers: list[tuple[_Asked, SuggestedSpring | Figure]] = []
        self._static_target, self._carried, self._loads = static_target, carried, carried.known()

    def __call__(self, aims: Aims, *, exactly: bool = False) -> NoSuitableRate | None:
        """The nearest rate where no rate that is sold brings both sags in; None where one does, or where it is not
        known."""
        from stanchion.judgement.springs.rate_window import find_no_suitable_rate, rate_requirements  # noqa: PLC0415

        swap = self._swap
        if not swap.computable.known or swap.rate_now is None or "rider" not in self._loads:
            return None
        if not isinstance(self._without_second(aims), Figure):
            return None
        asked = rate_requirements(self._loads, self._carried.static_at_most_n, self._band, aims)
        return find_no_suitable_rate(swap, asked, swap.rate_now, exactly=exactly)

    def brings_in(self, aims: Aims, way: Way, *, in_band: bool = False) -> bool:
        """Whether a spring can be named that brings both sags into the targets as they are."""
        if way not in ("stiffer", "softer") or "rider" not in self._loads:
            return False
        found = self.suggest(aims, way, None, edge=False)
        return isinstance(found, SuggestedSpring) and not (in_band and found.out_of_band)

    def comes_nearer(self, aims: Aims, way: Way, sags_mm: Mapping[State, float | None]) -> bool:
        """Whether the spring that would be named takes the sags nearer to their targets; it does not where none can
        be named."""
        if way not in ("stiffer", "softer") or "rider" not in self._loads:
            return True
        found = self.suggest(aims, way, None, edge=True)
        return isinstance(found, SuggestedSpring) and worth_a_spring(sags_mm, found.sags_mm, aims)

    def suggest(
        self, aims: Aims, way: Literal["stiffer", "softer"], no_suitable_rate: NoSuitableRate | None, *, edge: bool
    ) -> SuggestedSpring | Figure:
        """The spring to fit, or an absent figure that says why no rate can be named.

        The remedy and its words ask alike: it is looked for once.
        """
        asked = (aims, way, no_suitable_rate, edge)
        found = next((answer for before, answer in self._answers if before == asked), None)
        if found is None:
            found = self._look_for(aims, way, no_suitable_rate, edge=edge)
            self._answers.append((asked, found))
        return found

    def _look_for(
        self, aims: Aims, way: Literal["stiffer", "softer"], no_suitable_rate: NoSuitableRate | None, *, edge: bool
    ) -> SuggestedSpring | Figure:
        from stanchion.judgement.springs.suggested_spring import suggest  # noqa: PLC0415

        alone = self._without_second(aims) if way == "softer" else None
        if isinstance(alone, SuggestedSpring):
            return alone
        requirements = self._requirements(aims)
        if isinstance(requirements, Figure):
            return requirements
        option = suggest(self._swap, requirements, way, no_suitable_rate, edge=edge)
        if option is None:
            return absent("no_usual_rate_suits")
        both = any(spring.second.fitted for spring in self._now)
        return replace(_suggested(self._swap, option, self._band), replaces_both=both)

    def _without_second(self, aims: Aims) -> SuggestedSpring | Figure:
        """The main spring alone, where taking out the second one beside it brings both sags in; else absent."""
        if not any(spring.second.arranged == "side_by_side" for spring in self._now):
            return absent("no_usual_rate_suits")
        from stanchion.judgement.springs.suggested_spring import without_second  # noqa: PLC0415

        requirements = self._requirements(aims)
        if isinstance(requirements, Figure):
            return requirements
        option = without_second(self._swap, requirements, self._now)
        if option is None:
            return absent("no_usual_rate_suits")
        return replace(_suggested(self._swap, option, self._band), second_out=True)

    @cached_property
    def _now(self) -> Pair:
        """The springs fitted now."""
        from stanchion.judgement.springs.candidates import fitted_now  # noqa: PLC0415

        return fitted_now(self._job, "front" if isinstance(self._figures, FrontFigures) else "rear")

    def _requirements(self, aims: Aims) -> Requirements | Figure:
        """Targets and loads for springs, or an absent figure with what they wait for."""
        from stanchion.judgement.springs.spring_option import Requirements  # noqa: PLC0415
        from stanchion.judgement.springs.suggested_spring import usual_installed  # noqa: PLC0415

        swap, loads, rider = self._swap, self._carried.loads, aims.targets.get("rider")
        installed = usual_installed(swap, self._band)
        ready = derive(lambda *_: 0.0, swap.computable, loads["rider"], installed)
        if rider is None or installed.value is None or not ready.known:
            return ready
        return Requirements(
            static_target=self._static_target if aims.targets.get("static") == self._static_target else None,
            rider_target=rider,
            static=loads["static"],
            rider=loads["rider"],
            static_at_most_n=self._carried.static_at_most_n,
            band=self._band,
            installed_mm=installed.value,
            aims=aims,
        )

    @cached_property
    def _swap(self) -> SpringSwap:
        """That end, to try other springs in."""
        from stanchion.judgement.springs.fork_spring_swap import ForkSpringSwap  # noqa: PLC0415
        from stanchion.judgement.springs.rear_spring_swap import RearSpringSwap  # noqa: PLC0415

        job, figures = self._job, self._figures
        return ForkSpringSwap(job, figures) if isinstance(figures, FrontFigures) else RearSpringSwap(job, figures)


def _suggested(swap: SpringSwap, option: Option, band: PreloadBand | None) -> SuggestedSpring:
    stands, adjusted = swap.span.no_fully_out, swap.span.range_mm != 0.0
    per_turn_mm = swap.span.per_turn_mm
    installed = [fitting.installed_mm for fitting in option.fittings]
    out = band is not None and not stands and any(verdict(mm, band) in OUT_OF_BAND for mm in installed)
    left_in_mm, length = option.headroom_in_mm.value, None
    if band is not None and out and swap.installed_stays_mm is not None:
        left = math.inf if left_in_mm is None else left_in_mm
        length = other_length(band, (min(installed), max(installed)), option.added_mm, left)
    return SuggestedSpring(
        rate_n_per_mm=option.mean_rate_n_per_mm,
        both_legs=len(option.fittings) > 1,
        installed_mm=None if stands else (min(installed), max(installed)),
        preload_mm=option.preload_mm,
        turns=option.added_mm / per_turn_mm if per_turn_mm and adjusted and not stands else None,
        added_mm=option.added_mm if adjusted and not stands else None,
        fully_in=adjusted and not stands and left_in_mm is not None and left_in_mm < NOT_SHOWN_MM,
        out_of_band=out,
        other_length=length,
        sags_mm={"static": option.best.static_mm.value, "rider": option.best.rider_mm.value},
    )
