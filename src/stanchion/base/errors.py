"""Every error the program raises on purpose, as one small tree.

    StanchionError
    ├── OutOfRange          a calculation was given a value it has no meaning for
    ├── BadQuantity         typed text that is not a number with a unit we allow
    ├── BadEdit             an edit that names no field, or a value the field refuses
    ├── BadFile             a file that cannot be read as what it should be
    │   ├── CutShort        ... because its end is missing
    │   └── NotFound        ... because there is none of that name
    ├── NotSaved            a file could not be written
    │   └── ChangedOnDisk   ... because somebody else wrote it first
    ├── NotPrinted          standard output could not be written
    └── Stopped             long work was stopped by the user

A message says what was wrong, where, and what to do about it.
"""

from __future__ import annotations


class StanchionError(Exception):
    """Base of every error this program raises on purpose."""


class OutOfRange(StanchionError, ValueError):
    """A calculation was given a value for which it has no meaning."""

    def __init__(self, name: str, value: float, limit: str) -> None:
        self.name = name
        self.value = value
        self.limit = limit
        super().__init__(f"{name} = {value:g} is out of range: it must be {limit}")


class BadQuantity(StanchionError, ValueError):
    """Typed text that cannot be read; the message is for the person who typed it."""


class BadEdit(StanchionError, ValueError):
    """An edit that names no field of a job, or gives it a value it cannot hold."""


class BadFile(StanchionError):
    """A file that cannot be read as what it should be; the message names the line or key."""


class CutShort(BadFile):
    """A file whose end mark is missing: it was cut short while being written or copied."""


class NotFound(BadFile):
    """There is no file of the name that was typed; the message gives the name."""


class NotSaved(StanchionError):
    """A file could not be written; what it should hold is still in memory."""


class ChangedOnDisk(NotSaved):
    """The file is no longer the one that was read: somebody else has written it."""


class NotPrinted(StanchionError):
    """Standard output could not be written."""


class Stopped(StanchionError):
    """Long work was stopped by the user; the message says what was done."""
