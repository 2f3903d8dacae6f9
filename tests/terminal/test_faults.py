"""A fault of the program keeps the job, gives the terminal back, and is written down without a word of the job."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from driving import a_job, workspace_in
from stanchion.job.codec import loads

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are POSIX", allow_module_level=True)

from real_terminal import RealTerminal

SRC = Path(__file__).parents[2] / "src"
BROKEN_SCREEN = """
import stanchion.ui.screens.setup_screens as parts

def broken(self, session):
    secret = session.job.job.rider
    raise KeyError(secret)

parts.SagScreen.show_figures = broken
"""
BROKEN_VERB = """
from stanchion.commands.verbs import VERBS

def broken(*given, **named):
    raise KeyError("B. T.")

VERBS["list"] = broken
"""


def env_with(folder: Path, breakage: str) -> dict[str, str]:
    """An environment in which something of the program is broken."""
    folder.mkdir()
    (folder / "sitecustomize.py").write_text(breakage)
    return {"PYTHONPATH": os.pathsep.join([str(folder), str(SRC)])}


def only_report(home: Path) -> str:
    (path,) = (home / "state" / "faults").iterdir()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    return path.read_text("utf-8")


def test_a_broken_screen_saves_and_reports_and_restores_the_terminal(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    workspace.create(a_job(("front.left.spring.rate_n_per_mm", 9.5), rider="Secret Rider", machine="Hidden Mule"))
    workspace.remember("front")
    workspace.close()
    with RealTerminal(tmp_path, env=env_with(tmp_path / "broken", BROKEN_SCREEN)) as terminal:
        terminal.wait_for("INSTALLED PRELOAD")
        os.write(terminal.fd, b"8.75\r\x1b[15~")
        assert terminal.wait_end() == 3
        output = bytes(terminal.raw[terminal.raw.rfind(b"\x1b[?1049l") :]).decode()
        assert b"\x1b[?25h" in terminal.raw
    assert "a fault in the program (KeyError)" in output
    assert "The job is saved" in output
    assert "Secret Rider" not in output
    (file,) = (tmp_path / "jobs").glob("*.toml")
    assert loads(file.read_bytes()).job.front.left.spring.rate_n_per_mm == 8.75
    report = only_report(tmp_path)
    assert "KeyError" in report
    assert "in broken" in report
    assert "screen: sag" in report
    for personal in ("Secret Rider", "Hidden Mule", str(tmp_path), str(Path.home())):
        assert personal not in report


def test_a_broken_verb_shows_no_traceback(tmp_path: Path) -> None:
    environment = {**os.environ, "STANCHION_HOME": str(tmp_path), **env_with(tmp_path / "broken", BROKEN_VERB)}
    run = subprocess.run(
        [sys.executable, "-m", "stanchion", "list"],
        capture_output=True,
        text=True,
        env=environment,
        timeout=60,
        check=False,
    )
    assert run.returncode == 3
    assert "a fault in the program (KeyError)" in run.stderr
    assert "Traceback" not in run.stderr
    assert "B. T." not in run.stderr + only_report(tmp_path)
