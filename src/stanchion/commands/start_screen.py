"""Starting the screen, where there is a terminal to draw it on."""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path
from typing import TextIO

from stanchion.base.errors import BadFile
from stanchion.base.exit_status import CLEAN, FAULTY


def start_screen(jobs: str | None, sample: str | None, path: Path | None = None) -> int:
    """Run the screen until it is left.

    Args:
        jobs: the folder given on the command line.
        sample: name of a sample to begin a job from.
        path: a job file to open, or a folder of jobs.

    Returns:
        The exit status; FAULTY without a terminal.
    """
    if not all(map(_is_terminal, (sys.stdin, sys.stdout, sys.stderr))):  # it is drawn on the last of them
        print("The screen needs a terminal. `stanchion check JOB.toml` and `stanchion list` do not.", file=sys.stderr)
        return FAULTY
    if os.environ.get("TERM", "") in ("", "dumb"):
        print("This terminal cannot show a screen (TERM is not set or 'dumb').", file=sys.stderr)
        return FAULTY
    # Textual reads these when it is first imported: repaint soon after a key, and no animation in between.
    os.environ.setdefault("TEXTUAL_FPS", "1000")
    os.environ.setdefault("TEXTUAL_ANIMATIONS", "none")
    # What is made while starting stays, and looking for garbage in it takes a twelfth of the start; ui/idle.py goes on.
    gc.disable()
    from stanchion.ui.app import run_app  # noqa: PLC0415

    return run_app(jobs, sample, path)


def open_path(path: str, jobs: str | None) -> int:
    """Run the screen with a job file or a folder, and return the exit status.

    Raises:
        BadFile: the file cannot be read.
    """
    from stanchion.store.typed_names import existing_file  # noqa: PLC0415

    where = Path(path)
    if not where.is_dir():
        where = existing_file(where, jobs)
    try:
        return start_screen(jobs, None, where)
    except BadFile as error:
        from stanchion.commands.earlier import newest_good_words  # noqa: PLC0415

        raise BadFile(" ".join(filter(None, (f"{path}: {error}.", newest_good_words(where, jobs))))) from error


def open_sample(name: str, jobs: str | None) -> int:
    """Begin a job from a sample; without a terminal, print what `check` says of it. Return the exit status."""
    from stanchion.store.samples import samples  # noqa: PLC0415

    found = [sample for sample in samples() if name in ("", sample.name)]
    if not found:
        print(f"There is no sample '{name}'. There are: {', '.join(s.name for s in samples())}", file=sys.stderr)
        return FAULTY
    if not (_is_terminal(sys.stdin) and _is_terminal(sys.stdout)):
        from stanchion.commands import check  # noqa: PLC0415

        report = check.check_bytes(f"{found[0].name}.toml", found[0].data)
        print(report.text)
        return CLEAN
    return start_screen(jobs, found[0].name)


def _is_terminal(stream: TextIO | None) -> bool:
    """Whether a stream is a terminal; one that the caller closed is None."""
    return stream is not None and stream.isatty()
