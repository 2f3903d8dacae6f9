"""How long judging takes on a job in which every field is filled in: `python tests/benchmarks/judging.py`."""

from __future__ import annotations

import sys
from dataclasses import replace
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from air_jobs import THREE, air_shock_job
from complete_job import complete_job
from judgement_jobs import PROFILES, put
from stanchion.job.codec import dumps, loads
from stanchion.job.model import Job, Readings, SagEnd, SecondSpring, Spring
from stanchion.job.model import TesterPair as Reading
from stanchion.job.spec import Progressive
from stanchion.judgement.assess import assess
from stanchion.planning.whatif import compare
from timing import medians_ms, table


def main() -> None:
    """Print the medians; reading the job's file is the unit."""
    job = complete_job()
    data = dumps(job)
    other = put(job, front__left__adjuster__now=8.0, rear__collar__now=4.0)
    works = {
        "read its file": lambda: loads(data),
        "assess": lambda: assess(job, PROFILES, job),
        "compare with a changed job": lambda: compare(job, other, PROFILES),
    }
    print(table("A job in which every field is filled in", medians_ms(works, 150), "read its file"))
    curves = medians_ms({name: partial(assess, one, PROFILES) for name, one in springs(job).items()}, 150)
    print(table("Springs whose rate changes", curves, "one rate"))
    jobs = {f"assess, {points} linkage pairs": complete_job(points) for points in (1, 3, 6, 12)}
    growth = medians_ms({name: partial(assess, one, PROFILES) for name, one in jobs.items()}, 150)
    print(table("Growth with the linkage", growth, "assess, 1 linkage pairs"))
    soft = SagEnd(hanging_mm=(600.0,), static=Readings(down_mm=(593.0,)), rider=Readings(down_mm=(556.0,)))
    work = {"both sags of both ends suit": job}
    for points in (1, 12):
        linked = complete_job(points)
        work[f"stiffer shock spring, {points} pairs"] = put(linked, sag__rear=soft)
        work[f"stiffer springs at both, {points} pairs"] = put(linked, sag__rear=soft, sag__front=soft)
    advised = medians_ms({name: partial(assess, one, PROFILES) for name, one in work.items()}, 150)
    print(table("Another spring advised", advised, "both sags of both ends suit"))


def springs(job: Job) -> dict[str, Job]:
    """The job with springs of one rate, and with springs of every kind whose rate changes."""
    left, rear = job.front.left.spring, job.rear.spring
    bent = tuple(
        Reading(length_mm=250.0 - 12.0 * i, force_n=8.0 * 12.0 * i + 0.015 * (12.0 * i) ** 2) for i in range(1, 13)
    )
    squeezed = tuple(
        Reading(length_mm=180.0 - 6.5 * i, force_n=80.0 * 6.5 * i + 0.2 * (6.5 * i) ** 2) for i in range(1, 13)
    )

    def sprung(front: Spring, shock: Spring) -> Job:
        return put(job, front__left__spring=front, front__right__spring=front, rear__spring=shock)

    def read(spring: Spring, pairs: tuple[Reading, ...]) -> Spring:
        return replace(spring, coils=replace(spring.coils, tester=pairs))

    beside = SecondSpring(arranged="side_by_side", rate_n_per_mm=4.0, gap_mm=60.0)
    on_top = SecondSpring(arranged="end_to_end", rate_n_per_mm=400.0, stop_mm=30.0)
    return {
        "one rate": sprung(left, rear),
        "progressive by their labels": sprung(
            replace(left, rate_n_per_mm=Progressive(8.5, 10.5)), replace(rear, rate_n_per_mm=Progressive(85.0, 105.0))
        ),
        "by 12 pairs of a tester": sprung(read(left, bent), read(rear, squeezed)),
        "two springs in one": sprung(replace(left, second=beside), replace(rear, second=on_top)),
        "three air chambers": put(
            job, front__left__air=THREE, front__right__air=THREE, rear__air=air_shock_job().rear.air
        ),
    }


if __name__ == "__main__":
    main()
