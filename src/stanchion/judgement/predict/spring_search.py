"""Other springs for one end, as the advice on its sags asks for them. The modules for that are imported only then."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from stanchion.job.model import Job, State
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.results.assessment import Band, FrontFigures, PreloadFigures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.sag.corrected_loads import Carried
from stanchion.judgement.sag.remedy import NoSuitableRate, Way
from stanchion.judgement.sag.suggested import SuggestedSpring
from stanchion.judgement.sag.targets import Aims, worth_a_spring

if TYPE_CHECKING:
    from stanchion.judgement.predict.spring_answers import SpringsAskedFor


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
        self._static_target, self._carried = static_target, carried
        self._loaded = carried.loads["rider"].known

    def __call__(self, aims: Aims, *, exactly: bool = False) -> NoSuitableRate | None:
        """The nearest rate where no rate that is sold brings both sags in; None where one does, or where it is not
        known."""
        from stanchion.judgement.predict import spring_answers  # noqa: PLC0415

        return spring_answers.no_suitable_rate(self._end, aims, exactly=exactly) if self._loaded else None

    def brings_in(self, aims: Aims, way: Way, *, in_band: bool = False) -> bool:
        """Whether a spring can be named that brings both sags into the targets as they are."""
        if way not in ("stiffer", "softer") or not self._loaded:
            return False
        found = self.suggest(aims, way, None, edge=False)
        return isinstance(found, SuggestedSpring) and not (in_band and found.out_of_band)

    def comes_nearer(self, aims: Aims, way: Way, sags_mm: Mapping[State, float | None]) -> bool:
        """Whether the spring that would be named takes the sags nearer to their targets; it does not where none can
        be named."""
        if way not in ("stiffer", "softer") or not self._loaded:
            return True
        found = self.suggest(aims, way, None, edge=True)
        return isinstance(found, SuggestedSpring) and worth_a_spring(sags_mm, found.sags_mm, aims)

    def suggest(
        self, aims: Aims, way: Literal["stiffer", "softer"], no_suitable_rate: NoSuitableRate | None, *, edge: bool
    ) -> SuggestedSpring | Figure:
        """The spring to fit, or an absent figure that says why no rate can be named."""
        from stanchion.judgement.predict import spring_answers  # noqa: PLC0415

        return spring_answers.spring_to_fit(self._end, aims, way, no_suitable_rate, edge=edge)

    @cached_property
    def _end(self) -> SpringsAskedFor:
        """What the answers depend on."""
        from stanchion.judgement.predict import spring_answers  # noqa: PLC0415

        fork = isinstance(self._figures, FrontFigures)
        left_of = spring_answers.fork_for_springs if fork else spring_answers.shock_for_springs
        loads = self._carried.loads
        return spring_answers.SpringsAskedFor(
            job=left_of(self._job),
            figures=self._figures,
            band=self._band,
            static_target=self._static_target,
            static=loads["static"],
            rider=loads["rider"],
            static_at_most_n=self._carried.static_at_most_n,
        )
