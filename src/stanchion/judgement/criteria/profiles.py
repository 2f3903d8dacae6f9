"""Bands and targets by what a machine is set up for: what came with the program, and the user's own beside them.

The rows stand in data/profiles.toml with their units, scopes and sources. Of a file of profiles, every key that cannot
be used is reported in words; nothing is raised.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field, replace
from functools import cache
from typing import Any

from stanchion.base.bundled import shipped_data
from stanchion.base.errors import BadFile
from stanchion.base.record import EMPTY, record
from stanchion.base.text import clean
from stanchion.base.toml import read_tables
from stanchion.job.model import End, State

FALLBACK = "track"
"""The profile used where a job names one that does not exist."""


@record(kw_only=True)
class Target:
    """A target for sag, in mm or as percent of the travel."""

    low: float
    high: float
    as_share_of_travel: bool = False
    source: str | None = None
    """Where a target of the job's own is from; None: it is the profile's."""

    def in_mm(self, travel_mm: float | None) -> tuple[float, float] | None:
        """The target in mm; None where it is a share of a travel that is not known.

        >>> Target(low=25, high=30, as_share_of_travel=True).in_mm(120)
        (30.0, 36.0)
        """
        if not self.as_share_of_travel:
            return (self.low, self.high)
        if travel_mm is None:
            return None
        return (self.low * travel_mm / 100, self.high * travel_mm / 100)


@record(kw_only=True)
class PreloadBand:
    """The band for installed preload [mm]."""

    low: float
    high: float
    limit: float | None = None
    """Above it the spring must change; None: the profile has no such limit."""
    loose_below: float | None = None
    """Below it the spring can come loose at full extension; None: not judged."""
    source: str | None = None
    """Where a band of the job's own is from; None: it is the profile's."""


@record(kw_only=True)
class StictionLimits:
    """Spread of the two readings of one state [mm]."""

    note: float
    fault: float
    travel_mm: float | None = None
    """The travel they are meant for; of a longer one they are in proportion. None: they hold for any."""

    def at(self, travel_mm: float | None) -> StictionLimits:
        """The limits for a travel.

        >>> round(StictionLimits(note=3, fault=6, travel_mm=125).at(300).note, 9)
        7.2
        """
        if self.travel_mm is None or travel_mm is None or travel_mm <= self.travel_mm:
            return self
        share = travel_mm / self.travel_mm
        return StictionLimits(note=self.note * share, fault=self.fault * share)


@record(kw_only=True)
class EndProfile:
    """Bands and targets of one end; None: the profile does not judge it."""

    installed_preload: PreloadBand | None = None
    static_sag: Target | None = None
    rider_sag: Target | None = None
    travel: tuple[float, float] | None = None
    """The travel the targets are meant for [mm]."""
    stiction: StictionLimits | None = None

    def target(self, state: State) -> Target | None:
        """The target of one state."""
        return self.static_sag if state == "static" else self.rider_sag


@record(kw_only=True)
class Profile:
    """What a machine set up for one use is judged by."""

    name: str
    """As job.use names it."""
    label: str
    front: EndProfile = EndProfile()
    rear: EndProfile = EndProfile()
    own: bool = False
    """Whether the user's file gives it, or part of it."""

    def end(self, end: End) -> EndProfile:
        """Bands and targets of one end."""
        return self.front if end == "front" else self.rear


@record(kw_only=True)
class Profiles:
    """All profiles to hand, and what was wrong in the user's file."""

    by_name: Mapping[str, Profile]
    problems: tuple[str, ...] = field(default=())
    """One line a key of the user's file that could not be used."""

    def get(self, name: str) -> Profile | None:
        """The profile of that name, or None."""
        return self.by_name.get(name)

    @property
    def names(self) -> tuple[str, ...]:
        """The names, those that came with the program first."""
        return tuple(self.by_name)


