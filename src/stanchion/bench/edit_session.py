"""What editing a job and editing the stock of springs have in common: unread text, undo and redo."""

from __future__ import annotations

import datetime as dt
from abc import ABC, abstractmethod
from collections import deque
from collections.abc import Callable, Mapping
from typing import Any, Generic, TypeVar

from stanchion.base.record import record
from stanchion.job.model import Path
from stanchion.job.spec import Choice, Number, Spec
from stanchion.units.known_units import Units
from stanchion.units.quantity import editable

DEPTH = 500
"""Steps that can be undone. For a job with every field filled in they take 0.9 MB, since states share most parts."""

StateT = TypeVar("StateT")


class Steps(Generic[StateT]):
    """The states before the steps that were made, and after those that were undone.

    All changes of one visit, such as the keys typed into one field, are one step. A visit is identified by any value
    that equals itself; None is a new visit each time.
    """

    def __init__(self) -> None:
        self._past: deque[StateT] = deque(maxlen=DEPTH)
        self._future: list[StateT] = []
        self._visit: object = None
        self._start: StateT | None = None

    def start_of(self, visit: object) -> StateT | None:
        """The state before the first change of the current visit; None if this is another visit."""
        return self._start if visit is not None and visit == self._visit else None

    def change(self, before: StateT, visit: object = None) -> None:
        """Record a change: a new step, or part of the step of the current visit."""
        if self.start_of(visit) is None:
            self._past.append(before)
            self._start = before
        self._future.clear()
        self._visit = visit

    def stay(self, visit: object) -> None:
        """Record an entry that changes nothing."""
        self._start = self.start_of(visit)
        self._visit = visit

    def leave(self) -> None:
        """End the visit: the next change is a new step."""
        self._visit = self._start = None

    def forget(self, visit: object) -> StateT | None:
        """Remove the step of this visit and return the state before it; None if the visit changed nothing."""
        start = self.start_of(visit)
        if start is not None:
            self._past.pop()
            self.leave()
        return start

    def back(self, now: StateT) -> StateT | None:
        """The state one step earlier; None if there is none."""
        self.leave()
        if not self._past:
            return None
        self._future.append(now)
        return self._past.pop()

    def latest(self, wanted: Callable[[StateT], bool]) -> StateT | None:
        """The latest of the states before the steps that meets a condition; None if there is none."""
        return next((state for state in reversed(self._past) if wanted(state)), None)

    def forward(self, now: StateT) -> StateT | None:
        """The state before the last undo; None if there is none."""
        self.leave()
        if not self._future:
            return None
        self._past.append(now)
        return self._future.pop()


@record
class Draft:
    """Typed text that is not (or not yet) the value of its field."""

    text: str
    reason: str
    """Why it cannot be read; empty for a text that is merely unfinished."""


def without_row(drafts: Mapping[Path, Draft], rows: Path, at: int) -> dict[Path, Draft]:
    """The drafts after a row was removed from a list: its own are gone, those of later rows have moved up.

    Args:
        drafts: the drafts before.
        rows: path of the list.
        at: the row that was removed.
    """
    depth = len(rows)
    moved: dict[Path, Draft] = {}
    for path, draft in drafts.items():
        step = path[depth] if path[:depth] == rows and len(path) > depth else None
        if not isinstance(step, int) or step < at:
            moved[path] = draft
        elif step > at:
            moved[(*rows, step - 1, *path[depth + 1 :])] = draft
    return moved


class EditSession(ABC, Generic[StateT]):
    """An immutable state that is edited field by field, with undo and redo.

    Args:
        state: the state to begin with.
        units: display units, in which bare numbers are read.
        read_only: refuse every edit.
    """

    def __init__(self, state: StateT, units: Units, *, read_only: bool) -> None:
        self.units = units
        self.read_only = read_only
        self.drafts: dict[Path, Draft] = {}
        self._state = state
        self._steps: Steps[StateT] = Steps()
        self._unread_at: Path | None = None
        """The field with the text that was typed last, while that cannot be read."""
        self.dropped: tuple[Path, Draft, StateT] | None = None
        """The unread text that undo dropped last, from which field, and the state then: redo brings it back."""

    @property
    def subject(self) -> StateT:
        """The present state, from which forms are made."""
        return self._state

    @abstractmethod
    def spec(self, path: Path) -> Spec:
        """What a field may hold."""

    @abstractmethod
    def value(self, path: Path) -> Any:
        """The value at a path."""

    @abstractmethod
    def _restore(self, state: StateT) -> None:
        """Replace the state by one from undo or redo."""

    def options(self, path: Path) -> tuple[str, ...]:
        """The words a field may hold; empty for a field that takes typing."""
        spec = self.spec(path)
        return spec.options if isinstance(spec, Choice) else ()

    def text_of(self, path: Path) -> str:
        """The text of a field: its draft if there is one, else its value."""
        draft = self.drafts.get(path)
        if draft is not None:
            return draft.text
        value, spec = self.value(path), self.spec(path)
        if value is None:
            return ""
        if isinstance(spec, Number):
            return editable(value, spec.kind, self.units)
        return value.isoformat() if isinstance(value, dt.date) else str(value)

    def undo(self, at: Path | None = None) -> bool:
        """Undo one step; False if there is none.

        Args:
            at: the current field; unread text in it is dropped first, and then such text as was typed last elsewhere
                if nothing has been changed since.
        """
        if at not in self.drafts:
            at = self._unread_at if self._unread_at in self.drafts else None
        self._unread_at = None
        draft = self.drafts.pop(at, None) if at is not None else None
        self.dropped = (at, draft, self._state) if at is not None and draft is not None else None
        return self.dropped is not None or self._go(self._steps.back)

    def redo(self) -> bool:
        """Redo one step; False if there is none."""
        if self.dropped is not None:
            at, draft, state = self.dropped
            self.dropped = None
            if state is self._state and at not in self.drafts:
                self.drafts[at] = draft
                return True
        return self._go(self._steps.forward)

    def _go(self, way: Callable[[StateT], StateT | None]) -> bool:
        state = None if self.read_only else way(self._state)
        if state is not None:
            self._restore(state)
        return state is not None
