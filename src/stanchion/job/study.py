"""A study of how well readings repeat, as it was read.

It belongs to the technician and not to a job: it is kept in the config folder (store/studies.py).
"""

from __future__ import annotations

import datetime as dt

from stanchion.base.record import record
from stanchion.job.repeatability import Studied
from stanchion.job.spec import Kind, Number

PEOPLE, REPEATS = 2, 3
PLACES: dict[Studied, tuple[str, ...]] = {
    "alone": ("front_down", "front_up", "rear_down", "rear_up"),
    "aboard": ("front_down", "front_up", "rear_down", "rear_up"),
    "bench": ("first_free", "second_free", "set"),
}
"""What is read in each study, by everybody and equally often."""
LENGTH = Number(Kind.LENGTH, 0.0, 2000.0, 0.5, optional=False)
"""What a reading of a study may be [mm]."""


@record(kw_only=True)
class Study:
    """One study as it was read."""

    of: Studied
    on: dt.date
    by: str
    """Whose readings it is about: the first person."""
    helper: str = ""
    """The second person."""
    tape_mm: float | None = None
    """Smallest division of the tape [mm]; None: 1 mm is taken."""
    readings: tuple[tuple[tuple[float, ...], ...], ...] = ()
    """By place, then person, then repeat [mm]."""

    @property
    def complete(self) -> bool:
        """Whether everybody read every place equally often."""
        people = [person for place in self.readings for person in place]
        whole = len(self.readings) == len(PLACES[self.of]) and all(len(place) == PEOPLE for place in self.readings)
        return whole and all(len(repeats) == REPEATS for repeats in people)
