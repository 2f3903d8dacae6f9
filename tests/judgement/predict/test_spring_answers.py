"""What is found of other springs is kept while what it depends on is the same: no answer may differ from one found anew
from the whole job."""

from __future__ import annotations

from random import Random
from typing import Any

import pytest

from complete_job import complete_job
from judgement_jobs import PROFILES, put
from points_jobs import by_points
from random_edits import SAMPLES, edited, fields_of, random_job, value
from stanchion.base.errors import BadEdit
from stanchion.job.edit import Edit, apply, value_at
from stanchion.job.model import SIDES, Job, Outside, Readings, SagEnd
from stanchion.judgement.assess import assess
from stanchion.judgement.ends.front import front_figures
from stanchion.judgement.ends.rear import shock_figures
from stanchion.judgement.predict import spring_answers
from stanchion.judgement.predict.spring_answers import fork_for_springs, shock_for_springs
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.springs.candidates import fitted_now
from stanchion.judgement.springs.fork_spring_swap import ForkSpringSwap
from stanchion.judgement.springs.rear_spring_swap import RearSpringSwap

SOFT = SagEnd(hanging_mm=(600.0,), static=Readings(down_mm=(593.0,)), rider=Readings(down_mm=(556.0,)))
"""Sags that ask for stiffer springs (invented)."""
ASKING = (
    SAMPLES["soft_springs"],
    SAMPLES["progressive_fork"],
    put(complete_job(), sag__rear=SOFT),
)
"""Jobs of which other springs are asked for at every judgement."""
EDITS_A_BATCH = 30
JOBS_A_BATCH = 15
HERE_UNKNOWN = put(complete_job(), job__altitude_m=None, job__barometer_hpa=None)
LEGS_UNKNOWN = put(
    HERE_UNKNOWN, **{f"front__{side}__{of}": Outside() for side in SIDES for of in ("bleed__closed_in", "air__set_in")}
)
AIR_SHOCK = put(LEGS_UNKNOWN, rear__air=complete_job().front.left.air)
NOTED = (complete_job(), HERE_UNKNOWN, LEGS_UNKNOWN, AIR_SHOCK, by_points())
"""Where the pressure outside is known by the altitude, or only from where the air of a leg, the gas of the shock, or
the air of the shock was shut in; and one whose linkage goes by its points."""


def assess_anew(job: Job) -> Assessment:
    """The assessment of a job with no answer kept, and every one found from the whole job."""
    with pytest.MonkeyPatch.context() as patched:
        for name in ("no_suitable_rate", "spring_to_fit", "_swap"):
            patched.setattr(spring_answers, name, getattr(spring_answers, name).__wrapped__)
        for name in ("fork_for_springs", "shock_for_springs"):
            patched.setattr(spring_answers, name, lambda whole: whole)
        return assess(job, PROFILES)


def searched() -> int:
    """How many springs were looked for up to now."""
    return spring_answers.spring_to_fit.cache_info().misses


@pytest.mark.parametrize("seed", range(len(ASKING)))
def test_after_random_edits_answers_are_as_if_found_anew(seed: int) -> None:
    random, before = Random(seed), searched()
    job = ASKING[seed]
    for at in range(EDITS_A_BATCH):
        if at % 10 == 0:  # begin again before no spring is asked for any more
            job = ASKING[seed]
        job, made = edited(random, job, 1)
        assert assess(job, PROFILES) == assess_anew(job), made
    for _ in range(JOBS_A_BATCH):
        job = random_job(random)
        assert assess(job, PROFILES) == assess_anew(job), job
    assert searched() > before


def seen(swap: ForkSpringSwap | RearSpringSwap) -> dict[str, Any]:
    """All that a search knows of an end; positions of dampers are left out."""
    of = vars(swap)
    if isinstance(swap, ForkSpringSwap):
        return {**of, "front": fork_for_springs(Job(front=swap.front)).front}
    return {**of, "rear": shock_for_springs(Job(rear=swap.rear)).rear}


@pytest.mark.parametrize("job", NOTED)
def test_a_search_sees_as_much_of_a_job_as_it_would_of_the_whole(job: Job) -> None:
    random = Random(5)
    for path, spec in fields_of(job):
        if path[0] in ("runs", "found", "damper_sheets"):
            continue
        try:
            changed = apply(job, Edit(path, value(random, spec, value_at(job, path))))
        except BadEdit:
            continue  # a piece of a list before it is missing
        fork, shock = front_figures(changed.front, None)[0], shock_figures(changed, with_uncertainty=False)
        assert seen(ForkSpringSwap(fork_for_springs(changed), fork)) == seen(ForkSpringSwap(changed, fork)), path
        assert fitted_now(fork_for_springs(changed), "front") == fitted_now(changed, "front"), path
        of_shock = shock.figures.spring
        seen_alone = seen(RearSpringSwap(shock_for_springs(changed), of_shock))
        assert seen_alone == seen(RearSpringSwap(changed, of_shock)), path
        assert fitted_now(shock_for_springs(changed), "rear") == fitted_now(changed, "rear"), path


def test_a_lap_a_torque_or_a_click_starts_no_search() -> None:
    job = put(SAMPLES["soft_springs"], job__notes="dry")
    assess(job, PROFILES)
    before = searched()
    for path, typed in (
        (("runs", 0, "best_lap_s"), 91.25),
        (("upkeep", "torques", 0, "torque_nm"), 12.0),
        (("front", "left", "rebound", "now"), 7.0),
        (("rear", "rebound", "now"), 7.0),
        (("job", "notes"), "wet"),
    ):
        job = apply(job, Edit(path, typed))
        assess(job, PROFILES)
    assert searched() == before
    assess(put(job, geometry__rake_deg=23.4), PROFILES)
    assert searched() > before
