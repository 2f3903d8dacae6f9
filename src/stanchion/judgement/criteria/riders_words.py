"""What answers a complaint of the rider: what to look at first, and what to change, in order.

The rows stand in data/riders_words.toml; a user's own stand beside them and come first. Of a user's file, every row
that cannot be used is reported in words with its line; nothing is raised.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field
from functools import cache
from typing import Any, Literal, get_args

from stanchion.base.bundled import shipped_data
from stanchion.base.errors import BadFile
from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.base.toml import normalised, read_tables
from stanchion.job.comments import lines_of
from stanchion.job.complaint import COMPLAINTS, PLACES, SAFETY, Complaint, What, Where
from stanchion.job.model import End, Path

ChangeKind = Literal[
    "front_compression_more",
    "front_compression_less",
    "front_fast_compression_more",
    "front_fast_compression_less",
    "front_rebound_more",
    "front_rebound_less",
    "front_preload_more",
    "front_preload_less",
    "front_spring_stiffer",
    "front_spring_softer",
    "front_air_gap_less",
    "front_air_gap_more",
    "front_lower",
    "front_higher",
    "rear_compression_more",
    "rear_compression_less",
    "rear_fast_compression_more",
    "rear_fast_compression_less",
    "rear_rebound_more",
    "rear_rebound_less",
    "rear_preload_more",
    "rear_preload_less",
    "rear_spring_stiffer",
    "rear_spring_softer",
    "rear_higher",
    "rear_lower",
]
"""What to change: which end, which adjuster or part, and which way. More damping is further in. Preload of an end that
is sprung by air is its pressure."""
ReadingKind = Literal[
    "front_sag",
    "rear_sag",
    "front_stiction",
    "rear_stiction",
    "front_travel",
    "rear_travel",
    "front_preload",
    "rear_preload",
    "front_legs",
    "rear_rebound",
    "tyres",
    "geometry",
    "torques",
]
"""What the job already has that is looked at first."""
HandKind = Literal[
    "head_bearings",
    "wheel_bearings",
    "swingarm_bearings",
    "linkage_bearings",
    "axle_and_clamps",
    "shock_bolts",
    "caliper_bolts",
    "brake_lever",
    "brake_fluid",
    "brake_pads",
    "brake_discs",
    "tyre_wear",
    "tyre_shape",
    "wheel_balance",
    "wheel_alignment",
    "fork_alignment",
    "fork_damping",
    "fork_leaks",
    "shock_damping",
    "shock_leaks",
    "bump_rubbers",
    "chain_slack",
    "steering_damper",
    "frame_and_stem",
    "bodywork",
]
"""What is looked at and felt on the machine first."""
Condition = Literal["front_near_full", "front_kept_back", "rear_near_full", "rear_kept_back"]
"""What the latest marker of an end has to say for a change to be made."""

CHANGE_KINDS: tuple[ChangeKind, ...] = get_args(ChangeKind)
_AMOUNTS = {"clicks": (1.0, 10.0), "turns": (0.25, 3.0), "mm": (0.5, 20.0), "bar": (0.05, 2.0), "steps": (1.0, 4.0)}
"""Every amount with its limits."""
LONGEST_FILE = 200_000
LONGEST_WHY = 160
MOST_PROBLEMS = 50
MOST_CHANGES = 12


@record(kw_only=True)
class ChangeRow:
    """One change that answers a complaint."""

    do: ChangeKind
    clicks: float = 0.0
    """Clicks of a damper at most."""
    turns: float = 0.25
    """The same of one that is counted in turns."""
    mm: float = 0.0
    """Preload, height or air gap at most [mm]."""
    bar: float = 0.1
    """Pressure at most, where the end is sprung by air [bar]."""
    steps: float = 0.0
    """Steps in which springs are sold."""
    when: tuple[Condition, ...] = ()
    """All of them have to hold."""
    why: str = ""
    """What it does, in a sentence."""
    too_far: What = "other"
    """The complaint that says it went too far."""
    too_far_where: Where = "anywhere"

    @property
    def end(self) -> End:
        """The end it is made at."""
        return "front" if self.do.startswith("front") else "rear"

    @property
    def opposite(self) -> Complaint:
        """The complaint that says it went too far."""
        return Complaint(where=self.too_far_where, what=self.too_far)


@record(kw_only=True)
class ComplaintRow:
    """What answers one complaint at some places of the track."""

    name: str
    what: What
    where: tuple[Where, ...]
    readings: tuple[ReadingKind, ...] = ()
    by_hand: tuple[HandKind, ...] = ()
    changes: tuple[ChangeRow, ...] = ()
    own: bool = False
    """Whether the user's file gives it."""


