"""Names of job files, made from the content of the job and never from a typed path."""

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
    """The text in lower-case ASCII letters, digits and single hyphens; empty if nothing of it can be spelt so.

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
    """Whether this may be taken for the name of a job file in the jobs folder: a name, and no path of any system.

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
    """An id no other job has."""
    return os.urandom(8).hex()


def date_in(name: str) -> dt.date | None:
    """The date a file name starts with, for a file whose content cannot be read.

    >>> date_in("2026-05-31-grey-mule.toml")
    datetime.date(2026, 5, 31)
    """
    found = _DATE_FIRST.match(name)
    try:
        return dt.date.fromisoformat(found[0]) if found else None
    except ValueError:
        return None
