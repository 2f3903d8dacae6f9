"""Each verb's help ends with examples; each is run here as it stands."""

from __future__ import annotations

import io
import json
import shlex
from pathlib import Path

import pytest

from stanchion.commands import command_line, start_screen
from stanchion.commands.arguments import parser, verbs_of
from stanchion.commands.command_line import main
from stanchion.store.samples import samples

FINE = {"check": {0, 1, 2}, "doctor": {0, 1}}
"""Of most verbs only status 0 is fine; `check` says with its status how the job is."""


def examples() -> list[tuple[str, str]]:
    """Every example, with its verb."""
    found = []
    for verb, arguments in verbs_of(parser()).items():
        heading, *lines = (arguments.epilog or "").splitlines()
        assert heading in ("example:", "examples:"), verb
        found += [(verb, line.strip()) for line in lines]
    return found


@pytest.mark.parametrize(("verb", "line"), examples(), ids=[line for _, line in examples()])
def test_every_example_does_what_it_says(
    verb: str, line: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path / "home"))
    monkeypatch.delenv("STANCHION_JOBS", raising=False)
    monkeypatch.chdir(tmp_path)
    (tmp_path / "home" / "jobs").mkdir(parents=True)
    for sample in samples():
        (tmp_path / f"{sample.name}.toml").write_bytes(sample.data)
        (tmp_path / "home" / "jobs" / f"{sample.name}.toml").write_bytes(sample.data)
    (tmp_path / "copy.toml").write_bytes((tmp_path / "soft_springs.toml").read_bytes())
    shown: list[Path | None] = []

    def screen(jobs: str | None, sample: str | None, path: Path | None = None) -> int:
        del jobs, sample
        shown.append(path)
        return 0

    for module in (command_line, start_screen):
        monkeypatch.setattr(module, "start_screen", screen)
    program, *words = shlex.split(line)
    assert program == "stanchion"
    if "<" in words:
        at = words.index("<")
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(Path(words[at + 1]).read_bytes())))
        words = words[:at]
    if ">" in words:
        words = words[: words.index(">")]
    with pytest.raises(SystemExit) as end:
        main(words)
    printed = capsys.readouterr()
    assert end.value.code in FINE.get(verb, {0}), printed.err
    assert printed.out or "-o" in words or shown
    if verb == "open":
        assert shown[0] is not None
        assert shown[0].exists()
    if "--json" in words:
        json.loads(printed.out)
    if "-o" in words:
        assert Path(words[words.index("-o") + 1]).read_bytes()
