"""Text that would hang or break the parser is refused before the parser sees it, and the refusal names the line."""

from __future__ import annotations

import subprocess
import sys

import pytest

from stanchion.base.errors import BadFile, CutShort
from stanchion.base.toml import LARGEST, LONGEST_LINE
from stanchion.job.codec import dumps, loads, parse_job
from stanchion.job.model import Job

END = b"\n[end]\ncomplete = true\n"


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"a = 1\nb = 12,5", r"^line 2, column 7: .*; a decimal sign in the file is a point, as in 12\.5$"),
        (b"a = 1\n\nb = 2026-02-30", r"^line 3, column 5: .*date.*; correct that line in a text editor$"),
        (b"a = 1\na = 2", r"^line 2, column 6: cannot overwrite a value"),
        (b"[a]\n[a]", r"^line 2, column 3: cannot declare"),
        (b"a = 01", r"^line 1, column 6"),
        (b"a = 1\nb = 'x", r"^line 2: a quote is opened and not closed"),
        (b'a = 1\nb = "x', r"^line 2, column 7: illegal character"),
        (b'a = 1\nb = """x', r"^line 2: a quote is opened and not closed"),
        (b'a = "\x00"', r"^line 1, column 6: illegal character"),
        (b'a = "\x1b[31m"', r"^line 1, column 6: illegal character"),
        (b"a = 1\rb = 2", r"^line 1, column 6"),
        (b"a = 1\nb = '\xff'", r"^line 2: byte 12 of the file \(0xff\) is not UTF-8 text; .* save it as UTF-8$"),
        ("a = 1\n".encode("utf-16"), r"^line 1: byte 1 of the file \(0xff\) is not UTF-8"),
        (b"a = " + b"9" * 5000, r"thousands of digits"),
        (b"a = 1\nb = " + b"[" * 500 + b"]" * 500, r"^line 2: more than 16 tables or lists within one another"),
        (b"a = " + b"{ a = " * 2000 + b"1" + b"}" * 2000, r"^line 1: more than 16 tables or lists"),
        (b"a = 1\n" + b"a." * 5000 + b"a = 1", r"^line 2: more than 16 tables"),
        (b"[" + b"a." * 5000 + b"a]", r"^line 1: more than 16 tables"),
        (b'a = { x = """y"""", ' + b"b." * 20 + b"c = 1 }", r"^line 1: more than 16 tables"),
        (b"a = { x = '''y'''', " + b"b." * 20 + b"c = 1 }", r"^line 1: more than 16 tables"),
        (b'a."b".' * 20 + b"c = 1", r"^line 1: more than 16 tables"),
        (b"a = 1\n# " + b"x" * LONGEST_LINE, r"^line 2: 32002 characters, at most 32000; break the line up$"),
        (b"# x\n" * (LARGEST // 4), r"has \d+ bytes, and a job at most 1480000"),
    ],
)
def test_a_refusal_names_the_line_and_what_to_do(data: bytes, message: str) -> None:
    with pytest.raises(BadFile, match=message) as refused:
        parse_job(data + END)
    assert not isinstance(refused.value, CutShort)


def test_a_list_that_is_never_closed_is_said_to_reach_the_end() -> None:
    with pytest.raises(BadFile, match=r"quote or bracket that is not closed|^line 3"):
        parse_job(b"a = [1,\n" + END)


@pytest.mark.parametrize("data", [b"a = 'x", b"a = [1,\n", b"[en", b"a = 1\n[end]\ncomplete = t"])
def test_text_that_breaks_off_without_an_end_mark_is_cut_short(data: bytes) -> None:
    with pytest.raises(CutShort, match=r"cut short.*earlier copy"):
        parse_job(data)


@pytest.mark.parametrize(
    "value",
    [
        '"' + "[{." * 30 + '"',
        "'" + "[{." * 30 + "'",
        '"""' + "[{.\\n" * 30 + '""""',
        "'''" + "[{.\n" * 30 + "''''",
        '"\\"' + "[" * 30 + '"',
        '"""\\"""' + "[" * 30 + '"""',
        "1 # " + "[{." * 30,
        "[" + "1.5, " * 100 + "]",
    ],
)
def test_brackets_and_points_in_a_text_a_comment_or_numbers_are_no_nesting(value: str) -> None:
    assert "a" in parse_job(f"a = {value}\n".encode())


HOSTILE = """
from stanchion.base.errors import BadFile
from stanchion.job.codec import dumps, loads
END = "\\n[end]\\ncomplete = true\\n"
for text in (
    "a." * 100_000 + "a = 1",
    "\\n".join("a." * 15_000 + "a = 1" for _ in range(8)),
    "\\n".join("a = " + "[" * 15_000 for _ in range(8)),
    "\\n".join(f"k{i} = 1" for i in range(25_000)),
    "\\n".join(f"[a.b.c.d.e.f.g.h.k{i}]" for i in range(9_000)),
    "[[a]]\\n[a.b]\\n" * 18_000,
    'a = \\"\\"\\"' + '\\\\\\\\\\"\\"\\"\\n' * 40_000,
    'a = \\"\\"\\"' + '\\\\\\\\\\n' * 80_000,
    '\\"\\n' * 120_000,
    "'''\\n" * 60_000,
    "[end]\\n" * 40_000,
    "complete " * 3_000,
    "a = 0x" + "f" * 31_000,
    "a = " + "9" * 31_000,
    "a = 1" + " " * 31_000 + "x",
):
    for data in ("format = 1\\n" + text, "format = 1\\n" + text + END):
        try:
            dumps(loads(data.encode()).job)
        except BadFile:
            pass
print("all answered")
"""


def test_hostile_files_are_answered_and_never_hang() -> None:
    done = subprocess.run([sys.executable, "-c", HOSTILE], capture_output=True, text=True, timeout=60, check=False)
    assert done.stdout == "all answered\n", done.stderr


def test_what_a_version_control_system_could_not_join_is_refused_and_says_what_to_do() -> None:
    whole = dumps(Job())
    at = whole.index(b"[job]")
    joint = b"<<<<<<< ours\nx = 1\n=======\nx = 2\n>>>>>>> theirs\n"
    for data in (whole[:at] + joint + whole[at:], joint + whole, whole + joint):
        with pytest.raises(BadFile, match=r"line \d+: a version-control system .* stanchion merge"):
            loads(data)
