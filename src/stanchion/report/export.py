"""Jobs and runs as tables for a spreadsheet: settings and what follows from them (CSV, RFC 4180)."""

from __future__ import annotations

import csv
import datetime as dt
import io
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.job.edit import dotted, value_at
from stanchion.job.model import ENDS, STATES, AsFound, End, Job, Path, Returning, Run, State
from stanchion.job.runs import as_ridden, changes_before
from stanchion.job.spec import Leaf, Many, Part, Progressive, specs_of
from stanchion.judgement import unjudged
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.parts import Fault, Parts
from stanchion.judgement.track.run_figures import run_figures
from stanchion.wording.changes import changes_in_words
from stanchion.wording.verdicts import severity_word

FORMULA_STARTS = ("=", "+", "-", "@", "＝", "＋", "－", "＠")
"""A spreadsheet may take a text that begins so for a formula; an apostrophe is put before it."""
BETWEEN = ";"
"""Between several values in one cell."""
_PRELOAD = (
    "installed_preload_mm",
    "preload_now_mm",
    "headroom_out_mm",
    "headroom_in_mm",
    "headroom_out_turns",
    "headroom_in_turns",
    "preload_force_n",
)
_GEOMETRY = ("rake_deg", "trail_mm", "wheelbase_mm")
_WHOSE: tuple[Path, ...] = (("job", "machine"), ("job", "rider"), ("job", "venue"), ("job", "date"))
_USED = ("used_mm", "available_mm", "left_mm")


@record
class _ExportColumn:
    name: str
    value: Callable[[Job, Assessment], Any]


def export_csv(jobs: Iterable[tuple[str, Job, Assessment]]) -> str:
    """The jobs as CSV, a row each: UTF-8 text, a header row, decimal points, lines that end with CR LF.

    Columns are the keys of the job file, which end with their unit, then figures under `derived.`. Several values of
    one key, such as repeated readings, stand in one cell with semicolons between them. While the legs of a fork are
    entered as one, the columns of the right leg repeat the left.

    Args:
        jobs: file name, job and what assess() gave for it.
    """
    columns = [*map(_setting, _paths()), *_derived()]
    head = ["file", *(column.name for column in columns)]
    return _table(head, ([name, *(column.value(job, a) for column in columns)] for name, job, a in jobs))


def export_runs_csv(
    jobs: Iterable[tuple[str, Job, Assessment]], on_fault: Callable[[str, Fault], None] = lambda name, fault: None
) -> str:
    """The runs of the jobs as CSV, a row each, in the form of export_csv.

    Columns are whose run it was, what was recorded of it, travel used, what was changed since the run before in words,
    and fork and shock as they were ridden.

    Args:
        jobs: file name, job and what assess() gave for it.
        on_fault: called with the file name and the error where a fault of the program kept figures of a run from being
            worked out; their cells are empty.
    """
    recorded = [path for path in _paths(Run) if path[0] not in ("front", "rear")]
    ridden = [_setting(path) for path in _paths() if path[0] in ("front", "rear")]
    used = [f"derived.{end}_{name}" for end in ENDS for name in _USED]
    head = [
        "file",
        *map(dotted, _WHOSE),
        "run",
        *(f"runs.{dotted(path)}" for path in recorded),
        *used,
        "derived.changed",
    ]
    head += [column.name for column in ridden]

    def rows() -> Iterator[list[Any]]:
        for name, job, a in jobs:
            for at, run in enumerate(job.runs):
                parts = Parts()
                figures = parts.judged("runs", unjudged.RUN, run_figures, job, at, a.marker_references)
                then = as_ridden(job, run)
                changed = parts.judged("changes", (), _changed, job, at, then)
                for fault in parts.faults:
                    on_fault(name, fault)
                yield [
                    name,
                    *(value_at(job, path) for path in _WHOSE),
                    at + 1,
                    *(_of_run(run, path) for path in recorded),
                    *(getattr(figures.end(end), field) for end in ENDS for field in _USED),
                    changed,
                    *(column.value(then, a) for column in ridden),
                ]

    return _table(head, rows())


def _of_run(run: Run, path: Path) -> Any:
    """What was recorded of a run; of a list of parts one field of each, of a part that is not there nothing."""
    value: Any = run
    for step in map(str, path):
        if value is None:
            return None
        value = tuple(getattr(part, step) for part in value) if isinstance(value, tuple) else getattr(value, step)
    return value


