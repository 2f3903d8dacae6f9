"""Which job files of a folder are copies of one job: left by a sync tool, a version-control system or a file manager.

A job made by this version carries an id that every copy has too, whatever its name. Files without one are taken for
copies only where who, what, when and where from are the same and one name is the other with something added, as such
tools do. What cannot be read is recognised by its name alone, and by those additions only that no person would type.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from stanchion.base.record import record
from stanchion.store.names import SUFFIX

_MADE_BY_A_TOOL = re.compile(
    r"(?P<of>.+?)("
    r"\.sync-conflict-[0-9]{6,8}-[0-9]{4,6}(-[0-9A-Za-z]+)?"  # <name>.sync-conflict-20260531-101500-ABCDEFG
    r"| ?\([^()]*conflict[^()]*\)"  # <name> (A. Venn's conflicted copy 2026-05-31)
    r"| \([0-9]{1,3}\)"  # <name> (1)
    r"| [0-9]{1,3}"  # <name> 2
    r"| - copy( \([0-9]{1,3}\))?| copy( [0-9]{1,3})?"  # <name> - Copy (2)
    r")",
    re.IGNORECASE | re.DOTALL,
)
_NUMBERED_BY_US = re.compile(r"-[0-9]+")
"""What the program itself appends to a name that is taken: such a file is another job, not a copy."""
_ADDED = (" ", "-", ".", "_", "~", "(")


@record
class CopyCandidate:
    """What is known of one file."""

    name: str
    id: str
    """The job's id; empty: none."""
    who: tuple[object, ...] | None
    """Machine, rider, date and where it was carried from; None: it cannot be read."""


def copies(files: Iterable[CopyCandidate]) -> dict[str, str]:
    """By the name of each copy, the name of the file it is a copy of.

    Of files with one id, the original is the one to whose name no tool has added; otherwise the one with the shortest
    name.

    >>> names = (("a (1).toml", "x1"), ("a.toml", "x1"), ("b.toml", "x2"))
    >>> files = [CopyCandidate(name, identity, ()) for name, identity in names]
    >>> copies(files)
    {'a (1).toml': 'a.toml'}
    """
    files = list(files)
    if _all_differ(files):
        return {}
    found = sorted(files, key=_plainest_first)
    of: dict[str, str] = {}
    first_by_id: dict[str, str] = {}
    by_stem = {_stem(one.name).casefold(): one for one in found}
    by_who: dict[tuple[object, ...], dict[str, list[CopyCandidate]]] = {}
    for one in found:
        origin = first_by_id.setdefault(one.id, one.name) if one.id else one.name
        if origin == one.name:
            origin = _by_name(one, by_stem, by_who.get(one.who, {}) if one.who is not None else {})
        if one.who is not None:
            by_who.setdefault(one.who, {}).setdefault(_stem(one.name).casefold(), []).append(one)
        if origin != one.name:
            of[one.name] = of.get(origin, origin)
    return of


def _all_differ(files: list[CopyCandidate]) -> bool:
    """Whether no two files have anything in common, as in most folders; fast for very many."""
    ids = [one.id for one in files if one.id]
    whos = [one.who for one in files if one.who is not None]
    return len(whos) == len(files) == len(set(whos)) and len(ids) == len(set(ids))


def made_by_a_tool(name: str) -> bool:
    """Whether the name of a file has an addition that tools make and no person types.

    >>> made_by_a_tool("a (1).toml"), made_by_a_tool("a.toml")
    (True, False)
    """
    return _MADE_BY_A_TOOL.fullmatch(_stem(name)) is not None


def _by_name(one: CopyCandidate, by_stem: dict[str, CopyCandidate], alike: dict[str, list[CopyCandidate]]) -> str:
    """The file it was copied from by its name; its own name if there is none.

    Args:
        one: the file.
        by_stem: every file by its name.
        alike: those of the same who, what and when that were looked at before, by name: thousands may be.
    """
    stem = _stem(one.name)
    if one.who is None:
        made = _MADE_BY_A_TOOL.fullmatch(stem)
        origin = by_stem.get(made["of"].casefold()) if made else None
        return origin.name if origin is not None else one.name
    origins = [
        other
        for at, letter in enumerate(stem)
        if letter in _ADDED and not _NUMBERED_BY_US.fullmatch(stem[at:])
        for other in alike.get(stem[:at].casefold(), ())
        if not (one.id and other.id)
    ]
    return min(origins, key=_plainest_first).name if origins else one.name


def _plainest_first(one: CopyCandidate) -> tuple[bool, int, str]:
    return made_by_a_tool(one.name), len(one.name), one.name


def _stem(name: str) -> str:
    return name[: -len(SUFFIX)]
