"""The van's stock while it is edited: typed text in, stock out. What a Session is for a job; no screen, no file."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from stanchion.base.errors import BadEdit, BadQuantity
from stanchion.bench.session import READ_ONLY, Draft
from stanchion.bench.undo_steps import Steps
from stanchion.job.model import Front, Job, Leg, Path, Rear, Spring
from stanchion.job.spec import Choice, Leaf, Number, specs_of
from stanchion.judgement.plausible import implausible
from stanchion.judgement.results.findings import Finding
from stanchion.judgement.springs.stock import MOST_ROWS, Stock, StockSpring, add, put_row, remove
from stanchion.units.known_units import METRIC, Units
from stanchion.units.quantity import editable, nudge, parse


class StockSession:
    """The stock in hand. A path is (row, field): (0, "rate_n_per_mm"); the row just past the last adds a spring.

    Args:
        stock: the stock as read.
        units: display units, in which bare numbers are read.
        read_only: refuse every edit.
    """

    def __init__(self, stock: Stock, units: Units = METRIC, *, read_only: bool = False) -> None:
        self.stock = stock
        self.units = units
        self.read_only = read_only
        self.drafts: dict[Path, Draft] = {}
        self._steps: Steps[Stock] = Steps()

    @property
    def subject(self) -> Stock:
        """What the form is made for."""
        return self.stock

    def spec(self, path: Path) -> Leaf:
        """What a field may hold."""
        spec = specs_of(StockSpring)[str(path[1])]
        if not isinstance(spec, Leaf):
            raise TypeError(f"{path} is no single field")
        return spec

    def unlikely(self, row: int) -> Finding | None:
        """What of a spring is outside what is usual where it is fitted; None: nothing, or there is no such row."""
        if row >= len(self.stock.rows):
            return None
        of = self.stock.rows[row]
        spring = Spring(rate_n_per_mm=of.rate_n_per_mm, free_length_mm=of.free_length_mm, coils=of.coils)
        fork, shock = Front(left=Leg(spring=spring)), Rear(spring=spring)
        return next(implausible(Job(front=fork) if of.end == "front" else Job(rear=shock)), None)

    def value(self, path: Path) -> Any:
        """What stands at a path; past the last row, nothing."""
        row = int(path[0])
        if row >= len(self.stock.rows):
            return getattr(StockSpring(), str(path[1])) if isinstance(self.spec(path), Choice) else None
        return getattr(self.stock.rows[row], str(path[1]))

    def options(self, path: Path) -> tuple[str, ...]:
        """The words a field may hold."""
        spec = self.spec(path)
        return spec.options if isinstance(spec, Choice) else ()

    def text_of(self, path: Path) -> str:
        """What the field shows."""
        if path in self.drafts:
            return self.drafts[path].text
        value, spec = self.value(path), self.spec(path)
        if value is None:
            return ""
        return editable(value, spec.kind, self.units) if isinstance(spec, Number) else str(value)

    def type(self, path: Path, text: str) -> None:
        """Take the text of a field as it stands after a key; what cannot be read stays as a draft."""
        spec = self.spec(path)
        try:
            if isinstance(spec, Number):
                if not text.strip() and not spec.optional:
                    self.drafts[path] = Draft(text, "")
                    return
                value: Any = parse(text, spec, self.units) if text.strip() else None
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
        """The field has been left: unfinished text goes, and the next edit is a new step of undo."""
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
                stepped: Any = nudge(value, spec, direction, self.units)
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
        """Take the stock as it is after springs went into a machine or came out of it; False where it may not."""
        if self.read_only or stock == self.stock:
            return False
        self._steps.change(self.stock)
        self.drafts.clear()
        self.stock = stock
        return True

    def remove(self, row: int) -> bool:
        """Take a row away; False where there is none."""
        if self.read_only or row >= len(self.stock.rows):
            return False
        self._steps.change(self.stock)
        self.drafts.clear()
        self.stock = remove(self.stock, row)
        return True

    def undo(self, at: Path | None = None) -> bool:
        """One step back; text in the field in hand that cannot be read goes first."""
        if at is not None and self.drafts.pop(at, None) is not None:
            return True
        return self._go(self._steps.back)

    def redo(self) -> bool:
        """Take the last undo back; False where there is none."""
        return self._go(self._steps.forward)

    def _go(self, way: Callable[[Stock], Stock | None]) -> bool:
        stock = way(self.stock)
        if stock is not None:
            self.stock = stock
            self.drafts.clear()
        return stock is not None

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
            self.stock = changed


def _whole(value: float) -> int:
    if value != int(value):
        raise BadEdit("a whole number of springs is needed")
    return int(value)
