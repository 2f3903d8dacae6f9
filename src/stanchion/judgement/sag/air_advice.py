"""What to do about the sags of an end that is sprung by air: the pressure that brings them into target.

One change of pressure is looked for, the same at every leg that is sprung by air. What it changes is told from the
pressures at its present temperature.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.model import STATES, End, Job, State
from stanchion.judgement.criteria.thresholds import GAUGE_STEP_BAR, SLACK
from stanchion.judgement.ends.air_model import AirModel, airs_of, temperature_now
from stanchion.judgement.ends.end_model import EndModel
from stanchion.judgement.ends.fork_model import ForkModel
from stanchion.judgement.ends.rear_model import RearModel
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.results.codes import Advice
from stanchion.judgement.results.figures import Figure, absent, derive
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.sag.advice_finding import basis_values, held_of, near_edge_of, stays_out_of
from stanchion.judgement.sag.corrected_loads import sags_now
from stanchion.judgement.sag.edge_sags import at_edge, edge_values, outside
from stanchion.judgement.sag.end_to_advise import EndToAdvise
from stanchion.judgement.sag.response import overlap, preloads_for, where_sag_is
from stanchion.judgement.sag.sag_advice import EndAdvice, aims_of, measure_again, silent
from stanchion.judgement.sag.targets import Aims, all_in, in_target, narrowed, widened, worst_missed
from stanchion.mechanics.shock import BAR_MPA

MOST_BAR = 30.0
"""Pressure up to which one is looked for where the maker's highest is not recorded [bar]: the most a job can hold."""


@record(kw_only=True)
class _Pumped:
    """The legs that are sprung by air, or the shock, as a pump sees them at their present temperature."""

    now_bar: Mapping[str, float]
    """Pressure of each main chamber above ambient."""
    room: Band
    """By how much it may be changed in every leg."""
    by_maker: bool
    """Whether the maker's highest pressure limits it."""
    at_c: float | None
    """Temperature now, where the pressures were set at another [°C]."""
    chambers: bool
    """Whether another chamber than the main one has a pressure of its own to set."""


def advise_air(of: EndToAdvise, model: EndModel, job: Job) -> EndAdvice:
    """What to do at an end that is sprung by air.

    Args:
        of: the end.
        model: the same end.
        job: the job.
    """
    again = measure_again(of)
    if again is not None and again.code != "measure_again_changed":
        return silent(again)
    rider = of.captured.rider.figures
    measured = rider.sag_mm.known and again is None
    if rider.target is None:
        return _advice(again, None, absent("no_target"))
    if not isinstance(model, ForkModel | RearModel) or not model.computable.known:
        found = _by_readings_alone(of) if measured else None
        return _advice(found or again, found, model.computable)
    response = _ByPressure(of, model)
    if response.sag("rider", 0.0) is None:
        return _advice(again, None, derive(lambda *_: 0.0, of.loads.rider_n))
    found = _finding(of, response, _pumped(job, of.end, model), measured=measured)
    return _advice(found if measured else again, found, absent("air_sprung"))


def _advice(by_readings: Finding | None, to_target: Finding | None, turns: Figure) -> EndAdvice:
    return EndAdvice(
        by_readings=by_readings,
        to_target=to_target,
        turns=turns,
        preload_mm=turns,
        projected_static_mm=absent("air_sprung"),
    )


class _ByPressure:
    """How the sags answer to pressure."""

    def __init__(self, of: EndToAdvise, model: AirModel) -> None:
        self._loads = of.carried.known()
        self._models: dict[float, AirModel] = {0.0: model}
        by_sag = of.carried.by_sag
        self._read = {state: mm for state, mm in sags_now(of.captured).items() if state in by_sag}
        self.predicted = "rider" not in by_sag

    def sag(self, state: State, added_bar: float) -> float | None:
        """Sag after a change of pressure; None where the load of the state is not known."""
        load_n = self._loads.get(state)
        if load_n is None:
            return None
        if added_bar == 0.0 and state in self._read:
            return self._read[state]
        model = self._models.get(added_bar)
        if model is None:
            model = self._models[added_bar] = self._models[0.0].with_pressure(added_bar)
        return model.sag_with(0.0, load_n)

    def both(self, added_bar: float) -> dict[State, float | None]:
        """Both sags after a change of pressure."""
        return {state: self.sag(state, added_bar) for state in STATES}


