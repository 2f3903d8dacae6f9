"""A job comes back from its file as it was, and a file that is not whole or not right never opens as if it were."""

from __future__ import annotations

import datetime as dt
import random
import tomllib
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from stanchion.base.errors import BadFile, CutShort
from stanchion.job import codec
from stanchion.job.codec import FORMAT, dumps, header, loads
from stanchion.job.model import (
    Adjuster,
    Front,
    Job,
    Leg,
    LinkagePair,
    Occasion,
    Readings,
    Rear,
    Sag,
    SagEnd,
    Spring,
    Stack,
)
from strategies import jobs

many_jobs = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@cache
def filled() -> Job:
    """An invented job with both legs, a linkage and sag readings."""
    leg = Leg(
        spring=Spring(rate_n_per_mm=9.5, free_length_mm=250.0, set_length_mm=238.0, set_length_in_mm=230.0),
        adjuster=Adjuster(total_turns=16.0, now=4.25),
        stack=Stack(spacer_mm=120.5, washers_mm=(1.0, 1.5)),
    )
    return Job(
        job=Occasion(machine="Invented 600", rider="A. Rider", venue="Bench", date=dt.date(2026, 5, 31), notes="1\n2"),
        front=Front(left=leg, right=replace(leg, air_gap_mm=130.0), oil="5W"),
        rear=Rear(spring=Spring(rate_n_per_mm=95.0), linkage=(LinkagePair(wheel_mm=10.0, shock_mm=5.25),)),
        sag=Sag(front=SagEnd(hanging_mm=(512.0,), static=Readings(down_mm=(488.5, 489.0), up_mm=(492.0,)))),
    )


def hand_written(*lines: str, end: bool = True) -> bytes:
    return "\n".join([f"format = {FORMAT}", *lines, *(["[end]", "complete = true"] if end else []), ""]).encode()


# --- there and back ----------------------------------------------------------------------------------------------


@many_jobs
@given(jobs(foreign=True))
@example(Job())
@example(Job(front=Front(right=Leg())))
@example(Job(job=Occasion(notes="\x00" * 2000)))
@example(Job(rear=Rear(linkage=(LinkagePair(), LinkagePair(wheel_mm=0.0)))))
def test_a_job_comes_back_from_its_file_as_it_was(job: Job) -> None:
    written = dumps(job)
    loaded = loads(written)
    assert loaded.job == job
    assert (loaded.format, loaded.read_only, loaded.edited_by_hand) == (FORMAT, False, False)
    assert dumps(loaded.job) == written


@many_jobs
@given(jobs())
def test_the_header_agrees_with_the_whole_file(job: Job) -> None:
    written = dumps(job)
    assert header(written).job == job.job
    assert header(written[: 16 * 1024]).job == job.job


def test_the_file_is_readable_and_leaves_empty_fields_out() -> None:
    assert dumps(Job(front=Front(left=Leg(spring=Spring(free_length_mm=250)), right=Leg()))).decode().splitlines()[
        :-2
    ] == [
        f"format = {FORMAT}",
        "",
        "[job]",
        'machine = ""',
        'rider = ""',
        'venue = ""',
        "date = 2000-01-01",
        'use = "track"',
        "",
        "[front.left.spring]",
        "free_length_mm = 250.0",
        "",
        "[front.right]",
        "",
        "[end]",
    ]


def test_the_end_mark_is_the_last_line_of_the_file() -> None:
    assert dumps(filled()).endswith(b"\ncomplete = true\n")


def test_legs_are_split_where_the_file_has_a_right_leg_even_an_empty_one() -> None:
    assert not loads(hand_written("[front.left]")).job.front.split
    assert loads(hand_written("[front.right]")).job.front.split


def test_a_whole_number_written_by_hand_is_read_as_a_number() -> None:
    spring = loads(hand_written("[front.left.spring]", "free_length_mm = 250")).job.front.left.spring
    assert spring.free_length_mm == 250.0
    assert isinstance(spring.free_length_mm, float)


# --- keys of another version -------------------------------------------------------------------------------------


