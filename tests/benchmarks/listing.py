"""The list of very many jobs by its index, and its filter: `python tests/benchmarks/listing.py [JOBS]`.

All times are of the processor. Before the first list every job is judged, which takes minutes.
"""

from __future__ import annotations

import asyncio
import shutil
import statistics
import sys
import tempfile
from pathlib import Path
from time import process_time

from timing import at_rest

sys.path[:0] = [str(Path(__file__).parents[2] / "src"), str(Path(__file__).parents[1])]


from driving import many, workspace_in  # noqa: E402
from stanchion.store.listing import matching  # noqa: E402
from stanchion.ui.app import StanchionApp  # noqa: E402
from stanchion.ui.screens.jobs import JobsScreen  # noqa: E402
from timing import medians_ms, table  # noqa: E402

FILTERS = ("r", "ri", "rid", "ride", "rider 77", "machine 5 rider 99", "2026-05", "nothing has this")


KEYS = ("r", "i", "d", "e", "r", *("backspace",) * 5) * 3


async def filtering(home: Path, jobs: int) -> float:
    """The median time of a key in the filter of the screen, all that follows from it included [ms of the processor]."""
    app = StanchionApp(workspace_in(home))
    taken = []
    async with app.run_test() as pilot:
        while not (isinstance(app.screen, JobsScreen) and len(app.screen.rows) == jobs):
            await at_rest(pilot)
        for key in KEYS:
            began = process_time()
            await pilot.press(key)
            taken.append(process_time() - began)
    return 1000 * statistics.median(taken)


def main(jobs: int = 10_000) -> None:
    """Print the medians; the list by an index in memory is the unit."""
    home = Path(tempfile.mkdtemp(prefix="stanchion-list-"))
    try:
        many(home / "jobs", jobs)
        listing = workspace_in(home).library.listing
        rows = listing.rows()
        works = {
            "warm index, from its file": lambda: workspace_in(home).library.listing.rows(judged=True),
            "warm index, in memory": listing.rows,
        }
        print(table(f"{jobs} jobs in one folder", medians_ms(works, 9, process_time), "warm index, in memory"))
        again = workspace_in(home).library.listing.rows()
        print(f"  the list by the index is the list by reading every file: {again == rows}")
        typed = {f"filter {text!r}": (lambda text=text: matching(rows, text)) for text in FILTERS}
        print(table("Filtering them at one key", medians_ms(typed, 9, process_time), f"filter {FILTERS[0]!r}"))
        print(f"  a key in the filter of the screen: {asyncio.run(filtering(home, jobs)):.0f} ms of the processor")
    finally:
        shutil.rmtree(home)


if __name__ == "__main__":
    main(*(int(argument) for argument in sys.argv[1:]))
