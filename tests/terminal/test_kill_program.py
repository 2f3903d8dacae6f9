"""The real program, killed while somebody types: no job is ever half a job, and "saved" on the screen means saved.

STANCHION_KILLS=1000 is the long form. Each round starts the program, types a text into a field and kills the process
at a random moment of that; what the last screen showed is then held against the file.
"""

from __future__ import annotations

import os
import random
import signal
import string
import sys
import threading
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from types import TracebackType
from typing import Self

import pytest

from stanchion.job.carry import identified
from stanchion.job.codec import loads

if sys.platform == "win32":
    pytest.skip("pseudo-terminals are POSIX", allow_module_level=True)

from driving import a_job, workspace_in
from real_terminal import KEYS, RealTerminal

KILLS = int(os.environ.get("STANCHION_KILLS", "12"))
LONGEST_S = 2.5
"""Typing goes on so long at most; three or four saves fall into it."""


def rounds(seen: Counter[str], **least: int) -> Iterator[int]:
    """KILLS rounds, and more of them while what is looked for was not seen often enough: chance may miss its moment."""
    number = 0
    while number < KILLS or any(seen[what] < times for what, times in least.items()):
        assert number < 8 * KILLS, "the moments that are looked for never come"
        yield number
        number += 1


def a_text(chance: random.Random) -> str:
    """A name to type; no two rounds type the same."""
    return "M" + "".join(chance.choice(string.ascii_lowercase) for _ in range(30))


def listen(terminal: RealTerminal, seconds: float) -> None:
    """Take in all that the program writes in so many seconds."""
    end = time.monotonic() + seconds
    while (left := end - time.monotonic()) > 0:
        terminal.read(left)


def type_and_kill(home: Path, text: str, chance: random.Random, *first: str) -> tuple[str, bool]:
    """Type the text key by key, after these keys, and kill the program in the middle of it.

    Returns:
        The machine's name as the bar last showed it, and whether the bar called that saved.
    """
    with RealTerminal(home, columns=120, lines=30) as terminal:
        terminal.wait_for("Set up for", "saved")
        end = time.monotonic() + chance.random() * LONGEST_S
        for key in first:
            os.write(terminal.fd, KEYS[key].encode())
        keys = iter(text)
        while (left := end - time.monotonic()) > 0:
            key = next(keys, "")
            if key:
                os.write(terminal.fd, key.encode())
            rest = chance.uniform(0.4, 1.2) if chance.random() < 0.2 else chance.uniform(0.01, 0.06)
            listen(terminal, min(left, rest))
        os.kill(terminal.pid, signal.SIGKILL)
        assert terminal.wait_end() == -signal.SIGKILL
        bar = terminal.screen.display[0]
        return bar.split(" · ", 1)[0].strip(), "saved" in bar


FIELDS = {"Spring rate": "rate_n_per_mm", "Free length": "free_length_mm", "Set length ": "set_length_mm"}
"""Lines of the sheet of the fork, and what they hold."""
KEYED = "0123456789" * 2 + "..,xm-"
"""Numbers, their beginnings, and what is none."""


def cells(terminal: RealTerminal) -> dict[str, str]:
    """What the sheet of the fork shows in these fields."""
    lines = [line[1:] for line in terminal.screen.display]
    found = {label: next((line[23:32].strip() for line in lines if line.startswith(label)), "") for label in FIELDS}
    return {label: text.rstrip("!").strip() for label, text in found.items()}


def values(shown: dict[str, str]) -> list[float | None] | None:
    """The numbers that a screen shows, a unit typed behind one left out; None where one of them cannot be read."""
    try:
        return [float(text.removesuffix("mm").replace(",", ".")) if text else None for text in shown.values()]
    except ValueError:
        return None


class Watched:
    """Every state that a file goes through."""

    def __init__(self, path: Path) -> None:
        self.states = {path.read_bytes()}
        self._path, self._end = path, threading.Event()
        self._thread = threading.Thread(target=self._watch)

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, tb: TracebackType | None) -> None:
        self._end.set()
        self._thread.join()
        self.states.add(self._path.read_bytes())

    def _watch(self) -> None:
        while not self._end.wait(0.002):
            self.states.add(self._path.read_bytes())


def key_and_kill(home: Path, chance: random.Random) -> tuple[dict[str, str], str]:
    """Change some fields, and kill the program at about the moment at which it echoes the last key.

    Returns:
        The fields as the last frame shows them, and the bar over them.
    """
    with RealTerminal(home, columns=100, lines=30) as terminal:
        terminal.wait_for("Spring rate", "Esc all keys")
        for _ in range(chance.randrange(3)):
            os.write(terminal.fd, KEYS["down"].encode())
        for _ in range(chance.randrange(1, 6)):
            key = chance.choice((*KEYED, KEYS["backspace"], KEYS["up"], KEYS["down"]))
            os.write(terminal.fd, key.encode())
            listen(terminal, chance.choice((0.0, 0.01, 0.05, 0.3)))
        if chance.random() < 0.7:  # most often the bar says "saved" before the last key
            end = time.monotonic() + 2.0
            while "saved" not in terminal.screen.display[0] and time.monotonic() < end:
                terminal.read(0.02)
        before = cells(terminal)
        os.write(terminal.fd, chance.choice(KEYED).encode())
        match chance.randrange(3):
            case 0:  # as soon as it is echoed
                end = time.monotonic() + 0.5
                while cells(terminal) == before and time.monotonic() < end:
                    terminal.read(0.0005)
            case 1:
                listen(terminal, chance.uniform(0.0, 0.03))
            case _:
                listen(terminal, chance.uniform(0.0, 0.8))
        os.kill(terminal.pid, signal.SIGKILL)
        assert terminal.wait_end() == -signal.SIGKILL
        return cells(terminal), terminal.screen.display[0]


