"""Choosing the columns of a dynamometer's file, as Session edits a job. No screen, no disk."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from stanchion.base.errors import BadEdit, BadQuantity
from stanchion.base.record import record
from stanchion.bench.damper_import import ReadSheet, read_sheet
from stanchion.bench.edit_session import Draft, EditSession
from stanchion.bench.table_file import TableFile, column_at
from stanchion.job.damper_columns import COLUMN_NAMES, DamperColumns
from stanchion.job.model import Path
from stanchion.job.spec import Leaf, Number, Text, specs_of
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import nudge_rate, read

PATH: Path = ("path",)
NO_COLUMN = ""
TYPE_A_PATH = "Type the path of the file, and press Enter."


@record
class Choosing:
    """What is chosen so far."""

    path: str = ""
    """The file, as typed."""
    columns: DamperColumns = DamperColumns()
    file: TableFile | None = None
    """Its table; None: not read."""


def read_now(choosing: Choosing) -> ReadSheet | str:
    """The sheet as the columns chosen give it, or what is still to be done."""
    if choosing.file is None:
        return TYPE_A_PATH
    try:
        return read_sheet(choosing.file, choosing.columns)
    except BadQuantity as refused:
        return str(refused)


class ColumnsSession(EditSession[Choosing]):
    """The path of a file and the meaning of its columns while they are chosen. A path is (field,).

    Args:
        units: display units.
    """

    def __init__(self, units: Units = METRIC) -> None:
        super().__init__(Choosing(), units, read_only=False)

    def take(self, path: str, file: TableFile, kept: DamperColumns | None) -> None:
        """Begin with a file that was read, and with the columns chosen for its folder as far as it has them."""
        columns = kept or DamperColumns()
        found = {name: column_at(file, getattr(columns, name)) for name in COLUMN_NAMES}
        named: dict[str, Any] = {name: NO_COLUMN if at is None else file.columns[at] for name, at in found.items()}
        self._put(Choosing(path, replace(columns, **named), file))

    def spec(self, path: Path) -> Leaf:
        """What a field may hold."""
        if path == PATH:
            return Text(300)
        spec = specs_of(DamperColumns)[str(path[0])]
        if not isinstance(spec, Leaf):
            raise TypeError(f"{path} is no single field")
        return spec

    def value(self, path: Path) -> Any:
        """The value of a field."""
        return self.subject.path if path == PATH else getattr(self.subject.columns, str(path[0]))

    def options(self, path: Path) -> tuple[str, ...]:
        """The words a field may hold: of a column those of the file."""
        if path[0] in COLUMN_NAMES:
            file = self.subject.file
            return (NO_COLUMN, *(file.columns if file is not None else ()))
        return super().options(path)

    def type(self, path: Path, text: str) -> None:
        """Take the text of a field after a key."""
        spec = self.spec(path)
        try:
            value: Any = spec.check(text) if not isinstance(spec, Number) else None
            if isinstance(spec, Number) and text.strip():
                value = read(text, spec, self.units)
            self._set(path, value)
        except (BadQuantity, BadEdit) as refused:
            self.drafts[path] = Draft(text, str(refused))
        else:
            self.drafts.pop(path, None)

    def leave(self, path: Path) -> None:
        """End the visit to a field."""
        self.drafts.pop(path, None)
        self._steps.leave()

    def nudge(self, path: Path, direction: int) -> bool:
        """Step a number, or a choice or column to its next word."""
        spec, options = self.spec(path), self.options(path)
        try:
            if options:
                value = self.value(path)
                at = options.index(value) if value in options else 0
                self._set(path, options[(at + direction) % len(options)])
            elif isinstance(spec, Number):
                self._set(path, nudge_rate(self.value(path), spec, direction, self.units))
            else:
                return False
        except BadEdit as refused:
            self.drafts[path] = Draft(self.text_of(path), str(refused))
            return False
        return True

    def _set(self, path: Path, value: Any) -> None:
        now = self.subject
        if path == PATH:
            if value != now.path:
                self._put(Choosing(value, now.columns, None), path)
        else:
            self._put(replace(now, columns=replace(now.columns, **{str(path[0]): value})), path)

    def _put(self, state: Choosing, visit: object = None) -> None:
        if state != self._state:
            self._steps.change(self._state, visit)
            self._state = state

    def _restore(self, state: Choosing) -> None:
        self._state = state
        self.drafts.clear()
