"""Jobs as a table for a spreadsheet: one row a job, settings and what follows from them (CSV, RFC 4180)."""

from __future__ import annotations

import csv
import datetime as dt
import io
from collections.abc import Iterable, Iterator
from typing import Any

from stanchion.job.edit import dotted, value_at
from stanchion.job.model import ENDS, SIDES, STATES, Job, Path
from stanchion.job.spec import Leaf, Many, Part, specs_of
from stanchion.judgement.assessment import Assessment
from stanchion.text import clean

FORMULA_STARTS = ("=", "+", "-", "@")
"""A text that begins so is taken by spreadsheets for a formula; it is led in by an apostrophe."""
PRELOAD = ("installed_preload_mm", "preload_now_mm", "headroom_out_mm", "headroom_in_mm", "preload_force_n")


def export_csv(jobs: Iterable[tuple[str, Job, Assessment]]) -> str:
    """The jobs as CSV: UTF-8 text, a header row, decimal points, lines that end with CR LF.

    Columns are the keys of the job file, then figures under `derived.`; repeated readings are joined by semicolons.

    Args:
        jobs: file name, job and what assess() gave for it.
    """
    paths = list(_paths())
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    head: list[str] | None = None
    for name, job, assessment in jobs:
        derived = dict(_derived(assessment))
        if head is None:
            head = ["file", *(dotted(path) for path in paths), *derived]
            writer.writerow(head)
        writer.writerow([_cell(name), *(_cell(value_at(job, path)) for path in paths), *map(_cell, derived.values())])
    if head is None:
        writer.writerow(["file", *(dotted(path) for path in paths)])
    return out.getvalue()


def _paths(kind: type = Job, base: Path = ()) -> Iterator[Path]:
    """Every single field of a job, and every row of numbers, in the order of the model."""
    for name, spec in specs_of(kind).items():
        path = (*base, name)
        if isinstance(spec, Part):
            yield from _paths(spec.type, path)
        elif isinstance(spec, Leaf | Many):
            yield path


def _derived(a: Assessment) -> Iterator[tuple[str, Any]]:
    places = [*((f"front.{side}", a.front.leg(side)) for side in SIDES), ("rear", a.rear.spring)]
    for place, figures in places:
        for name in PRELOAD:
            yield f"derived.{place}.{name}", getattr(figures, name).value
    yield "derived.front.rate_n_per_mm", a.front.rate_n_per_mm.value
    yield "derived.rear.wheel_rate_n_per_mm", a.rear.wheel_rate_n_per_mm.value
    for end in ENDS:
        for state in STATES:
            yield f"derived.sag.{end}.{state}_mm", a.sag.end(end).state(state).sag_mm.value
            yield f"derived.predicted.{end}.{state}_mm", a.predicted.end(end).state(state).sag_mm.value
    yield "derived.worst", a.worst.word if a.worst else ""


def _cell(value: Any) -> str:
    """A value as a cell; text can neither break the table nor be taken for a formula."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return repr(round(float(value), 9))
    if isinstance(value, tuple):
        return ";".join(repr(item) for item in value)
    if isinstance(value, dt.date):
        return value.isoformat()
    text = clean(str(value).replace("\n", " / "))
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text
