"""How long judging takes on a job in which every field is filled in: `python tests/benchmarks/judging.py`."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from complete_job import complete_job
from judgement_jobs import PROFILES, put
from stanchion.job.codec import dumps, loads
from stanchion.job.model import Readings, SagEnd
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


if __name__ == "__main__":
    main()
