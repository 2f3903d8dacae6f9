"""What `stanchion check` does with one file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from stanchion.base.errors import BadFile, NotFound
from stanchion.base.exit_status import CLEAN, FAULTY, WARNED
from stanchion.base.progress import NEVER, NO_PROGRESS
from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.bench.judged_library import read_profiles
from stanchion.bench.named_jobs import STANDARD_INPUT, STANDARD_INPUT_NAME, job_of_standard_input
from stanchion.commands.earlier import newest_good_words
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles, load_profiles
from stanchion.judgement.results.findings import Severity
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.report.json_data import JSON_FORMAT
from stanchion.store.faults import FaultLog
from stanchion.store.library import read_job
from stanchion.store.listing import JobRow, Listing, copies_in
from stanchion.store.paths import Places, places
from stanchion.store.sources import previous
from stanchion.store.typed_names import existing_file

STATUS = {None: CLEAN, Severity.NOTE: CLEAN, Severity.WARNING: WARNED, Severity.FAULT: FAULTY}


@record
class Report:
    """What is printed of one file, and how it went."""

    text: str
    data: dict[str, Any]
    status: int
    """CLEAN: nothing above a note; WARNED: warnings; FAULTY: a fault, or a file that cannot be read."""


def check_files(
    paths: Sequence[Path],
    jobs: str | None = None,
    width: int | None = None,
    *,
    sure: bool = False,
    progress: Callable[[str, int, int], None] = NO_PROGRESS,
    cancelled: Callable[[], bool] = NEVER,
) -> list[Report]:
    """Judge job files; other files of their folders are read once.

    Args:
        paths: the files; a bare name is looked for in the jobs folder too.
        jobs: the jobs folder.
        width: columns of the text; None: as it is for a file.
        sure: whether to work out how sure each figure is, for the data.
        progress: called with what is done, and to how many of how many files.
        cancelled: asked between files; once it is true, what was done so far is returned.
    """
    beside = _Folders(places(jobs), progress, cancelled)
    reports: list[Report] = []
    for path in paths:
        report = check_file(path, jobs, beside, width, sure=sure)
        if cancelled():
            break
        reports.append(report)
        progress("checked", len(reports), len(paths))
    return reports


def check_file(
    path: Path,
    jobs: str | None = None,
    beside: _Folders | None = None,
    width: int | None = None,
    *,
    sure: bool = False,
) -> Report:
    """Judge a job file, with the user's own profiles and the job it was carried from if it is in the same folder.

    Args:
        path: the file; a bare name is looked for in the jobs folder too.
        jobs: the jobs folder.
        beside: what is known already of folders, to look for other copies of the job in.
        width: columns of the text; None: as it is for a file.
        sure: whether to work out how sure each figure is, for the data.
    """
    if path == STANDARD_INPUT:
        return _check_standard_input(jobs, sure=sure)
    opened = read_for_check(path, jobs)
    if isinstance(opened, Report):
        return opened
    job, path = opened
    profiles, _, _ = read_profiles(places(jobs))
    beside = beside or _Folders(places(jobs))
    log = beside.faults
    try:
        before = previous(job, path.parent)
        report = _report(str(path), job, profiles, before, log, width=width, sure=sure)
    except Exception as bug:  # noqa: BLE001 - the other files are still to be judged
        log.note("report", bug)
        kept = f"a fault in the program ({type(bug).__name__}) kept it from being judged"
        words = f"the file is sound, but {kept}: please report it"
        return _unreadable(str(path), words, code="program_error")
    copies = beside.copies(path)
    lines = [f"ANOTHER COPY of this job: {clean(name, 200)} (stanchion merge joins two)" for name in copies]
    return replace(report, text="\n".join([report.text, *lines]), data={**report.data, "copies": copies})


def read_for_check(path: Path, jobs: str | None) -> tuple[Job, Path] | Report:
    """The job in a file, and the file it is; what is printed instead where it cannot be read.

    Args:
        path: the file; a bare name is looked for in the jobs folder too; - for standard input.
        jobs: the jobs folder.
    """
    try:
        if path == STANDARD_INPUT:
            return job_of_standard_input(), places(jobs).jobs / STANDARD_INPUT_NAME
        found = existing_file(path, jobs)
        return read_job(found).job, found
    except BadFile as error:
        words = " ".join(part for part in (str(error), newest_good_words(path, jobs)) if part)
        name = STANDARD_INPUT_NAME if path == STANDARD_INPUT else str(path)
        return _unreadable(name, words, code="no_such_job" if isinstance(error, NotFound) else "unreadable")


def _check_standard_input(jobs: str | None, *, sure: bool) -> Report:
    """Judge what standard input holds, as if its file lay in the jobs folder."""
    try:
        job = job_of_standard_input()
    except BadFile as error:
        return _unreadable(STANDARD_INPUT_NAME, str(error))
    where = places(jobs)
    before = previous(job, where.jobs)
    return _report(STANDARD_INPUT_NAME, job, read_profiles(where)[0], before, FaultLog(where.faults), sure=sure)


class _Folders:
    """The folders of the files, each read once."""

    def __init__(
        self,
        where: Places,
        progress: Callable[[str, int, int], None] = NO_PROGRESS,
        cancelled: Callable[[], bool] = NEVER,
    ) -> None:
        self._where, self._progress, self._cancelled = where, progress, cancelled
        self._rows: dict[Path, list[JobRow]] = {}
        self.faults = FaultLog(where.faults)
        """Where errors of the program are written down."""

    def copies(self, path: Path) -> list[str]:
        """File names of other copies of the job in the same folder."""
        folder = path.resolve().parent
        if folder not in self._rows:
            listing = Listing(folder, self._where.cache, lambda job, before: ("", ""))
            try:
                self._rows[folder] = listing.rows(
                    judged=False,
                    progress=lambda done, of: self._progress("others scanned", done, of),
                    cancelled=self._cancelled,
                )
            except OSError:
                self._rows[folder] = []
        return copies_in(self._rows[folder], path.name)


def check_bytes(name: str, data: bytes) -> Report:
    """Judge the content of a job file by the profiles that came with the program."""
    return _report(name, loads(data).job, load_profiles(), None)


def _report(
    name: str,
    job: Job,
    profiles: Profiles,
    before: Job | None,
    log: FaultLog | None = None,
    *,
    width: int | None = None,
    sure: bool = False,
) -> Report:
    assessment = assess(job, profiles, before)
    if log is not None:
        for fault in assessment.faults:
            log.note(fault.part, fault.error)
    text = as_text(name, job, assessment, width=width, profiles=profiles, previous=before)
    data = as_json(name, job, assessment, profiles, before)
    if sure:
        from stanchion.report.figure_numbers import uncertainty_json  # noqa: PLC0415

        data["uncertainty"] = uncertainty_json(job, profiles, before)
    return Report(text, data, STATUS[assessment.worst])


def _unreadable(name: str, message: str, code: str = "unreadable") -> Report:
    words = clean(message, 1000)
    head = code.replace("_", " ").upper()
    finding = {"code": code, "severity": "fault", "where": "file", "headline": head, "text": words}
    data = {"format": JSON_FORMAT, "file": name, "worst": "fault", "findings": [finding]}
    said = words if code == "no_such_job" else f"{head}: {words}"
    return Report(f"{clean(name)}: {said}", data, FAULTY)