@record(kw_only=True)
class RidersWords:
    """All rows, and what was wrong in the user's file."""

    rows: tuple[ComplaintRow, ...]
    problems: tuple[str, ...] = field(default=())
    """One line for each row of the user's file that cannot be used, with its line in the file."""

    def row(self, complaint: Complaint) -> ComplaintRow | None:
        """The row that answers a complaint: at that place, else anywhere; None where there is none."""
        same = [row for row in self.rows if row.what == complaint.what]
        at_place = (row for row in same if complaint.where in row.where)
        anywhere = (row for row in same if "anywhere" in row.where)
        return next(at_place, None) or next(anywhere, None) or next(iter(same), None)

    @property
    def complaints(self) -> tuple[Complaint, ...]:
        """Every complaint that a row answers, in the order of the rows."""
        return tuple(dict.fromkeys(Complaint(where=where, what=row.what) for row in self.rows for where in row.where))


@cache
def shipped_riders_words() -> RidersWords:
    """The rows that came with the program."""
    rows, problems = read_riders_words(shipped_data("riders_words.toml"))
    if problems:
        raise AssertionError(f"the rider's words that came with the program: {problems}")
    return RidersWords(rows=tuple(rows.values()))


def load_riders_words(user_text: bytes | None = None) -> RidersWords:
    """The rows that came with the program and the user's own, which come first and take the place of those of the same
    name.

    Args:
        user_text: the user's riders_words.toml as it stands on disk; None where there is none.

    >>> load_riders_words().row(Complaint(where="exit", what="squats")).changes[0].do
    'rear_compression_more'
    """
    shipped = shipped_riders_words()
    if user_text is None:
        return shipped
    own, problems = read_riders_words(user_text, own=True)
    kept = tuple(row for row in shipped.rows if row.name not in own)
    return RidersWords(rows=(*own.values(), *kept), problems=tuple(problems))


def read_riders_words(text: bytes, *, own: bool = False) -> tuple[dict[str, ComplaintRow], list[str]]:
    """The rows of a file by their names, and one line for each that cannot be used."""
    try:
        tables = read_tables(text, "a file of the rider's words", LONGEST_FILE)
        lines = lines_of(normalised(text).decode("utf-8"))
    except (BadFile, ValueError) as error:
        return {}, [f"{error}; nothing of the file is used until this is put right"]
    reader = _RowReader(lines, own=own)
    rows = {name: row for name, table in tables.items() if (row := reader.row(name, table)) is not None}
    more = len(reader.problems) - MOST_PROBLEMS
    return rows, reader.problems[:MOST_PROBLEMS] + ([f"and {more} more"] if more > 0 else [])


class _RefusedRow(Exception):
    """A row that cannot be used, with its place in the file."""

    def __init__(self, path: Path, words: str) -> None:
        super().__init__(words)
        self.path, self.words = path, words


