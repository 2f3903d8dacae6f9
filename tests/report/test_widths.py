"""What is printed into a terminal keeps to its width; what goes elsewhere does not depend on one."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from stanchion.job.codec import loads
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.planning.machine_story import story_rows
from stanchion.report.check import as_text
from stanchion.report.lines import list_lines
from stanchion.report.story import story_in
from stanchion.store.samples import samples
from stanchion.units.known_units import METRIC

JOBS = (
    ("2026-05-31", "Grey Mule", "A. Venn", "Windfall Ring", "FAULT Fork: spring loose at full extension", "mule.toml"),
    ("2026-05-30", "Nettle", "", "", "nothing to warn about", "2026-05-30-nettle-of-the-workshop-in-the-valley.toml"),
)


@pytest.mark.parametrize("width", [60, 80, 100, 120, 200])
def test_the_list_cuts_nothing_and_keeps_to_the_width(width: int) -> None:
    lines = list(list_lines(JOBS, width))
    assert max(map(len, lines)) <= width
    words = " ".join(" ".join(lines).split())
    for job in JOBS:
        for cell in filter(None, job):
            assert cell in words
    assert sum(line.startswith(("1  ", "2  ")) for line in lines) == len(JOBS)


@pytest.mark.parametrize("width", [40, 60, 80, 120, 250])
def test_check_keeps_to_the_width_and_says_the_same(width: int) -> None:
    for sample in samples():
        job = loads(sample.data).job
        assessment = assess(job, load_profiles())
        text = as_text(sample.name, job, assessment, width=width)
        assert max(map(len, text.splitlines())) <= width
        assert text.split() == as_text(sample.name, job, assessment).split()


@pytest.mark.parametrize("width", [60, 80, 120, 160, 250])
def test_the_story_keeps_to_the_width_and_names_what_has_no_room(width: int) -> None:
    jobs = [(f"{sample.name}.toml", loads(sample.data).job) for sample in samples()]
    rows = list(story_rows(jobs, load_profiles()))
    lines = list(story_in(rows, METRIC, width))
    assert max(map(len, lines)) <= width
    words = " ".join(lines)
    assert ("No room here for" in words) is (width < 250)
    assert "spring rate 9.50" in " ".join(words.split())
    for row in rows:
        assert row.job.job.date.isoformat() in words
    if width >= 250:
        assert "file" in words


def printed(home: Path, columns: int, *arguments: str) -> list[str]:
    """The lines that a command prints into a terminal of that width."""
    import fcntl
    import struct
    import termios

    ours, theirs = os.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
    environ = {**os.environ, "STANCHION_HOME": str(home), "COLUMNS": "200", "TERM": "xterm", "LANG": "C.UTF-8"}
    environ.pop("STANCHION_JOBS", None)
    running = subprocess.Popen(
        [sys.executable, "-m", "stanchion", *arguments], stdout=theirs, stderr=subprocess.DEVNULL, env=environ
    )
    os.close(theirs)
    words = b""
    try:
        while part := os.read(ours, 65536):
            words += part
    except OSError:  # Linux tells the end of a pseudo-terminal so
        pass
    os.close(ours)
    running.wait(60)
    return words.decode().splitlines()


@pytest.mark.skipif(sys.platform == "win32", reason="there are no pseudo-terminals there")
@pytest.mark.parametrize(
    "verb", ["list", "story", "check soft.toml", "doctor --no-keys", "compare soft.toml well.toml"]
)
@pytest.mark.parametrize("columns", [60, 90])
def test_the_terminal_itself_is_asked_for_its_width(tmp_path: Path, verb: str, columns: int) -> None:
    (tmp_path / "jobs").mkdir()
    for sample in samples():
        if sample.name in ("soft_springs", "well_set"):
            (tmp_path / "jobs" / f"{sample.name.split('_')[0]}.toml").write_bytes(sample.data)
    lines = printed(tmp_path, columns, *verb.split())
    assert len(lines) > 2
    assert max(map(len, lines)) <= columns