def _pumped(job: Job, end: End, model: AirModel) -> _Pumped:
    now: dict[str, float] = {}
    room, by_maker = (-MOST_BAR, MOST_BAR), False
    airs, now_c = airs_of(job, end), temperature_now(job, end)
    for (name, air), spring in zip(airs.items(), model.air_springs, strict=True):
        now_bar = (spring.main.pressure_mpa * spring.temperature_ratio - spring.ambient_mpa) / BAR_MPA
        now[name] = now_bar
        most = MOST_BAR if air.most_bar is None else air.most_bar
        if most - now_bar < room[1]:
            by_maker = air.most_bar is not None
        room = (max(room[0], -now_bar), min(room[1], most - now_bar))
    elsewhere = any(air.set_at_c is not None and air.set_at_c != now_c for air in airs.values())
    return _Pumped(
        now_bar=now,
        room=(min(room), max(room)),
        by_maker=by_maker,
        at_c=now_c if elsewhere else None,
        chambers=any(air.balance == "pressure" or air.outer != "none" for air in airs.values()),
    )


# --- the change ---------------------------------------------------------------------------------------------------


def _band(response: _ByPressure, aims: Aims, state: State, room: Band) -> Band | None:
    """The changes of pressure that bring one sag into its target; every one where nothing is wanted of it, or known."""
    target = aims.targets.get(state)
    if target is None or response.sag(state, 0.0) is None:
        return room
    return preloads_for(lambda bar: response.sag(state, bar) or 0.0, target, *room)


@record
class _Change:
    """A change of pressure that brings rider sag into its target."""

    added_bar: float
    """The one that brings it nearest to the middle."""
    suits: Band
    """All that bring it in, with static sag where that can be had."""
    both: bool
    """Whether static sag comes in with it."""


def _change(response: _ByPressure, aims: Aims, room: Band, *, inset: float = 0.0) -> _Change | None:
    """The change of pressure that brings rider sag nearest to the middle of its target; None where none brings it in.

    Where some bring static sag in as well, it is one of these.

    Args:
        response: how the sags answer to pressure.
        aims: the targets.
        room: by how much pressure may be changed.
        inset: how far inside those that bring both in, as a share of them.
    """
    rider = _band(response, aims, "rider", room)
    if rider is None:
        return None
    both = overlap(rider, _band(response, aims, "static", room))
    low, high = both or rider
    inside = (low + inset * (high - low), high - inset * (high - low))
    middle = sum(aims.targets["rider"]) / 2.0
    wanted = where_sag_is(lambda bar: response.sag("rider", bar) or 0.0, middle, *room)
    added = min(max((low + high) / 2.0 if wanted is None else wanted, inside[0]), inside[1])
    return _Change(added, (low, high), both is not None)


def _best_change(response: _ByPressure, aims: Aims, room: Band) -> _Change | None:
    """The change that brings both sags in, clear of the edges of their targets where that can be had; else the one that
    leaves neither certainly outside, and else one for rider sag alone. None where none brings rider sag in.

    Where the edges cannot be kept clear of, both sags share what room there is.
    """
    wanted = ((narrowed(aims), 0.0), (Aims(targets=aims.targets, slack_mm={}), 0.25), (widened(aims), 0.25))
    found = [change for one, inset in wanted if (change := _change(response, one, room, inset=inset)) is not None]
    return next((change for change in found if change.both), found[0] if found else None)


def _to_gauge(change: _Change, response: _ByPressure, aims: Aims, pumped: _Pumped) -> float:
    """The change that brings the first leg to a whole tenth of a bar, as gauges are read: the nearest that suits, or
    where none does, the one with which the worse sag misses its target least."""
    first = next(iter(pumped.now_bar.values()))

    def tenth(bar: float) -> int:
        return math.floor((first + bar) / GAUGE_STEP_BAR + SLACK)

    low, high = change.suits
    wanted = tenth(change.added_bar)
    numbers = {wanted, wanted + 1, max(wanted, tenth(low)), min(wanted + 1, tenth(high))}
    settable = [min(max(number * GAUGE_STEP_BAR - first, pumped.room[0]), pumped.room[1]) for number in sorted(numbers)]
    near = [bar for bar in settable if low - SLACK <= bar <= high + SLACK]
    if near:
        return min(near, key=lambda bar: abs(bar - change.added_bar))
    return min(settable, key=lambda bar: worst_missed(response.both(bar), aims))


# --- the finding --------------------------------------------------------------------------------------------------


