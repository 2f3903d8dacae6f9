"""Edits drawn at random for any field of a job, and jobs made by them: the same for the same seed."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Any

from stanchion.base.bundled import bundled_files
from stanchion.base.errors import BadEdit
from stanchion.job.codec import loads
from stanchion.job.edit import Edit, apply, value_at
from stanchion.job.model import Job, Path
from stanchion.job.spec import Choice, Flag, Leaf, Many, Number, Part, Progressive, Rows, Spec, specs_of

SAMPLES = {name.removesuffix(".toml"): loads(data).job for name, data in bundled_files("sample_jobs")}


def fields_of(job: Job) -> Iterator[tuple[Path, Leaf]]:
    """Every number, choice and yes-or-no of a job; of a list those it has and one more."""
    yield from _fields(Part(Job), (), job)


def _fields(spec: Spec, path: Path, value: Any) -> Iterator[tuple[Path, Leaf]]:
    if isinstance(spec, Number | Choice | Flag):
        yield path, spec
    elif isinstance(spec, Many):
        yield from (((*path, at), spec.item) for at in range(min(len(value or ()) + 1, spec.most)))
    elif isinstance(spec, Rows):
        rows = value or ()
        for at in range(min(len(rows) + 1, spec.most)):
            yield from _fields(Part(spec.type), (*path, at), rows[at] if at < len(rows) else None)
    elif isinstance(spec, Part) and (value is not None or not spec.optional or path == ("front", "right")):
        for name, inner in specs_of(spec.type).items():
            yield from _fields(inner, (*path, name), getattr(value, name, None))


def numbers_in(job: Job) -> list[tuple[Path, Number]]:
    """Every number that is recorded in a job."""
    return [
        (path, spec) for path, spec in fields_of(job) if isinstance(spec, Number) and value_at(job, path) is not None
    ]


def value(random: Random, spec: Leaf, old: Any) -> Any:
    """A value a field may hold: often a limit, nothing, the old one times a power of ten, or a beginning of its text."""
    if isinstance(spec, Choice):
        return random.choice(spec.options)
    if not isinstance(spec, Number):
        return random.random() < 0.5
    kind = random.random()
    if kind < 0.1 and spec.optional:
        return None
    if isinstance(old, Progressive) or (spec.two and random.random() < 0.2):
        start = spec.low + random.random() * random.choice((1.0, 10.0, 100.0))
        return Progressive(start, start * random.choice((1.0001, 1.2, 8.0)))
    if kind < 0.3:
        return random.choice((spec.low, spec.high, spec.low + 1e-9, max(spec.low, 5e-324)))
    if kind < 0.45 and old:
        drawn = old * random.choice((0.1, 0.5, 1.01, 2.0, 10.0))
    elif kind < 0.65 and old and old > 0.0:
        drawn = float(f"{old:f}"[: random.randint(1, 3)])
    elif kind < 0.85:
        drawn = float(random.randint(0, 20))
    else:
        drawn = random.uniform(spec.low, spec.high)
    return min(max(drawn, spec.low), spec.high)


def edited(random: Random, job: Job, count: int) -> tuple[Job, list[Edit]]:
    """A job after so many random edits at once, and the edits; a few may be refused."""
    made = []
    fields = list(fields_of(job))
    for path, spec in random.sample(fields, count):
        drawn = value(random, spec, value_at(job, path))
        beside = [value_at(job, other) for other, of in fields if other[:-1] == path[:-1] and isinstance(of, Number)]
        if isinstance(spec, Number) and random.random() < 0.15:  # as another number of the same part, to the last digit
            drawn = next((one for one in beside if isinstance(one, float) and spec.low <= one <= spec.high), drawn)
        edit = Edit(path, drawn)
        try:
            job = apply(job, edit)
        except BadEdit:
            continue  # the item of a list before it went
        made.append(edit)
    return job, made


def random_job(random: Random) -> Job:
    """A sample with a few or very many of its fields drawn anew."""
    job = random.choice(list(SAMPLES.values()))
    return edited(random, job, random.choice((2, 5, 10, 25, 60)))[0]
