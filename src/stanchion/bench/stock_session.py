"""Editing the stock of springs, as Session edits a job: typed text in, stock out. No screen, no file."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from stanchion.base.errors import BadEdit, BadQuantity
from stanchion.bench.edit_session import Draft, EditSession
from stanchion.bench.session import READ_ONLY
from stanchion.job.model import Front, Job, Leg, Path, Rear, Spring
from stanchion.job.spec import Choice, Leaf, Number, specs_of
from stanchion.judgement.plausible import implausible
from stanchion.judgement.results.findings import Finding
from stanchion.judgement.springs.stock import MOST_ROWS, Stock, StockSpring, add, put_row, remove
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import nudge_rate, read


class StockSession(EditSession[Stock]):
    """The stock while it is edited. A path is (row, field): (0, "rate_n_per_mm"); the row after the last adds a spring.

    Args:
        stock: the stock as read.
        units: display units, in which bare numbers are read.
        read_only: refuse every edit.
    """

    def __init__(self, stock: Stock, units: Units = METRIC, *, read_only: bool = False) -> None:
        super().__init__(stock, units, read_only=read_only)

    @property
    def stock(self) -> Stock:
        """The present stock."""
        return self._state

    def spec(self, path: Path) -> Leaf:
        """What a field may hold."""
        spec = specs_of(StockSpring)[str(path[1])]
        if not isinstance(spec, Leaf):
            raise TypeError(f"{path} is no single field")
        return spec

    def unlikely(self, row: int) -> Finding | None:
        """The finding on an unlikely value of a spring; None if there is none, or no such row."""
        if row >= len(self.stock.rows):
            return None
        of = self.stock.rows[row]
        spring = Spring(rate_n_per_mm=of.rate_n_per_mm, free_length_mm=of.free_length_mm, coils=of.coils)
        fork, shock = Front(left=Leg(spring=spring)), Rear(spring=spring)
        return next(implausible(Job(front=fork) if of.end == "front" else Job(rear=shock)), None)

    def value(self, path: Path) -> Any:
        """The value at a path; None past the last row."""
        row = int(path[0])
        if row >= len(self.stock.rows):
            return getattr(StockSpring(), str(path[1])) if isinstance(self.spec(path), Choice) else None
        return getattr(self.stock.rows[row], str(path[1]))

    def type(self, path: Path, text: str) -> None:
        """Process the text of a field after a key; text that cannot be read stays as a draft."""
        spec = self.spec(path)
        try:
            if isinstance(spec, Number):
                if not text.strip() and not spec.optional:
                    self.drafts[path] = Draft(text, "")
                    return
                value: Any = read(text, spec, self.units) if text.strip() else None
                if value is not None and path[1] == "count":
                    value = _whole(value)
            else:
                value = spec.check(text)
            self._put(path, value)
        except (BadQuantity, BadEdit) as refused:
            self.drafts[path] = Draft(text, str(refused))
        else:
            self.drafts.pop(path, None)

    def leave(self, path: Path) -> None:
        """End the visit to a field: drop unfinished text, and let the next edit begin a new step of undo."""
        draft = self.drafts.get(path)
        if draft is not None and not draft.reason:
            del self.drafts[path]
        self._steps.leave()

    def nudge(self, path: Path, direction: int) -> bool:
        """Step a number, or a choice to its next word."""
        spec, value = self.spec(path), self.value(path)
        try:
            if isinstance(spec, Number):
                self.drafts.pop(path, None)
                stepped: Any = nudge_rate(value, spec, direction, self.units)
                self._put(path, _whole(stepped) if path[1] == "count" else stepped)
            elif isinstance(spec, Choice):
                at = spec.options.index(value)
                self._put(path, spec.options[(at + direction) % len(spec.options)])
            else:
                return False
        except BadEdit as refused:
            self.drafts[path] = Draft(self.text_of(path), str(refused))
            return False
        return True

    def exchange(self, stock: Stock) -> bool:
        """Replace the stock after springs were fitted to a machine or taken out of it; False if it is read-only."""
        if self.read_only or stock == self.stock:
            return False
        self._steps.change(self.stock)
        self.drafts.clear()
        self._state = stock
        return True

    def remove(self, row: int) -> bool:
        """Remove a row; False if there is none."""
        if self.read_only or row >= len(self.stock.rows):
            return False
        self._steps.change(self.stock)
        self.drafts.clear()
        self._state = remove(self.stock, row)
        return True

    def _restore(self, state: Stock) -> None:
        self._state = state
        self.drafts.clear()

    def _put(self, path: Path, value: Any) -> None:
        if self.read_only:
            raise BadEdit(READ_ONLY.replace("job", "stock"))
        row = int(path[0])
        if row >= MOST_ROWS:
            raise BadEdit(f"the stock holds at most {MOST_ROWS} springs")
        before = self.stock
        stock = before if row < len(before.rows) else add(before, StockSpring())
        row = min(row, len(stock.rows) - 1)
        changed = put_row(stock, row, replace(stock.rows[row], **{str(path[1]): value}))
        if changed == before:
            self._steps.stay(path)
        else:
            self._steps.change(before, path)
            self._state = changed


def _whole(value: float) -> int:
    if value != int(value):
        raise BadEdit("a whole number of springs is needed")
    return int(value)
