"""Every check of the project in one command: format, lint, types, tests.

python tests/check.py            all of it
python tests/check.py -k sag     the same, with the tests narrowed as pytest does it

Every step runs even where an earlier one failed, so that one run shows all that is wrong. Exit status 0 means that
everything passed. Nothing is printed after pytest's own summary line unless something failed.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]

STEPS = (
    ("format", ("ruff", "format", "--check", ".")),
    ("lint", ("ruff", "check", ".")),
    ("types", ("mypy",)),
    ("tests", ("pytest", "-n", "6")),  # most of them wait for a screen or a disk
)


def main(pytest_arguments: list[str]) -> int:
    """Run the steps in order; 0 where all of them passed."""
    failed = []
    for name, command in STEPS:
        arguments = [*command, *(pytest_arguments if name == "tests" else ())]
        print(f"== {name}: {' '.join(arguments)}", flush=True)
        step = subprocess.run([sys.executable, "-m", *arguments], cwd=ROOT, stdin=subprocess.DEVNULL, check=False)
        if step.returncode:
            failed.append(name)
    if failed:
        print(f"== failed: {', '.join(failed)}", file=sys.stderr, flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
