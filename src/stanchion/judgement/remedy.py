"""The advice on a pair of sags with the numbers behind it: how much preload, how many turns, which spacer."""

from __future__ import annotations

from stanchion.job.model import End
from stanchion.judgement.assessment import Band, EndSagFigures
from stanchion.judgement.figures import Figure, absent, derive
from stanchion.judgement.findings import Finding, Severity
from stanchion.judgement.means import Means
from stanchion.judgement.pair import NOTES, Blocked, Pair, Room, Spacer, Where, advise
from stanchion.judgement.preload import SLACK
from stanchion.judgement.sags import NO_TARGET, Measured
from stanchion.mechanics.sag import change_uncertainty, projected_static, within_spread


def projected(static: Measured, rider: Measured, means: Means) -> Figure:
    """Static sag once rider sag is in the middle of its target; absent where that does not hold."""
    if static.figures.topped_out:
        return absent("topped_out")
    static_mm = static.figures.sag_mm
    if static_mm.value is not None and means.top_out.holds(static_mm.value):
        return absent("on_top_out")
    if rider.figures.target == NO_TARGET:
        return absent("no_target")
    return derive(projected_static, static_mm, rider.figures.sag_mm, Figure(_middle(rider.figures.target)))


def end_figures(end: End, static: Measured, rider: Measured, means: Means, *, impossible: bool) -> EndSagFigures:
    """Sag at one end with what the pair of sags means.

    Args:
        end: which end.
        static: machine alone.
        rider: rider aboard.
        means: how preload is changed there.
        impossible: the two states cannot both be right.
    """
    projected_mm = projected(static, rider, means)
    return EndSagFigures(
        static=static.figures,
        rider=rider.figures,
        projected_static_mm=projected_mm,
        advice=_advice(end, (static, rider), means, projected_mm, impossible=impossible),
    )


def _advice(
    end: End, states: tuple[Measured, Measured], means: Means, projected_mm: Figure, *, impossible: bool
) -> Finding | None:
    static, rider = states
    static_mm, rider_mm = static.figures.sag_mm.value, rider.figures.sag_mm.value
    blocked = _blocked(static, rider, impossible)
    if not blocked and not (static.figures.verdict and rider.figures.verdict):
        return None
    where = ("sag", end)
    if blocked or static_mm is None or rider_mm is None:
        return Finding(advise(Pair(rider="in", static="in", blocked=blocked)), Severity.WARNING, where, {"end": end})
    target = rider.figures.target
    change = rider_mm - _middle(target)
    edge = rider_mm - target[1] if change > 0 else target[0] - rider_mm
    wanted = _Change(change, means, edge)
    code = advise(
        Pair(
            rider=_where(rider.figures.verdict),
            static="topped_out" if static.figures.topped_out else _where(static.figures.verdict),
            projected=_lies(projected_mm.value, static.figures.target),
            installed=means.verdict,
            at_limit=means.at_limit,
            top_out=means.fitted,
            wide=_is_wide(static, rider, rider_mm - static_mm),
            room=wanted.room,
            spacer=wanted.spacer,
        )
    )
    uncertainty = derive(change_uncertainty, rider.state_uncertainty_mm, rider.state_uncertainty_mm).value
    values: dict[str, object] = {
        "end": end,
        "static_mm": static_mm,
        "rider_mm": rider_mm,
        "difference_mm": rider_mm - static_mm,
        "middle_mm": _middle(target),
        "projected_mm": projected_mm.value,
        "installed_mm": means.least_installed_mm if means.verdict in ("low", "loose") else means.most_installed_mm,
        "limit_mm": means.band.limit if means.band else None,
        "change_mm": abs(change),
        "within_spread": (uncertainty is not None and within_spread(change, uncertainty)) or None,
        **wanted.values(code),
    }
    return Finding(code, Severity.NOTE if code in NOTES else Severity.WARNING, where, values)


def _blocked(static: Measured, rider: Measured, impossible: bool) -> Blocked:
    if static.swapped or rider.swapped:
        return "swapped"
    if impossible or static.impossible or rider.impossible:
        return "impossible"
    if static.sticks or rider.sticks:
        return "stiction"
    return "changed" if static.changed or rider.changed else ""


def _where(verdict: str) -> Where:
    return "below" if verdict == "below" else "above" if verdict == "above" else "in"


