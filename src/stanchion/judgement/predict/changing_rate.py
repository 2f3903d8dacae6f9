"""What a spring whose rate changes has at the sags and at full travel."""

from __future__ import annotations

import math
from collections.abc import Iterator

from stanchion.job.model import SIDES, STATES, End, Job, Path, Spring
from stanchion.job.spec import Progressive
from stanchion.judgement.criteria.thresholds import SLACK
from stanchion.judgement.ends.coil_data import coil_data
from stanchion.judgement.ends.spring_law import SpringLaw, law_of_leg, law_of_shock
from stanchion.judgement.predict.prediction import EndModels
from stanchion.judgement.results.assessment import SagFigures
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.predicted import Predicted, PredictedEnd
from stanchion.mechanics.spring_curve import rate_at


def changing_rate_findings(job: Job, models: EndModels, sag: SagFigures, predicted: Predicted) -> Iterator[Finding]:
    """A note on each spring whose rate changes: where its curve is from, and its rate at the sags and at full travel.

    Args:
        job: the job.
        models: both ends as they can be computed.
        sag: the sags as measured.
        predicted: the travel that loads and springs give, where a sag is not known.
    """
    for side in SIDES if job.front.split else SIDES[:1]:
        leg = job.front.leg(side)
        law = law_of_leg(job.front, side)
        if leg.coil_fitted and _changes(leg.spring, law):
            fork, squeezed = models.front.fork, {}
            if fork is not None:
                preload_mm = fork.legs[SIDES.index(side)].preload_mm
                travels = travels_at("front", models, sag, predicted)
                squeezed = {name: preload_mm + mm for name, mm in travels.items()}
            yield _note(("front", side, "spring"), leg.spring, law, squeezed, both_legs=not job.front.split)
            at: Path = ("front", side, "spring")
            yield from _ends_early(at, law, squeezed, predicted.front, both_legs=not job.front.split)
    law = law_of_shock(job.rear)
    if _changes(job.rear.spring, law):
        rear, squeezed = models.rear.rear, {}
        if rear is not None:
            travels = travels_at("rear", models, sag, predicted)
            squeezed = {name: rear.preload_mm + rear.linkage.shock_travel(mm) for name, mm in travels.items()}
        yield _note(("rear", "spring"), job.rear.spring, law, squeezed)
        yield from _ends_early(("rear", "spring"), law, squeezed, predicted.rear)


def _changes(spring: Spring, law: SpringLaw) -> bool:
    one = law.curve is not None and not spring.second.fitted
    return one or law.measured or isinstance(spring.rate_n_per_mm, Progressive)


def travels_at(end: End, models: EndModels, sag: SagFigures, predicted: Predicted) -> dict[str, float]:
    """Travel from the mechanical stop in both states ("static", "rider") and at full travel ("full"), as far as known.

    Args:
        end: which end.
        models: both ends as they can be computed.
        sag: the sags as measured.
        predicted: the travel that loads and springs give, where a sag is not known.
    """
    model = models.end(end)
    found: dict[str, float] = {}
    for state in STATES:
        measured, by_load = sag.end(end).state(state), predicted.end(end).state(state).travel_mm.value
        if measured.sag_mm.value is not None and not measured.changed and model.hanging.known:
            found[state] = min(max(0.0, model.unloaded.travel_mm + measured.sag_mm.value), model.full_travel_mm)
        elif by_load is not None:
            found[state] = by_load
    if model.end_unknown is None:
        found["full"] = model.full_travel_mm
    return found


def _ends_early(
    at: Path, law: SpringLaw, squeezed_mm: dict[str, float], predicted: PredictedEnd, *, both_legs: bool = False
) -> Iterator[Finding]:
    """A finding where a sag or full travel compresses a spring further than it was measured."""
    known_to = math.inf if law.curve is None else law.curve.known_to_mm
    beyond: dict[str, object] = {name: mm for name, mm in squeezed_mm.items() if mm > known_to + SLACK}
    if law.measured and "rider" not in squeezed_mm and predicted.rider.sag_mm.problem == "beyond_tester":
        beyond["further"] = "further"
    if beyond:
        severity = Severity.NOTE if set(beyond) == {"full"} else Severity.WARNING
        values = {**beyond, "over_mm": known_to, **({"both_legs": True} if both_legs else {})}
        yield Finding("tester_ends_early", severity, at, values)


def _note(
    at: Path, spring: Spring, law: SpringLaw, squeezed_mm: dict[str, float], *, both_legs: bool = False
) -> Finding:
    values: dict[str, object] = {"both_legs": True} if both_legs else {}
    if law.curve is not None:
        known = {name: mm for name, mm in squeezed_mm.items() if mm <= law.curve.known_to_mm + SLACK}
        values |= {name: rate_at(law.curve, mm) for name, mm in known.items()}
    bend = coil_data(spring.coils, (*at, "coils")).bend
    if law.measured and bend is not None:
        values |= {"first": bend.first_n_per_mm, "last": bend.last_n_per_mm}
        return Finding("measured_curve", Severity.NOTE, at, values)
    label = spring.rate_n_per_mm
    if isinstance(label, Progressive):
        values |= {"start": label.start, "end": label.end, "over_mm": law.over_mm}
    return Finding("progressive_spring", Severity.NOTE, at, values)
