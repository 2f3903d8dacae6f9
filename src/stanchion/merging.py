"""Two states of one job while a person merges them: what differs, and whose value is taken of each field."""

from __future__ import annotations

from collections.abc import Sequence

from stanchion.job.merge import Choice, Merged, Version, merge
from stanchion.job.model import Job, Path
from stanchion.judgement.merge_sentences import changed_words, place_words, runs_words, side_words
from stanchion.quantity import METRIC, Units
from stanchion.record import record


@record
class Line:
    """One field in which they differ, in words."""

    place: str
    changed: str
    left: str
    right: str
    taken: Version
    settled: bool
    """False: a person has still to choose."""


class Merging:
    """What is being merged.

    Args:
        left: the state it is merged into.
        right: the other one.
        base: the state both came from; None: not known.
        names: what the two are called in a sentence.
        units: units to show.
    """

    def __init__(self, left: Job, right: Job, base: Job | None, names: tuple[str, str], units: Units = METRIC) -> None:
        self.left, self.right, self.base = left, right, base
        self.names = names
        self.units = units
        self._taken: dict[Path, Version] = {}
        self.merged: Merged = merge(left, right, base)

    @property
    def choices(self) -> Sequence[Choice]:
        """Where they differ."""
        return self.merged.choices

    @property
    def lines(self) -> list[Line]:
        """Where they differ, in words."""
        both_legs = not (self.left.front.split or self.right.front.split)
        return [
            Line(
                place_words(choice.path, both_legs=both_legs),
                changed_words(choice, *self.names),
                side_words(choice.path, choice.left, self.units),
                side_words(choice.path, choice.right, self.units),
                choice.taken,
                choice.settled,
            )
            for choice in self.choices
        ]

    @property
    def runs(self) -> str:
        """What becomes of the runs, in a sentence; empty where both have the same."""
        return runs_words(self.left, self.right, self.merged)

    def take(self, at: int, version: Version) -> None:
        """Take one field from one of the two."""
        self._taken[self.choices[at].path] = version
        self._again()

    def take_all(self, version: Version) -> None:
        """Take every field in which they differ from one of the two."""
        self._taken = {choice.path: version for choice in self.choices}
        self._again()

    def _again(self) -> None:
        self.merged = merge(self.left, self.right, self.base, self._taken)
