"""Sag at one end: what the readings of both states give, and whether they can be right."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from statistics import median

from stanchion.base.record import record
from stanchion.job.model import STATES, End, Path, Repeatability, Sag, SagEnd, State
from stanchion.judgement.criteria.profiles import EndProfile, StictionLimits
from stanchion.judgement.criteria.thresholds import (
    REPEATED_WITHIN_MM,
    REPEATS_APART_DIVISIONS,
    REPEATS_APART_MM,
    SLACK,
    TAPE_DIVISION_MM,
    TOPPED_OUT_MM,
)
from stanchion.judgement.results.assessment import Band, StateFigures
from stanchion.judgement.results.codes import FindingCode, SagVerdict
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.sag.borderline import verdict_of
from stanchion.judgement.sag.own_reading import own_reading
from stanchion.mechanics.sag import (
    reading_uncertainty,
    sag,
    sag_from_down,
    sag_from_travel,
    sag_uncertainty,
    state_uncertainty,
    stiction,
    stiction_from_travel,
)
from stanchion.mechanics.statistics import Uncertainty, mean


@record(kw_only=True)
class Measured:
    """One state as measured: its figures, and what the advice has to know beside them."""

    figures: StateFigures
    state_uncertainty: Uncertainty | None
    """Without L1, which two states share [mm]; None where a reading is missing."""
    swapped: bool = False
    """The two readings stand in each other's place."""
    impossible: bool = False
    """A reading lies beyond full extension, or sag beyond the travel."""
    sticks: bool = False
    """Stiction is at fault."""

    @property
    def changed(self) -> bool:
        """Whether springs or preload were changed since it was read."""
        return self.figures.changed


def measure_end(
    recorded: SagEnd,
    end: End,
    profile: EndProfile,
    travel_mm: float | None,
    tape_mm: float | None,
    *,
    own: Repeatability,
    changed: Collection[State] = (),
) -> tuple[dict[State, Measured], list[Finding]]:
    """Both states of one end, and what is to be said of their readings.

    Args:
        recorded: the readings.
        end: which end.
        profile: targets and stiction limits of that end.
        travel_mm: full travel there, along which sag is measured; None where it is not recorded.
        tape_mm: smallest division of the tape; None: 1 mm is taken.
        own: how well the technician's readings repeat.
        changed: the states that were read before springs or preload were changed: whether they are in target says
            nothing any more.
    """
    tape = TAPE_DIVISION_MM if tape_mm is None else tape_mm
    states: dict[State, Measured] = {}
    findings: list[Finding] = []
    for state in STATES:
        reader = _Reader(recorded, end, state, tape, own)
        target = profile.target(state)
        band = target.in_mm(travel_mm) if target else None
        measured = reader.measured(band, target.source if target else None, changed=state in changed)
        found = list(_reading_findings(reader, measured, travel_mm))
        limits = _stiction_limits(profile, travel_mm)
        stuck = measured.figures.stiction_mm.value
        sticks = limits is not None and stuck is not None and stuck > limits.fault + SLACK
        if limits and stuck is not None and stuck > limits.note + SLACK:
            limit = limits.fault if sticks else limits.note
            found.append(
                Finding(
                    "stiction_fault" if sticks else "stiction_note",
                    Severity.FAULT if sticks else Severity.NOTE,
                    reader.where,
                    {"stiction_mm": stuck, "limit_mm": limit},
                )
            )
        states[state] = Measured(
            figures=_half_read(measured.figures, 0.0 if limits is None else limits.fault / 2.0),
            state_uncertainty=measured.state_uncertainty,
            swapped=measured.swapped,
            impossible=any(finding.code in _IMPOSSIBLE for finding in found),
            sticks=sticks,
        )
        findings += found
    findings += repeat_findings(recorded, end, tape)
    static, rider = (states[state].figures.sag_mm.value for state in STATES)
    mixed_up = static is not None and rider is not None and rider < static - tape - SLACK
    if mixed_up:
        findings.append(
            Finding(
                "rider_above_static",
                Severity.FAULT,
                ("sag", end, "rider"),
                {"static_mm": static, "rider_mm": rider},
            )
        )
    states = {state: _judged(measured, states, mixed_up=mixed_up) for state, measured in states.items()}
    for state in STATES:
        findings += _target_findings(states[state].figures, ("sag", end, state))
    return states, findings


def sag_read(sag: Sag, end: End, state: State) -> Figure:
    """The sag that some readings of a state give, unjudged: also those of another time."""
    return _Reader(sag.end(end), end, state, sag.tape_resolution_mm or 1.0, Repeatability()).sag()


def _stiction_limits(profile: EndProfile, travel_mm: float | None) -> StictionLimits | None:
    """The limits for the travel of that end; where it is not recorded, for that which the profile is meant for."""
    if profile.stiction is None:
        return None
    meant = sum(profile.travel) / 2.0 if profile.travel else None
    return profile.stiction.at(meant if travel_mm is None else travel_mm)