def _finding(of: EndToAdvise, response: _ByPressure, pumped: _Pumped, *, measured: bool) -> Finding:
    aims = aims_of({state: of.state(state).figures for state in STATES}, measured=measured, static_hidden=False)
    now = response.both(0.0)
    values = {**basis_values(of, predicted=response.predicted), **_sags(of, now)}
    stays = in_target(now, aims)
    # Repeated readings tell that a sag just outside is outside: other pressure is worth it then.
    if stays and (all_in(now, aims) or aims.readings != "settled"):
        return _suits(of, values, now, aims)
    change = _best_change(response, aims, pumped.room)
    low, high = widened(aims).targets["rider"]
    rider_mm = now["rider"] or 0.0
    if change is None:
        more = rider_mm > high
        most_bar = next(iter(pumped.now_bar.values())) + pumped.room[1] if more and pumped.by_maker else None
        return _warning("air_at_most" if more else "air_at_least", values | {"most_bar": most_bar})
    added = _to_gauge(change, response, aims, pumped)
    then, bars = response.both(added), [bar + added for bar in pumped.now_bar.values()]
    if change.both and (abs(added) <= SLACK or (stays and worst_missed(then, aims) >= worst_missed(now, aims))):
        return _suits(of, values, now, aims)  # the gauge cannot be set any nearer
    if not change.both and low <= rider_mm <= high:
        return _warning("air_static_out", values)
    changed: dict[str, object] = {
        "work": "pressure",
        "way": "more" if added > 0.0 else "less",
        "pressure_bar": bars[0],
        "right_bar": None if max(bars) - min(bars) <= SLACK else bars[-1],
        "now_bar": bars[0] - added,
        "at_c": pumped.at_c,
        "main_chamber": pumped.chambers or None,
        "static_stays_out": None if change.both else True,
        "rider_after_mm": then["rider"],
        "static_after_mm": then["static"],
    }
    changed["held"] = held_of(of, changed)
    return _warning(
        "air_add" if added > 0.0 else "air_release", values | changed | _expected(then, aims, both=change.both)
    )


def _expected(then_mm: Mapping[State, float | None], aims: Aims, *, both: bool) -> dict[str, object]:
    """What is said of the expected sags that come in, but not for certain."""
    states: tuple[State, ...] = STATES if both else ("rider",)
    asked = replace(aims, targets={state: aims.targets[state] for state in states if state in aims.targets})
    stays_out = stays_out_of(then_mm, asked)
    return {"stays_out": stays_out, "near_edge": None if stays_out else near_edge_of(then_mm, asked)}


def _warning(code: Advice, values: dict[str, object]) -> Finding:
    return Finding(code, Severity.WARNING, ("sag", str(values["end"])), values)


def _sags(of: EndToAdvise, sags_mm: Mapping[State, float | None]) -> dict[str, object]:
    """Both sags for the wording, and what every advice carries."""
    values: dict[str, object] = {"end": of.end, "work": "none"}
    for state in STATES:
        topped_out = of.state(state).figures.topped_out
        values[f"{state}_mm"] = None if topped_out else sags_mm[state]
        values[f"{state}_topped_out"] = topped_out or None
    return values


def _suits(of: EndToAdvise, values: dict[str, object], now_mm: Mapping[State, float | None], aims: Aims) -> Finding:
    """That the pressure stays as it is, and whether a sag is too near an edge of its target to say so for certain."""
    measured = aims.readings != ""
    if measured and any(of.state(state).figures.verdict_now == "down_only" for state in aims.targets):
        return Finding("pair_down_only", Severity.NOTE, ("sag", of.end), values)
    if at_edge(of.captured, now_mm, aims) if measured else outside(now_mm, aims):
        edges = edge_values(of.captured, now_mm, aims) | {"repeated": aims.readings == "settled" or None, "air": True}
        return Finding("pair_borderline", Severity.NOTE, ("sag", of.end), values | edges)
    return Finding("air_suits", Severity.NOTE, ("sag", of.end), values)


def _by_readings_alone(of: EndToAdvise) -> Finding:
    """Which way to go where the force of the air is not known."""
    figures = {state: of.state(state).figures for state in STATES}
    values = _sags(of, {state: each.sag_mm.value for state, each in figures.items()})
    aims = aims_of(figures, measured=True, static_hidden=False)
    now = {state: each.sag_mm.value for state, each in figures.items()}
    if in_target(now, aims):
        return _suits(of, values, now, aims)
    rider_mm, target = figures["rider"].sag_mm.value or 0.0, widened(aims).targets["rider"]
    if target[0] <= rider_mm <= target[1]:
        return _warning("air_static_out", values)
    return _warning("air_add_unknown" if rider_mm > target[1] else "air_release_unknown", values)
