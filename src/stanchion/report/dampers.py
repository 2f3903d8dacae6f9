"""Damper sheets: as lines of a report, and as plain data."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import Any

from stanchion.base.text import clean
from stanchion.job.model import Job
from stanchion.job.spec import Kind
from stanchion.judgement.predict.damper_sheets import (
    damping_as_set,
    force_as_set,
    latest_sheet,
    position_for,
    position_now,
    sheet_figures,
    sheets_compared,
)
from stanchion.judgement.results.dampers import CurveFigures, ForceDifference, SheetFigures
from stanchion.report.json_data import JsonData
from stanchion.report.lines import NAME, NONE, WIDTH, named_line
from stanchion.report.sheet_shape import Line, Section, Table
from stanchion.units.known_units import Units
from stanchion.units.quantity import show
from stanchion.wording.damper_sentences import (
    NOTE,
    Named,
    damper_name,
    damping_words,
    gas_words,
    more_words,
    read_words,
    source_words,
    speed_words,
    unit_turned,
)
from stanchion.wording.damper_tables import DamperTable, click_table, difference_table, force_table, slope_table
from stanchion.wording.finding_words import reason

MORE, MORE_AT_MM_PER_S = 10, 100.0
"""So many per cent more force is asked for at this speed, to show what a click is worth."""
TABLE_NAME, CELL = 28, 7


def _facts(job: Job, of: SheetFigures, units: Units) -> Iterator[Named]:
    """What holds of a whole sheet."""
    yield "  Read", read_words(job, of)
    yield "  Gas taken out", gas_words(of, units)
    if of == latest_sheet(job, of.damper):
        yield "  As set now", set_now_line(job, of, units)


def _tables(job: Job, at: int, of: SheetFigures, curves: Sequence[CurveFigures], units: Units) -> Iterator[DamperTable]:
    yield force_table(job, of, curves, units)
    yield slope_table(job, of, curves)
    if of.clicks:
        yield click_table(job, of, units)
    compared = sheets_compared(job, at)
    if compared is not None:
        yield difference_table(job, of, *compared, units)


def _title(at: int, of: SheetFigures) -> str:
    return f"Damper sheet {at + 1}, {damper_name(of.sheet)}"


def set_now_line(job: Job, of: SheetFigures, units: Units) -> str:
    """Force and damping where the adjuster stands, and how far it is to be turned for a little more."""
    force, damping = (one(job, of, of.turned, MORE_AT_MM_PER_S) for one in (force_as_set, damping_as_set))
    if force.value is None or damping.value is None:
        return f"{NONE}  {clean(reason(force))}"
    wanted = position_for(job, of, 1.0 + MORE / 100.0, MORE_AT_MM_PER_S)
    more = more_words(position_now(job, of.sheet), wanted, unit_turned(job, of.sheet), MORE)
    return (
        f"{of.turned} {show(force.value, Kind.FORCE, units)}, {damping_words(damping.value)} "
        f"at {speed_words(MORE_AT_MM_PER_S)}; {more}"
    )


def damper_lines(job: Job, units: Units) -> Iterator[str]:
    """The damper sheets as sections of printed text, each after an empty line."""
    for at in range(len(job.damper_sheets)):
        of = sheet_figures(job, at)
        yield from ("", f"{_title(at, of)}: {source_words(of.sheet, units)}")
        for name, text in _facts(job, of, units):
            yield from textwrap.wrap(named_line(name.strip(), text), WIDTH, subsequent_indent=" " * (NAME + 3))
        for table in _tables(job, at, of, of.curves, units):
            yield f"  {table.title:<{TABLE_NAME}}{''.join(head.rjust(CELL) for head in table.heads)}"
            for name, cells in table.rows:
                yield f"    {name:<{TABLE_NAME - 2}}{''.join(cell.rjust(CELL) for cell in cells)}"
            yield from (f"    {note}" for note in table.notes)
    if job.damper_sheets:
        yield f"  {NOTE}"


def damper_parts(job: Job, units: Units) -> Iterator[Table | Section]:
    """The damper sheets of a hand-over sheet: of each its facts, and a table of the positions as set now; of those
    measured the first and the last where none of them is."""
    for at in range(len(job.damper_sheets)):
        of = sheet_figures(job, at)
        now = position_now(job, of.sheet).value
        curves = [curve for curve in of.curves if curve.position in (None, now)]
        ends = {curve.position for curve in (*of.curves[:1], *of.curves[-1:])}
        curves = curves or [curve for curve in of.curves if curve.position in ends]
        facts = [Line("", source_words(of.sheet, units)), *(Line(n.strip(), t) for n, t in _facts(job, of, units))]
        tables = list(_tables(job, at, of, curves, units))
        facts += [Line("", note) for table in tables for note in table.notes]
        yield Section(_title(at, of), tuple(facts))
        for table in tables:
            yield Table(f"Sheet {at + 1}. {table.title}", table.heads, table.rows, narrow=True)


def damper_json(data: JsonData, job: Job) -> dict[str, Any]:
    """The damper sheets; see JSON in DEVELOPERS.md."""
    return {"damper_sheets": [_sheet(data, job, at) for at in range(len(job.damper_sheets))]}


def _gas_beside(data: JsonData, path: str, of: SheetFigures) -> dict[str, Any]:
    """The gas force by the other way, where both are known."""
    beside = of.gas_beside
    if beside is None:
        return {}
    return {
        "gas_beside_n": data.plain(f"{path}.gas_beside_n", beside.force_n),
        "gas_beside_by": "pressure" if beside.by_pressure else "mean",
        "gas_contradicts": beside.contradicts,
    }


_RECORDED = ("damper", "turned", "file", "sha256", "unread", "stroke_mm", "temperature_c")


def _sheet(data: JsonData, job: Job, at: int) -> dict[str, Any]:
    of, path = sheet_figures(job, at), f"damper_sheets.{at}"
    compared = sheets_compared(job, at)
    return {
        "sheet": at + 1,
        **data.of(path, of.sheet, _RECORDED),
        "gas_n": data.plain(f"{path}.gas_n", of.gas_n),
        **_gas_beside(data, path, of),
        "curves": [_curve(data, f"{path}.curves.{i}", curve) for i, curve in enumerate(of.curves)],
        "clicks": [
            data.of(f"{path}.clicks.{i}", click, ("stroke", "speed_mm_per_s", "per_click_n"))
            for i, click in enumerate(of.clicks)
        ],
        **(
            {}
            if compared is None
            else {"compared_with": compared[0] + 1, "differences": _differences(data, path, compared[1])}
        ),
    }


def _differences(data: JsonData, path: str, found: Sequence[ForceDifference]) -> list[dict[str, Any]]:
    names = ("stroke", "position", "speed_mm_per_s", "force_n", "difference_n", "band_n")
    return [data.of(f"{path}.differences.{i}", one, names) for i, one in enumerate(found)]


def _curve(data: JsonData, path: str, curve: CurveFigures) -> dict[str, Any]:
    return {
        **data.of(path, curve, ("stroke", "position", "low_n_s_per_m", "high_n_s_per_m")),
        "points": [list(one) for one in zip(curve.speeds_mm_per_s, curve.forces_n, strict=True)],
        "at": [
            data.of(f"{path}.at.{i}", one, ("speed_mm_per_s", "force_n", "damping_n_s_per_m"))
            for i, one in enumerate(curve.at)
        ],
    }
