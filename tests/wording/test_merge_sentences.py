"""What two copies of a job differ in, told so that each field is known by its place and no value is told raw."""

from __future__ import annotations

from typing import get_args, get_type_hints

import pytest

from judgement_jobs import FULL, put
from stanchion.bench.merging import MergeSession
from stanchion.job.diff import SPLIT
from stanchion.job.measured import changed_since_read
from stanchion.job.merge import MergeChoice, merge
from stanchion.job.model import Job, Path, Returning, Run, SagEnd
from stanchion.units.known_units import Units
from stanchion.wording.merge_sentences import (
    ANOTHER_PART,
    LONGEST_TEXT,
    changed_words,
    place_words,
    runs_words,
    side_words,
)


@pytest.mark.parametrize(
    ("path", "words"),
    [
        (("job", "future", "key"), "job.future.key (a key this version does not know)"),
        (("rear", "linkage", 1, "wheel_mm"), "row 2"),
        (("front", "left", "spring", "rate_n_per_mm"), "eft"),
    ],
)
def test_a_place_is_named(path: Path, words: str) -> None:
    assert words in place_words(path)


def test_a_leg_that_stands_for_both_is_not_called_left() -> None:
    path = ("front", "left", "spring", "rate_n_per_mm")
    assert "eft" not in place_words(path, both_legs=True)


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        (SPLIT, None, "legs entered as one"),
        (SPLIT, object(), "legs entered separately"),
        (("job", "future"), "a\x1b[31mb", "a\ufffd[31mb"),
        (("job", "future"), 4, "4"),
        (("job", "future"), "n" * 500, "n" * (LONGEST_TEXT - 1) + "…"),
        (("job", "future"), {"deep": 1}, "something"),
        (("job", "notes"), "x\x07y", "x\ufffdy"),
        (("job", "notes"), "", "none"),
        (("job", "notes"), "n" * 500, "n" * (LONGEST_TEXT - 1) + "…"),
        (("front", "travel_mm"), 127.0, "127 mm"),
    ],
)
def test_a_value_is_told_harmlessly(path: Path, value: object, words: str) -> None:
    assert side_words(path, value).replace("127.0", "127") == words


def test_a_length_is_told_in_the_unit_of_the_user() -> None:
    assert side_words(("front", "travel_mm"), 127.0, Units(lengths="in")).startswith("5")


def test_who_changed_a_field_is_told() -> None:
    sentences = {
        changed: changed_words(
            MergeChoice(path=("job", "notes"), left="a", right="b", changed=changed, taken="left", settled=False),
            "here",
            "the copy",
        )
        for changed in get_args(get_type_hints(MergeChoice)["changed"])
    }
    assert sentences == {
        "left": "changed in here",
        "right": "changed in the copy",
        "both": "changed in both",
        "unknown": "differs",
    }


def test_runs_of_both_are_told_only_where_they_differ() -> None:
    job = Job(runs=(Run(time="10:20"),))
    more = Job(runs=(Run(time="10:20"), Run(time="11:00")))
    assert runs_words(job, job, merge(job, job)) == ""
    sentences = runs_words(job, more, merge(job, more, Job()))
    assert sentences == "Runs: 1 and 2; all that differ are kept, 2 in the merged job."


class TestALengthThatDiffers:
    """It counts as another part, and that is said where sag or runs rest on it."""

    def test_it_is_said_and_sag_is_old_after_the_merge(self) -> None:
        left = put(FULL, sag__front__rider__rates_n_per_mm=(9.5, 9.5))
        right = put(left, front__left__spring__rate_n_per_mm=10.0)
        merging = MergeSession(left, right, left, ("ours", "theirs"))
        assert merging.parts == ANOTHER_PART
        assert changed_since_read(merging.merged.job, "front", "rider")

    def test_it_is_not_said_of_other_fields_or_where_nothing_was_read(self) -> None:
        other = put(FULL, front__left__rebound__now=3.0)
        assert MergeSession(FULL, other, FULL, ("ours", "theirs")).parts == ""
        unread = put(FULL, sag__front=SagEnd())
        assert MergeSession(unread, put(unread, front__left__spring__rate_n_per_mm=10.0), None, ("a", "b")).parts == ""


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        (("sag", "front", "rider", "rates_n_per_mm"), (10.25,), "10.25 N/mm"),
        (("sag", "front", "rider", "preload_at"), (4.5, 4.0), "4.5, 4"),
        (("sag", "front", "rider", "stacks_mm"), (97.5,), "97.5 mm"),
        (("returning",), Returning(job="2026-05-16-heron.toml", title="Saturday, run 2"), "Saturday, run 2"),
        (("returning",), None, "none"),
    ],
)
def test_what_sag_was_read_with_and_a_work_list_are_told_in_their_own_units_and_words(
    path: Path, value: object, words: str
) -> None:
    assert side_words(path, value) == words


def test_what_sag_was_read_with_names_its_state() -> None:
    words = {place_words(("sag", "front", state, "rates_n_per_mm")) for state in ("static", "rider")}
    assert words == {"Front static sag: springs when read", "Front rider sag: springs when read"}
