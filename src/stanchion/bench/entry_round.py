"""Values that are asked one after the other and belong to no job. No screen."""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import Literal

from stanchion.base.errors import BadEdit, BadQuantity
from stanchion.base.record import record
from stanchion.job.spec import Number, Text
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import editable, read

Key = tuple[str | int, ...]
"""What is asked for: ("by",), or ("reading", place, person, repeat)."""
Doubt = Literal["", "far_off", "swapped"]
"""Why a value is to be confirmed."""
LONGEST_TYPED = 60


@record
class Asked:
    """One thing that is asked for."""

    key: Key
    spec: Number | Text | None
    """What it may be; None: nothing is typed, Enter goes on."""
    optional: bool = False


class EntryRound(ABC):
    """What is asked, what was answered, and the text being typed.

    Args:
        units: display units, in which bare numbers are read.
    """

    def __init__(self, units: Units = METRIC) -> None:
        self.units = units
        self.at = 0
        self.typed = ""
        self.refused = ""
        """Why the text cannot be read."""
        self.doubt: Doubt = ""
        """Why the value is to be confirmed by another Enter."""
        self.values: dict[Key, float | str] = {}

    @property
    @abstractmethod
    def asked(self) -> tuple[Asked, ...]:
        """Everything that is asked, in order."""

    @abstractmethod
    def doubt_of(self, one: Asked, value: float) -> Doubt:
        """Whether a number is to be confirmed."""

    @property
    def one(self) -> Asked | None:
        """What is asked now; None after the last."""
        ordered = self.asked
        return ordered[self.at] if self.at < len(ordered) else None

    @property
    def done(self) -> bool:
        """Whether everything was answered."""
        return self.one is None

    def type(self, character: str) -> None:
        """Add a character to the text."""
        if self.one is not None and self.one.spec is not None and len(self.typed) < LONGEST_TYPED:
            self.typed += character
            self.refused, self.doubt = "", ""

    def delete(self) -> None:
        """Take the last character back."""
        self.typed = self.typed[:-1]
        self.refused, self.doubt = "", ""

    def take(self) -> None:
        """Take what is typed and go on; what cannot be read not at all, an odd value only when asked twice."""
        one = self.one
        if one is None:
            return
        if one.spec is None:
            self._go(self.at + 1)
            return
        if not self.typed.strip():
            if one.optional:
                self.values.pop(one.key, None)
                self._go(self.at + 1)
            else:
                self.refused = "nothing is typed yet"
            return
        try:
            value = self._read(one.spec)
        except (BadQuantity, BadEdit) as refused:
            self.refused = str(refused)
            return
        if isinstance(value, float) and not self.doubt and (doubt := self.doubt_of(one, value)):
            self.doubt = doubt
            return
        self.values[one.key] = value
        self._go(self.at + 1)

    def _read(self, spec: Number | Text) -> float | str:
        if isinstance(spec, Text):
            return spec.check(self.typed.strip())
        value = read(self.typed, spec, self.units)
        if not isinstance(value, float):
            raise BadEdit("one number is needed")
        return value

    def back(self) -> None:
        """Go back to what was asked before, to answer it anew."""
        if self.at:
            self._go(self.at - 1)

    def _go(self, at: int) -> None:
        self.at, self.refused, self.doubt, self.typed = at, "", "", ""
        one = self.one
        if one is not None and one.key in self.values and self.keeps_shown(one):
            self.typed = self._text(one)

    def _text(self, one: Asked) -> str:
        value = self.values[one.key]
        if isinstance(value, str) or not isinstance(one.spec, Number):
            return str(value)
        return editable(value, one.spec.kind, self.units)

    def keeps_shown(self, one: Asked) -> bool:
        """Whether an earlier answer is shown again when it is gone back to."""
        del one
        return True