class _RowReader:
    """Reads row by row and gathers what is wrong."""

    def __init__(self, lines: Mapping[Path, int], *, own: bool) -> None:
        self.problems: list[str] = []
        self._lines, self._own = lines, own

    def row(self, name: str, table: Any) -> ComplaintRow | None:
        """A row; None where it cannot be used."""
        try:
            return self._row(name, table)
        except _RefusedRow as refused:
            path = refused.path
            while path and path not in self._lines:
                path = path[:-1]
            line = f"line {self._lines[path]}, " if path else ""
            self.problems.append(f"{line}{clean(name, 40)}: {clean(refused.words, 200)}; the row is not used")
            return None

    def _row(self, name: str, table: Any) -> ComplaintRow:
        at: Path = (name,)
        if not isinstance(table, dict):
            raise _RefusedRow(at, f"a table [{name}] is needed here")
        _only(at, table, ("what", "where", "readings", "by_hand", "changes", "source"))
        what: What = _word(at, table, "what", COMPLAINTS)
        changes = table.get("changes", [])
        if what in SAFETY and changes:
            raise _RefusedRow(
                (*at, "changes"), f"{what} is a matter of safety: it leads to an inspection, not a change"
            )
        if not isinstance(changes, list) or len(changes) > MOST_CHANGES:
            raise _RefusedRow((*at, "changes"), f"changes must be a list of at most {MOST_CHANGES}")
        where = _words(at, table, "where", PLACES)
        if not where:
            raise _RefusedRow(at, f"where must name at least one of {', '.join(PLACES)}")
        return ComplaintRow(
            name=name,
            what=what,
            where=where,
            readings=_words(at, table, "readings", get_args(ReadingKind)),
            by_hand=_words(at, table, "by_hand", get_args(HandKind)),
            changes=tuple(_change((*at, "changes", number), one) for number, one in enumerate(changes)),
            own=self._own,
        )


def _change(at: Path, table: Any) -> ChangeRow:
    if not isinstance(table, dict):
        raise _RefusedRow(at, "a change is a table in curly brackets")
    _only(at, table, ("do", *_AMOUNTS, "when", "why", "too_far", "too_far_where"))
    do: ChangeKind = _word(at, table, "do", CHANGE_KINDS)
    amounts = {name: _amount(at, name, table[name]) for name in _AMOUNTS if name in table}
    needed = _needed(do)
    if needed not in amounts:
        raise _RefusedRow(at, f"{do} needs {needed}, the most to change it by")
    why = table.get("why", "")
    if not isinstance(why, str) or not why.strip() or len(why) > LONGEST_WHY:
        raise _RefusedRow((*at, "why"), f"why must be text of at most {LONGEST_WHY} characters")
    return ChangeRow(
        do=do,
        **amounts,
        when=_words(at, table, "when", get_args(Condition)),
        why=clean(why.strip()),
        too_far=_word(at, table, "too_far", COMPLAINTS),
        too_far_where=_word(at, table, "too_far_where", PLACES),
    )


def _needed(do: ChangeKind) -> str:
    """The amount that a change cannot do without."""
    if "compression" in do or "rebound" in do:
        return "clicks"
    return "steps" if "spring" in do else "mm"


def _amount(at: Path, name: str, value: Any) -> float:
    low, high = _AMOUNTS[name]
    if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
        raise _RefusedRow((*at, name), f"{name} must be a number from {low:g} to {high:g}")
    return float(value)


def _only(at: Path, table: Mapping[str, Any], known: Iterable[str]) -> None:
    for key in table:
        if key not in known:
            raise _RefusedRow((*at, key), f"'{key}' is not known here; known are {', '.join(known)}")


def _word(at: Path, table: Mapping[str, Any], key: str, known: tuple[Any, ...]) -> Any:
    value = table.get(key)
    if value not in known:
        raise _RefusedRow((*at, key) if key in table else at, f"{key} must be one of {', '.join(known)}")
    return value


def _words(at: Path, table: Mapping[str, Any], key: str, known: tuple[Any, ...]) -> tuple[Any, ...]:
    value = table.get(key, [])
    if not isinstance(value, list) or any(one not in known for one in value):
        raise _RefusedRow((*at, key), f"{key} must be a list of words out of {', '.join(known)}")
    return tuple(dict.fromkeys(value))
