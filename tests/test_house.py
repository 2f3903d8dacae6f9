"""How the project's folder is kept."""

from __future__ import annotations

import os
import re
import stat
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
LEFT_BY_TOOLS = {"build", "dist", "__pycache__"}


def test_the_top_level_holds_what_was_agreed_and_nothing_else() -> None:
    names = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")} - LEFT_BY_TOOLS
    assert names == {"README.md", "DEVELOPERS.md", "pyproject.toml", "src", "tests", "themes", "sample_jobs"}


def test_the_readme_opens_with_one_paragraph_that_states_the_job() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    first = next(
        block
        for block in re.split(r"\n\s*\n", text)
        if block.strip() and not block.lstrip().startswith(("#", "!", "<"))
    )
    assert len(first.split()) >= 40


@pytest.mark.skipif(os.name != "posix", reason="there is no executable bit here")
def test_what_ci_runs_can_be_run() -> None:
    script = ROOT / ".ci" / "run"
    assert script.stat().st_mode & stat.S_IXUSR
    assert script.read_text("utf-8").startswith("#!/usr/bin/env bash\n")


def test_no_module_is_called_after_nothing_in_particular() -> None:
    vague = {"utils", "util", "helpers", "common", "misc", "tools", "lib"}
    named_so = [path for path in (ROOT / "src").rglob("*") if path.stem in vague]
    assert named_so == []


def test_folders_of_tests_are_no_packages() -> None:
    assert list((ROOT / "tests").rglob("__init__.py")) == []


def test_only_themes_and_jobs_lie_in_the_folders_that_ship() -> None:
    for folder in ("themes", "sample_jobs"):
        files = list((ROOT / folder).iterdir())
        assert files
        assert [path.name for path in files if path.suffix != ".toml"] == []