@pytest.mark.long
def test_the_last_frame_before_a_kill_calls_saved_only_what_is_on_disk(tmp_path: Path) -> None:
    """Numbers, beginnings of numbers and text that is none: "saved" is never said beside one that is not in the file."""
    workspace = workspace_in(tmp_path)
    workspace.create(a_job(("front.left.spring.rate_n_per_mm", 9.5), ("front.left.spring.free_length_mm", 250.0)))
    workspace.remember("front")
    workspace.close()
    (path,) = (tmp_path / "jobs").glob("*.toml")
    chance = random.Random(20261128)
    seen = Counter[str]()
    for number in rounds(seen, saved=1, others=1):
        for texts in tmp_path.rglob("drafts.json"):  # with text of an earlier round the bar would hardly say "saved"
            texts.unlink()
        with Watched(path) as watched:
            shown, bar = key_and_kill(tmp_path, chance)
        if "saved" not in bar:
            seen["others"] += 1
            continue
        seen["saved"] += 1
        # A busy machine may have saved what came after the frame it had not sent yet: then an earlier state is meant.
        springs = [loads(state).job.front.left.spring for state in watched.states]
        states = [[getattr(spring, name) for name in FIELDS.values()] for spring in springs]
        assert values(shown) in states, f"round {number}: {bar.strip()!r} beside {shown}, and on disk were {states}"
    print(f"{seen.total()} kills: the last frame said saved in {seen['saved']}, and something else in {seen['others']}")


@pytest.mark.long
def test_killed_while_typing_every_job_is_whole_and_what_was_shown_as_saved_is_there(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    workspace.create(a_job(machine="Grey Mule"))
    workspace.remember("machine")
    workspace.close()
    (path,) = (tmp_path / "jobs").glob("*.toml")
    chance = random.Random(20260531)
    before, seen = "Grey Mule", Counter[str]()
    for number in rounds(seen, changed=KILLS // 4 + 1, saved=KILLS // 12):
        text = a_text(chance)
        shown, saved = type_and_kill(tmp_path, text, chance)
        found = loads(path.read_bytes())
        assert not found.edited_by_hand, f"round {number}"
        here = found.job.job.machine
        assert identified(found.job, "") == a_job(machine=here), f"round {number}"
        assert here == before or text.startswith(here), f"round {number}: {here!r} was never typed"
        assert shown == before or text.startswith(shown), f"round {number}: the bar says {shown!r}"
        if saved:
            seen["saved"] += shown != before
            lost = text.startswith(shown) and not (text.startswith(here) and len(here) >= len(shown))
            assert not lost, f"round {number}: {shown!r} was shown as saved, and the file has {here!r}"
        seen["changed"] += here != before
        before = here
        strangers = [one.name for one in path.parent.iterdir() if one != path and not one.name.endswith(".part")]
        assert strangers == [], f"round {number}"
    print(f"{number + 1} kills: {seen['saved']} while the bar said saved, {seen['changed']} with new text on disk")


@pytest.mark.long
def test_killed_while_a_new_job_is_begun_it_is_whole_or_not_there_and_is_there_once_it_was_shown_as_saved(
    tmp_path: Path,
) -> None:
    source = a_job(machine="Grey Mule")
    workspace = workspace_in(tmp_path)
    workspace.create(source)
    workspace.flush()
    first = tmp_path / "jobs" / workspace.open_name
    workspace.close()
    chance = random.Random(20260531)
    seen = Counter[str]()
    for number in rounds(seen, made=KILLS // 4 + 1):
        again = workspace_in(tmp_path)
        again.open(first.name)
        again.remember("machine")
        again.close()
        before = set(first.parent.glob("*.toml"))
        text = a_text(chance)
        shown, saved = type_and_kill(tmp_path, text, chance, "f8", "f8", "f2")
        assert identified(loads(first.read_bytes()).job, "") == source, f"round {number}"
        new = set(first.parent.glob("*.toml")) - before
        assert len(new) <= 1, f"round {number}"
        seen["made"] += len(new)
        here = ""
        for path in new:
            found = loads(path.read_bytes())
            assert not found.edited_by_hand, f"round {number}"
            assert found.job.job.carried_from == first.name
            here = found.job.job.machine
            assert here == "Grey Mule" or text.startswith(here), f"round {number}: {here!r} was never typed"
        if saved and text.startswith(shown):
            seen["saved"] += 1
            assert here.startswith(shown), f"round {number}: {shown!r} was shown as saved, and the file has {here!r}"
    print(f"{number + 1} kills: {seen['made']} new jobs on disk, {seen['saved']} while the bar said its text was saved")
