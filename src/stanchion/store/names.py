"""Names of job files: made from the content of a job, and which names are those of jobs."""

from __future__ import annotations

import datetime as dt
import os
import re
import unicodedata
from collections.abc import Callable

from stanchion.job.model import Occasion

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


def is_name_of(name: str, occasion: Occasion) -> bool:
    """Whether a file name is the one that the program gives to such a job, or one like it with a number.

    >>> of = Occasion(machine="Grey Mule", rider="A. Venn", date=dt.date(2026, 5, 31))
    >>> is_name_of("2026-05-31-grey-mule-a-venn-2.toml", of), is_name_of("sunday.toml", of)
    (True, False)
    """
    stem = re.escape(file_name(occasion).removesuffix(SUFFIX))
    return re.fullmatch(rf"{stem}(-[0-9]{{1,3}}|-[0-9a-f]{{16}})?{re.escape(SUFFIX)}", name) is not None


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