def _lies(value: float | None, target: Band) -> Where | None:
    if value is None:
        return None
    return "below" if value < target[0] - SLACK else "above" if value > target[1] + SLACK else "in"


def _middle(target: Band) -> float:
    return (target[0] + target[1]) / 2


def _is_wide(static: Measured, rider: Measured, apart_mm: float) -> bool:
    """Whether the sags lie further apart than is usual, by more than the measuring spread."""
    beyond = apart_mm - _usual_difference(static.figures.target, rider.figures.target)
    if beyond <= SLACK:
        return False
    spread = derive(change_uncertainty, static.state_uncertainty_mm, rider.state_uncertainty_mm).value
    return spread is None or not within_spread(beyond, spread)


def _usual_difference(static: Band, rider: Band) -> float:
    """Rider minus static sag above which the spring is soft whatever holds static sag down.

    It is what lies between the middles of both targets, and half the width of the static one: without scale loads
    there is nothing nearer to go by (common practice, no published source).
    """
    return _middle(rider) - _middle(static) + (static[1] - static[0]) / 2


class _Change:
    """A change of sag, turned into preload, and whether adjuster and spacer can give it."""

    def __init__(self, change_mm: float, means: Means, edge_mm: float) -> None:
        self.means = means
        self.edge_share = edge_mm / abs(change_mm) if change_mm else 1.0
        self.more = change_mm > 0
        self.at_springs = None if means.per_sag is None else abs(change_mm) * means.per_sag
        self.left = means.left_in_mm if self.more else means.left_out_mm
        self.at_adjusters = None
        if means.per_sag is not None and means.share:
            self.at_adjusters = abs(change_mm) * means.per_sag / means.share
        self.spacer_change = self._spacer_change()

    @property
    def room(self) -> Room:
        """What the adjusters have left for it."""
        if self.left is None:
            return "unknown"
        if self.left <= SLACK:
            return "end"
        if self.at_adjusters is None:
            return "unknown"
        if self.left >= self.at_adjusters - SLACK:
            return "enough"
        return "into_target" if self.left >= self.edge_share * self.at_adjusters - SLACK else "some"

    @property
    def spacer(self) -> Spacer:
        """Whether a spacer gives what the adjusters cannot, installed preload staying in its band."""
        means = self.means
        if not means.has_spacer:
            return "none"
        if self.at_springs is None or self.spacer_change is None:
            return "unknown"
        by_adjuster = (self.left or 0.0) * (means.share or 0.0)
        possible = self.more or means.spacer_mm is None or means.spacer_mm >= self.spacer_change
        enough = self.spacer_change > SLACK and self.spacer_change + by_adjuster >= self.at_springs - SLACK
        return "in_band" if possible and enough else "out_of_band"

    def _spacer_change(self) -> float | None:
        """How much the spacer changes: as much as is needed and the band allows."""
        means, band = self.means, self.means.band
        installed = means.most_installed_mm if self.more else means.least_installed_mm
        if band is None or installed is None or self.at_springs is None:
            return None
        allowed = band.high - installed if self.more else installed - band.low
        return max(0.0, min(self.at_springs, allowed))

    def values(self, code: str) -> dict[str, object]:
        """The numbers for the wording: by spacer where the advice is one, else by the adjusters."""
        means = self.means
        by_spacer = "spacer" in code
        preload = self.at_adjusters
        as_far_as_it_goes = code in (
            "add_preload_into_target",
            "less_preload_into_target",
            "less_preload_measure_again",
        )
        if as_far_as_it_goes and preload is not None and self.left is not None:
            preload = min(preload, self.left)  # as far as it goes; the rest shows when it is measured again
        spacer = None
        if by_spacer:
            unchecked = code.endswith("_unchecked")
            spacer = self.at_springs if unchecked or self.spacer_change is None else self.spacer_change
            rest = 0.0 if spacer is None or self.at_springs is None else self.at_springs - spacer
            preload = rest / means.share if means.share and rest > SLACK else None
        sign = 1.0 if self.more else -1.0
        return {
            "preload_mm": preload,
            "turns": preload / means.per_turn_mm if preload is not None and means.per_turn_mm else None,
            "need_mm": self.at_adjusters if means.share else self.at_springs,
            "left_mm": self.left,
            "spacer_change_mm": spacer,
            "new_spacer_mm": (
                means.spacer_mm + sign * spacer if spacer is not None and means.spacer_mm is not None else None
            ),
        }
