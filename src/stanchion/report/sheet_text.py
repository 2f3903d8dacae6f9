"""The hand-over sheet as text that prints on one page."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from stanchion.report.sheet import CLOSING, Sheet, Table

WIDTH, LINES = 80, 66
"""One printed page at ten characters to the inch and six lines."""


def sheet_text(sheet: Sheet) -> str:
    """The sheet, at most 66 lines of 80 columns; what has no room is counted, the closing words always stay."""
    head = [sheet.title, sheet.about, *(["INVENTED SAMPLE: not a setting to copy."] if sheet.sample else [])]
    fixed: list[str] = []
    for table in sheet.tables:
        fixed += ["", *_table(table)]
    foot = ["", *_wrapped(" ".join(sheet.cautions)), *_wrapped(CLOSING)]
    room = LINES - len(head) - len(fixed) - len(foot)
    loose = [
        ("WARNINGS STILL OPEN", [f"{word} {text}" for word, text in sheet.warnings], "None in what is entered."),
        ("CHANGED SINCE THE JOB BEFORE", list(sheet.changes), ""),
        ("NOTES", list(sheet.notes), ""),
    ]
    body: list[str] = []
    for title, lines, otherwise in loose:
        body += _section(title, lines, otherwise, room - len(body))
    return "\n".join(line.rstrip() for line in (*head, *body, *fixed, *foot)) + "\n"


def _section(title: str, lines: list[str], otherwise: str, room: int) -> list[str]:
    if not lines and not otherwise:
        return []
    told = ["", title]
    if not lines:
        told.append(f"  {otherwise}")
    for at, line in enumerate(lines):
        wrapped = textwrap.wrap(line, WIDTH - 2, initial_indent="  ", subsequent_indent="    ")
        left = len(lines) - at
        if len(told) + len(wrapped) + (1 if left > 1 else 0) > room:
            told.append(f"  … and {left} more: see `stanchion check`")
            break
        told += wrapped
    return told if len(told) <= room else []


def _table(table: Table) -> Iterator[str]:
    name = max([24, *(len(label) + 3 for label, _ in table.rows)])
    count = len(table.heads)
    width = (WIDTH - name) // count
    yield table.title.upper().ljust(name) + "".join(head[: width - 1].ljust(width) for head in table.heads)
    for label, cells in table.rows:
        yield ("  " + label).ljust(name) + "".join(cell[: width - 1].ljust(width) for cell in cells)


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH)
