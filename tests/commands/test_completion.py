"""The scripts that make shells complete, run by the shells themselves."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from stanchion.commands.arguments import SHELLS, parser, verbs_of
from stanchion.commands.command_line import main
from stanchion.store.samples import samples

JOB = "2026-05-16-quince-no-4-a-q.toml"


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A folder to type in: a job file and other files in it, jobs folders beside it, and the program on the path."""
    for folder, name in (("jobs", JOB), ("other", "elsewhere.toml")):
        (tmp_path / "home" / folder).mkdir(parents=True)
        (tmp_path / "home" / folder / name).write_bytes(samples()[0].data)
    here = tmp_path / "here"
    here.mkdir()
    (here / "two words.toml").write_bytes(samples()[0].data)
    (here / "picture.svg").touch()
    programs = tmp_path / "programs"
    programs.mkdir()
    run = programs / "stanchion"
    run.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m stanchion "$@"\n')
    run.chmod(0o755)
    return here


@pytest.fixture(params=SHELLS)
def shell(request: pytest.FixtureRequest) -> str:
    if not shutil.which(request.param):
        pytest.skip(f"{request.param} is not installed")
    return str(request.param)


def script_of(shell: str, capsys: pytest.CaptureFixture[str]) -> str:
    with pytest.raises(SystemExit) as end:
        main(["completion", shell])
    assert not end.value.code
    return capsys.readouterr().out


ASKS = {
    "bash": """
        source {script}
        COMP_WORDS=({words}); COMP_CWORD=$(( ${{#COMP_WORDS[@]}} - 1 ))
        _stanchion; printf '%s\\n' "${{COMPREPLY[@]}}"
    """,
    "fish": "source {script}; complete -C '{line}'",
}


def completed(shell: str, line: str, script: str, place: Path) -> set[str]:
    """What the shell offers for the last word of a line, which may be empty."""
    file = place.parent / f"script.{shell}"
    file.write_text(script)
    words = " ".join(f"'{word}'" for word in line.split(" "))
    environ = os.environ | {
        "PATH": f"{place.parent / 'programs'}:{os.environ['PATH']}",
        "STANCHION_HOME": str(place.parent / "home"),
        "HOME": str(place.parent),
    }
    environ.pop("STANCHION_JOBS", None)
    asked = ASKS[shell].format(script=file, words=words, line=line)
    flags = ["--norc", "-c"] if shell == "bash" else ["--no-config", "-c"]
    done = subprocess.run([shell, *flags, asked], cwd=place, env=environ, capture_output=True, text=True, check=False)
    assert not done.stderr, done.stderr
    return {one.partition("\t")[0] for one in done.stdout.splitlines()} - {""}


def test_every_script_is_sound_and_names_every_verb(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    script = script_of(shell, capsys)
    done = subprocess.run([shell, "-n"], input=script, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    for verb, arguments in verbs_of(parser()).items():
        assert verb in script
        for option in arguments._option_string_actions:
            assert option.lstrip("-") in script


@pytest.mark.parametrize("asked", ["bash", "fish"])
def test_verbs_options_and_jobs_are_completed(asked: str, place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    if not shutil.which(asked):
        pytest.skip(f"{asked} is not installed")
    script = script_of(asked, capsys)

    def offered(line: str) -> set[str]:
        return {one.replace("\\", "") for one in completed(asked, line, script, place)}

    assert offered("stanchion che") == {"check"}
    assert offered("stanchion check 2026") == {JOB}
    assert offered("stanchion check two") == {"two words.toml"}
    assert offered("stanchion two") == {"two words.toml"}
    assert offered("stanchion check pict") == set()
    other = place.parent / "home" / "other"
    assert offered(f"stanchion --jobs {other} check else") == {"elsewhere.toml"}
    assert {"--json", "--jobs"} <= offered("stanchion check --j")
    assert offered("stanchion completion z") == {"zsh"}
    assert offered("stanchion merge --take ") >= {"a", "b"}
    assert offered("stanchion sample soft") == {"soft_springs"}
    assert "picture.svg" in offered("stanchion sheet -o pict")


def test_zsh_completes_a_verb_and_a_job_at_its_prompt(place: Path, capsys: pytest.CaptureFixture[str]) -> None:
    if not shutil.which("zsh"):
        pytest.skip("zsh is not installed")
    script = place.parent / "script.zsh"
    script.write_text(script_of("zsh", capsys))
    asked = f"""
        zmodload zsh/zpty
        zpty shell zsh -f -i
        zpty -w shell "PS1=; fpath=($fpath); autoload -U compinit; compinit -D -u; source {script}; echo READY"
        zpty -r shell seen '*READY*READY*'
        zpty -n -w shell $'stanchion che\\t2026\\t\\C-a: \\C-e; echo END\\n'
        zpty -r shell seen '*END*END*'
        print -r -- "$seen"
    """
    environ = os.environ | {
        "PATH": f"{place.parent / 'programs'}:{os.environ['PATH']}",
        "STANCHION_HOME": str(place.parent / "home"),
        "HOME": str(place.parent),
        "TERM": "dumb",
    }
    done = subprocess.run(
        ["zsh", "-f", "-c", asked], cwd=place, env=environ, capture_output=True, text=True, check=False, timeout=60
    )
    assert f"check {JOB}" in " ".join(done.stdout.split()), done.stdout + done.stderr
