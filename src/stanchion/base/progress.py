"""Long work and whoever waits for it: how far it is, and how it is stopped between two of its steps."""

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
UNHEARD: Callable[[int, int], None] = lambda done, of: None  # noqa: E731
UNTOLD: Callable[[str, int, int], None] = lambda what, done, of: None  # noqa: E731

PATIENCE_S = 0.5
"""Work that takes no longer is not worth a word."""
TOLD_EVERY_S = 0.1
"""So often it is told how far work is; more would only take time from it."""


class Stop:
    """Asked by the work, said from another thread. A stop leaves what was done so far to be shown."""

    def __init__(self) -> None:
        self.said = False
        self.dropped = False
        """Nobody waits for the result any more."""

    def heard(self) -> bool:
        """Whether to stop."""
        return self.said or self.dropped


class Seldom:
    """Lets a word pass where the last one is some time ago.

    Args:
        clock: seconds.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._next = clock() + PATIENCE_S

    def now(self) -> bool:
        """Whether it is time for another word."""
        at = self._clock()
        if at < self._next:
            return False
        self._next = at + TOLD_EVERY_S
        return True


class Waiting:
    """Somebody waits in a terminal for a command: says on standard error how far it is, and hears ^C.

    The line is for eyes only: it is not written into a file or a pipe, and it is gone when the work is. The first ^C is
    heard between two steps of the work, so that none is left half done; another ends it where it is.

    Args:
        stream: where it is said.
        clock: seconds.
    """

    def __init__(self, stream: TextIO | None = None, clock: Callable[[], float] = time.monotonic) -> None:
        self._stream = sys.stderr if stream is None else stream
        self._seldom = Seldom(clock)
        self._stop = Stop()
        self._at = ""
        self._width = 0
        self._before: Any = None

    def __enter__(self) -> Self:
        """Hear ^C from now on, where it would be heard at all."""
        main = threading.current_thread() is threading.main_thread()
        if main and signal.getsignal(signal.SIGINT) is signal.default_int_handler:
            self._before = signal.signal(signal.SIGINT, self._interrupted)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Leave the line and ^C as they were."""
        if self._before is not None:
            signal.signal(signal.SIGINT, self._before)
        self._write("")

    def _interrupted(self, number: int, frame: FrameType | None) -> None:
        if self._stop.said:
            raise KeyboardInterrupt
        self._stop.said = True

    def heard(self) -> bool:
        """Whether ^C was pressed."""
        return self._stop.heard()

    def at(self, what: str) -> Callable[[int, int], None]:
        """What takes how many of how many are done of some work.

        Args:
            what: is done to them, such as "files read".
        """
        return lambda done, of: self.told(what, done, of)

    def told(self, what: str, done: int, of: int) -> None:
        """So many of so many are done."""
        self._at = f"{done} of {of} {what}"
        if self._seldom.now():
            self._write(f"{self._at} (^C stops)")

    def end(self, consequence: str) -> None:
        """The work has ended: by itself, or because it was stopped.

        Args:
            consequence: what came of it where it was stopped, as a sentence.

        Raises:
            Stopped: it was stopped.
        """
        if self.heard():
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
