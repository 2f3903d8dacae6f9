"""The part of the hand-over sheet that the track gives: runs, whose settings are on the machine, tyre pressures."""

from __future__ import annotations

from stanchion.base.text import clean, clean_lines
from stanchion.job.model import ENDS, End, Job, Run
from stanchion.job.runs import as_ridden, changes_before, changes_since, is_blank, run_as_set
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.ridden import EndUsed
from stanchion.report.lines import NONE, figure, recorded_text
from stanchion.report.runs import figures_of_run
from stanchion.report.sheet_shape import Line, Section, Table
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.american import worded
from stanchion.wording.changes import changes_in_words
from stanchion.wording.complaint_labels import rider_words as words_of_run
from stanchion.wording.ridden_words import began_words

_LONGEST = 400


def run_table(job: Job, assessment: Assessment, units: Units) -> Table:
    """A row for each run: lap, travel used at both ends, and what was changed before it; the best of several laps is
    marked."""
    best = _best_lap(job)
    rows = []
    for at, run in enumerate(job.runs):
        figures = figures_of_run(job, at, assessment)
        lap = recorded_text(run.best_lap_s, Kind.TIME, units)
        changes = changes_in_words(changes_before(job, at), as_ridden(job, run), units)
        cells = (
            began_words(job, run) or NONE,
            f"{lap} best" if at == best else lap,
            *(_used(figures.end(end), units) for end in ENDS),
            "; ".join(clean(change, _LONGEST) for change in changes) or NONE,
        )
        rows.append((str(at + 1), cells))
    return Table("Run", ("time", "lap", "fork used", "shock used", "changed before it"), tuple(rows))


def settings_ridden(job: Job, units: Units) -> Section:
    """Which run was ridden with the settings that the machine has now, or what was changed since the latest one."""
    title = "Settings now"
    if not any(run.front or run.rear for run in job.runs):
        return Section(title, ())
    at = run_as_set(job)
    if at is not None:
        lap = ", which has the best lap" if at == _best_lap(job) else ""
        return Section(title, (Line("", f"As ridden in run {at + 1}{lap}."),))
    latest = next((at for at in reversed(range(len(job.runs))) if not is_blank(job.runs[at])), None)
    if latest is None:
        return Section(title, (Line("", "Not ridden yet."),))
    changes = changes_in_words(changes_since(job, latest), job, units)
    lines = [f"Not ridden yet. Changed since run {latest + 1}:", *(clean(change, _LONGEST) for change in changes)]
    return Section(title, tuple(Line("", line) for line in lines))


def rider_words(job: Job) -> Section:
    """What the rider said of each run, the latest first."""
    lines = [
        Line(f"Run {at + 1}:", " ".join(filter(None, map(str.strip, clean_lines(words).split("\n")))))
        for at, run in reversed(tuple(enumerate(job.runs)))
        if (words := words_of_run(run))
    ]
    return Section("The rider says", tuple(lines))


def pressure_table(job: Job, assessment: Assessment, units: Units) -> Table:
    """Tyre pressures wanted, those last read before and after a run, and the cold one to set for the wanted hot one."""
    latest = {end: _latest_with_pressures(job, end) for end in ENDS}
    of_one_run = len({at for at in latest.values() if at is not None}) <= 1
    rows = []
    for end in ENDS:
        at = latest[end]
        run = Run() if at is None else job.runs[at]
        to_set = Figure() if at is None else figures_of_run(job, at, assessment).tyre(end).cold_to_set_bar
        cells = (
            figure(to_set, Kind.PRESSURE, units),
            recorded_text(getattr(job.upkeep, f"{end}_wanted_bar"), Kind.PRESSURE, units),
            recorded_text(getattr(run, f"{end}_cold_bar"), Kind.PRESSURE, units),
            recorded_text(getattr(run, f"{end}_hot_bar"), Kind.PRESSURE, units),
        )
        if set(cells) != {NONE}:
            named = "" if of_one_run or at is None else f", run {at + 1}"
            rows.append((f"{end.capitalize()} {worded('tyre')}{named}", cells))
    known = [at for at in latest.values() if at is not None]
    last = f"run {known[0] + 1}" if known and of_one_run else "last"
    return Table("Pressures", ("set cold", "wanted hot", f"{last} cold", f"{last} hot"), tuple(rows))


def _latest_with_pressures(job: Job, end: End) -> int | None:
    """The latest run in which a tyre's pressure was read, cold or hot."""
    found = (
        at
        for at in range(len(job.runs) - 1, -1, -1)
        if any(getattr(job.runs[at], f"{end}_{state}_bar") is not None for state in ("cold", "hot"))
    )
    return next(found, None)


def _best_lap(job: Job) -> int | None:
    """The run with the best lap, where several have one."""
    laps = [(run.best_lap_s, at) for at, run in enumerate(job.runs) if run.best_lap_s is not None]
    return min(laps)[1] if len(laps) > 1 else None


def _used(of: EndUsed, units: Units) -> str:
    if of.used_mm.value is None:
        return NONE
    used = show(of.used_mm.value, Kind.LENGTH, units)
    if of.available_mm.value is None:
        return used
    return f"{used.partition(' ')[0]} of {show(of.available_mm.value, Kind.LENGTH, units)}"
