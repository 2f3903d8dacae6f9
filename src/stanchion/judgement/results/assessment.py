"""The records that make up an assessment, the result of assess()."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from stanchion.base.record import record
from stanchion.job.model import End, Side, State
from stanchion.judgement.results.codes import Caution, PreloadVerdict, SagVerdict, SagVerdictNow
from stanchion.judgement.results.figures import Figure, absent
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.parts import Fault
from stanchion.judgement.results.predicted import ChangeOver, Predicted
from stanchion.judgement.results.ridden import MarkerReference, RunFigures

Band = tuple[float, float]


@record(kw_only=True)
class PreloadFigures:
    """Figures of one spring and its adjuster."""

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
    band: Band | None
    """Band for installed preload; None: the profile has none."""
    band_source: str | None = None
    """Where the band is from, if it is the job's own; None: it is the profile's."""
    verdict: PreloadVerdict
    """Where installed preload lies."""
    unsure_mm: float | None = None
    """Half-width of the interval that holds installed preload with about 95 %, where an edge of the band lies in it."""
    as_it_stands: bool = False
    """A collar that has no fully-out: its installed preload is preload as it stands, and its headroom is what the band
    and coil bind leave."""
    turned_in: Literal["turns", "clicks"] = "turns"
    """What the figures of turns count, as the adjuster is counted: turns, or clicks."""
    step_mm: float | None = None
    """Preload of the least that the adjuster is turned: a click, or a quarter of a turn; None: not known."""
    near_in: bool = False
    """Whether the adjuster is near fully in, or there."""
    by_air: bool = False
    """Whether air springs the leg, and there is no coil spring in it."""
    has_spring: bool = True
    read_at_mm: float | None = 0.0
    """Compression at which the set length was read, and preload is given: at the damper's stop it is less by this
    much. None where a top-out spring is known too little to tell."""


@record(kw_only=True)
class FrontFigures:
    """Figures of the fork."""

    left: PreloadFigures
    right: PreloadFigures
    rate_n_per_mm: Figure
    """Rate of the springs of both legs together, without top-out spring, rubber and air."""
    mean_rate_n_per_mm: Figure
    """Mean rate, by which a pair of springs is named."""

    def leg(self, side: Side) -> PreloadFigures:
        """The figures of one leg."""
        return self.left if side == "left" else self.right


@record(kw_only=True)
class SmoothFigures:
    """Ratio and wheel rate by the smooth curve through linkage pairs, each with its expanded uncertainty."""

    motion_ratio: Figure
    motion_ratio_uncertainty: Figure
    wheel_rate_n_per_mm: Figure
    wheel_rate_uncertainty_n_per_mm: Figure


@record(kw_only=True)
class RearFigures:
    """Figures of the shock."""

    spring: PreloadFigures
    motion_ratio: Figure
    """At `at_travel_mm`."""
    motion_ratio_uncertainty: Figure
    """Expanded uncertainty, from the linkage pairs as finely as the tape reads."""
    wheel_rate_n_per_mm: Figure
    wheel_rate_uncertainty_n_per_mm: Figure
    """Expanded uncertainty, from the linkage pairs alone."""
    smooth: SmoothFigures | None = None
    """Ratio and wheel rate by the smooth curve, where the curve through every pair leaves them too uncertain."""
    at_travel_mm: float
    """Wheel travel at which ratio and wheel rate are given."""
    gas_force_n: Figure
    """Force of the gas with the shock extended, at its present temperature."""
    gas_full_n: Figure
    """Force of the gas at full stroke; absent where its volume is not recorded, and one force is taken."""
    gas_carried: bool = False
    """Whether the gas was set at a noted altitude, and that of this venue, not being recorded, is taken as the same."""

    @property
    def best_motion_ratio(self) -> tuple[Figure, Figure]:
        """The motion ratio by the smooth curve where there is one, and its expanded uncertainty."""
        best = self._best
        return best.motion_ratio, best.motion_ratio_uncertainty

    @property
    def best_wheel_rate(self) -> tuple[Figure, Figure]:
        """The wheel rate by the smooth curve where there is one, and its expanded uncertainty."""
        best = self._best
        return best.wheel_rate_n_per_mm, best.wheel_rate_uncertainty_n_per_mm

    @property
    def _best(self) -> SmoothFigures | RearFigures:
        return self if self.smooth is None else self.smooth


@record(kw_only=True)
class StateFigures:
    """Sag in one state at one end."""

    sag_mm: Figure
    stiction_mm: Figure
    uncertainty_mm: Figure
    """Standard uncertainty of the sag."""
    expanded_mm: Figure
    """Expanded uncertainty of the sag, with about 95 % confidence."""
    coverage: Figure
    """The factor between the two, Student's t by the degrees of freedom of the repeats."""
    spread_mm: Figure
    """Largest difference between repeats of one reading; unknown with one reading each."""
    target: Band | None
    """Target for sag; None: the profile has none, or it is a share of a travel that is not known."""
    target_source: str | None = None
    """Where the target is from, if it is the job's own; None: it is the profile's."""
    verdict: SagVerdict
    """Where the sag lies, or why it is not judged."""
    topped_out: bool
    down_only: bool
    """Whether it was taken from the pushed-down reading only, by one person alone."""
    single_readings: bool
    """Whether a reading was taken only once, so that its uncertainty is an assumption."""
    repeated: bool = False
    """Whether every reading was taken so often, and agrees so well, that taking it again tells no more."""
    changed: bool = False
    """Whether springs or preload were changed since it was read."""

    @property
    def is_old(self) -> bool:
        """Whether there is a sag, and it was read before a change of springs or preload."""
        return self.changed and self.sag_mm.known

    @property
    def verdict_now(self) -> SagVerdictNow:
        """The verdict as it counts now: "stale" where the sag was read before a change."""
        return "stale" if self.is_old else self.verdict

    @property
    def shown_mm(self) -> Figure:
        """The sag to show; absent for an end that is topped out."""
        return absent("stands_topped_out") if self.topped_out and self.sag_mm.known else self.sag_mm


