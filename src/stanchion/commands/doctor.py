"""The content of `stanchion doctor`: versions, folders, settings and job files, fit to be mailed to somebody.

No rider, machine or venue is named, no file, no part of a folder that a person named, and no word out of a file.
"""

from __future__ import annotations

import importlib.metadata
import platform
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path

from stanchion import __version__
from stanchion.base.errors import StanchionError
from stanchion.base.progress import NEVER, NO_PROGRESS
from stanchion.base.record import record
from stanchion.bench.judged_library import library_of, read_profiles
from stanchion.bench.own_words import riders_words_of
from stanchion.store.disk import DISK
from stanchion.store.faults import PREFIX
from stanchion.store.health import Health, Soundness, health_of_folder, health_of_jobs
from stanchion.store.paths import Places, places
from stanchion.store.settings import load_settings
from stanchion.store.stock import load_stock
from stanchion.store.studies import load_studies

MOST_LISTED = 100
"""Job files listed one by one; of more only the number is given."""

BESIDE = "Files beside the jobs"

_OURS = {
    *("stanchion", "jobs", "config", "state", "cache"),
    *(".local", "share", ".config", ".cache", "Library", "Application Support", "Caches", "AppData", "Local"),
    *("Documents", "Desktop", "Volumes", "media", "mnt", "run", "tmp", "home", "Users"),
}
"""Parts of a path that the program or the system named."""

_REMEDIES: dict[Soundness, str] = {
    "edited by hand": "edited by hand, or damaged: it opens and says so",
    "cut short": "cut short: it does not open. `stanchion earlier` lists its earlier states",
    "unreadable": "UNREADABLE: {reason}. `stanchion check` says where",
    "newer": "newer: a later version of the program wrote it; here it can only be looked at",
}


@record
class DoctorLine:
    """One line of the page."""

    text: str
    look: bool = False
    """Somebody should have a look at it."""


def versions() -> list[DoctorLine]:
    """The program, its libraries and the system."""
    names = ("textual", "pint", "tomli-w", "platformdirs")
    libraries = ", ".join(f"{name} {_version(name)}" for name in names)
    system = f"{platform.system()} {platform.release()} {platform.machine()}"
    return [DoctorLine(f"stanchion {__version__}, Python {platform.python_version()}, {libraries}"), DoctorLine(system)]


def folders(where: Places) -> list[DoctorLine]:
    """Each folder of the program, and whether it can be written."""
    found = []
    for name in ("jobs", "config", "state", "cache"):
        folder: Path = getattr(where, name)
        health = health_of_folder(folder)
        found.append(DoctorLine(f"{name:<6} {nameless(folder)}: {health.words}", not health.sound))
    return found


def settings(where: Places) -> list[DoctorLine]:
    """How many entries of the user's own files cannot be used, and what runs that failed have left in the folders."""
    own = load_settings(where)
    counts = (
        ("config.toml", len(own.problems)),
        ("profiles.toml", len(read_profiles(where)[2])),
        ("riders_words.toml", len(riders_words_of(where)[1])),
        ("stock.toml", len(load_stock(where).problems)),
        ("studies.toml", len(load_studies(where).problems)),
    )
    found = [DoctorLine(f"{name}: {_problems(count)}", count > 0) for name, count in counts]
    found[1:1] = [DoctorLine(one, look=True) for one in own.nameless]
    unsaved = _count(where.spill, "")
    faults = _count(where.faults, PREFIX)
    found.append(DoctorLine(f"edits that could not be saved: {unsaved or 'none'}", unsaved > 0))
    found.append(DoctorLine(f"reports of faults in the program: {faults or 'none'}", faults > 0))
    return found


