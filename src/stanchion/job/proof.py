"""Changes judged by riding: which of them the machine has, and which were ridden with a run."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from stanchion.base.errors import BadEdit
from stanchion.job.change import MOST_CHANGES, MOST_MOVES, ChangeToRide, Move
from stanchion.job.diff import SPLIT, Difference
from stanchion.job.edit import Edit, apply, dotted, spec_at, value_at
from stanchion.job.model import Job, Path, Setup
from stanchion.job.returning import CHAIN_AND_TYRES
from stanchion.job.spec import Leaf, Many, Number, Progressive, as_stored, specs_of

AT: Path = ("changes",)
"""The path of the changes that were not ridden yet."""
_SAME = 1e-9


def moves_of(changes: Iterable[Difference]) -> tuple[Move, ...]:
    """Differences as the moves of a change; those of a list of rows, such as linkage pairs, are left out, and what is
    beyond the most is cut off.

    >>> moves_of([Difference(("rear", "rebound", "now"), 10.0, 12.0)])
    (Move(path='rear.rebound.now', was='10.0', becomes='12.0'),)
    """
    moves = (
        Move(path=dotted(one.path), was=_text(one.old), becomes=_text(one.new))
        for one in changes
        if one.path != SPLIT and isinstance(spec_at(one.path), Leaf | Many)
    )
    longest = specs_of(Move)["was"].longest  # type: ignore[union-attr]  # it is a text
    return tuple(move for move in moves if len(max(move.was, move.becomes, key=len)) <= longest)[:MOST_MOVES]


def differences_of(change: ChangeToRide) -> tuple[Difference, ...]:
    """The settings a change alters, each before and after; what cannot be read in a file edited by hand is left out."""
    found = []
    for move in change.moves:
        path = tuple(move.path.split("."))
        try:
            found.append(Difference(path, _value(path, move.was), _value(path, move.becomes)))
        except (BadEdit, ValueError):
            continue
    return tuple(found)


def holds(job: Job, change: ChangeToRide) -> bool:
    """Whether a job has every setting as a change leaves it."""
    found = differences_of(change)
    return bool(found) and all(_same(value_at(job, one.path), one.new) for one in found)


def made(job: Job) -> tuple[ChangeToRide, ...]:
    """The changes that the machine has, and that no run was ridden with yet."""
    return tuple(change for change in job.changes if holds(job, change))


def stamped(job: Job, now: dt.datetime) -> tuple[ChangeToRide, ...]:
    """The changes of a job that were not ridden yet, each with the day and time if the machine has it; one that was
    made and is no longer there is still to be made.

    Args:
        job: the job, after an item of its work list was ticked or a tick taken back.
        now: the time for those that were made with that tick.
    """
    unmade = (replace(one, made_on=None, made_at="") for one in job.changes)
    return tuple(
        (one if one.made_on is not None else made_at(one, now)) if holds(job, one) else still
        for one, still in zip(job.changes, unmade, strict=True)
    )


def listed(job: Job) -> bool:
    """Whether the work list of a job makes a change that is to be ridden."""
    list_of = job.returning
    if list_of is None:
        return False
    done, begun = _with_setup(job, list_of.to), _with_setup(job, list_of.start)
    return any(holds(done, one) and not holds(begun, one) for one in job.changes)


def _with_setup(job: Job, setup: Setup) -> Job:
    """The job with a setup: fork, shock, chain and tyres, as far as the setup has them."""
    upkeep = job.upkeep
    if setup.upkeep is not None:
        upkeep = replace(upkeep, **{name: getattr(setup.upkeep, name) for name in CHAIN_AND_TYRES})
    return replace(job, front=setup.front or job.front, rear=setup.rear or job.rear, upkeep=upkeep)


def stamps_after(job: Job, edits: Iterable[Edit], now: dt.datetime) -> tuple[Edit, ...]:
    """The edit that stamps changes which other edits make, or takes their stamps; none where they make none.

    Args:
        job: the job.
        edits: those of a tick on its work list.
        now: the time.
    """
    if not job.changes:
        return ()
    for edit in edits:
        job = apply(job, edit)
    return (Edit(AT, stamped(job, now)),)


def without_unmade(job: Job) -> tuple[Edit, ...]:
    """The edit after which no change is still to be made, as the work list it stood on is put away; none if none is."""
    kept = tuple(one for one in job.changes if one.made_on is not None)
    return () if kept == job.changes else (Edit(AT, kept),)


def with_change(job: Job, change: ChangeToRide, now: dt.datetime | None) -> tuple[ChangeToRide, ...]:
    """The changes of a job and one more.

    Args:
        job: the job.
        change: the change.
        now: when it was made; None: it is still to be made, and takes the place of any other one still to be made.
    """
    others = (one for one in made(job) if one.moves != change.moves)
    return (*others, change if now is None else made_at(change, now))[-MOST_CHANGES:]


def made_at(change: ChangeToRide, now: dt.datetime) -> ChangeToRide:
    """The change as it was made at a time."""
    return replace(change, made_on=now.date(), made_at=f"{now:%H:%M}")


def _same(one: Any, other: Any) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) <= _SAME
    return bool(one == other)


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, tuple):
        return json.dumps([as_stored(one) for one in value])
    if isinstance(value, Progressive | float):
        return json.dumps(as_stored(value))
    return json.dumps(value, ensure_ascii=False)


def _value(path: Path, text: str) -> Any:
    """The value of a setting as the job holds it.

    Raises:
        BadEdit: there is no such setting, or it cannot have that value.
        ValueError: the text is no JSON.
    """
    spec = spec_at(path)
    if not text and isinstance(spec, Number) and spec.optional:
        return None
    value = json.loads(text)
    if isinstance(spec, Many) and isinstance(value, list) and len(value) <= spec.most:
        return tuple(spec.item.check(one) for one in value)
    if isinstance(spec, Leaf):
        return spec.check(value)
    raise BadEdit("no single setting")
