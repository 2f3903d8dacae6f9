"""A number that was measured wrong goes along into runs and notes; a part that was changed makes sag old."""

from __future__ import annotations

from dataclasses import replace

import pytest

from judgement_jobs import FULL, put, split
from stanchion.bench.session import Session
from stanchion.bench.trial import Trial
from stanchion.job.codec import dumps, loads
from stanchion.job.edit import Edit, apply, value_at
from stanchion.job.measured import changed_since_read, noted
from stanchion.job.model import ENDS, STATES, Job, Path, Run, SecondSpring
from stanchion.job.runs import changes_before, new_run
from stanchion.judgement.criteria.profiles import load_profiles

SPACER: Path = ("front", "left", "stack", "spacer_mm")
WASHER: Path = ("front", "left", "stack", "washers_mm", 0)
SET: Path = ("front", "left", "spring", "set_length_mm")
RATE: Path = ("front", "left", "spring", "rate_n_per_mm")
REAR_SET: Path = ("rear", "spring", "set_length_mm")
REAR_RATE: Path = ("rear", "spring", "rate_n_per_mm")
READ = [("sag", end, state, "down_mm", 0) for end in ("front", "rear") for state in ("static", "rider")]


def ridden(job: Job) -> Job:
    """The job with its sag noted as read and one run logged."""
    for path in READ:
        job = noted(job, path)
    return replace(job, runs=(new_run(job, "10:00"),))


def session(job: Job = FULL) -> Session:
    return Session(ridden(job), load_profiles())


def entered(bench: Session, path: Path, text: str) -> None:
    """Typed key by key, and left."""
    for end in range(1, len(text) + 1):
        bench.type(path, text[:end])
    bench.leave(path)


def old(job: Job, path: Path) -> bool:
    return any(
        changed_since_read(job, "front" if path[0] == "front" else "rear", state) for state in ("static", "rider")
    )


@pytest.mark.parametrize("path", [SPACER, WASHER, RATE, REAR_RATE])
def test_without_an_answer_another_part_is_in_and_sag_is_old(path: Path) -> None:
    bench = session()
    entered(bench, path, "2.5")
    assert bench.asked is not None
    assert old(bench.job, path)
    assert changes_before(replace(bench.job, runs=(*bench.job.runs, new_run(bench.job, "11:00"))), 1)


@pytest.mark.parametrize("path", [SPACER, WASHER, SET, RATE, REAR_SET, REAR_RATE])
def test_a_correction_makes_nothing_old_and_goes_along_into_the_runs(path: Path) -> None:
    bench = session()
    before = bench.job
    entered(bench, path, "97.5" if "mm" in str(path[-1]) else "9")
    typed = bench.job
    assert not bench.correct()
    assert not old(bench.job, path)
    assert bench.asked is None
    assert changes_before(replace(bench.job, runs=(*bench.job.runs, new_run(bench.job, "11:00"))), 1) == ()
    assert bench.undo()
    assert bench.job == typed
    assert bench.undo()
    assert bench.job == before


def test_what_was_read_before_notes_were_kept_stays_good_too() -> None:
    bench = Session(FULL, load_profiles())
    entered(bench, SPACER, "102")
    assert old(bench.job, SPACER)
    assert not bench.correct()
    assert not old(bench.job, SPACER)
    assert bench.job.sag.front.rider.stacks_mm == (107.0, 107.0)


def test_one_leg_alone_is_corrected_in_that_leg() -> None:
    bench = session(split(FULL))
    entered(bench, ("front", "right", "stack", "spacer_mm"), "102")
    bench.correct()
    assert bench.job.sag.front.rider.stacks_mm == (105.0, 107.0)
    front = bench.job.runs[0].front
    assert front is not None
    assert front.right is not None
    assert (front.left.stack.spacer_mm, front.right.stack.spacer_mm) == (100.0, 102.0)


def test_a_run_with_both_legs_alike_takes_the_correction_of_one_leg_apart() -> None:
    bench = session()
    bench.split_legs()
    entered(bench, ("front", "right", "stack", "spacer_mm"), "102")
    bench.correct()
    front = bench.job.runs[0].front
    assert front is not None
    assert (front.left.stack.spacer_mm, front.leg("right").stack.spacer_mm) == (100.0, 102.0)


