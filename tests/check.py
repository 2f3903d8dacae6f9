"""Every check of the project in one command: format, lint, types, tests.

python tests/check.py            all of it
python tests/check.py -k sag     the same on this Python alone, with the tests narrowed as pytest does it

All tests run on the newest Python of this machine. Before them, those of starting, ending and store run on each other
one from 3.11 on, and once with the lowest version of every package the program may be installed with. Each of these
gets an environment of its own; they are made, and their tests run, while the first steps run.

Every step runs even where an earlier one failed, so that one run shows all that is wrong. Exit status 0 means that
everything passed. Nothing is printed after pytest's own summary line unless something failed.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import tomllib
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from pythons import Python, found

ROOT = Path(__file__).parents[1]

STEPS = (
    ("format", ("ruff", "format", "--check", ".")),
    ("lint", ("ruff", "check", ".")),
    ("types", ("mypy",)),
)
COLLECT = ("pytest", "-q", "--collect-only", "-p", "no:cacheprovider")
"""Compiles every test once: otherwise each worker would, as all of them begin together."""
ALL_TESTS = ("pytest", "-n", "4", "--dist", "worksteal")
"""Some of them wait for a screen or a disk, so there are more workers than cores. Each begins with a part in order, which
keeps together the tests of a file that share what is dear to make."""

ELSEWHERE = ("-q", "-n", "2", "-m", "not long", "-p", "no:cacheprovider")
ON_EACH = (
    *ELSEWHERE,
    *("tests/terminal/test_real_terminal.py", "tests/terminal/test_ending.py"),
    *("tests/store", "tests/commands/test_command_line.py"),
)
"""What another Python can break: starting and ending in a terminal, signals, files and locks, the TOML reader, arguments.
Keys, colours and the order of imports are the same on every Python."""
WITH_LOWEST = (
    *ELSEWHERE,
    *(
        "tests/terminal/test_real_terminal.py",
        "tests/commands/test_command_line.py",
        "tests/units/test_quantity.py",
        "tests/report",
    ),
    *("tests/store/test_settings.py", "tests/ui/look/test_theme.py", "tests/ui/keys/test_keys.py"),
)
NEEDED_ELSEWHERE = ("pytest", "pytest-asyncio", "pytest-xdist", "hypothesis", "pyte")

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


def name_of(requirement: str) -> str:
    """The package a requirement names."""
    return re.split(r"[\s\[<>=!~;]", requirement, maxsplit=1)[0]


def lowest(requirements: list[str]) -> list[str]:
    """Each package held to the lowest version it may have.

    >>> lowest(["pint>=0.24.4,<0.27"])
    ['pint==0.24.4']
    """
    held = [re.fullmatch(r"([\w-]+)>=([\w.]+),<[\w.]+", requirement) for requirement in requirements]
    return [f"{bounds[1]}=={bounds[2]}" for bounds in held if bounds is not None]


@dataclass(frozen=True)
class Elsewhere:
    """Tests that run in an environment of their own.

    Args:
        title: what is printed of it.
        python: makes the environment.
        packages: installed beside the project.
        pytest: arguments.
        extra: of the project's optional packages, as in "[check]".
    """

    title: str
    python: Python
    packages: tuple[str, ...]
    pytest: tuple[str, ...]
    extra: str = ""

    def prepare(self, folder: Path, wheel: str) -> str:
        """Make the environment; its Python. Raises CalledProcessError, with what was printed, where it cannot be made.

        The pip of this Python puts everything in. It compiles nothing, because what it compiled would not be used.
        """
        run(self.python.path, "-m", "venv", "--without-pip", str(folder))
        python = str(folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python"))
        install = ("install", "--quiet", "--no-input", "--no-compile", "--disable-pip-version-check")
        run(sys.executable, "-m", "pip", "--python", python, *install, wheel + self.extra, *self.packages)
        return python

    def test(self, folder: Path, wheel: Future[str]) -> tuple[bool, str]:
        """Whether all passed, and what was printed: the last line where all passed, everything where not."""
        try:
            done = run(self.prepare(folder, wheel.result()), "-m", "pytest", *self.pytest)
        except subprocess.CalledProcessError as error:
            return False, f"{error.stdout}\n{error}"
        return True, done.strip().rpartition("\n")[2]


def built(folder: Path) -> str:
    """The path of the project's wheel, built in this folder. Raises CalledProcessError where it cannot be built."""
    run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(ROOT))
    (wheel,) = folder.glob("*.whl")
    return str(wheel)


IN_MEMORY = Path("/dev/shm")
ROOM = 2 * 1024**3
"""What must be free in memory before it is used instead of the disk [bytes]; the checks take a tenth of it."""


