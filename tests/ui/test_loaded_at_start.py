"""What is loaded before the first figures: a count, since every module that the first screen does not need delays it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from driving import workspace_in
from random_edits import SAMPLES

MOST = 328
"""Modules of the program when the fork of an ordinary job is on the screen. Raise it only for what that screen needs."""
NOT_TO_START = (
    "stanchion.bench.guided_measuring",
    "stanchion.commands.arguments",
    "stanchion.planning",
    "stanchion.report",
    "stanchion.store.listing",
    "stanchion.ui.help_text",
    "stanchion.ui.screens.dialogs",
    "stanchion.ui.screens.machine",
    "stanchion.wording.glossary",
    "pint",
)
START = """
import asyncio, sys
from pathlib import Path
from stanchion.commands import command_line
from stanchion.bench.workspace import Workspace
from stanchion.store.paths import Places
from stanchion.ui.app import StanchionApp

async def started(folder):
    places = Places(*(folder / name for name in ("jobs", "config", "state", "cache")))
    app = StanchionApp(Workspace(places))
    async with app.run_test(size=(80, 24)):
        loaded = sorted(sys.modules)
        assert app.current_mode == "front", app.current_mode
        assert app.workspace.session.assessment.findings
    return loaded

print(*asyncio.run(started(Path(sys.argv[1]))))
"""


def test_the_first_screen_loads_no_more_than_it_needs(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    workspace.create(SAMPLES["soft_springs"])
    workspace.remember("front")
    workspace.close()
    ran = subprocess.run([sys.executable, "-c", START, str(tmp_path)], capture_output=True, text=True, check=False)
    assert ran.returncode == 0, ran.stderr
    loaded = ran.stdout.split()
    own = [name for name in loaded if name.split(".")[0] == "stanchion"]
    needless = [name for name in loaded if name.startswith(NOT_TO_START)]
    assert not needless
    assert len(own) <= MOST, f"{len(own)} modules, {MOST} before: " + " ".join(own)
