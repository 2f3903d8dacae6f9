"""Hand-over sheets, work lists and tables, made for commands and screens, and written to files."""

from __future__ import annotations

import contextlib
import datetime as dt
import stat
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from stanchion.base.errors import BadFile, NotSaved
from stanchion.base.progress import NEVER, NO_PROGRESS
from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.bench.judged_library import library_of, read_profiles
from stanchion.bench.named_jobs import read_named
from stanchion.bench.session import Session
from stanchion.job.model import Job
from stanchion.job.returning import setup_of
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.work.work_list import with_sag, work_between, work_list
from stanchion.planning.how_sure import HowSure
from stanchion.planning.work_targets import WorkTarget, as_found, runs_of, targets_of
from stanchion.report.export import export_csv, export_runs_csv
from stanchion.report.figure_numbers import sure_figures
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_html import sheet_html
from stanchion.report.sheet_text import sheet_text
from stanchion.report.work_list import work_list_text
from stanchion.store.atomic import make_folder
from stanchion.store.disk import DISK, advice, cause
from stanchion.store.faults import FAULT_WORDS, FaultLog
from stanchion.store.library import read_job
from stanchion.store.names import SUFFIX
from stanchion.store.paths import Places, places
from stanchion.store.settings import load_settings
from stanchion.store.sources import previous
from stanchion.store.temporary import discard, finished, swap
from stanchion.store.typed_names import existing_file
from stanchion.units.known_units import METRIC, Units, with_unit
from stanchion.wording.work_sentences import UNTITLED, target_title


def sheet_of(path: Path, jobs: str | None = None, asked: str = "", *, html: bool = False) -> str:
    """The sheet of a job file, judged by the user's profiles, and by the job it was carried from if it lies beside it.

    Args:
        path: the file; a bare name is looked for in the jobs folder too.
        jobs: the jobs folder.
        asked: units to show, such as "in,lb/in"; what is not named is as in the settings.
        html: as one HTML file; otherwise as text.

    Raises:
        BadFile: it cannot be read as a job.
        BadQuantity: there is no such unit to show lengths or rates in.
    """
    units = _units(asked, places(jobs))
    path, job = read_named(path, jobs)
    profiles, _, _ = read_profiles(places(jobs))
    before = previous(job, path.parent)
    log = FaultLog(places(jobs).faults)
    for fault in assess(job, profiles, before).faults:
        log.note(fault.part, fault.error)
    return sheet_for(job, profiles, before, units, html=html)


def sheet_for(
    job: Job,
    profiles: Profiles,
    before: Job | None = None,
    units: Units = METRIC,
    *,
    html: bool = False,
    sure: Mapping[str, HowSure] | None = None,
) -> str:
    """The sheet of a job.

    Args:
        job: the job.
        profiles: bands and targets.
        before: the job it was carried from; None: not known.
        units: units to show.
        html: as HTML, not as text.
        sure: how sure each figure is, by its path in `check --json`; None: it is worked out.
    """
    written = dt.datetime.now().astimezone()
    compared = assess(before, profiles) if before is not None and html else None
    assessment = assess(job, profiles, before)
    if sure is None:
        sure = sure_figures(job, profiles, before)
    sheet = make_sheet(job, assessment, before, units, written, before=compared, profiles=profiles, sure=sure)
    return sheet_html(sheet) if html else sheet_text(sheet)


def work_list_of(path: Path, to: str, jobs: str | None = None) -> str:
    """The work list of a job file as text for paper.

    Args:
        path: the file; a bare name is looked for in the jobs folder too.
        to: what to return to: a job file, FILE:RUN or :RUN of the same job, RUN being a number, "latest",
            "best" or "found"; empty: the setup of its current work list.
        jobs: the jobs folder.

    Raises:
        BadFile: one of them cannot be read, or there is no such run.
    """
    path, job = read_named(path, jobs)
    if not to:
        found = work_list(job)
        if found is None or job.returning is None:
            raise BadFile(f"'{path.name}' has no work list in hand: say with --to what to return to")
        return work_list_text(job, found, job.returning.title or UNTITLED)
    target = _target(job, to, jobs)
    found = with_sag(job, work_between(setup_of(job), target.setup))
    return work_list_text(job, found, target_title(target))


def _target(job: Job, to: str, jobs: str | None) -> WorkTarget:
    name, colon, run = to.rpartition(":")
    if colon and not Path(to).exists() and run == "found":
        of, other = read_named(Path(name), jobs) if name else (None, job)
        offered = list(targets_of(other, of.name, job.job.machine)) if of else list(as_found(job))
        target = next((one for one in offered if one.found_on is not None), None)
        if target is None:
            raise BadFile("the machine as it was found is not recorded in that job")
        return target
    if colon and not Path(to).exists() and (run.isdecimal() or run in ("latest", "best")):
        of, other = read_named(Path(name), jobs) if name else (None, job)
        offered = (
            [one for one in targets_of(other, of.name, job.job.machine) if one.run is not None]
            if of
            else list(runs_of(job))
        )
        laps = {one.run: other.runs[one.run].best_lap_s for one in offered if one.run is not None}
        wanted = int(run) - 1 if run.isdecimal() else offered[0].run if offered else None
        if run == "best":
            timed = {at: lap for at, lap in laps.items() if lap is not None}
            wanted = min(timed, key=lambda at: timed[at]) if timed else None
        found = next((one for one in offered if one.run == wanted and wanted is not None), None)
        if found is None:
            raise BadFile(f"there is no run '{run}' with settings; it has {len(offered)} such runs")
        return found
    of, other = read_named(Path(to), jobs)
    return next(targets_of(other, of.name, job.job.machine))


