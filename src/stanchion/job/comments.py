"""Comments of a hand-edited TOML file: found when it is read, and written back beside the same keys.

A file is always written whole, from its values. A comment is no value, so it is found in the text when the file is
read, and put into the new text when it is written. The text itself is never patched.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterable, Iterator
from dataclasses import replace

from stanchion.base.errors import BadFile
from stanchion.base.record import record
from stanchion.base.toml import LONGEST_LINE, STRING, TOKEN, trusted_tables
from stanchion.job.places import Comment, Path

MOST_BYTES = 200_000
"""Bytes of comments in a file at most: the largest job and as many comments stay below what a file may have."""


def comments_in(text: str) -> tuple[Comment, ...]:
    """The comments of a text that is TOML, in the order of the text.

    Raises:
        BadFile: there are more than can be kept.

    >>> [(one.path, one.place, one.text) for one in comments_in("# of it\\na = 1 # one\\n")]
    [(('a',), 'above', '# of it'), (('a',), 'beside', '# one')]
    """
    texts = [token for token in TOKEN.findall(text) if token[0] == "#"] if "#" in text else []
    if not texts:
        return ()
    size = sum(len(one.encode()) + 1 for one in texts)
    if size > MOST_BYTES:
        raise BadFile(f"the file has {size} bytes of comments, and at most {MOST_BYTES} are kept; take some out")
    found = tuple(_Scan(text).comments)
    if sorted(one.text for one in found) == sorted(texts):
        return found
    return tuple(Comment((), "end", one) for one in texts)  # a spelling of TOML not known here: none is lost


def with_comments(text: str, comments: Iterable[Comment]) -> str:
    """The text with comments put back; one whose key no longer exists goes to the end of the nearest table that does.

    Args:
        text: TOML without comments, a key a line, as it is written from values.
        comments: in the order of the text.
    """
    comments = tuple(comments)
    if not comments:
        return text
    written = _Setting(text).text_with(comments)
    kept = [token for token in TOKEN.findall(written) if token[0] == "#"]
    if sorted(kept) == sorted(one.text for one in comments) and trusted_tables(written) == trusted_tables(text):
        return written
    return "".join(f"{one.text}\n" for one in comments) + text


def lines_of(text: str) -> dict[Path, int]:
    """On which line, from 1, each key and each table of a text that is TOML begins."""
    return {path: item.first + 1 for path, item in _Scan(text).items.items()}


def below(comments: Iterable[Comment], path: Path) -> tuple[Comment, ...]:
    """The comments of a part of the file, with paths relative to that part."""
    depth = len(path)
    return tuple(replace(one, path=one.path[depth:]) for one in comments if one.path[:depth] == path)


def above(comments: Iterable[Comment], path: Path) -> tuple[Comment, ...]:
    """The comments of a part, with paths from the top of the file."""
    return tuple(replace(one, path=(*path, *one.path)) for one in comments)


# --- places of keys and tables ---------------------------------------------------------------------------------------


@record
class _LineRange:
    """A key with its value, the head of a table, or an entry of a list, by line."""

    first: int
    last: int
    table: bool = False
    closes: int | None = None
    """Of a list: the line of its closing bracket."""


_SPACE = re.compile(r"[ \t]*+")
_GAP = re.compile(r"[ \t\n]*+")
_NOTE = re.compile(r"#[^\n]*+")
_BARE = re.compile(r"[A-Za-z0-9_-]++")
_STRING = re.compile(STRING, re.DOTALL)
_SCALAR = re.compile(r"[^,\]}#\n]++")


class _Scan:
    """Scans a text that is known to be TOML once."""

    def __init__(self, text: str) -> None:
        self._text, self._at = text, 0
        self._ends = [at for at, letter in enumerate(text) if letter == "\n"]
        self._counts: dict[Path, int] = {}  # tables that are written [[so]] so far
        self.items: dict[Path, _LineRange] = {}
        self.lengths: dict[Path, int] = {}
        self.body_ends: dict[Path, int] = {(): -1}
        """By table: the last line of its own keys."""
        self.comments: list[Comment] = []
        try:
            self._statements()
        except (AttributeError, IndexError):  # a spelling that is not known here
            self.comments.clear()

    def _line(self, at: int) -> int:
        return bisect_left(self._ends, at)

    def _take(self, pattern: re.Pattern[str]) -> str:
        found = pattern.match(self._text, self._at)
        self._at = found.end()  # type: ignore[union-attr]  # an AttributeError ends the scan
        return found.group()  # type: ignore[union-attr]

    def _statements(self) -> None:
        table: Path = ()
        pending: list[tuple[int, str]] = []
        last: tuple[Path, int] | None = None
        while True:
            self._take(_GAP)
            if self._at >= len(self._text):
                break
            start, line = self._at, self._line(self._at)
            letter = self._text[start]
            if letter == "#":
                self._note(last, line, pending)
                continue
            if letter == "[":
                new = self._head()
                self._before_head(pending, line, table, new)
                table = new
                self.items[new] = _LineRange(line, line, table=True)
            else:
                new = (*table, *self._key())
                self._above(pending, new)
                self._take(_SPACE)
                self._at += 1  # the sign between key and value
                self._take(_SPACE)
                closes = self._value(new)
                self.items[new] = _LineRange(line, self._line(self._at - 1), closes=closes)
            last = new, self._line(self._at - 1)
            self.body_ends[table] = last[1]
        self.comments += [Comment(table, "end", text) for _, text in pending]

    def _note(self, last: tuple[Path, int] | None, line: int, pending: list[tuple[int, str]]) -> None:
        text = self._take(_NOTE)
        if last is not None and last[1] == line:
            self.comments.append(Comment(last[0], "beside", text))
        else:
            pending.append((line, text))

    def _above(self, pending: list[tuple[int, str]], path: Path) -> None:
        self.comments += [Comment(path, "above", text) for _, text in pending]
        pending.clear()

    def _before_head(self, pending: list[tuple[int, str]], line: int, table: Path, new: Path) -> None:
        """Lines that end right above the head of a table are its own; others end the table before."""
        own = line
        for at, _ in reversed(pending):
            if at != own - 1:
                break
            own = at
        self.comments += [Comment(table, "end", text) for at, text in pending if at < own]
        self.comments += [Comment(new, "above", text) for at, text in pending if at >= own]
        pending.clear()

    def _head(self) -> Path:
        double = self._text.startswith("[[", self._at)
        self._at += 2 if double else 1
        parts = self._key()
        self._take(_SPACE)
        self._at += 2 if double else 1
        path: Path = ()
        for number, part in enumerate(parts, start=1):
            path = (*path, part)
            if double and number == len(parts):
                self._counts[path] = self._counts.get(path, 0) + 1
            if path in self._counts:
                path = (*path, self._counts[path] - 1)
        return path

    def _key(self) -> Path:
        parts: list[str] = []
        while True:
            self._take(_SPACE)
            if self._text[self._at] in "\"'":
                parts.append(trusted_tables(f"key = {self._take(_STRING)}")["key"])
            else:
                parts.append(self._take(_BARE))
            self._take(_SPACE)
            if self._text[self._at] != ".":
                return tuple(parts)
            self._at += 1

    def _value(self, path: Path) -> int | None:
        """Skip a value; return the line on which it ends if it is a list."""
        letter = self._text[self._at]
        if letter in "\"'":
            self._take(_STRING)
        elif letter == "[":
            return self._list(path)
        elif letter == "{":
            self._inline(path)
        else:
            start = self._at
            self._at = start + len(self._take(_SCALAR).rstrip())
        return None

    def _list(self, path: Path) -> int:
        self._at += 1
        count, pending = 0, list[tuple[int, str]]()
        last: tuple[Path, int] | None = None
        begun = len(self.comments)
        while True:
            self._take(_GAP)
            line, letter = self._line(self._at), self._text[self._at]
            if letter == "#":
                self._note(last, line, pending)
            elif letter == ",":
                self._at += 1
                last = (last[0], line) if last is not None else None
            elif letter == "]":
                self._at += 1
                break
            else:
                entry = (*path, count)
                count += 1
                self._above(pending, entry)
                closes = self._value(entry)
                last = entry, self._line(self._at - 1)
                self.items[entry] = _LineRange(line, last[1], closes=closes)
        self.lengths[path] = count
        for at in range(begun, len(self.comments)):
            if self.comments[at].path[:-1] == path and self.comments[at].place != "end":
                self.comments[at] = replace(self.comments[at], of=count)
        self.comments += [Comment(path, "end", text) for _, text in pending]
        return line

    def _inline(self, path: Path) -> None:
        self._at += 1
        while True:
            self._take(_GAP)
            letter = self._text[self._at]
            if letter == "#":
                self.comments.append(Comment(path, "above", self._take(_NOTE)))
            elif letter in ",}":
                self._at += 1
                if letter == "}":
                    return
            else:
                key = (*path, *self._key())
                self._take(_SPACE)
                self._at += 1
                self._take(_SPACE)
                self._value(key)


# --- putting them back ---------------------------------------------------------------------------------------------


class _Setting:
    """A text written from values, with the comments to insert."""

    def __init__(self, text: str) -> None:
        self._lines = text.split("\n")
        self._scan = _Scan(text)
        self._inside: dict[Path, Path] = {}  # by every path that leads somewhere, the first that stands below it
        for path in sorted(self._scan.items, key=lambda one: self._scan.items[one].first):
            for depth in range(1, len(path)):
                self._inside.setdefault(path[:depth], path)
        self._over: dict[int, list[str]] = {}
        self._under: dict[int, list[str]] = {}
        self._trailing: dict[int, str] = {}

    def text_with(self, comments: Iterable[Comment]) -> str:
        """The text with these comments inserted."""
        for one in comments:
            self._put(one)
        return "\n".join(self._all())

    def _all(self) -> Iterator[str]:
        yield from self._under.get(-1, ())
        for number, line in enumerate(self._lines):
            yield from self._over.get(number, ())
            trailing = self._trailing.get(number)
            yield f"{line}  {trailing}" if trailing is not None else line
            yield from self._under.get(number, ())

    def _put(self, one: Comment) -> None:
        path, place = one.path, one.place
        if one.of and self._scan.lengths.get(path[:-1]) != one.of:  # nobody knows which entry it is now
            path, place = path[:-1], "above"
        item = self._scan.items.get(path)
        if item is None and path in self._inside:  # a table that has no head of its own
            item, place = self._scan.items[self._inside[path]], "above"
        if item is None and path:  # it is gone
            while path not in self._scan.items and path not in self._scan.body_ends:
                path = path[:-1]
            item, place = self._scan.items.get(path), "end"
        if place == "end" and path in self._scan.body_ends:
            self._under.setdefault(self._scan.body_ends[path], []).append(one.text)
        elif item is None:
            self._under.setdefault(-1, []).append(one.text)
        elif place == "end" and item.closes is not None and item.closes != item.first:
            self._set_over(item.closes, one.text, "    ")
        elif place == "beside" and self._fits(item.last, one.text):
            self._trailing[item.last] = one.text
        else:
            self._set_over(item.first, one.text)

    def _fits(self, line: int, text: str) -> bool:
        return line not in self._trailing and len(self._lines[line]) + len(text) + 2 <= LONGEST_LINE

    def _set_over(self, line: int, text: str, deeper: str = "") -> None:
        shown = self._lines[line]
        indent = shown[: len(shown) - len(shown.lstrip())] + deeper
        self._over.setdefault(line, []).append(indent + text)
