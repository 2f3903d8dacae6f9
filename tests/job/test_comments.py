"""Comments of a hand-edited file are written back beside the same keys, and none is lost."""

from __future__ import annotations

import tomllib
from collections import Counter
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from complete_job import complete_job
from stanchion.base.errors import BadFile
from stanchion.job.carry import carried
from stanchion.job.codec import comments_of, dumps, loads
from stanchion.job.comments import MOST_BYTES, comments_in, with_comments
from stanchion.job.edit import Edit, apply
from stanchion.job.merge import merge
from stanchion.job.model import Job
from strategies import jobs

BEFORE_MARKS = st.text(st.characters(exclude_categories=("Cs", "Cc")) | st.just("\t"), max_size=20)


def parsed(text: str) -> list[tuple[str, str, str]]:
    """The comments of a text: path, place, words."""
    return [(".".join(map(str, one.path)), one.place, one.text) for one in comments_in(text)]


def commented(draw: Any, text: str, most: int = 12) -> tuple[str, Counter[str]]:
    """A text as the program writes it with comments in random places, and what they are."""
    lines = text.split("\n")
    put: Counter[str] = Counter()
    for _ in range(draw(st.integers(1, most))):
        at = draw(st.integers(0, len(lines) - 1))
        words = "#" + draw(BEFORE_MARKS)
        put[words] += 1
        if draw(st.booleans()) and lines[at].strip() and not any(one in lines[at] for one in "#\"'"):
            lines[at] += draw(st.sampled_from(["", " ", "\t "])) + words
        else:
            lines.insert(at, draw(st.sampled_from(["", "    "])) + words)
            if draw(st.booleans()):
                lines.insert(at, "")
    return "\n".join(lines), put


@given(st.data())
def test_comments_anywhere_in_a_job_change_no_value_and_none_is_lost(data: st.DataObject) -> None:
    job = data.draw(jobs())
    text, put = commented(data.draw, dumps(job).decode())
    read = loads(text.encode())
    assert read.job == job
    assert Counter(one.text for one in comments_of(read.job)) == put
    written = dumps(read.job)
    again = loads(written)
    assert again.job == job
    assert not again.edited_by_hand
    assert Counter(one.text for one in comments_of(again.job)) == put
    assert dumps(again.job) == written


@given(st.data())
def test_comments_of_keys_that_are_gone_and_of_keys_that_moved_are_not_lost(data: st.DataObject) -> None:
    text, put = commented(data.draw, dumps(data.draw(jobs())).decode())
    other = data.draw(jobs())
    before = loads(text.encode()).job
    changed = replace(other, comments=comments_of(before))  # of another tree altogether
    again = loads(dumps(changed))
    assert again.job == other
    assert not again.edited_by_hand
    assert Counter(one.text for one in comments_of(again.job)) == put


HAND = """\
# the machine of the house

# second paragraph
format = 1
[job]              # who
machine = "Quince # 4"   # it says so on the tank
'rider' = '''
A. # no comment
'''                # three lines
date = 2026-05-16
front.travel = { low = 1, "high # x" = [1, # one
  2] }             # inline
odd = [            # begins
  # first
  [1.5, 2.5],      # pair
  1979-05-27 07:32:00, # a moment
  # last
]
# ends the job

# the fork
[front.left."spring"]  # spring
"rate" = 9.5# tight
[[runs]]
time = "10:15"     # first run
[runs.front]
a = 1              # as ridden
[[runs]]
# empty so far
"""


def test_every_spelling_of_a_key_has_its_comments() -> None:
    tomllib.loads(HAND)
    assert parsed(HAND) == [
        ("format", "above", "# the machine of the house"),
        ("format", "above", "# second paragraph"),
        ("job", "beside", "# who"),
        ("job.machine", "beside", "# it says so on the tank"),
        ("job.rider", "beside", "# three lines"),
        ("job.front.travel.high # x.0", "beside", "# one"),
        ("job.front.travel", "beside", "# inline"),
        ("job.odd.0", "above", "# begins"),
        ("job.odd.0", "above", "# first"),
        ("job.odd.0", "beside", "# pair"),
        ("job.odd.1", "beside", "# a moment"),
        ("job.odd", "end", "# last"),
        ("job", "end", "# ends the job"),
        ("front.left.spring", "above", "# the fork"),
        ("front.left.spring", "beside", "# spring"),
        ("front.left.spring.rate", "beside", "# tight"),
        ("runs.0.time", "beside", "# first run"),
        ("runs.0.front.a", "beside", "# as ridden"),
        ("runs.1", "end", "# empty so far"),
    ]