def _half_read(figures: StateFigures, half_stiction_mm: float) -> StateFigures:
    """The figures without a verdict that a lifted reading could change.

    Without one, sag is too large by half the stiction: below its target it is so all the more, above it only where that
    is more than the stiction that is allowed can explain.

    Args:
        figures: the figures.
        half_stiction_mm: half of the stiction that is at fault [mm].
    """
    sag_mm, target = figures.sag_mm.value, figures.target
    if not figures.down_only or sag_mm is None or target is None or figures.verdict == "below":
        return figures
    if figures.verdict == "above" and sag_mm - target[1] > half_stiction_mm + (figures.expanded_mm.value or 0.0):
        return figures
    return replace(figures, verdict="down_only")


def _judged(one: Measured, states: Mapping[State, Measured], *, mixed_up: bool) -> Measured:
    """A state with its verdict taken back where something else must be put right first, at this state or the other."""
    figures = one.figures
    if not figures.sag_mm.known or figures.target is None:
        return one
    verdict: SagVerdict
    if mixed_up or any(state.swapped or state.impossible for state in states.values()):
        verdict = "doubtful"
    elif any(state.sticks for state in states.values()):
        verdict = "friction"
    elif figures.topped_out:
        verdict = "topped_out"
    else:
        return one
    return replace(one, figures=replace(figures, verdict=verdict))


_IMPOSSIBLE = {"reading_beyond_hanging", "sag_beyond_travel"}


class _Reader:
    """The readings of one state, as figures."""

    def __init__(self, recorded: SagEnd, end: End, state: State, tape_mm: float, own: Repeatability) -> None:
        readings = recorded.static if state == "static" else recorded.rider
        self.where: Path = ("sag", end, state)
        self.state = state
        self.as_travel = recorded.gauge == "travel"
        self.tape_mm = tape_mm
        self.hanging_own = own_reading(own, "alone")
        self.own = self.hanging_own if state == "static" else own_reading(own, "aboard")
        self.downs, self.ups, self.hangings = readings.down_mm, readings.up_mm, recorded.hanging_mm
        self.down = _mean(self.downs, (*self.where, "down_mm", 0))
        self.up = _mean(self.ups, (*self.where, "up_mm", 0))
        self.hanging = _mean(self.hangings, ("sag", end, "hanging_mm", 0))
        self.down_only = bool(self.downs) and not self.ups

    def measured(self, target: Band | None, source: str | None, *, changed: bool) -> Measured:
        """The figures of this state."""
        sag_mm = self.sag()
        stiction_mm, swapped = self.stiction()
        state_u = self.state_uncertainty()
        used = () if self.as_travel else self.hangings
        sag_u = None
        if state_u is not None and sag_mm.known:
            hanging_u = reading_uncertainty(used, self.tape_mm, self.hanging_own) if used else Uncertainty(0.0)
            sag_u = sag_uncertainty(hanging_u, state_u)
        taken = [readings for readings in (used, self.downs, self.ups) if readings]
        assumed = [(used, self.hanging_own), (self.downs, self.own), (self.ups, self.own)]
        expanded_mm = None if sag_u is None else sag_u.expanded
        figures = StateFigures(
            sag_mm=sag_mm,
            stiction_mm=stiction_mm,
            uncertainty_mm=_beside(sag_mm, None if sag_u is None else sag_u.standard),
            expanded_mm=_beside(sag_mm, expanded_mm),
            coverage=_beside(sag_mm, None if sag_u is None else sag_u.coverage),
            spread_mm=self.spread(),
            target=target,
            target_source=source,
            verdict=verdict_of(sag_mm.value, target, expanded_mm or 0.0),
            topped_out=self.topped_out(),
            down_only=self.down_only,
            single_readings=any(len(readings) == 1 and own is None for readings, own in assumed),
            repeated=_often_enough([len(readings) for readings in taken], sag_u),
            changed=changed,
        )
        return Measured(figures=figures, state_uncertainty=state_u, swapped=swapped)

    def sag(self) -> Figure:
        if self.as_travel:
            return self.down if self.down_only else derive(sag_from_travel, self.down, self.up)
        if self.down_only:
            return derive(sag_from_down, self.hanging, self.down)
        return derive(sag, self.hanging, self.down, self.up)

    def stiction(self) -> tuple[Figure, bool]:
        if self.down_only:
            return absent("down_only"), False
        figure = derive(stiction_from_travel if self.as_travel else stiction, self.down, self.up)
        if figure.problem:
            return absent("readings_swapped"), True
        return figure, False

    def state_uncertainty(self) -> Uncertainty | None:
        if self.down_only:
            return reading_uncertainty(self.downs, self.tape_mm, self.own)
        if not self.downs or not self.ups:
            return None
        return state_uncertainty(self.downs, self.ups, self.tape_mm, self.own, mounted=self.state == "rider")

    def spread(self) -> Figure:
        repeated = [readings for readings in (self.downs, self.ups) if len(readings) > 1]
        if not repeated:
            return absent("single_reading") if self.down.known else Figure(needs=self.down.needs)
        return Figure(max(max(readings) - min(readings) for readings in repeated))

    def topped_out(self) -> bool:
        """Whether the state, lifted and let settle, stands within 2 mm of full extension."""
        lifted = self.down if self.down_only else self.up
        if lifted.value is None:
            return False
        if self.as_travel:
            return lifted.value <= TOPPED_OUT_MM + SLACK
        return self.hanging.value is not None and self.hanging.value - lifted.value <= TOPPED_OUT_MM + SLACK


