"""Reading a job that the command line names: a file, a name in the jobs folder, or standard input."""

from __future__ import annotations

import sys
from pathlib import Path

from stanchion.base.errors import BadFile, NotFound
from stanchion.base.text import clean
from stanchion.base.toml import LARGEST
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.store.disk import advice, cause
from stanchion.store.library import read_job
from stanchion.store.paths import places
from stanchion.store.typed_names import existing_file

STANDARD_INPUT = Path("-")
"""How standard input is named in place of a file."""
STANDARD_INPUT_NAME = "standard input"


def job_of_standard_input() -> Job:
    """The job that standard input holds.

    Raises:
        BadFile: it is no job.
    """
    if sys.stdin is None:
        raise BadFile("standard input is closed: give the file's name, or send a job file into it")
    try:
        data = sys.stdin.buffer.read(LARGEST + 1)
    except OSError as error:
        raise BadFile(f"it cannot be read: {cause(error)}. {advice(error)}") from error
    return loads(data).job


def read_named(path: Path, jobs: str | None = None) -> tuple[Path, Job]:
    """The file that was named, and the job in it. What standard input holds counts as a file of the jobs folder.

    Args:
        path: as it was typed; a bare name is looked for in the jobs folder too; `-` is standard input.
        jobs: the jobs folder.

    Raises:
        BadFile: there is no such file, or it is no job; the message begins with its name.
    """
    name = STANDARD_INPUT_NAME if path == STANDARD_INPUT else clean(str(path), 200)
    try:
        if path == STANDARD_INPUT:
            return places(jobs).jobs / "-", job_of_standard_input()
        path = existing_file(path, jobs)
        return path, read_job(path).job
    except NotFound:
        raise
    except BadFile as error:
        raise BadFile(f"{name}: {error}") from error
