"""What the readings for balance, swingarm, chain, linkage and dampers cost elsewhere: `python tests/benchmarks/riding.py [ROUNDS]`.

A key on screens that show nothing of them, in a job in which every field is filled in, and in the same job without
those readings, turn about; processor time until the screen is drawn. What counts is the median of the ratios.
"""

from __future__ import annotations

import asyncio
import statistics
import sys
import tempfile
from dataclasses import replace
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).parents[1]))

from complete_job import complete_job
from driving import USUAL, app_on
from judgement_jobs import PROFILES
from stanchion.job.linkage_points import PointsRead
from stanchion.job.model import Balance, Job
from stanchion.job.swingarm import Drive, Swingarm
from stanchion.judgement.assess import assess
from timing import at_rest, medians_ms, settled, table

SCREENS = ("machine", "front", "sag")
STROKES = 12


def without(job: Job) -> Job:
    """A job without what only the machine on the brakes, on the gas and its dampers need."""
    rear = replace(job.rear, points=PointsRead())
    return replace(job, balance=Balance(), swingarm=Swingarm(), drive=Drive(), damper_sheets=(), rear=rear)


async def stroke_s(job: Job, screen: str, folder: Path) -> float:
    """Processor time of a key until all is drawn: a median."""
    app = app_on(folder, job, screen)
    taken = []
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        for key in ("plus", "minus") * (STROKES // 2):
            began = process_time()
            await pilot.press(key)
            await settled(pilot.app)
            taken.append(process_time() - began)
            await at_rest(pilot)
    return statistics.median(taken)


def main() -> None:
    """Print the ratios."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    whole = complete_job()
    jobs = {"with": whole, "without": without(whole)}
    for screen in SCREENS:
        ratios, times = [], []
        for _ in range(rounds):
            found = {}
            for name, job in jobs.items():
                with tempfile.TemporaryDirectory() as folder:
                    found[name] = asyncio.run(stroke_s(job, screen, Path(folder)))
            ratios.append(found["with"] / found["without"])
            times.append(found["without"])
        ms = 1000.0 * statistics.median(times)
        print(f"a key on {screen}: {statistics.median(ratios):.2f} times {ms:.1f} ms of processor time")
    works = {name: lambda job=job: assess(job, PROFILES, job) for name, job in jobs.items()}
    print(table("Assess the job with and without those readings", medians_ms(works, 100), "without"))


if __name__ == "__main__":
    main()
