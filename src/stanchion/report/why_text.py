"""A figure explained, as text and as plain data."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from string import ascii_lowercase
from typing import Any

from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.base.traced import Traced
from stanchion.job.edit import dotted
from stanchion.job.model import Job, Path
from stanchion.job.spec import Kind
from stanchion.planning.tracing import Named, ReadNumber, fixed_name
from stanchion.report.why import Why, of_readings
from stanchion.report.why_expression import IN_WORDS, PLAIN, PRINTED
from stanchion.units.known_units import Units
from stanchion.units.quantity import MINUS, show
from stanchion.wording import why_words

_BY_ITS_READING = {"statistics.mean": "of", "gas.circle_area": "by"}
"""Formulas whose result is called by the reading in it, with the word between."""
_OF_LEGS = ("fork.force_and_rate", "force_parts.fork_parts")
"""Formulas that add what both legs give."""
_KINDS = {
    "mm": Kind.LENGTH,
    "N/mm": Kind.RATE,
    "N": Kind.FORCE,
    "kg": Kind.MASS,
    "bar": Kind.PRESSURE,
    "ml": Kind.VOLUME,
    "°": Kind.ANGLE,
    "%": Kind.SHARE,
    "°C": Kind.TEMPERATURE,
    "hPa": Kind.BAROMETER,
    "mm/s": Kind.SPEED,
    "turns": Kind.TURNS,
}
"""What a unit measures, for those in which a person can choose to read."""


@record
class Explained:
    """One number with its formula in words, in figures, and as a program reads it."""

    title: str
    value: float
    unit: str
    directions: tuple[str, str] | None
    """What it is above 0 and below 0, where its sign is a direction."""
    why: Why
    words: tuple[str, ...]
    """The formula in words; the lines after the first give its parts."""
    figures: tuple[str, ...]
    """The same lines with this job's numbers, in the units of the file."""
    plain: tuple[tuple[str, str, str], ...]
    """The same lines for a program: what each gives (empty: the number itself), the formula, and what that equals."""
    terms: tuple[ExplainedTerm, ...]
    source: str


@record
class ExplainedTerm:
    """One number in a formula."""

    symbol: str
    """Its name in the formula as a program reads it."""
    words: str
    value: float
    unit: str
    came_from: str
    """"reading", "profile", "step", "fixed" or "itself"."""
    place: str
    """Where a reading stands, and of which day; empty for a step."""
    path: str
    """The path of a reading in the job."""
    number: Any


def explained(
    why: Why, job: Job, title: str = "", unit: str = "", directions: tuple[str, str] | None = None
) -> Explained:
    """A number in words.

    Args:
        why: how it was worked out.
        job: the job.
        title: what it is called; empty: as its formula calls it.
        unit: its unit; empty: the one that its formula gives.
        directions: what it is above 0 and below 0, where its sign is a direction.
    """
    if why.named is not None:
        own, own_unit = _words_of(why.named, why.number)
        title, unit = title or own[:1].upper() + own[1:], unit or own_unit
    elif why.reading is not None:
        own, _ = why_words.reading_words(why.reading.path, by_profile=why.reading.by_profile)
        title = title or own[:1].upper() + own[1:]
    terms = tuple(_terms(why, job, title, unit))
    by_number = {id(term.number): term for term in terms}
    letters = {id(part): _letter(at) for at, part in enumerate(reversed(why.written.parts if why.written else ()))}
    spoken = letters | _legs(why, letters)
    words, figures, plain = [], [], []
    if why.written is not None:
        parts = why.written
        for part, text, right in parts.lines(lambda one: spoken.get(id(one)) or by_number[id(one)].words, IN_WORDS):
            words.append(_line(spoken.get(id(part), ""), text, right))
        for part, text, right in parts.lines(lambda one: PRINTED.fixed(float(one)), PRINTED):
            figures.append(_line(spoken.get(id(part), ""), text, right))
        for part, text, right in parts.lines(lambda one: letters.get(id(one)) or by_number[id(one)].symbol, PLAIN):
            plain.append((letters.get(id(part), ""), text, right))
    named = why.named
    return Explained(
        title=title,
        value=float(why.number),
        unit=unit,
        directions=directions,
        why=why,
        words=tuple(words),
        figures=tuple(figures),
        plain=tuple(plain),
        terms=terms,
        source=why_words.source_words(named.contract) if named is not None and not named.argument else "",
    )