def test_unknown_keys_stay_where_they_were_even_in_rows_and_in_tables_of_their_own() -> None:
    data = hand_written(
        "shop = 'North'",
        "[weather]",
        "air_c = 21.5",
        "[front.left.spring]",
        "maker_code = 'x[/b]'",
        "[[rear.linkage]]",
        "wheel_mm = 10",
        "[[rear.linkage]]",
        "checked_by = ['a', 'b']",
    )
    job = loads(data).job
    again = tomllib.loads(dumps(job).decode())
    assert again["shop"] == "North"
    assert again["weather"] == {"air_c": 21.5}
    assert again["front"]["left"]["spring"] == {"maker_code": "x[/b]"}
    assert again["rear"]["linkage"] == [{"wheel_mm": 10.0}, {"checked_by": ["a", "b"]}]
    assert loads(dumps(job)).job == job


def test_unknown_keys_of_a_place_that_is_gone_go_with_it() -> None:
    job = loads(hand_written("[front.right]", "grease = 'x'", "[[rear.linkage]]", "wheel_mm = 1", "zz = 2")).job
    together = replace(job, front=replace(job.front, right=None), rear=Rear())
    written = dumps(together)
    assert b"grease" not in written
    assert b"zz" not in written
    assert loads(written).job.front == together.front


def test_an_unknown_key_never_hides_a_known_one() -> None:
    job = replace(filled(), unknown=((("front", "oil"), 5),))
    assert loads(dumps(job)).job.front.oil == "5W"


def test_unknown_keys_keep_no_order_that_the_file_cannot_keep() -> None:
    one = loads(hand_written("b = 1", "a = 2", "[z]", "[front]", "new = 1")).job
    assert loads(dumps(one)).job == one


@pytest.mark.parametrize("value", ["nan", "-inf", "1e400", "0x" + "f" * 40, "'''" + "a\n" * 3000 + "'''"])
def test_a_foreign_value_that_cannot_be_written_back_is_refused(value: str) -> None:
    with pytest.raises(BadFile, match=r"^job\.zz: "):
        loads(hand_written("[job]", f"zz = {value}"))


# --- a file of a later version -----------------------------------------------------------------------------------


def later(data: bytes) -> bytes:
    return data.replace(b"format = %d" % FORMAT, b"format = %d" % (FORMAT + 1), 1)


def test_a_file_of_a_later_version_opens_read_only_as_far_as_it_is_understood() -> None:
    loaded = loads(
        later(
            hand_written(
                "job = 5",
                "[front]",
                "travel_mm = 'long'",
                "fork_height_mm = 3.0",
                "[front.left.spring]",
                "free_length_mm = 250.0",
                "rate_n_per_mm = [9.0, 9.5, 10.0]",
                "[rear]",
                "linkage = [{ wheel_mm = 1.0 }, 5]",
            )
        )
    )
    assert loaded.read_only
    assert loaded.format == FORMAT + 1
    assert loaded.job.front.fork_height_mm == 3.0
    assert loaded.job.front.left.spring == Spring(free_length_mm=250.0)
    assert loaded.job.unknown == (
        (("front", "left", "spring", "rate_n_per_mm"), [9.0, 9.5, 10.0]),
        (("front", "travel_mm"), "long"),
        (("job",), 5),
        (("rear", "linkage"), [{"wheel_mm": 1.0}, 5]),
    )


def test_the_header_of_a_later_version_is_read_too() -> None:
    found = header(later(hand_written("[job]", "machine = 'X'", "rider = 7", "[front]")))
    assert (found.format, found.job.machine, found.job.rider) == (FORMAT + 1, "X", "")


def test_a_later_file_without_its_end_is_cut_short_all_the_same() -> None:
    with pytest.raises(CutShort):
        loads(later(hand_written("[job]", end=False)))


def test_a_file_of_an_earlier_format_is_brought_up_to_this_one(monkeypatch: pytest.MonkeyPatch) -> None:
    def renamed(tables: dict[str, Any]) -> dict[str, Any]:
        occasion = dict(tables["job"])
        occasion["machine"] = occasion.pop("bike")
        return tables | {"job": occasion}

    monkeypatch.setattr(codec, "FORMAT", FORMAT + 1)
    monkeypatch.setattr(codec, "MIGRATIONS", {FORMAT: renamed})
    data = hand_written("[job]", "bike = 'X'", "[front]")
    assert loads(data).job == Job(job=Occasion(machine="X"))
    assert not loads(data).read_only
    assert header(data).job.machine == "X"


# --- damage ------------------------------------------------------------------------------------------------------


