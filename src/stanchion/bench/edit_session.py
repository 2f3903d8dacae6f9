"""What editing a job and editing the stock of springs have in common: unread text, undo and redo."""

from __future__ import annotations

import datetime as dt
from abc import ABC, abstractmethod
from collections import deque
from collections.abc import Callable
from typing import Any, Generic, TypeVar

from stanchion.base.record import record
from stanchion.job.model import Path
from stanchion.job.spec import Choice, Number, Spec
from stanchion.units.known_units import Units
from stanchion.units.quantity import editable

DEPTH = 500
"""So many steps can be taken back; of a job with every field filled in they take 0.9 MB, since states share much."""

StateT = TypeVar("StateT")


class Steps(Generic[StateT]):
    """States before each step, and after it once it is undone.

    All changes of one visit, such as the keys typed into one field, are one step. A visit is identified by any value
    that equals itself; None is a new visit each time.
    """

    def __init__(self) -> None:
        self._past: deque[StateT] = deque(maxlen=DEPTH)
        self._future: list[StateT] = []
        self._visit: object = None
        self._start: StateT | None = None

    def start_of(self, visit: object) -> StateT | None:
        """The state before the first change of this visit, where it goes on and has changed something."""
        return self._start if visit is not None and visit == self._visit else None

    def change(self, before: StateT, visit: object = None) -> None:
        """It is changed: a new step, or more of the step of a visit that goes on."""
        if self.start_of(visit) is None:
            self._past.append(before)
            self._start = before
        self._future.clear()
        self._visit = visit

    def stay(self, visit: object) -> None:
        """Something was entered that changes nothing."""
        self._start = self.start_of(visit)
        self._visit = visit

    def leave(self) -> None:
        """The visit is over: the next change is a new step."""
        self._visit = self._start = None

    def forget(self, visit: object) -> StateT | None:
        """The state as this visit found it, and the step forgotten; None where the visit has changed nothing."""
        start = self.start_of(visit)
        if start is not None:
            self._past.pop()
            self.leave()
        return start

    def back(self, now: StateT) -> StateT | None:
        """The state a step earlier; None where there is none."""
        self.leave()
        if not self._past:
            return None
        self._future.append(now)
        return self._past.pop()

    def forward(self, now: StateT) -> StateT | None:
        """The state with the last undo taken back; None where there is none."""
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


class EditSession(ABC, Generic[StateT]):
    """An immutable state that is edited field by field, with the way back.

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

    @property
    def subject(self) -> StateT:
        """The state as it is now; forms are made from it."""
        return self._state

    @abstractmethod
    def spec(self, path: Path) -> Spec:
        """What a field may hold."""

    @abstractmethod
    def value(self, path: Path) -> Any:
        """The value at a path."""

    @abstractmethod
    def _restore(self, state: StateT) -> None:
        """Take a state that undo or redo gave."""

    def options(self, path: Path) -> tuple[str, ...]:
        """The words a field may hold; empty for a field that takes typing."""
        spec = self.spec(path)
        return spec.options if isinstance(spec, Choice) else ()

    def text_of(self, path: Path) -> str:
        """What a field shows: the draft where there is one, else the value."""
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
        """Go back one step; False where there is none.

        Args:
            at: the current field; unread text in it is dropped first.
        """
        if at is not None and self.drafts.pop(at, None) is not None:
            return True
        return self._go(self._steps.back)

    def redo(self) -> bool:
        """Take the last undo back; False where there is none."""
        return self._go(self._steps.forward)

    def _go(self, way: Callable[[StateT], StateT | None]) -> bool:
        state = None if self.read_only else way(self._state)
        if state is not None:
            self._restore(state)
        return state is not None