def _terms(why: Why, job: Job, title: str, unit: str) -> Iterator[ExplainedTerm]:
    """The numbers of a formula, no two of which have the same name."""
    used: dict[str, int] = {}
    for at, term in enumerate(why.terms, start=1):
        place = path = ""
        if term.came_from == "itself":
            words, of = why_words.in_a_formula(title), unit
        elif term.reading is not None:
            words, place = why_words.reading_words(term.reading.path, by_profile=term.reading.by_profile)
            of, path = why_words.figure_unit(str(_last_name(term.reading))), dotted(term.reading.path)
            place = place if term.reading.by_profile else _dated(place, term.reading, job)
        elif term.named is not None:
            words, of = _words_of(term.named, term.number)
        else:
            words, of = why_words.fixed_words(fixed_name(term.number))
        used[words] = used.get(words, 0) + 1
        if used[words] > 1:
            of_legs = used[words] == 2 and why.named is not None and why.named.formula in _OF_LEGS
            words = f"{words} ({why_words.OTHER_LEG if of_legs else used[words]})"
        yield ExplainedTerm(f"t{at}", words, float(term.number), of, term.came_from, place, path, term.number)


def _words_of(named: Named, number: Any) -> tuple[str, str]:
    """What a formula calls a number, and its unit; a mean is called by its readings."""
    words, unit = why_words.term_words(named.formula, named.contract, named.name, argument=named.argument)
    if named.formula in _BY_ITS_READING:
        first = next(of_readings(number), None)
        if first is not None:
            name = _last_name(first)
            return why_words.of_reading_words(
                _without_place(first.path), f"{words} {_BY_ITS_READING[named.formula]}"
            ), unit or why_words.figure_unit(name)
    return words, unit


def _without_place(path: Path) -> Path:
    """The path of a field, without the place of a reading among its repeats."""
    return path[:-1] if isinstance(path[-1], int) else path


def _last_name(reading: ReadNumber) -> str:
    return next(step for step in reversed(reading.path) if isinstance(step, str))


def _dated(place: str, reading: ReadNumber, job: Job) -> str:
    """Where a reading stands, with its day: that of its run or of the round as found, otherwise of the job."""
    day = job.job.date
    if reading.path[0] == "found" and job.found is not None:
        day = job.found.on or day
    elif reading.path[0] == "runs":
        day = job.runs[int(reading.path[1])].date or day
    return f"{place}, {day.isoformat()}"


def _line(letter: str, text: str, right: str) -> str:
    left = f"{letter} = {text}" if letter else text
    return f"{left} = {right}" if right else left


def _legs(why: Why, letters: Mapping[int, str]) -> dict[int, str]:
    """What is said of the parts of a formula that are a leg each, in place of their letters."""
    if why.named is None or why.named.argument or why.named.formula != "fork.force_and_rate":
        return {}
    added = [id(one) for one in _added(why.number, letters)]
    if not added or any(one not in letters for one in added):
        return {}
    if len(set(added)) == 1:
        return {added[0]: why_words.ONE_LEG}
    return dict(zip(added, why_words.LEGS, strict=False)) if len(added) == len(why_words.LEGS) else {}


def _added(number: Any, letters: Mapping[int, str]) -> Iterator[Any]:
    """The numbers that a sum adds, those of a sum within it too; a plain zero adds nothing."""
    for one in number.of if number.operation in ("+", "sum") else ():
        within = type(one) is Traced and one.operation in ("+", "sum") and id(one) not in letters
        if within:
            yield from _added(one, letters)
        elif type(one) is Traced or one != 0.0:
            yield one


def _letter(at: int) -> str:
    """A letter for a part of a formula; after z come a1, b1 and so on."""
    turn, place = divmod(at, len(ascii_lowercase))
    return ascii_lowercase[place] + (str(turn) if turn else "")


def value_text(value: float, unit: str, units: Units) -> str:
    """A number with its unit, in the units a person has chosen.

    >>> from stanchion.units.known_units import METRIC
    >>> value_text(12.04, "mm", METRIC), value_text(0.4127, "", METRIC), value_text(-1452.2, "mm²", METRIC)
    ('12.0 mm', '0.4127', '−1452.2 mm²')
    """
    if unit in _KINDS:
        return show(value, _KINDS[unit], units)
    return f"{value:.5g} {unit}".rstrip().replace("-", MINUS)


