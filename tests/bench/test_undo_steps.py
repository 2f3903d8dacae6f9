"""Undo and redo over any states: one step for each visit."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from stanchion.bench.edit_session import DEPTH, Steps

VISITS = st.sampled_from([None, "left", "right"])


def test_the_keys_of_one_visit_are_one_step_and_those_of_no_visit_one_each() -> None:
    steps: Steps[int] = Steps()
    for before, visit in ((0, "field"), (1, "field"), (2, None), (3, None)):
        steps.change(before, visit)
    assert [steps.back(4), steps.back(3), steps.back(2), steps.back(0)] == [3, 2, 0, None]


def test_a_visit_that_ended_is_a_new_one_when_it_begins_again() -> None:
    steps: Steps[int] = Steps()
    steps.change(0, "field")
    steps.leave()
    steps.change(1, "field")
    assert [steps.back(2), steps.back(1)] == [1, 0]


def test_a_visit_elsewhere_that_changes_nothing_ends_the_one_before() -> None:
    steps: Steps[int] = Steps()
    steps.change(0, "field")
    steps.stay("other")
    steps.change(1, "field")
    assert [steps.back(2), steps.back(1)] == [1, 0]


def test_what_a_visit_changed_can_be_forgotten_and_only_that() -> None:
    steps: Steps[int] = Steps()
    steps.change(0, "field")
    steps.leave()
    steps.change(1, "field")
    steps.change(2, "field")
    assert steps.forget("other") is None
    assert steps.forget("field") == 1
    assert steps.forget("field") is None
    assert [steps.back(1), steps.back(0)] == [0, None]


def test_a_change_after_undo_ends_the_way_forward() -> None:
    steps: Steps[int] = Steps()
    steps.change(0)
    assert steps.back(1) == 0
    steps.change(0)
    assert steps.forward(5) is None


def test_the_oldest_steps_go_first() -> None:
    steps: Steps[int] = Steps()
    for before in range(DEPTH + 10):
        steps.change(before)
    now: int | None = DEPTH + 10
    taken = []
    while (now := steps.back(now or 0)) is not None:
        taken.append(now)
    assert (len(taken), taken[-1]) == (DEPTH, 10)


@given(st.lists(VISITS, max_size=20), st.integers(0, 25))
def test_all_the_way_back_is_the_beginning_and_all_the_way_forward_the_end(visits: list[str | None], more: int) -> None:
    steps: Steps[int] = Steps()
    for before, visit in enumerate(visits):
        steps.change(before, visit)
    now = last = len(visits)
    for _ in range(more):
        earlier = steps.back(now)
        now = now if earlier is None else earlier
    if more >= len(visits):
        assert now == 0
    while (later := steps.forward(now)) is not None:
        now = later
    assert now == last
