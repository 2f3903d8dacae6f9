"""Earlier states: which stay, how many and how large, and that the way back can itself be taken back."""

from __future__ import annotations

import datetime as dt
import random
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from stanchion.base.errors import BadFile, NotSaved
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.store.disk import Disk
from stanchion.store.history import (
    ALL_BYTES,
    BEFORE_UPGRADE,
    BYTES,
    HOURS,
    LAST,
    SESSION_START,
    SESSIONS,
    UPGRADES,
    History,
    KeptState,
    surplus,
)
from stanchion.store.jobfile import SPACING_S, JobFile
from stanchion.store.library import Library, encoded
from stanchion.store.paths import Places
from store.conftest import judge

NOON = dt.datetime(2026, 5, 31, 12, tzinfo=dt.UTC)
MOST = LAST + SESSIONS + HOURS + UPGRADES


class Clock(Disk):
    """A clock that goes on as told."""

    at = 1_780_000_000.0

    def now(self) -> float:
        return self.at


def edited(job: Job, notes: str) -> Job:
    return replace(job, job=replace(job.job, notes=notes))


def notes_of(state: KeptState) -> str:
    return loads(state.path.read_bytes()).job.job.notes


def staying(states: list[KeptState]) -> list[KeptState]:
    gone = surplus(states)
    return [state for state in states if state not in gone]


def states(count: int, apart: dt.timedelta, reason: str = "while-working", size: int = 6_000) -> list[KeptState]:
    """So many states, newest first."""
    return [KeptState(Path(str(n)), NOON - n * apart, reason, size) for n in range(count)]


# --- which stay ------------------------------------------------------------------------------------------------------


def test_the_last_ten_stay_and_of_the_hours_before_the_newest_of_each() -> None:
    kept = staying(states(1000, dt.timedelta(minutes=2)))
    assert [state.at for state in kept[:LAST]] == [NOON - n * dt.timedelta(minutes=2) for n in range(LAST)]
    hours = [state.at.replace(minute=0) for state in kept]
    assert len(set(hours)) == HOURS
    assert len(kept) <= LAST + HOURS
    for state in kept[LAST:]:
        assert state.at.minute == 58, "the newest of its hour"


def test_starts_of_sessions_outlast_what_was_kept_while_working() -> None:
    minute = dt.timedelta(seconds=30)
    all_states = states(100, minute)
    starts = [replace(one, reason=SESSION_START) for one in all_states[20:100:5]]
    mixed = [next((s for s in starts if s.path == one.path), one) for one in all_states]
    kept = staying(mixed)
    assert [one for one in kept if one.reason == SESSION_START] == starts[:SESSIONS]


def test_what_was_there_before_a_change_of_format_stays_whatever_comes_later() -> None:
    old = KeptState(Path("old"), NOON - dt.timedelta(days=900), BEFORE_UPGRADE, 6_000)
    assert old in staying([*states(500, dt.timedelta(minutes=2)), old])


def test_all_together_have_so_many_bytes_at_most_and_the_newest_always_stays() -> None:
    kept = staying(states(40, dt.timedelta(hours=1), size=900_000))
    assert sum(state.size for state in kept) <= BYTES
    assert kept == states(4, dt.timedelta(hours=1), size=900_000)
    huge = states(3, dt.timedelta(hours=1), size=BYTES * 2)
    assert staying(huge) == huge[:1]


@pytest.mark.parametrize("seed", range(20))
def test_any_mixture_is_bounded_and_nothing_is_given_up_twice(seed: int) -> None:
    chance = random.Random(seed)
    at = NOON
    mixed = []
    for n in range(300):
        at -= dt.timedelta(seconds=chance.choice([1, 60, 600, 7200]))
        reason = chance.choice([SESSION_START, "while-working", "edited-by-hand", BEFORE_UPGRADE])
        mixed.append(KeptState(Path(str(n)), at, reason, chance.choice([500, 6_000, 300_000])))
    kept = staying(mixed)
    assert kept[0] == mixed[0]
    assert len(kept) <= MOST
    assert sum(state.size for state in kept) <= BYTES
    assert staying(kept) == kept


# --- while a job is worked on --------------------------------------------------------------------------------------------


@pytest.mark.long
def test_a_thousand_saves_under_a_clock_leave_the_start_the_last_ten_and_the_hours(places: Places, job: Job) -> None:
    clock = Clock()
    library = Library(places, judge, disk=clock)
    file = JobFile(library, library.create(edited(job, "start")))
    for number in range(1000):
        clock.at += 45
        file.save(edited(job, str(number)))
    found = library.history.states(file.path)
    assert len(found) <= MOST
    assert sum(state.size for state in found) <= BYTES
    assert sum(one.stat().st_size for one in found[0].path.parent.iterdir()) <= BYTES
    by_why = [state.reason for state in found]
    assert by_why.count(SESSION_START) == 1
    assert notes_of(found[-1]) == "start"
    gaps = [(a.at - b.at).total_seconds() for a, b in pairwise(found[:LAST])]
    assert all(SPACING_S <= gap < SPACING_S + 45 for gap in gaps)
    assert len({state.at.replace(minute=0, second=0, microsecond=0) for state in found}) == 13  # 12.5 hours of work
    everything = library.history.looked_into(file.path)
    assert all(one.job is not None for one in everything)


