"""Guided measuring without a screen: taking, repeating and going back."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from judgement_jobs import FULL, put
from stanchion.bench.guided_measuring import PARTS
from stanchion.bench.guided_readings import Guided
from stanchion.bench.session import Session
from stanchion.job.model import Job, Readings
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.wording.finding_words import sentence

PROFILES = load_profiles()


def guided(job: Job, part: str = "sag") -> Guided:
    return Guided(Session(job, PROFILES), next(one for one in PARTS if one == part))


def test_what_is_taken_leads_on_in_the_order_of_the_work_and_back_again() -> None:
    walk = guided(Job())
    for text in ("620", "580", "597", "602"):
        assert walk.type(text)
        walk.take()
    front = walk.session.job.sag.front
    assert (front.hanging_mm, front.static.down_mm, front.static.up_mm) == ((620.0,), (597.0,), (602.0,))
    assert walk.field == ("sag", "rear", "static", "down_mm", 0)
    walk.back()
    assert walk.field == ("sag", "front", "static", "up_mm", 0)
    assert not walk.type("602")  # as it stands already


def test_a_reading_in_doubt_is_taken_when_asked_twice_and_one_that_cannot_be_read_never() -> None:
    walk = guided(put(FULL, sag__front__rider=Readings(down_mm=(587.0,), up_mm=())))
    assert walk.field == ("sag", "front", "rider", "up_mm", 0)
    walk.type("58")  # lifted lower than pushed down: swapped, or a digit short
    walk.take()
    assert (walk.hindrance, walk.field[-2] if walk.field else "") == ("doubtful", "up_mm")
    assert walk.fresh_doubts
    walk.take()
    assert walk.hindrance == ""
    assert walk.field != ("sag", "front", "rider", "up_mm", 0)
    walk.go_to(("sag", "front", "rider", "up_mm", 0))
    walk.type("58x")
    walk.take()
    assert (walk.hindrance, walk.unread) == ("unread", True)


def test_turns_that_no_collar_has_are_asked_about() -> None:
    """156 for 15.6: by itself where all turns are counted, by the thread where only those it is in are."""
    collar = put(FULL, rear__collar__total_turns=None, rear__collar__now=None)
    for name in ("total_turns", "now"):
        walk = guided(collar, "rear")
        assert walk.go_to(("rear", "collar", name))
        walk.type("156")
        walk.take()
        assert (walk.hindrance, walk.field) == ("doubtful", ("rear", "collar", name)), name
        assert walk.fresh_doubts
        walk.type("15.6")
        walk.take()
        assert walk.hindrance == ""


@pytest.mark.parametrize(("counting", "most"), [("turns", 40), ("clicks", 100), ("rings", 20), ("mm", 100)])
def test_a_length_typed_as_the_position_of_an_adjuster_is_asked_about(counting: str, most: int) -> None:
    """A set length of 236 mm taken one Enter too late, on a machine of which nothing else is known. No published source
    for the most that an adjuster counts: common practice."""
    job = put(Job(), front__left__adjuster__counting=counting)
    walk = guided(job, "front")
    assert walk.go_to(("front", "left", "adjuster", "now"))
    walk.type(str(most))
    assert not walk.fresh_doubts
    walk.type("236")
    walk.take()
    assert (walk.hindrance, walk.field) == ("doubtful", ("front", "left", "adjuster", "now"))
    assert "236 is outside the usual 0" in sentence(walk.fresh_doubts[0])


def test_a_reading_is_repeated_once_it_is_taken_and_what_is_read_once_is_not() -> None:
    walk = guided(Job())
    walk.repeat()
    assert walk.hindrance == "nothing_yet"
    walk.type("620")
    walk.repeat()
    assert (walk.hindrance, walk.repeat_at) == ("", 1)
    bench = guided(Job(), "front")
    bench.repeat()
    assert bench.hindrance == "once"


def test_it_begins_at_the_first_reading_missing_and_with_none_at_the_field_chosen() -> None:
    assert Guided(Session(Job(), PROFILES), "sag", ("sag", "rear", "hanging_mm", 0)).at == 0
    assert Guided(Session(FULL, PROFILES), "sag", ("sag", "rear", "hanging_mm", 0)).at == 1
    assert Guided(Session(FULL, PROFILES), "sag", ("job", "rider")).complete
    assert guided(FULL).step is None


def on(walk: Guided) -> list[float]:
    """The repeats of L1 at the front."""
    return list(walk.session.job.sag.front.hanging_mm)


def test_one_key_drops_the_repeat_in_hand_or_the_last_one_and_undo_brings_it_back() -> None:
    walk = guided(put(Job(), sag__front__hanging_mm=(620.0, 650.0, 621.0)))
    walk.go(0, 1)
    walk.drop()
    assert on(walk) == [620.0, 621.0]
    assert (walk.at, walk.repeat_at, walk.hindrance) == (0, 1, "dropped")
    walk.repeat()  # the next one, empty as yet
    walk.type("6")
    walk.drop()
    walk.drop()
    walk.drop()
    assert on(walk) == []
    walk.drop()
    assert walk.hindrance == "nothing_to_drop"
    assert walk.session.undo()
    assert on(walk) == [620.0]


def test_a_job_changed_from_outside_leads_to_what_was_changed() -> None:
    walk = guided(Job())
    walk.session.put(("sag", "rear", "hanging_mm"), (580.0,))
    assert walk.follow()
    assert walk.field == ("sag", "rear", "hanging_mm", 0)
    assert not walk.follow()


def test_readings_of_other_springs_are_put_away_before_a_new_one_is_stepped_or_typed() -> None:
    walk = guided(put(FULL, sag__rear__static=Readings(down_mm=(605.0, 606.0), up_mm=(607.0,))))
    walk.session.put(("rear", "spring", "rate_n_per_mm"), 77.0)
    walk.first_missing()
    assert walk.field == ("sag", "rear", "static", "down_mm", 0)
    walk.nudge(1)
    static = walk.session.job.sag.rear.static
    assert (static.down_mm, static.up_mm, static.rates_n_per_mm) == ((605.5,), (), (77.0,))


KEYS = st.sampled_from(["take", "repeat", "back", "alone", "missing", "up", "1", "62", "", "x", "587.5", "undo"])


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(PARTS), st.sampled_from([Job(), FULL]), st.lists(KEYS, max_size=25))
def test_no_keys_lead_astray(part: str, job: Job, keys: list[str]) -> None:
    walk = guided(job, part)
    for key in keys:
        match key:
            case "take":
                walk.take()
            case "repeat":
                walk.repeat()
            case "back":
                walk.back()
            case "alone":
                walk.turn_alone()
            case "missing":
                walk.first_missing()
            case "up":
                walk.nudge(1)
            case "undo":
                walk.session.undo(walk.field)
                walk.follow()
            case text:
                walk.type(text)
                if walk.field is not None:
                    assert walk.session.text_of(walk.field) == text
        assert 0 <= walk.at <= len(walk.steps)
        assert walk.step is None or walk.repeat_at < walk.step.most
