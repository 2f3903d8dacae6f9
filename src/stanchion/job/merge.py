"""Merging two states of one job field by field, with their common ancestor if it is known.

What only one of them changed is taken from that one. What both changed, or what differs and has no ancestor, is for
a person to choose; until then the left one's value is used. Every value of the result is in one of the two.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any, Literal, cast

from stanchion.base.record import record
from stanchion.job.diff import SPLIT
from stanchion.job.model import AsFound, Comment, Front, Job, Occasion, Path, Returning, Run, Torque
from stanchion.job.spec import Part, Rows, specs_of

Version = Literal["left", "right"]
ChangedIn = Literal["left", "right", "both", "unknown"]

RUNS: Path = ("runs",)
IDENTITY: Path = ("job", "id")
_QUIET = (IDENTITY, ("job", "carried_id"))
"""Fields that the program writes, on which no person is asked."""
_NO_ANCESTOR: Any = object()
_ABSENT: Any = object()


@record
class MergeChoice:
    """One place where the two differ."""

    path: Path
    left: Any
    right: Any
    changed: ChangedIn
    """Which of them differs from the ancestor; unknown: there is none."""
    taken: Version
    """Whose value is used in the merged job."""
    settled: bool
    """False: not chosen yet, and the ancestor does not decide; the left value is used until then."""


@record
class Merged:
    """The joined job and what it was joined from."""

    job: Job
    choices: tuple[MergeChoice, ...]
    """Where the two differ, in the order of the model. Runs give no choice, because those of both are kept."""

    @property
    def open(self) -> tuple[MergeChoice, ...]:
        """The choices still to be made."""
        return tuple(choice for choice in self.choices if not choice.settled)


def merge(left: Job, right: Job, base: Job | None = None, taken: Mapping[Path, Version] | None = None) -> Merged:
    """Join two states of one job.

    If they hold different runs, both are kept; a run that one of them changed or removed since the ancestor is
    changed or removed, unless the other one changed it too. Torques that are the same list in both are joined row
    by row. Other lists, such as repeated readings or linkage pairs, are taken whole, for they belong together. The
    identity is the left one's.

    Args:
        left: one state; its value is used where neither the ancestor nor a person decides.
        right: the other.
        base: the state both came from; None: not known.
        taken: what a person chose, by path.

    >>> from stanchion.job.edit import Edit, apply
    >>> base = Job()
    >>> one = apply(base, Edit(("front", "travel_mm"), 120.0))
    >>> other = apply(base, Edit(("rear", "stroke_mm"), 64.0))
    >>> joined = merge(one, other, base)
    >>> joined.job.front.travel_mm, joined.job.rear.stroke_mm, joined.open
    (120.0, 64.0, ())
    """
    walk = _Walk(taken or {}, known=base is not None)
    joined = walk.job(_NO_ANCESTOR if base is None else base, left, right)
    return Merged(replace(joined, comments=_comments(joined, left, right)), tuple(walk.choices))


def _comments(joined: Job, *both: Job) -> tuple[Comment, ...]:
    """Every comment of both, each once; one of a run that is not kept goes to the end of the list of runs."""
    found = list(joined.comments)
    known = {one.text for one in found} | {one.text for run in joined.runs for one in run.comments}
    for job in both:
        of_runs = [replace(one, path=("runs",)) for run in job.runs for one in run.comments]
        for one in (*job.comments, *of_runs):
            if one.text not in known:
                known.add(one.text)
                found.append(one)
    return tuple(found)


def likely_base(states: Iterable[Job], left: Job, right: Job) -> Job | None:
    """The state to take for the common ancestor: the oldest known that is neither of the two; None: there is none.

    A later one may precede only one of the two; edits made before it would then look like edits of the other
    one, undone. One that is too old only leads to more questions.

    Args:
        states: what the file is known to have contained, oldest first.
        left: one of the two.
        right: the other.
    """
    return next((state for state in states if state not in (left, right)), None)


def without_lost_runs(base: Job, left: Job, right: Job) -> Job:
    """A guessed ancestor with only the runs that are in both, so that none seems to have been taken away by one."""
    both = {run.time for run in left.runs} & {run.time for run in right.runs}
    return replace(base, runs=tuple(run for run in base.runs if run.time in both))


class _Walk:
    """Walks two trees and their ancestor at once."""

    def __init__(self, taken: Mapping[Path, Version], *, known: bool) -> None:
        self.taken = taken
        self.known = known
        self.choices: list[MergeChoice] = []

    def job(self, base: Any, left: Job, right: Job) -> Job:
        runs = self._runs(base, left, right)
        joined = cast(Job, self.part(base, left, right, ()))
        joined = replace(joined, runs=left.runs if runs is None else runs)
        unknown = tuple(entry for entry in self._unknown(base, left, right) if _stands(joined, entry[0][:-1]))
        if runs is None:
            chosen = self._leaf(RUNS, _of(base, "runs"), left.runs, right.runs)
            foreign = left if chosen is left.runs else right
            apart = tuple(entry for entry in unknown if entry[0][0] != "runs")
            unknown = (*apart, *(entry for entry in foreign.unknown if entry[0][0] == "runs"))
            joined = replace(joined, runs=chosen)
        return replace(joined, unknown=tuple(sorted(unknown, key=lambda entry: _order(entry[0]))))

    # --- parts and fields -----------------------------------------------------------------------------------------

    def part(self, base: Any, left: Any, right: Any, path: Path) -> Any:
        if left == right and not isinstance(left, Job):
            return left
        if isinstance(left, Front):
            return self._fork(base, left, right, path)
        values = {name: self._value(name, base, left, right, path) for name in _names(left) if (*path, name) != RUNS}
        joined = replace(left, **values)
        return _with_its_source(joined, left, right) if isinstance(left, Occasion) else joined

    def _value(self, name: str, base: Any, left: Any, right: Any, path: Path) -> Any:
        kind: type = type(left)
        spec = specs_of(kind)[name]
        old, one, other, at = _of(base, name), getattr(left, name), getattr(right, name), (*path, name)
        whole = isinstance(one, AsFound | Returning)  # made of two it would be a setup that never was
        if isinstance(spec, Part) and one is not None and other is not None and not whole:
            return self.part(_NO_ANCESTOR if old is None else old, one, other, at)
        if isinstance(spec, Rows) and _same_list(one, other):
            was = old if old is not _NO_ANCESTOR and _same_list(old, one) else None
            return tuple(
                self.part(was[row] if was else _NO_ANCESTOR, one[row], other[row], (*at, row))
                for row in range(len(one))
            )
        return self._leaf(at, old, one, other)

    def _leaf(self, path: Path, base: Any, left: Any, right: Any) -> Any:
        if left == right:
            return left
        changed: ChangedIn = "both" if self.known else "unknown"
        if base is not _NO_ANCESTOR and base in (left, right):
            changed = "right" if left == base else "left"
        chosen = self.taken.get(path) if path not in _QUIET else None
        taken: Version = chosen or ("right" if changed == "right" else "left")
        if path not in _QUIET:
            settled = chosen is not None or changed in ("left", "right")
            self.choices.append(MergeChoice(path, left, right, changed, taken, settled))
        return left if taken == "left" else right

    def _fork(self, base: Any, left: Front, right: Front, path: Path) -> Front:
        """The legs split if they are in either state; joined again if one of the two joined them."""
        was, one, other = _apart(base), _apart(left), _apart(right)
        both_joined = left.right is None and right.right is None
        names = [name for name in _names(left) if not (both_joined and name == SPLIT[-1])]
        values = {name: self._value(name, was, one, other, path) for name in names}
        joined = replace(left, **values)
        if both_joined or joined.right != joined.left:
            return joined
        splits = [fork.right is not None for fork in (left, right)]
        if base is _NO_ANCESTOR:
            split = any(splits)
        else:
            split = splits[0] if splits[0] != (base.right is not None) else splits[1]
        return joined if split else replace(joined, right=None)

    # --- runs and foreign keys ------------------------------------------------------------------------------------

    def _runs(self, base: Any, left: Job, right: Job) -> tuple[Run, ...] | None:
        """The runs of both; None where one side must be chosen: too many runs, or unknown keys in them."""
        if left.runs == right.runs:
            return left.runs
        if any(entry[0][0] == "runs" for job in (left, right) for entry in job.unknown):
            return None
        joined = joined_runs(_of(base, "runs") if self.known else None, left.runs, right.runs, _one_run)
        spec = specs_of(Job)["runs"]
        assert isinstance(spec, Rows)  # noqa: S101 - the model says so
        return joined if len(joined) <= spec.most else None

    def _unknown(self, base: Any, left: Job, right: Job) -> list[tuple[Path, Any]]:
        """The keys that this version does not know, each taken whole; one that only one of the two has is kept."""
        olds = dict(base.unknown) if self.known else {}
        ones, others = dict(left.unknown), dict(right.unknown)
        joined: list[tuple[Path, Any]] = []
        for path in {**ones, **others}:
            one, other = ones.get(path, _ABSENT), others.get(path, _ABSENT)
            old = olds.get(path, _ABSENT) if self.known else _NO_ANCESTOR
            if _ABSENT in (one, other) and old not in (one, other):
                value = other if one is _ABSENT else one
            else:
                value = self._leaf(path, old, one, other)
            if value is not _ABSENT:
                joined.append((path, value))
        return joined


def _one_run(base: Run, left: Run, right: Run) -> Run | None:
    """A run that both changed, joined; None where both changed the same thing."""
    walk = _Walk({}, known=True)
    joined = cast(Run, walk.part(base, left, right, ()))
    return joined if all(choice.settled for choice in walk.choices) else None


def _with_its_source(joined: Occasion, left: Occasion, right: Occasion) -> Occasion:
    """The id of the job it came from goes with the name of that job."""
    joined = replace(joined, id=left.id or right.id)
    if left.carried_from == right.carried_from:
        return joined
    source = left if joined.carried_from == left.carried_from else right
    return replace(joined, carried_id=source.carried_id)


def _names(node: Any) -> list[str]:
    kind: type = type(node)
    return list(specs_of(kind))


def _of(node: Any, name: str) -> Any:
    return _NO_ANCESTOR if node is _NO_ANCESTOR else getattr(node, name)


def _apart(front: Any) -> Any:
    return front if front is _NO_ANCESTOR else replace(front, right=front.leg("right"))


def _same_list(one: Any, other: Any) -> bool:
    """Whether two lists of torques name the same fasteners in the same order."""
    both = (*one, *other)
    if not both or not all(isinstance(row, Torque) for row in both):
        return False
    return [row.what for row in one] == [row.what for row in other]


def _stands(job: Job, path: Path) -> bool:
    """Whether the job has the part that contains an unknown key."""
    node: Any = job
    for step in path:
        if isinstance(step, int):
            node = node[step] if isinstance(node, tuple) and step < len(node) else None
        else:
            node = getattr(node, step, None)
        if node is None:
            return path[0] == "end"
    return True


def _order(path: Path) -> list[str]:
    return [f"{step:06d}" if isinstance(step, int) else step for step in path]


RunKey = tuple[str, int]
"""When the run began, and which of the runs that began then it is."""
JoinRun = Callable[[Run, Run, Run], Run | None]
"""Joins a run that both changed since the ancestor (ancestor, left, right); None where it cannot."""


def joined_runs(
    base: Sequence[Run] | None, left: tuple[Run, ...], right: tuple[Run, ...], join: JoinRun
) -> tuple[Run, ...]:
    """All runs of both, in the order they were ridden as far as it is known.

    Runs are matched by when they began. If the ancestor has a run, a change by one side counts, and a run that one side
    removed and the other did not change is removed. Everything else is kept: of two runs that began at one time and
    differ, both are.

    Args:
        base: the runs of the common ancestor; None: not known.
        left: the runs of one.
        right: the runs of the other.
        join: joins one run that both changed.
    """
    if left == right or (base is not None and right == tuple(base)):
        return left
    if base is not None and left == tuple(base):
        return right
    olds = _keyed(base or ())
    ones, others = _keyed(left), _keyed(right)
    kept: list[Run] = []
    for key in _in_order(ones, others):
        kept += _kept(olds.get(key), ones.get(key), others.get(key), join)
    return tuple(kept)


def _kept(old: Run | None, one: Run | None, other: Run | None, join: JoinRun) -> list[Run]:
    """The versions of one run that are kept: none, one or two."""
    if one == other:
        return [] if one is None else [one]
    if old is not None:
        if old in (one, other):
            changed = other if one == old else one
            return [] if changed is None else [changed]
        joined = None if one is None or other is None else join(old, one, other)
        if joined is not None:
            return [joined]
    return sorted((run for run in (one, other) if run is not None), key=repr)


def _keyed(runs: Iterable[Run]) -> dict[RunKey, Run]:
    seen: Counter[str] = Counter()
    keyed = {}
    for run in runs:
        keyed[(run.time, seen[run.time])] = run
        seen[run.time] += 1
    return keyed


def _in_order(ones: dict[RunKey, Run], others: dict[RunKey, Run]) -> list[RunKey]:
    """The keys of both: each list's own order is kept between those in both, and by time where both have new ones."""
    common = [key for key in ones if key in others]
    if common != [key for key in others if key in ones]:
        return sorted({**ones, **others})
    order: list[RunKey] = []
    remaining = [list(ones), list(others)]
    for anchor in (*common, None):
        between = []
        for keys in remaining:
            end = len(keys) if anchor is None else keys.index(anchor)
            between.append(keys[:end])
            del keys[: end + 1]
        order += between[0] + between[1] if not (between[0] and between[1]) else sorted(between[0] + between[1])
        if anchor is not None:
            order.append(anchor)
    return order
