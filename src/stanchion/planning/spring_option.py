"""The shape of one choice of springs: what is wanted of it, how they are put in, and what they give."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.model import State
from stanchion.judgement.criteria.profiles import PreloadBand
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.results.codes import OptionVerdict
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.sag.targets import Aims
from stanchion.judgement.springs.rates import Asked, asked_of
from stanchion.judgement.springs.refit import Fitting, Installed


@record(kw_only=True)
class Wanted:
    """What an end is to do."""

    static_target: Band | None
    """None: none is asked."""
    rider_target: Band
    static: Figure
    """Vertical load on its springs, machine alone."""
    rider: Figure
    """The same with the rider aboard."""
    static_at_most_n: float | None
    """The load at most, machine alone, where only that is known."""
    band: PreloadBand | None
    installed_mm: float
    """Installed preload wanted."""
    aims: Aims
    """The targets as an advice on these sags has them."""

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
    def asked(self) -> Asked:
        """What springs of any rate are held against."""
        return asked_of(self.loads, self.static_at_most_n, self.band, self.aims)


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
    """These are the springs that are fitted now."""
    used: tuple[int, ...]
    """The rows of the stock they are taken from, one for each spring."""
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
    """Turns from where the adjuster stands now; in is above 0, out below."""
    turns_from_out: Figure
    """The same target in turns from fully out."""
    mm_from_out: Figure
    """The same in mm at the spring."""
    position: float | None
    """Where the adjuster then stands, 0 fully out to 1 fully in; None: there is none, or its range is not known."""
    headroom_out_turns: Figure
    """What it then still has towards less preload."""
    headroom_in_turns: Figure
    headroom_out_mm: Figure
    headroom_in_mm: Figure
    coil_bind_clearance_mm: Figure
    """The least left at full travel, adjuster fully in, of these springs."""
    required_clearance_mm: Figure
    """The sum of minimum gaps for that spring."""
    other_length: bool
    """Of another free length than the springs they replace."""
    verdict: OptionVerdict
    score: float
    """The smaller, the better; only for putting rows in order."""


@record(kw_only=True)
class Way:
    """How springs are put in."""

    model: EndModel
    installed_mm: Installed
    turned_mm: float | None
    """What the adjusters add with both sags in target; None where they are not."""
    kept: bool
    """The spacers, or the collar, stay as they are."""


@record(kw_only=True)
class Outcome:
    """What verdict and score are made from."""

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
