"""The Pythons of this machine that the checks can run on. Printed, when run as a script: the newest of them.

Only the standard library is used, and nothing of this project: it runs before anything is installed.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

LOWEST = (3, 11)
ASKED_S = 60
"""A program of that name that does not answer for so long is passed over."""
QUESTION = (
    "import ensurepip, sys, sysconfig, venv; "
    "usual = sys.implementation.name == 'cpython' and sys.version_info.releaselevel == 'final' "
    "and not sysconfig.get_config_var('Py_GIL_DISABLED'); "
    "print(*sys.version_info[:3]) if usual else sys.exit(1)"
)


@dataclass(frozen=True, order=True)
class Python:
    """An interpreter that can make an environment with pip in it."""

    version: tuple[int, ...]
    path: str

    @property
    def name(self) -> str:
        """As in `3.12.1`."""
        return ".".join(map(str, self.version))


def candidates(environment: dict[str, str], home: Path) -> Iterator[Path]:
    """Whatever may be a Python: on the PATH, and where pyenv and uv keep theirs."""
    for named in environment.get("PATH", "").split(os.pathsep):
        if named:
            yield from sorted(path for path in Path(named).glob("python*") if _named_so(path.name))
    kept = (
        (Path(environment.get("PYENV_ROOT") or home / ".pyenv") / "versions", "*"),
        (Path(environment.get("UV_PYTHON_INSTALL_DIR") or home / ".local" / "share" / "uv" / "python"), "cpython-*"),
    )
    for folder, pattern in kept:
        for version in sorted(folder.glob(pattern)):
            yield from (path for path in (version / "bin" / "python3", version / "python.exe") if path.exists())


def _named_so(name: str) -> bool:
    return re.fullmatch(r"python(3(\.\d+)?)?(\.exe)?", name) is not None


def asked(path: Path) -> Python | None:
    """The Python at this path; None where it is none that the checks can run on."""
    clean = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    try:
        answer = subprocess.run(
            [path, "-c", QUESTION],
            env=clean,
            capture_output=True,
            text=True,
            stdin=subprocess.DEVNULL,
            timeout=ASKED_S,
            check=True,
        )
        version = tuple(int(part) for part in answer.stdout.split())
    except (OSError, subprocess.SubprocessError, ValueError):
        return None
    return Python(version, str(path)) if version >= LOWEST else None


def found(environment: dict[str, str], home: Path, own: Path | None = None) -> list[Python]:
    """One Python of each minor version, oldest first: the one given, otherwise the latest there is."""
    by_minor: dict[tuple[int, ...], Python] = {}
    seen: set[Path] = set()
    for path in candidates(environment, home):
        # A link into an environment is not followed: the environment would be lost.
        if path in seen or (path.parent.parent / "pyvenv.cfg").exists():
            continue
        seen.add(path)
        python = asked(path)
        if python is not None and python > by_minor.get(python.version[:2], Python((), "")):
            by_minor[python.version[:2]] = python
    if own is not None:
        by_minor[sys.version_info[:2]] = Python(tuple(sys.version_info[:3]), str(own))
    return sorted(by_minor.values())


if __name__ == "__main__":
    pythons = found(dict(os.environ), Path.home())
    print(pythons[-1].path if pythons else "")
