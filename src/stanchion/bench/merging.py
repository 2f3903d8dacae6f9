"""Merging two states of a job field by field: what differs, and which value is taken."""

from __future__ import annotations

from collections.abc import Sequence

from stanchion.base.record import record
from stanchion.job.correction import is_reading, taken_of
from stanchion.job.merge import MergeChoice, Merged, Version, merge
from stanchion.job.model import ENDS, Job, Path
from stanchion.units.known_units import METRIC, Units
from stanchion.wording.merge_sentences import ANOTHER_PART, changed_words, place_words, runs_words, side_words


@record
class MergeLine:
    """One field in which the two states differ, in words."""

    place: str
    changed: str
    left: str
    right: str
    taken: Version
    settled: bool
    """Whether the value is settled; False: a person has to choose."""


class MergeSession:
    """A merge of two states, as a person decides it.

    Args:
        left: the state it is merged into.
        right: the other one.
        base: the state both came from; None: not known.
        names: what the two are called in a sentence.
        units: units to show.
        base_is_common: whether the base is the last state that both came from, and no guess.
    """

    def __init__(
        self,
        left: Job,
        right: Job,
        base: Job | None,
        names: tuple[str, str],
        units: Units = METRIC,
        *,
        base_is_common: bool = False,
    ) -> None:
        self.left, self.right, self.base = left, right, base
        self.base_is_common = base_is_common
        self.names = names
        self.units = units
        self._taken: dict[Path, Version] = {}
        self.merged: Merged = merge(left, right, base)

    @property
    def choices(self) -> Sequence[MergeChoice]:
        """The fields in which they differ."""
        return self.merged.choices

    @property
    def lines(self) -> list[MergeLine]:
        """The fields in which they differ, in words."""
        both_legs = not (self.left.front.split or self.right.front.split)
        return [
            MergeLine(
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
        """A sentence on what becomes of the runs; empty if both states have the same."""
        return runs_words(self.left, self.right, self.merged)

    @property
    def parts(self) -> str:
        """A sentence on rates and lengths that differ and were used for sags or runs; empty if there are none."""
        ends = {choice.path[0] for choice in self.choices if is_reading(choice.path)}
        sags = [job.sag.end(end) for job in (self.left, self.right) for end in ENDS if end in ends]
        rest_on = self.merged.job.runs or any(taken_of(sag) for sag in sags)
        return ANOTHER_PART if ends and rest_on else ""

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