def jobs(
    asked: str | None,
    progress: Callable[[str, int, int], None] = NO_PROGRESS,
    cancelled: Callable[[], bool] = NEVER,
) -> list[DoctorLine]:
    """How every job file is; those that are not well each by its line in the list of jobs.

    Args:
        asked: the folder given on the command line.
        progress: called with what is done, and to how many of how many files.
        cancelled: asked between files; once it is true, only those examined so far are listed.
    """
    library = library_of(asked)
    folder = library.places.jobs
    try:
        rows = library.rows(progress=lambda done, of: progress("judged", done, of), cancelled=cancelled)
        found = health_of_jobs(
            folder, rows, progress=lambda done, of: progress("checked", done, of), cancelled=cancelled
        )
    except (OSError, StanchionError):
        return [DoctorLine("the jobs folder cannot be listed; the reason is above, beside the folder", look=True)]
    return _job_lines(found)


def _job_lines(found: Sequence[Health]) -> list[DoctorLine]:
    if not found:
        return [DoctorLine("no job files")]
    counts = Counter(one.state for one in found)
    states: list[Soundness] = ["ok", *_REMEDIES]
    by_state = [f"{counts[state]} {state}" for state in states if counts[state]]
    unwell = [one for one in found if one.state != "ok" or one.copy_of or one.missing_files]
    copies = sum(one.copy_of > 0 for one in found)
    more = f"; {copies} of them another copy" if copies else ""
    lines = [DoctorLine(f"{_files(len(found))}: {', '.join(by_state)}{more}")]
    if unwell:
        lines.append(DoctorLine("each of these by its line in what `stanchion list` prints:"))
    lines += [DoctorLine(f"line {one.number}: {_words(one)}", look=True) for one in unwell[:MOST_LISTED]]
    if len(unwell) > MOST_LISTED:
        lines.append(DoctorLine(f"and {len(unwell) - MOST_LISTED} more", look=True))
    return lines


def _words(one: Health) -> str:
    state = _REMEDIES[one.state].format(reason=one.reason) if one.state != "ok" else "ok"
    if one.missing_files:
        state += f"; attached files missing: {one.missing_files} (Esc 0 in the job names them)"
    return f"{state}; a copy of line {one.copy_of}: open the list to merge the two" if one.copy_of else state


def nameless(path: Path, home: Path | None = None) -> str:
    """A folder without what a person named in it: the home folder is ~, and a part that is not of the system is ….

    >>> nameless(Path("/export/ann/.local/share/stanchion/jobs"), Path("/export/ann"))
    '~/.local/share/stanchion/jobs'
    >>> nameless(Path("/media/ann/Grey Mule/jobs"), Path("/export/ann"))
    '/media/…/…/jobs'
    """
    if home is None:
        try:
            home = Path.home()
        except RuntimeError:  # nobody knows whose home it would be
            home = path / "nowhere"
    below = path.is_relative_to(home)
    rest = path.relative_to(home).parts if below else path.parts[1:]
    return "/".join(["~" if below else "", *(part if part in _OURS else "…" for part in rest)])


def examined(
    asked: str | None,
    progress: Callable[[str, int, int], None] = NO_PROGRESS,
    cancelled: Callable[[], bool] = NEVER,
) -> list[tuple[str, list[DoctorLine]]]:
    """All of it, by heading.

    Args:
        asked: the jobs folder given on the command line.
        progress: called with what is done, and to how many of how many job files.
        cancelled: asked between job files; once it is true, only those examined so far are listed.
    """
    where = places(asked)
    return [
        ("Versions", versions()),
        ("Folders", folders(where)),
        (BESIDE, settings(where)),
        ("Job files", jobs(asked, progress, cancelled)),
    ]


def _version(name: str) -> str:
    try:
        return importlib.metadata.version(name)
    except importlib.metadata.PackageNotFoundError:
        return "(not found)"


def _count(folder: Path, prefix: str) -> int:
    """Files in a folder of the program; none where it cannot be looked into."""
    try:
        return sum(entry.file and entry.name.startswith(prefix) for entry in DISK.scan(folder))
    except OSError:
        return 0


def _problems(count: int) -> str:
    if not count:
        return "nothing wrong"
    return f"{count} {'thing' if count == 1 else 'things'} in it cannot be used; the program says which at its start"


def _files(count: int) -> str:
    return f"{count} {'file' if count == 1 else 'files'}"
