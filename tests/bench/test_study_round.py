"""Making a study: the order is mixed and shown, earlier readings stay hidden, odd ones are confirmed."""

from __future__ import annotations

import datetime as dt
from collections import Counter

import pytest

from stanchion.bench.entry_round import EntryRound
from stanchion.bench.study_round import StudyRound, places_of, turns_of
from stanchion.job.repeatability import STUDIED
from stanchion.job.study import PLACES
from stanchion.units.known_units import Units

TODAY = dt.date(2026, 3, 7)


def typed(going: EntryRound, text: str) -> None:
    while going.typed:
        going.delete()
    for one in text:
        going.type(one)
    going.take()


def begun(seed: int = 5) -> StudyRound:
    going = StudyRound("alone", seed, TODAY)
    for text in ("Anna", "Ben", "", ""):
        typed(going, text)
    return going


@pytest.mark.parametrize("of", STUDIED)
def test_everybody_reads_every_place_equally_often_in_an_order_that_the_seed_settles(of: str) -> None:
    kind = next(one for one in STUDIED if one == of)
    for seed in range(20):
        turns = turns_of(kind, seed)
        read = Counter((place, turn.person) for turn in turns for place in places_of(kind, turn))
        assert read == {(place, person): 3 for place in PLACES[kind] for person in (0, 1)}
    assert len({turns_of(kind, seed) for seed in range(20)}) > 15


def test_a_whole_study_comes_back_by_place_person_and_repeat() -> None:
    going = begun()
    expected = {}
    for number, one in enumerate(going.asked[4:]):
        value = {"front": 510.0, "rear": 620.0}[str(one.key[1]).partition("_")[0]] + (number % 3) * 0.5
        expected[one.key[1:]] = value
        assert going.one == one
        typed(going, f"{value}")
    assert going.done
    study = going.study()
    assert (study.by, study.helper, study.on, study.tape_mm, study.complete) == ("Anna", "Ben", TODAY, None, True)
    for at, place in enumerate(PLACES["alone"]):
        for person in (0, 1):
            assert study.readings[at][person] == tuple(expected[(place, person, n)] for n in range(3))


def test_a_reading_far_from_the_others_of_its_place_is_taken_only_when_asked_twice() -> None:
    going = begun()
    first = going.asked[4].key
    typed(going, "510")
    again = next(at for at, one in enumerate(going.asked[5:], 5) if one.key[1] == first[1])
    while going.at < again:
        lifted = str(going.asked[going.at].key[1]).endswith("_up")
        typed(going, "514" if lifted else "510")
    typed(going, "501")
    assert (going.at, going.doubt) == (again, "far_off")
    going.take()
    assert (going.at, going.doubt) == (again + 1, "")


def test_a_lifted_reading_shorter_than_the_pushed_down_one_is_questioned() -> None:
    going = begun()
    typed(going, "510")
    typed(going, "507")
    assert (going.at, going.doubt) == (5, "swapped")
    typed(going, "511")
    assert (going.at, going.doubt) == (6, "")


def test_earlier_readings_are_hidden_also_from_who_goes_back_and_names_are_not() -> None:
    going = begun()
    typed(going, "510")
    going.back()
    assert going.typed == ""
    assert going.one == going.asked[4]
    for _ in range(4):
        going.back()
    assert going.typed == "Anna"


def test_what_cannot_be_read_is_refused_and_nothing_is_skipped() -> None:
    going = begun()
    for text in ("", "12 potatoes", "-3", "9999"):
        typed(going, text)
        assert going.refused
        assert going.at == 4
    typed(going, "20 in")
    assert going.values[going.asked[4].key] == pytest.approx(508.0)
    assert StudyRound("bench", 1, TODAY, Units(lengths="in")).asked[0].key == ("by",)