@record(kw_only=True)
class EndSagFigures:
    """Sag at one end."""

    static: StateFigures
    rider: StateFigures
    projected_static_mm: Figure
    """What static sag would be once rider sag is in the middle of its target."""
    advice: Finding | None
    """The advice on both sags; also among the findings."""
    static_hidden: bool = False
    """Whether a top-out spring keeps static sag small, so that its target does not apply."""
    behind: Mapping[State, Band] = MappingProxyType({})
    """The targets that count instead of the profile's where a top-out spring makes a sag read lower."""

    def state(self, state: State) -> StateFigures:
        """The figures of one state."""
        return self.static if state == "static" else self.rider


@record(kw_only=True)
class SagFigures:
    """Sag at both ends."""

    front: EndSagFigures
    rear: EndSagFigures

    def end(self, end: End) -> EndSagFigures:
        """The figures of one end."""
        return self.front if end == "front" else self.rear


@record(kw_only=True)
class CoilFigures:
    """Figures of one spring from its wire, its coils and a spring tester."""

    shear_modulus_mpa: Figure
    """Shear modulus the calculated rate uses; an estimate where the kind of wire is not known."""
    shear_modulus_source: str = ""
    """Source of that modulus."""
    active_coils: Figure
    rate_calculated_n_per_mm: Figure
    """Rate by wire and coils; an estimate where the kind of wire is not known."""
    rate_calculated_range: Band | None = None
    """Range of that rate over the kinds of wire; both ends are equal where the kind is known."""
    rate_measured_n_per_mm: Figure
    """Rate by a spring tester."""
    rate_measured_uncertainty_n_per_mm: Figure
    """Standard uncertainty of that rate."""
    solid_length_mm: Figure
    solid_length_from: str = ""
    """"measured", "nominal", "standard_limit" (the longest EN 13906-1 allows), or "" where there is none."""
    travel_mm: Figure
    """Compression of the spring over full travel, less rigid packers."""
    usable_travel_mm: Figure
    """Free length less solid length."""
    coil_bind_clearance_mm: Figure
    """Clearance between the coils at full travel, adjuster fully in."""
    clearance_now_mm: Figure
    """Clearance at full travel with the adjuster at its present position."""
    required_clearance_mm: Figure
    """Sum of the minimum gaps of EN 13906-1."""
    stress_mpa: Figure
    """Stress in the wire at full travel as set now, with Bergsträsser's factor."""
    stress_share: Figure
    """The same with the factor of direct shear, over the tensile strength of the wire."""
    buckles_at_mm: Figure
    """Compression at which it buckles unless something guides it."""


@record(kw_only=True)
class SpringsFigures:
    """Coil figures of every spring of the machine."""

    left: CoilFigures
    right: CoilFigures
    rear: CoilFigures


@record(kw_only=True)
class Steering:
    """Steering geometry in one state."""

    rake_deg: Figure
    trail_mm: Figure
    """Along the ground."""
    normal_trail_mm: Figure
    """Square to the steering axis."""
    wheelbase_mm: Figure
    """Between the axles, level."""


@record(kw_only=True)
class GeometryFigures(Steering):
    """Steering geometry of the machine now, worked out from the baseline."""

    state: str
    """The state it is given for: "rider", "static", or "extended" where no sag is known."""
    front_from: str
    """Where the front sag in that state comes from: "captured", "captured_old" (read with other springs or preload),
    "predicted", "predicted_doubted" (from weights that contradict), or "extended"."""
    rear_from: str
    """Where the rear sag in that state comes from."""
    front_rise_mm: Figure
    """Vertical rise of the front of the machine from the baseline."""
    rear_rise_mm: Figure
    """Vertical rise of the rear of the machine from the baseline."""
    pitch_deg: Figure
    """Tilt from the baseline; positive is nose down."""
    baseline: Steering
    baseline_state: str
    """The state in which the baseline was measured: "extended", "static" or "rider"."""
    entered: bool
    """Whether anything of the baseline is recorded beyond the rake, which loads along the fork need too."""


@record(kw_only=True)
class UpkeepFigures:
    """Figures from upkeep."""

    fork_oil_hours: Figure
    """Hours run since the fork oil was changed."""
    fork_seals_hours: Figure
    shock_hours: Figure
    gear_ratio: Figure
    """Teeth of the rear sprocket over those of the front one."""


@record(kw_only=True)
class Assessment:
    """Everything derived from one job."""

    front: FrontFigures
    rear: RearFigures
    sag: SagFigures
    springs: SpringsFigures
    predicted: Predicted
    geometry: GeometryFigures
    run: RunFigures | None
    """Figures of the latest run; None before the first."""
    marker_references: Mapping[End, MarkerReference]
    """What the markers of any run are compared with."""
    upkeep: UpkeepFigures
    findings: tuple[Finding, ...]
    """Worst first."""
    cautions: tuple[Caution, ...]
    """The cautions that apply."""
    change_overs: tuple[ChangeOver, ...] = ()
    """Where the rate of two springs that work as one changes."""
    faults: tuple[Fault, ...] = ()
    """Errors of the program that kept a part from being judged; its figures are absent with problem "program_fault"."""

    @property
    def worst(self) -> Severity | None:
        """The worst severity found, or None."""
        return self.findings[0].severity if self.findings else None
