"""Disks for tests: one on which a chosen call fails, and one that drops what was not flushed."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable
from typing import Any

from stanchion.store.disk import Disk

ERRNOS = (
    errno.ENOSPC,
    errno.EDQUOT,
    errno.EACCES,
    errno.EPERM,
    errno.EIO,
    errno.EROFS,
    errno.ENOENT,
    errno.EBUSY,
    errno.EINVAL,
    errno.ENOTSUP,
    errno.EFBIG,
    errno.ESTALE,
    errno.EEXIST,
    errno.EAGAIN,
    errno.ENAMETOOLONG,
    errno.ENXIO,
)

CALLS = frozenset(
    {
        "realpath",
        "stat",
        "writable",
        "open",
        "fstat",
        "read",
        "write",
        "give_mode",
        "give_owner",
        "sync",
        "close",
        "replace",
        "settle",
        "unlink",
        "mkdir",
        "open_folder",
        "lock",
        "sync_folder",
        "scan",
        "listed",
    }
)


def error(number: int) -> OSError:
    """The error of that number, of the class the system would raise."""
    return OSError(number, os.strerror(number))


class Faulty(Disk):
    """Fails the n-th call, or every call from the n-th on, or only calls of one name."""

    def __init__(
        self, number: int, at: int = 1, *, for_good: bool = False, only: str = "", most_bytes: int | None = None
    ) -> None:
        self.number = number
        self.at = at
        self.for_good = for_good
        self.only = only
        self.most_bytes = most_bytes
        self.first = at
        self.calls = 0
        self.fired: list[str] = []

    def heal(self) -> None:
        """From now on nothing fails."""
        self.at = 10**9

    def concerns(self, arguments: tuple[object, ...]) -> bool:
        """Whether a call with these arguments is one of those that may fail."""
        del arguments
        return True

    def sleep(self, seconds: float) -> None:
        """No waiting in tests."""

    def __getattribute__(self, name: str) -> Any:
        real: Callable[..., Any] = super().__getattribute__(name)
        if name not in CALLS:
            return real

        def call(*args: Any) -> Any:
            if (self.only and name != self.only) or not self.concerns(args):
                return real(*args)
            self.calls += 1
            if self.calls == self.at or (self.for_good and self.calls > self.at):
                self.fired.append(name)
                if name == "close":
                    real(*args)  # the system gives the descriptor back all the same
                raise error(self.number)
            if name == "write" and self.most_bytes:
                return real(args[0], args[1][: self.most_bytes])
            return real(*args)

        return call
