"""Every error the program raises on purpose, as one small tree.

    StanchionError
    ├── OutOfRange          a value for which a calculation has no meaning
    ├── BadQuantity         typed text that is not a number with a known unit
    ├── BadEdit             an edit of a field that does not exist, or a value that it refuses
    ├── BadFile             a file that cannot be read as what it should be
    │   ├── CutShort        ... because its end is missing
    │   └── NotFound        ... because there is none of that name
    ├── NotSaved            a file could not be written
    │   └── ChangedOnDisk   ... because another program wrote it first
    ├── NotPrinted          standard output could not be written
    └── Stopped             long work was stopped by the user

A message says what was wrong, where, and what to do.
"""

from __future__ import annotations


class StanchionError(Exception):
    """Base of every error this program raises on purpose."""


class OutOfRange(StanchionError, ValueError):
    """A value for which a calculation has no meaning."""

    def __init__(self, name: str, value: float, limit: str) -> None:
        self.name = name
        self.value = value
        self.limit = limit
        super().__init__(f"{name} = {value:g} is out of range: it must be {limit}")


class BadQuantity(StanchionError, ValueError):
    """Typed text that cannot be read; the message is for the person who typed it."""


class BadEdit(StanchionError, ValueError):
    """An edit of a field that does not exist, or a value that the field refuses."""


class BadFile(StanchionError):
    """A file that cannot be read as what it should be; the message names the line or key."""


class CutShort(BadFile):
    """A file whose end mark is missing: it was cut short while being written or copied."""


class NotFound(BadFile):
    """There is no file of the name that was typed; the message gives the name."""


class NotSaved(StanchionError):
    """A file could not be written; what it should hold is still in memory."""


class NotOpened(StanchionError):
    """A file could not be opened with a program of the system."""


class NoPrinter(StanchionError):
    """A file could not be handed to a printer."""


class ChangedOnDisk(NotSaved):
    """The file is no longer the one that was read: another program has written it."""


class NotPrinted(StanchionError):
    """Standard output could not be written."""


class Stopped(StanchionError):
    """Long work was stopped by the user; the message says what was done."""
