"""Templates for sentences: how numbers, units and names are filled in.

    {name:kind}   a value of the finding, shown as its kind
    {a-b:kind}    how far two values lie apart, as both are shown: length, rate, force, mass or pressure
    {a~b:kind}    from one value to another, as units/spans shows both: a kind of those, "mixed", or "band", a length,
                  or "numbers", the same without its unit
    [ ... ]       left out where a value inside is not known
    {where}       the part of the job the finding speaks of

Kinds: length, rate, force, mass, pressure, temperature, angle, turns, count, share, text, label, labels, names,
chain_and_tyres, sag_changes. Also:

- words: the program's own, whole; text may come from a file, and is cut;
- settable: a length that follows from where an adjuster stands, to a quarter of a turn;
- short: a length without trailing zeros;
- counted: a number with what it counts, from the value "NAME_unit" or else "unit";
- mixed: as the kind that the value "kind" names.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from typing import Any

from stanchion.base.text import clean
from stanchion.job.spec import Kind
from stanchion.units.known_units import Units
from stanchion.units.quantity import MINUS, show, show_difference, show_settable
from stanchion.units.spans import show_span
from stanchion.wording.advice_values import SAG_CHANGES
from stanchion.wording.american import worded
from stanchion.wording.labels import field_label, label, uncapitalised
from stanchion.wording.positions import counted
from stanchion.wording.upkeep_sentences import chain_and_tyres

LONGEST_TEXT = 40
LONGEST_NAMES = 100
MOST_LABELS = 4

_FIELD = re.compile(r"\{(\w+)(?:[-~](\w+))?(?::(\w+))?\}")
_OPTIONAL = re.compile(r"\[([^\[\]]*)\]")

Piece = tuple[str, bool]


@cache
def _pieces(template: str) -> tuple[Piece, ...]:
    """The template cut at its optional parts: (text, optional)."""
    cut = _OPTIONAL.split(template)
    return tuple((text, position % 2 == 1) for position, text in enumerate(cut) if text)


def fill(template: str, values: Mapping[str, object], units: Units, where: str = "") -> str:
    """The sentence a template gives with these values.

    >>> fill("{where}: {change:length} more[, {turns:turns}].", {"change": 3.0, "turns": None}, Units(), "Fork")
    'Fork: 3.0 mm more.'
    """
    known = {**values, "where": where}
    done = []
    for text, optional in _pieces(worded(template)):
        fields = _FIELD.findall(text)
        if optional and any(known.get(name) is None for *names, _ in fields for name in names if name):
            continue
        done.append(_FIELD.sub(lambda match: _replaced(match, known, units), text))
    return "".join(done)


def _replaced(match: re.Match[str], values: Mapping[str, object], units: Units) -> str:
    name, other, kind = match.groups()
    if not other:
        return _shown(name, kind or "text", values, units)
    one, two = values.get(name), values.get(other)
    if one is None or two is None:
        return "?"
    if "~" in match[0]:
        return _span(_number(one), _number(two), str(values["kind"]) if kind == "mixed" else kind, kind, units)
    return show_difference(_number(one), _number(two), Kind(kind), units).removeprefix(MINUS)


def _span(low: float, high: float, shown_as: str, kind: str, units: Units) -> str:
    """From one to another; a band, and the usual range of a field, in short."""
    if kind in ("band", "numbers", "mixed"):
        of = Kind(shown_as) if kind == "mixed" else Kind.LENGTH
        shown = show_span(low, high, of, units, between="–", short=True)
        return shown.partition(" ")[0] if kind == "numbers" else shown
    return show_span(low, high, Kind(kind), units)


def _shown(name: str, kind: str, values: Mapping[str, object], units: Units) -> str:
    value: Any = values.get(name)
    if value is None:
        return "?"
    if kind == "label":
        return label(value, both_legs=values.get("both_legs") is True)
    if kind == "counted":
        return counted(_rounded(value), str(values.get(f"{name}_unit", values.get("unit", ""))))
    if kind == "mixed":
        return show(_number(value), Kind(str(values["kind"])), units)
    if kind == "turns" and values.get("turned_in") == "clicks":
        return counted(round(_number(value), 1), "clicks")
    return _SHOWN[kind](value, units)


def _number(value: object) -> float:
    if isinstance(value, int | float):
        return float(value)
    raise TypeError(f"a number is needed in this place of the sentence, not {value!r}")


def _trimmed(shown: str) -> str:
    """A number without trailing zeros: "15 mm" for "15.0 mm"."""
    number, gap, name = shown.partition(" ")
    if "." in number:
        number = number.rstrip("0").rstrip(".")
    return f"{number}{gap}{name}"


def _rounded(value: object) -> float:
    return round(_number(value), 2)


def turns_shown(turns: float) -> float:
    """Turns to a tenth, or a quarter of a turn as it is.

    >>> turns_shown(3.25), turns_shown(3.2607), turns_shown(4.75), turns_shown(0.999)
    (3.25, 3.3, 4.75, 1.0)
    """
    quarters = round(4.0 * turns) / 4.0
    return quarters if abs(turns - quarters) < 0.001 else round(turns, 1)


def _turns(value: object, units: Units) -> str:
    turns = turns_shown(_number(value))
    return counted(turns, "turns") if turns == 1 else show(turns, Kind.TURNS, units)


def _labels(value: Any, _units: Units) -> str:
    """Missing fields by name; beyond a few only their number."""
    names = list(dict.fromkeys(uncapitalised(field_label(path)) for path in value))
    if len(names) <= MOST_LABELS:
        return "; ".join(names)
    return "; ".join(names[: MOST_LABELS - 1]) + f"; and {len(names) - MOST_LABELS + 1} more"


def _names(names: Sequence[str]) -> str:
    """Names that a person typed, as many as there is room for, each cut by itself; then how many more there are."""
    cleaned = [clean(name or "unnamed", LONGEST_TEXT) for name in names]
    most = next((n for n in range(len(cleaned), 1, -1) if len(", ".join(cleaned[:n])) <= LONGEST_NAMES), 1)
    more = len(cleaned) - most
    return ", ".join(cleaned[:most]) + (f" and {more} more" if more > 0 else "")


def listed(names: Sequence[str]) -> str:
    """Names as a sentence lists them.

    >>> listed(["rake"]), listed(["rake", "offset", "wheelbase"])
    ('rake', 'rake, offset and wheelbase')
    """
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else "".join(names)


def _of(kind: Kind) -> Callable[[object, Units], str]:
    return lambda value, units: show(_number(value), kind, units)


_SHOWN: dict[str, Callable[[Any, Units], str]] = {
    "length": _of(Kind.LENGTH),
    "rate": _of(Kind.RATE),
    "force": _of(Kind.FORCE),
    "mass": _of(Kind.MASS),
    "pressure": _of(Kind.PRESSURE),
    "altitude": _of(Kind.ALTITUDE),
    "barometer": _of(Kind.BAROMETER),
    "angle": _of(Kind.ANGLE),
    "temperature": _of(Kind.TEMPERATURE),
    "turns": _turns,
    "count": lambda value, units: f"{_number(value):.2f}".rstrip("0").rstrip(".").replace("-", MINUS),
    "settable": lambda value, units: show_settable(_number(value), Kind.LENGTH, units),
    "short": lambda value, units: _trimmed(show(_number(value), Kind.LENGTH, units)),
    "share": lambda value, units: f"{_number(value) * 100:.0f} %",
    "text": lambda value, units: clean(str(value), LONGEST_TEXT),
    "words": lambda value, units: str(value),
    "field": lambda value, units: uncapitalised(field_label(value)),
    "labels": _labels,
    "chain_and_tyres": lambda value, units: chain_and_tyres(value),
    "sag_changes": lambda value, units: worded(listed([SAG_CHANGES[code] for code in value])),
    "names": lambda value, units: _names(value),
}
