"""The key delivery test of `stanchion doctor`: which bytes the terminal sends for each key, and how they are read.

The keys are read as the program reads them, with Textual's own parser and in the same mode of the terminal. POSIX.
"""

from __future__ import annotations

import contextlib
import os
import select
import signal
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from types import FrameType

from textual.events import Key as KeyEvent

from stanchion.commands.doctor import DoctorLine
from stanchion.ui.keys import Key, shown
from stanchion.ui.textual_hooks import XTermParser

WAIT_S = 10.0
"""How long a key is waited for."""
PATIENCE = 3
"""After so many keys in a row that did not come, the test ends: nobody seems to press them."""

_QUIET_S = 0.05
_MOST_BYTES = 8
_ENTRY = (
    ("enter", "next field"),
    ("tab", "next field"),
    ("up", "field above"),
    ("down", "field below"),
    ("left", "left in the text"),
    ("right", "right in the text"),
    ("pageup", "page up"),
    ("pagedown", "page down"),
    ("backspace", "delete"),
)
_UNTRIED = "not tried"


def keys_of(table: Iterable[Key]) -> list[tuple[str, str]]:
    """Every direct key of the program, function keys first, each with what it does where it does one thing only.

    >>> from stanchion.ui.keys import KEYS
    >>> keys_of(KEYS)[0]
    ('f1', 'Help')
    """
    words: dict[str, list[str]] = {}
    for row in table:
        for one in filter(None, row.keys.split(",")):
            words.setdefault(one, []).append(row.words)
    known = sorted(words, key=lambda key: (len(key) if key.startswith("f") else 9, key))
    named = [(key, words[key][0] if len(words[key]) == 1 else "by screen") for key in known]
    return [*named, *(entry for entry in _ENTRY if entry[0] not in words)]


def read_as(data: bytes) -> list[str]:
    r"""The keys that the program makes of these bytes.

    >>> read_as(b"\x1bOP"), read_as(b"\x11"), read_as(b"\x1b")
    (['f1'], ['ctrl+q'], ['escape'])
    """
    if data == b"\x1b":
        return ["escape"]
    try:
        events = list(XTermParser().feed(data.decode("utf-8", "replace")))
    except Exception:  # noqa: BLE001 - whatever the parser makes of noise, it is no key
        return []
    return [event.key for event in events if isinstance(event, KeyEvent)]


def in_words(data: bytes) -> str:
    r"""Bytes as a person can read them out.

    >>> in_words(b"\x1b[15~"), in_words(b"\x7f"), in_words(b"\x11"), in_words("\u00e9".encode())
    ('ESC [ 1 5 ~', 'DEL', '^Q', 'c3 a9')
    """
    written = [_byte(byte) for byte in data[:_MOST_BYTES]]
    return " ".join(written) + (" …" if len(data) > _MOST_BYTES else "")


def try_keys(
    keys: Sequence[tuple[str, str]], fd: int, say: Callable[[str], None], wait_s: float = WAIT_S
) -> list[DoctorLine]:
    """Ask for one key after another.

    Esc, or a time without a key, goes on to the next one. ^C ends the test, unless it is the key asked for.

    Args:
        keys: Textual's name of each key, and what it does.
        fd: the terminal, in the mode that `raw` puts it in.
        say: shows text as it is, without a newline of its own.
        wait_s: how long each is waited for.

    Returns:
        The lines to print at the end.
    """
    wrong, missed, waited, right = [], [], 0, 0
    tried = 0
    for key, words in keys:
        say(f"  {shown(key):<10} {words:<20} ")
        data = _pressed(fd, wait_s)
        names = read_as(data) if data else []
        if data == b"" or (names == ["ctrl+c"] and key != "ctrl+c"):
            say("ended\n")
            break
        tried += 1
        waited = waited + 1 if data is None else 0
        if data is None or names == ["escape"]:
            say("nothing came\n" if data is None else "skipped\n")
            missed.append(shown(key))
        elif names == [key]:
            say(f"{in_words(data)}  right\n")
            right += 1
        else:
            say(f"NOT {shown(key)}: {_received_words(data, names)}\n")
            wrong.append(f"{shown(key)} (came: {_received_words(data, names)})")
        if waited == PATIENCE:
            say(f"  {PATIENCE} keys in a row did not come: the test ends\n")
            break
    lines = [DoctorLine(f"{right} of {len(keys)} keys came as the program needs them")]
    if missed:
        lines.append(DoctorLine(f"skipped, or kept by the terminal: {', '.join(missed)}"))
    if tried < len(keys):
        lines.append(DoctorLine(f"{len(keys) - tried} {_UNTRIED}"))
    if wrong:
        lines.append(
            DoctorLine(f"came as something else: {', '.join(wrong)}. The letter after Esc does the same", look=True)
        )
    return lines