def test_a_run_ridden_with_another_part_keeps_it() -> None:
    bench = session()
    entered(bench, SPACER, "110")  # another spacer
    bench.put(("runs",), (*bench.job.runs, new_run(bench.job, "11:00")))
    entered(bench, SPACER, "112")  # which is 112 mm long
    assert not bench.correct()
    spacers = [run.front.left.stack.spacer_mm for run in bench.job.runs if run.front is not None]
    assert spacers == [100.0, 112.0]
    assert old(bench.job, SPACER)  # sag was read with the first


def test_the_current_work_list_is_corrected_too() -> None:
    from stanchion.job.returning import returning, setup_of

    job = ridden(FULL)
    job = replace(job, returning=returning(job, setup_of(job), job="", run=None, title="before"))
    bench = Session(job, load_profiles())
    entered(bench, SPACER, "102")
    bench.correct()
    back = bench.job.returning
    assert back is not None
    setups = (back.to, back.start)
    assert [of.front.left.stack.spacer_mm for of in setups if of is not None and of.front is not None] == [102.0, 102.0]


class TestWhatIsNotAsked:
    def test_a_length_first_entered_or_emptied(self) -> None:
        bench = session(put(FULL, front__left__stack__spacer_mm=None))
        entered(bench, SPACER, "100")
        assert bench.asked is None
        bench.type(SPACER, "")
        bench.leave(SPACER)
        assert bench.asked is None

    def test_the_same_number_again_also_by_way_of_another(self) -> None:
        bench = session()
        entered(bench, SPACER, "100")
        assert bench.asked is None
        assert bench.job == session().job

    def test_an_adjuster_that_is_turned(self) -> None:
        bench = session()
        entered(bench, ("front", "left", "adjuster", "now"), "6")
        assert bench.asked is None

    def test_where_nothing_depends_on_it(self) -> None:
        bench = Session(put(FULL, sag=type(FULL.sag)(), front__left__spring__set_length_mm=None), load_profiles())
        entered(bench, SPACER, "102")
        assert bench.asked is None
        bench = Session(replace(bench.job, runs=(Run(time="10:00"),)), load_profiles())
        entered(bench, SPACER, "104")
        assert bench.asked is None

    def test_a_set_length_depends_on_the_spacer_it_was_read_with(self) -> None:
        bench = Session(put(FULL, sag=type(FULL.sag)()), load_profiles())
        entered(bench, SPACER, "102")
        assert bench.asked is not None
        assert bench.job.upkeep.set_lengths_with.left_mm == 105.0
        bench.correct()
        assert bench.job.upkeep.set_lengths_with.left_mm == 107.0

    def test_springs_put_in_by_choice(self) -> None:
        from stanchion.job.edit import Edit

        bench = session()
        bench.put_all([Edit(SPACER, 102.0)])
        assert bench.asked is None

    def test_the_next_change_leaves_it_unanswered(self) -> None:
        bench = session()
        entered(bench, SPACER, "102")
        entered(bench, ("front", "left", "rebound", "now"), "9")
        assert bench.asked is None
        assert bench.correct()
        assert old(bench.job, SPACER)

    def test_what_is_tried(self) -> None:
        bench = session()
        trial = Trial(bench)
        entered(trial.copy, SPACER, "102")
        assert trial.copy.asked is None


def test_a_motion_ratio_that_was_tried_is_not_called_measured() -> None:
    """It was measured with 15 teeth; 16 are on now: applying a ratio that was only tried measures nothing."""
    job = put(FULL, upkeep__front_teeth=15.0)
    job = noted(put(job, rear__motion_ratio=0.42), ("rear", "motion_ratio"))
    bench = Session(put(job, upkeep__front_teeth=16.0), load_profiles())
    trial = Trial(bench)
    trial.copy.put(("rear", "motion_ratio"), 0.45)
    assert not trial.apply()
    assert bench.job.rear.motion_ratio == 0.45
    assert bench.job.upkeep.ratio_with.front_teeth == 15.0
    bench.put(("rear", "motion_ratio"), 0.46)
    assert bench.job.upkeep.ratio_with.front_teeth == 16.0


def test_a_question_answered_is_put_away_also_where_nothing_was_noted_that_had_to_be_corrected() -> None:
    bench = Session(FULL, load_profiles())  # sag says nothing of the springs it was read with
    entered(bench, SET, "236")
    assert bench.asked is not None
    assert not bench.correct()
    assert bench.asked is None


GAP: Path = ("front", "left", "air_gap_mm")
RIDER: Path = ("job", "rider_mass_kg")
RATIO: Path = ("rear", "motion_ratio")


