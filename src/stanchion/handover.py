"""What leaves the program: hand-over sheets and tables, made for the commands and the screen."""

from __future__ import annotations

from pathlib import Path

from stanchion.desk import library_of, read_profiles
from stanchion.errors import BadFile, NotSaved
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.judgement.profiles import Profiles
from stanchion.quantity import METRIC, Units
from stanchion.report.export import export_csv
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_html import sheet_html
from stanchion.report.sheet_text import sheet_text
from stanchion.store.disk import advice, cause
from stanchion.store.library import previous, read_job
from stanchion.store.paths import places
from stanchion.text import clean


def sheet_of(path: Path, jobs: str | None = None, *, html: bool = False) -> str:
    """The sheet of a job file, with the user's own profiles and the job it was carried from where that lies beside it.

    Raises:
        BadFile: it cannot be read as a job.
    """
    job = read_job(path).job
    profiles, _, _ = read_profiles(places(jobs))
    return sheet_for(job, profiles, previous(job, path.parent), html=html)


def sheet_for(
    job: Job, profiles: Profiles, before: Job | None = None, units: Units = METRIC, *, html: bool = False
) -> str:
    """The sheet of a job in hand."""
    sheet = make_sheet(job, assess(job, profiles, before), before, units)
    return sheet_html(sheet) if html else sheet_text(sheet)


def export_of(files: list[Path], jobs: str | None = None) -> tuple[str, list[str]]:
    """Jobs as CSV, and a line for each file that cannot be read.

    Args:
        files: which; none: every job of the folder, oldest first.
        jobs: the jobs folder.
    """
    profiles, _, _ = read_profiles(places(jobs))
    if not files:
        files = [row.path for row in reversed(library_of(jobs).rows(judged=False))]
    problems: list[str] = []
    rows = []
    for path in files:
        try:
            job = read_job(path).job
        except BadFile as error:
            problems.append(clean(f"{path}: {error}", 1000))
        else:
            rows.append((path.name, job, assess(job, profiles, previous(job, path.parent))))
    return export_csv(rows), problems


def write_sheet(path: Path, text: str, *, force: bool = False) -> None:
    """Write a sheet; a file that is there is left alone unless forced.

    Raises:
        NotSaved: it could not be written, or is there already.
    """
    try:
        with path.open("w" if force else "x", encoding="utf-8", newline="") as file:
            file.write(text)
    except FileExistsError:
        raise NotSaved(f"'{path}' is there already and was left alone. Choose another name, or --force.") from None
    except OSError as error:
        raise NotSaved(f"'{path}' could not be written: {cause(error)}. {advice(error)}") from error