def in_memory() -> str | None:
    """A folder of temporary files that no disk has to take, where there is one with room enough."""
    try:
        room = shutil.disk_usage(IN_MEMORY).free
    except OSError:
        return None
    return str(IN_MEMORY) if room > ROOM and os.access(IN_MEMORY, os.W_OK) else None


BYTECODE = tempfile.TemporaryDirectory(prefix="stanchion-check-", dir=in_memory())
"""Where every Python that is run keeps what it has compiled: out of the project's folder, and gone afterwards."""


def environment() -> dict[str, str]:
    """What the checks run with: nothing that was set for another Python, and nothing compiled twice.

    Where PYTHONDONTWRITEBYTECODE is set, every test that starts the program would compile all of it anew.
    """
    kept = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    return {**kept, "PYTHONPYCACHEPREFIX": BYTECODE.name}


def without_disk(folder: str) -> dict[str, str]:
    """The environment, with temporary files in this folder if it lies in memory.

    The program waits for the disk at each save, and the tests save thousands of times. The tests on the other Pythons
    stay on the disk, so that all of store is tested there too.
    """
    return {**environment(), **({"TMPDIR": folder} if in_memory() else {})}


def run(*command: str) -> str:
    """Run a program in the project's folder; what it printed."""
    done = subprocess.run(
        command,
        cwd=ROOT,
        env=environment(),
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        check=True,
    )
    return done.stdout


def plan(pythons: list[Python]) -> list[Elsewhere]:
    """What runs elsewhere: a little on each Python but the newest, and on the oldest with the lowest versions."""
    wanted = [text for text in PROJECT["optional-dependencies"]["check"] if name_of(text) in NEEDED_ELSEWHERE]
    each = [
        Elsewhere(f"Python {python.name}, starting, ending and store", python, tuple(wanted), ON_EACH)
        for python in pythons[:-1]
    ]
    held = lowest(PROJECT["dependencies"])
    title = f"Python {pythons[0].name} with {', '.join(held)}"
    return [*each, Elsewhere(title, pythons[0], (*wanted, *held), WITH_LOWEST)]


def not_run(pythons: list[Python]) -> list[str]:
    """The Pythons the project says it is tested on and this machine has not."""
    here = {".".join(map(str, python.version[:2])) for python in pythons}
    named = [text.rpartition(" ")[2] for text in PROJECT["classifiers"] if re.search(r":: 3\.\d+$", text)]
    return [version for version in named if version not in here]


def step(title: str, python: str, *arguments: str) -> bool:
    """Run one module of Python, its output shown; whether it passed."""
    print(f"== {title}: {' '.join(arguments)}", flush=True)
    with tempfile.TemporaryDirectory(prefix="stanchion-tests-", dir=in_memory()) as folder:
        done = subprocess.run(
            [python, "-m", *arguments], cwd=ROOT, env=without_disk(folder), stdin=subprocess.DEVNULL, check=False
        )
    return not done.returncode


def main(pytest_arguments: list[str]) -> int:
    """Run the steps in order; 0 where all of them passed."""
    failed: list[str] = []
    if pytest_arguments:
        failed += [title for title, command in STEPS if not step(title, sys.executable, *command)]
        if not step("tests", sys.executable, *ALL_TESTS, *pytest_arguments):
            failed.append("tests")
        return exit_status(failed)

    pythons = found(dict(os.environ), Path.home(), Path(sys.executable))
    newest = pythons[-1]
    elsewhere = plan(pythons)
    for version in not_run(pythons):
        print(f"== Python {version} is not on this machine: nothing was run on it", flush=True)
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor(2 + len(elsewhere)) as workers:
        wheel = workers.submit(built, Path(folder) / "dist")
        whole = Future[str]()
        if newest.path == sys.executable:
            whole.set_result(sys.executable)
        else:
            everything = Elsewhere("tests", newest, ("pip",), ALL_TESTS, "[check]")
            whole = workers.submit(lambda: everything.prepare(Path(folder) / "all", wheel.result()))
        runs = [workers.submit(one.test, Path(folder) / str(at), wheel) for at, one in enumerate(elsewhere)]
        collected = workers.submit(lambda: run(whole.result(), "-m", *COLLECT))
        failed += [title for title, command in STEPS if not step(title, sys.executable, *command)]
        for one, ran in zip(elsewhere, runs, strict=True):
            passed, text = ran.result()
            print(f"== {one.title}: {text}", flush=True)
            if not passed:
                failed.append(one.title)
        try:
            collected.result()
            if not step(f"tests on Python {newest.name}", whole.result(), *ALL_TESTS):
                failed.append("tests")
        except subprocess.CalledProcessError as error:
            print(f"{error.stdout}\n{error}", flush=True)
            failed.append("tests")
    return exit_status(failed)


def exit_status(failed: list[str]) -> int:
    """Say what failed; the exit status."""
    if failed:
        print(f"== failed: {', '.join(failed)}", file=sys.stderr, flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
