"""The springs in stock: what a technician has to hand, row by row.

A row is one sort of spring and how many of it there are. Rows are known by their place in the list.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field, replace
from typing import Any

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.job.model import Coils, End
from stanchion.job.places import Comment, comments_kept
from stanchion.job.spec import Kind, Number, Rate, choice, number, text

MOST_ROWS = 500
"""Rows at most."""


@record(kw_only=True)
class StockSpring:
    """One sort of spring in stock. None means "not known"."""

    end: str = choice("front", "rear")
    """What it is for: a fork leg, or the shock."""
    label: str = text(40)
    """What it is called, in the technician's own words."""
    rate_n_per_mm: Rate | None = number(Kind.RATE, 0.1, 1000, 0.25, two=True)
    """Rate [N/mm], or the two of a progressive spring; a spring without one is not chosen from."""
    free_length_mm: float | None = number(Kind.LENGTH, 10, 1000, 0.5)
    """Free length [mm]; None: taken to be that of the spring it replaces."""
    wire_mm: float | None = number(Kind.LENGTH, 0.5, 30, 0.1)
    """Wire diameter [mm]."""
    outer_mm: float | None = number(Kind.LENGTH, 5, 150, 0.5)
    """Outer diameter of the coil [mm]."""
    total_coils: float | None = number(Kind.COUNT, 2, 60, 0.25)
    """All coils, end coils included."""
    ends: str = choice("closed_ground", "closed", "open_ground", "open")
    """How the ends are finished."""
    solid_length_mm: float | None = number(Kind.LENGTH, 1, 800, 0.5)
    """Solid length as measured [mm]; it wins over the calculated one."""
    count: int = field(default=1, metadata={"spec": Number(Kind.COUNT, 0, 999, 1, optional=False)})
    """How many there are: a whole number."""
    unknown: tuple[tuple[str, Any], ...] = field(default=(), hash=False)
    """Keys of the row that this version does not know, kept to be written back."""
    comments: tuple[Comment, ...] = comments_kept()
    """Comments that stand in the row, likewise, with paths that begin at it."""

    @property
    def coils(self) -> Coils:
        """Wire and coils as a job records them."""
        return Coils(
            wire_mm=self.wire_mm,
            outer_mm=self.outer_mm,
            total_coils=self.total_coils,
            ends=self.ends,
            solid_length_mm=self.solid_length_mm,
        )


@record
class Stock:
    """Every row of the stock."""

    rows: tuple[StockSpring, ...] = ()
    unreadable: tuple[tuple[int, Any], ...] = field(default=(), hash=False)
    """Rows of the file that cannot be used, with the place where each stood, kept to be written back."""
    unknown: tuple[tuple[str, Any], ...] = field(default=(), hash=False)
    """Keys of the file that this version does not know, likewise."""
    comments: tuple[Comment, ...] = comments_kept()
    """Comments of the file outside its rows, likewise."""

    def of(self, end: End) -> tuple[tuple[int, StockSpring], ...]:
        """The rows for one end, with their places."""
        return tuple((at, row) for at, row in enumerate(self.rows) if row.end == end)


def add(stock: Stock, row: StockSpring) -> Stock:
    """The stock with a row more, at its end.

    Raises:
        OutOfRange: it has as many rows as it may have.
    """
    if len(stock.rows) >= MOST_ROWS:
        raise OutOfRange("rows of stock", len(stock.rows) + 1, f"at most {MOST_ROWS}")
    return replace(stock, rows=(*stock.rows, row))


def put_row(stock: Stock, at: int, row: StockSpring) -> Stock:
    """The stock with another row in that place.

    Raises:
        OutOfRange: there is no such place.
    """
    _place(stock, at)
    return replace(stock, rows=(*stock.rows[:at], row, *stock.rows[at + 1 :]))


def remove(stock: Stock, at: int) -> Stock:
    """The stock without that row; the later ones move up.

    Raises:
        OutOfRange: there is no such place.
    """
    _place(stock, at)
    return replace(stock, rows=stock.rows[:at] + stock.rows[at + 1 :])


def left_over(stock: Stock, used: Sequence[int]) -> Stock:
    """The stock after a job has taken springs from it.

    Args:
        stock: the stock before.
        used: the row of each spring taken; a row that gives two stands twice.

    Returns:
        The stock with the counts that are left; a row of which none is left stays, with 0.

    Raises:
        OutOfRange: there is no such row, or it has not so many.

    >>> pair = Stock((StockSpring(rate_n_per_mm=9.5, count=3),))
    >>> left_over(pair, (0, 0)).rows[0].count
    1
    """
    rows = list(stock.rows)
    for at in set(used):
        taken, row = used.count(at), _place(stock, at)
        if taken > row.count:
            raise OutOfRange("springs taken from one row", taken, f"at most {row.count}: no more are there")
        rows[at] = replace(row, count=row.count - taken)
    return replace(stock, rows=tuple(rows))


def exchanged(stock: Stock, used: Sequence[int], taken_out: Sequence[StockSpring]) -> Stock:
    """The stock once springs of it are fitted and those taken out of the machine are put into it.

    Args:
        stock: the stock before.
        used: the row of each spring fitted; a row that gives two stands twice.
        taken_out: each spring taken out; it goes to the row of its like, or to a new one.

    Raises:
        OutOfRange: there is no such row, it has not so many, or there is no room for another row.

    >>> stock = Stock((StockSpring(rate_n_per_mm=9.5, count=2),))
    >>> after = exchanged(stock, (0, 0), (StockSpring(rate_n_per_mm=9.0),) * 2)
    >>> [(row.rate_n_per_mm, row.count) for row in after.rows]
    [(9.5, 0), (9.0, 2)]
    """
    after = left_over(stock, used)
    for spring in taken_out:
        at = next((at for at, row in enumerate(after.rows) if _alike(row, spring)), None)
        if at is None:
            after = add(after, replace(spring, count=1))
        else:
            after = put_row(after, at, replace(after.rows[at], count=after.rows[at].count + 1))
    return after


def _alike(one: StockSpring, other: StockSpring) -> bool:
    return (one.end, one.rate_n_per_mm, one.free_length_mm, one.coils) == (
        other.end,
        other.rate_n_per_mm,
        other.free_length_mm,
        other.coils,
    )


def _place(stock: Stock, at: int) -> StockSpring:
    if not 0 <= at < len(stock.rows):
        raise OutOfRange("row of the stock", at + 1, f"from 1 to {len(stock.rows)}")
    return stock.rows[at]
