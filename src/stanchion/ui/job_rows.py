"""The rows of the list of jobs: each job on one line, or on two where one has too little room. Pure."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Mapping, Sequence

from rich.cells import cell_len, set_cell_size
from textual.content import Content

from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.store.listing import JobRow
from stanchion.ui.space import cut, kept_distinct

SEVERITY_STYLES = {"fault": "$fault bold", "warning": "$warn bold", "note": "$note bold"}
MUTED = "$text-muted"
DATE = 11
WORST = 24
"""Columns kept for the worst warning where names are long; all of it is shown below the list."""
SECOND = 13
"""Columns of rider and venue together at least, where they have a line of their own."""
NUMBERED = 14
"""More columns, if some rows number the jobs of one day."""
SHORTEST = (12, 6, 8)
"""Columns of machine, rider and venue at least, with the blank after each."""
LEAST_WORST = 7
"""Columns for the worst warning beside when a job was last changed: the word for how bad it is."""
ONE_LINE = 74
"""Columns from which a job takes one line however long its names are."""


@record
class Layout:
    """How wide the columns are.

    Args:
        width: columns there are.
        names: of them, for machine, rider and venue.
        lines: lines of a job, 1 or 2.
    """

    width: int
    names: tuple[int, int, int]
    lines: int

    @property
    def across(self) -> int:
        """Columns for the name of a file, in place of machine, rider and venue."""
        return self.names[0] if self.lines > 1 else sum(self.names)

    @property
    def heads(self) -> str:
        """The names of the columns."""
        if self.lines > 1:
            return cut(f"{'date':<{DATE}}machine; below it rider, venue, worst", self.width)
        machine, rider, venue = self.names
        return f"{'date':<{DATE}}{'machine':<{machine}}{'rider':<{rider}}{'venue':<{venue}}worst"


def layout(rows: Sequence[JobRow], width: int, *, numbered: bool = False) -> Layout:
    """The columns for these jobs: as wide as their names where there is room, otherwise the machine's before others.

    Args:
        rows: the jobs.
        width: columns there are.
        numbered: whether some of them say which of several of one day they are.
    """
    own = [_names(row) for row in rows if not row.copy_of]
    longest = [max([least, *(cell_len(names[at]) + 1 for names in own)]) for at, least in enumerate(SHORTEST)]
    worst = WORST + (NUMBERED if numbered else 0)
    room = width - DATE - worst
    if sum(longest) > room and width < ONE_LINE:
        below = max(min(SECOND, width - DATE), width - DATE - worst)
        rider = max(1, min(longest[1], below // 2))
        return Layout(width, (max(1, width - DATE), rider, below - rider), 2)
    names = list(SHORTEST)
    for at, wanted in enumerate(longest):
        names[at] += max(0, min(wanted - names[at], room - sum(names)))
    return Layout(width, (names[0], names[1], names[2]), 1)


def row_lines(rows: Sequence[JobRow], how: Layout, numbers: Mapping[str, int]) -> list[Content]:
    """A line or two for each job, no two jobs alike.

    Args:
        rows: the jobs.
        how: the columns.
        numbers: which of several jobs of one day, machine, rider and venue each is, by file name.
    """
    names = {row.name: _names(row) for row in rows if not row.copy_of}
    shown = [kept_distinct((of[at] for of in names.values()), how.names[at] - 1) for at in range(len(SHORTEST))]
    files = kept_distinct((clean(row.name) for row in rows if row.copy_of), how.across - 1)
    words_of = {row.name: _words(row, how, names, shown, files) for row in rows}
    shown_so = Counter((words, numbers.get(name)) for name, words in words_of.items())
    seen = Counter[tuple[str, str]]()
    unclear = {words for (words, _), count in shown_so.items() if count > 1}
    lines = []
    for row in rows:
        words = words_of[row.name]
        number = numbers.get(row.name)
        if words in unclear:  # they differ in what there is no room for
            seen[words] += 1
            number = seen[words]
        above, before = ("", words[0] + words[1]) if how.lines == 1 else (f"{words[0].rstrip()}\n", words[1])
        lines.append(Content(above + before) + _worst(row, how.width - cell_len(before), number))
    return lines


def _names(row: JobRow) -> tuple[str, str, str]:
    return clean(row.machine or row.name), clean(row.rider), clean(row.venue)


def _words(
    row: JobRow,
    how: Layout,
    names: Mapping[str, tuple[str, str, str]],
    shown: Sequence[Mapping[str, str]],
    files: Mapping[str, str],
) -> tuple[str, str]:
    """Date and machine, rider and venue; of a copy only the name of its file, as the line above shows the others."""
    indent = " " * DATE if how.lines > 1 else ""
    if row.copy_of:
        name = set_cell_size(files[clean(row.name)], how.across)
        head = f"{'  COPY':<{DATE}}"
        return (head + name, indent) if how.lines > 1 else (head, name)
    machine, rider, venue = (
        set_cell_size(words[name], width) for words, name, width in zip(shown, names[row.name], how.names, strict=True)
    )
    return f"{row.date.isoformat():<{DATE}}{machine}", f"{indent}{rider}{venue}"


def _worst(row: JobRow, room: int, number: int | None) -> Content:
    """Which of several jobs it is, and its worst finding, in so many columns."""
    if row.problem:
        return Content.styled(cut("UNREADABLE", room), "$fault bold")
    which = "" if number is None else f"no. {number}, {changed_at(row)} "
    if number is not None and len(which) + LEAST_WORST > room:
        which = f"no. {number} "
    word = f"{which}sample " if row.sample else which
    text = Content(cut(which, room)) + Content.styled(cut(word[len(which) :], max(0, room - len(which))), MUTED)
    room_left = room - text.cell_length
    if not row.judged:
        return text + Content.styled(cut("reading …", room_left), MUTED)
    if not row.severity:
        return text + Content.styled(cut("nothing to warn about", room_left), MUTED)
    words = cut(f"{row.severity.upper()} {row.headline}", room_left)
    return text + Content.styled(words, SEVERITY_STYLES.get(row.severity, ""))


def changed_at(row: JobRow) -> str:
    """When the file was last written: the time, and the day where that is not the job's."""
    try:
        at = dt.datetime.fromtimestamp(row.mtime_ns / 1e9)
    except (ValueError, OverflowError, OSError):
        return "?"
    return f"{at:%H:%M}" if at.date() == row.date else f"{at:%d.%m. %H:%M}"
