"""Files of every format there has been open, are upgraded with a backup, and a later version's are never destroyed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from complete_job import CHAIN_AND_TYRES, complete_job
from stanchion.base.errors import NotSaved
from stanchion.base.toml import TomlTable
from stanchion.job import codec
from stanchion.job.complaint import Complaint
from stanchion.job.model import Job, Stops
from stanchion.job.outside import Outside
from stanchion.job.spec import Progressive
from stanchion.job.stops import StopPair
from stanchion.store.autosave import Autosave
from stanchion.store.history import BEFORE_UPGRADE
from stanchion.store.jobfile import JobFile
from stanchion.store.library import Library

STORED = sorted(Path(__file__).with_name("data").glob("format_*.toml"))
"""One file of each format, as the version of its day wrote it. They are never written anew: add one for each format."""

SPRINGS = Path(__file__).with_name("data") / "springs_of_format_2.toml"
"""A second spring, air in a leg and in the shock, altitude, stops, oil, shock gas and pairs of the bench, as the
version of 29 November 2026 wrote them. Never written anew."""

CHAMBERS = SPRINGS.with_name("chambers_of_format_2.toml")
"""Three air chambers in each leg and in the shock, and a sag read at their pressures, as they were first written.
Never written anew."""

DRIVE = SPRINGS.with_name("drive_of_format_2.toml")
"""Swingarm, chain and what was on when the swingarm was measured, as they were first written. Never written anew."""

POINTS = SPRINGS.with_name("points_of_format_2.toml")
"""Points of the linkage, a damper sheet and the springs for which rebound was confirmed, as they were first written.
Never written anew."""

COMPLAINTS = SPRINGS.with_name("complaints_of_format_2.toml")
"""Runs with the rider's complaints in standard words, as they were first written. Never written anew."""

CHANGES = SPRINGS.with_name("changes_of_format_2.toml")
"""A change still to be made, and one ridden with its verdict, as they were first written. Never written anew."""


def edited(job: Job, notes: str) -> Job:
    return replace(job, job=replace(job.job, notes=notes))


def taken(library: Library, source: Path) -> Path:
    library.places.jobs.mkdir()
    path = library.places.jobs / source.name
    path.write_bytes(source.read_bytes())
    return path


@pytest.fixture
def another_format(monkeypatch: pytest.MonkeyPatch) -> None:
    """A version for which today's format is an earlier one, in which machines were named in capitals."""

    def lifted(tables: TomlTable) -> TomlTable:
        occasion = tables["job"]
        return {**tables, "job": {**occasion, "machine": occasion["machine"].title()}}

    monkeypatch.setattr(codec, "MIGRATIONS", {**codec.MIGRATIONS, codec.FORMAT: lifted})
    monkeypatch.setattr(codec, "FORMAT", codec.FORMAT + 1)


def test_a_file_of_every_format_up_to_todays_is_stored() -> None:
    assert [one.name for one in STORED] == [f"format_{number}.toml" for number in range(1, codec.FORMAT + 1)]


def test_a_stored_file_with_swingarm_and_chain_keeps_every_value(library: Library) -> None:
    opened = library.open(taken(library, DRIVE))
    job = opened.job
    assert (opened.read_only, opened.edited_by_hand, job.unknown) == (False, False, ())
    assert job.swingarm == complete_job().swingarm
    assert job.drive == complete_job().drive
    assert job.upkeep.swingarm_with == CHAIN_AND_TYRES


def test_a_stored_file_with_the_riders_complaints_keeps_every_one(library: Library) -> None:
    opened = library.open(taken(library, COMPLAINTS))
    assert (opened.read_only, opened.edited_by_hand, opened.job.unknown) == (False, False, ())
    assert [run.complaints for run in opened.job.runs] == [run.complaints for run in complete_job().runs]