def _changed(job: Job, at: int, then: Job) -> tuple[str, ...]:
    """What was changed since the run before, in words."""
    return changes_in_words(changes_before(job, at), then)


def _table(head: list[str], rows: Iterable[list[Any]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(head)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return out.getvalue()


# --- columns ------------------------------------------------------------------------------------------------------


def _paths(kind: type = Job, base: Path = ()) -> Iterator[Path]:
    """Every field of a job but its runs, its work list and the machine as found, in the order of the model; of a list
    of parts each field, once."""
    for name, spec in specs_of(kind).items():
        path = (*base, name)
        if isinstance(spec, Part):
            if spec.type not in (Returning, AsFound):
                yield from _paths(spec.type, path)
        elif isinstance(spec, Leaf | Many):
            yield path
        elif spec.type is not Run:
            yield from ((*path, field) for field in specs_of(spec.type))


def _setting(path: Path) -> _ExportColumn:
    def value(job: Job, _: Assessment) -> Any:
        parent = value_at(job, path[:-1]) if len(path) > 1 else job
        if isinstance(parent, tuple):
            return tuple(getattr(row, str(path[-1])) for row in parent)
        return value_at(job, path)

    return _ExportColumn(dotted(path), value)


def _derived() -> Iterator[_ExportColumn]:
    places: tuple[tuple[str, Callable[[Assessment], Any]], ...] = (
        ("front.left", lambda a: a.front.left),
        ("front.right", lambda a: a.front.right),
        ("rear", lambda a: a.rear.spring),
    )
    for place, of in places:
        for name in (*_PRELOAD, "verdict"):
            if name.endswith("_turns"):
                yield _turned(f"{place}.{name}", of, name, "turns")
                yield _turned(f"{place}.{name.replace('turns', 'clicks')}", of, name, "clicks")
            else:
                yield _figure(f"{place}.{name}", of, name)
    yield _figure("front.rate_n_per_mm", lambda a: a.front, "rate_n_per_mm")
    yield _figure("rear.wheel_rate_n_per_mm", lambda a: a.rear, "wheel_rate_n_per_mm")
    for end in ENDS:
        for state in STATES:
            yield from _sag(end, state)
    for name in ("state", *_GEOMETRY):
        yield _figure(f"geometry.{name}", lambda a: a.geometry, name)
    yield _ExportColumn("derived.worst", lambda _, a: severity_word(a.worst))


def _sag(end: End, state: State) -> Iterator[_ExportColumn]:
    where = f"{end}.{state}"
    for name, attribute in (("sag_mm", "sag_mm"), ("verdict", "verdict_now")):
        yield _figure(f"sag.{where}.{name}", lambda a: a.sag.end(end).state(state), attribute)
    yield _figure(f"predicted.{where}.sag_mm", lambda a: a.predicted.end(end).state(state), "sag_mm")


def _figure(name: str, of: Callable[[Assessment], Any], attribute: str) -> _ExportColumn:
    return _ExportColumn(f"derived.{name}", lambda _, a: getattr(of(a), attribute))


def _turned(name: str, of: Callable[[Assessment], Any], attribute: str, unit: str) -> _ExportColumn:
    """A column of turns, or of clicks; empty where the adjuster is counted in the other."""
    return _ExportColumn(f"derived.{name}", lambda _, a: getattr(of(a), attribute) if of(a).turned_in == unit else None)


# --- cells --------------------------------------------------------------------------------------------------------


def _cell(value: Any) -> str:
    """A value as a cell; text can neither break the table nor be taken for a formula."""
    if isinstance(value, Figure):
        value = value.value
    if isinstance(value, str):
        return _harmless(value)
    if isinstance(value, tuple):
        # One number alone stays a number; a text is guarded by what the whole cell begins with.
        return _harmless(BETWEEN.join(_plain(item).replace(BETWEEN, ",") for item in value)) if value else ""
    return _plain(value)


def _plain(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{round(float(value), 9):.9f}".rstrip("0").rstrip(".")
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, Progressive):  # with a dash between them, a spreadsheet takes 8-10 for a date
        return f"{_plain(value.start)} to {_plain(value.end)}"
    return str(value)


def _harmless(text: str) -> str:
    shown = clean(text.replace("\r\n", "\n").replace("\n", " / "))
    return f"'{shown}" if shown.lstrip().startswith(FORMULA_STARTS) else shown
