"""The files attached to a job: where each is, copying one beside the job, opening one with the system's program."""

from __future__ import annotations

import contextlib
import itertools
import os
import shutil
import subprocess
import sys
from pathlib import Path

from stanchion.base.errors import NotOpened, NotSaved
from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.job.model import Job
from stanchion.store.disk import advice, cause
from stanchion.store.following import FILES

OPENERS = {"darwin": "open"}
USUAL_OPENER = "xdg-open"
PATIENCE_S = 10.0
"""How long an opener may take to fail [s]; one that is still at work then has opened the file."""
MOST_NAMES = 5000
"""The most names of a folder that are looked through to complete a path."""
PROGRAMS = (".bat", ".cmd", ".com", ".desktop", ".exe", ".js", ".lnk", ".msi", ".ps1", ".py", ".scr", ".sh", ".vbs")
"""Files that a system would run instead of showing them."""


@record
class AttachedFile:
    """One attached file as it was found."""

    at: int
    """Its place in the list."""
    path: str
    """As the job should hold it: from the folder of the job's file on, where that is possible."""
    where: Path
    there: bool
    beside: bool
    """Whether it is below the folder of the job's file, and so goes where that goes."""


def look_at(job: Job, file: Path, started_in: Path | None = None) -> list[AttachedFile]:
    """Where each attached file is. Waits for the disk.

    Args:
        job: the job.
        file: its file; its copies may have followed the name of that.
        started_in: the folder that a path may have been typed from; None: the present one.
    """
    return [_found(at, one.path, file, started_in or Path.cwd()) for at, one in enumerate(job.attached)]


def file_at(typed: str, job_file: Path, started_in: Path | None = None) -> AttachedFile:
    """The file that a typed path names, as the next one of a list. Waits for the disk.

    Args:
        typed: the path: whole, from the folder of the job's file on, or from where the program was started.
        job_file: the job's file.
        started_in: the folder that it may have been typed from; None: the present one.
    """
    return _found(0, typed, job_file, started_in or Path.cwd())


def _found(at: int, typed: str, file: Path, started_in: Path) -> AttachedFile:
    folder = file.parent
    text = Path(typed.strip().strip("'\""))
    with contextlib.suppress(RuntimeError):  # nobody knows whose home it would be
        text = text.expanduser()
    places = [folder / text, started_in / text]
    if text.parts[:1] == (FILES,):
        places.append(folder / FILES / file.stem / text.name)
    where = next((place for place in places if _is_file(place)), places[0])
    try:
        path = Path(os.path.relpath(where, folder)).as_posix()
    except ValueError:  # on another drive
        path = str(where)
    there = _is_file(where)
    return AttachedFile(at, path if there else typed, where, there, not path.startswith("..") and there)


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


def completed(typed: str, folder: Path, started_in: Path | None = None) -> str:
    """A path with all that can only come next: the rest of a name, and the slash after a folder. Waits for the disk.

    Args:
        typed: the beginning of a path.
        folder: the folder of the job's file.
        started_in: the folder that a path may also be typed from; None: the present one.

    Returns:
        The longer path; empty where nothing can be added.
    """
    text = typed.lstrip().lstrip("'\"")
    within, slash, begun = text.rpartition("/")
    inner = Path(f"{within}{slash}")
    with contextlib.suppress(RuntimeError):  # nobody knows whose home it would be
        inner = inner.expanduser()
    for where in (folder / inner, (started_in or Path.cwd()) / inner):
        names = _names_beginning(where, begun)
        if names:
            name = names[0]
            while not all(one.startswith(name) for one in names):
                name = name[:-1]
            whole = f"{within}{slash}{name}" + ("/" if len(names) == 1 and (where / name).is_dir() else "")
            return whole if whole != text else ""
    return ""


def _names_beginning(folder: Path, begun: str) -> list[str]:
    """The names in a folder that begin so, without hidden ones unless those are meant."""
    with contextlib.suppress(OSError), os.scandir(folder) as found:
        names = (one.name for one in itertools.islice(found, MOST_NAMES))
        return [name for name in names if name.startswith(begun) and (begun or not name.startswith("."))]
    return []


def copy_beside(file: Path, folder: Path, stem: str) -> str:
    """Copy a file below the folder of the job's file, under a name that is free; its path from that folder on.

    Raises:
        NotSaved: it could not be copied.
    """
    goal = folder / FILES / stem
    try:
        goal.mkdir(parents=True, exist_ok=True)
        number = 1
        while True:
            name = file.name if number == 1 else f"{file.stem}-{number}{file.suffix}"
            try:
                with file.open("rb") as source, (goal / name).open("xb") as copy:
                    shutil.copyfileobj(source, copy)
            except FileExistsError:
                number += 1
                continue
            return f"{FILES}/{stem}/{name}"
    except OSError as error:
        raise NotSaved(f"'{clean(file.name, 100)}' was not copied: {cause(error)}. {advice(error)}") from error


def open_file(path: Path) -> None:
    """Show a file with the program that the system has for it. Waits until that has begun.

    Raises:
        NotOpened: it is not there, would be run, or nothing opens it; the message says where it is.
    """
    kept = f"It is {clean(str(path), 300)}"
    if not _is_file(path):
        raise NotOpened(f"Not opened: the file is missing. {kept}.")
    if path.suffix.lower() in PROGRAMS or (os.name == "posix" and os.access(path, os.X_OK)):
        raise NotOpened(f"Not opened: the system would run this file as a program. {kept}.")
    whole = str(path.resolve())
    if sys.platform == "win32":
        try:
            os.startfile(whole)  # noqa: S606
        except OSError as error:
            raise NotOpened(f"Not opened: {clean(error.strerror or str(error), 200)}. {kept}.") from error
        return
    name = OPENERS.get(sys.platform, USUAL_OPENER)
    command = shutil.which(name)
    if command is None:
        raise NotOpened(f"Not opened: this system has no command {name}. {kept}: open it from there.")
    try:
        program = subprocess.Popen(  # noqa: S603 - a command of the system, and a whole path
            [command, whole], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        status = program.wait(PATIENCE_S)
    except subprocess.TimeoutExpired:
        return
    except OSError as error:
        raise NotOpened(f"Not opened: {name} cannot be run: {error.strerror}. {kept}.") from error
    if status:
        raise NotOpened(f"Not opened: {name} has no program for it (status {status}). {kept}: open it from there.")
