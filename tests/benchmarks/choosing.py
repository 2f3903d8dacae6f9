"""How long ranking the springs to hand takes, and how it grows: `python tests/benchmarks/choosing.py`."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from complete_job import complete_job
from judgement_jobs import PROFILES
from stanchion.job.model import ENDS, End
from stanchion.judgement.assess import assess
from stanchion.judgement.springs.stock import Stock, StockSpring
from stanchion.planning.spring_choice import choose
from timing import medians_ms, table


def van(rows: int, end: End) -> Stock:
    """That many springs of rates of their own, with all of their coils: singles and pairs."""
    soft, hard, free = (7.0, 12.0, 250.0) if end == "front" else (60.0, 130.0, 180.0)
    return Stock(
        tuple(
            StockSpring(
                end=end,
                label=f"row {at}",
                rate_n_per_mm=soft + (hard - soft) * at / rows,
                free_length_mm=free - at % 3 * 5.0,
                wire_mm=4.5,
                outer_mm=38.0,
                total_coils=18.0,
                count=1 + at % 2,
            )
            for at in range(rows)
        )
    )


def ranking(end: End, rows: int, points: int = 12) -> Callable[[], object]:
    """Ranking that many springs of the van for one end."""
    job, stock = complete_job(points), van(rows, end)
    assessment = assess(job, PROFILES)
    return lambda: choose(job, assessment, PROFILES, end, stock)


def main() -> None:
    """Print the medians; one assessment is the unit, then growth with stock and linkage."""
    job = complete_job()
    for end in ENDS:
        works: dict[str, Callable[[], object]] = {"assess once": lambda: assess(job, PROFILES)}
        works |= {f"rank {rows} springs": ranking(end, rows) for rows in (25, 50, 100, 200, 400)}
        print(table(f"Springs to hand, {end}", medians_ms(works, 11), "assess once"))
    growth = {f"{points} linkage pairs": ranking("rear", 200, points) for points in (1, 3, 6, 12)}
    print(table("Ranking 200 shock springs", medians_ms(growth, 11), "1 linkage pairs"))


if __name__ == "__main__":
    main()
