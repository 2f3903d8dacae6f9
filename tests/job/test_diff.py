"""What differs between two jobs is all there is to change to make one out of the other."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import HealthCheck, given, settings

from judgement_jobs import FULL, PAIRS, put, split
from stanchion.job.diff import SPLIT, Difference, differences
from stanchion.job.edit import apply, spec_at, value_at
from stanchion.job.model import Job
from stanchion.job.spec import Part
from strategies import jobs

ANY_JOBS = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def led_over(a: Job, found: tuple[Difference, ...]) -> Job:
    for difference in found:
        a = apply(a, difference.edit)
    return a


@ANY_JOBS
@given(jobs(), jobs())
def test_the_differences_applied_to_one_job_give_the_other(a: Job, b: Job) -> None:
    assert led_over(a, differences(a, b)) == b


@ANY_JOBS
@given(jobs())
def test_a_job_does_not_differ_from_itself_nor_from_its_copy(job: Job) -> None:
    assert differences(job, job) == ()
    assert differences(job, replace(job, front=replace(job.front), rear=replace(job.rear))) == ()


@ANY_JOBS
@given(jobs(), jobs())
def test_a_difference_names_the_values_of_both_jobs_which_really_differ(a: Job, b: Job) -> None:
    for difference in differences(a, b):
        if difference.path == SPLIT:
            continue
        spec = spec_at(difference.path)
        assert not isinstance(spec, Part) or spec.optional
        assert difference.old != difference.new
        assert value_at(a, difference.path) == difference.old
        assert value_at(b, difference.path) == difference.new


def test_each_changed_value_is_one_difference_in_the_order_of_the_model() -> None:
    changed = put(FULL, rear__collar__now=3.0, front__left__adjuster__now=6.0, job__venue="Elsewhere")
    assert differences(FULL, changed) == (
        Difference(("job", "venue"), "", "Elsewhere"),
        Difference(("front", "left", "adjuster", "now"), 4.0, 6.0),
        Difference(("rear", "collar", "now"), 2.0, 3.0),
    )


def test_lists_differ_as_a_whole() -> None:
    changed = put(FULL, sag__front__static__down_mm=(577.0, 578.0), rear__linkage=PAIRS)
    assert differences(FULL, changed) == (
        Difference(("rear", "linkage"), (), PAIRS),
        Difference(("sag", "front", "static", "down_mm"), (579.0,), (577.0, 578.0)),
    )
    assert led_over(changed, differences(changed, FULL)) == FULL


def test_a_leg_set_apart_differs_only_in_what_is_turned_on_it() -> None:
    apart = put(split(FULL), front__right__adjuster__now=6.0)
    turned = Difference(("front", "right", "adjuster", "now"), 4.0, 6.0)
    assert differences(FULL, apart) == (Difference(SPLIT, None, FULL.front.left), turned)


def test_legs_put_together_first_bring_the_right_one_to_the_left_one() -> None:
    apart = put(split(FULL), front__right__adjuster__now=6.0)
    turned_back = Difference(("front", "right", "adjuster", "now"), 6.0, 4.0)
    assert differences(apart, FULL) == (turned_back, Difference(SPLIT, FULL.front.left, None))


def test_splitting_equal_legs_is_no_work_on_the_machine() -> None:
    assert [difference.path for difference in differences(FULL, split(FULL))] == [SPLIT]
    assert [difference.path for difference in differences(split(FULL), FULL)] == [SPLIT]


def test_keys_of_a_newer_version_are_not_touched() -> None:
    foreign = replace(FULL, unknown=((("front", "x_new"), 1),))
    assert differences(FULL, foreign) == ()
    assert led_over(foreign, differences(foreign, put(FULL, front__fork_height_mm=3.0))).unknown == foreign.unknown
