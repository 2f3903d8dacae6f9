"""The real program in a real pseudo-terminal, its screen kept by pyte. POSIX only."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import sys
import termios
import time
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import Self

import pyte

from timing import HANGS_S

KEYS = {
    "enter": "\r",
    "esc": "\x1b",
    "tab": "\t",
    "up": "\x1b[A",
    "down": "\x1b[B",
    "right": "\x1b[C",
    "left": "\x1b[D",
    "pgdn": "\x1b[6~",
    "f1": "\x1bOP",
    "f2": "\x1bOQ",
    "f3": "\x1bOR",
    "f4": "\x1bOS",
    "f5": "\x1b[15~",
    "f6": "\x1b[17~",
    "f7": "\x1b[18~",
    "f8": "\x1b[19~",
    "f9": "\x1b[20~",
    "ctrl+n": "\x0e",
    "ctrl+q": "\x11",
    "ctrl+y": "\x19",
    "ctrl+z": "\x1a",
    "backspace": "\x7f",
}

PIECE = 2000
"""Bytes drawn between two looks at a screen that is watched."""


class RealTerminal:
    """Runs `python -m stanchion`, or another program of ours, and reads what a person would see."""

    def __init__(
        self,
        home: Path,
        *arguments: str,
        columns: int = 80,
        lines: int = 24,
        env: dict[str, str] | None = None,
        program: tuple[str, ...] = ("-m", "stanchion"),
    ) -> None:
        self.screen = pyte.Screen(columns, lines)
        self._stream = pyte.ByteStream(self.screen)
        self._text = ""
        self.raw = bytearray()
        """Every byte the program wrote."""
        self.watch: Callable[[pyte.Screen], None] | None = None
        """Is shown the screen after every few characters that are drawn, what stands for a moment only too."""
        self.status: int | None = None
        command = [sys.executable, *program, *arguments]
        environment = {
            **{k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "COLORTERM", "STANCHION_JOBS")},
            "STANCHION_HOME": str(home),
            "TERM": "xterm-256color",
            "LANG": "C.UTF-8",
            **(env or {}),
        }
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            signal.signal(signal.SIGINT, signal.SIG_DFL)  # ignored where tests run in the background
            os.execve(sys.executable, command, environment)
        self.resize(columns, lines)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, tb: TracebackType | None) -> None:
        if self.status is None:
            os.kill(self.pid, signal.SIGKILL)
            os.waitpid(self.pid, 0)
        os.close(self.fd)

    def resize(self, columns: int, lines: int) -> None:
        """Make the terminal another size."""
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))
        self.screen.resize(lines, columns)
        self._text = ""

    @property
    def text(self) -> str:
        """The screen as text. It is put together where something was drawn since the last look: most looks only wait."""
        self._text = self._text or "\n".join(self.screen.display)
        return self._text

    def read(self, seconds: float = 0.05) -> None:
        """Take in what the program writes within so many seconds."""
        end = time.monotonic() + seconds
        while (left := end - time.monotonic()) > 0:
            ready, _, _ = select.select([self.fd], [], [], left)
            if not ready:
                return
            try:
                data = os.read(self.fd, 65536)
            except OSError:
                return
            if not data:
                return
            self.raw += data
            step = len(data) if self.watch is None else PIECE
            for at in range(0, len(data), step):
                self._stream.feed(data[at : at + step])
                self._text = ""
                if self.watch is not None:
                    self.watch(self.screen)

    def read_to_the_end(self) -> None:
        """Take in all that a program that has ended left in the terminal, however long that takes on a busy machine."""
        seen = -1
        while seen < len(self.raw):
            seen = len(self.raw)
            self.read(1.0)

    def press(self, *keys: str) -> None:
        """Press keys: a name of KEYS, or text that is typed."""
        for key in keys:
            os.write(self.fd, KEYS.get(key, key).encode())
            self.read(0.05)

    def wait_until(self, true: Callable[[], bool], what: str = "it", seconds: float = HANGS_S) -> None:
        """Wait for something while the program goes on drawing."""
        end = time.monotonic() + seconds
        while not true():
            assert time.monotonic() < end, f"{what} did not come within {seconds} s\n{self.text}"
            self.read(0.1)

    def wait_for(self, *words: str, seconds: float = HANGS_S) -> None:
        """Wait until all of these stand on the screen."""
        self.read(0.1)
        self.wait_until(lambda: all(word in self.text for word in words), f"{words} on the screen", seconds)

    def wait_until_gone(self, word: str, seconds: float = HANGS_S) -> None:
        """Wait until this no longer stands on the screen."""
        self.read(0.1)
        self.wait_until(lambda: word not in self.text, f"a screen without {word!r}", seconds)

    def wait_end(self, seconds: float = HANGS_S) -> int:
        """Wait for the program to end and give its exit status (negative: the signal that killed it)."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            self.read(0.05)
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            if pid:
                self.read_to_the_end()
                self.status = os.waitstatus_to_exitcode(status)
                return self.status
        raise AssertionError(f"still running after {seconds} s\n{self.text}")
