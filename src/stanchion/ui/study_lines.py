"""A study as lines of text: what is asked, the order of the turns, what came of it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from textual.content import Content

from stanchion.base.text import clean
from stanchion.bench.study_round import StudyRound, Turn
from stanchion.judgement.sag.own_reading import study_result
from stanchion.ui.big_digits import ascii_digits, big_digits
from stanchion.wording import study_sentences as words
from stanchion.wording.american import worded

EMPTY = "---"
LOW_DIGITS = 3
TURN_COLUMNS = 24


def title_of(going: StudyRound) -> str:
    """What is asked now, and how far the study has come."""
    one = going.one
    if one is None:
        return f"{words.STUDY_OF[going.of].capitalize()}: what the study gives"
    head = f"{going.at + 1} of {len(going.asked)} · "
    turn = going.turn
    if turn is not None:
        return head + f"{clean(going.person(turn[1].person), 30).upper()} READS · {words.PLACE[str(one.key[1])]}"
    return head + (words.ORDER_TITLE if one.spec is None else words.ASKED[str(one.key[0])][0])


def study_lines(going: StudyRound, width: int, height: int, *, plain: bool) -> list[Content]:
    """What to do, and what is typed, in as large digits as there is room for; at the end the result."""
    one = going.one
    if one is None:
        return [Content(line) for line in _wrapped(_result(going), width)]
    if one.spec is None:
        return [*(Content(line) for line in _wrapped([words.ORDER_DO, ""], width)), *_order(going, width)]
    reading = one.key[0] == "reading"
    do = words.reading_words(going.of, str(one.key[1])) if reading else words.ASKED[str(one.key[0])][1]
    lines = [Content(line) for line in _wrapped([worded(do)], width)]
    left = height - len(lines) - 3
    if reading:
        drawn = big_digits(going.typed or EMPTY, width, left if going.typed else min(left, 5), plain=plain)
        if not drawn and left >= LOW_DIGITS:
            drawn = [line[:width] for line in ascii_digits(going.typed)]
        lines += [Content.styled(line, "$figure" if going.typed else "$text-muted") for line in drawn]
    lines.append(Content.styled(f"{clean(going.typed)}▏", "$figure bold"))
    if going.refused:
        lines += [Content.styled(line, "$fault bold") for line in _wrapped([f"Not read: {going.refused}"], width)]
    elif going.doubt:
        lines += [Content.styled(line, "$warn bold") for line in _wrapped([f"? {words.DOUBTS[going.doubt]}"], width)]
    return lines


def _order(going: StudyRound, width: int) -> Iterator[Content]:
    """Every turn in the order it comes, in as many columns as there is room for."""
    columns = max(1, width // TURN_COLUMNS)
    rows = -(-len(going.turns) // columns)
    named = [f"{at + 1:>2} {_turn_words(going, turn)}" for at, turn in enumerate(going.turns)]
    for row in range(rows):
        yield Content("".join(f"{one[: TURN_COLUMNS - 1]:<{TURN_COLUMNS}}" for one in named[row::rows]).rstrip())


def _turn_words(going: StudyRound, turn: Turn) -> str:
    return f"{clean(going.person(turn.person), 10)}, {words.SHORT.get(turn.spot, turn.spot)}"


def _result(going: StudyRound) -> Iterator[str]:
    yield from words.result_lines(study_result(going.study()), going.person(0), going.person(1), going.units)
    yield ""
    yield "Enter keeps it: this job and every new one have it from now on. / goes back."


def _wrapped(paragraphs: Iterator[str] | list[str], width: int) -> Iterator[str]:
    for one in paragraphs:
        yield from textwrap.wrap(one, max(20, width)) or [""]
