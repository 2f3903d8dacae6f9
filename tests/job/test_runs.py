"""Runs carry the settings that were ridden, whole; what was changed between two of them is worked out from those."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from complete_job import complete_job
from stanchion.base.errors import BadEdit
from stanchion.base.toml import LARGEST
from stanchion.job.carry import carried
from stanchion.job.codec import dumps, loads
from stanchion.job.diff import Difference
from stanchion.job.edit import Edit, apply, value_at
from stanchion.job.model import ChainAndTyres, Front, Job, Path, Rear, Run, Service, StacksThen, Torque, Upkeep
from stanchion.job.runs import as_ridden, changes_before, changes_between, new_run
from stanchion.job.spec import Day, Many, Number, Part, Rows, Spec, Text, specs_of
from strategies import jobs, parts


def edited(job: Job, *edits: tuple[Path, Any]) -> Job:
    for path, value in edits:
        job = apply(job, Edit(path, value))
    return job


def fullest(kind: type) -> Any:
    """A part with every field filled, every list as long as it may be, and every text as long in a file as it can be."""
    return kind(**{name: _filled(spec) for name, spec in specs_of(kind).items()})


def _filled(spec: Spec) -> Any:
    match spec:
        case Number():
            return round((spec.low + spec.high) / 3, 9)
        case Text():
            return "\x01" * spec.longest
        case Day():
            return dt.date(2026, 12, 31)
        case Many():
            return (_filled(spec.item),) * spec.most
        case Part():
            return fullest(spec.type)
        case Rows():
            return (fullest(spec.type),) * spec.most
        case _:
            return max(getattr(spec, "options", (True,)), key=str)


class TestSettingsRidden:
    def test_a_run_is_stamped_with_the_settings_as_they_are(self) -> None:
        job = complete_job()
        run = new_run(job, "10:20")
        assert (run.time, run.front, run.rear) == ("10:20", job.front, job.rear)

    def test_the_datum_of_the_markers_is_that_of_the_run_before(self) -> None:
        job = replace(complete_job(), runs=(Run(marker_from="static"),))
        assert new_run(job, "11:00").marker_from == "static"

    def test_the_job_as_it_was_ridden_has_the_stamped_settings_and_everything_else_as_it_is(self) -> None:
        job = complete_job()
        run = new_run(job, "10:20")
        changed = edited(job, (("rear", "spring", "rate_n_per_mm"), 100.0), (("job", "venue"), "Elsewhere"))
        assert as_ridden(changed, run) == replace(changed, rear=job.rear)
        assert as_ridden(changed, Run()) == changed


class TestWhatWasChanged:
    def test_between_two_runs_it_is_what_differs_in_their_stamps(self) -> None:
        job = complete_job()
        first = new_run(job, "10:20")
        job = edited(job, (("front", "left", "adjuster", "now"), 6.0), (("rear", "rebound", "now"), 13.0))
        job = replace(job, runs=(first, new_run(job, "11:05"), new_run(job, "11:50")))
        expected = (
            Difference(("front", "left", "adjuster", "now"), 4.0, 6.0),
            Difference(("rear", "rebound", "now"), 12.0, 13.0),
        )
        assert changes_before(job, 0) == ()
        assert changes_before(job, 1) == expected
        assert changes_before(job, 2) == ()
        assert changes_before(job, 3) == ()
        assert changes_between(job, job.runs[0], job.runs[2]) == expected
        assert [c.new for c in changes_between(job, job.runs[2], job.runs[0])] == [4.0, 12.0]

    def test_a_fact_of_the_machine_written_down_later_is_no_change(self) -> None:
        job = edited(complete_job(), (("front", "travel_mm"), None), (("rear", "rebound", "total"), None))
        later = edited(job, (("front", "travel_mm"), 120.0), (("rear", "rebound", "total"), 24.0))
        assert changes_between(later, new_run(job, "10:20"), new_run(later, "11:05")) == ()
        other = edited(later, (("front", "travel_mm"), 130.0))
        assert len(changes_between(other, new_run(later, "10:20"), new_run(other, "11:05"))) == 1

    def test_a_run_without_a_stamp_counts_as_ridden_with_the_settings_of_the_job(self) -> None:
        job = complete_job()
        assert changes_between(job, Run(), new_run(job, "11:05")) == ()


class TestRowsThatHoldParts:
    def test_a_new_run_is_made_by_an_edit_just_past_the_last_even_deep_inside_it(self) -> None:
        job = edited(Job(), (("runs", 0, "front", "left", "rebound", "now"), 12.0))
        assert value_at(job, ("runs", 0, "front", "left", "rebound", "now")) == 12.0
        assert value_at(job, ("runs", 0, "rear")) is None
        assert value_at(job, ("runs", 0, "rear", "rebound", "now")) is None
        with pytest.raises(BadEdit, match="item 3 cannot be filled before item 2"):
            edited(job, (("runs", 2, "time"), "10:20"))

    def test_the_right_leg_of_a_stamp_is_the_left_one_until_they_are_split(self) -> None:
        job = edited(Job(), (("runs", 0, "front", "left", "rebound", "now"), 12.0))
        right: Path = ("runs", 0, "front", "right", "rebound", "now")
        assert value_at(job, right) == 12.0
        split = edited(job, (right, 14.0))
        assert value_at(split, right) == 14.0
        assert value_at(split, ("runs", 0, "front", "left", "rebound", "now")) == 12.0

    def test_a_part_of_a_run_can_be_taken_away(self) -> None:
        job = replace(Job(), runs=(new_run(complete_job(), "10:20"),))
        bare = edited(job, (("runs", 0, "front"), None), (("runs", 0, "rear"), None))
        assert bare.runs == (Run(time="10:20"),)
        assert edited(bare, (("runs", 0, "time"), "")).runs == ()

    @settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
    @given(jobs(), parts(Run))
    def test_any_run_comes_back_from_the_file_whole(self, job: Job, run: Run) -> None:
        full = replace(job, runs=(*job.runs, run, Run(front=Front(), rear=Rear())))
        assert loads(dumps(full)).job == full

    def test_a_job_with_every_run_it_may_have_and_every_field_filled_fits_the_file(self) -> None:
        job = fullest(Job)
        data = dumps(job)
        assert len(job.runs) == 60
        assert len(data) < LARGEST
        assert loads(data).job == job


class TestTheNextOccasion:
    def test_runs_belong_to_the_day_and_what_was_done_to_the_machine_is_kept(self) -> None:
        upkeep = Upkeep(
            machine_hours=41.5,
            fork_oil=Service(on=dt.date(2026, 4, 2), at_hours=30.0),
            front_teeth=15.0,
            torques=(Torque(what="axle nut", torque_nm=100.0, done=True, initials="AV"),),
        )
        job = replace(complete_job(), upkeep=upkeep, runs=(Run(time="10:20"),))
        new = carried(job, "a.toml", dt.date(2026, 6, 7))
        assert new.runs == ()
        then = ChainAndTyres(front_teeth=15.0)
        kept = replace(
            upkeep,
            ratio_with=then,
            geometry_with=then,
            swingarm_with=then,
            set_lengths_with=StacksThen(left_mm=106.5, right_mm=106.5),
        )
        assert new.upkeep == replace(kept, torques=(Torque(what="axle nut", torque_nm=100.0),))

    def test_a_day_that_is_not_known_is_left_out_of_the_file(self) -> None:
        job = edited(Job(), (("upkeep", "fork_oil", "on"), dt.date(2026, 4, 2)))
        assert b"[upkeep.fork_oil]\non = 2026-04-02\n" in dumps(job)
        assert b"upkeep" not in dumps(edited(job, (("upkeep", "fork_oil", "on"), None)))
