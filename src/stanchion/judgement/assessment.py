"""Everything derived from a job: the shape of what assess() gives."""

from __future__ import annotations

from dataclasses import dataclass

from stanchion.job.model import End, Side, State
from stanchion.judgement.figures import Figure
from stanchion.judgement.findings import Finding, Severity

Band = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class PreloadFigures:
    """What one spring and its adjuster give."""

    installed_preload_mm: Figure
    adjuster_range_mm: Figure
    mm_per_turn: Figure
    preload_now_mm: Figure
    greatest_preload_mm: Figure
    preload_force_n: Figure
    headroom_out_mm: Figure
    headroom_in_mm: Figure
    headroom_out_turns: Figure
    headroom_in_turns: Figure
    stack_mm: Figure
    """Spacer, washers and seats together."""
    band: Band
    """Band for installed preload."""
    verdict: str
    """Where installed preload lies: "", "loose", "low", "in", "near_limit", "high", "over_limit"."""
    has_spring: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontFigures:
    """The fork."""

    left: PreloadFigures
    right: PreloadFigures
    rate_n_per_mm: Figure
    """Sum of both legs: what the axle feels."""
    mean_rate_n_per_mm: Figure
    """Mean of the pair: what it is called."""

    def leg(self, side: Side) -> PreloadFigures:
        """The figures of one leg."""
        return self.left if side == "left" else self.right


@dataclass(frozen=True, slots=True, kw_only=True)
class RearFigures:
    """The shock."""

    spring: PreloadFigures
    motion_ratio: Figure
    """At the travel below."""
    wheel_rate_n_per_mm: Figure
    at_travel_mm: float
    """Wheel travel at which ratio and wheel rate are given."""
    gas_force_n: Figure


@dataclass(frozen=True, slots=True, kw_only=True)
class StateFigures:
    """Sag in one state at one end."""

    sag_mm: Figure
    stiction_mm: Figure
    uncertainty_mm: Figure
    """Standard uncertainty of the sag."""
    spread_mm: Figure
    """Largest difference between repeats of one reading; unknown with one reading each."""
    target: Band
    """Target for sag; (0, 0) where the profile has none."""
    verdict: str
    """"", "below", "in", "above"."""
    topped_out: bool
    down_only: bool
    """Taken by one person alone, from the pushed-down reading."""
    single_readings: bool
    """A reading was taken only once, so that its uncertainty is an assumption."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EndSagFigures:
    """Sag at one end."""

    static: StateFigures
    rider: StateFigures
    projected_static_mm: Figure
    """What static sag would be once rider sag is in the middle of its target."""
    advice: Finding | None
    """What the pair of sags means; also among the findings."""

    def state(self, state: State) -> StateFigures:
        """The figures of one state."""
        return self.static if state == "static" else self.rider


@dataclass(frozen=True, slots=True, kw_only=True)
class SagFigures:
    """Sag at both ends."""

    front: EndSagFigures
    rear: EndSagFigures

    def end(self, end: End) -> EndSagFigures:
        """The figures of one end."""
        return self.front if end == "front" else self.rear


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessment:
    """Everything derived from one job."""

    front: FrontFigures
    rear: RearFigures
    sag: SagFigures
    findings: tuple[Finding, ...]
    """Worst first."""
    cautions: tuple[str, ...]
    """Codes of the cautions that apply."""

    @property
    def worst(self) -> Severity | None:
        """The worst severity found, or None."""
        return self.findings[0].severity if self.findings else None
