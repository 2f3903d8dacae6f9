"""The fast reader of the program's own files reads what any TOML reader would, or leaves the file to one."""

from __future__ import annotations

import tomllib
from random import Random

import pytest

from complete_job import complete_job
from random_edits import SAMPLES
from spoilt import VALUES, WORDS
from stanchion.base.errors import BadFile
from stanchion.base.toml import DEEPEST, LONGEST_LINE, read_tables
from stanchion.base.toml_plain import plain_tables
from stanchion.job.codec import dumps

OWN = {name: dumps(job).decode() for name, job in {**SAMPLES, "complete": complete_job()}.items()}
PIECES = [
    *(piece.decode() for piece in (*WORDS, *VALUES) if b"\xff" not in piece and b"\xed" not in piece),
    *("[front]\n", "[front.left]\n", "[[runs]]\n", "[runs.front]\n", "a = [\n", "]\n", "],\n", "    1.0,\n", "    [\n"),
    *(
        "a = { b = 1.0 }\n",
        "    { a = 1.0, a = 2.0 },\n",
        "    { a = 1.0, },\n",
        "a.b = 1.0\n",
        '"a" = 1.0\n',
        "a = 1.0\n",
    ),
    *(
        "\\",
        '\\"',
        "\\n",
        "\\u0041",
        "\\q",
        "\t",
        " ",
        "  ",
        "# a comment\n",
        "0",
        "00",
        "+",
        "-",
        "_",
        "e5",
        "é",
        "\u2028",
    ),
]
"""What is put into a file to spoil it."""


def plain(text: str) -> dict[str, object] | None:
    return plain_tables(text, LONGEST_LINE, DEEPEST)


def spoilt(text: str, dice: Random) -> str:
    """The text with some of its lines or characters changed."""
    for _ in range(dice.choice((1, 1, 2, 3))):
        lines = text.split("\n")
        at, other = dice.randrange(len(lines)), dice.randrange(len(lines))
        match dice.randrange(5):
            case 0:
                lines[at], lines[other] = lines[other], lines[at]
            case 1:
                lines.insert(at, lines[other])
            case 2:
                del lines[at]
            case 3:
                place = dice.randrange(len(lines[at]) + 1)
                lines[at] = lines[at][:place] + dice.choice(PIECES) + lines[at][place + dice.randrange(3) :]
            case _:
                lines.insert(at, dice.choice(PIECES))
        text = "\n".join(lines)
    return text


@pytest.mark.parametrize("name", OWN)
def test_what_the_program_writes_is_read_here(name: str) -> None:
    assert repr(plain(OWN[name])) == repr(tomllib.loads(OWN[name]))


@pytest.mark.parametrize("name", ["half_filled", "two_springs", "soft_springs", "air_fork"])
def test_a_spoilt_file_is_read_as_by_any_reader_or_left_to_one(name: str) -> None:
    dice = Random(name)
    read = 0
    for _ in range(1500):
        text = spoilt(OWN[name], dice)
        tables = plain(text)
        if tables is not None:
            read += 1
            assert repr(tables) == repr(tomllib.loads(text)), text
    assert 150 < read < 1350  # neither all nor none, so that both are seen


@pytest.mark.parametrize(
    "text",
    [
        *("a = 1\na = 2\n", "[a]\n[a]\n", "[a.b]\n[a]\n", "a = 1\n[a]\n", "[[a]]\n[a]\n", "[a]\n[[a]]\n"),
        *(
            "a = [\n    1.0,\n]\n[[a]]\n",
            "a = [\n    { b = 1.0 },\n]\n[a.c]\n",
            "a = [\n    1.0,\n",
            "a = [\n1.0,\n]\n",
        ),
        *(
            "a = 01\n",
            "a = 1_0\n",
            "a = 1e5\n",
            "a = +1\n",
            "a = nan\n",
            "a = 'b'\n",
            'a = """b"""\n',
            "a=1\n",
            " a = 1\n",
        ),
        *("a = 2026-02-30\n", "a = 1979-05-27T07:32:00Z\n", "a = 07:32:00\n", "a = 1 # b\n", "# b\n", "a = 1\r\n"),
        *(
            'a = "\\u0041"\n',
            'a = "\x7f"\n',
            'a = "\t"\n',
            "a = { b = 1.0 }\n",
            "a.b = 1\n",
            '"a" = 1\n',
            "[]\n",
            "[a\n",
        ),
        *("a = [1.0]\n", "a = [\n    { b = 1.0, b = 2.0 },\n]\n", "a = [\n    { b = 1.0, },\n]\n", "a = [\n\n]\n"),
        *(f"a = {'9' * 400}\n", f"a = 1.{'1' * 400}\n", f"[{'a.' * DEEPEST}a]\n", f'a = "{"b" * LONGEST_LINE}"\n'),
    ],
)
def test_anything_unusual_is_left_to_the_parser(text: str) -> None:
    assert plain(text) is None


def test_the_limits_hold_for_plain_files_too() -> None:
    for text in (f"[{'a.' * DEEPEST}a]\n", f'a = "{"b" * LONGEST_LINE}"\n'):
        with pytest.raises(BadFile):
            read_tables(text.encode(), "a job")
