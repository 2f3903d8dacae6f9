"""What is said of a job's file that is no TOML: the line, what is wrong there, and what to do."""

from __future__ import annotations

import re

from stanchion.base.errors import BadFile, CutShort
from stanchion.base.text import clean
from stanchion.base.toml import TOKEN
from stanchion.job.guard import CUT_SHORT, END_TABLE

_AT = re.compile(r"(?P<what>.*) \(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)", re.DOTALL)
_END_MARK = re.compile(rb"\ncomplete[ \t]*+=[ \t]*+true")
_COMMA_DECIMAL = re.compile(r"=\s*[+-]?\d+,\d+\s*(?:#.*)?$")
_JOINT = re.compile(r"^<{7}( |$)", re.MULTILINE)
"""The first line of a conflict that a version-control system left in a file."""


def refusal(reason: str, text: str, data: bytes) -> BadFile:
    """The error for text that is not TOML.

    Args:
        reason: what the parser said.
        text: the text.
        data: the same as bytes.
    """
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
