"""How long the screen is held while a slow disk saves: `python tests/benchmarks/holding.py [ROUNDS]`.

The program runs in a pseudo-terminal, on a disk whose every flush takes 2 s and on one as it is, turn about. A beat
every millisecond on the thread of the screen tells for how long nothing else could run there; what is printed is the
longest such time in each kind of work: its median over the rounds, and the longest of all with what of it the thread
was at work. A thread at work for less was waiting: for the disk, or on a busy machine for its turn.
"""

from __future__ import annotations

import json
import os
import signal
import statistics
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from time import monotonic, sleep, thread_time

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "src"), str(ROOT / "tests")]

from real_terminal import KEYS, RealTerminal  # noqa: E402

FLUSH_S = 2.0
BEAT_S = 0.001
WANTED_MS = 16.0


def watched(home: Path, log: Path, *, slow: bool) -> None:
    """Run the program, and write down every hold of the screen's thread when it ends."""
    import asyncio

    from stanchion.bench.workspace import Workspace
    from stanchion.store.disk import Disk
    from stanchion.store.paths import Places
    from stanchion.ui.app import StanchionApp

    holds: list[tuple[float, float, float]] = []
    flushes: list[float] = []

    def flush(disk: Disk, fd: int) -> None:
        flushes.append(monotonic())
        sleep(FLUSH_S if slow else 0)
        os.fsync(fd)

    Disk.sync = flush  # type: ignore[method-assign,assignment]
    Disk.sync_folder = flush  # type: ignore[method-assign,assignment]

    def mounted(app: StanchionApp) -> None:
        as_it_is(app)
        loop, last, worked = asyncio.get_running_loop(), monotonic(), thread_time()

        def beat() -> None:
            nonlocal last, worked
            now, work = monotonic(), thread_time()
            if now - last > 2 * BEAT_S:
                holds.append((last, now - last - BEAT_S, work - worked))
            last, worked = now, work
            loop.call_later(BEAT_S, beat)

        beat()

    as_it_is, StanchionApp.on_mount = StanchionApp.on_mount, mounted  # type: ignore[method-assign,assignment]
    StanchionApp(Workspace(Places(home / "jobs", home / "config", home / "state", home / "cache"))).run(mouse=False)
    log.write_text(json.dumps({"holds": holds, "flushes": flushes}))


class Bench:
    """The program in its terminal, which is read all the while: one that takes nothing more holds any program."""

    def __init__(self, terminal: RealTerminal) -> None:
        self.terminal = terminal

    def wait(self, seconds: float) -> None:
        """Take in what it writes for so long."""
        end = monotonic() + seconds
        while (left := end - monotonic()) > 0:
            self.terminal.read(left)

    def press(self, keys: str, rest: float = 0.03) -> None:
        """Press keys, and let it draw."""
        os.write(self.terminal.fd, keys.encode())
        self.wait(rest)


def typing(bench: Bench) -> None:
    """A value typed and taken away again, many times over."""
    bench.press("\r\r")
    for key in "238.5\x7f\x7f\x7f\x7f\x7f" * 40:
        bench.press(key)


def screens(bench: Bench) -> None:
    """One screen after the other."""
    for key in ("f2", "f3", "f4", "f5", "f6", "esc", "f2", "f3"):
        bench.press(KEYS[key], 0.3)


def units(bench: Bench) -> None:
    """Other units: the first time pint is loaded."""
    for key in "ki":
        bench.press("\x1b", 0.5)
        bench.press(key, 1.0)


def theme(bench: Bench) -> None:
    """Another theme."""
    bench.press("\x1b", 0.5)
    bench.press("t", 1.5)


def carrying(bench: Bench) -> None:
    """A new job of this one, and readings typed into it at once."""
    bench.press(KEYS["f8"], 0.3)
    bench.press(KEYS["f8"], 0.3)
    for key in "142\r142.5\r" * 2:
        bench.press(key, 0.3)


def opening(bench: Bench) -> None:
    """The list, and another job of it while the last one is still written."""
    bench.press(KEYS["f9"], 0.5)
    for key in "second\r":
        bench.press(key, 0.1)
    bench.wait(0.5)


def binning(bench: Bench) -> None:
    """A job moved to the bin, and the filter typed on."""
    bench.press(KEYS["f9"], 0.5)
    for key in "third\x04":
        bench.press(key, 0.1)
    bench.press(KEYS["down"], 0.1)
    bench.press("\r", 0.1)
    for key in "\x7f" * 5 + "second":
        bench.press(key, 0.1)
    bench.wait(0.5)


WORKS: dict[str, Callable[[Bench], None]] = {
    "typing": typing,
    "typing on": typing,
    "other screens": screens,
    "other units": units,
    "another theme": theme,
    "a new job of this one": carrying,
    "another job opened": opening,
    "a job to the bin": binning,
}


def one(home: Path, *, slow: bool) -> tuple[dict[str, tuple[float, float]], int]:
    """The longest hold of each kind of work [ms] and what of it was work, and how often something was flushed."""
    log = home / "log.json"
    spans: dict[str, tuple[float, float]] = {}
    arguments = ("--watched", str(home), str(log), "slow" if slow else "fast")
    with RealTerminal(home, *arguments, program=(__file__,)) as terminal:
        terminal.wait_for("Force now")
        bench = Bench(terminal)
        bench.wait(1.0)
        for name, work in WORKS.items():
            began = monotonic()
            work(bench)
            spans[name] = began, monotonic()
        bench.wait(0.1)  # the end waits for the disk, and is not part of the last work
        os.kill(terminal.pid, signal.SIGTERM)
        terminal.wait_end(60)
    log_lines = json.loads(log.read_text())
    longest = {}
    for name, (began, ended) in spans.items():
        hold, worked = max((hold, worked) for at, hold, worked in log_lines["holds"] if began <= at < ended)
        longest[name] = 1000 * hold, 1000 * worked
    return longest, len(log_lines["flushes"])


def main(rounds: int = 5) -> None:
    """Print the medians of both."""
    from complete_job import complete_job
    from driving import a_job, workspace_in

    found: dict[bool, list[dict[str, tuple[float, float]]]] = {False: [], True: []}
    flushed = {False: 0, True: 0}
    for _ in range(rounds):
        for slow in (False, True):
            with tempfile.TemporaryDirectory(prefix="stanchion-hold-") as folder:
                workspace = workspace_in(Path(folder))
                for name in ("Third Heron", "Second Heron"):
                    workspace.create(a_job(machine=name))
                workspace.create(complete_job())
                workspace.remember("front")
                workspace.close()
                longest, count = one(Path(folder), slow=slow)
                found[slow].append(longest)
                flushed[slow] += count
    print(f"longest hold of the screen [ms], median (most) of {rounds} rounds; wanted {WANTED_MS:.0f}")
    print(f"{'':<26}{'disk as it is':>30}{f'every flush {FLUSH_S:.0f} s':>30}")
    for name in WORKS:
        cells = []
        for slow in (False, True):
            holds = [one[name] for one in found[slow]]
            median = statistics.median(hold for hold, _ in holds)
            cells.append(f"{median:.1f} ({max(holds)[0]:.1f}, {max(holds)[1]:.1f} at work)")
        print(f"  {name:<24}{cells[0]:>30}{cells[1]:>30}")
    print(f"  flushes in all: {flushed[False]} and {flushed[True]}")


if __name__ == "__main__":
    if sys.argv[1:2] == ["--watched"]:
        watched(Path(sys.argv[2]), Path(sys.argv[3]), slow=sys.argv[4] == "slow")
    else:
        main(*(int(argument) for argument in sys.argv[1:]))