def test_a_file_cut_anywhere_is_refused() -> None:
    written = dumps(filled())
    whole = len(written.rstrip(b"\n"))  # the last newline is no content
    for end in range(whole):
        with pytest.raises(BadFile):
            loads(written[:end])


def test_a_file_cut_at_a_line_says_that_it_is_cut_short() -> None:
    written = dumps(filled())
    cuts = [at + 1 for at, byte in enumerate(written[:-1]) if byte == ord("\n")]
    for end in [0, *cuts[1:]]:
        with pytest.raises(CutShort, match="cut short"):
            loads(written[:end])


def test_a_flipped_bit_is_refused_or_flagged() -> None:
    written = dumps(filled())
    chance = random.Random(20260531)
    refused = flagged = 0
    for _ in range(1000):
        at, bit = chance.randrange(len(written)), chance.randrange(8)
        damaged = bytearray(written)
        damaged[at] ^= 1 << bit
        try:
            assert loads(bytes(damaged)).edited_by_hand, f"bit {bit} of byte {at}"
            flagged += 1
        except BadFile:
            refused += 1
    assert refused > 100
    assert flagged > 100


def test_an_editor_that_changes_only_line_ends_has_edited_nothing() -> None:
    written = dumps(filled())
    loaded = loads(b"\xef\xbb\xbf" + written.replace(b"\n", b"\r\n"))
    assert loaded.job == filled()
    assert not loaded.edited_by_hand


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b"[front]", b"# seen\n[front]"),
        (b"250.0", b"251.0"),
        (b"complete = true", b"complete = true\n[sag.rear]\nhanging_mm = [500.0]"),
        (b'sha256 = "', b'sha256 = "0'),
    ],
)
def test_a_file_changed_by_hand_opens_and_says_so(old: bytes, new: bytes) -> None:
    written = dumps(filled())
    assert old in written
    assert loads(written.replace(old, new, 1)).edited_by_hand


def test_a_file_written_by_hand_needs_no_checksum() -> None:
    loaded = loads(hand_written("[job]", "machine = 'X'"))
    assert loaded.job == Job(job=Occasion(machine="X"))
    assert loaded.edited_by_hand


def test_saving_a_file_that_was_edited_makes_it_whole_again() -> None:
    data = hand_written("[job]", "machine = 'X'") + b"seen_by = 'me'\n"
    written = dumps(loads(data).job)
    assert b"seen_by" in written
    assert not loads(written).edited_by_hand


# --- values that do not fit --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        (
            ("[front.left.spring]", "free_length_mm = '250'"),
            r"front\.left\.spring\.free_length_mm: a number is needed, not text; write it without quotes .*mm",
        ),
        (("[front]", "travel_mm = true"), r"front\.travel_mm: a number is needed, not true or false"),
        (("[front]", "travel_mm = nan"), r"front\.travel_mm: an ordinary number"),
        (("[front]", "travel_mm = inf"), r"front\.travel_mm: an ordinary number"),
        (("[front]", "travel_mm = 1e400"), r"front\.travel_mm: an ordinary number"),
        (("[front]", "travel_mm = 0x" + "f" * 400), r"front\.travel_mm: the number is too large"),
        (("[front]", "travel_mm = 9500"), r"front\.travel_mm: 9500 .* between 20 and 500; .*\(the file holds mm\)"),
        (("[front]", "travel_mm = [120.0]"), r"front\.travel_mm: a number is needed, not a list"),
        (("[front]", "travel_mm = 2026-05-31"), r"front\.travel_mm: a number is needed, not a date"),
        (("[front]", "left = 5"), r"front\.left: a table is needed; write it as \[front\.left\]"),
        (("front = 'x'",), r"front: a table is needed"),
        (("[front.left]", "read_at = 'there'"), r"front\.left\.read_at: it must be one of 'stop', .*take the line out"),
        (("[front.left]", "spring_fitted = 'yes'"), r"front\.left\.spring_fitted: true or false .*without quotes"),
        (("[job]", "date = '2026-05-31'"), r"job\.date: a date .* without quotes"),
        (("[job]", "date = 2026-05-31T10:00:00"), r"job\.date: a date .* without a time"),
        (("[job]", "machine = 600"), r"job\.machine: text .* double quotes"),
        (
            ("[job]", f"machine = '{'x' * 61}'"),
            r"job\.machine: the text is too long: 61 characters, at most 60; shorten",
        ),
        (("[sag.front]", "hanging_mm = 512.0"), r"sag\.front\.hanging_mm: a list is needed; .*square brackets"),
        (("[sag.front]", "hanging_mm = [1, 2, 3, 4, 5, 6]"), r"sag\.front\.hanging_mm: 6 entries .* at most 5"),
        (("[sag.front]", "hanging_mm = [512.0, '513']"), r"sag\.front\.hanging_mm\[1\]: a number is needed"),
        (("[rear]", "linkage = [5]"), r"rear\.linkage\[0\]: a table is needed; .*curly brackets"),
        (("[[rear.linkage]]", "wheel_mm = -5"), r"rear\.linkage\[0\]\.wheel_mm: -5 cannot be right"),
    ],
)
def test_a_value_that_does_not_fit_is_refused_with_its_key_and_what_to_do(lines: tuple[str, ...], message: str) -> None:
    with pytest.raises(BadFile, match=f"^{message}"):
        loads(hand_written(*lines))


