"""Progress of long work, and stopping it between two of its steps."""

from __future__ import annotations

import os
import signal
import sys
import threading
import time
from collections.abc import Callable
from types import FrameType, TracebackType
from typing import Any, Self, TextIO

from stanchion.base.errors import Stopped

NEVER: Callable[[], bool] = lambda: False  # noqa: E731 - a default that several functions share
NO_COUNT: Callable[[int, int], None] = lambda done, of: None  # noqa: E731
NO_PROGRESS: Callable[[str, int, int], None] = lambda what, done, of: None  # noqa: E731

FIRST_REPORT_S = 0.5
"""Work that takes no longer is done without a report."""
REPORT_EVERY_S = 0.1
"""More reports would only slow the work down."""


class Stop:
    """A request to stop work, made by one thread and checked by the one that works."""

    def __init__(self) -> None:
        self.asked = False
        self.abandoned = False
        """Whether the result is no longer needed."""

    def requested(self) -> bool:
        """Whether to stop."""
        return self.asked or self.abandoned


class Stoppable:
    """Reads something on another thread, one reading at a time, and can be stopped."""

    def __init__(self) -> None:
        self._reading: Stop | None = None

    def stop(self) -> None:
        """Show what was read so far."""
        if self._reading is not None:
            self._reading.asked = True

    def drop(self) -> None:
        """Stop reading and discard the result."""
        if self._reading is not None:
            self._reading.abandoned = True


class Throttle:
    """Limits how often progress is reported.

    Args:
        clock: seconds.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._next = clock() + FIRST_REPORT_S

    def due(self) -> bool:
        """Whether it is time for another report."""
        at = self._clock()
        if at < self._next:
            return False
        self._next = at + REPORT_EVERY_S
        return True


class CommandProgress:
    """The progress of a command, as a line on standard error, and ^C while it works.

    The line is written to terminals only and removed when the work ends. The first ^C stops the work between two of its
    steps, so that none is half done; a second one interrupts it at once.

    Args:
        stream: where the line is written; standard error unless given.
        clock: seconds.
    """

    def __init__(self, stream: TextIO | None = None, clock: Callable[[], float] = time.monotonic) -> None:
        self._stream = sys.stderr if stream is None else stream
        self._throttle = Throttle(clock)
        self._stop = Stop()
        self._at = ""
        self._width = 0
        self._before: Any = None

    def __enter__(self) -> Self:
        """Handle ^C from now on, if it would interrupt the program."""
        main = threading.current_thread() is threading.main_thread()
        if main and signal.getsignal(signal.SIGINT) is signal.default_int_handler:
            self._before = signal.signal(signal.SIGINT, self._interrupted)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Remove the line and restore the handling of ^C."""
        if self._before is not None:
            signal.signal(signal.SIGINT, self._before)
        self._write("")

    def _interrupted(self, _number: int, _frame: FrameType | None) -> None:
        if self._stop.asked:
            raise KeyboardInterrupt
        self._stop.asked = True

    def stopped(self) -> bool:
        """Whether ^C was pressed."""
        return self._stop.requested()

    def counter(self, what: str) -> Callable[[int, int], None]:
        """A function that reports how many of how many are done of one kind of work.

        Args:
            what: the kind, such as "files read".
        """
        return lambda done, of: self.report(what, done, of)

    def report(self, what: str, done: int, of: int) -> None:
        """Report how many of how many are done."""
        self._at = f"{done} of {of} {what}"
        if self._throttle.due():
            self._write(f"{self._at} (^C stops)")

    def end(self, consequence: str) -> None:
        """Raise an error if the work was stopped.

        Args:
            consequence: what stopping it led to, as a sentence.

        Raises:
            Stopped: it was stopped.
        """
        if self.stopped():
            raise Stopped(f"stopped at {self._at}: {consequence}" if self._at else f"stopped: {consequence}")

    def _write(self, line: str) -> None:
        if not self._stream.isatty() or not (line or self._width):
            return
        try:
            room = os.get_terminal_size(self._stream.fileno()).columns - 1
        except OSError:
            room = 79
        line = line[: max(0, room)]
        self._stream.write("\r" + line.ljust(self._width) + ("" if line else "\r"))
        self._stream.flush()
        self._width = len(line)
