"""The stock of springs while the program runs, with its file."""

from __future__ import annotations

import threading

from stanchion.base.errors import OutOfRange
from stanchion.base.record import record
from stanchion.bench.session import Session
from stanchion.bench.stock_session import StockSession
from stanchion.bench.trial import Trial
from stanchion.job.model import End, Job
from stanchion.judgement.springs.candidates import spring_at
from stanchion.judgement.springs.spring_option import Option
from stanchion.judgement.springs.stock import Stock, StockSpring, exchanged
from stanchion.planning.spring_choice import SpringChoice, choose
from stanchion.store.paths import Places
from stanchion.store.stock import load_stock, save_stock
from stanchion.units.known_units import Units


@record
class _Fitted:
    """Springs of the stock that were fitted to a job."""

    before: Job
    after: Job
    stock_before: Stock
    stock_after: Stock


def taken_out(option: Option, job: Job) -> tuple[StockSpring, ...]:
    """The springs that a choice removes from a job, as rows of the stock; those without a rate are omitted.

    Args:
        option: the choice: springs of the stock, or those fitted with the second one beside them taken out.
        job: the job before.
    """
    out = []
    for fitting in option.fittings:
        old = spring_at(job, fitting.place)
        second, end = old.second, "rear" if fitting.place == "rear" else "front"
        free_mm, replaced = old.free_length_mm, fitting.spring.row is not None
        if second.fitted and second.rate_n_per_mm is not None and (replaced or fitting.spring.alone):
            out.append(StockSpring(end=end, rate_n_per_mm=second.rate_n_per_mm, free_length_mm=second.free_length_mm))
        if not replaced or old.rate_n_per_mm is None:
            continue
        if second.arranged == "end_to_end" and free_mm is not None:  # that of both together
            own_mm = second.free_length_mm
            free_mm = None if own_mm is None else max(1.0, free_mm - own_mm - (second.divider_mm or 0.0))
        out.append(
            StockSpring(
                end=end,
                rate_n_per_mm=old.rate_n_per_mm,
                free_length_mm=free_mm,
                wire_mm=old.coils.wire_mm,
                outer_mm=old.coils.outer_mm,
                total_coils=old.coils.total_coils,
                ends=old.coils.ends,
                solid_length_mm=old.coils.solid_length_mm,
            )
        )
    return tuple(out)


class SpringStock:
    """The stock while the program runs.

    Args:
        where: the folders.
        units: display units.
    """

    def __init__(self, where: Places, units: Units) -> None:
        found = load_stock(where)
        self.session = StockSession(found.stock, units, read_only=found.read_only)
        """The stock as it is edited."""
        self.problems = found.problems
        """Problems with the file."""
        self._places = where
        self._seen = found.seen
        self._saved = found.stock
        self._fitted: list[_Fitted] = []
        self._lock = threading.Lock()

    def choose(self, session: Session, end: End) -> SpringChoice:
        """The springs for one end of a job, best first: those in stock, and those that are sold."""
        return choose(session.job, session.assessment, session.profiles, end, self.session.stock)

    def chosen(self, trial: Trial) -> Option | None:
        """The choice of springs that is being tried; also one that was chosen before the job was last left."""
        if trial.chosen is None and trial.chosen_before is not None:
            end, used = trial.chosen_before
            for option in self.choose(trial.session, end).options:
                if option.used == used:
                    trial.choose(option)
                    break
        return trial.chosen

    def fit(self, option: Option, before: Job, after: Job) -> bool:
        """Take springs fitted to a job off the stock, and add those that were taken out of it.

        Args:
            option: the choice that was fitted.
            before: the job before.
            after: the job with it.

        Returns:
            False if the stock did not change: no spring came from it or goes into it, or it is empty or read-only.
        """
        stock, out = self.session.stock, taken_out(option, before)
        if not option.used and not (out and stock.rows):  # who keeps no stock is given none
            return False
        try:
            changed = exchanged(stock, option.used, out)
        except OutOfRange:
            return False
        if not self.session.exchange(changed):
            return False
        self._fitted.append(_Fitted(before, after, stock, changed))
        return True

    def follow(self, earlier: Job, later: Job) -> bool:
        """Follow an undo or redo of the job: springs of the stock that it fitted or removed move with it.

        Args:
            earlier: the job before undo or redo.
            later: the job after it.

        Returns:
            Whether the stock has changed.
        """
        for one in self._fitted:
            for jobs, stocks in (
                ((one.after, one.before), (one.stock_after, one.stock_before)),
                ((one.before, one.after), (one.stock_before, one.stock_after)),
            ):
                if (earlier, later) == jobs and self.session.stock == stocks[0]:
                    return self.session.exchange(stocks[1])
        return False

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
