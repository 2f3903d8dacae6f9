"""One end with all that the advice on its sags rests on."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.model import End, State
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.loads import EndLoads
from stanchion.judgement.ends.preload_adjustment import PreloadAdjustment
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.sag.corrected_loads import Carried
from stanchion.judgement.sag.sag_figures import Measured
from stanchion.judgement.sag.suggested import SpringFinder
from stanchion.judgement.sag.working_rate import Captured


@record(kw_only=True)
class EndToAdvise:
    """One end with all that its advice rests on."""

    end: End
    model: EndModel
    loads: EndLoads
    captured: Captured
    adjustment: PreloadAdjustment
    per_turn: Figure
    """Known where a turn of every adjuster there is, whether or not they are alike."""
    carried: Carried
    """What it carries, as the measured sags correct it."""
    springs: SpringFinder
    """Finds out about other springs."""

    def state(self, state: State) -> Measured:
        """One state as measured."""
        return self.captured.static if state == "static" else self.captured.rider

    @property
    def amount_known(self) -> bool:
        """Whether a change of sag can be turned into preload."""
        return self.model.computable.known or (
            self.adjustment.per_sag is not None and self.adjustment.share is not None
        )
