"""Hypothesis strategies for jobs, made from the specs of the model: a new field is drawn without a change here."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from stanchion.job.model import Job, Path, Setup
from stanchion.job.spec import Choice, Day, Flag, Many, Number, Part, Rows, Spec, Text, specs_of

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


def values(spec: Spec) -> st.SearchStrategy[Any]:
    """Anything the field may hold."""
    match spec:
        case Number():
            return st.none() | numbers(spec)
        case Choice():
            return st.sampled_from(spec.options)
        case Text():
            return TEXTS
        case Flag():
            return st.booleans()
        case Day():
            return st.none() | st.dates() if spec.optional else st.dates()
        case Many():
            return st.lists(numbers(spec.item), max_size=spec.most).map(tuple)
        case Part():
            return (st.none() | parts(spec.type)) if spec.optional else parts(spec.type)
        case Rows():
            return st.lists(parts(spec.type), max_size=3).map(tuple)


def parts(kind: type) -> st.SearchStrategy[Any]:
    """A part of the model; about half of its fields are left empty, as on a bench."""
    fields = {name: values(spec) for name, spec in specs_of(kind).items()}
    return st.fixed_dictionaries({}, optional=fields).map(lambda drawn: kind(**drawn))


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


@st.composite
def jobs(draw: st.DrawFn, foreign: bool = False) -> Job:
    """Any job; with foreign, also keys that this version does not know."""
    job: Job = draw(parts(Job))
    if not foreign:
        return job
    keys = st.tuples(st.sampled_from(PLACES), TEXTS.map("x_".__add__)).map(lambda drawn: (*drawn[0], drawn[1]))
    unknown = draw(st.dictionaries(keys, foreign_values(), max_size=4))
    if any(path[0] == "new_part" for path in unknown):  # a table of its own stands under its first key
        inner = {path[1]: unknown.pop(path) for path in list(unknown) if path[0] == "new_part"}
        unknown[("new_part",)] = inner
    return replace(job, unknown=tuple(sorted(unknown.items(), key=lambda entry: entry[0])))
