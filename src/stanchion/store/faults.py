"""Reports of faults of the program: where one happened, and nothing that the user typed."""

from __future__ import annotations

import contextlib
import datetime as dt
import os
import sys
import threading
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import TracebackType

from stanchion import __version__
from stanchion.store.disk import cause

FAULT_WORDS = "a fault in the program, please report (`stanchion doctor` counts the reports written)"
"""Words for figures that are missing because of an error of the program."""
MOST = 10
"""Reports kept; the oldest goes first."""
MOST_FRAMES = 40
PREFIX = "fault-"


def fault_report(error: BaseException, facts: Mapping[str, str]) -> str:
    """What happened where, as text.

    The message of an exception, the values of variables and the folders of the user are left out: all of them can
    name a rider, a machine or a person.

    Args:
        error: what was raised.
        facts: more facts, by name; the caller makes sure that none is personal.
    """
    import platform  # noqa: PLC0415 - not needed to start

    known = {
        "stanchion": __version__,
        "Python": platform.python_version(),
        "system": f"{platform.system()} {platform.release()}",
        **facts,
    }
    lines = ["A fault of stanchion itself. This report names no rider, machine or folder.", ""]
    lines += [f"{name}: {value}" for name, value in known.items()]
    for at, one in enumerate(_chain(error)):
        lines += ["", f"{'came from ' if at else ''}{type(one).__module__}.{type(one).__qualname__}"]
        lines += _frames(one.__traceback__)
    return "\n".join(lines) + "\n"


class FaultLog:
    """Records errors of the program in judging: each place in the program once, however often it fails.

    Args:
        folder: where reports are kept.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._known: set[str] = set()
        self._lock = threading.Lock()  # lists, stories and the screen judge on threads of their own

    def note(self, part: str, error: BaseException) -> None:
        """Write a report of an error, unless there is one of the same place. A failure to write is ignored.

        Args:
            part: what could not be judged.
            error: what was raised.
        """
        report = fault_report(error, {"not judged": part})
        with self._lock:
            known = report in self._known
            self._known.add(report)
        if known:
            return
        with contextlib.suppress(OSError):
            written = [path.read_bytes() for path in self._folder.glob(f"{PREFIX}*.txt")]
            if report.encode() not in written:
                keep_report(self._folder, report, dt.datetime.now())


def keep_report(folder: Path, report: str, now: dt.datetime) -> Path:
    """Write a report into a folder, and delete the oldest if there are too many.

    Args:
        folder: where reports are kept; it is made if missing.
        report: what fault_report() gave.
        now: the time, for the name.

    Raises:
        OSError: it could not be written.
    """
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    path = folder / f"{PREFIX}{now:%Y%m%dT%H%M%S}-{os.urandom(2).hex()}.txt"
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8") as file:
        file.write(report)
    for old in sorted(folder.glob(f"{PREFIX}*.txt"))[:-MOST]:
        with contextlib.suppress(OSError):
            old.unlink()
    return path


def write_report(folder: Path, error: BaseException, facts: Mapping[str, str]) -> str:
    """Write a report of a fault; return a sentence that says where it is, or why there is none."""
    try:
        report = keep_report(folder, fault_report(error, facts), dt.datetime.now())
    except OSError as trouble:
        return f"No report of the fault could be written: {cause(trouble)}."
    return f"What happened, without a word of any job, is written in {report}"


def _chain(error: BaseException) -> Iterator[BaseException]:
    """The exception and its causes."""
    seen: set[int] = set()
    one: BaseException | None = error
    while one is not None and id(one) not in seen:
        seen.add(id(one))
        yield one
        one = one.__cause__ or (None if one.__suppress_context__ else one.__context__)


def _frames(trace: TracebackType | None) -> list[str]:
    found = []
    while trace is not None:
        code = trace.tb_frame.f_code
        found.append(f"  {_place(code.co_filename)}:{trace.tb_lineno} in {code.co_qualname}")
        trace = trace.tb_next
    return found[-MOST_FRAMES:]


def _place(file: str) -> str:
    """A source file below the folder that Python found it in; folders above can hold the name of a person."""
    path = Path(file)
    for root in sorted(map(Path, filter(None, sys.path)), key=lambda root: -len(root.parts)):
        if path.is_relative_to(root):
            return path.relative_to(root).as_posix()
    return path.name
