"""TOML as the program itself writes it, read several times faster than any TOML: a key a line, and nothing unusual.

Anything else, and all that might be a mistake, is left to the parser of the standard library, which alone decides what
is TOML and says what is wrong with it. What is read here it would have read the same.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator
from typing import Any

_SCALAR = (
    r'(?:"(?P<text>(?:[^"\\\x00-\x1f\x7f]|\\[nt"\\])*+)"'
    r"|(?P<real>-?(?:0|[1-9][0-9]{0,15})\.[0-9]{1,17})"
    r"|(?P<flag>true|false)"
    r"|(?P<whole>-?(?:0|[1-9][0-9]{0,15}))"
    r"|(?P<day>[0-9]{4}-[0-9]{2}-[0-9]{2}))"
)
_KEY = r"(?P<key>[A-Za-z0-9_-]+) = "
_LINE = re.compile(rf"{_KEY}(?:{_SCALAR}|(?P<list>\[)|(?P<none>\[\]))")
_HEAD = re.compile(r"\[(?P<rows>\[)?(?P<path>[A-Za-z0-9_-]+(?:\.[A-Za-z0-9_-]+)*)\](?(rows)\])")
_ITEM = re.compile(rf" *(?:(?:{_SCALAR}|\{{ (?P<pairs>.+) \}}),|(?P<list>\[))")
_DEEPEST_LIST = 4
_ESCAPED = re.compile(r"\\(.)")
_MEANT = {"n": "\n", "t": "\t", '"': '"', "\\": "\\"}
_PAIR = re.compile(rf"{_KEY}{_SCALAR}(?:, |\Z)")


class _Unusual(Exception):
    """Something that is left to the parser of the standard library."""


def plain_tables(text: str, longest_line: int, deepest: int) -> dict[str, Any] | None:
    """The tables of a text; None where anything in it is unusual.

    Args:
        text: lines ended by newlines.
        longest_line: characters of a line at most.
        deepest: tables within one another at most.

    >>> plain_tables('a = 1.5\\n\\n[b.c]\\nd = [\\n    "x",\\n]\\n', 80, 16)
    {'a': 1.5, 'b': {'c': {'d': ['x']}}}
    >>> plain_tables("a = 0x1f", 80, 16) is None
    True
    """
    try:
        return _read(text, longest_line, deepest)
    except (_Unusual, ValueError):  # a day that is none
        return None


def _read(text: str, longest_line: int, deepest: int) -> dict[str, Any]:
    root: dict[str, Any] = {}
    table = root
    grown: set[int] = set()  # lists that are written [[so]]: these alone can have more rows
    lines = iter(text.split("\n"))
    for line in lines:
        if not line:
            continue
        if len(line) > longest_line:
            raise _Unusual
        if line[0] == "[":
            table = _table_of(line, root, grown, deepest)
            continue
        found = _LINE.fullmatch(line)
        if found is None:
            raise _Unusual
        key = found["key"]
        if key in table:
            raise _Unusual
        kind = found.lastgroup
        if kind == "list":
            table[key] = list(_items(lines, longest_line))
        else:
            table[key] = [] if kind == "none" else _scalar(found)
    return root


def _table_of(line: str, root: dict[str, Any], grown: set[int], deepest: int) -> dict[str, Any]:
    """The table that a head begins."""
    found = _HEAD.fullmatch(line)
    if found is None:
        raise _Unusual
    *above, name = found["path"].split(".")
    if len(above) >= deepest:
        raise _Unusual
    at = root
    for part in above:
        inner = at.setdefault(part, {})
        if isinstance(inner, list) and id(inner) in grown:
            inner = inner[-1]
        if not isinstance(inner, dict):
            raise _Unusual
        at = inner
    table: dict[str, Any] = {}
    if found["rows"] and name in at:
        rows = at[name]
        if id(rows) not in grown:
            raise _Unusual
        rows.append(table)
    elif name in at:
        raise _Unusual
    elif found["rows"]:
        at[name] = [table]
        grown.add(id(at[name]))
    else:
        at[name] = table
    return table


def _items(lines: Iterator[str], longest_line: int, depth: int = 1) -> Iterator[Any]:
    """The entries of a list, one a line, down to its bracket."""
    indent, end = "    " * depth, "    " * (depth - 1) + ("]," if depth > 1 else "]")
    for line in lines:
        if line == end:
            return
        found = _ITEM.fullmatch(line) if len(line) <= longest_line and line.startswith(indent) else None
        if found is None or line[len(indent)] == " " or depth > _DEEPEST_LIST:
            raise _Unusual
        kind = found.lastgroup
        if kind == "list":
            yield list(_items(lines, longest_line, depth + 1))
        else:
            yield _row(found["pairs"]) if kind == "pairs" else _scalar(found)
    raise _Unusual


def _row(pairs: str) -> dict[str, Any]:
    """A table in one line."""
    row: dict[str, Any] = {}
    at = 0
    while at < len(pairs):
        found = _PAIR.match(pairs, at)
        if found is None or found["key"] in row:
            raise _Unusual
        row[found["key"]] = _scalar(found)
        at = found.end()
    if pairs.endswith(", "):
        raise _Unusual
    return row


def _scalar(found: re.Match[str]) -> Any:
    match found.lastgroup:
        case "real":
            return float(found["real"])
        case "text":
            text = found["text"]
            return _ESCAPED.sub(lambda one: _MEANT[one[1]], text) if "\\" in text else text
        case "whole":
            return int(found["whole"])
        case "flag":
            return found["flag"] == "true"
    return dt.date.fromisoformat(found["day"])
