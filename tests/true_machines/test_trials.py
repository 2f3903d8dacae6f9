"""What a trial shows is what the program says once the trial is part of the job: one model, one set of numbers."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path as File

import pytest

from stanchion.bench.session import Session
from stanchion.bench.trial import Trial
from stanchion.job.codec import loads
from stanchion.job.edit import Edit, value_at
from stanchion.job.model import ENDS, SIDES, STATES, End, Job, Path
from stanchion.job.spec import Progressive
from stanchion.planning.whatif import compare
from true_machines.judged import PROFILES
from true_machines.machines import case

SAMPLES = sorted((File(__file__).parents[2] / "sample_jobs").glob("*.toml"))
SEEDS = range(7001, 7301)
GEOMETRY = ("rake_deg", "trail_mm", "normal_trail_mm", "wheelbase_mm")


def tried_on(job: Job, rng: random.Random) -> Iterator[Edit]:
    """A change of preload, spring, air gap or linkage, at one end or at both; of the rider or the scales."""
    yield from on_the_whole_machine(job, rng)
    ends: tuple[tuple[End, ...], ...] = (("front",), ("rear",), ("front", "rear"), ())
    for end in rng.choice(ends):
        springs: list[Path] = [("rear", "spring")] if end == "rear" else [("front", "left", "spring")]
        if end == "front" and job.front.split:
            springs = [("front", side, "spring") for side in SIDES if job.front.leg(side).spring_fitted]
        what = rng.choice(("turn", "rate", "lengths", "rate and lengths", "air or linkage"))
        if what == "air or linkage":
            yield from air_or_linkage(job, end, rng)
        longer, softer = rng.uniform(-4.0, 4.0), rng.uniform(0.8, 1.2)
        for at in springs:
            if what == "turn":
                yield from moved(job, (*at[:-1], "collar" if end == "rear" else "adjuster", "now"), rng.uniform(-2, 2))
            if "rate" in what:
                yield from moved(job, (*at, "rate_n_per_mm"), 0.0, softer)
            if "lengths" in what:
                yield from moved(job, (*at, "free_length_mm"), longer)
                yield from moved(job, (*at, "set_length_mm"), longer / 2.0)
                yield from moved(job, (*at, "set_length_in_mm"), longer / 2.0)


def on_the_whole_machine(job: Job, rng: random.Random) -> Iterator[Edit]:
    """Another rider, or another reading of a scale, by itself or beside what else is tried."""
    what = rng.choice(("rider", "scale alone", "scale aboard", "rake", "rider and scale", "", ""))
    if "rider" in what:
        yield from moved(job, ("job", "rider_mass_kg"), rng.uniform(-15.0, 15.0))
    if "scale" in what:
        state = "alone" if "alone" in what else "aboard"
        for end in rng.choice((("front",), ("rear",), ("front", "rear"))):
            yield from moved(job, ("weights", f"{end}_{state}_kg"), rng.uniform(-4.0, 4.0))
    if what == "rake":
        yield from moved(job, ("geometry", "rake_deg"), rng.uniform(-1.0, 1.0))


def air_or_linkage(job: Job, end: End, rng: random.Random) -> Iterator[Edit]:
    """Another air gap, or another link."""
    if end == "front":
        for side in SIDES if job.front.split else SIDES[:1]:
            yield from moved(job, ("front", side, "air_gap_mm"), rng.choice((-15.0, -5.0, 10.0)))
        return
    factor = rng.uniform(0.95, 1.05)
    yield from moved(job, ("rear", "motion_ratio"), 0.0, factor)
    if job.rear.linkage:
        pairs = (replace(pair, shock_mm=(pair.shock_mm or 0.0) * factor) for pair in job.rear.linkage)
        yield Edit(("rear", "linkage"), tuple(pairs))


def moved(job: Job, path: Path, by: float, factor: float = 1.0) -> Iterator[Edit]:
    value = value_at(job, path)
    if isinstance(value, Progressive):
        yield Edit(path, Progressive(value.start * factor + by, value.end * factor + by))
    elif value is not None:
        yield Edit(path, max(0.0, value * factor + by))


def broken_promises(job: Job, edits: list[Edit]) -> list[str]:
    """Figures that are otherwise once the trial is applied."""
    bench = Session(job, PROFILES)
    trial = Trial(bench)
    if trial.copy.put_all(edits) or not trial.changes:
        return []
    seen = compare(bench.job, trial.copy.job, bench.profiles)
    assert not trial.apply()
    now, found = bench.assessment, []
    for end in ENDS:
        for state in STATES:
            row = seen.row((end,), f"{state}_captured")
            of, foreseen = now.sag.end(end).state(state), now.predicted.end(end).state(state).sag_mm
            if not row.present.known or row.changed.value is None:
                continue
            told = of.sag_mm if not of.changed else foreseen
            if told.value is None or abs(told.value - row.changed.value) > 1e-6:
                found.append(f"{end} {state}: {row.changed.value:.2f} on trial, then {told}")
            target = now.predicted.end(end).target
            advised = target.values.get(f"{state}_mm") if target is not None and of.changed else None
            if isinstance(advised, float) and abs(advised - row.changed.value) > 1e-6:
                found.append(f"{end} {state}: {row.changed.value:.2f} on trial, {advised:.2f} in the advice")
    for name in GEOMETRY:
        then, is_now = seen.row(("geometry",), name).changed.value, getattr(now.geometry, name).value
        if then is not None and (is_now is None or abs(then - is_now) > 1e-6):
            found.append(f"{name}: {then} on trial, then {is_now}")
    return found


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda sample: sample.stem)
def test_a_sample_job_keeps_what_a_trial_shows(sample: File) -> None:
    job = loads(sample.read_bytes()).job
    for seed in range(12):
        edits = list(tried_on(job, random.Random(seed)))
        assert broken_promises(job, edits) == [], edits


def test_random_machines_keep_what_a_trial_shows() -> None:
    found = {}
    for seed in SEEDS:
        job = case(seed).job
        if broken := broken_promises(job, list(tried_on(job, random.Random(seed)))):
            found[seed] = broken
    assert not found


def test_a_second_change_is_shown_from_where_the_first_one_led() -> None:
    """Old sag still corrects the loads, by the springs and preload that it was read with."""
    job = loads((SAMPLES[0].parent / "soft_springs.toml").read_bytes()).job
    bench = Session(job, PROFILES)
    measured = bench.assessment.sag.front.rider.sag_mm.value
    now: Path = ("front", "left", "adjuster", "now")
    for position in (6.0, 4.0):
        bench.put_all((Edit(now, position),), tried=True)
    assert bench.assessment.sag.front.rider.changed
    assert bench.assessment.predicted.front.rider.sag_mm.value != pytest.approx(measured)
    bench.put_all((Edit(now, 8.0),), tried=True)
    assert not bench.assessment.sag.front.rider.changed
    assert bench.assessment.sag.front.rider.sag_mm.value == pytest.approx(measured)
