"""The records of an assessment for a run."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.model import End
from stanchion.judgement.results.codes import NoMorePreload, SagVerdict, TravelVerdict
from stanchion.judgement.results.figures import Figure


@record(kw_only=True)
class EndUsed:
    """Travel used at one end: along the leg at the front, of the shock at the rear, where the markers are."""

    used_mm: Figure
    """From the hanging wheel to the deepest point."""
    available_mm: Figure
    """From the hanging wheel to full travel or stroke, less rigid packers."""
    left_mm: Figure
    share_used: Figure
    """Travel used over travel available."""
    on_rubber_mm: Figure
    """Compression of the bump rubber or cone; absent where none is recorded."""
    in_hydraulic_mm: Figure
    """How far into the hydraulic stop; absent where none is recorded."""
    verdict: TravelVerdict


@record(kw_only=True)
class TyreFigures:
    """Pressures of one tyre, above ambient; the air inside keeps its volume."""

    expected_hot_bar: Figure
    """Expected pressure at the hot temperature, from the cold one."""
    cold_to_set_bar: Figure
    """Cold pressure that gives the wanted hot one, at the same temperatures as on this run."""
    hot_less_wanted_bar: Figure


@record(kw_only=True)
class RunFigures:
    """Figures of one run."""

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
    """What a travel marker is compared with: sag as measured, and headroom of the adjuster."""

    static_mm: Figure
    rider_mm: Figure
    rider_verdict: SagVerdict
    headroom_in_mm: Figure
    no_more: NoMorePreload
    """What leaves little or no preload to add, if anything does."""
    has_adjuster: bool
    unloaded_mm: Figure
    """Where the hanging wheel stands, from the mechanical stop: a top-out spring keeps it off. Along the leg at the
    front, vertical at the wheel at the rear, as sag is."""
    hanging_mm: Figure
    """The hanging position where the marker is: along the leg, or along the shock's shaft."""
    rider_changed: bool = False
    """Whether rider sag was read with other springs or preload, so that it is absent."""
