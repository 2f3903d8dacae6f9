"""Notes on venues as a file: venues.toml in the config folder, readable and editable by hand.

    format = 1

    [[venue]]
    name = "Gravel Loop"
    surface = "loose over hard, grip at the edges"
    bumps = "braking into 3, crest after 7"
    altitude_m = 320.0
    conditions = "dusty from noon on"
    more = ""

Every key but the name may be left out. Comments, and keys that this version does not know, stay. Saving reads the file
again and changes only what was changed here, so that two programs may write notes at a time.
"""

from __future__ import annotations

from dataclasses import fields, replace
from pathlib import Path
from typing import Any

from stanchion.base.errors import BadEdit, BadFile, ChangedOnDisk, NotSaved
from stanchion.base.record import record
from stanchion.base.toml import TomlTable, normalised, read_tables
from stanchion.job.comments import comments_in, with_comments
from stanchion.job.guard import check_foreign
from stanchion.job.name_match import match_key
from stanchion.job.spec import Leaf, specs_of
from stanchion.job.venue import VenueNotes
from stanchion.store.atomic import fingerprint, make_folder, read, write
from stanchion.store.disk import DISK, Disk, advice, cause
from stanchion.store.paths import Places

NAME = "venues.toml"
FORMAT = 1
MOST_VENUES = 500
TRIES = 5
"""How often saving begins anew because another program has just written the file."""
_SPECS = {name: spec for name, spec in specs_of(VenueNotes).items() if isinstance(spec, Leaf)}
_DEFAULTS = {one.name: one.default for one in fields(VenueNotes)}


@record
class FoundVenues:
    """The notes as they were read."""

    venues: tuple[VenueNotes, ...] = ()
    problem: str = ""
    """Why the file cannot be used; it is then left as it is."""
    seen: str | None = None
    """Fingerprint of the file; None: there is none."""
    text: str = ""
    """The file itself, for its comments."""
    unknown: tuple[tuple[str, Any], ...] = ()
    """Keys beside the venues that this version does not know."""

    def of(self, venue: str) -> VenueNotes:
        """The notes on a venue, however it is spelt; empty ones under this name where there are none."""
        key = match_key(venue)
        found = (one for one in self.venues if key and match_key(one.name) == key)
        return next(found, VenueNotes(name=venue))


def venues_file(places: Places) -> Path:
    """The file that holds the notes."""
    return places.config / NAME


def load_venues(places: Places, disk: Disk = DISK) -> FoundVenues:
    """Read the notes. Waits for the disk; nothing is raised."""
    path = venues_file(places)
    try:
        data = read(path, disk)
    except FileNotFoundError:
        return FoundVenues()
    except OSError as error:
        return FoundVenues(problem=f"{path} cannot be read: {cause(error)}. {advice(error)}")
    except BadFile as error:
        return FoundVenues(problem=f"{path}: {error}")
    try:
        tables = read_tables(data, "a list of venues")
        number = tables.pop("format", FORMAT)
        if number != FORMAT:
            raise BadFile("a later version of the program wrote it")
        venues = tuple(_venue(row, at) for at, row in enumerate(_rows(tables.pop("venue", []))))
        for key, value in tables.items():
            check_foreign(value, key, key, 1)
        text = normalised(data).decode()
        comments_in(text)
    except BadFile as error:
        return FoundVenues(problem=f"{path}: {error}. Correct it or delete it.", seen=fingerprint(data))
    return FoundVenues(venues, "", fingerprint(data), text, tuple(tables.items()))


def save_notes(before: VenueNotes, after: VenueNotes, places: Places, disk: Disk = DISK) -> None:
    """Write what was changed of the notes on one venue. Waits for the disk.

    Args:
        before: the notes as they were read.
        after: the notes as they are to be; what is as before stays as the file has it by now.
        places: the folders.
        disk: the system calls.

    Raises:
        NotSaved: why they could not be written.
    """
    for _ in range(TRIES):
        found = load_venues(places, disk)
        if found.problem:
            raise NotSaved(f"The notes on the venue are not saved. {found.problem}")
        data = _encoded(found, _with_changed(found, before, after))
        try:
            make_folder(places.config, disk)
        except OSError as error:
            raise NotSaved(f"The notes on the venue are not saved: {cause(error)}. {advice(error)}") from error
        try:
            write(venues_file(places), data, found.seen, disk)
        except ChangedOnDisk:
            continue
        return
    raise NotSaved("The notes on the venue are not saved: other programs are writing the file. Leave the field again.")


def _with_changed(found: FoundVenues, before: VenueNotes, after: VenueNotes) -> tuple[VenueNotes, ...]:
    there = found.of(after.name)
    changed = {name: getattr(after, name) for name in _SPECS if getattr(after, name) != getattr(before, name)}
    joined = replace(there, **changed)
    if there in found.venues:
        return tuple(joined if one is there else one for one in found.venues)
    if len(found.venues) >= MOST_VENUES:
        raise NotSaved(f"The notes on the venue are not saved: {NAME} holds {MOST_VENUES} venues, take some out.")
    return (*found.venues, joined)


def _rows(rows: Any) -> list[Any]:
    if not isinstance(rows, list) or len(rows) > MOST_VENUES:
        raise BadFile(f"[[venue]] must be a list of at most {MOST_VENUES} tables")
    return rows


def _venue(row: Any, at: int) -> VenueNotes:
    if not isinstance(row, dict) or not isinstance(row.get("name"), str):
        raise BadFile(f"venue {at + 1}: it needs a name")
    values: dict[str, Any] = {}
    unknown: list[tuple[str, Any]] = []
    for key, value in row.items():
        if key in _SPECS:
            try:
                values[key] = _SPECS[key].check(value)
            except BadEdit as refused:
                raise BadFile(f"venue {at + 1}: {key}: {refused}") from None
        else:
            check_foreign(value, key, key, 1)
            unknown.append((key, value))
    return VenueNotes(**values, unknown=tuple(unknown))


def _encoded(found: FoundVenues, venues: tuple[VenueNotes, ...]) -> bytes:
    import tomli_w  # noqa: PLC0415 - not needed to start

    rows: list[TomlTable] = []
    for one in venues:
        values = {name: getattr(one, name) for name in _SPECS}
        known = {name: value for name, value in values.items() if name == "name" or value != _DEFAULTS[name]}
        rows.append({**known, **dict(one.unknown)})
    text = tomli_w.dumps({"format": FORMAT, **dict(found.unknown), "venue": rows})
    return with_comments(text, comments_in(found.text)).encode()
