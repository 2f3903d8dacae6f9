"""The hand-over sheet of a job file: made here for the command and for the screen, and written where it is wanted."""

from __future__ import annotations

from pathlib import Path

from stanchion.desk import read_profiles
from stanchion.errors import NotSaved
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.judgement.profiles import Profiles
from stanchion.quantity import METRIC, Units
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_html import sheet_html
from stanchion.report.sheet_text import sheet_text
from stanchion.store.disk import advice, cause
from stanchion.store.library import previous, read_job
from stanchion.store.paths import places


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


def write_sheet(path: Path, text: str, *, force: bool = False) -> None:
    """Write a sheet; a file that is there is left alone unless forced.

    Raises:
        NotSaved: it could not be written, or is there already.
    """
    try:
        with path.open("w" if force else "x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        raise NotSaved(f"'{path}' is there already and was left alone. Choose another name, or --force.") from None
    except OSError as error:
        raise NotSaved(f"'{path}' could not be written: {cause(error)}. {advice(error)}") from error
