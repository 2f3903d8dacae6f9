"""Bands and targets: what came with the program, and what a user's file may do to them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from judgement_jobs import FULL, assert_sound, put, sag_end
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import PreloadBand, StictionLimits, Target, load_profiles

# Common practice, no published source.
TARGETS = {
    "road": ((20, 30), (32, 42), (8, 15), (30, 40)),
    "track": ((15, 25), (28, 38), (5, 10), (25, 32)),
    "off-road": ((35, 55), (60, 80), (30, 45), (95, 110)),
}


@pytest.mark.parametrize("name", TARGETS)
def test_sag_targets_follow_common_practice(name: str) -> None:
    profile = load_profiles().by_name[name]
    targets = [end.target(state) for end in (profile.front, profile.rear) for state in ("static", "rider")]
    assert [(t.low, t.high) for t in targets if t] == list(TARGETS[name])


def test_preload_bands_follow_common_practice() -> None:
    profiles = load_profiles()
    for name in ("road", "track"):
        front, rear = profiles.by_name[name].front.installed_preload, profiles.by_name[name].rear.installed_preload
        assert front
        assert (front.low, front.high, front.limit) == (8, 15, 15)
        assert rear
        assert (rear.low, rear.high, rear.limit, rear.loose_below) == (8, 18, None, 3)
    for end in (profiles.by_name["off-road"].front, profiles.by_name["off-road"].rear):
        assert end.installed_preload
        assert (end.installed_preload.low, end.installed_preload.high) == (3, 12)
        assert end.installed_preload.limit is None


def test_stiction_limits_follow_common_practice() -> None:
    for name, front in (("road", (8, 15)), ("track", (8, 15)), ("off-road", (15, 25))):
        profile = load_profiles().by_name[name]
        assert profile.front.stiction
        assert (profile.front.stiction.note, profile.front.stiction.fault) == front
        assert profile.rear.stiction
        assert (profile.rear.stiction.note, profile.rear.stiction.fault) == (3, 6)


def test_a_user_s_row_overrides_one_row_and_leaves_the_rest() -> None:
    profiles = load_profiles(b"[track.front.rider_sag]\nlow = 30\nhigh = 36\n")
    track = profiles.by_name["track"]
    assert track.front.rider_sag == Target(low=30, high=36)
    assert track.front.static_sag == Target(low=15, high=25)
    assert track.label == "Track"
    assert track.own
    assert not profiles.by_name["road"].own
    assert profiles.problems == ()


def test_a_new_profile_stands_beside_and_takes_its_other_rows_from_the_one_it_names() -> None:
    text = b"""