def test_a_stored_file_with_changes_judged_by_riding_keeps_them_and_the_verdict(library: Library) -> None:
    opened = library.open(taken(library, CHANGES))
    job = opened.job
    assert (opened.read_only, opened.edited_by_hand, job.unknown) == (False, False, ())
    ((move,),) = [change.moves for change in job.changes]
    assert (move.path, move.was, move.becomes) == ("rear.rebound.now", "12.0", "14.0")
    ridden = job.runs[1].change
    assert ridden is not None
    assert (job.runs[1].verdict, ridden.complaints, ridden.expected.trail_mm) == (
        "better",
        (Complaint(where="straight_braking", what="runs_wide"),),
        97.0,
    )
    JobFile(library, opened).save(edited(job, "saved today"))
    assert library.open(opened.path).job == edited(job, "saved today")


def test_a_stored_file_with_linkage_points_and_a_damper_sheet_keeps_every_value(library: Library) -> None:
    opened = library.open(taken(library, POINTS))
    job, whole = opened.job, complete_job()
    assert (opened.read_only, opened.edited_by_hand, job.unknown) == (False, False, ())
    assert job.rear.points == whole.rear.points
    assert job.damper_sheets == whole.damper_sheets
    assert job.damping == whole.damping
    JobFile(library, opened).save(edited(job, "saved today"))
    assert library.open(opened.path).job == edited(job, "saved today")


def test_a_stored_file_with_springs_of_every_kind_keeps_every_value(library: Library) -> None:
    opened = library.open(taken(library, SPRINGS))
    job = opened.job
    assert (opened.read_only, opened.edited_by_hand, opened.newer) == (False, False, False)
    assert job.unknown == (), "every key is still known, or was lifted"
    front, rear = job.front, job.rear
    assert (job.job.altitude_m, job.job.barometer_hpa) == (320.0, 976.0)
    second = front.left.spring.second
    assert (second.arranged, second.rate_n_per_mm, second.gap_mm, second.stop_mm) == ("side_by_side", 20.0, 40.0, 25.0)
    assert (second.free_length_mm, second.solid_length_mm, second.divider_mm) == (60.0, 30.0, 6.0)
    air = front.leg("right").air
    assert (air.fitted, air.pressure_bar, air.balance, air.balance_bar) == (True, 8.3, "pressure", 7.0)
    assert (air.bore_mm, air.volume_ml, air.rod_mm, air.balance_ml) == (34.0, 380.0, 12.0, 45.0)
    assert (rear.air.fitted, rear.air.wanted_bar, rear.air.in_use_c, rear.air.most_bar) == (True, 9.0, 45.0, 13.0)
    assert rear.air.set_in == Outside(altitude_m=320.0, barometer_hpa=970.0)
    assert (rear.gas_pressure_bar, rear.gas_volume_ml, rear.gas_set_at_c) == (10.0, 95.0, 20.0)
    assert rear.gas_set_in == Outside(altitude_m=320.0, barometer_hpa=970.0)
    assert front.stops == Stops(
        touches_mm=100.0, rate_n_per_mm=30.0, pairs=(StopPair(squeezed_mm=10.0, force_n=320.0),), hydraulic_mm=6.0
    )
    assert (rear.stops.touches_mm, rear.stops.hydraulic_mm) == (48.0, 3.0)
    assert (front.gap_compared_mm, front.reserve_wanted_n, front.left_wanted_mm) == (105.0, 800.0, 8.0)
    assert (front.left.oil_volume_ml, front.left.solids_ml, front.damper_rod_mm) == (505.0, 60.0, 12.0)
    assert [(pair.travel_mm, pair.force_n) for pair in front.top_out.bench] == [(2.0, 540.0), (12.0, 240.0)]
    assert rear.spring.rate_n_per_mm == Progressive(85.0, 105.0)
    JobFile(library, opened).save(edited(job, "saved today"))
    assert library.open(opened.path).job == edited(job, "saved today")


def test_a_stored_file_with_three_air_chambers_keeps_every_value(library: Library) -> None:
    opened = library.open(taken(library, CHAMBERS))
    job = opened.job
    assert (opened.read_only, opened.edited_by_hand, opened.newer, job.unknown) == (False, False, False, ())
    left, right, rear = job.front.leg("left").air, job.front.leg("right").air, job.rear.air
    assert (left.outer, left.outer_bar, left.outer_most_bar, left.outer_ml) == ("own_area", 1.5, 4.0, 420.0)
    assert (left.outer_bore_mm, left.outer_tube_mm, left.balance) == (44.0, 28.0, "port")
    assert (right.outer, right.outer_bar, right.outer_ml, right.outer_bore_mm) == ("floating", 14.5, 90.0, None)
    assert (rear.outer, rear.outer_bar, rear.outer_length_mm, rear.balance_bar) == ("floating", 18.0, 55.0, 9.0)
    assert job.sag.front.rider.pressures_bar == (6.4, 1.5, 8.3, 14.5)
    JobFile(library, opened).save(edited(job, "saved today"))
    assert library.open(opened.path).job == edited(job, "saved today")


