"""The lines of what to try after a complaint: a list of what to check and what to change, and each in full."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator, Sequence

from textual.content import Content

from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.job.model import Job
from stanchion.judgement.criteria.riders_words import HandKind
from stanchion.planning.complaint_readings import ReadingState
from stanchion.planning.what_helped import EarlierChange, Helped
from stanchion.planning.what_to_try import Suggestion, WhatToTry
from stanchion.ui.space import cut
from stanchion.units.known_units import Units
from stanchion.wording.finding_words import headline, sentence
from stanchion.wording.helped_sentences import earlier_words, helped_in_brief, helped_words
from stanchion.wording.try_sentences import (
    CHECKED,
    COMMON_PRACTICE,
    DEFERS,
    SPRINGS_SUIT,
    against_words,
    change_in_full,
    change_name,
    change_words,
    hand_words,
    hindrance_in_brief,
    hindrance_words,
    notes,
    nothing_words,
    opposite_in_brief,
    opposite_words,
    reading_words,
    suggestion_cautions,
    title_words,
    too_far_words,
    what_it_does,
    why_words,
    with_spring_words,
)

TryItem = ReadingState | HandKind | Suggestion | EarlierChange
"""What a line of the list stands for."""
HEAD, MUTED = "$primary bold", "$text-muted"
NAME = 23
"""Columns of the name of a reading."""

EARLIER_NOTE = "It is not among the changes suggested for this complaint; the machine may stand otherwise now."
LEAST_HOW = 30
"""Columns from which it is worth beginning how to look at something; it stands whole on the right."""


@record
class TryLine:
    """A line of the list; a heading stands for nothing."""

    words: Content
    item: TryItem | None = None


def head_lines(of: WhatToTry, run: int, job: Job, units: Units, width: int) -> list[Content]:
    """The complaints, and what is to be known before anything is changed."""
    lines = [Content.styled(cut(title_words(of, run), width), HEAD)]
    for note in notes(of, job, units):
        lines += [Content.styled(part, "$warn") for part in textwrap.wrap(clean(note, 300), max(20, width))]
    return lines


Known = Callable[[Suggestion], Helped]
"""What is known of a change from earlier runs of the machine."""


def try_list(
    of: WhatToTry,
    job: Job,
    units: Units,
    width: int,
    known: Known,
    *,
    earlier: Sequence[EarlierChange] = (),
    rows: int = 0,
) -> list[TryLine]:
    """What to check first, what to feel by hand, the changes in order, what else helped before, and those that cannot
    be made.

    Where the first change would stand below so many rows, the readings with nothing found share a line.
    """
    lines: list[TryLine] = []
    quiet = [one for one in of.readings if one.read and not one.findings]
    short = not of.inspection and 0 < rows < len(of.readings) + len(of.by_hand) + 4 and len(quiet) > 1
    shown = [one for one in of.readings if one not in quiet] if short else of.readings
    readings = [TryLine(_reading_line(one, width), one) for one in shown]
    if short:
        readings.append(TryLine(Content.styled(cut(f"{len(quiet)} other readings: {CHECKED}", width), MUTED)))
    check = _part("CHECK FIRST", readings)
    by_hand = _part("INSPECT" if of.inspection else "FEEL BY HAND", [*_hand_lines(of, width)])
    lines += [*by_hand, *check] if of.inspection else [*check, *by_hand]
    changes = [
        TryLine(_change_line(at, change_words(one, job, units), _beside(one, of, known), width), one)
        for at, one in enumerate(of.offered, 1)
    ]
    if not of.inspection and of.complaints:
        lines += _part("THEN CHANGE ONE", changes) or [TryLine(Content.styled(nothing_words(of), MUTED))]
    if not of.inspection:
        lines += _part("ALSO HELPED BEFORE", [TryLine(_earlier_line(one, units, width), one) for one in earlier])
    lines += _part("NOT NOW", [TryLine(_hindered_line(one, width), one) for one in of.not_offered])
    return lines


def _beside(one: Suggestion, of: WhatToTry, known: Known) -> str:
    """What stands beside a change in the list: that it is the opposite of another, else what is known of it."""
    return opposite_in_brief(one, of.offered) or helped_in_brief(known(one))


def _part(head: str, lines: list[TryLine]) -> list[TryLine]:
    return [TryLine(Content.styled(head, HEAD)), *lines] if lines else []


def _hand_lines(of: WhatToTry, width: int) -> Iterator[TryLine]:
    for kind in of.by_hand:
        short, how = hand_words(kind)
        room = width - NAME
        words = Content.styled(cut(how, room), MUTED) if room >= LEAST_HOW else Content("")
        yield TryLine(Content(f"{short:<{NAME}}") + words, kind)


def _reading_line(state: ReadingState, width: int) -> Content:
    name, says = reading_words(state)
    style = "$warn" if state.findings else MUTED
    return Content(f"{name:<{NAME}}") + Content.styled(cut(says, max(0, width - NAME)), style)


def _change_line(number: int, words: str, before: str, width: int) -> Content:
    """A change, and what is known of it where there is room."""
    line = Content.styled(f"{number} ", "bold") + Content(cut(words, max(0, width - 2)))
    fits = before and len(words) + len(before) + 4 <= width
    return line + Content.styled(f"  {before}", "$figure") if fits else line


def _earlier_line(one: EarlierChange, units: Units, width: int) -> Content:
    """What was done before, and how often it was better, which is never cut."""
    before = helped_in_brief(one.helped)
    words = cut(earlier_words(one, units), max(0, width - len(before) - 2))
    return Content(f"{words}  ") + Content.styled(before, "$figure")


def _hindered_line(one: Suggestion, width: int) -> Content:
    """A change that is not offered, with its reason, which is never cut."""
    why = "" if one.hindered is None else f": {hindrance_in_brief(one.hindered)}"
    return Content.styled(cut(change_name(one.row.do), max(0, width - len(why))) + why, MUTED)


def first_to_show(of: WhatToTry) -> TryItem | None:
    """What the bar begins at: the first change, else what the readings already say, else what to inspect."""
    found = () if of.inspection else tuple(state for state in of.readings if state.findings)
    items: Sequence[TryItem] = (*of.offered, *found, *of.by_hand, *of.readings, *of.not_offered)
    return next(iter(items), None)


def detail_lines(item: TryItem, of: WhatToTry, job: Job, units: Units, width: int, *, known: Known) -> list[Content]:
    """One line of the list in full."""
    if isinstance(item, ReadingState):
        return list(_of_reading(item, units, width))
    if isinstance(item, Suggestion):
        return list(_of_change(item, of, job, units, width, before=helped_words(known(item))))
    if isinstance(item, EarlierChange):
        return list(_of_earlier(item, units, width))
    short, how = hand_words(item)
    return [Content.styled(short, HEAD), *_wrapped(how, width)]


def _of_reading(state: ReadingState, units: Units, width: int) -> Iterator[Content]:
    name, says = reading_words(state)
    yield Content.styled(name, HEAD)
    if not state.findings:
        yield from _wrapped(f"{says[:1].upper()}{says[1:]}.", width)
    for finding in state.findings:
        yield from _wrapped(sentence(finding, units), width)
    yield from _wrapped("Enter goes to it.", width, MUTED)


def _of_change(one: Suggestion, of: WhatToTry, job: Job, units: Units, width: int, *, before: str) -> Iterator[Content]:
    yield from _wrapped(change_name(one.row.do), width, HEAD)
    if one.changes:
        yield from _wrapped(change_in_full(one.changes, job, units), width, "bold")
    if before:
        yield from _wrapped(before, width, "$figure bold")
    if one.opposite_of is not None:
        yield from _wrapped(opposite_words(one, of.offered), width, "$warn")
    if one.last:
        yield from _wrapped(SPRINGS_SUIT, width, "$warn")
    yield from _wrapped(why_words(one), width)
    if one.hindered is not None:
        yield from _wrapped(hindrance_words(one.hindered, job), width, "$warn")
        if one.hindered.needs is not None:
            yield from _wrapped("Enter goes to it.", width, MUTED)
        return
    for line in what_it_does(one, units):
        yield from _wrapped(line, width, "$figure" if one.effects else MUTED)
    if words := with_spring_words(one, units):
        yield from _wrapped(words, width)
    if one.against is not None:
        yield from _wrapped(against_words(one.against), width, "$warn")
    for finding in one.appeared:
        yield from _wrapped(f"It brings a warning: {headline(finding)}.", width, "$warn")
    yield from _wrapped(too_far_words(one), width)
    for words in suggestion_cautions(one):
        yield from _wrapped(words, width, MUTED)
    yield from _wrapped(f"{COMMON_PRACTICE} {DEFERS}", width, MUTED)


def _of_earlier(one: EarlierChange, units: Units, width: int) -> Iterator[Content]:
    yield Content.styled("Helped before", HEAD)
    yield from _wrapped(f"The last time: {earlier_words(one, units)}.", width, "bold")
    yield from _wrapped(helped_words(one.helped), width, "$figure bold")
    yield from _wrapped(EARLIER_NOTE, width)


def _wrapped(words: str, width: int, style: str = "") -> Iterator[Content]:
    for part in textwrap.wrap(clean(words, 600), max(12, width)):
        yield Content.styled(part, style) if style else Content(part)
