"""Standard output and standard error of a command: output that fails is reported, and not as a fault of the program."""

from __future__ import annotations

import contextlib
import errno
import io
import os
import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, TextIO

from stanchion.base.ascii_only import IN_PLAIN_LETTERS
from stanchion.base.errors import NotPrinted

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer

_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your disk quota is used up",
    errno.EPIPE: "the program reading it has ended",
    errno.EIO: "the disk or the terminal reports a fault",
    errno.EBADF: "it is closed",
}


class Guarded(io.RawIOBase):
    """The end of a stream, where bytes leave the program.

    The first write that fails is reported; everything after it is dropped, so that nothing fails again at the end.

    Args:
        raw: takes the bytes; None: the stream is closed.
        reports: whether a failure raises NotPrinted; otherwise it is ignored, because there is nowhere to report it.
    """

    def __init__(self, raw: io.RawIOBase | io.BufferedIOBase | None, *, reports: bool) -> None:
        super().__init__()
        self._raw = raw
        self._reports = reports
        self._failed = False

    def writable(self) -> bool:
        """Always true: a failing write is reported."""
        return True

    def isatty(self) -> bool:
        """Whether the stream is a terminal."""
        return self._raw is not None and self._raw.isatty()

    def fileno(self) -> int:
        """The descriptor of the stream.

        Raises:
            OSError: it is closed.
        """
        if self._raw is None:
            raise OSError(errno.EBADF, "closed")
        return self._raw.fileno()

    def write(self, data: ReadableBuffer, /) -> int | None:
        """Write the bytes to the stream below.

        Raises:
            NotPrinted: they could not be written.
        """
        size = memoryview(data).nbytes
        if self._failed:
            return size
        if self._raw is None:
            return self._fails(OSError(errno.EBADF, "closed"), size)
        try:
            return self._raw.write(data)
        except OSError as error:
            return self._fails(error, size)

    def _fails(self, error: OSError, size: int) -> int:
        self._failed = True
        if self._reports:
            reason = _REASONS.get(error.errno or 0) or error.strerror or "the system gives no reason"
            raise NotPrinted(f"the output could not be written: {reason}") from error
        return size


@contextlib.contextmanager
def guarded_streams() -> Iterator[None]:
    """Standard output that reports what it cannot write, and standard error that never fails.

    Python has None for a stream that the caller closed, and print() would then use the other one. Streams that
    something else put there, such as a test, stay.
    """
    before = sys.stdout, sys.stderr
    if sys.stdout is sys.__stdout__:
        sys.stdout = _guarded(sys.__stdout__, reports=True)
    if sys.stderr is sys.__stderr__:
        sys.stderr = _guarded(sys.__stderr__, reports=False)
    try:
        yield
    finally:
        sys.stdout, sys.stderr = before


def let_go() -> None:
    """Flush both streams, or discard what they hold: a failure at exit would change the exit status."""
    for stream in (sys.__stdout__, sys.__stderr__):
        if stream is None:
            continue
        try:
            stream.flush()
        except (OSError, ValueError):
            with contextlib.suppress(OSError, ValueError):
                nowhere = os.open(os.devnull, os.O_WRONLY)
                os.dup2(nowhere, stream.fileno())
                os.close(nowhere)


NARROWEST = 40
"""The least number of columns assumed."""


def terminal_columns() -> int | None:
    """The width of the terminal that standard output goes to; None if it is no terminal, or the width is not known.

    The terminal itself is asked: COLUMNS may have been exported in a window of another size.
    """
    try:
        if not sys.stdout.isatty():
            return None
        width = os.get_terminal_size(sys.stdout.fileno()).columns
    except (OSError, ValueError):
        return None
    return max(NARROWEST, width) if width else None


def _guarded(stream: TextIO | None, *, reports: bool) -> TextIO:
    if stream is None:
        return io.TextIOWrapper(
            io.BufferedWriter(Guarded(None, reports=reports)), encoding="utf-8", errors=IN_PLAIN_LETTERS
        )
    buffer: Any = stream.buffer
    raw = Guarded(getattr(buffer, "raw", buffer), reports=reports)
    return io.TextIOWrapper(
        io.BufferedWriter(raw),
        encoding=stream.encoding,
        errors=stream.errors,
        line_buffering=bool(stream.line_buffering),
    )
