"""Whether the scales agree with the masses entered, and with each other.

A difference is noted. Where it is more than the scales and a mass as entered may be off, the two contradict each other:
neither is believed, and nothing is concluded from the loads.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal

from stanchion.job.aboard import one_scale_before
from stanchion.job.model import End, Job
from stanchion.judgement.criteria.thresholds import MASS_UNCERTAIN, SCALE_UNCERTAINTY_KG, SCALES_DIFFER
from stanchion.judgement.ends.other_rider import converted_from
from stanchion.judgement.results.codes import ScaleCode
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.mechanics.statistics import Uncertainty

_Of = Literal["machine", "rider", "aboard"]
_NOTED: dict[_Of, ScaleCode] = {
    "machine": "scales_disagree_machine",
    "rider": "scales_disagree_rider",
    "aboard": "scales_disagree_aboard",
}
_DOUBTED: dict[_Of, ScaleCode] = {
    "machine": "scales_contradict_machine",
    "rider": "scales_contradict_rider",
    "aboard": "scales_contradict_aboard",
}


def load_findings(job: Job) -> Iterator[Finding]:
    """Findings on scales that disagree with the masses entered, or with each other."""
    weights = job.weights
    machine_kg, rider_kg = weights.machine_kg, weights.aboard_rider_kg or job.job.rider_mass_kg
    alone = sum_of(weights.front_alone_kg, weights.rear_alone_kg)
    aboard = sum_of(weights.front_aboard_kg, weights.rear_aboard_kg)
    yield from _disagree("machine", 2, alone, machine=machine_kg)
    if one_scale_before(job):
        pass  # each is of another rider, and so their sum of none
    elif alone is not None and aboard is not None:
        yield from _disagree("rider", 4, aboard - alone, rider=rider_kg)
    elif aboard is not None:
        yield from _disagree("aboard", 2, aboard, machine=machine_kg, rider=rider_kg)
    was_kg = converted_from(job)
    if was_kg is not None:
        one = job.weights.aboard_rider_at if one_scale_before(job) else None
        of_rider: dict[str, object] = {"was_kg": was_kg, "rider_kg": job.job.rider_mass_kg}
        of_rider |= {"scale": one, "both_scales": one is None or None}
        yield Finding("scales_other_rider", Severity.NOTE, ("job", "rider_mass_kg"), of_rider)
    for end, alone_kg, aboard_kg in (
        ("front", weights.front_alone_kg, weights.front_aboard_kg),
        ("rear", weights.rear_alone_kg, weights.rear_aboard_kg),
    ):
        if alone_kg is not None and aboard_kg is not None and aboard_kg <= alone_kg:
            values = {"alone_kg": alone_kg, "aboard_kg": aboard_kg}
            yield Finding("scales_swapped", Severity.WARNING, ("weights", f"{end}_aboard_kg"), values)


def loads_contradicted(job: Job, end: End) -> bool:
    """Whether the loads of an end are doubted: a sum that does not agree does not say which end is wrong."""
    return any(
        finding.severity is Severity.WARNING
        and (finding.code != "scales_swapped" or finding.where == ("weights", f"{end}_aboard_kg"))
        for finding in load_findings(job)
    )


def sum_of(first: float | None, second: float | None) -> float | None:
    """Both together; None where one is not known."""
    return None if first is None or second is None else first + second


def _disagree(of: _Of, readings: int, scales_kg: float | None, **masses: float | None) -> Iterator[Finding]:
    """What is to be said of so many scale readings and the masses they should add up to."""
    known = {name: kg for name, kg in masses.items() if kg is not None}
    entered_kg = sum(known.values())
    if scales_kg is None or len(known) < len(masses) or abs(scales_kg - entered_kg) <= SCALES_DIFFER * entered_kg:
        return
    scales_off_kg = Uncertainty(math.sqrt(readings) * SCALE_UNCERTAINTY_KG).expanded
    entered_off_kg = sum(MASS_UNCERTAIN[name] * kg for name, kg in known.items())
    doubted = abs(scales_kg - entered_kg) > max(scales_off_kg, entered_off_kg)
    where = {"machine": ("weights", "machine_kg"), "rider": ("job", "rider_mass_kg"), "aboard": ("weights",)}[of]
    values = {"scales_kg": scales_kg, "entered_kg": entered_kg}
    if doubted:
        yield Finding(_DOUBTED[of], Severity.WARNING, where, values)
    else:
        yield Finding(_NOTED[of], Severity.NOTE, where, values)
