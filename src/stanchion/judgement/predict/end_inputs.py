"""One end of the machine with everything that its prediction needs."""

from __future__ import annotations

from collections.abc import Mapping

from stanchion.base.record import record
from stanchion.job.model import End, State
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.loads import EndLoads
from stanchion.judgement.ends.preload_adjustment import PreloadAdjustment
from stanchion.judgement.results.assessment import FrontFigures, PreloadFigures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.sag.corrected_loads import AsRead
from stanchion.judgement.sag.working_rate import Captured


@record(kw_only=True)
class EndInputs:
    """One end with everything its prediction needs."""

    end: End
    model: EndModel
    loads: EndLoads
    captured: Captured
    adjustment: PreloadAdjustment
    per_turn: Figure
    """Preload of one turn; known where it is known for every adjuster."""
    figures: FrontFigures | PreloadFigures
    """Its springs with their preload."""
    as_read: Mapping[State, AsRead]
    """The end as it was when a sag was read that is old now."""

    @property
    def now(self) -> AsRead:
        """The end as it is now."""
        return AsRead(model=self.model, loads=self.loads)
