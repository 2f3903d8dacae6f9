"""Hypothesis strategies for jobs, made from the specs of the model: a new field is drawn without a change here."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from functools import cache, partial
from random import Random
from typing import Any

from hypothesis import strategies as st

from stanchion.base.errors import BadEdit
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job, Path, Setup
from stanchion.job.spec import Choice, Day, Flag, Many, Number, Part, Progressive, Rate, Rows, Spec, Text, specs_of

TEXTS = st.text(st.characters(codec="utf-8"), max_size=12)
"""Short texts of any characters that can be stored: brackets, quotes, escape characters, any script."""

PLACES: tuple[tuple[str, ...], ...] = (
    (),
    ("end",),
    ("front", "left", "spring"),
    ("front", "top_out"),
    ("job",),
    ("new_part",),
    ("rear",),
    ("sag", "rear", "rider"),
)
"""Tables in which keys may stand that this version does not know."""


def numbers_of(kind: type = Job, path: Path = ()) -> Iterator[tuple[Path, Number]]:
    """Every number of the model with its path; of a list or row the first item."""
    for name, spec in specs_of(kind).items():
        at = (*path, name)
        if isinstance(spec, Number):
            yield at, spec
        elif isinstance(spec, Many):
            yield (*at, 0), spec.item
        elif isinstance(spec, Part):
            if spec.type is not Setup:  # the parts of the job over again
                yield from numbers_of(spec.type, at)
        elif isinstance(spec, Rows):
            yield from numbers_of(spec.type, (*at, 0))


def numbers(spec: Number) -> st.SearchStrategy[float]:
    """Any float within the limits."""
    return st.floats(spec.low, spec.high, allow_nan=False)


def two_rates(spec: Number) -> st.SearchStrategy[Progressive]:
    """Any two rates of a progressive spring."""
    ends = st.tuples(numbers(spec), numbers(spec)).map(sorted).filter(lambda both: both[0] < both[1])
    return ends.map(lambda both: Progressive(*both))


def values(spec: Spec) -> st.SearchStrategy[Any]:
    """Anything the field may hold."""
    match spec:
        case Number():
            return st.none() | (numbers(spec) | two_rates(spec) if spec.two else numbers(spec))
        case Choice():
            return st.sampled_from(spec.options)
        case Text():
            return TEXTS
        case Flag():
            return st.booleans()
        case Day():
            return st.none() | st.dates() if spec.optional else st.dates()
        case Many():
            items = numbers(spec.item) | two_rates(spec.item) if spec.item.two else numbers(spec.item)
            return st.lists(items, max_size=spec.most).map(tuple)
        case Part():
            return (st.none() | parts(spec.type)) if spec.optional else parts(spec.type)
        case Rows():
            return st.lists(parts(spec.type), max_size=3).map(tuple)


@cache
def parts(kind: type) -> st.SearchStrategy[Any]:
    """A part of the model, from empty to nearly full."""
    shares = st.sampled_from((0.0, 0.1, 0.5, 0.9))
    return st.builds(partial(part_at_random, kind), st.integers(0, 2**64 - 1).map(Random), shares)


def part_at_random(kind: type, random: Random, share: float) -> Any:
    """A part with about that share of its fields filled.

    A job has some two thousand fields. Drawn one by one by Hypothesis they take longer than anything that is tested with
    them, so that it draws no more than the seed here.
    """
    specs = specs_of(kind).items()
    return kind(**{name: at_random(spec, random, share) for name, spec in specs if random.random() < share})


def at_random(spec: Spec, random: Random, share: float) -> Any:
    """Anything the field may hold."""
    match spec:
        case Number():
            return None if spec.optional and random.random() < 0.1 else rate_at_random(spec, random)
        case Choice():
            return random.choice(spec.options)
        case Text():
            return "".join(character_at_random(random) for _ in range(random.choice((0, 1, 2, 12))))
        case Flag():
            return random.random() < 0.5
        case Day():
            return dt.date.fromordinal(random.randint(1, dt.date.max.toordinal()))
        case Many():
            return tuple(rate_at_random(spec.item, random) for _ in range(random.randint(0, spec.most)))
        case Part():
            return None if spec.optional and random.random() < 0.3 else part_at_random(spec.type, random, share)
        case Rows():
            return tuple(part_at_random(spec.type, random, share) for _ in range(random.randint(0, 3)))


def rate_at_random(spec: Number, random: Random) -> Rate:
    """A number, or in a field that may hold two now and then both rates of a progressive spring."""
    start, end = number_at_random(spec, random), number_at_random(spec, random)
    return Progressive(start, end) if spec.two and start < end and random.random() < 0.5 else start


def number_at_random(spec: Number, random: Random) -> float:
    """A number within the limits: often one of them, as small as can be, or one that is easy to type."""
    if random.random() < 0.5:
        drawn = random.uniform(spec.low, spec.high)
    else:
        drawn = random.choice((spec.low, spec.high, 0.0, 5e-324, random.random(), float(random.randint(0, 20))))
    return min(max(drawn, spec.low), spec.high)


def character_at_random(random: Random) -> str:
    """Any character that can be stored; often one that means something to a terminal, a file or a page."""
    if random.random() < 0.5:
        return random.choice(" \t\n\r\0\x0c\x1b\x7f\x85\xa0\u200b\u202e\u2028\ufeff\"'`\\[]{}<>&;,=#%$@äß電\U0001f3cd")
    code = random.choice((random.randint(0, 0x7F), random.randint(0, 0xD7FF), random.randint(0xE000, 0x10FFFF)))
    return chr(code)


def foreign_values() -> st.SearchStrategy[Any]:
    """Any value of a TOML file that can be kept."""
    flat = (
        st.booleans()
        | st.integers(-(2**63), 2**63 - 1)
        | st.floats(allow_nan=False, allow_infinity=False)
        | TEXTS
        | st.dates()
        | st.datetimes(dt.datetime(1, 1, 1), dt.datetime(9999, 12, 31))
        | st.times()
    )
    return st.recursive(
        flat,
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXTS, inner, max_size=3),
        max_leaves=6,
    )


@cache
def changes() -> st.SearchStrategy[Edit]:
    """One field of a job changed to anything it may hold."""
    leaves = [st.builds(Edit, st.just(path), values(spec)) for path, spec in leaves_of(Part(Job), ())]
    return st.integers(0, len(leaves) - 1).flatmap(leaves.__getitem__)


@cache
def some_changes() -> st.SearchStrategy[list[Edit]]:
    """A few of them. Hypothesis looks through all of a strategy when it first draws from it."""
    return st.lists(changes(), max_size=6)


@cache
def unknown_keys() -> st.SearchStrategy[dict[Path, Any]]:
    """A few keys that this version does not know, with their values."""
    keys = st.tuples(st.sampled_from(PLACES), TEXTS.map("x_".__add__)).map(lambda drawn: (*drawn[0], drawn[1]))
    return st.dictionaries(keys, foreign_values(), max_size=4)


def leaves_of(spec: Spec, path: Path) -> Iterator[tuple[Path, Spec]]:
    """Every field that holds one value, with its path; of a list the first two items."""
    match spec:
        case Part():
            for name, inner in specs_of(spec.type).items():
                yield from leaves_of(inner, (*path, name))
        case Many():
            yield from (((*path, at), spec.item) for at in range(2))
        case Rows():
            yield from (leaf for at in range(2) for leaf in leaves_of(Part(spec.type), (*path, at)))
        case _:
            yield path, spec


@st.composite
def jobs(draw: st.DrawFn, foreign: bool = False) -> Job:
    """Any job: most of it by a seed, a few fields by Hypothesis, which tries corners and shrinks them.

    With foreign, also keys that this version does not know.
    """
    job: Job = draw(parts(Job))
    for change in draw(some_changes()):
        with suppress(BadEdit):  # no item stands before it in its list
            job = apply(job, change)
    if not foreign:
        return job
    unknown = draw(unknown_keys())
    if any(path[0] == "new_part" for path in unknown):  # a table of its own stands under its first key
        inner = {path[1]: unknown.pop(path) for path in list(unknown) if path[0] == "new_part"}
        unknown[("new_part",)] = inner
    return replace(job, unknown=tuple(sorted(unknown.items(), key=lambda entry: entry[0])))
