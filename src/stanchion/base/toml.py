"""The one reader of TOML, with its limits: bytes are turned into tables or refused at once.

What the program wrote itself is read by toml_plain, all else by the parser of the standard library.

The parser of the standard library can be made to recurse without end or to run for minutes by a small file, so the
text is checked first. What passes here is parsed in well under a second.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from itertools import islice
from typing import Any

from stanchion.base.errors import BadFile
from stanchion.base.text import clean
from stanchion.base.toml_plain import plain_tables

TomlTable = dict[str, Any]

LARGEST = 1_480_000
"""Bytes of a file at most. A full job has about 6,000 and each of its 60 runs, which repeats fork and shock, up to
21,000; with every text escaped it stays below this."""
LONGEST_LINE = 32_000
"""Characters of a line at most; the longest note with every character escaped has 12,000."""
DEEPEST = 16
"""Tables and lists within one another at most; a job with runs has eight."""

_BOM = b"\xef\xbb\xbf"
STRING = (
    r'''"""(?:[^"\\]++|\\.?|"(?!""))*+(?:"{3,5}|\Z)'''  # a text of several lines, or an unclosed one to the end
    r"""|'''(?:[^']++|'(?!''))*+(?:'{3,5}|\Z)"""
    r"""|"(?:[^"\\\n]++|\\[^\n]?)*+"?"""
    r"""|'[^'\n]*+'?"""
)
TOKEN = re.compile(STRING + r"""|\#[^\n]*+|[\[\]{}.,=\n]""", re.DOTALL)
_DEEPER = {"[": 1, "{": 1, "]": -1, "}": -1}


def normalised(data: bytes) -> bytes:
    """The bytes without a byte order mark, and with line ends of one character."""
    return data.removeprefix(_BOM).replace(b"\r\n", b"\n")


def read_tables(data: bytes, what: str, largest: int = LARGEST) -> TomlTable:
    """The tables of a TOML file.

    Args:
        data: as the file holds them.
        what: what the file should be, with its article, as in "a job"; for messages.
        largest: bytes at most.

    Raises:
        BadFile: too large, not UTF-8, not TOML, or nested beyond reason.

    >>> read_tables(b"a = 1", "a theme")
    {'a': 1}
    """
    return parse(normalised(data), what, lambda reason, _: BadFile(f"it is not TOML: {clean(reason, 160)}"), largest)


def parse(data: bytes, what: str, refusal: Callable[[str, str], BadFile], largest: int = LARGEST) -> TomlTable:
    """The tables in normalised bytes.

    Args:
        data: without byte order mark, lines ended by newlines.
        what: what the file should be, with its article.
        refusal: the error to raise for text that is not TOML, given the parser's reason and the text.
        largest: bytes at most.

    Raises:
        BadFile: too large, not UTF-8, nested beyond reason, or what `refusal` gives.
    """
    if len(data) > largest:
        raise BadFile(f"the file is too long: it has {len(data)} bytes, and {what} at most {largest}")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise BadFile(
            f"line {line}: byte {error.start + 1} of the file (0x{data[error.start]:02x}) is not UTF-8 text; "
            "open the file in a text editor and save it as UTF-8"
        ) from None
    plain = plain_tables(text, LONGEST_LINE, DEEPEST)
    if plain is not None:
        return plain
    _check_nesting(text)
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise BadFile("the tables and lists of the file are nested too deeply to be read") from None
    except ValueError as error:  # TOMLDecodeError, and numbers of thousands of digits
        raise refusal(str(error), text) from None


def trusted_tables(text: str) -> TomlTable:
    """The tables of TOML that ships with the program, that it wrote itself, or that was read here before."""
    return tomllib.loads(text)


def _check_nesting(text: str) -> None:
    """Refuse text that would make the parser recurse or run for long.

    Raises:
        BadFile: a line is too long, brackets are nested too deeply, or a key has too many parts.
    """
    for number, line in enumerate(text.split("\n"), start=1):
        if len(line) > LONGEST_LINE:
            raise BadFile(f"line {number}: {len(line)} characters, at most {LONGEST_LINE}; break the line up")
    depth = dots = 0
    for at, token in enumerate(TOKEN.findall(text)):
        first = token[0]
        if first == ".":
            dots += 1
        elif first not in "\"'#":
            dots = 0
            depth += _DEEPER.get(first, 0)
        if dots >= DEEPEST or depth > DEEPEST:
            line_number = text.count("\n", 0, next(islice(TOKEN.finditer(text), at, None)).start()) + 1
            raise BadFile(
                f"line {line_number}: more than {DEEPEST} tables or lists within one another is too deep; take some out"
            )
