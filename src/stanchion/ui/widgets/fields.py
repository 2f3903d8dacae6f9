"""What a sheet fills."""

from __future__ import annotations

from typing import Any, Protocol

from stanchion.bench.edit_session import Draft
from stanchion.job.model import Path
from stanchion.job.spec import Flag, Spec, Text
from stanchion.units.known_units import Units


class Fields(Protocol):
    """What a sheet fills: a Session, or a StockSession."""

    drafts: dict[Path, Draft]

    @property
    def units(self) -> Units:
        """Display units."""

    @property
    def subject(self) -> Any:
        """What the form is made for."""

    def spec(self, path: Path) -> Spec:
        """The spec of a field."""

    def value(self, path: Path) -> Any:
        """The value at a path."""

    def options(self, path: Path) -> tuple[str, ...]:
        """The words a field can be set to; empty for a field that takes typing."""

    def text_of(self, path: Path) -> str:
        """What a field shows."""

    def type(self, path: Path, text: str) -> None:
        """Take the text of a field as it is after a key."""

    def leave(self, path: Path) -> None:
        """The field has been left."""

    def nudge(self, path: Path, direction: int) -> bool:
        """Step the value of a field."""


def chosen(fields: Fields, path: Path) -> bool:
    """Whether a field is chosen by stepping through words, not typed."""
    return isinstance(fields.spec(path), Flag) or bool(fields.options(path))


def long(fields: Fields, path: Path) -> bool:
    """Whether a field holds several lines."""
    spec = fields.spec(path)
    return isinstance(spec, Text) and spec.lines > 1