def test_the_states_are_found_after_a_restart_and_by_any_way_to_the_file(
    places: Places, job: Job, tmp_path: Path
) -> None:
    library = Library(places, judge)
    file = JobFile(library, library.create(edited(job, "first")))
    file.save(edited(job, "second"))
    again = Library(places, judge)
    (tmp_path / "link").symlink_to(places.jobs)
    for path in (file.path, tmp_path / "link" / file.path.name, places.jobs / ".." / "jobs" / file.path.name):
        assert [notes_of(state) for state in again.history.states(path)] == ["first"]


@pytest.mark.long
def test_a_hundred_times_brought_back_and_taken_back(places: Places, job: Job) -> None:
    """Every state that was in hand when another was brought back can itself be brought back."""
    clock = Clock()
    library = Library(places, judge, disk=clock)
    file = JobFile(library, library.create(edited(job, "0")))
    now = edited(job, "0")
    chance = random.Random(8)
    for number in range(1, 101):
        clock.at += 300
        file.save(now := edited(job, str(number)))
        clock.at += 300
        file.keep(now, "before-bringing-back")
        choice = chance.choice([one for one in library.history.looked_into(file.path) if one.job])
        assert choice.job is not None
        file.save(choice.job)
        newest = library.history.looked_into(file.path)
        assert now in [one.job for one in newest[:2]]
        file.save(now)


# --- damage ----------------------------------------------------------------------------------------------------------


def test_a_state_that_is_damaged_is_said_and_never_taken_for_whole(tmp_path: Path, job: Job) -> None:
    history = History(tmp_path / "history")
    path = tmp_path / "a.toml"
    kept = history.keep(path, encoded(job))
    assert kept is not None
    whole = kept.read_bytes()
    chance = random.Random(1)
    for _ in range(300):
        at = chance.randrange(len(whole) * 8)
        damaged = bytearray(whole)
        damaged[at // 8] ^= 1 << at % 8
        kept.write_bytes(damaged)
        (one,) = history.looked_into(path)
        assert one.job is None
        assert "damaged" in one.problem
        assert history.newest_good(path) is None
    kept.write_bytes(whole)
    assert history.newest_good(path) is not None


def test_a_file_that_was_edited_or_damaged_is_not_offered_as_good(tmp_path: Path, job: Job) -> None:
    history = History(tmp_path / "history")
    path = tmp_path / "a.toml"
    history.keep(path, encoded(edited(job, "good")))
    history.keep(path, encoded(edited(job, "bad")).replace(b"Grey", b"Gray"), "edited-by-hand")
    history.keep(path, encoded(job)[:40], "replaced-by-mine")
    found = history.newest_good(path)
    assert found is not None
    assert found[1].job.job.notes == "good"


def test_a_damaged_file_is_only_saved_over_once_a_copy_of_it_is_kept(places: Places, job: Job) -> None:
    library = Library(places, judge)
    path = library.create(job).path
    damaged = path.read_bytes().replace(b"Grey", b"Gray")
    path.write_bytes(damaged)
    file = JobFile(library, library.open(path))
    places.state.mkdir(exist_ok=True)
    places.history.write_bytes(b"in the way of the folder")
    with pytest.raises(NotSaved, match="could not be kept"):
        file.save(edited(job, "new"))
    assert path.read_bytes() == damaged
    places.history.unlink()
    file.save(edited(job, "new"))
    (state,) = library.history.states(path)
    assert state.path.read_bytes() == damaged


def test_a_state_that_is_gone_is_said(tmp_path: Path, job: Job) -> None:
    history = History(tmp_path / "history")
    history.keep(tmp_path / "a.toml", encoded(job))
    (state,) = history.states(tmp_path / "a.toml")
    state.path.write_bytes(b"rot")
    with pytest.raises(BadFile, match="damaged"):
        history.load(state)


def test_the_states_of_all_jobs_are_bounded_and_those_of_old_jobs_go_first(tmp_path: Path) -> None:
    clock = Clock()
    history = History(tmp_path / "history", clock)
    jobs = [tmp_path / f"{name}.toml" for name in ("old", "middle", "new")]
    for job in jobs:
        for at in range(5):
            clock.at += 3600.0
            history.keep(job, b"%d" % at * 1000, BEFORE_UPGRADE if at == 0 else "while-working")
    assert history.trim(room=ALL_BYTES) == 0
    assert history.trim(room=15_000) == 0
    assert history.trim(room=11_500) == 4  # of the old job three can go, and then one of the next
    assert [len(history.states(job)) for job in jobs] == [2, 4, 5]
    assert history.trim(room=0) == 5
    for job in jobs:
        newest, first = history.states(job)
        assert (history.data(newest), first.reason) == (b"4" * 1000, BEFORE_UPGRADE)


def test_trimming_can_be_given_up_and_needs_no_folder(tmp_path: Path) -> None:
    history = History(tmp_path / "history")
    assert history.trim(room=0) == 0
    for at in range(3):
        history.keep(tmp_path / "a.toml", b"%d" % at)
    assert history.trim(room=0, given_up=lambda: True) == 0
    assert len(history.states(tmp_path / "a.toml")) == 3


def test_tidying_bounds_the_history_and_sweeps_it(places: Places, job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    library = Library(places, judge)
    path = library.create(job).path
    for at in range(3):
        library.history.keep(path, b"%d" % at)
    assert library.tidy_history() == 0
    monkeypatch.setattr("stanchion.store.library.ALL_BYTES", 0)
    assert library.tidy_history(lambda: True) == 0
    assert library.tidy_history() == 2
    assert [history.size for history in library.history.states(path)] == [1]
