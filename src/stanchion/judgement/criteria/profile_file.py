"""Reading a file of profiles: every key that cannot be used is reported in words, nothing is raised."""

from __future__ import annotations

from dataclasses import field
from typing import Any

from stanchion.base.errors import BadFile
from stanchion.base.record import record
from stanchion.base.text import clean
from stanchion.base.toml import read_tables

Range = dict[str, float]
"""The numbers of one row; as_share_of_travel stands as 1.0."""
EndRows = dict[str, Range]

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
    front: EndRows = field(default_factory=dict)
    rear: EndRows = field(default_factory=dict)


def read_profiles(text: bytes) -> tuple[dict[str, ProfileRows], list[str]]:
    """The rows of a file of profiles, and one line for each key that cannot be used."""
    try:
        tables = read_tables(text, "a file of profiles", LONGEST_FILE)
    except BadFile as error:
        return {}, [f"{error}; nothing of the file is used until this is put right"]
    reader = _Reader()
    rows = {name: found for name, table in tables.items() if (found := reader.profile(name, table))}
    if len(reader.problems) > MOST_PROBLEMS:
        more = len(reader.problems) - MOST_PROBLEMS
        return rows, [*reader.problems[:MOST_PROBLEMS], f"and {more} more"]
    return rows, reader.problems


class _Reader:
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
        rows: EndRows = {}
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
