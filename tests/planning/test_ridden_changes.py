"""A run takes the changes that the machine has, gives them up where it was ridden before, and one found worse is undone."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from complete_job import complete_job
from judgement_jobs import FULL, PROFILES, codes, judged, put
from stanchion.job.change import ChangeToRide, ExpectedEffect, Move
from stanchion.job.complaint import Complaint
from stanchion.job.diff import Difference
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job, Path, Run
from stanchion.job.proof import AT, with_change
from stanchion.job.runs import changes_before, changes_since, is_blank, new_run, run_as_set
from stanchion.judgement.work.proof import changes_at_once, verdict_wanted
from stanchion.judgement.work.work_list import ticked, work_list
from stanchion.planning.change_to_ride import chosen_change, on_work_list
from stanchion.planning.ridden_changes import back_at_once, logged, restamped, taken_back, waiting_again
from stanchion.planning.whatif import compare
from stanchion.wording.proof_sentences import changed_for_run, expected_words

NOON = dt.datetime(2026, 5, 31, 12, 0)
LATER = dt.datetime(2026, 5, 31, 12, 40)
WIDE = Complaint(where="exit", what="runs_wide")
TWO_OUT = ChangeToRide(complaints=(WIDE,), moves=(Move(path="rear.rebound.now", was="10.0", becomes="12.0"),))
START = put(FULL, rear__rebound__now=10.0, front__left__rebound__now=9.0)
FIRST = replace(START, runs=(Run(time="11:00", complaints=(WIDE,), front=START.front, rear=START.rear),))


def applied(job: Job, edits: tuple[Edit, ...]) -> Job:
    for edit in edits:
        job = apply(job, edit)
    return job


def with_change_made(job: Job = FIRST) -> Job:
    """The job with the change made at noon."""
    return put(replace(job, changes=with_change(job, TWO_OUT, NOON)), rear__rebound__now=12.0)


def ridden(job: Job) -> Job:
    return applied(job, logged(job, new_run(job, "12:40", NOON.date()), LATER))


def told(job: Job, verdict: str) -> Job:
    return apply(job, Edit(("runs", len(job.runs) - 1, "verdict"), verdict))


def test_the_next_run_takes_the_change_the_machine_has_and_leaves_one_still_to_be_made() -> None:
    planned = ChangeToRide(moves=(Move(path="front.fork_height_mm", was="", becomes="7.0"),))
    made = with_change_made()
    job = ridden(replace(made, changes=(*made.changes, planned)))
    change = job.runs[-1].change
    assert change is not None
    assert (change.made_at, change.complaints, change.at_once) == ("12:00", (WIDE,), None)
    assert job.changes == (planned,)
    assert is_blank(job.runs[-1]), "nothing was recorded of the run yet"
    assert verdict_wanted(job, 1)
    assert not verdict_wanted(told(job, "same"), 1)


def test_a_change_made_without_a_tick_is_stamped_when_the_run_is_logged() -> None:
    job = replace(FIRST, changes=with_change(FIRST, TWO_OUT, None))
    change = ridden(put(job, rear__rebound__now=12.0)).runs[-1].change
    assert change is not None
    assert change.made_at == "12:40"


def test_a_change_taken_back_before_the_run_is_not_ridden() -> None:
    job = ridden(put(with_change_made(), rear__rebound__now=10.0))
    assert (job.runs[-1].change, job.changes) == (None, ())
    assert not verdict_wanted(job, 1)


def test_a_run_that_was_ridden_before_the_change_gives_it_up_and_takes_it_again() -> None:
    job = ridden(with_change_made())
    before = (Edit(("runs", 1, "rear"), START.rear),)
    earlier = applied(job, (*before, *restamped(job, 1, before)))
    assert earlier.runs[1].change is None
    assert [(one.made_at, one.complaints, one.moves) for one in earlier.changes] == [("12:00", (WIDE,), TWO_OUT.moves)]
    now = (Edit(("runs", 1, "rear"), job.rear),)
    assert applied(earlier, (*now, *restamped(earlier, 1, now))) == job
    assert restamped(job, 0, now) == (), "an older run keeps what is recorded with it"


def test_deleting_the_latest_run_lets_its_change_wait_again() -> None:
    job = ridden(with_change_made())
    deleted = applied(job, (Edit(("runs",), job.runs[:1]), *waiting_again(job, 1)))
    assert [(one.made_at, one.moves) for one in deleted.changes] == [("12:00", TWO_OUT.moves)]
    assert ridden(deleted).runs == job.runs


def test_a_spring_with_its_preload_is_one_change_where_it_was_chosen_as_one_and_two_where_it_was_not() -> None:
    edits = (Edit(("rear", "spring", "rate_n_per_mm"), 100.0), Edit(("rear", "collar", "now"), 1.5))
    chosen = chosen_change(FIRST, edits, PROFILES)
    assert chosen is not None
    as_one = replace(chosen.after, changes=with_change(FIRST, chosen.change, NOON))
    assert changes_at_once(ridden(as_one), 1) == 1
    assert "changed_together" not in codes(judged(as_one))
    assert changes_at_once(ridden(chosen.after), 1) == 2


def test_two_changes_before_the_next_run_are_warned_about_and_stay_known_of_the_run() -> None:
    one = with_change_made()
    assert "changed_together" not in codes(judged(one))
    both = put(one, front__left__rebound__now=8.0)
    assert "changed_together" in codes(judged(both))
    job = ridden(both)
    assert changes_at_once(job, 1) == 2
    assert "ridden_together" in codes(judged(job))
    assert "ridden_together" not in codes(judged(told(job, "better")))


def test_two_changes_are_not_warned_about_where_nobody_is_to_judge_them() -> None:
    quiet = replace(START, runs=(replace(FIRST.runs[0], complaints=()),))
    both = put(quiet, front__left__rebound__now=8.0, rear__rebound__now=12.0)
    assert "changed_together" not in codes(judged(both))
    assert "changed_together" in codes(judged(replace(both, runs=FIRST.runs))), "with a complaint they are"


def test_a_change_made_before_the_last_one_has_its_verdict_is_warned_about() -> None:
    job = put(ridden(with_change_made()), front__left__rebound__now=8.0)
    assert "changed_before_verdict" in codes(judged(job))
    assert "changed_before_verdict" not in codes(judged(told(job, "worse")))


def test_a_position_that_was_only_recorded_since_is_no_change() -> None:
    job = ridden(put(FIRST, rear__low_speed_compression__now=14.0))
    assert changes_at_once(job, 1) == 0
    assert not verdict_wanted(job, 1)


def test_a_chosen_change_expects_what_the_trial_of_it_says() -> None:
    job = complete_job()
    chosen = chosen_change(job, (Edit(("rear", "collar", "now"), 3.0),), PROFILES)
    assert chosen is not None
    seen = compare(job, chosen.after, PROFILES)
    rows: dict[str, tuple[Path, str]] = {
        "rear_rider_mm": (("rear",), "rider_captured"),
        "front_static_mm": (("front",), "static_captured"),
        "fork_brakes_mm": (("front",), "brakes_fork_mm"),
        "trail_mm": (("geometry",), "trail_mm"),
    }
    for name, row in rows.items():
        then = seen.row(*row).changed.value
        present = seen.row(*row).present.value
        assert then is not None, row
        assert present is not None, row
        assert getattr(chosen.change.expected, name) == (round(then, 2) if abs(then - present) >= 0.05 else None)
    assert chosen.change.expected.front_static_mm is None, "the shock's collar does not move the front's static sag"
    now = compare(job, job, PROFILES).row(("rear",), "rider_captured").present.value
    assert now is not None
    assert chosen.change.expected.rear_rider_mm is not None
    assert chosen.change.expected.rear_rider_mm < now - 1.0, "a turn more preload raises the rear"


def test_of_a_click_of_rebound_no_figure_is_expected_that_stays_as_it_is() -> None:
    job = complete_job()
    turned = (job.rear.rebound.now or 0.0) + 1.0
    chosen = chosen_change(job, (Edit(("rear", "rebound", "now"), turned),), PROFILES)
    assert chosen is not None
    assert chosen.change.expected == ExpectedEffect()
    assert expected_words(chosen.change.expected) == ""


def test_on_the_work_list_it_is_ticked_and_the_machine_then_has_it() -> None:
    chosen = chosen_change(FIRST, (Edit(("rear", "rebound", "now"), 12.0),), PROFILES)
    assert chosen is not None
    job = applied(FIRST, on_work_list(FIRST, chosen, "Shock rebound 2 clicks out"))
    found = work_list(job)
    assert found is not None
    assert [(item.kind, item.amount, item.direction) for item in found.items] == [("shock_rebound", 2.0, "out")]
    assert applied(job, ticked(job, found.items[0])).rear == chosen.after.rear


def test_what_is_nothing_to_do_is_no_change() -> None:
    assert chosen_change(FIRST, (), PROFILES) is None
    assert chosen_change(FIRST, (Edit(("job", "rider_mass_kg"), 90.0),), PROFILES) is None


def test_a_change_found_worse_is_taken_back_and_what_was_changed_since_stays() -> None:
    job = put(ridden(with_change_made()), front__left__rebound__now=8.0)
    edit = taken_back(job, 1, "before run 2")
    assert edit is not None
    found = work_list(apply(job, edit))
    assert found is not None
    assert [(item.kind, item.direction) for item in found.items] == [("shock_rebound", "in")]
    assert taken_back(put(job, rear__rebound__now=10.0), 1, "") is None, "it is there already"
    assert taken_back(job, 0, "") is None


def test_bringing_back_what_the_last_run_was_ridden_with_is_nothing_to_judge() -> None:
    job = with_change_made()
    back = chosen_change(job, (Edit(("rear", "rebound", "now"), 10.0),), PROFILES)
    assert back is not None
    assert back_at_once(back.after, back.change)
    assert not back_at_once(job, TWO_OUT)
    assert AT == ("changes",)


def _read_after_the_run() -> Job:
    """Rebound was not recorded with the first run; 10 was read after it, then turned to 12."""
    unread = put(START, rear__rebound__now=None)
    job = replace(unread, runs=(replace(FIRST.runs[0], rear=unread.rear),))
    return put(job, rear__rebound__now=10.0)


def test_a_position_written_down_for_the_first_time_is_no_change() -> None:
    job = _read_after_the_run()
    assert changes_since(job, 0) == ()
    assert run_as_set(job) in (0, None)
    again = ridden(job)
    assert (changes_before(again, 1), changes_at_once(again, 1)) == ((), 0)


def test_a_change_from_a_position_read_after_the_run_before_is_told_and_can_be_taken_back() -> None:
    job = with_change_made(_read_after_the_run())
    assert changes_since(job, 0) == (Difference(("rear", "rebound", "now"), 10.0, 12.0),)
    job = told(ridden(job), "worse")
    assert changes_before(job, 1) == (Difference(("rear", "rebound", "now"), 10.0, 12.0),)
    assert changed_for_run(job, 1) == "Shock rebound 10 → 12 clicks from closed (2 clicks out)"
    back = taken_back(job, 1, "before run 2")
    assert back is not None
    to_do = work_list(apply(job, back))
    assert to_do is not None
    (item,) = to_do.items
    assert item.changes == (Difference(("rear", "rebound", "now"), 12.0, 10.0),)
