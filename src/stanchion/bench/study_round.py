"""A study of how well readings repeat, as it is made: who reads what in which order, and what comes of it."""

from __future__ import annotations

import datetime as dt
import random
from statistics import median

from stanchion.base.record import record
from stanchion.bench.entry_round import Asked, Doubt, EntryRound
from stanchion.job.repeatability import Studied
from stanchion.job.spec import Kind, Number, Text
from stanchion.job.study import LENGTH, PEOPLE, PLACES, REPEATS, Study
from stanchion.judgement.criteria.thresholds import REPEATS_APART_DIVISIONS, REPEATS_APART_MM, TAPE_DIVISION_MM
from stanchion.units.known_units import METRIC, Units

NAME = Text(60)
TAPE = Number(Kind.LENGTH, 0.01, 10, 0.5)


@record
class Turn:
    """One go of one person: what is read of a place, or of an end both readings."""

    spot: str
    """The end, "front" or "rear"; at the bench the place itself."""
    person: int
    """0 for the first person, 1 for the second."""
    repeat: int


def turns_of(of: Studied, seed: int) -> tuple[Turn, ...]:
    """The turns of a study in random order, so that nobody reads the same thing at the same time of it.

    Args:
        of: what is studied.
        seed: settles the order.

    >>> first = turns_of("alone", 3)
    >>> len(first), first == turns_of("alone", 3), first == turns_of("alone", 4)
    (12, True, False)
    """
    spots = PLACES[of] if of == "bench" else ("front", "rear")
    turns = [Turn(spot, person, n) for spot in spots for person in range(PEOPLE) for n in range(REPEATS)]
    random.Random(seed).shuffle(turns)  # noqa: S311 - an order, no secret
    return tuple(turns)


def places_of(of: Studied, turn: Turn) -> tuple[str, ...]:
    """What is read in a turn, in order."""
    return (turn.spot,) if of == "bench" else (f"{turn.spot}_down", f"{turn.spot}_up")


class StudyRound(EntryRound):
    """A study while it is made. Earlier readings are hidden, also from whoever goes back to one.

    Args:
        of: what is studied.
        seed: settles the order.
        today: its date.
        units: display units.
    """

    def __init__(self, of: Studied, seed: int, today: dt.date, units: Units = METRIC) -> None:
        super().__init__(units)
        self.of: Studied = of
        self.turns = turns_of(of, seed)
        self._today = today
        readings = [
            Asked(("reading", place, turn.person, turn.repeat), LENGTH)
            for turn in self.turns
            for place in places_of(of, turn)
        ]
        names = (Asked(("by",), NAME), Asked(("helper",), NAME), Asked(("tape",), TAPE, optional=True))
        self._asked = (*names, Asked(("order",), None), *readings)

    @property
    def asked(self) -> tuple[Asked, ...]:
        """Names, the tape, the order, then every reading."""
        return self._asked

    @property
    def turn(self) -> tuple[int, Turn] | None:
        """The current turn with its number from 0; None while no reading is asked."""
        one = self.one
        if one is None or one.key[0] != "reading":
            return None
        _, place, person, repeat = one.key
        return next(
            (at, turn)
            for at, turn in enumerate(self.turns)
            if place in places_of(self.of, turn) and (turn.person, turn.repeat) == (person, repeat)
        )

    def person(self, which: int) -> str:
        """The name of a person."""
        return str(self.values.get((("by",), ("helper",))[which], ""))

    def keeps_shown(self, one: Asked) -> bool:
        """A reading is typed anew."""
        return one.key[0] != "reading"

    def doubt_of(self, one: Asked, value: float) -> Doubt:
        """A reading far from the others of its place, or a lifted one shorter than the pushed-down one of its turn."""
        if one.key[0] != "reading":
            return ""
        _, place, person, repeat = one.key
        others = (other for key, other in self.values.items() if key[:2] == one.key[:2] and key != one.key)
        numbers = [other for other in others if isinstance(other, float)]
        tape = self.values.get(("tape",))
        division = tape if isinstance(tape, float) else TAPE_DIVISION_MM
        limit = max(REPEATS_APART_MM, REPEATS_APART_DIVISIONS * division)
        if numbers and abs(value - median(numbers)) > limit:
            return "far_off"
        if str(place).endswith("_up"):
            down = self.values.get(("reading", str(place).replace("_up", "_down"), person, repeat))
            if isinstance(down, float) and value < down - division:
                return "swapped"
        return ""

    def study(self) -> Study:
        """The study as far as it was made."""

        def number(place: str, person: int) -> tuple[float, ...]:
            found = (self.values.get(("reading", place, person, repeat)) for repeat in range(REPEATS))
            return tuple(value for value in found if isinstance(value, float))

        tape = self.values.get(("tape",))
        return Study(
            of=self.of,
            on=self._today,
            by=self.person(0),
            helper=self.person(1),
            tape_mm=tape if isinstance(tape, float) else None,
            readings=tuple(tuple(number(place, person) for person in range(PEOPLE)) for place in PLACES[self.of]),
        )
