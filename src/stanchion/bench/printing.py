"""Printing a file with the system's own print command."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

from stanchion.base.errors import NoPrinter
from stanchion.base.text import clean

COMMANDS = ("lp", "lpr")
"""POSIX names the first; many systems have only the second."""
PATIENCE_S = 30.0
"""How long a print command may take to accept a file."""


def print_file(path: Path) -> None:
    """Hand a text file to the system's default printer. Waits until the print command has accepted it.

    Raises:
        NoPrinter: there is no print command, or it refused the file; the message says where the file is.
    """
    kept = f"The sheet is in {path}: print it from there, or the .html beside it from a browser."
    if sys.platform == "win32":
        import os  # noqa: PLC0415

        try:
            os.startfile(path, "print")  # noqa: S606
        except OSError as error:
            raise NoPrinter(f"Not printed: {clean(error.strerror or str(error), 200)}. {kept}") from error
        return
    command = next((found for name in COMMANDS if (found := shutil.which(name))), None)
    if command is None:
        raise NoPrinter(f"Not printed: this system has no print command ({' or '.join(COMMANDS)}). {kept}")
    try:
        done = subprocess.run(  # noqa: S603 - a command of the system, and a path of ours
            [command, str(path)],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            timeout=PATIENCE_S,
            check=False,
            text=True,
            errors="replace",
        )
    except subprocess.TimeoutExpired as error:
        raise NoPrinter(f"Not printed: {Path(command).name} did not answer. {kept}") from error
    except OSError as error:
        raise NoPrinter(f"Not printed: {Path(command).name} cannot be run: {error.strerror}. {kept}") from error
    if done.returncode:
        said = clean((done.stderr or done.stdout).strip().partition("\n")[0], 200) or f"status {done.returncode}"
        raise NoPrinter(f"Not printed: {said}. {kept}")