def test_they_are_where_they_were() -> None:
    text = "# of a\na = 1  # one\nlist = [\n    # low\n    1,  # first\n    2,\n    # no more\n]\n\n# t\n[t]\nb = 2\n# end of t\n"
    bare = "\n".join(line.split("  #")[0] for line in text.split("\n") if not line.strip().startswith("#"))
    assert with_comments(bare, comments_in(text)) == text


def test_one_whose_key_is_gone_ends_its_table_and_goes_back_when_the_key_does() -> None:
    job = complete_job()
    text = dumps(job).decode().replace("\nfork_height_mm = 6.0\n", "\nfork_height_mm = 6.0  # flush with the yoke\n", 1)
    read = loads(text.encode()).job
    without = apply(read, Edit(("front", "fork_height_mm"), None))
    front = dumps(without).decode().partition("\n[front]\n")[2].partition("\n\n")[0]
    assert front.endswith("\n# flush with the yoke")
    back = apply(without, Edit(("front", "fork_height_mm"), 6.0))
    assert "\nfork_height_mm = 6.0  # flush with the yoke\n" in dumps(back).decode()


def test_of_a_list_that_grew_or_shrank_they_are_above_it() -> None:
    text = dumps(complete_job()).decode()
    at = text.index("washers_mm = [\n")
    first = text.index(",\n", at)
    read = loads((text[:first] + ", # the thin one" + text[first + 1 :]).encode()).job
    washers = read.front.left.stack.washers_mm
    grown = apply(read, Edit(("front", "left", "stack", "washers_mm", len(washers)), 2.0))
    assert "\n# the thin one\nwashers_mm = [\n" in dumps(grown).decode()


def test_those_of_a_run_go_with_the_run() -> None:
    job = complete_job()
    assert len(job.runs) > 1
    head, mark, rest = dumps(job).decode().rpartition("\n[[runs]]\n")
    read = loads((head + "\n# the good one" + mark + rest).encode()).job
    later = replace(read, runs=read.runs[1:])
    assert dumps(later).decode().count("[[runs]]") == len(job.runs) - 1
    assert "\n# the good one\n[[runs]]\n" in dumps(later).decode()
    assert "# the good one" not in dumps(replace(read, runs=read.runs[:-1])).decode()


def test_the_next_occasion_keeps_those_of_the_setup_and_not_those_of_the_day() -> None:
    job = complete_job()
    text = dumps(job).decode()
    text = text.replace("\n[front]\n", "\n[front] # left leg is bent\n").replace("\n[sag]\n", "\n[sag] # cold\n")
    read = loads(text.encode()).job
    told_later = dumps(carried(read, "then.toml", job.job.date)).decode()
    assert "# left leg is bent" in told_later
    assert "# cold" not in told_later


def test_joined_files_keep_the_comments_of_both() -> None:
    text = dumps(complete_job()).decode()
    one = loads(text.replace("\n[front]\n", "\n[front] # here\n").encode()).job
    other = loads(
        text.replace("\n[front]\n", "\n[front] # there\n").replace("\n[rear]", "\n# both\n[rear]").encode()
    ).job
    assert sorted(comment.text for comment in comments_of(merge(one, other).job)) == ["# both", "# here", "# there"]


def test_comments_make_no_other_job() -> None:
    read = loads(b"# mine\n" + dumps(Job())).job
    assert read == Job()
    assert read.comments


def test_more_comments_than_can_be_kept_are_refused_and_the_file_is_not_touched() -> None:
    line = b"# " + b"x" * 998 + b"\n"
    with pytest.raises(BadFile, match="bytes of comments, and at most 200000 are kept; take some out"):
        loads(line * (MOST_BYTES // 1000) + dumps(Job()) + line)


def test_a_comment_for_which_there_is_no_room_on_its_line_goes_above_it() -> None:
    long = "# " + "x" * 31_000
    told_long = with_comments('notes = "' + "y" * 2_000 + '"\n', comments_in(f"notes = 1 {long}\n"))
    assert told_long.startswith(long + "\nnotes = ")
