"""The shape of what a run tells, as it hangs on an Assessment."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.model import End
from stanchion.judgement.results.codes import SagVerdict, TravelVerdict
from stanchion.judgement.results.figures import Figure


@record(kw_only=True)
class EndUsed:
    """Travel used at one end: along the leg at the front, of the shock at the rear, where the markers sit."""

    used_mm: Figure
    """From the hanging wheel to the deepest point."""
    available_mm: Figure
    """From the hanging wheel to full travel or stroke, less rigid packers."""
    left_mm: Figure
    share_used: Figure
    """Travel used over travel available."""
    on_rubber_mm: Figure
    """How far the bump rubber was pressed; absent at the front, and where none is recorded."""
    verdict: TravelVerdict


@record(kw_only=True)
class TyreFigures:
    """Pressures of one tyre, above ambient; the air inside keeps its volume."""

    expected_hot_bar: Figure
    """What the cold pressure should become at the hot temperature."""
    cold_to_set_bar: Figure
    """Cold pressure that gives the wanted hot one, at the same temperatures as on this run."""
    hot_less_wanted_bar: Figure


@record(kw_only=True)
class RunFigures:
    """What one run tells."""

    front: EndUsed
    rear: EndUsed
    front_tyre: TyreFigures
    rear_tyre: TyreFigures

    def end(self, end: End) -> EndUsed:
        """Travel used at one end."""
        return self.front if end == "front" else self.rear

    def tyre(self, end: End) -> TyreFigures:
        """The tyre at one end."""
        return self.front_tyre if end == "front" else self.rear_tyre


@record(kw_only=True)
class MarkerReference:
    """What a travel marker is read against: sag as measured, and what the adjuster has left."""

    static_mm: Figure
    rider_mm: Figure
    rider_verdict: SagVerdict
    headroom_in_mm: Figure
    headroom_in_turns: Figure
    has_adjuster: bool
    unloaded_mm: Figure
    """Where the hanging wheel stands, from the mechanical stop: a top-out spring keeps it off. Along the leg at the
    front, vertical at the wheel at the rear, as sag is."""
    hanging_mm: Figure
    """The same where the marker sits: along the leg, or along the shock's shaft."""
    rider_changed: bool = False
    """Rider sag was read with other springs or preload, so that none is given."""
