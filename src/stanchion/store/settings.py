"""The user's settings, and the job and screen to start with. Neither keeps the program from starting."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from stanchion.base.errors import BadFile, NotSaved
from stanchion.base.record import EMPTY, record
from stanchion.base.text import clean
from stanchion.base.toml import TomlTable, normalised, read_tables
from stanchion.job.places import Comment
from stanchion.job.places import Path as Place
from stanchion.store.atomic import fingerprint, make_folder, put, read, write
from stanchion.store.disk import DISK, Disk, advice, cause
from stanchion.store.names import is_plain
from stanchion.store.paths import Places
from stanchion.store.typed_names import nearest_words
from stanchion.units.known_units import DISPLAY_UNITS, METRIC, UNIT_SETTINGS, Units
from stanchion.wording.american import WORDINGS

THEME = "daylight"
LETTERS = ("terminal", "ascii", "unicode")
SETTINGS = ("theme", "letters", "wording", "shared_folder", "units", "keys")
"""Every setting by its name in the file."""

_WORD = re.compile(r"[A-Za-z0-9_.+-]{1,60}", re.ASCII)
_KEY = re.compile(r"[^\s\x00-\x20\x7f]{1,40}")
_MOST_KEYS = 200


@record
class Settings:
    """The user's settings."""

    units: Units = METRIC
    """Units in which values are shown and read."""
    theme: str = THEME
    """Name of the colour theme; not checked here."""
    keys: Mapping[str, str] = EMPTY
    """The user's own keys, by the name of the command; not checked here."""
    shared_folder: bool = False
    """Whether a sync tool copies the jobs folder between machines, so that it is written less often."""
    letters: str = LETTERS[0]
    """The letters the screens are drawn with: as the terminal has them, only ASCII, or all of Unicode."""
    wording: str = WORDINGS[0]
    """Whose trade words and spelling are used: "british" or "us"."""


@record
class Found:
    """The settings as they were read, and the problems with them."""

    settings: Settings = Settings()
    problems: tuple[str, ...] = ()
    """One sentence for each key that was skipped, or one for the whole file."""
    nameless: tuple[str, ...] = ()
    """The same for each key by its line, without text from the file, so that it can be sent to somebody."""


@record
class LastPlace:
    """The job and screen to start with."""

    job: str = ""
    """File name in the jobs folder; empty: no job."""
    screen: str = ""
    """Name of the screen."""
    faulted: bool = False
    """Whether the last run ended there by a fault of the program."""


def config_file(places: Places) -> Path:
    """The file that holds the settings."""
    return places.config / "config.toml"


def load_settings(places: Places, disk: Disk = DISK) -> Found:
    """Read the settings. A key that cannot be used is skipped and reported; nothing is raised."""
    path = config_file(places)
    try:
        table = read_tables(read(path, disk), "a file of settings")
    except FileNotFoundError:
        return Found()
    except OSError as error:
        return Found(problems=(f"{path} cannot be read: {cause(error)}. {advice(error)} The usual settings are used.",))
    except BadFile as error:
        return Found(problems=(f"{path}: {error}. Correct it or delete it; the usual settings are used.",))
    found, problems = _settings(table)
    if not problems:
        return Found(found)
    lines = setting_lines(places, disk)
    nameless = [line_words(lines, one.path) + one.nameless for one in problems]
    return Found(found, tuple(one.words for one in problems), tuple(nameless))


def setting_lines(places: Places, disk: Disk = DISK) -> dict[Place, int]:
    """The line of each setting in the file; empty if the file cannot be read."""
    from stanchion.job.comments import lines_of  # noqa: PLC0415 - only where something is wrong

    try:
        return lines_of(normalised(read(config_file(places), disk)).decode("utf-8"))
    except (OSError, BadFile, ValueError):
        return {}


def line_words(lines: Mapping[Place, int], path: Place) -> str:
    """The place of a setting, as the beginning of a sentence that does not name it.

    >>> line_words({("theme",): 3}, ("theme",)), line_words({}, ("theme",))
    ('config.toml, line 3: ', 'config.toml: ')
    """
    line = lines.get(path)
    return f"config.toml, line {line}: " if line is not None else "config.toml: "


def save_settings(settings: Settings, places: Places, disk: Disk = DISK) -> None:
    """Write the settings; comments and keys this version does not know stay. A damaged file is kept beside the new one.

    Raises:
        NotSaved: they could not be written.
    """
    import tomli_w  # noqa: PLC0415 -- not needed to start

    from stanchion.job.comments import comments_in, with_comments  # noqa: PLC0415

    path = config_file(places)
    try:
        make_folder(path.parent, disk)
        try:
            before: bytes | None = read(path, disk)
        except FileNotFoundError:
            before = None
        table: TomlTable = {}
        comments: tuple[Comment, ...] = ()
        try:
            table = read_tables(before or b"", "a file of settings")
            comments = comments_in(normalised(before or b"").decode())
        except BadFile:
            put(path.with_name("config.damaged.toml"), before or b"", disk)
    except OSError as error:
        raise NotSaved(f"The settings are not saved: {cause(error)}. {advice(error)}") from error
    except BadFile as error:
        raise NotSaved(f"The settings are not saved: {path}: {error}") from error
    units = table.get("units")
    chosen = {name: getattr(settings.units, name) for name in UNIT_SETTINGS}
    table["units"] = (units if isinstance(units, dict) else {}) | chosen
    table["theme"] = settings.theme
    if "wording" in table or settings.wording != WORDINGS[0]:
        table["wording"] = settings.wording
    table["keys"] = dict(settings.keys)
    if not settings.keys:
        del table["keys"]
    try:
        data = with_comments(tomli_w.dumps(table), comments).encode()
    except (ValueError, TypeError) as error:
        raise NotSaved(f"The settings are not saved: a key of {path} cannot be written back ({error}).") from error
    write(path, data, None if before is None else fingerprint(before), disk)


