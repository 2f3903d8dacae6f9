"""Coverage of branches room by room, and whether it keeps its limits: by hand, for it takes many minutes.

python tests/coverage_limits.py              run the tests under coverage, then judge
python tests/coverage_limits.py --measured   judge what the last run measured
python tests/coverage_limits.py tests/ui     run only these; the rooms they do not reach will be below their limits

Needs pytest-cov. Exit status 0 means that all tests passed and every limit is kept. Branches of other systems than the
one it runs on are left out, and so are the tests that only repeat for long what others do (see LONG).
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
PACKAGE = "src/stanchion/"
UI, ELSEWHERE, ITSELF = "ui", "all outside ui", "modules of stanchion/ itself"
LIMITS = {ELSEWHERE: 95.0, UI: 85.0}
"""Branches that must be covered at least, in per cent."""
LONG = (
    "tests/wheel",
    "tests/ui/test_long_use.py",
    "tests/terminal/test_noise.py",
    "tests/terminal/test_kill_program.py",
)


@dataclass(frozen=True, slots=True)
class Room:
    """What is covered of a room."""

    name: str
    lines: int
    lines_covered: int
    branches: int
    branches_covered: int

    @property
    def short(self) -> bool:
        """Whether it is below its limit."""
        return _share(self.branches_covered, self.branches) < LIMITS.get(self.name, 0.0)

    def row(self) -> str:
        """Its line of the table."""
        lines, branches = self.lines_covered, self.branches_covered
        shares = (
            _share(lines, self.lines),
            _share(branches, self.branches),
            _share(lines + branches, self.lines + self.branches),
        )
        cells = "".join(f"{share:8.1f} %" for share in shares)
        limit = f"{LIMITS[self.name]:8.1f} %" if self.name in LIMITS else ""
        return f"{self.name:<30}{cells}{limit}{'  BELOW ITS LIMIT' if self.short else ''}"


def _share(covered: int, of: int) -> float:
    return 100.0 * covered / of if of else 100.0


def rooms(files: Mapping[str, Any]) -> list[Room]:
    """The rooms, then all outside ui, then ui.

    Args:
        files: the part "files" of a report of coverage as JSON.
    """
    by_room: dict[str, list[Any]] = {}
    for path, measured in files.items():
        parts = Path(path).as_posix().removeprefix(PACKAGE).split("/")
        by_room.setdefault(parts[0] if len(parts) > 1 else ITSELF, []).append(measured["summary"])
    ui = by_room.pop(UI, [])
    elsewhere = [summary for summaries in by_room.values() for summary in summaries]
    found = [_added(name, summaries) for name, summaries in sorted(by_room.items())]
    return [*found, _added(ELSEWHERE, elsewhere), _added(UI, ui)]


def _added(name: str, summaries: Iterable[Mapping[str, int]]) -> Room:
    keys = ("num_statements", "covered_lines", "num_branches", "covered_branches")
    totals = [0, 0, 0, 0]
    for summary in summaries:
        totals = [total + summary[key] for total, key in zip(totals, keys, strict=True)]
    return Room(name, *totals)


def table(found: Iterable[Room]) -> str:
    """The rooms as a table."""
    head = f"{'room':<30}" + "".join(f"{name:>10}" for name in ("lines", "branches", "both", "limit"))
    return "\n".join([head, *(room.row() for room in found)])


def main(arguments: list[str]) -> int:
    """Run and judge; 0 where all is well."""
    status = 0
    if "--measured" not in arguments:
        left_out = [f"--ignore={path}" for path in LONG]
        command = ["pytest", "-q", "-n", "2", "--cov", "--cov-report=", *left_out, *(arguments or ["tests", "src"])]
        status = subprocess.run([sys.executable, "-m", *command], cwd=ROOT, check=False).returncode
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder) / "coverage.json"
        subprocess.run([sys.executable, "-m", "coverage", "json", "-q", "-o", str(report)], cwd=ROOT, check=True)
        found = rooms(json.loads(report.read_bytes())["files"])
    print(table(found))
    return 1 if status or any(room.short for room in found) else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
