"""Esc and a letter that arrive in one read, as over ssh, through a multiplexer, or from Alt and a letter."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from desks import a_job, desk_in
from stanchion.job.codec import loads

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are POSIX", allow_module_level=True)

from real_terminal import RealTerminal


@pytest.mark.parametrize("sent", [b"\x1bj", b"\x1b[106;3u"], ids=["bytes", "protocol"])
def test_it_is_the_command_and_never_text(tmp_path: Path, sent: bytes) -> None:
    desk = desk_in(tmp_path)
    job = a_job(machine="Grey Mule")
    desk.create(job)
    desk.remember("machine")
    desk.close()
    with RealTerminal(tmp_path) as terminal:
        terminal.wait_for("Grey Mule", "F9 Jobs", seconds=60)
        os.write(terminal.fd, sent)
        terminal.wait_for("JOBS, newest first", seconds=60)
        terminal.press("ctrl+q")
        assert terminal.wait_end(60) == 0
    (file,) = (tmp_path / "jobs").glob("*.toml")
    assert loads(file.read_bytes()).job.job.machine == "Grey Mule"
