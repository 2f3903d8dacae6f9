"""Notes on a venue are edited like any form, and the run ridden best there is found in the library."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

from driving import workspace_in
from judgement_jobs import FULL, put
from stanchion.bench.venue_session import VenueSession, best_there
from stanchion.job.codec import dumps
from stanchion.job.model import Job, Run
from stanchion.job.venue import VenueNotes
from stanchion.units.known_units import Units


def test_typed_text_becomes_notes_and_is_undone() -> None:
    session = VenueSession(VenueNotes(name="Loop"))
    for at in range(1, 4):
        session.type(("surface",), "wet"[:at])
    session.leave(("surface",))
    session.type(("altitude_m",), "320")
    assert (session.notes.surface, session.notes.altitude_m) == ("wet", 320.0)
    session.type(("altitude_m",), "high")
    assert session.drafts[("altitude_m",)].reason
    assert session.notes.altitude_m == 320.0
    assert session.undo(("altitude_m",))
    assert session.undo()
    assert session.undo()
    assert session.notes == VenueNotes(name="Loop")
    assert not session.nudge(("altitude_m",), 1)


def test_read_only_notes_stay() -> None:
    session = VenueSession(VenueNotes(name="Loop"), Units(), read_only=True)
    session.type(("surface",), "wet")
    assert session.notes == VenueNotes(name="Loop")
    assert session.drafts[("surface",)].reason


def job(machine: str, venue: str, *laps: float | None, rebound: float = 10.0) -> Job:
    base = put(FULL, rear__rebound__now=rebound, job__machine=machine, job__venue=venue, job__rider="C. U.")
    base = replace(base, job=replace(base.job, date=dt.date(2026, 5, 3)))
    runs = tuple(
        Run(time=f"{9 + n}:00", best_lap_s=lap, front=base.front, rear=base.rear) for n, lap in enumerate(laps)
    )
    return replace(base, runs=runs)


def test_the_best_lap_of_this_machine_at_this_venue_with_its_setup(tmp_path: Path) -> None:
    here = job("Grey Mule", "Loop", 93.0)
    library = workspace_in(tmp_path).library
    library.places.jobs.mkdir(parents=True)
    for name, one in {
        "a": here,
        "b": job("grey mule", " LOOP", 92.0, 91.5, None, rebound=14.0),
        "c": job("Grey Mule", "Lake", 60.0),
        "d": job("Red Heron", "Loop", 61.0),
    }.items():
        (library.places.jobs / f"{name}.toml").write_bytes(dumps(one))
    best = best_there(library, here, "a.toml", instead={"a.toml": here})
    assert best is not None
    assert (best.file, best.best_lap_s, best.rider, best.target.run) == ("b.toml", 91.5, "C. U.", 1)
    assert best.target.setup.rear is not None
    assert best.target.setup.rear.rebound.now == 14.0
    faster = replace(here, runs=(replace(here.runs[0], best_lap_s=90.0),))
    best = best_there(library, faster, "a.toml", instead={"a.toml": faster})
    assert best is not None
    assert (best.file, best.target.name) == ("a.toml", ""), "the open job counts as it is now"
    best = best_there(library, faster, "/stick/a.toml", instead={"/stick/a.toml": faster})
    assert best is not None
    assert best.best_lap_s == 90.0, "a job of another folder counts as well"
    assert best_there(library, put(here, job__venue=""), "a.toml", instead={}) is None
    assert best_there(library, here, "a.toml", instead={}, cancelled=lambda: True) is None