def load_profiles(user_text: bytes | None = None) -> Profiles:
    """The profiles that came with the program and the user's own beside them.

    Args:
        user_text: the user's profiles.toml as it stands on disk; None where there is none.

    Returns:
        Profiles. Nothing in the user's text raises: each key that cannot be used is left out and has a line in
        `problems`.

    >>> load_profiles().names
    ('road', 'track', 'off-road', 'soft-road')
    """
    shipped = _shipped()
    if user_text is None:
        return Profiles(by_name=shipped)
    rows, problems = read_profiles(user_text)
    merged = dict(shipped)
    waiting = dict(rows)
    while waiting:  # a profile waits until the one it is based on has been built
        ready = [name for name in waiting if _base_of(name, waiting[name], shipped) not in waiting.keys() - {name}]
        if not ready:
            problems += [f"{name}.based_on: these profiles are based on each other" for name in waiting]
            ready = list(waiting)
        for name in ready:
            own = waiting.pop(name)
            base_name = _base_of(name, own, shipped)
            base = merged.get(base_name) if base_name else None
            if base_name and base is None:
                problems.append(f"{name}.based_on: there is no profile '{base_name}'; give one of {', '.join(merged)}")
            merged[name] = _profile(name, own, base, own_rows=True)
    return Profiles(by_name=merged, problems=tuple(problems))


def _base_of(name: str, rows: ProfileRows, shipped: Mapping[str, Profile]) -> str | None:
    """What a profile takes its other rows from; the user's version of a shipped one builds on that."""
    if rows.based_on and rows.based_on != name:
        return rows.based_on
    return name if name in shipped else None


@cache
def _shipped() -> dict[str, Profile]:
    rows, problems = read_profiles(shipped_data("profiles.toml"))
    if problems:
        raise AssertionError(f"the profiles that came with the program: {problems}")
    return {name: _profile(name, own, None, own_rows=False) for name, own in rows.items()}


def _profile(name: str, rows: ProfileRows, base: Profile | None, *, own_rows: bool) -> Profile:
    start = base or Profile(name=name, label=name)
    label = rows.label or (base.label if base and base.name == name else name)
    return Profile(
        name=name,
        label=label,
        front=_end(rows.front, start.front),
        rear=_end(rows.rear, start.rear),
        own=own_rows,
    )


def _end(rows: EndRows, base: EndProfile) -> EndProfile:
    end = base
    if band := rows.get("installed_preload"):
        end = replace(
            end,
            installed_preload=PreloadBand(
                low=band["low"], high=band["high"], limit=band.get("limit"), loose_below=band.get("loose_below")
            ),
        )
    if static := rows.get("static_sag"):
        end = replace(end, static_sag=_target(static))
    if rider := rows.get("rider_sag"):
        end = replace(end, rider_sag=_target(rider))
    if travel := rows.get("travel"):
        end = replace(end, travel=(travel["low"], travel["high"]))
    if stiction := rows.get("stiction"):
        limits = StictionLimits(note=stiction["note"], fault=stiction["fault"], travel_mm=stiction.get("travel"))
        end = replace(end, stiction=limits)
    return end


def _target(row: Range) -> Target:
    return Target(low=row["low"], high=row["high"], as_share_of_travel=bool(row.get("as_share_of_travel", 0.0)))


Range = dict[str, float]
"""The numbers of one row; as_share_of_travel stands as 1.0."""
EndRows = Mapping[str, Range]

LONGEST_FILE = 200_000
LONGEST_NAME = 30  # as job.use allows
LONGEST_LABEL = 40
MOST_PROBLEMS = 50

_WORDS = {"unit", "scope", "source"}
_NEEDED: dict[str, tuple[str, ...]] = {
    "installed_preload": ("low", "high"),
    "static_sag": ("low", "high"),
    "rider_sag": ("low", "high"),
    "travel": ("low", "high"),
    "stiction": ("note", "fault"),
}
_ALLOWED: dict[str, set[str]] = {
    "installed_preload": {"low", "high", "limit", "loose_below"},
    "static_sag": {"low", "high", "as_share_of_travel"},
    "rider_sag": {"low", "high", "as_share_of_travel"},
    "travel": {"low", "high"},
    "stiction": {"note", "fault", "travel"},
}


@record
class ProfileRows:
    """What a file says of one profile."""

    label: str = ""
    based_on: str = ""
    front: EndRows = EMPTY
    rear: EndRows = EMPTY