[old-twin]
label = "Old twin"
based_on = "mild"
[mild]
based_on = "road"
[mild.front.installed_preload]
low = 15
high = 30
"""
    profiles = load_profiles(text)
    assert profiles.names == ("road", "track", "off-road", "soft-road", "mild", "old-twin")
    twin = profiles.by_name["old-twin"]
    assert twin.label == "Old twin"
    assert twin.front.installed_preload
    assert twin.front.installed_preload.limit is None
    assert twin.front.installed_preload.high == 30
    assert twin.rear.rider_sag == Target(low=30, high=40)
    assert profiles.problems == ()


def test_limits_of_stiction_may_be_the_user_s_own_and_the_other_rows_stay() -> None:
    own = load_profiles(b"[track.front.stiction]\nnote = 5\nfault = 9\n").by_name["track"].front
    assert own.stiction == StictionLimits(note=5, fault=9)
    assert own.rider_sag == load_profiles().by_name["track"].front.rider_sag
    job = put(FULL, sag__front=sag_end(20.0, 33.0, stiction=6.0))
    assert "stiction_note" in [
        f.code for f in assess(job, load_profiles(b"[track.front.stiction]\nnote = 5\nfault = 9\n")).findings
    ]


def test_the_travel_a_profile_is_meant_for_may_be_the_user_s_own() -> None:
    own = load_profiles(b"[track.front.travel]\nlow = 90\nhigh = 95\n")
    assert own.by_name["track"].front.travel == (90, 95)
    assert own.by_name["track"].front.rider_sag == load_profiles().by_name["track"].front.rider_sag
    for profiles, noted in ((own, True), (load_profiles(), False)):
        found = [finding.code for finding in assess(put(FULL, front__travel_mm=125.0), profiles).findings]
        assert ("travel_not_as_meant" in found) is noted


def test_a_profile_built_on_another_has_nothing_to_be_put_right() -> None:
    profiles = load_profiles(b"[b]\nbased_on = 'a'\n[a]\nbased_on = 'road'\n")
    assert profiles.problems == ()
    assert profiles.by_name["b"].front == profiles.by_name["road"].front


def test_rows_that_nobody_gives_are_not_judged() -> None:
    profile = load_profiles(b"[bare]\n").by_name["bare"]
    assert profile.front.installed_preload is None
    assert profile.rear.rider_sag is None
    judged = assess(put(FULL, job__use="bare"), load_profiles(b"[bare]\n"))
    assert_sound(judged)
    assert judged.predicted.front.turns_for_target.problem == "no_target"


def test_a_target_may_be_a_share_of_travel() -> None:
    text = b'[mine.front.rider_sag]\nlow = 25\nhigh = 30\nunit = "%"\nas_share_of_travel = true\n'
    target = load_profiles(text).by_name["mine"].front.rider_sag
    assert target is not None
    assert target.in_mm(120.0) == (30.0, 36.0)
    assert target.in_mm(None) is None
    for end, travel in (("front", "travel_mm"), ("rear", "wheel_travel_mm")):
        shares = load_profiles(text.replace(b"front", end.encode()).replace(b"mine", b"track"))
        assessment = assess(put(FULL, **{f"{end}__{travel}": None}), shares)
        assert_sound(assessment)
        [missing] = [finding for finding in assessment.findings if finding.code == "missing"]
        assert (missing.where, missing.values["needs"]) == (("sag", end), ((end, travel),))


@pytest.mark.parametrize(
    ("text", "key", "word"),
    [
        (b"[track.front.rider_sag]\nlow = 'x'\nhigh = 3", "track.front.rider_sag.low", "number"),
        (b"[track.front.rider_sag]\nlow = true\nhigh = 3", "track.front.rider_sag.low", "number"),
        (b"[track.front.rider_sag]\nlow = nan\nhigh = 3", "track.front.rider_sag.low", "between"),
        (b"[track.front.rider_sag]\nlow = inf\nhigh = 3", "track.front.rider_sag.low", "between"),
        (b"[track.front.rider_sag]\nlow = " + b"9" * 400 + b"\nhigh = 3", "track.front.rider_sag.low", "between"),
        (b"[track.front.rider_sag]\nlow = 3", "track.front.rider_sag.high", "missing"),
        (b"[track.front.rider_sag]\nlow = 9\nhigh = 3", "track.front.rider_sag", "above"),
        (b"[track.front.rider_sag]\nlow = 1\nhigh = 3\nunit = 'in'", "track.front.rider_sag.unit", "mm"),
        (b"[track.front.rider_sag]\nlow = 1\nhigh = 300\nas_share_of_travel = true", ".high", "100"),
        (b"[track.front.installed_preload]\nlow = 1\nhigh = 9\nlimit = 8", "installed_preload", "limit"),
        (b"[track.front]\nwobble = 3", "track.front.wobble", "not known"),
        (b"[track.middle]\nx = 3", "track.middle", "not known"),
        (b"track = 3", "track", "table"),
        (b"[track]\nlabel = 3", "track.label", "text"),
        (b"[mine]\nbased_on = 'nobody'", "mine.based_on", "no profile"),
        (b"[a]\nbased_on = 'b'\n[b]\nbased_on = 'a'", "a.based_on", "each other"),
        (b'["x\\u001b[31m"]\n', "x", "ordinary characters"),
    ],
)
def test_each_key_that_cannot_be_used_is_reported_and_the_rest_stands(text: bytes, key: str, word: str) -> None:
    profiles = load_profiles(text)
    assert any(key in problem and word in problem for problem in profiles.problems), profiles.problems
    assert profiles.by_name["track"].front.rider_sag == Target(low=28, high=38)


@pytest.mark.parametrize("row", [b"low = 1\nhigh = 9\nlimit = 8", b"low = 9\nhigh = 8\nlimit = 12"])
def test_a_band_out_of_order_leaves_the_usual_one(row: bytes) -> None:
    usual = load_profiles().by_name["track"].front.installed_preload
    assert load_profiles(b"[track.front.installed_preload]\n" + row).by_name["track"].front.installed_preload == usual
    right = load_profiles(b"[track.front.installed_preload]\nlow = 1\nhigh = 9\nlimit = 9\nloose_below = 2")
    assert right.by_name["track"].front.installed_preload == PreloadBand(low=1, high=9, limit=9, loose_below=2)


def test_an_unknown_key_in_a_row_is_reported_but_the_row_is_used() -> None:
    profiles = load_profiles(b"[track.front.rider_sag]\nlow = 29\nhigh = 37\nmiddle = 33")
    assert any("middle" in problem for problem in profiles.problems)
    assert profiles.by_name["track"].front.rider_sag == Target(low=29, high=37)


@pytest.mark.parametrize(
    ("text", "word"),
    [
        (b"\xff\xfe", "UTF-8"),
        (b"a = [" + b"[" * 5000, "deep"),
        (b"a = 1\nb = =\n", "line 2"),
        (b"#" * 300_000, "too long"),
    ],
)
def test_a_file_that_cannot_be_read_leaves_the_profiles_as_they_came(text: bytes, word: str) -> None:
    profiles = load_profiles(text)
    assert profiles.names == ("road", "track", "off-road", "soft-road")
    [problem] = profiles.problems
    assert word in problem


@given(st.binary(max_size=200) | st.text(max_size=200).map(lambda text: text.encode("utf-8", "replace")))
def test_no_file_of_profiles_raises(text: bytes) -> None:
    assert set(load_profiles(text).names) >= {"road", "track", "off-road"}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (b"[track]\nfront = 3\n", "track.front"),
        (b"[track.front]\nspring_colour = 3\n", "track.front.spring_colour"),
        (b"[track.front]\nrider_sag = 30\n", "track.front.rider_sag"),
        (b"[track.front.rider_sag]\nlow = 28\nhigh = 38\nsource = 5\n", "track.front.rider_sag.source"),
        (
            b'[track.front.rider_sag]\nlow = 28\nhigh = 38\nunit = "mm"\nas_share_of_travel = "no"\n',
            "as_share_of_travel",
        ),
        (b"[track.front.rider_sag]\nlow = 28\nhigh = 38\nmiddle = 33\n", "middle"),
    ],
)
def test_what_cannot_be_used_in_a_profile_is_told_by_its_key_and_the_usual_stands(text: bytes, words: str) -> None:
    profiles = load_profiles(text)
    assert [problem for problem in profiles.problems if words in problem]
    usual = assess(FULL, load_profiles()).sag.front.rider
    assert assess(FULL, profiles).sag.front.rider.target == usual.target


def test_of_very_many_problems_the_first_are_told_and_the_rest_counted() -> None:
    text = b"[track.front]\n" + b"".join(b"wrong_%d = 1\n" % number for number in range(300))
    problems = load_profiles(text).problems
    assert len(problems) < 300
    assert problems[-1] == f"and {300 - len(problems) + 1} more"
