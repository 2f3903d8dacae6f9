"""^C in a terminal while a command works on many files: it says how far it is, ends cleanly, and leaves all whole."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from stanchion.job.codec import loads

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are POSIX", allow_module_level=True)

from driving import many
from real_terminal import RealTerminal

COUNT = 400
"""Each takes some 15 ms: time enough to press a key, also on a machine that is faster."""


def test_an_import_is_stopped_and_what_is_in_is_whole(tmp_path: Path) -> None:
    many(tmp_path / "stick", COUNT)
    sources = sorted(map(str, (tmp_path / "stick").iterdir()))
    with RealTerminal(tmp_path / "home", "import", *sources) as terminal:
        terminal.wait_for("imported (^C stops)")
        terminal.press("\x03")
        assert terminal.wait_end() == 130
        text = "".join(terminal.text.split("\n"))
        assert "what was imported stays" in text
        assert b"Traceback" not in terminal.raw
    taken = [path for path in (tmp_path / "home" / "jobs").iterdir() if path.suffix == ".toml"]
    assert 0 < len(taken) < COUNT
    assert all(not loads(path.read_bytes()).edited_by_hand for path in taken)
    assert [path for path in (tmp_path / "home" / "jobs").iterdir() if path not in taken] == []


def test_a_long_first_list_on_the_screen_is_left_at_once(tmp_path: Path) -> None:
    many(tmp_path / "home" / "jobs", COUNT)
    with RealTerminal(tmp_path / "home") as terminal:
        terminal.wait_for("judged, Esc stops")
        terminal.press("ctrl+q")
        assert terminal.wait_end(5) == 0