def read_profiles(text: bytes) -> tuple[dict[str, ProfileRows], list[str]]:
    """The rows of a file of profiles, and one line for each key that cannot be used."""
    try:
        tables = read_tables(text, "a file of profiles", LONGEST_FILE)
    except BadFile as error:
        return {}, [f"{error}; nothing of the file is used until this is put right"]
    reader = _ProfileReader()
    rows = {name: found for name, table in tables.items() if (found := reader.profile(name, table))}
    if len(reader.problems) > MOST_PROBLEMS:
        more = len(reader.problems) - MOST_PROBLEMS
        return rows, [*reader.problems[:MOST_PROBLEMS], f"and {more} more"]
    return rows, reader.problems


class _ProfileReader:
    """Reads table by table and gathers what is wrong."""

    def __init__(self) -> None:
        self.problems: list[str] = []

    def problem(self, key: str, text: str) -> None:
        self.problems.append(f"{clean(key, 120)}: {clean(text, 200)}")

    def profile(self, name: str, table: Any) -> ProfileRows | None:
        if not isinstance(table, dict):
            self.problem(name, f"a table [{name}] is needed here")
            return None
        if not name or len(name) > LONGEST_NAME or clean(name) != name:
            self.problem(name, f"the name of a profile must be 1 to {LONGEST_NAME} ordinary characters")
            return None
        found: dict[str, Any] = {}
        for key, value in table.items():
            here = f"{name}.{key}"
            if key in ("label", "based_on"):
                if isinstance(value, str) and len(value) <= LONGEST_LABEL:
                    found[key] = clean(value)
                else:
                    self.problem(here, f"text of at most {LONGEST_LABEL} characters is needed")
            elif key in ("front", "rear"):
                found[key] = self.end(here, value)
            else:
                self.problem(here, "not known; a profile has label, based_on, front and rear")
        return ProfileRows(**found)

    def end(self, here: str, table: Any) -> EndRows:
        if not isinstance(table, dict):
            self.problem(here, "a table is needed")
            return {}
        rows: dict[str, Range] = {}
        for key, value in table.items():
            if key not in _NEEDED:
                self.problem(f"{here}.{key}", f"not known; known are {', '.join(_NEEDED)}")
            elif not isinstance(value, dict):
                self.problem(f"{here}.{key}", "a table is needed")
            elif (row := self.row(f"{here}.{key}", key, value)) is not None:
                rows[key] = row
        return rows

    def row(self, here: str, kind: str, table: dict[str, Any]) -> Range | None:
        """One row, or None where it cannot be used."""
        row: Range = {}
        before = len(self.problems)
        share = self.share(here, kind, table)
        for key, value in table.items():
            if key in _WORDS or key == "as_share_of_travel":
                if key in _WORDS and not isinstance(value, str):
                    self.problem(f"{here}.{key}", "text in quotes is needed")
            elif key not in _ALLOWED[kind]:
                self.problems.append(f"{clean(f'{here}.{key}', 120)}: not known, and not used")
                before += 1
            elif isinstance(value, bool) or not isinstance(value, int | float):
                self.problem(f"{here}.{key}", "a number is needed")
            elif not 0 <= value <= (100 if share else 500):  # nor nan; a whole number may be too large for a float
                self.problem(f"{here}.{key}", f"it must lie between 0 and {100 if share else 500}")
            else:
                row[key] = float(value)
        for key in _NEEDED[kind]:
            if key not in table:
                self.problem(f"{here}.{key}", "missing; the row is not used without it")
        if len(self.problems) > before or not self.in_order(here, kind, row):
            return None
        if share:
            row["as_share_of_travel"] = 1.0
        return row

    def share(self, here: str, kind: str, table: dict[str, Any]) -> bool:
        share = table.get("as_share_of_travel", False)
        if not isinstance(share, bool):
            self.problem(f"{here}.as_share_of_travel", "true or false is needed")
            share = False
        share = share and "as_share_of_travel" in _ALLOWED[kind]
        unit = "%" if share else "mm"
        if isinstance(table.get("unit", unit), str) and table.get("unit", unit) != unit:
            self.problem(f"{here}.unit", f'it must be "{unit}" here')
        return share

    def in_order(self, here: str, kind: str, row: Range) -> bool:
        first, second = _NEEDED[kind]
        if row[first] > row[second]:
            self.problem(here, f"{first} must not be above {second}")
            return False
        if row.get("limit", row[second]) < row[second]:
            self.problem(here, "limit must not be below high")
            return False
        return True
