"""What leaves the program: hand-over sheets and tables, made for the commands and the screen."""

from __future__ import annotations

import contextlib
import stat
from collections.abc import Iterable
from pathlib import Path

from stanchion.desk import library_of, read_profiles
from stanchion.errors import BadFile, NotSaved
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.judgement.profiles import Profiles
from stanchion.quantity import METRIC, Units
from stanchion.report.export import export_csv, export_runs_csv
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_html import sheet_html
from stanchion.report.sheet_text import sheet_text
from stanchion.store.disk import DISK, advice, cause
from stanchion.store.library import previous, read_job
from stanchion.store.names import SUFFIX
from stanchion.store.paths import in_jobs_folder, places
from stanchion.store.temporary import discard, finished, swap
from stanchion.text import clean


def sheet_of(path: Path, jobs: str | None = None, *, html: bool = False) -> str:
    """The sheet of a job file, with the user's own profiles and the job it was carried from where that lies beside it.

    Args:
        path: the file; a bare name is looked for in the jobs folder too.
        jobs: the jobs folder.
        html: as one HTML file; otherwise as text.

    Raises:
        BadFile: it cannot be read as a job.
    """
    path = in_jobs_folder(path, jobs)
    job = read_job(path).job
    profiles, _, _ = read_profiles(places(jobs))
    return sheet_for(job, profiles, previous(job, path.parent), html=html)


def sheet_for(
    job: Job, profiles: Profiles, before: Job | None = None, units: Units = METRIC, *, html: bool = False
) -> str:
    """The sheet of a job in hand."""
    sheet = make_sheet(job, assess(job, profiles, before), before, units)
    return sheet_html(sheet) if html else sheet_text(sheet)


def export_of(files: Iterable[Path], jobs: str | None = None, *, runs: bool = False) -> tuple[str, list[str]]:
    """Jobs as CSV, and a line for each file that cannot be read.

    Args:
        files: which; none: every job of the folder, oldest first. A bare name is looked for in the jobs folder too.
        jobs: the jobs folder.
        runs: a row a run; otherwise a row a job.

    Raises:
        BadFile: the jobs folder cannot be listed.
    """
    profiles, _, _ = read_profiles(places(jobs))
    chosen = [in_jobs_folder(path, jobs) for path in files]
    if not chosen:
        chosen = [row.path for row in reversed(library_of(jobs).rows(judged=False))]
    problems: list[str] = []
    rows = []
    for path in chosen:
        try:
            job = read_job(path).job
        except BadFile as error:
            problems.append(clean(f"{path}: {error}", 1000))
        else:
            rows.append((path.name, job, assess(job, profiles, previous(job, path.parent))))
    return (export_runs_csv if runs else export_csv)(rows), problems


def write_sheet(path: Path, text: str, *, force: bool = False) -> None:
    """Write a sheet or a table, whole or not at all. A file that is there is left alone unless forced, a job file
    even then.

    Raises:
        NotSaved: it could not be written, or is there already.
    """
    data = text.encode("utf-8")
    try:
        if force and path.exists():
            _overwrite(path, data)
        else:
            _begin(path, data)
    except FileExistsError:
        raise NotSaved(f"'{path}' is there already and was left alone. Choose another name, or --force.") from None
    except OSError as error:
        raise NotSaved(f"'{path}' could not be written: {cause(error)}. {advice(error)}") from error


def _begin(path: Path, data: bytes) -> None:
    """Write a file that is not there yet; nothing is left of it when that fails."""
    with path.open("xb") as file:
        try:
            file.write(data)
            file.flush()
        except OSError:
            with contextlib.suppress(OSError):
                path.unlink()
            raise


def _overwrite(path: Path, data: bytes) -> None:
    """Put the bytes in the place of what a file held; what is no file, such as a device, is written to."""
    target = path.resolve()
    known = target.stat()
    if not stat.S_ISREG(known.st_mode):
        target.write_bytes(data)
        return
    if target.name.casefold().endswith(SUFFIX):
        raise NotSaved(f"'{path}' is named as a job file is, and was left alone. Choose another name.")
    new = finished(target.parent, data, DISK, stat.S_IMODE(known.st_mode))
    try:
        swap(DISK, new, target, DISK.replace)
    except BaseException:
        discard(new, DISK)
        raise
