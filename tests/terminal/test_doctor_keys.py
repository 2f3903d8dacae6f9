"""The key delivery test in a real pseudo-terminal: bytes shown, nothing waited for without end, the terminal given back."""

from __future__ import annotations

import os
import signal
import sys
import threading
import time
from functools import partial
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are POSIX", allow_module_level=True)

import pty
import termios

from real_terminal import KEYS as BYTES
from real_terminal import RealTerminal
from stanchion.commands.key_delivery import PATIENCE, in_words, keys_of, raw, read_as, try_keys
from stanchion.ui.keys import KEYS


def modes(terminal: RealTerminal) -> list[object]:
    """How the terminal treats input and output."""
    return list(termios.tcgetattr(terminal.fd)[:4])


def test_each_key_asked_for_is_shown_with_its_bytes_and_judged(tmp_path: Path) -> None:
    with RealTerminal(tmp_path, "doctor", lines=90) as terminal:
        terminal.wait_for("F1  ")
        terminal.press("f1")
        terminal.wait_for("ESC O P  right", "F2  ")
        terminal.press("x")
        terminal.wait_for("NOT F2: x, read as X", "F3  ")
        terminal.press("esc")
        terminal.wait_for("skipped", "F4  ")
        terminal.press("\x03")
        assert terminal.wait_end() == 1
        for words in ("! came as something else: F2 (came: x", "skipped, or kept by the terminal: F3", "not tried"):
            assert words in terminal.text
        assert "1 of " in terminal.text


def skipped(terminal: RealTerminal, at_least: int) -> bool:
    return terminal.text.count("skipped") >= at_least


@pytest.mark.long
def test_esc_alone_comes_to_the_end_and_leaves_with_0(tmp_path: Path) -> None:
    keys = keys_of(KEYS)
    with RealTerminal(tmp_path, "doctor", lines=90) as terminal:
        for at in range(len(keys)):
            terminal.wait_for("F1  ")
            terminal.wait_until(partial(skipped, terminal, at))
            terminal.press("esc")
        assert terminal.wait_end() == 0
        assert f"0 of {len(keys)} keys came" in terminal.text.replace("\n", " ")


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_told_to_end_it_gives_the_terminal_back(tmp_path: Path, number: int) -> None:
    with RealTerminal(tmp_path, "doctor", lines=60) as terminal:
        before = modes(terminal)
        terminal.wait_for("F1  ")
        assert modes(terminal) != before
        os.kill(terminal.pid, number)
        assert terminal.wait_end() == 128 + number
        assert modes(terminal) == before
        assert terminal.raw.count(b"\x1b[>1u") == terminal.raw.count(b"\x1b[<u") == 1


def test_noise_and_pastes_are_not_repeated_and_do_not_end_it(tmp_path: Path) -> None:
    with RealTerminal(tmp_path, "doctor", lines=60) as terminal:
        terminal.wait_for("F1  ")
        os.write(terminal.fd, b"Zebedee")
        terminal.wait_for("NOT F1: 7 keys at once", "F2  ")
        os.write(terminal.fd, b"\xff\x1b[97;1:3u")
        terminal.wait_for("NOT F2", "F3  ")
        terminal.press("\x03")
        assert terminal.wait_end() == 1
        assert b"Zebedee" not in terminal.raw


def test_it_asks_nobody_when_told_not_to(tmp_path: Path) -> None:
    with RealTerminal(tmp_path, "doctor", "--no-keys", lines=60) as terminal:
        assert terminal.wait_end() == 0
        assert "not tried: --no-keys was given" in terminal.text


def test_a_small_terminal_is_told(tmp_path: Path) -> None:
    with RealTerminal(tmp_path, "doctor", "--no-keys", columns=50, lines=20) as terminal:
        terminal.wait_end()
        assert b"50 columns, 20 lines: small" in terminal.raw


def in_two_pieces(fd: int) -> None:
    """F5, as a slow line brings it."""
    time.sleep(0.1)
    os.write(fd, b"\x1b[1")
    time.sleep(0.01)
    os.write(fd, b"5~")


class TestWaiting:
    def test_nobody_at_the_keyboard_ends_it_and_is_no_fault(self) -> None:
        shown: list[str] = []
        ours, theirs = pty.openpty()
        results = try_keys(keys_of(KEYS), theirs, shown.append, wait_s=0.05)
        assert "".join(shown).count("nothing came") == PATIENCE
        assert not any(one.look for one in results)
        os.close(ours)
        os.close(theirs)

    def test_a_terminal_that_is_gone_ends_it(self) -> None:
        ours, theirs = pty.openpty()
        os.close(ours)
        results = try_keys([("f1", "Help")], theirs, lambda text: None, wait_s=5)
        assert [one.text for one in results] == ["0 of 1 keys came as the program needs them", "1 not tried"]
        os.close(theirs)

    def test_a_sequence_that_comes_in_two_pieces_is_one_key(self) -> None:
        ours, theirs = pty.openpty()
        with raw(theirs, lambda text: None):
            pieces = threading.Thread(target=in_two_pieces, args=(ours,))
            pieces.start()
            results = try_keys([("f5", "Sag")], theirs, lambda text: None, wait_s=5)
            pieces.join()
        assert results[0].text == "1 of 1 keys came as the program needs them"
        os.close(ours)
        os.close(theirs)


def test_every_direct_key_is_asked_for_once_and_is_known_to_the_parser() -> None:
    names = [name for name, _ in keys_of(KEYS)]
    assert len(names) == len(set(names))
    assert {one for key in KEYS for one in key.keys.split(",") if one} < set(names)
    for name, sent in BYTES.items():
        if name in names:
            assert read_as(sent.encode()) == [name]


def test_bytes_are_told_so_that_they_can_be_read_out() -> None:
    assert in_words(b"\x1b[1;5A") == "ESC [ 1 ; 5 A"
    assert in_words(b" \x7f\x00\xff") == "space DEL ^@ ff"
    assert in_words(b"a" * 9) == "a " * 8 + "…"
