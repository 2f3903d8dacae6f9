"""Checks of a job's file before its values are read: text that is not TOML, and values that cannot be kept."""

from __future__ import annotations

import datetime as dt
import math
import re
from typing import Any

from stanchion.base import toml
from stanchion.base.errors import BadFile, CutShort
from stanchion.base.text import clean
from stanchion.base.toml import DEEPEST, TOKEN, TomlTable

LONGEST_KEY = 200
"""Characters of a key at most."""
LONGEST_TEXT = 5_000
"""Characters of a text at most, where the format sets no closer limit."""

END_TABLE = b"[end]"
CUT_SHORT = "the file is cut short: its end mark is missing; take an earlier copy of it"
_AT = re.compile(r"(?P<what>.*) \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)", re.DOTALL)
_END_MARK = re.compile(rb"\ncomplete[ \t]*+=[ \t]*+true")
_COMMA_DECIMAL = re.compile(r"=\s*[+-]?\d+,\d+\s*(?:#.*)?$")


def parse_job(data: bytes) -> TomlTable:
    """The tables of a job's file whose bytes are normalised.

    Raises:
        BadFile: too large, not UTF-8, not TOML, or nested beyond reason; the message names the line.
        CutShort: not TOML, and without an end table.
    """
    return toml.parse(data, "a job", lambda reason, text: _refusal(reason, text, data))


def check_foreign(value: Any, key: str, where: str, depth: int) -> None:
    """Check that a value of an unknown key can be kept and written back unchanged.

    Args:
        value: as parsed.
        key: its name.
        where: the dotted path of it.
        depth: tables and lists around it.

    Raises:
        BadFile: nested too deeply, a number that cannot be kept, or a text or key that is too long.
    """
    shown = clean(where, 120)
    if len(key) > LONGEST_KEY:
        raise BadFile(f"{shown}: the name is too long: {len(key)} characters, at most {LONGEST_KEY}")
    if depth > DEEPEST:
        raise BadFile(f"{shown}: more than {DEEPEST} tables or lists within one another; take some out")
    if isinstance(value, dict):
        for name, inner in value.items():
            check_foreign(inner, name, f"{where}.{name}", depth + 1)
    elif isinstance(value, list):
        for at, inner in enumerate(value):
            check_foreign(inner, "", f"{where}[{at}]", depth + 1)
    elif isinstance(value, str) and len(value) > LONGEST_TEXT:
        raise BadFile(f"{shown}: the text is too long: {len(value)} characters, at most {LONGEST_TEXT}")
    elif isinstance(value, int) and not -(2**63) <= value < 2**63:
        raise BadFile(f"{shown}: the whole number is too large; a TOML file holds at most 19 digits")
    elif isinstance(value, float) and not math.isfinite(value):
        raise BadFile(f"{shown}: an ordinary number is needed, not infinity or 'not a number'")
    elif not isinstance(value, str | int | float | dt.date | dt.time):
        raise BadFile(f"{shown}: a value of a sort this program cannot keep")


_JOINT = re.compile(r"^<{7}( |$)", re.MULTILINE)
"""The first line of a conflict that a version-control system left in a file."""


def _refusal(reason: str, text: str, data: bytes) -> BadFile:
    """The error message for text that is not TOML."""
    found = _AT.fullmatch(reason)
    joint = _JOINT.search(text)
    if joint:
        first = text.count("\n", 0, joint.start()) + 1
        return BadFile(
            f"line {first}: a version-control system left two versions of the job here, between lines that begin "
            "with <<<<<<< and >>>>>>>. Let it put back one whole version and save the other beside it as a file of its "
            "own; the program then offers to merge the two field by field (or: stanchion merge ONE OTHER -o FILE)"
        )
    what = clean(
        found["what"] if found else "a value is far too long, such as a number of thousands of digits", 160
    ).rstrip(".")
    what = what[:1].lower() + what[1:]
    where = f"line {found['line']}, column {found['column']}" if found and found["line"] else "at the end of the file"
    end = data.rfind(b"\n" + END_TABLE)
    if end < 0 or not _END_MARK.search(data, end):
        return CutShort(f"{CUT_SHORT} ({where}: {what})")
    if not found or not found["line"]:
        line = _unclosed_quote(text)
        if line is not None:
            return BadFile(f"line {line}: a quote is opened and not closed; close it on that line")
        return BadFile(f"{where}: {what}; look for a quote or bracket that is not closed")
    hint = "correct that line in a text editor"
    if _COMMA_DECIMAL.search(text.split("\n")[int(found["line"]) - 1]):
        hint = "a decimal sign in the file is a point, as in 12.5"
    return BadFile(f"{where}: {what}; {hint}")


def _unclosed_quote(text: str) -> int | None:
    """The line on which the first unclosed text begins."""
    for token in TOKEN.finditer(text):
        found = token.group()
        quote = found[:3] if found[:3] in ('"""', "'''") else found[0]
        if quote[0] in "\"'" and (len(found) < 2 * len(quote) or not found.endswith(quote)):
            return text.count("\n", 0, token.start()) + 1
    return None
