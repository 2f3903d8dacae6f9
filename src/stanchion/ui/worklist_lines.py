"""The lines of the work list: items, what comes after them, and what one could return to. Pure."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from rich.cells import set_cell_size
from textual.content import Content

from stanchion.base.text import clean
from stanchion.bench.session import Session
from stanchion.judgement.work.work import Item, WorkList
from stanchion.planning.work_targets import WorkTarget, work_to
from stanchion.store.listing import JobRow
from stanchion.ui.space import kept_distinct
from stanchion.wording.finding_words import caution
from stanchion.wording.work_sentences import CLOSING, item_words, sag_words, target_offered, unrecorded_words

MUTED, HEAD = "$text-muted", "$primary bold"


def item_line(item: Item, session: Session, width: int) -> Content:
    """Box and words; what cannot be done says so."""
    box = "[x] " if item.done else "[!] " if item.problem else "[ ] "
    words = textwrap.wrap(clean(item_words(item, session.units), 300), width - 4) or [""]
    wrapped = ("\n" + " " * 4).join(words)
    style = MUTED if item.done else "$warn bold" if item.problem else "bold"
    return Content.styled(box + wrapped, style)


def closing_lines(found: WorkList, width: int) -> list[Content]:
    """What comes after the last item."""
    lines = []
    unrecorded = unrecorded_words(found)
    if unrecorded:
        lines.append(wrapped_words(unrecorded, width, MUTED))
    lines.append(Content.styled(CLOSING, HEAD))
    style = "$warn bold" if found.sag_again else ""
    lines += [wrapped_words(words, width, style) for words in sag_words(found)]
    lines += [wrapped_words(caution(code), width, "") for code in found.afterwards]
    return lines


def target_line(session: Session, target: WorkTarget) -> tuple[Content, WorkTarget]:
    """A setup one could return to, and how much differs from it."""
    found = session.judged("work_list", None, work_to, session.job, target)
    if found is None:
        words = "not worked out: fault in the program, please report"
    else:
        differ = len(found.items)
        words = f"{differ} differ{'s' if differ == 1 else ''}" if differ else "nothing differs"
        words += f", {len(found.unrecorded)} not recorded then" if found.unrecorded else ""
    return Content(f"  {clean(target_offered(target), 200)}") + Content.styled(f"  {words}", MUTED), target


def row_lines(rows: Sequence[JobRow], width: int) -> list[Content]:
    """A line a job; what is cut is marked, and different names stay different."""
    room = max(4, (width - 14) // 3)
    names = [tuple(clean(cell) for cell in (row.machine or row.name, row.rider, row.venue)) for row in rows]
    shown = [kept_distinct(column, room - 1) for column in zip(*names, strict=True)]
    return [
        Content(f"  {row.date.isoformat()}  ")
        + Content("".join(set_cell_size(words[cell], room) for words, cell in zip(shown, cells, strict=True)))
        for row, cells in zip(rows, names, strict=True)
    ]


def wrapped_words(text: str, width: int, style: str) -> Content:
    """A sentence in as many lines as it takes."""
    return Content.styled("\n".join(textwrap.wrap(text, width) or [""]), style)
