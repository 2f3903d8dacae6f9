"""From the command to the first figures, from a key to its echo and its figures, and memory, beside a bare application.

`python tests/benchmarks/starting.py [ROUNDS] [JOBS]`: both programs run turn about, each time in a new
pseudo-terminal of 80 by 24; what counts is the median of the ratios. JOBS makes so many more jobs in the folder.
The programs run from a copy with compiled modules, as an installed program does.
"""

from __future__ import annotations

import compileall
import fcntl
import os
import pty
import select
import shutil
import signal
import statistics
import struct
import sys
import tempfile
import termios
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter, sleep

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]

from complete_job import complete_job  # noqa: E402
from driving import many, workspace_in  # noqa: E402

PATIENCE_S = 30.0
TYPED = b"5"
UNDO = b"\x7f"
STROKES = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Program:
    """A program to start, and what on its screen says how far it is."""

    command: tuple[str, ...]
    ready: bytes
    """What is written with the first figures."""
    prepare: bytes
    """Keys that bring it to where the next key changes a figure."""
    echo: bytes
    """What the key changes where it is typed."""
    figures: bytes
    """What the key changes elsewhere."""


class Running:
    """A program in a pseudo-terminal; only bytes are looked at, since keeping a screen would cost more than drawing it."""

    def __init__(self, program: Program, environment: dict[str, str]) -> None:
        self.program = program
        self.seen = bytearray()
        self.began = perf_counter()
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            os.execve(sys.executable, [sys.executable, *program.command], environment)
        fcntl.ioctl(self.fd, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))

    def until(self, *wanted: bytes) -> dict[bytes, float]:
        """When each of these had been written since the last look [s of the clock]."""
        found: dict[bytes, float] = {}
        end = perf_counter() + PATIENCE_S
        while len(found) < len(wanted):
            left = end - perf_counter()
            if left <= 0 or not select.select([self.fd], [], [], left)[0]:
                raise TimeoutError(f"{self.program.command}: never wrote {wanted}; wrote {bytes(self.seen[-2000:])!r}")
            self.seen += os.read(self.fd, 65536)
            now = perf_counter()
            found |= {word: now for word in wanted if word not in found and word in self.seen}
        return found

    def type(self, keys: bytes) -> float:
        """Press keys; what was written so far is forgotten."""
        self.quiet(0.05)
        self.seen.clear()
        os.write(self.fd, keys)
        return perf_counter()

    def quiet(self, seconds: float) -> None:
        """Wait until nothing was written for so long; a blinking cursor is let blink."""
        while select.select([self.fd], [], [], seconds)[0]:
            os.read(self.fd, 65536)

    def peak_mb(self) -> float:
        """The most memory it held so far [MB]."""
        status = Path(f"/proc/{self.pid}/status").read_text()
        return next(float(line.split()[1]) / 1024 for line in status.splitlines() if line.startswith("VmHWM"))

    def end(self) -> None:
        """Stop it."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.fd)


def measure(program: Program, environment: dict[str, str]) -> dict[str, float]:
    """One start and some keys: milliseconds and megabytes."""
    running = Running(program, environment)
    try:
        start = running.until(program.ready)[program.ready] - running.began
        sleep(0.3)
        if program.prepare:
            running.type(program.prepare)
            sleep(0.3)
        echoes, figures = [], []
        for _ in range(STROKES):
            began = running.type(TYPED)
            seen = running.until(program.echo, program.figures)
            echoes.append(seen[program.echo] - began)
            figures.append(seen[program.figures] - began)
            running.type(UNDO)
            running.quiet(0.06)
        return {
            "start to first figures, ms": 1000 * start,
            "key to echo, ms": 1000 * statistics.median(echoes),
            "key to figures, ms": 1000 * statistics.median(figures),
            "peak memory, MB": running.peak_mb(),
        }
    finally:
        running.end()


def main(rounds: int = 15, jobs: int = 0) -> None:
    """Print medians of both, and the median of the ratios."""
    home = Path(tempfile.mkdtemp(prefix="stanchion-start-"))
    try:
        compiled = home / "src"
        shutil.copytree(ROOT / "src", compiled)
        for name in ("themes", "sample_jobs"):
            shutil.copytree(ROOT / name, compiled / "stanchion" / name)
        compileall.compile_dir(compiled, quiet=2)
        workspace = workspace_in(home)
        many(home / "jobs", jobs)
        workspace.create(complete_job())
        workspace.remember("front")
        workspace.close()
        environment = {
            **{name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "STANCHION"))},
            "PYTHONPATH": str(compiled),
            "STANCHION_HOME": str(home),
            "TERM": "xterm-256color",
        }
        ours = Program(
            command=("-m", "stanchion"),
            ready=b"Force now",
            prepare=b"\r\r238.",
            echo=b"238.5",
            figures=b"14.3",
        )
        bare = Program(
            command=(str(Path(__file__).with_name("bare.py")),),
            ready=b"READY",
            prepare=b"238.",
            echo=b"238.5",
            figures=b"copy 238.5",
        )
        measure(ours, environment)
        pairs = [(measure(bare, environment), measure(ours, environment)) for _ in range(rounds)]
    finally:
        shutil.rmtree(home)
    print(f"{rounds} rounds, {jobs} more jobs in the folder{'':<8}bare   stanchion   ratio")
    for name in pairs[0][0]:
        one, other = (statistics.median(pair[at][name] for pair in pairs) for at in (0, 1))
        ratio = statistics.median(pair[1][name] / pair[0][name] for pair in pairs)
        print(f"  {name:<36}{one:10.1f}{other:12.1f}{ratio:8.2f}")


if __name__ == "__main__":
    main(*(int(argument) for argument in sys.argv[1:]))
