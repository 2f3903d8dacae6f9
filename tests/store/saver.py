"""Edits and saves one job without end, saying after each save what is on disk; the test kills it."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

from stanchion.store.jobfile import JobFile
from stanchion.store.library import Library
from stanchion.store.paths import Places


def main() -> None:
    """Save until killed."""
    base, name = Path(sys.argv[1]), sys.argv[2]
    library = Library(
        Places(base / "jobs", base / "config", base / "state", base / "cache"), lambda job, before: ("", "")
    )
    file = JobFile(library, library.open(base / "jobs" / name))
    job = file.opened.job
    number = int(job.job.notes.split()[0])
    while True:
        number += 1
        # files of very different sizes, so that a torn one would show
        job = replace(job, job=replace(job.job, notes=f"{number} {'x' * (number * 37 % 1500)}"))
        file.save(job)
        print(number, flush=True)


if __name__ == "__main__":
    main()
