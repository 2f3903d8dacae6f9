"""The list of very many jobs by its index, and its filter: `python tests/benchmarks/listing.py [JOBS]`."""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2] / "src"), str(Path(__file__).parents[1])]


from desks import desk_in, many  # noqa: E402
from stanchion.store.listing import matching  # noqa: E402
from timing import medians_ms, table  # noqa: E402

FILTERS = ("r", "ri", "rid", "ride", "rider 77", "machine 5 rider 99", "2026-05", "nothing has this")


def main(jobs: int = 10_000) -> None:
    """Print the medians; the list by an index in memory is the unit."""
    home = Path(tempfile.mkdtemp(prefix="stanchion-list-"))
    try:
        many(home / "jobs", jobs)
        listing = desk_in(home).library.listing
        rows = listing.rows()
        works = {
            "warm index, from its file": lambda: desk_in(home).library.listing.rows(judged=True),
            "warm index, in memory": listing.rows,
        }
        print(table(f"{jobs} jobs in one folder", medians_ms(works, 5), "warm index, in memory"))
        again = desk_in(home).library.listing.rows()
        print(f"  the list by the index is the list by reading every file: {again == rows}")
        typed = {f"filter {text!r}": (lambda text=text: matching(rows, text)) for text in FILTERS}
        print(table("Filtering them at one key", medians_ms(typed, 9), f"filter {FILTERS[0]!r}"))
    finally:
        shutil.rmtree(home)


if __name__ == "__main__":
    main(*(int(argument) for argument in sys.argv[1:]))
