"""A job as the bytes of its file, and back.

The file is TOML: ``format = 1``, the table [job], the other parts in the order of the model, and at last the table
[end], whose last line ``complete = true`` shows that the file is whole. Empty fields are omitted. Keys that this
version does not know, and comments, are kept and written back where they were. All fields come from the model: this
module names none.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

from stanchion.base import toml
from stanchion.base.errors import BadEdit, BadFile, CutShort
from stanchion.base.record import record
from stanchion.base.toml import TomlTable, normalised
from stanchion.job import lineage
from stanchion.job.edit import dotted
from stanchion.job.guard import CUT_SHORT, END_TABLE, check_foreign
from stanchion.job.model import Comment, Job, Occasion, Path
from stanchion.job.spec import Choice, Day, Flag, Kind, Leaf, Many, Number, Part, Rows, Spec, Text, as_stored, specs_of

FORMAT = 2
"""The format this version writes. Since 2, the rate of a spring may be the two of a progressive one, and air may spring
a fork leg."""


def _as_they_are(tables: TomlTable) -> TomlTable:
    """Everything that format 1 can hold means the same in format 2."""
    return tables


MIGRATIONS: dict[int, Callable[[TomlTable], TomlTable]] = {1: _as_they_are}
"""By format number: a function that turns its tables into those of the next format."""

_ALWAYS = {("job", "machine"), ("job", "rider"), ("job", "venue"), ("job", "date"), ("job", "use")}
_NEXT_TABLE = b"\n["

_IN_THE_FILE = {
    Kind.LENGTH: "mm",
    Kind.RATE: "N/mm",
    Kind.MASS: "kg",
    Kind.FORCE: "N",
    Kind.PRESSURE: "bar",
    Kind.VOLUME: "ml",
    Kind.ANGLE: "degrees",
    Kind.TURNS: "turns",
    Kind.TIME: "seconds",
    Kind.TEMPERATURE: "°C",
    Kind.TORQUE: "N·m",
    Kind.ALTITUDE: "m",
    Kind.BAROMETER: "hPa",
}


@record
class Loaded:
    """A job as it was read."""

    job: Job
    """The job in the file."""
    format: int
    """The format number in the file."""
    read_only: bool
    """Whether a later version of the program wrote the file: it is read as far as known, and must not be written."""
    edited_by_hand: bool
    """Whether the file is not as the program wrote it: it was edited by hand, or damaged."""
    follows: lineage.Lineage = ()
    """Marks of the states that this one came from."""

    @property
    def upgraded(self) -> bool:
        """Whether the file has an earlier format, which saving would change to the present one."""
        return self.format < FORMAT


@record
class Header:
    """What a list of jobs shows of a file."""

    format: int
    job: Occasion


def dumps(job: Job, follows: lineage.Lineage = ()) -> bytes:
    """The bytes of a job's file: UTF-8, lines end with a newline.

    Args:
        job: the job.
        follows: marks of the states that it came from.

    Raises:
        TypeError, ValueError: an unknown key holds a value that TOML cannot hold.
    """
    foreign = _by_place(job)
    end_extra = foreign.pop(("end",), {})
    import tomli_w  # noqa: PLC0415 - not needed to start

    text = tomli_w.dumps({"format": FORMAT} | _table(job, (), foreign))
    body = _commented(text, comments_of(job)).encode()
    return body + _tail(body, end_extra, follows)


def comments_of(job: Job) -> tuple[Comment, ...]:
    """All comments of a job's file, with the paths that they have in it."""
    own = [(("runs", at, *one.path), one) for at, run in enumerate(job.runs) for one in run.comments]
    return (*job.comments, *(replace(one, path=path) for path, one in own))


def loads(data: bytes) -> Loaded:
    """The job in a file's bytes.

    Raises:
        BadFile: not a job, or a value that does not fit; the message names the line or the key and what to do.
        CutShort: the end of the file is missing.
    """
    data = normalised(data)
    if not data.strip():
        raise CutShort("the file is empty: it was cut short while being written or copied; take an earlier copy of it")
    tables = parse_job(data)
    number = _format_of(tables)
    end = tables.pop("end", None)
    if not isinstance(end, dict) or end.get("complete") is not True:
        raise CutShort(
            f"{CUT_SHORT}. If you wrote it by hand and it is whole, end it with the two lines '[end]' and "
            "'complete = true'"
        )
    follows = lineage.read(end.get(lineage.KEY))
    known = ("complete", "sha256", *([lineage.KEY] if follows is not None else []))
    end_extra = {key: value for key, value in end.items() if key not in known}
    newer = number > FORMAT
    reader = _TableReader(lenient=newer)
    reader.keep(("end",), end_extra)
    job = reader.job(_migrated(tables, number))
    if not newer and b"#" in data:
        job = _with_comments(job, data.decode())
    body = data[: data.rfind(b"\n" + END_TABLE) + 1]
    as_written = end.get("sha256") == _sha256(body) if newer else data == body + _tail(body, end_extra, follows or ())
    return Loaded(job, number, read_only=newer, edited_by_hand=not as_written, follows=follows or ())