@contextlib.contextmanager
def raw(fd: int, say: Callable[[str], None]) -> Iterator[None]:
    """The terminal as the program has it while it reads keys; given back whatever happens, a signal to end too."""
    if sys.platform == "win32":
        yield
        return
    import termios  # noqa: PLC0415 -- POSIX

    before = termios.tcgetattr(fd)
    mode = termios.tcgetattr(fd)
    mode[0] &= ~(termios.IXON | termios.IXOFF | termios.ICRNL | termios.INLCR | termios.IGNCR)
    mode[3] &= ~(termios.ECHO | termios.ICANON | termios.IEXTEN | termios.ISIG)
    mode[6][termios.VMIN], mode[6][termios.VTIME] = 1, 0
    handlers = {number: signal.signal(number, _end) for number in (signal.SIGTERM, signal.SIGHUP)}
    try:
        termios.tcsetattr(fd, termios.TCSAFLUSH, mode)
        say("\x1b[>1u")  # keys that differ are sent differently if the terminal can, as Textual requests it
        yield
    finally:
        with contextlib.suppress(OSError):
            say("\x1b[<u")
        with contextlib.suppress(OSError, termios.error):  # a terminal that is gone needs nothing back
            termios.tcsetattr(fd, termios.TCSAFLUSH, before)
        for number, handler in handlers.items():
            signal.signal(number, handler)


def may_be_asked() -> str:
    """Why the keys cannot be tested; empty if they can."""
    if sys.platform == "win32":
        return "it reads keys on POSIX only"
    if sys.stdin is None or not (sys.stdin.isatty() and sys.stdout.isatty()):
        return "this does not run in a terminal, or its output goes elsewhere"
    try:
        ours = os.tcgetpgrp(sys.stdin.fileno()) == os.getpgrp()
    except OSError:
        ours = False
    return "" if ours else "it runs in the background"


def _end(number: int, _: FrameType | None) -> None:
    raise SystemExit(128 + number)


def _pressed(fd: int, wait_s: float) -> bytes | None:
    """What came after a key was asked for: None where nothing did in time, nothing where the terminal is gone."""
    data = b""
    try:
        while select.select([fd], [], [], wait_s if not data else _QUIET_S)[0]:
            more = os.read(fd, 1024)
            data += more
            if not more or len(data) > 4096:
                return data
    except OSError:
        return b""
    return data or None


def _received_words(data: bytes, names: list[str]) -> str:
    """What came in place of a key; what looks like typed or pasted text is not repeated."""
    if len(names) > 1:
        return f"{len(names)} keys at once"
    return in_words(data) + (f", read as {shown(names[0])}" if names else ", which is no key")


def _byte(byte: int) -> str:
    named = {0x1B: "ESC", 0x20: "space", 0x7F: "DEL"}
    if byte in named:
        return named[byte]
    if byte < 0x20:
        return f"^{chr(byte + 64)}"
    return chr(byte) if byte < 0x7F else f"{byte:02x}"
