"""What to try after a complaint: every row can come up, nothing is offered that cannot be done or makes things worse.

Which change answers which complaint is common practice without a published source (data/riders_words.toml).
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace

import pytest

import make_samples
from judgement_jobs import PROFILES, judged, put, sag_end
from stanchion.bench.session import Session
from stanchion.bench.trial import Trial
from stanchion.job.complaint import SAFETY, Complaint
from stanchion.job.edit import apply, value_at
from stanchion.job.model import Adjuster, Clicker, Job
from stanchion.job.runs import adjusters, new_run
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.riders_words import ChangeRow, ComplaintRow, load_riders_words
from stanchion.judgement.results.findings import Severity
from stanchion.planning.what_to_try import Suggestion, WhatToTry, effects_of, what_to_try
from stanchion.planning.whatif import compare

WORDS = load_riders_words()
WELL = put(
    make_samples.well_set(),
    front__left__high_speed_compression=Clicker(now=8.0, total=16.0),
    rear__length_adjuster_mm=2.0,
)
"""The invented sport machine with every adjuster there is, both sags in their targets."""


def ridden(job: Job, *complaints: Complaint, front_mm: float | None = None, rear_mm: float | None = None) -> Job:
    """The job with one run more, ridden as it is set."""
    run = replace(new_run(job, "9:40"), complaints=complaints, front_marker_mm=front_mm, rear_marker_mm=rear_mm)
    return replace(job, runs=(*job.runs, run))


def found(job: Job) -> WhatToTry:
    return what_to_try(job, len(job.runs) - 1, judged(job), PROFILES, WORDS)


def after(job: Job, what: str, where: str, **markers: float) -> WhatToTry:
    return found(ridden(job, Complaint(what=what, where=where), **markers))  # type: ignore[arg-type]


def offered(of: WhatToTry) -> list[str]:
    return [one.row.do for one in of.offered]


def why_not(of: WhatToTry, do: str) -> str:
    (one,) = [one for one in of.not_offered if one.row.do == do]
    assert one.hindered is not None
    return one.hindered.why


MARKERS = {
    "front_near_full": {"front_mm": 119.0},
    "front_kept_back": {"front_mm": 70.0},
    "rear_near_full": {"rear_mm": 63.0},
    "rear_kept_back": {"rear_mm": 35.0},
}


def rows_and_changes() -> Iterator[tuple[ComplaintRow, ChangeRow]]:
    for row in WORDS.rows:
        for change in row.changes:
            yield row, change


class TestRows:
    def test_every_change_of_every_row_is_offered_where_its_condition_holds(self) -> None:
        for row, change in rows_and_changes():
            markers = {name: mm for one in change.when for name, mm in MARKERS[one].items()}
            for where in row.where:
                of = after(WELL, row.what, where, **markers)
                assert change.do in offered(of), (row.name, where, change.do, of.not_offered)

    def test_and_is_not_offered_where_it_does_not(self) -> None:
        conditional = [(row, change) for row, change in rows_and_changes() if change.when]
        assert len(conditional) > 8
        for row, change in conditional:
            assert why_not(after(WELL, row.what, row.where[0]), change.do) == "condition", (row.name, change.do)

    def test_changes_come_in_the_order_of_the_row(self) -> None:
        of = after(WELL, "dives", "straight_braking")
        row = WORDS.row(of.complaints[0])
        assert row is not None
        assert offered(of) == [change.do for change in row.changes]

    def test_a_matter_of_safety_gives_an_inspection_and_no_setting(self) -> None:
        for row in WORDS.rows:
            if row.what in SAFETY:
                for where in row.where:
                    job = ridden(WELL, Complaint(what=row.what, where=where), Complaint(what="dives", where="turn_in"))
                    of = found(job)
                    assert of.inspection
                    assert (of.offered, of.not_offered) == ((), ())
                    assert of.by_hand[: len(row.by_hand)] == row.by_hand

    def test_a_complaint_without_a_row_is_named(self) -> None:
        assert found(ridden(WELL, Complaint())).unanswered == (Complaint(),)


class TestReadings:
    def test_what_is_found_already_comes_first_then_what_is_not_read(self) -> None:
        of = after(make_samples.soft_springs(), "dives", "straight_braking")
        states = [(one.kind, one.read, [finding.code for finding in one.findings]) for one in of.readings]
        assert states[0][0] == "front_sag"
        assert "too_soft_held_up" in states[0][2]
        quiet = [read for _, read, findings in states if not findings]
        assert quiet == sorted(quiet)

    def test_a_marker_that_was_not_read_is_said_so(self) -> None:
        (travel,) = [one for one in after(WELL, "dives", "turn_in").readings if one.kind == "front_travel"]
        assert (travel.read, travel.to_read) == (False, ("runs", 0, "front_marker_mm"))

    def test_a_finding_at_the_other_end_is_not_about_this_one(self) -> None:
        job = put(WELL, sag__rear=sag_end(20.0, 45.0))
        (front,) = [one for one in after(job, "dives", "turn_in").readings if one.kind == "front_sag"]
        assert not any("rear" in finding.where for finding in front.findings)
        (rear,) = [one for one in after(job, "squats", "exit").readings if one.kind == "rear_sag"]
        assert rear.findings

    def test_what_was_changed_since_the_run_is_there(self) -> None:
        job = put(ridden(WELL, Complaint(what="dives", where="turn_in")), front__left__rebound__now=8.0)
        assert [change.path[-2:] for change in found(job).changed_since] == [("rebound", "now")]


class TestNotOffered:
    def test_an_end_that_uses_all_its_travel_is_not_made_softer(self) -> None:
        of = after(WELL, "harsh", "bumps", front_mm=119.0)
        assert why_not(of, "front_compression_less") == "travel_used_up"
        assert "rear_compression_less" in offered(of)

    def test_a_marker_from_before_a_change_does_not_count(self) -> None:
        job = put(ridden(WELL, Complaint(what="harsh", where="bumps"), front_mm=119.0), front__left__air_gap_mm=100.0)
        assert "front_compression_less" in offered(found(job))

    def test_preload_never_goes_against_what_the_sag_asks_for(self) -> None:
        high = put(WELL, sag__front=sag_end(24.0, 44.0))
        assert why_not(after(high, "vague", "turn_in"), "front_preload_less") == "sag_against"
        low = put(WELL, sag__front=sag_end(10.0, 24.0))
        assert why_not(after(low, "dives", "straight_braking"), "front_preload_more") in ("sag_against", "sag_further")

    def test_a_spring_that_the_sag_asks_for_is_left_to_that_advice(self) -> None:
        of = after(make_samples.soft_springs(), "dives", "straight_braking")
        assert why_not(of, "front_spring_stiffer") == "sag_first"

    def test_readings_that_cannot_be_relied_on_come_first(self) -> None:
        job = put(WELL, sag__front=sag_end(20.0, 33.0, stiction=20.0))
        of = after(job, "dives", "straight_braking")
        assert why_not(of, "front_preload_more") == "sag_first"
        assert "front_compression_more" in offered(of)

    def test_less_preload_is_tried_where_all_of_it_would_take_sag_out(self) -> None:
        job = put(WELL, sag__rear=sag_end(7.5, 28.0))
        (one,) = [one for one in after(job, "tops_out", "bumps").offered if one.row.do == "rear_preload_less"]
        (turned,) = one.changes
        assert 0.0 < turned.old - turned.new < 2.0

    def test_what_would_bring_a_fault_is_not_offered(self) -> None:
        """0.25 mm of preload are left where the adjuster stands: any less, and the spring is loose."""
        job = put(WELL, front__left__spring__set_length_mm=249.75, front__left__spring__set_length_at=4.0)
        job = put(job, front__left__spring__set_length_in_mm=None, sag__front=Job().sag.front)
        of = after(job, "tops_out", "exit")
        (one,) = [one for one in of.not_offered if one.row.do == "front_preload_less"]
        assert one.hindered is not None
        assert one.hindered.finding is not None
        assert (one.hindered.why, one.hindered.finding.code) == ("brings_fault", "spring_loose")


class TestSuggestions:
    def test_what_it_does_is_what_a_trial_of_it_shows(self) -> None:
        for what, where in (("will_not_turn", "turn_in"), ("dives", "straight_braking"), ("squats", "exit")):
            job = ridden(WELL, Complaint(what=what, where=where))  # type: ignore[arg-type]
            for one in found(job).offered:
                session = Session(job, PROFILES, None)
                trial = Trial(session)
                assert not trial.copy.put_all(one.edits)
                seen = compare(session.job, trial.copy.job, PROFILES)
                assert tuple(effects_of(seen)) == one.effects, one.row.do

    def test_a_damper_changes_no_figure_and_a_height_changes_rake_and_trail(self) -> None:
        by_do = {one.row.do: one for one in after(WELL, "will_not_turn", "turn_in").offered}
        assert by_do["front_rebound_more"].effects == ()
        codes = {row.code for row in by_do["front_lower"].effects}
        assert {"rake_deg", "trail_mm"} <= codes
        less = next(row for row in by_do["front_lower"].effects if row.code == "trail_mm")
        assert (less.change or 0.0) < 0.0

    def test_preload_says_what_becomes_of_both_sags_and_of_the_brakes(self) -> None:
        (one,) = [one for one in after(WELL, "dives", "straight_braking").offered if one.row.do == "front_preload_more"]
        codes = {row.code: row.change or 0.0 for row in one.effects}
        assert codes["static_captured"] < 0.0
        assert codes["rider_captured"] < 0.0
        assert codes["brakes_fork_mm"] < 0.0

    def test_two_complaints_that_ask_for_opposite_things_are_set_against_each_other(self) -> None:
        dives, harsh = Complaint(what="dives", where="turn_in"), Complaint(what="harsh", where="straight_braking")
        by_do = {one.row.do: one for one in found(ridden(WELL, dives, harsh)).offered}
        assert by_do["front_compression_more"].against == harsh
        assert by_do["front_preload_more"].against is None

    def test_one_change_that_two_complaints_ask_for_stands_once(self) -> None:
        of = found(ridden(WELL, Complaint(what="squats", where="exit"), Complaint(what="runs_wide", where="exit")))
        assert len(offered(of)) == len(set(offered(of)))


def somewhere(seed: int) -> Job:
    """The invented machine set in some other way: positions anywhere in their ranges, sags and markers as they come."""
    draw = random.Random(seed)
    job = WELL
    for at in adjusters(job):
        part = value_at(job, at)
        assert isinstance(part, Adjuster | Clicker)
        high = part.ends[1] or 10.0
        job = put(job, **{"__".join(map(str, (*at, "now"))): draw.choice([0.0, high, round(draw.uniform(0.0, high))])})
    job = put(
        job,
        front__fork_height_mm=draw.choice([0.0, 3.0, 12.0]),
        rear__length_adjuster_mm=draw.choice([0.0, 1.0, 6.0]),
        front__left__air_gap_mm=draw.choice([41.0, 90.0, 130.0, 248.0]),
        front__left__spring__rate_n_per_mm=draw.choice([8.0, 9.5, 11.0]),
        rear__spring__rate_n_per_mm=draw.choice([70.0, 80.0, 95.0]),
    )
    if draw.random() < 0.7:
        static, rider = draw.uniform(8.0, 32.0), draw.uniform(18.0, 18.0)
        job = put(job, sag__front=sag_end(static, static + rider), sag__rear=sag_end(draw.uniform(2.0, 18.0), 30.0))
    complaints = tuple(draw.sample(WORDS.complaints, 2))
    return ridden(job, *complaints, front_mm=draw.choice([None, 60.0, 95.0, 119.0]), rear_mm=draw.choice([None, 63.0]))


def test_whatever_the_machine_every_change_offered_can_be_made_and_brings_no_fault() -> None:
    """Fifty machines, and the sags of each after every change: never out of a target in which they were."""
    count = 0
    for seed in range(50):
        job = somewhere(seed)
        before = assess(job, PROFILES)
        faults = {(one.code, one.where) for one in before.findings if one.severity is Severity.FAULT}
        for one in what_to_try(job, 0, before, PROFILES, WORDS).offered:
            count += 1
            changed = carried_out(job, one)
            for at in adjusters(changed):
                part = value_at(changed, at)
                low, high = part.ends
                assert part.now is None or (low or 0.0) <= part.now <= (high or 500.0), (seed, one.row.do, at)
            gap, least = changed.front.left.air_gap_mm or 0.0, changed.front.air_gap_least_mm or 40.0
            assert least <= gap <= 250.0
            seen = compare(job, changed, PROFILES)
            new = {(f.code, f.where) for f in seen.changed.findings if f.severity is Severity.FAULT} - faults
            assert not new, (seed, one.row.do, new)
            assert all(change.old != change.new for change in one.changes)
    assert count > 100


def carried_out(job: Job, one: Suggestion) -> Job:
    for edit in one.edits:
        job = apply(job, edit)
    return job


@pytest.mark.parametrize("name", ["off_road", "air_fork", "two_springs", "progressive_fork", "half_filled"])
def test_every_sample_takes_every_complaint(name: str) -> None:
    job = getattr(make_samples, name)()
    for row in WORDS.rows:
        of = after(job, row.what, row.where[0])
        assert len(of.offered) + len(of.not_offered) <= len(row.changes)
        for one in of.offered:
            assert carried_out(job, one) != job