@pytest.mark.parametrize("source", STORED, ids=lambda one: one.stem)
def test_a_stored_file_opens_with_all_its_values_and_is_saved_again(library: Library, source: Path) -> None:
    opened = library.open(taken(library, source))
    job = opened.job
    assert (opened.read_only, opened.edited_by_hand, opened.newer) == (False, False, False)
    assert job.unknown == (), "every key is still known, or was lifted"
    assert job.job.machine
    assert (job.front.left.spring.rate_n_per_mm, job.front.left.adjuster.now) == (9.5, 4)
    assert len(job.rear.linkage) == 3
    assert job.sag.front.rider.down_mm
    assert job.runs
    JobFile(library, opened).save(edited(job, "saved today"))
    assert library.open(opened.path).job == edited(job, "saved today")
    (state,) = library.history.states(opened.path)
    assert state.path.read_bytes() == source.read_bytes()
    assert (state.reason == BEFORE_UPGRADE) == (source != STORED[-1])


@pytest.mark.usefixtures("another_format")
def test_a_file_of_an_earlier_format_is_upgraded_only_with_a_backup(library: Library) -> None:
    source = STORED[-1]
    path = taken(library, source)
    opened = library.open(path)
    assert opened.upgraded
    assert not opened.edited_by_hand
    assert path.read_bytes() == source.read_bytes(), "opening writes nothing"
    library.places.state.mkdir()
    library.places.history.write_bytes(b"in the way of the backup")
    file = JobFile(library, opened)
    with pytest.raises(NotSaved, match="could not be kept"):
        file.save(edited(opened.job, "new"))
    assert path.read_bytes() == source.read_bytes()
    library.places.history.unlink()
    file.save(edited(opened.job, "new"))
    (state,) = library.history.states(path)
    assert state.reason == BEFORE_UPGRADE
    assert state.path.read_bytes() == source.read_bytes()
    assert path.read_bytes().startswith(b"format = %d\n" % codec.FORMAT)
    again = library.open(path)
    assert (again.upgraded, again.job.job.notes) == (False, "new")
    assert library.history.load(state).job == opened.job  # the backup itself opens, and can be brought back


@pytest.mark.usefixtures("another_format")
def test_the_backup_outlives_everything_that_is_kept_later(library: Library) -> None:
    opened = library.open(taken(library, STORED[-1]))
    file = JobFile(library, opened)
    file.save(edited(opened.job, "new"))
    for number in range(60):
        file.keep(edited(opened.job, str(number)), "before-bringing-back")
    assert library.history.states(opened.path)[-1].reason == BEFORE_UPGRADE


def test_a_later_versions_file_is_looked_at_and_never_written(
    library: Library, job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as later:
        later.setattr(codec, "FORMAT", codec.FORMAT + 1)
        written = codec.dumps(job).replace(b"[front]", b"[front]\nsorcery = 3").replace(b"[job]", b'[job]\nspell = "x"')
        library.places.jobs.mkdir()
        path = library.places.jobs / "later.toml"
        path.write_bytes(written)
    opened = library.open(path)
    assert (opened.read_only, opened.newer) == (True, True)
    assert opened.job.job.machine == job.job.machine
    file = JobFile(library, opened)
    with pytest.raises(NotSaved, match="A later version of the program wrote this job"):
        file.save(edited(opened.job, "mine"))
    saver = Autosave(file)
    saver.submit(edited(opened.job, "mine"))
    assert not saver.flush()
    saver.close()
    assert [row.problem for row in library.rows()] == [""]
    assert path.read_bytes() == written
    deleted = library.delete(path)
    assert library.restore(deleted).read_bytes() == written