_FAULTED = "fault"


def load_last_place(places: Places, disk: Disk = DISK) -> LastPlace:
    """Read the job and screen to start with; empty if not known."""
    try:
        job, screen, *more = read(_last_file(places), disk, 10_000).decode().split("\n")
    except (OSError, BadFile, ValueError):
        return LastPlace()
    if not is_plain(job):
        return LastPlace()
    return LastPlace(job, screen if _WORD.fullmatch(screen) else "", faulted=more[:1] == [_FAULTED])


def save_last_place(last: LastPlace, places: Places, disk: Disk = DISK) -> None:
    """Write the job and screen to start with; a failure is ignored."""
    with contextlib.suppress(OSError, UnicodeEncodeError):
        make_folder(places.state, disk)
        text = f"{last.job}\n{last.screen}\n{_FAULTED if last.faulted else ''}"
        put(_last_file(places), text.encode(), disk, durable=False)


def _last_file(places: Places) -> Path:
    """Job and screen, a line each, and a word if a fault ended the program there.

    It is read before anything can be shown, and loading a parser would take longer.
    """
    return places.state / "last"


@record
class _SettingProblem:
    """A setting that cannot be used."""

    path: Place
    words: str
    nameless: str
    """The same without text from the file."""


def _settings(table: TomlTable) -> tuple[Settings, list[_SettingProblem]]:
    problems: list[_SettingProblem] = []

    def problem(path: Place, words: str) -> None:
        """The problem of a setting with a known name; the words contain no text from the file."""
        problems.append(_SettingProblem(path, f"config.toml: {words}", words))

    def word(where: TomlTable, key: str, name: str, allowed: tuple[str, ...], usual: str) -> str:
        value: Any = where.pop(key, usual)
        if isinstance(value, str) and (value in allowed if allowed else _WORD.fullmatch(value)):
            return value
        needed = "must be one of " + ", ".join(map(repr, allowed)) if allowed else "must be a name in quotes"
        problem(tuple(name.split(".")), f"{name} {needed}; '{usual}' is used.")
        return usual

    remaining = dict(table)
    units = remaining.pop("units", {})
    if not isinstance(units, dict):
        problem(("units",), "units must be a table, written as [units]; the usual units are used.")
        units = {}
    units = dict(units)
    chosen = {
        name: word(units, name, f"units.{name}", DISPLAY_UNITS[kind], getattr(METRIC, name))
        for name, kind in UNIT_SETTINGS.items()
    }
    theme = word(remaining, "theme", "theme", (), THEME)
    letters = word(remaining, "letters", "letters", LETTERS, LETTERS[0])
    wording = word(remaining, "wording", "wording", WORDINGS, WORDINGS[0])
    shared = remaining.pop("shared_folder", False)
    if not isinstance(shared, bool):
        problem(("shared_folder",), "shared_folder must be true or false, without quotes; false is used.")
        shared = False
    keys = _keys(remaining.pop("keys", {}), problems)
    unknown: list[tuple[str, ...]] = [*(("units", key) for key in units), *((key,) for key in remaining)]
    for path in unknown:
        known = tuple(UNIT_SETTINGS) if len(path) > 1 else SETTINGS
        like = nearest_words(path[-1], known) or f"There are {', '.join(known)}."
        words = f"is not a setting this version knows; it is left alone. {like}"
        problems.append(_SettingProblem(path, f"config.toml: {clean('.'.join(path), 60)!r} {words}", f"this {words}"))
    return Settings(Units(**chosen), theme, keys, shared, letters, wording), problems


def _keys(value: object, problems: list[_SettingProblem]) -> dict[str, str]:
    if not isinstance(value, dict):
        words = "keys must be a table, written as [keys]; the usual keys are used."
        problems.append(_SettingProblem(("keys",), f"config.toml: {words}", words))
        return {}
    keys: dict[str, str] = {}
    for name, key in value.items():
        if len(keys) >= _MOST_KEYS:
            words = f"keys has more than {_MOST_KEYS} entries; the rest is skipped."
            problems.append(_SettingProblem(("keys",), f"config.toml: {words}", words))
            break
        if not _WORD.fullmatch(name) or not isinstance(key, str) or not _KEY.fullmatch(key):
            words = "must name a key, such as 'ctrl+z'; it is skipped."
            problems.append(
                _SettingProblem(("keys", name), f"config.toml: keys.{name[:60]!r} {words}", f"this {words}")
            )
            continue
        keys[name] = key
    return keys
