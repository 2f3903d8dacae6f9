"""Unreadable text is kept without waiting and read back as it was."""

from __future__ import annotations

import json
import threading
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from driving import a_job
from stanchion.job.edit import Edit, apply
from stanchion.job.kept_trial import KeptTrial
from stanchion.store.disk import Disk
from stanchion.store.drafts import FILE, LONGEST, MOST, Drafts, Kept
from store.faulty import ERRNOS, Faulty

AT = ("front", "left", "spring", "rate_n_per_mm")
ITEM = ("sag", "front", "hanging_mm", 0)


def test_what_was_kept_is_read_back_and_the_file_goes_once_all_is_corrected(tmp_path: Path) -> None:
    drafts = Drafts(tmp_path / "a")
    drafts.keep(Kept({AT: "9.5.3", ITEM: "1e"}))
    assert drafts.flush()
    assert Drafts(tmp_path / "a").load().texts == {AT: "9.5.3", ITEM: "1e"}
    drafts.keep(Kept({}))
    assert drafts.flush()
    assert list((tmp_path / "a").iterdir()) == []


def test_with_nothing_to_keep_no_folder_is_made(tmp_path: Path) -> None:
    drafts = Drafts(tmp_path / "a")
    assert drafts.load().texts == {}
    drafts.keep(Kept({}))
    assert drafts.flush()
    assert not (tmp_path / "a").exists()


@given(st.text(max_size=60))
@pytest.mark.long
def test_any_text_comes_back(tmp_path_factory: pytest.TempPathFactory, text: str) -> None:
    folder = tmp_path_factory.mktemp("drafts")
    drafts = Drafts(folder)
    drafts.keep(Kept({AT: text}))
    assert drafts.flush()
    assert Drafts(folder).load().texts == {AT: text}


def test_keeping_never_waits_and_the_newest_wins(tmp_path: Path) -> None:
    let_go = threading.Event()

    class Hanging(Disk):
        def sync(self, fd: int) -> None:
            let_go.wait(10)
            super().sync(fd)

    drafts = Drafts(tmp_path, Hanging())
    for n in range(200):
        drafts.keep(Kept({AT: str(n)}))
    assert not drafts.flush(0.05)
    let_go.set()
    assert drafts.flush(5)
    assert Drafts(tmp_path).load().texts == {AT: "199"}


@pytest.mark.parametrize("number", ERRNOS)
def test_a_disk_that_fails_loses_what_was_kept_before_nowhere_and_the_next_time_works(
    tmp_path: Path, number: int
) -> None:
    drafts = Drafts(tmp_path)
    drafts.keep(Kept({AT: "old"}))
    assert drafts.flush()
    for at in range(1, 40):
        disk = Faulty(number, at)
        failing = Drafts(tmp_path, disk)
        failing.keep(Kept({AT: "new"}))
        failing.flush()
        assert Drafts(tmp_path).load().texts in ({AT: "old"}, {AT: "new"})
        disk.heal()
        failing.keep(Kept({AT: "newer"}))
        assert failing.flush()
        assert Drafts(tmp_path).load().texts == {AT: "newer"}
        drafts.keep(Kept({}))
        drafts.keep(Kept({AT: "old"}))
        assert drafts.flush()
        if not disk.fired:
            return
    pytest.fail("a write that never ends")


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"{",
        b"\xff",
        b"[" * 100_000,
        b"{}",
        b'[1, {"at": 1, "text": "x"}, {"at": [], "text": "x"}, {"at": [true], "text": "x"}, {"at": [-1], "text": "x"}]',
        b'[{"at": ["job"], "text": 3}, {"at": [{}], "text": "x"}, {"text": "x"}]',
    ],
)
def test_a_damaged_file_gives_nothing_and_raises_nothing(tmp_path: Path, data: bytes) -> None:
    (tmp_path / FILE).write_bytes(data)
    assert Drafts(tmp_path).load().texts == {}


def test_the_size_of_the_file_is_bounded(tmp_path: Path) -> None:
    rows = [{"at": ["job", n], "text": "x" * (LONGEST + 1)} for n in range(MOST + 10)]
    (tmp_path / FILE).write_text(json.dumps(rows))
    found = Drafts(tmp_path).load().texts
    assert len(found) == MOST
    assert {len(text) for text in found.values()} == {LONGEST}


def test_a_trial_is_kept_beside_the_texts_and_gone_with_it(tmp_path: Path) -> None:
    start = a_job(("front.travel_mm", 120.0))
    trial = KeptTrial(start, apply(start, Edit(("front", "fork_height_mm"), 6.0)), {AT: "1o"}, ("front", (2, 2)))
    drafts = Drafts(tmp_path)
    drafts.keep(Kept({AT: "9.5.3"}, trial))
    assert drafts.flush()
    assert Drafts(tmp_path).load() == Kept({AT: "9.5.3"}, trial)
    drafts.keep(Kept({AT: "9.5.3"}))
    assert drafts.flush()
    assert Drafts(tmp_path).load() == Kept({AT: "9.5.3"})


@pytest.mark.parametrize(
    "spoilt",
    [
        {"trial": []},
        {"trial": {"start": "", "tried": "x"}},
        {"trial": {}},
        {"texts": 3},
        {"trial": {"start": 1, "tried": 2, "springs": 3}},
    ],
)
def test_a_trial_that_cannot_be_read_leaves_the_texts(tmp_path: Path, spoilt: dict[str, object]) -> None:
    table = {"texts": [{"at": list(AT), "text": "9.5.3"}]} | spoilt
    (tmp_path / FILE).write_text(json.dumps(table))
    found = Drafts(tmp_path).load()
    assert found.trial is None
    assert found.texts == ({} if "texts" in spoilt else {AT: "9.5.3"})