def _units(asked: str, where: Places) -> Units:
    settings = load_settings(where).settings
    units = settings.units
    for unit in filter(None, asked.split(",")):
        units = with_unit(units, unit)
    return units


@record
class Exported:
    """Jobs as a table."""

    text: str
    """The table, as CSV; empty where not one of the files can be read."""
    problems: list[str]
    """A line for each file that cannot be read, or of which figures are left out by a fault of the program."""
    copies: list[str]
    """A line for each copy that was left out."""


def export_of(
    files: Iterable[Path],
    jobs: str | None = None,
    *,
    runs: bool = False,
    progress: Callable[[str, int, int], None] = NO_PROGRESS,
    cancelled: Callable[[], bool] = NEVER,
) -> Exported:
    """Jobs as CSV.

    Args:
        files: which; none: every job of the folder, oldest first, each once: other copies of a job, made by a
            sync tool, are left out and listed. A bare name is looked for in the jobs folder too.
        jobs: the jobs folder.
        runs: a row a run; otherwise a row a job.
        progress: called with what is done, and to how many of how many files.
        cancelled: asked between files; once it is true, what was done so far is returned.

    Raises:
        BadFile: the jobs folder cannot be listed, or one of the files is not there.
    """
    profiles, _, _ = read_profiles(places(jobs))
    chosen = _all_named(files, jobs)
    copies: list[str] = []
    if not chosen:
        listed = library_of(jobs).rows(
            judged=False, progress=lambda done, of: progress("scanned", done, of), cancelled=cancelled
        )
        chosen = [row.path for row in reversed(listed) if not row.copy_of]
        copies = [clean(f"{row.name} is another copy of {row.copy_of}", 1000) for row in listed if row.copy_of]
    problems: list[str] = []
    rows = []
    for done, path in enumerate(chosen):
        if cancelled():
            break
        progress("worked out", done, len(chosen))
        try:
            job = read_job(path).job
        except BadFile as error:
            problems.append(clean(f"{path}: {error}", 1000))
        else:
            rows.append((path.name, job, assess(job, profiles, previous(job, path.parent))))
    if problems and not rows:
        return Exported("", problems, copies)
    faults = [(name, fault) for name, _, a in rows for fault in a.faults]
    text = export_runs_csv(rows, lambda name, fault: faults.append((name, fault))) if runs else export_csv(rows)
    log = FaultLog(places(jobs).faults)
    for _, fault in faults:
        log.note(fault.part, fault.error)
    files_at_fault = dict.fromkeys(clean(name, 200) for name, _ in faults)
    problems.extend(f"{name}: some figures are left out: {FAULT_WORDS}" for name in files_at_fault)
    return Exported(text, problems, copies)


def _all_named(files: Iterable[Path], jobs: str | None) -> list[Path]:
    """Every file that was named. A single error names all that do not exist."""
    found, gone = [], []
    for path in files:
        try:
            found.append(existing_file(path, jobs))
        except BadFile as error:
            gone.append(str(error))
    if gone:
        raise BadFile(f"nothing was written: {'; '.join(gone)}")
    return found


def write_both_sheets(session: Session, folder: Path, stem: str) -> None:
    """Write the hand-over sheet of an open job, as text and as HTML, over earlier ones.

    Args:
        session: the open job.
        folder: where to; it is made if missing.
        stem: the file names without their endings.

    Raises:
        NotSaved: one could not be written.
    """
    try:
        make_folder(folder)
    except OSError as error:
        raise NotSaved(f"{folder} cannot be made: {cause(error)}. {advice(error)}") from error
    job, profiles, before = session.job, session.profiles, session.previous
    sure = sure_figures(job, profiles, before)
    for ending, html in ((".txt", False), (".html", True)):
        text = sheet_for(job, profiles, before, session.units, html=html, sure=sure)
        write_sheet(folder / f"{stem}{ending}", text, force=True)


def write_sheet(path: Path, text: str, *, force: bool = False) -> None:
    """Write a sheet or a table, whole or not at all. An existing file is replaced only if forced, a job file
    never.

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
        raise NotSaved(f"'{path}' already exists and was left alone. Choose another name, or --force.") from None
    except OSError as error:
        raise NotSaved(f"'{path}' could not be written: {cause(error)}. {advice(error)}") from error


def _begin(path: Path, data: bytes) -> None:
    """Write a new file; remove it if that fails."""
    with path.open("xb") as file:
        try:
            file.write(data)
            file.flush()
        except OSError:
            with contextlib.suppress(OSError):
                path.unlink()
            raise


def _overwrite(path: Path, data: bytes) -> None:
    """Replace the content of a file; write to what is no ordinary file, such as a device."""
    target = path.resolve()
    known = target.stat()
    if not stat.S_ISREG(known.st_mode):
        target.write_bytes(data)
        return
    if target.name.casefold().endswith(SUFFIX):
        raise NotSaved(f"'{path}' has the ending of a job file and was left alone. Choose another name.")
    new = finished(target.parent, data, DISK, stat.S_IMODE(known.st_mode))
    try:
        swap(DISK, new, target, DISK.replace)
    except BaseException:
        discard(new, DISK)
        raise
