"""The springs in the van, with the file they are kept in."""

from __future__ import annotations

import threading

from stanchion.quantity import Units
from stanchion.stock_session import StockSession
from stanchion.store.paths import Places
from stanchion.store.stock import load_stock, save_stock


class Van:
    """The stock while the program runs.

    Args:
        where: the folders.
        units: to show and read it in.
    """

    def __init__(self, where: Places, units: Units) -> None:
        found = load_stock(where)
        self.session = StockSession(found.stock, units, read_only=found.read_only)
        """What is shown and changed."""
        self.problems = found.problems
        """What could not be read."""
        self._places = where
        self._seen = found.seen
        self._saved = found.stock
        self._lock = threading.Lock()

    def save(self) -> None:
        """Write the stock, where it has changed. Waits for the disk.

        Raises:
            NotSaved: it could not be written; it is still in memory.
        """
        with self._lock:
            stock = self.session.stock
            if stock != self._saved and not self.session.read_only:
                self._seen = save_stock(stock, self._places, self._seen)
                self._saved = stock
