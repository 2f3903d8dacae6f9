"""Data of one choice of springs: its targets, how the springs are fitted, and the sags they give."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.model import State
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.results.codes import OptionVerdict
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.sag.targets import Aims
from stanchion.judgement.springs.rates import RateRequirements, rate_requirements
from stanchion.judgement.springs.spring_swap import Fitting, Installed


@record(kw_only=True)
class Requirements:
    """Targets and loads that springs for an end must meet."""

    static_target: Band | None
    """None: there is no target."""
    rider_target: Band
    static: Figure
    """Vertical load on its springs, machine alone."""
    rider: Figure
    """Vertical load on its springs with the rider aboard."""
    static_at_most_n: float | None
    """Upper limit of the load, machine alone, where only that is known."""
    band: PreloadBand | None
    installed_mm: float
    """Installed preload wanted."""
    aims: Aims
    """The targets as the advice on these sags uses them."""

    @property
    def loads(self) -> dict[State, float]:
        """The loads that are known [N]."""
        known: dict[State, float] = {}
        if self.static.value is not None:
            known["static"] = self.static.value
        if self.rider.value is not None:
            known["rider"] = self.rider.value
        return known

    @property
    def for_rates(self) -> RateRequirements:
        """The requirements for springs of any rate."""
        return rate_requirements(self.loads, self.static_at_most_n, self.band, self.aims)


@record(kw_only=True)
class SagAt:
    """Both sags to expect at one adjuster position."""

    static_mm: Figure
    rider_mm: Figure


@record(kw_only=True)
class Option:
    """One choice of springs."""

    fittings: tuple[Fitting, ...]
    """Each spring in its place."""
    fitted_now: bool
    """Whether these springs are fitted now."""
    used: tuple[int, ...]
    """Rows of the stock that they come from, one for each spring."""
    mean_rate_n_per_mm: float
    installed_mm: float
    """Installed preload, read as the job reads it."""
    out: SagAt
    """Adjuster fully out."""
    mid: SagAt
    fully_in: SagAt
    best: SagAt
    """With the adjuster at the target for rider sag, or as near to it as it goes."""
    turns_for_target: Figure
    """Turns from the present position to the target; positive is in, negative is out."""
    turns_from_out: Figure
    """The target in turns from fully out."""
    mm_from_out: Figure
    """The target in mm at the spring from fully out."""
    position: float | None
    """Position of the adjuster at the target, 0 fully out to 1 fully in; None: no adjuster, or its range is not
    known."""
    headroom_out_turns: Figure
    """Headroom towards less preload at the target."""
    headroom_in_turns: Figure
    headroom_out_mm: Figure
    headroom_in_mm: Figure
    coil_bind_clearance_mm: Figure
    """Least clearance between the coils of these springs at full travel, adjuster fully in."""
    required_clearance_mm: Figure
    """The sum of minimum gaps for that spring."""
    other_length: bool
    """Whether the free length differs from that of the springs they replace."""
    verdict: OptionVerdict
    score: float
    """Smaller is better; only for sorting."""


@record(kw_only=True)
class Installation:
    """How springs are fitted."""

    model: EndModel
    installed_mm: Installed
    turned_mm: float | None
    """Preload added at the adjusters to bring both sags in; None where that is not possible."""
    unchanged: bool
    """Whether the spacers, or the collar, stay as they are."""


@record(kw_only=True)
class Outcome:
    """The data for verdict and score."""

    best: SagAt
    position: float | None
    near_end: bool
    fittings: tuple[Fitting, ...]
    installed_mm: Installed
    clearances_mm: tuple[float | None, ...]
    other_length: bool
    fits: bool
    reached: bool
    other_spacer: bool
