"""Whatever arrives on standard input, the program goes on, or ends with everything saved."""

from __future__ import annotations

import os
import random
import sys
from pathlib import Path

import pytest

from driving import a_job, workspace_in
from stanchion.job.codec import loads

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are POSIX", allow_module_level=True)

from real_terminal import RealTerminal

NOISE = {
    "a byte that is no UTF-8": b"\xff",
    "half a character, then text": b"\xe2\x88x",
    "a lone surrogate": b"\xed\xa0\x80",
    "NUL and C0": bytes(range(7)),
    "C1": bytes(range(0x80, 0xA0)),
    "a key event of another protocol": b"\x1b[97;1:3u",
    "two code points in one key": b"\x1b[97:65;2u",
    "a code point beyond Unicode": b"\x1b[99999999;1u",
    "huge numbers": b"\x1b[" + b"9" * 5000 + b";" + b"9" * 5000 + b"u",
    "a mouse report of nonsense": b"\x1b[<0;99999999999999999999;1M",
    "a mode report of nonsense": b"\x1b[?2048;99999999$y",
    "a size report of nonsense": b"\x1b[48;0;0;0;0t",
    "a paste that never ends": b"\x1b[200~12.5",
    "an escape inside a paste": b"\x1b[200~12.5\n33\x1b[31mz\x1b[201~",
    "a title": b"\x1b]0;owned\x07",
    "a device report": b"\x1bP>|noise\x1b\\",
}
QUIT = (b"\x11", b"\x1bq")
"""Quit keys: they may end the program, but with everything saved."""


def front_of(home: Path) -> None:
    """A job that opens on its front end screen."""
    workspace = workspace_in(home)
    workspace.create(a_job(("front.left.spring.rate_n_per_mm", 9.5)))
    workspace.remember("front")
    workspace.close()


def go(terminal: RealTerminal, key: str, word: str) -> None:
    """To another screen. Noise may have opened the strip of commands, and Escape closes it, or opens it where it had
    not: the first key may go there."""
    for _ in range(3):
        terminal.press(key)
        terminal.read(0.3)
        if word in terminal.text:
            return
    terminal.wait_for(word)


@pytest.mark.long
def test_the_next_key_after_noise_is_heard(tmp_path: Path) -> None:
    front_of(tmp_path)
    with RealTerminal(tmp_path) as terminal:
        terminal.wait_for("INSTALLED PRELOAD")
        for kind, noise in NOISE.items():
            print(f"after {kind}")  # shown where the next key is not heard
            go(terminal, "f3", "INSTALLED PRELOAD")
            os.write(terminal.fd, noise)
            terminal.read(0.3)
            os.write(terminal.fd, b"\x1b[201~")
            terminal.read(0.3)
            go(terminal, "f4", "LINKAGE")
        terminal.press("ctrl+q")
        assert terminal.wait_end() == 0
    (file,) = (tmp_path / "jobs").glob("*.toml")
    assert loads(file.read_bytes()).job.front.left.spring.rate_n_per_mm is not None


def test_random_bytes_end_nothing_but_by_a_quit_key_and_leave_whole_files(tmp_path: Path) -> None:
    front_of(tmp_path)
    rounds = int(os.environ.get("STANCHION_NOISE", "40"))
    dice = random.Random(20261125)
    at = 0
    while at < rounds:
        with RealTerminal(tmp_path) as terminal:
            terminal.wait_for("F9 Jobs", seconds=30)
            while at < rounds:
                at += 1
                blob = dice.randbytes(dice.randrange(1, 200))
                for key in QUIT:
                    blob = blob.replace(key, b"")
                os.write(terminal.fd, blob)
                terminal.read(0.02)
                ended, status = os.waitpid(terminal.pid, os.WNOHANG)
                if ended:
                    terminal.status = os.waitstatus_to_exitcode(status)
                    assert terminal.status == 0, (blob, bytes(terminal.raw[-3000:]))
                    break
            else:
                terminal.read(0.5)
    for file in (tmp_path / "jobs").glob("*.toml"):
        loads(file.read_bytes())