def parse_job(data: bytes) -> TomlTable:
    """The tables of a job's file whose bytes are normalised.

    Raises:
        BadFile: too large, not UTF-8, not TOML, or nested beyond reason; the message names the line.
        CutShort: not TOML, and without an end table.
    """

    def refused(reason: str, text: str) -> BadFile:
        from stanchion.job.not_toml import refusal  # noqa: PLC0415 - few files need it

        return refusal(reason, text, data)

    return toml.parse(data, "a job", refused)


def header(data: bytes) -> Header:
    """The format and the [job] table of a file; its first 16 kB are enough. The rest is not read.

    Raises:
        BadFile: the [job] table cannot be read.
    """
    data = normalised(data)
    second = data.find(_NEXT_TABLE, data.find(_NEXT_TABLE) + 1)
    try:
        if second < 0:
            raise KeyError("job")
        tables = parse_job(data[: second + 1])
        number = _format_of(tables)
        occasion = _migrated({"job": tables["job"]}, number)["job"]
        return Header(number, _TableReader(lenient=number > FORMAT).job({"job": occasion}).job)
    except (BadFile, KeyError):  # the tables were moved about by hand, or the file is bad: the whole of it decides
        whole = loads(data)
        return Header(whole.format, whole.job.job)


def _sha256(body: bytes) -> str:
    return hashlib.sha256(body).hexdigest()


def _tail(body: bytes, extra: TomlTable, follows: lineage.Lineage) -> bytes:
    """The [end] table. Its mark is the last line, so that a file that is cut short always loses it."""
    import tomli_w  # noqa: PLC0415 - not needed to start

    marks = {lineage.KEY: lineage.written(follows)} if follows else {}
    lines = tomli_w.dumps({"end": {"sha256": _sha256(body)} | marks | extra | {"complete": True}})
    return lines.encode()


def _format_of(tables: TomlTable) -> int:
    number = tables.get("format")
    if isinstance(number, bool) or not isinstance(number, int) or number < 1:
        raise BadFile(f"this is not a job file: a job begins with the line 'format = {FORMAT}'")
    return number


def _migrated(tables: TomlTable, number: int) -> TomlTable:
    """The tables in the format of this version."""
    tables = {key: value for key, value in tables.items() if key != "format"}
    while number < FORMAT:
        tables = MIGRATIONS[number](tables)
        number += 1
    return tables


def _with_comments(job: Job, text: str) -> Job:
    """The job with the comments of its file, each run with its own."""
    from stanchion.job.comments import comments_in  # noqa: PLC0415 - few files have any

    found = comments_in(text)
    if not found:
        return job
    of_runs: dict[int, list[Comment]] = {}
    others: list[Comment] = []
    for one in found:
        at = one.path[1] if one.path[:1] == ("runs",) and len(one.path) > 1 else None
        if isinstance(at, int) and at < len(job.runs):
            of_runs.setdefault(at, []).append(replace(one, path=one.path[2:]))
        else:
            others.append(one)
    runs = tuple(replace(run, comments=tuple(of_runs.get(at, ()))) for at, run in enumerate(job.runs))
    return replace(job, runs=runs, comments=tuple(others))


# --- writing -----------------------------------------------------------------------------------------------------


def _commented(text: str, comments: tuple[Comment, ...]) -> str:
    """The text with the comments in it, up to the [end] table; comments of that table are put above it."""
    last = [one.text for one in comments if one.path[:1] == ("end",)]
    if len(last) < len(comments):
        from stanchion.job.comments import with_comments  # noqa: PLC0415 - few files have any

        text = with_comments(text, [one for one in comments if one.path[:1] != ("end",)])
    return text + "\n" + "".join(f"{one}\n" for one in last)


def _by_place(job: Job) -> dict[Path, TomlTable]:
    """The unknown keys by their table."""
    places: dict[Path, TomlTable] = {}
    for path, value in sorted(job.unknown, key=_place_order):
        places.setdefault(path[:-1], {})[str(path[-1])] = value
    return places