def states_old(job: Job) -> set[tuple[str, str]]:
    return {(end, state) for end in ENDS for state in STATES if changed_since_read(job, end, state)}


def known(bench: Session, path: Path, value: object) -> Session:
    """The job with that number in it when its sags were read."""
    job = apply(bench.job, Edit(path, value))
    for end in ENDS:
        for state in STATES:
            job = noted(job, ("sag", end, state, "down_mm"))
    return Session(job, load_profiles())


def test_an_air_gap_that_was_changed_makes_front_sag_old_and_one_that_was_misread_does_not() -> None:
    bench = known(session(), GAP, 110.0)
    entered(bench, GAP, "120")
    assert bench.asked is not None
    assert states_old(bench.job) == {("front", "static"), ("front", "rider")}
    assert not bench.correct()
    assert states_old(bench.job) == set()
    entered(bench, GAP, "125")
    assert states_old(bench.job) == {("front", "static"), ("front", "rider")}


def test_another_rider_makes_rider_sag_old_and_a_mass_that_was_mistaken_does_not() -> None:
    bench = known(session(), RIDER, 78.0)
    entered(bench, RIDER, "87")
    assert bench.asked is not None
    assert states_old(bench.job) == {("front", "rider"), ("rear", "rider")}
    assert bench.job.weights.aboard_rider_kg is None  # typed: which of scales and mass is right is not known
    assert not bench.correct()
    assert states_old(bench.job) == set()


def test_a_motion_ratio_entered_again_is_of_the_same_link_and_one_that_is_tried_of_another() -> None:
    bench = known(session(apply(FULL, Edit(("rear", "linkage"), ()))), RATIO, 0.45)
    entered(bench, RATIO, "0.48")
    assert states_old(bench.job) == set()
    assert not bench.put_all((Edit(RATIO, 0.5),), tried=True)
    assert states_old(bench.job) == {("rear", "static"), ("rear", "rider")}
    entered(bench, RATIO, "0.51")
    assert states_old(bench.job) == {("rear", "static"), ("rear", "rider")}  # of the link that was tried


def test_scales_and_rake_entered_again_make_no_sag_old() -> None:
    bench = known(session(), RIDER, 78.0)
    for path in (("weights", "front_alone_kg"), ("weights", "rear_aboard_kg"), ("geometry", "rake_deg")):
        entered(bench, path, "25.5")
    assert states_old(bench.job) == set()


def test_a_rider_who_is_tried_leaves_a_note_of_the_one_on_the_scales_until_they_are_read_again() -> None:
    job = apply(FULL, Edit(("weights", "front_aboard_kg"), 120.0))
    bench = known(session(apply(job, Edit(("weights", "rear_aboard_kg"), 118.0))), RIDER, 78.0)
    assert not bench.put_all((Edit(RIDER, 90.0),), tried=True)
    assert bench.job.weights.aboard_rider_kg == 78.0
    assert states_old(bench.job) == {("front", "rider"), ("rear", "rider")}
    assert loads(dumps(bench.job)).job == bench.job
    entered(bench, ("weights", "rear_aboard_kg"), "130")
    weights = bench.job.weights
    assert (weights.aboard_rider_kg, weights.aboard_rider_at) == (78.0, "front")  # that scale is of the one before
    assert loads(dumps(bench.job)).job == bench.job
    entered(bench, ("weights", "front_aboard_kg"), "131")
    again = bench.job.weights
    assert again.aboard_rider_kg is None
    assert again.aboard_rider_at == "both"


@pytest.mark.parametrize("name", ["rate_n_per_mm", "free_length_mm", "stop_mm"])
@pytest.mark.parametrize("spring", [("front", "left", "spring"), ("rear", "spring")])
def test_a_second_spring_measured_wrong_goes_along_into_runs_and_notes(spring: Path, name: str) -> None:
    second = SecondSpring(arranged="end_to_end", rate_n_per_mm=30.0, free_length_mm=60.0, stop_mm=10.0)
    two = put(FULL, front__left__spring__second=second, rear__spring__second=second)
    path: Path = (*spring, "second", name)
    bench = session(two)
    entered(bench, path, "25")
    assert bench.asked is not None
    assert old(bench.job, path)
    bench.correct()
    assert not old(bench.job, path)
    run = bench.job.runs[0]
    ridden_with = replace(bench.job, front=run.front or FULL.front, rear=run.rear or FULL.rear)
    assert value_at(ridden_with, path) == 25.0
    bench.undo()
    bench.undo()
    assert bench.job == ridden(two)