@pytest.mark.parametrize("first", ["", "format = 0", "format = -1", "format = true", "format = '1'", "format = 1.0"])
def test_a_file_without_a_format_number_is_no_job(first: str) -> None:
    with pytest.raises(BadFile, match=rf"not a job file.*format = {FORMAT}"):
        loads(f"{first}\n[job]\nmachine = 'X'\n[end]\ncomplete = true\n".encode())


@pytest.mark.parametrize("end", ["", "[end]", "[end]\ncomplete = false", "[end]\ncomplete = 1", "end = true"])
def test_a_file_without_the_end_mark_is_cut_short_and_says_how_to_end_one_written_by_hand(end: str) -> None:
    with pytest.raises(CutShort, match=r"\[end\].*complete = true"):
        loads(f"format = 1\n{end}\n".encode())


@pytest.mark.parametrize("data", [b"", b"\n", b"\xef\xbb\xbf", b"  \r\n"])
def test_an_empty_file_is_cut_short_and_no_empty_job(data: bytes) -> None:
    with pytest.raises(CutShort, match="empty"):
        loads(data)


# --- the header --------------------------------------------------------------------------------------------------


def test_the_header_does_not_look_at_the_rest_of_the_file() -> None:
    assert header(hand_written("[job]", "machine = 'X'", "[front]", "travel_mm = ???")).job.machine == "X"


def test_the_header_is_found_where_the_tables_were_moved_about() -> None:
    data = hand_written("[front]", "travel_mm = 120.0", "[job]", "machine = 'X'")
    assert header(data).job.machine == "X"


def test_a_header_that_is_cut_within_its_table_is_not_taken_for_whole() -> None:
    with pytest.raises(BadFile):
        header(dumps(filled())[:60])


# --- anything at all ---------------------------------------------------------------------------------------------

WORDS = [b"[", b"]", b"{", b"}", b"=", b",", b".", b'"', b"'", b'"""', b"'''", b"\n", b"\\", b"#", b"0x", b"nan", b"1"]
WORDS += [
    b"format = 1\n",
    b"[job]\n",
    b"[front.left.spring]\n",
    b"free_length_mm",
    b"[[rear.linkage]]\n",
    b"\xff",
    b"\0",
]
WORDS += [b"[end]\ncomplete = true\n", b"date = ", b"2026-02-30", b"true", b" ", b"\r", b"\xef\xbb\xbf", b"\xc2\x9b"]


@settings(max_examples=300, deadline=None)
@given(st.binary(max_size=200) | st.lists(st.sampled_from(WORDS), max_size=40).map(b"".join))
def test_any_bytes_give_a_job_or_a_refusal(data: bytes) -> None:
    for read in (loads, header):
        try:
            read(data)
        except BadFile:
            continue


@settings(max_examples=150, deadline=None)
@given(st.integers(0, 10_000), st.integers(0, 60), st.lists(st.sampled_from(WORDS), max_size=4).map(b"".join))
def test_a_file_with_a_piece_replaced_gives_a_job_that_can_be_saved_or_a_refusal(
    at: int, gone: int, put: bytes
) -> None:
    written = dumps(filled())
    at %= len(written)
    try:
        job = loads(written[:at] + put + written[at + gone :]).job
    except BadFile:
        return
    assert loads(dumps(job)).job == job
