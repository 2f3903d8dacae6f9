"""What one measured sag says of the load in the other state, where that one was not read: against machines whose loads
are known, and by hand."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import Any

import pytest

from judgement_jobs import PROFILES
from rates import one_rate
from stanchion.job.model import ENDS, End, Job, Readings, State
from stanchion.judgement.assess import assess
from true_machines.machines import Case, case
from true_machines.physics import G, fork_of, loads_of, rear_of

MACHINES = range(8001, 8061)
OTHER: dict[State, State] = {"static": "rider", "rider": "static"}
SCALE_KG = 0.5
LENGTH_MM = 0.7


def weighed(made: Case) -> Job:
    """Its job with scales instead of shares, each a little off; the springs stay as labelled."""
    rng = random.Random(f"scales {made.seed}")
    weights = made.true.weights
    below = {"front": weights.front_unsprung_kg or 0.0, "rear": weights.rear_unsprung_kg or 0.0}
    read: dict[str, Any] = {}
    for end, loads in loads_of(made.true).items():
        for name, load_n in zip(("alone", "aboard"), loads, strict=True):
            read[f"{end}_{name}_kg"] = load_n / G + below[end] + rng.gauss(0.0, SCALE_KG)
    return replace(made.job, weights=replace(weights, **read))


def measured_roughly(made: Case) -> Job:
    """Its job with the set lengths of the springs read a little wrong as well."""
    rng = random.Random(f"lengths {made.seed}")
    off_mm = rng.gauss(0.0, LENGTH_MM)
    front, rear = made.job.front, made.job.rear

    def longer(length: float | None, by_mm: float) -> float | None:
        return None if length is None else length + by_mm

    spring = front.left.spring
    spring = replace(
        spring,
        set_length_mm=longer(spring.set_length_mm, off_mm),
        set_length_in_mm=longer(spring.set_length_in_mm, off_mm),
    )
    shock = replace(rear.spring, set_length_mm=longer(rear.spring.set_length_mm, rng.gauss(0.0, LENGTH_MM)))
    front = replace(front, left=replace(front.left, spring=spring))
    return replace(made.job, front=front, rear=replace(rear, spring=shock))


WRITTEN = {"shares": lambda made: made.job, "scales": weighed, "lengths": measured_roughly}


def without(job: Job, end: End, state: State) -> Job:
    """The job with one state of one end not read."""
    recorded = job.sag.end(end)
    read = replace(recorded, static=Readings()) if state == "static" else replace(recorded, rider=Readings())
    return replace(job, sag=replace(job.sag, front=read) if end == "front" else replace(job.sag, rear=read))


def errors(made: Case, job: Job, end: End, state: State) -> tuple[float, float, float] | None:
    """By how much the sag of a state that was not read is told wrong [mm]: by the load that is given for it, by a
    correction taken over in full, and by none."""
    predicted = assess(without(job, end, state), PROFILES).predicted.end(end)
    given, read = predicted.state(state), predicted.state(OTHER[state])
    if given.carried_n.value is None or read.carried_n.value is None or made.sags(end)[0] < 3.0:
        return None
    assert given.load_n.value is not None
    assert read.load_n.value is not None
    springs = fork_of(job) if end == "front" else rear_of(job)
    true_mm = made.sags(end)[0 if state == "static" else 1]
    in_full_n = given.load_n.value + read.carried_n.value - read.load_n.value
    loads_n = (given.carried_n.value, in_full_n, given.load_n.value)
    by_load, in_full, none = (abs(springs.sag(load_n) - true_mm) for load_n in loads_n)
    return by_load, in_full, none


@pytest.mark.parametrize("written", WRITTEN)
def test_static_sag_that_was_not_read_is_told_better_by_its_share_of_the_correction(written: str) -> None:
    """Springs up to 4 % off their label, shares up to 1 % of the machine and 2 % of the rider or scales to 0.5 kg,
    sags read with a tape, lengths to 0.7 mm."""
    found = []
    for seed in MACHINES:
        made = case(seed, "drift")
        job = WRITTEN[written](made)
        found += [one for end in ENDS if (one := errors(made, job, end, "static")) is not None]
    by_share, in_full, none = (sum(column) / len(found) for column in zip(*found, strict=True))
    nearer = sum(one[0] < one[1] for one in found) / len(found)
    assert len(found) > 80
    assert by_share < 0.85 * in_full
    assert by_share < 0.7 * none
    assert nearer > 0.55


def test_rider_sag_that_was_not_read_is_told_by_the_whole_of_what_static_sag_corrects() -> None:
    found = []
    for seed in MACHINES[:30]:
        made = case(seed, "drift")
        for end in ENDS:
            one = errors(made, made.job, end, "rider")
            if one is not None:
                assert one[0] == pytest.approx(one[1], abs=1e-6)
                found.append(one)
    assert len(found) > 30
    assert sum(one[0] for one in found) < 0.9 * sum(one[2] for one in found)


def test_springs_off_their_label_alone_leave_static_sag_as_it_is() -> None:
    """With both springs labelled 5 % over their rate, and no air or top-out spring, each load that a sag tells is 5 %
    over: the share is exact."""
    made = next(one for seed in range(1, 200) if _on_springs_alone(one := case(seed, "exact")))
    job = made.job
    spring = job.front.left.spring
    labelled = replace(spring, rate_n_per_mm=1.05 * one_rate(spring.rate_n_per_mm))
    job = replace(job, front=replace(job.front, left=replace(job.front.left, spring=labelled)))
    found = errors(made, job, "front", "static")
    assert found is not None
    by_share, in_full, _ = found
    assert by_share < 0.05
    assert in_full > 0.5


def _on_springs_alone(made: Case) -> bool:
    """Whether equal springs alone hold up the front, and far enough from full extension to be read."""
    front = made.true.front
    air_or_top_out = front.left.air_gap_mm is not None or front.top_out.fitted == "yes"
    return front.right is None and not air_or_top_out and made.sags("front")[0] > 5.0
