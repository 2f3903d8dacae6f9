"""A calibration of a scale as lines of text: what is asked, and what came of it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from textual.content import Content

from stanchion.base.text import clean
from stanchion.bench.calibration_round import CalibrationRound
from stanchion.judgement.ends.calibrated import calibration_result
from stanchion.ui.big_digits import big_digits
from stanchion.wording import calibration_sentences as words

EMPTY = "---"


def title_of(going: CalibrationRound) -> str:
    """What is asked now."""
    one, scale = going.one, words.SCALE_NAMES[going.scale]
    if one is None:
        return f"{scale}: what the calibration gives"
    number = "" if one.key[0] == "called" else f" {int(one.key[1]) + 1}"
    return f"{scale} · {words.ASKED[str(one.key[0])][0]}{number}"


def calibration_lines(going: CalibrationRound, width: int, height: int, *, plain: bool) -> list[Content]:
    """What to do, and what is typed, in as large digits as there is room for; at the end the result."""
    one = going.one
    if one is None:
        result = calibration_result(going.calibration())
        return [Content(line) for line in _wrapped([*words.result_lines(result, going.units)], width)]
    further = [words.FURTHER] if one.optional else []
    lines = [Content(line) for line in _wrapped([words.ASKED[str(one.key[0])][1], *further], width)]
    if one.key[0] != "called":
        drawn = big_digits(going.typed or EMPTY, width, max(0, min(7, height - len(lines) - 3)), plain=plain)
        lines += [Content.styled(line, "$figure" if going.typed else "$text-muted") for line in drawn]
    lines.append(Content.styled(f"{clean(going.typed)}▏", "$figure bold"))
    if going.refused:
        lines += [Content.styled(line, "$fault bold") for line in _wrapped([f"Not read: {going.refused}"], width)]
    elif going.doubt:
        lines += [Content.styled(line, "$warn bold") for line in _wrapped([f"? {words.FAR_OFF}"], width)]
    return lines


def _wrapped(paragraphs: list[str], width: int) -> Iterator[str]:
    for one in paragraphs:
        yield from textwrap.wrap(one, max(20, width)) or [""]