def mean_reading(repeats: tuple[float, ...]) -> float:
    """The value of a reading that was repeated, from which sag is computed."""
    return mean(repeats)


def _mean(readings: tuple[float, ...], at: Path) -> Figure:
    return Figure(mean_reading(readings)) if readings else Figure(needs=(at,))


def _often_enough(times: Sequence[int], sag_u: Uncertainty | None) -> bool:
    """Whether readings were repeated, as is asked, and agree so well that taking them again tells no more."""
    return min(times, default=0) > 1 and sag_u is not None and sag_u.expanded <= REPEATED_WITHIN_MM


def _beside(sag_mm: Figure, value: float | None) -> Figure:
    """What goes with a sag; where there is no sag it waits for the same."""
    return sag_mm if value is None else Figure(value)


def _reading_findings(reader: _Reader, measured: Measured, travel_mm: float | None) -> Iterator[Finding]:
    figures, where = measured.figures, reader.where
    sag_mm = figures.sag_mm.value
    if measured.swapped:
        code: FindingCode = "travel_readings_swapped" if reader.as_travel else "readings_swapped"
        yield Finding(code, Severity.FAULT, where, {"down_mm": reader.down.value, "up_mm": reader.up.value})
    longest = max((value for value in (reader.down.value, reader.up.value) if value is not None), default=None)
    hanging = None if reader.as_travel else reader.hanging.value
    if longest is not None and hanging is not None and longest > hanging + reader.tape_mm + SLACK:
        yield Finding("reading_beyond_hanging", Severity.FAULT, where, {"reading_mm": longest, "hanging_mm": hanging})
        return
    if sag_mm is None:
        return
    if travel_mm is not None and sag_mm > travel_mm + SLACK:
        yield Finding("sag_beyond_travel", Severity.FAULT, where, {"sag_mm": sag_mm, "travel_mm": travel_mm})
        return
    if figures.topped_out:
        yield Finding("topped_out", Severity.NOTE, where)
    if figures.down_only:
        yield Finding("down_only", Severity.NOTE, where)


def _target_findings(figures: StateFigures, where: Path) -> Iterator[Finding]:
    """That a sag lies outside its target, or that this is uncertain."""
    sag_mm = figures.sag_mm.value
    if sag_mm is None or figures.target is None or figures.verdict_now not in ("below", "borderline", "above"):
        return
    low, high = figures.target
    off_mm = max(low - sag_mm, sag_mm - high)
    values: dict[str, object] = {"sag_mm": sag_mm, "low_mm": low, "high_mm": high, "off_mm": off_mm}
    if figures.verdict_now == "borderline":
        way = "below" if sag_mm < low else "above"
        single = figures.single_readings or None
        repeated = figures.repeated or None
        values |= {"expanded_mm": figures.expanded_mm.value or 0.0, "way": way, "single": single, "repeated": repeated}
        yield Finding("sag_borderline", Severity.NOTE, where, values)
    else:
        yield Finding("sag_low" if figures.verdict_now == "below" else "sag_high", Severity.WARNING, where, values)


# --- repeats ----------------------------------------------------------------------------------------------------------


def repeat_findings(recorded: SagEnd, end: End, tape_mm: float) -> Iterator[Finding]:
    """A warning for each reading whose repeats lie far apart, at the repeat that is furthest off.

    Args:
        recorded: the readings of one end.
        end: which end.
        tape_mm: smallest division of the tape.
    """
    limit = max(REPEATS_APART_MM, REPEATS_APART_DIVISIONS * tape_mm)
    for path, readings in _repeated(recorded, end):
        apart = max(readings) - min(readings)
        if apart > limit + SLACK:
            odd = _furthest(readings)
            values = {"apart_mm": apart, "odd_mm": readings[odd], "count": float(len(readings)), "path": (*path, odd)}
            yield Finding("repeat_far_off", Severity.WARNING, (*path, odd), values)


def _repeated(recorded: SagEnd, end: End) -> Iterator[tuple[Path, tuple[float, ...]]]:
    if len(recorded.hanging_mm) > 1 and recorded.gauge == "length":
        yield ("sag", end, "hanging_mm"), recorded.hanging_mm
    for state in STATES:
        readings = recorded.static if state == "static" else recorded.rider
        for name, taken in (("down_mm", readings.down_mm), ("up_mm", readings.up_mm)):
            if len(taken) > 1:
                yield ("sag", end, state, name), taken


def _furthest(readings: tuple[float, ...]) -> int:
    """Which repeat is furthest from the middle one; of two equally far, the later, which was just taken.

    >>> _furthest((577.0, 569.0, 578.0)), _furthest((577.0, 569.0))
    (1, 1)
    """
    middle = median(readings)
    return max(range(len(readings)), key=lambda at: (abs(readings[at] - middle), at))