def _place_order(entry: tuple[Path, Any]) -> list[str]:
    return [f"{step:06d}" if isinstance(step, int) else step for step in entry[0]]


def _table(node: Any, path: Path, foreign: dict[Path, TomlTable]) -> TomlTable:
    """A part as a table: its recorded fields, then the unknown keys that were in it."""
    table: TomlTable = {}
    kind: type = type(node)
    defaults = {f.name: f.default for f in fields(node)}
    for name, spec in specs_of(kind).items():
        value = getattr(node, name)
        at = (*path, name)
        if isinstance(spec, Part):
            inner = None if value is None else _table(value, at, foreign)
            if inner or (spec.optional and inner is not None):
                table[name] = inner
        elif isinstance(spec, Rows):
            if value:
                table[name] = [_table(row, (*at, number), foreign) for number, row in enumerate(value)]
        elif isinstance(spec, Many):
            if value:
                table[name] = [as_stored(item) for item in value]
        elif at in _ALWAYS or value != defaults[name]:
            table[name] = as_stored(value) if isinstance(spec, Number) else value
    for name, value in foreign.get(path, {}).items():
        table.setdefault(name, value)
    return table


# --- reading -----------------------------------------------------------------------------------------------------


class _TableReader:
    """Fills the model from tables and collects keys that it does not know."""

    def __init__(self, *, lenient: bool) -> None:
        self._lenient = lenient
        self._unknown: list[tuple[Path, Any]] = []

    def job(self, tables: TomlTable) -> Job:
        """The job, with the unknown keys in it."""
        known: Job = self._part(Job, tables, ())
        unknown = tuple(sorted(self._unknown, key=_place_order))
        return replace(known, unknown=unknown)

    def keep(self, path: Path, extra: TomlTable) -> None:
        """Keep the unknown keys of a table."""
        for name, value in extra.items():
            at = (*path, name)
            try:
                check_foreign(value, name, dotted(at), len(path))
            except BadFile:
                if not self._lenient:
                    raise
                continue  # it could not be written back, but a newer file is not written at all
            self._unknown.append((at, value))

    def _part(self, kind: type, table: TomlTable, path: Path) -> Any:
        specs = specs_of(kind)
        values: TomlTable = {}
        for name, spec in specs.items():
            if name not in table:
                continue
            try:
                values[name] = self._value(spec, table[name], (*path, name))
            except BadFile:
                if not self._lenient:
                    raise
                self.keep(path, {name: table[name]})
        self.keep(path, {name: value for name, value in table.items() if name not in specs})
        return kind(**values)

    def _value(self, spec: Spec, value: Any, path: Path) -> Any:
        if isinstance(spec, Part):
            if not isinstance(value, dict):
                raise _misfit(path, f"a table is needed; write it as [{dotted(path)}]")
            return self._part(spec.type, value, path)
        if isinstance(spec, Leaf):
            return _checked(spec, value, path)
        if not isinstance(value, list):
            raise _misfit(path, "a list is needed; write it in square brackets")
        if len(value) > spec.most:
            raise _misfit(path, f"{len(value)} entries are too many; leave at most {spec.most}")
        if isinstance(spec, Many):
            return tuple(_checked(spec.item, item, (*path, at)) for at, item in enumerate(value))
        for at, row in enumerate(value):
            if not isinstance(row, dict):
                raise _misfit((*path, at), "a table is needed; write the row in curly brackets, as { ... = 1.0 }")
        return tuple(self._part(spec.type, row, (*path, at)) for at, row in enumerate(value))


def _checked(spec: Leaf, value: Any, path: Path) -> Any:
    try:
        return spec.check(value)
    except BadEdit as refused:
        raise _misfit(path, f"{refused}; {_remedy(spec, value)}") from None


def _misfit(path: Path, what: str) -> BadFile:
    return BadFile(f"{dotted(path)}: {what}")


def _remedy(spec: Leaf, value: Any) -> str:
    """Advice for a value that a field refuses."""
    if isinstance(spec, Number):
        unit = _IN_THE_FILE.get(spec.kind)
        if isinstance(value, str):
            return "write it without quotes" + (f" and without a unit (the file holds {unit})" if unit else "")
        return f"correct it (the file holds {unit})" if unit else "correct it, or take the line out"
    if isinstance(spec, Text):
        return "shorten it" if isinstance(value, str) else "put it between double quotes"
    if isinstance(spec, Day):
        return "write year-month-day without quotes and without a time"
    if isinstance(spec, Flag):
        return "write true or false, without quotes"
    assert isinstance(spec, Choice)  # noqa: S101 - the last sort of leaf there is
    return "correct the word, or take the line out"
