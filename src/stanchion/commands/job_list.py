"""What `stanchion list` prints of the jobs: lines of text, or plain data for JSON."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from stanchion.base.text import clean
from stanchion.report.json_data import JSON_FORMAT, LISTED, JsonData
from stanchion.report.lines import list_lines
from stanchion.store.listing import JobRow


def list_text(rows: Sequence[JobRow], width: int | None) -> Iterable[str]:
    """The jobs as lines that fit a terminal; with tabs between the cells where there is none."""
    table = [list(map(clean, _cells(row))) for row in rows]
    return ("\t".join(cells) for cells in table) if width is None else list_lines(table, width)


def _cells(row: JobRow) -> Iterator[str]:
    verdict = f"{row.severity.upper()} {row.headline}" if row.severity else "nothing to warn about"
    verdict = f"UNREADABLE {row.problem}" if row.problem else verdict
    verdict = f"ANOTHER COPY of {row.copy_of}: {verdict}" if row.copy_of else verdict
    yield from (row.date.isoformat(), row.machine, row.rider, row.venue, verdict, row.name)


def list_json(row: JobRow) -> dict[str, Any]:
    """One object of the array that `list --json` prints."""
    data = JsonData()
    job = None
    if row.problem:
        data.missing["job"] = row.problem
    else:
        job = data.of("job", row, LISTED)
    worst = "fault" if row.problem else row.severity or None
    if worst is None:
        data.missing["worst"] = "nothing found"
    content = {
        "format": JSON_FORMAT,
        "file": row.name,
        "job": job,
        "worst": worst,
        "headline": "UNREADABLE" if row.problem else row.headline,
        "copy_of": row.copy_of,
        "carried_from": row.carried_from,
    }
    return content | {"missing": data.missing}
