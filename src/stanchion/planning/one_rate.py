"""One rate in place of springs whose rate changes: for the same rider sag, for the same force at full travel, and what
lies between."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.model import SIDES, STATES, End, Job, State
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.fork_model import ForkModel, fork_model
from stanchion.judgement.ends.linkage import linkage_of_job
from stanchion.judgement.ends.rear_model import RearModel, rear_model
from stanchion.judgement.ends.spring_law import curve_known, law_of_leg, law_of_shock
from stanchion.judgement.predict.changing_rate import travels_at
from stanchion.judgement.predict.prediction import EndModels
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure, absent

POINTS = 401
"""Points at which two curves are compared."""
_SLOPE_MM = 1e-3
Points = tuple[tuple[float, float], ...]


@record(kw_only=True)
class Sprung:
    """An end with springs: those fitted, or one rate in their place. Forces are along the fork, or at the wheel."""

    rate_n_per_mm: Figure
    """The one rate of each spring; absent for those fitted."""
    static_mm: Figure
    """Sag under the loads that give the present sags with the springs fitted."""
    rider_mm: Figure
    stiffness_n_per_mm: Figure
    """Slope of the force at rider sag."""
    full_n: Figure
    """Force at full travel."""
    most_apart_n: Figure
    """The greatest difference of force from the springs fitted, over the whole travel; positive where it is more."""
    most_apart_mm: Figure
    """Travel from the stop where that is."""
    points: Points
    """Travel from the stop [mm] and force [N]; empty where it is not known."""


@record(kw_only=True)
class OneRate:
    """What one rate does in place of springs whose rate changes."""

    end: End
    fitted: Sprung
    same_sag: Sprung
    """The rate that gives the same rider sag."""
    same_full: Sprung
    """The rate that gives the same force at full travel."""


def changes(job: Job, end: End) -> bool:
    """Whether the rate of a spring at that end changes with its compression.

    Args:
        job: the job.
        end: which end.
    """
    legs = (job.front.leg(side) for side in (SIDES if job.front.split else SIDES[:1]))
    if end == "rear" and job.rear.air.fitted:
        return False
    if end == "rear":
        pairs = [(job.rear.spring, law_of_shock(job.rear))]
    else:
        pairs = [
            (leg.spring, law_of_leg(job.front, side)) for side, leg in zip(SIDES, legs, strict=False) if leg.coil_fitted
        ]
    return any(law.curve is not None or not curve_known(law, spring).known for spring, law in pairs)


def one_rate(job: Job, assessment: Assessment, end: End) -> OneRate | Figure:
    """One rate in place of the springs of an end, adjuster and installed preload as they are.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        end: which end.

    Returns:
        The comparison; an absent figure with the reason where there is none.
    """
    if not changes(job, end):
        return absent("rate_is_one")
    models = EndModels(
        front=fork_model(job, assessment.front),
        rear=rear_model(job, assessment.rear, linkage_of_job(job)),
    )
    model = models.front if end == "front" else models.rear
    if not model.computable.known:
        return model.computable
    if model.end_unknown is not None:
        return model.end_unknown
    travels = travels_at(end, models, assessment.sag, assessment.predicted)
    predicted = assessment.predicted.end(end)
    now = _Now(model, travels, {state: predicted.state(state).sag_mm for state in STATES})
    by_sag = now.predicted["rider"]
    if travels.get("rider", 0.0) > model.measured_to_mm + SLACK:
        by_sag = absent("beyond_tester")
    elif "rider" in travels:
        found = model.rate_for(travels["rider"] - model.unloaded.travel_mm, now.load_n("rider"))
        by_sag = absent("no_rate_gives_it") if found is None else Figure(found, estimate=model.computable.estimate)
    return OneRate(
        end=end,
        fitted=_sprung(now, model, absent("rate_changes")),
        same_sag=_in_place(now, by_sag),
        same_full=_in_place(now, _rate_at_full(now)),
    )


@record
class _Now:
    """An end with the springs fitted."""

    model: ForkModel | RearModel
    travels_mm: dict[str, float]
    """Travel from the stop at the sags, as far as known."""
    predicted: dict[State, Figure]
    """Sags as predicted, which say why a travel is not known."""

    def load_n(self, state: State) -> float:
        """The vertical load that brings it there."""
        return self.model.force(self.travels_mm[state]) / self.model.along(1.0)


def _rate_at_full(now: _Now) -> Figure:
    """The one rate for the same force at full travel, which rises evenly with the rate."""
    full = now.model.full_travel_mm
    if full > now.model.measured_to_mm + SLACK:
        return absent("beyond_tester")
    low, high = (now.model.with_rate(rate).force(full) for rate in (1.0, 2.0))
    if high <= low:  # loose even there
        return absent("no_rate_gives_it")
    rate = 1.0 + (now.model.force(full) - low) / (high - low)
    return Figure(rate, estimate=now.model.computable.estimate) if rate > 0.0 else absent("no_rate_gives_it")


def _in_place(now: _Now, rate: Figure) -> Sprung:
    """The end with one rate in place of its springs."""
    return _sprung(now, None if rate.value is None else now.model.with_rate(rate.value), rate)


def _sprung(now: _Now, model: ForkModel | RearModel | None, rate: Figure) -> Sprung:
    """The figures of an end; absent where there is no rate for it."""
    if model is None:
        return Sprung(
            rate_n_per_mm=rate,
            static_mm=rate,
            rider_mm=rate,
            stiffness_n_per_mm=rate,
            full_n=rate,
            most_apart_n=rate,
            most_apart_mm=rate,
            points=(),
        )
    full, estimate = min(model.full_travel_mm, now.model.measured_to_mm), model.computable.estimate

    def sag(state: State) -> Figure:
        if state not in now.travels_mm:
            return now.predicted[state]
        return Figure(model.sag_with(0.0, now.load_n(state)), estimate=estimate)

    rider = sag("rider")
    stiffness = rider
    if rider.value is not None:
        at = min(model.unloaded.travel_mm + rider.value, full - _SLOPE_MM)
        stiffness = Figure((model.force(at + _SLOPE_MM) - model.force(at)) / _SLOPE_MM, estimate=estimate)
    travels = [min(full, full * step / (POINTS - 1)) for step in range(POINTS)]
    points = tuple((travel, model.force(travel)) for travel in travels)
    apart = [(force - now.model.force(travel), travel) for travel, force in points]
    most_n, most_mm = max(apart, key=lambda one: abs(one[0]))
    return Sprung(
        rate_n_per_mm=rate,
        static_mm=sag("static"),
        rider_mm=rider,
        stiffness_n_per_mm=stiffness,
        full_n=Figure(points[-1][1], estimate=estimate) if full == model.full_travel_mm else absent("beyond_tester"),
        most_apart_n=Figure(most_n, estimate=estimate),
        most_apart_mm=Figure(most_mm),
        points=points,
    )
