"""Writes the notes on one venue without end, saying after each save what is on disk; the test kills it."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

from stanchion.store.paths import Places
from stanchion.store.venues import load_venues, save_notes


def main() -> None:
    """Save until killed."""
    base, venue = Path(sys.argv[1]), sys.argv[2]
    places = Places(base / "jobs", base / "config", base / "state", base / "cache")
    notes = load_venues(places).of(venue)
    number = int((notes.surface or "0").split()[0])
    while True:
        number += 1
        # texts of very different lengths, so that a torn file would show
        changed = replace(notes, surface=f"{number} {'x' * (number * 7 % 70)}")
        save_notes(notes, changed, places)
        notes = changed
        print(number, flush=True)


if __name__ == "__main__":
    main()
