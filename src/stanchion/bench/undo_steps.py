"""Undo and redo: the states a job or stock went through, one for each step."""

from __future__ import annotations

from collections import deque
from typing import Generic, TypeVar

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
