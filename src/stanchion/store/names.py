"""Names of job files: made from the content of a job, found by what a person typed, the nearest where there is none."""

from __future__ import annotations

import datetime as dt
import os
import re
import unicodedata
from collections.abc import Callable
from pathlib import Path

from stanchion.base.errors import NotFound
from stanchion.base.text import clean
from stanchion.job.model import Occasion
from stanchion.store.disk import DISK
from stanchion.store.paths import places

SUFFIX = ".toml"
LONGEST_BYTES = 255
"""The longest file name that every usual file system takes."""

_LONGEST_PART = 40
_SPELT_OUT = str.maketrans({"ø": "o", "æ": "ae", "œ": "oe", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i"})
_RESERVED = re.compile(
    r"(con|prn|aux|nul|conin\$|conout\$|com[0-9¹²³]|lpt[0-9¹²³])\s*(\..*)?", re.IGNORECASE | re.DOTALL
)
_FORBIDDEN = re.compile(r'[\x00-\x1f\x7f-\x9f/\\:*?"<>|]')
_DATE_FIRST = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


def slug(text: str, longest: int = _LONGEST_PART) -> str:
    """The text in lower-case ASCII letters, digits and single hyphens; empty if nothing is left of it.

    >>> slug("Grüne Möwe №2 / ../etc")
    'grune-mowe-no2-etc'
    """
    plain = unicodedata.normalize("NFKD", text.casefold()).casefold().translate(_SPELT_OUT)
    letters = plain.encode("ascii", "ignore").decode("ascii")
    return re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:longest].strip("-")


def file_name(occasion: Occasion) -> str:
    """The name of the job's file. It starts with the date, so it is never empty, hidden or reserved.

    >>> file_name(Occasion(machine="Grey Mule", rider="A. Venn", date=dt.date(2026, 5, 31)))
    '2026-05-31-grey-mule-a-venn.toml'
    """
    parts = [slug(occasion.machine), slug(occasion.rider)]
    return (
        "-".join(
            [occasion.date.isoformat(), *(part for part in parts if part)]
            if any(parts)
            else [occasion.date.isoformat(), "job"]
        )
        + SUFFIX
    )


def unique(name: str, taken: Callable[[str], bool]) -> str:
    """The name, or the first of name-2, name-3, ... that is not taken.

    >>> unique("a.toml", {"a.toml", "a-2.toml"}.__contains__)
    'a-3.toml'
    """
    stem = name.removesuffix(SUFFIX)
    candidates = [name, *(f"{stem}-{number}{SUFFIX}" for number in range(2, 1000))]
    for candidate in candidates:
        if not taken(candidate):
            return candidate
    return f"{stem}-{os.urandom(8).hex()}{SUFFIX}"


def is_plain(name: object) -> bool:
    """Whether this can be the name of a job file in the jobs folder: a name, and no path on any system.

    >>> is_plain("2026-05-31-grey-mule-a-venn.toml")
    True
    >>> is_plain("../2026-05-31-grey-mule-a-venn.toml")
    False
    """
    if not isinstance(name, str) or not name.casefold().endswith(SUFFIX):
        return False
    try:
        size = len(name.encode("utf-8"))
    except UnicodeEncodeError:
        return False
    return (
        size <= LONGEST_BYTES
        and not name.startswith((".", " "))
        and _FORBIDDEN.search(name) is None
        and _RESERVED.fullmatch(name) is None
    )


def is_job(name: str) -> bool:
    """Whether a name found in the jobs folder is that of a job file.

    >>> is_job("Sunday.TOML"), is_job(".hidden.toml"), is_job("notes.txt")
    (True, False, False)
    """
    return name.casefold().endswith(SUFFIX) and not name.startswith(".")


def new_id() -> str:
    """A new id, different from that of every other job."""
    return os.urandom(8).hex()


def date_in(name: str) -> dt.date | None:
    """The date that a file name starts with, for a file that cannot be read.

    >>> date_in("2026-05-31-grey-mule.toml")
    datetime.date(2026, 5, 31)
    """
    found = _DATE_FIRST.match(name)
    try:
        return dt.date.fromisoformat(found[0]) if found else None
    except ValueError:
        return None


MOST_LIKE = 3
"""The most names that are offered."""


def existing_file(path: Path, jobs: str | None = None, *, in_jobs: bool = True) -> Path:
    """The file that was named.

    Args:
        path: as it was typed; a bare name is looked for in the jobs folder too.
        jobs: the jobs folder.
        in_jobs: whether the jobs folder is meant at all.

    Raises:
        NotFound: there is no such file; the message offers the names that are most like it.
    """
    found = in_jobs_folder(path, jobs) if in_jobs else path
    if os.path.lexists(found):
        return found
    folder = places(jobs).jobs if in_jobs else None
    like = most_like(path, folder)
    what = "no such file or job" if in_jobs else "no such file"
    raise NotFound(f"{what}: '{clean(str(path), 200)}'. {_offered(like, path.parent, folder)}")


def in_jobs_folder(path: Path, jobs: str | None) -> Path:
    """The file that is meant: the path, also without its ending .toml; for a bare name that is not in the current
    folder, the file of that name in the jobs folder, whether it is there or not."""
    ended = path if not path.name or is_job(path.name) else path.with_name(path.name + SUFFIX)
    meant = [path, ended]
    if path.name == str(path):
        folder = places(jobs).jobs
        meant += [folder / path, folder / ended]
    found = next((one for one in meant if os.path.lexists(one) and not one.is_dir()), None)
    if found is not None:
        return found
    return path if os.path.lexists(path) else meant[-1] if len(meant) > 2 else path


def job_names(jobs: str | None = None) -> list[str]:
    """The file names in the jobs folder, the newest day first; nothing is read."""
    return sorted(_names(places(jobs).jobs), reverse=True)


def most_like(path: Path, jobs: Path | None = None) -> list[str]:
    """The names most like one that is not there, the likest first: of its own folder, and of the jobs folder for a bare
    name. A name that holds what was typed is like it however long it is."""
    names = {one: str(path.parent / one) for one in _names(path.parent)}
    if jobs is not None and path.name == str(path):
        names |= {one: one for one in _names(jobs)}
    wanted = _bare(path.name)
    by_bare: dict[str, list[str]] = {}
    for one in sorted(names, reverse=True):  # names begin with the day, so the newest come first
        by_bare.setdefault(_bare(one), []).append(one)
    holding = [one for one in by_bare if len(wanted) > 2 and wanted in one]
    import difflib  # noqa: PLC0415 - only where something was mistyped

    near = difflib.get_close_matches(wanted, by_bare, MOST_LIKE, cutoff=0.6)
    order = dict.fromkeys([*holding[:MOST_LIKE], *near])
    return [names[one] for bare in order for one in by_bare[bare]][:MOST_LIKE]


def nearest_words(word: str, known: list[str] | tuple[str, ...]) -> str:
    """The known words most like one that is not known, as a sentence; empty where none is like it.

    >>> nearest_words("them", ("theme", "letters", "units"))
    "The nearest is 'theme'."
    """
    import difflib  # noqa: PLC0415 - only where something was mistyped

    near = difflib.get_close_matches(word.casefold(), known, MOST_LIKE)
    if not near:
        return ""
    return f"The nearest {'is' if len(near) == 1 else 'are'} {', '.join(map(repr, near))}."


def _offered(like: list[str], folder: Path, jobs: Path | None) -> str:
    if like:
        return f"Most like it: {', '.join(clean(one, 200) for one in like)}"
    if not folder.exists():
        return f"There is no folder '{clean(str(folder), 200)}' either."
    if jobs is None:
        return "Nothing in its folder has a name like it."
    if not jobs.exists():
        return f"The jobs folder is not there either: {clean(str(jobs), 200)}"
    return "`stanchion list` prints the name of every job."


def _names(folder: Path) -> list[str]:
    try:
        return [one for one in DISK.listed(folder) if is_job(one)]
    except OSError:
        return []


def _bare(name: str) -> str:
    return name.casefold().removesuffix(SUFFIX)
