"""The differences between two jobs, and the edits that turn one into the other."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from stanchion.base.record import record
from stanchion.job.edit import Edit
from stanchion.job.model import Job, Path
from stanchion.job.spec import Part, specs_of

SPLIT: Path = ("front", "right")
"""The path at which a job records that its legs are entered apart."""


@record
class Difference:
    """One place where two jobs differ.

    A list, such as repeated readings or linkage pairs, differs as a whole; so do a work list and the machine as found.
    At SPLIT a leg on one side means only that one of the jobs has its legs entered apart; it always equals the leg that
    stands for both in the other, so differences of the machine are in the fields below it.
    """

    path: Path
    old: Any
    new: Any

    @property
    def edit(self) -> Edit:
        """The edit that makes this difference."""
        return Edit(self.path, self.new)


def differences(a: Job, b: Job) -> tuple[Difference, ...]:
    """Where b differs from a, in the order of the model.

    The edits of the differences, applied to a in this order, give b; keys that this version does not know are left
    as they are.

    Args:
        a: the first job.
        b: the second job.

    Returns:
        The differences; none for equal jobs.

    >>> from stanchion.job.edit import apply
    >>> one = apply(Job(), Edit(("front", "fork_height_mm"), 4.0))
    >>> differences(Job(), one)
    (Difference(path=('front', 'fork_height_mm'), old=None, new=4.0),)
    >>> differences(one, one)
    ()
    """
    return tuple(_between(a, b, ()))


def _between(a: Any, b: Any, path: Path) -> Iterator[Difference]:
    kind: type = type(a)
    for name, spec in specs_of(kind).items():
        one, other, at = getattr(a, name), getattr(b, name), (*path, name)
        if one is other:
            continue
        if at == SPLIT:
            yield from _right_leg(a, b)
        elif not isinstance(spec, Part) or spec.optional:
            if one != other:
                yield Difference(at, one, other)
        else:
            yield from _between(one, other, at)


def _right_leg(a: Any, b: Any) -> Iterator[Difference]:
    """The right legs of both forks; for a fork entered as one, a copy of its left leg.

    Splitting starts from such a copy; joining ends with one.
    """
    if a.right is None:
        yield Difference(SPLIT, None, a.left)
    yield from _between(a.leg("right"), b.leg("right"), SPLIT)
    if b.right is None:
        yield Difference(SPLIT, b.left, None)