def directed_text(value: float, unit: str, directions: tuple[str, str] | None, units: Units) -> str:
    """The same, with a word in place of the sign where that is a direction.

    >>> from stanchion.units.known_units import METRIC
    >>> directed_text(-0.5, "mm", ("more", "less"), METRIC), directed_text(-0.01, "mm", ("more", "less"), METRIC)
    ('0.5 mm less', '0.0 mm')
    """
    if directions is None:
        return value_text(value, unit, units)
    text = value_text(abs(value), unit, units)
    return f"{text} {directions[value < 0.0]}" if any(digit in "123456789" for digit in text) else text


def explained_lines(
    of: Explained, units: Units, width: int, steps: Mapping[int, str]
) -> Iterator[tuple[str, ExplainedTerm | None]]:
    """A number explained, as lines of text, each with the number in its formula that it shows; None: it shows none.

    Args:
        of: the number in words.
        units: display units.
        width: columns there are.
        steps: what leads to each step, by the id of its number.
    """
    yield from ((line, None) for line in _formula_lines(of, units, width))
    named = [(term, value_text(term.value, term.unit, units)) for term in of.terms if term.came_from != "itself"]
    room = max((len(value) for _, value in named), default=0)
    for term, value in named:
        where = steps.get(id(term.number), "") or clean(term.place, 200)
        line = f"{value:<{room}}  {term.words}{f' ({where})' if where else ''}"
        yield from ((part, term) for part in _wrapped(line, width, "    ", " " * (room + 6)))
    if of.source:
        yield from ((part, None) for part in _wrapped(f"{why_words.SOURCE}: {of.source}", width, "  ", "    "))


def _formula_lines(of: Explained, units: Units, width: int) -> Iterator[str]:
    yield from _wrapped(f"{of.title}: {directed_text(of.value, of.unit, of.directions, units)}", width, "")
    if of.why.reading is not None:
        yield from _wrapped(why_words.RECORDED, width, "  ")
    elif of.why.operations == 0 and not of.why.terms:
        yield from _wrapped(why_words.FIXED, width, "  ")
    elif of.why.written is None:
        yield from _wrapped(why_words.too_long(of.why.operations), width, "  ")
    elif of.why.solved:
        yield from _wrapped(why_words.SOLVED, width, "  ")
    for at, (words, figures) in enumerate(zip(of.words, of.figures, strict=True)):
        sign = "" if of.why.solved and at == 0 else "= " if at == 0 else "where "
        yield from _wrapped(f"{sign}{words}", width, "  ", "      ")
        if figures != words:
            yield from _wrapped(f"{sign}{figures}", width, "  ", "      ")


def _wrapped(text: str, width: int, indent: str, further: str | None = None) -> list[str]:
    return textwrap.wrap(
        text,
        max(width, 20),
        initial_indent=indent,
        subsequent_indent=indent if further is None else further,
        break_on_hyphens=False,
    )


def explained_json(of: Explained, steps: Mapping[int, int]) -> dict[str, Any]:
    """A number explained, as plain data.

    Args:
        of: the number in words.
        steps: the place of each step among all, by the id of its number.
    """
    lines = [
        {"gives": gives, "formula": text, **({"equals": right} if right else {})} for gives, text, right in of.plain
    ]
    terms = [
        {
            "symbol": term.symbol,
            "name": term.words,
            "value": term.value,
            "unit": term.unit,
            "from": term.came_from,
            **({"path": term.path, "place": term.place} if term.path else {}),
            **({"step": steps[id(term.number)]} if id(term.number) in steps and term.came_from == "step" else {}),
        }
        for term in of.terms
    ]
    return {
        "name": of.title,
        "value": of.value,
        "unit": of.unit,
        "words": list(of.words),
        "figures": list(of.figures),
        "lines": lines,
        "solved": of.why.solved,
        "operations": of.why.operations,
        "terms": terms,
        "source": of.source,
        **({"path": dotted(of.why.reading.path)} if of.why.reading is not None else {}),
    }
