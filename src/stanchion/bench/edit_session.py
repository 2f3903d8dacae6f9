"""What editing a job and editing the stock of springs have in common: unread text, and the steps of undo."""

from __future__ import annotations

import datetime as dt
from abc import ABC, abstractmethod
from collections.abc import Callable
from typing import Any, Generic

from stanchion.base.record import record
from stanchion.bench.undo_steps import StateT, Steps
from stanchion.job.model import Path
from stanchion.job.spec import Choice, Number, Spec
from stanchion.units.known_units import Units
from stanchion.units.quantity import editable


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
