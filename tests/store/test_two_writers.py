"""Two programs with one job open, and somebody who edits its file by hand: no accepted edit vanishes without a word.

Every edit adds a word to the notes, as somebody does who goes on writing. In the end each word ever accepted must be
in the job's file, in a copy, among the earlier states, in the safe place, or in the hands of a program that says that
it is not saved.
"""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import pytest

from stanchion.base.errors import BadFile
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.store.autosave import Autosave
from stanchion.store.jobfile import JobFile
from stanchion.store.library import Library, encoded
from stanchion.store.paths import Places
from store.conftest import judge

RUNS = 200
STEPS = 24


class Program:
    """One of the two, with the job in hand."""

    def __init__(self, name: str, places: Places, path: Path) -> None:
        self.name = name
        library = Library(places, judge)
        file = JobFile(library, library.open(path))
        self.job = file.opened.job
        self.reported = 0
        self.saver = Autosave(file)

    def edit(self, word: str) -> None:
        self.job = with_word(self.job, word)
        self.saver.submit(self.job)

    def save(self) -> None:
        self.saver.flush()

    def decide(self, chance: random.Random) -> None:
        """Settle a conflict as somebody at the screen would, one way or another."""
        self.saver.flush()
        if self.saver.state.status != "conflict":
            return
        self.reported += 1
        how = chance.choice(["mine", "theirs", "copy", "later"])
        if how == "mine":
            self.saver.keep_mine()
        elif how == "theirs":
            self.job = self.saver.take_theirs().job
        elif how == "copy":
            self.job = self.saver.save_as_copy().job


def with_word(job: Job, word: str) -> Job:
    return replace(job, job=replace(job.job, notes=f"{job.job.notes} {word}".strip()))


def words_in(data: bytes) -> set[str]:
    try:
        return set(loads(data).job.job.notes.split())
    except BadFile:
        return set()


@pytest.mark.parametrize("tens", range(RUNS // 10))
def test_no_accepted_edit_vanishes_silently(tmp_path: Path, job: Job, tens: int) -> None:
    conflicts = 0
    for seed in range(tens * 10, tens * 10 + 10):
        conflicts += interleaved(tmp_path / str(seed), job, random.Random(seed))
    assert conflicts > 0


def interleaved(base: Path, job: Job, chance: random.Random) -> int:
    """One run; how often somebody was told of a conflict."""
    places = Places(base / "jobs", base / "config", base / "state", base / "cache")
    path = Library(places, judge).create(job).path
    both = [Program("a", places, path), Program("b", places, path)]
    accepted: set[str] = set()
    for step in range(STEPS):
        what = chance.choice(["edit", "edit", "edit", "save", "save", "decide", "hand"])
        one = chance.choice(both)
        word = f"{one.name}{step}"
        if what == "edit":
            one.edit(word)
            accepted.add(word)
        elif what == "save":
            one.save()
        elif what == "decide":
            one.decide(chance)
        else:
            data = path.read_bytes()
            by_hand = encoded(with_word(loads(data).job, f"h{step}"))
            path.write_bytes(by_hand.replace(b"[end]", b"# by hand\n[end]") if chance.random() < 0.5 else by_hand)
            accepted.add(f"h{step}")
    for one in both:
        one.decide(chance)
    found: set[str] = set()
    for folder in (places.jobs, places.state):
        for file in folder.rglob("*.toml"):
            found |= words_in(file.read_bytes())
    for one in both:
        current = one.saver.unsaved
        if current is not None:
            assert one.saver.state.status in ("conflict", "failed"), "it is said that this is not saved"
            found |= set(current.job.notes.split())
        one.saver.close()
    assert accepted <= found, f"gone without a word: {accepted - found}"
    assert words_in(path.read_bytes()) <= accepted
    return sum(one.reported for one in both)
