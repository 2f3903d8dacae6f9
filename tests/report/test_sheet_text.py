"""The hand-over sheet as text: within 80 columns, and nothing cut."""

from __future__ import annotations

from collections import Counter

import pytest

from complete_job import complete_job
from judgement_jobs import put
from sheet_jobs import JOBS, brimful, hostile, sheet
from stanchion.job.model import Job
from stanchion.report.sheet import CLOSING
from stanchion.report.sheet_columns import columns, wrapped
from stanchion.report.sheet_shape import Section, Table
from stanchion.report.sheet_text import SIGNATURE, WIDTH, sheet_text
from stanchion.units.known_units import Units

WORST = {"letters": brimful("W"), "wide": brimful("灰"), "words": brimful("wide word "), "hostile": hostile()}


@pytest.mark.parametrize("name", sorted(JOBS | WORST))
def test_all_of_it_is_printed_within_eighty_columns(name: str) -> None:
    """Blanks apart, since long texts and cells go over several lines; the lines of a table stand apart from each other."""
    of = sheet((JOBS | WORST)[name])
    text = sheet_text(of)
    assert [line for line in text.splitlines() if columns(line) > WIDTH] == []
    assert " ".join(text.split()).endswith(f"{CLOSING} {SIGNATURE.replace('   ', ' ')} Written {of.written}")
    printed = "".join(text.split())
    for part in (of.ready, *of.parts):
        if isinstance(part, Section):
            assert all("".join(f"{line.word}{line.text}".split()) in printed for line in part.lines)
    for words in of.cautions:
        assert "".join(words.split()) in printed


@pytest.mark.parametrize("name", sorted(JOBS | WORST))
def test_no_cell_of_a_table_is_cut(name: str) -> None:
    of = sheet((JOBS | WORST)[name])
    printed = sorted("".join(sheet_text(of).split()))
    for part in of.parts:
        if isinstance(part, Table):
            cells = "".join(cell for _, cells in part.rows for cell in cells)
            assert not Counter("".join(cells.split())) - Counter(printed)


def test_a_cell_that_is_longer_than_its_column_goes_on_below_and_no_number_is_parted() -> None:
    """The longest spacer stack there may be: 100.25 mm of spacer, four washers and three seats of 10.25 mm."""
    lines = sheet_text(sheet(WORST["letters"])).splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("  Spacer stack"))
    column = lines[at].index("100.25")
    end = lines[at].index("100.25", column + 1)
    pieces = [line[column:end].strip() for line in lines[at : at + 5]]
    assert " ".join(pieces).startswith("100.25 + " + "10.25 + " * 6 + "10.25 = 172.0 mm")


def test_open_torques_and_faults_stand_at_the_head_however_long_the_notes() -> None:
    job = put(JOBS["soft_springs"], job__notes="\n".join(["a line of notes"] * 20))
    lines = sheet_text(sheet(job)).splitlines()
    assert lines.index("NOT READY TO RIDE") < 8
    assert [line.strip() for line in lines].count("a line of notes") == 20


def test_a_number_is_not_parted_from_its_unit() -> None:
    for name in JOBS:
        for line in sheet_text(sheet(JOBS[name])).splitlines():
            assert line.strip() not in ("mm", "clicks", "turns", "mm.")


def test_targets_in_inches_stand_on_one_line_with_their_unit() -> None:
    lines = sheet_text(sheet(JOBS["well_set"], units=Units(lengths="in"))).splitlines()
    start = next(number for number, line in enumerate(lines) if line.startswith("SAG "))
    assert [line.split("in target")[0].rstrip()[-2:] for line in lines[start + 1 : start + 5]] == ["in"] * 4


def test_an_invented_sample_says_that_it_is_one() -> None:
    assert "INVENTED SAMPLE" in sheet_text(sheet(JOBS["well_set"]))
    assert "INVENTED SAMPLE" not in sheet_text(sheet(complete_job()))


def test_an_empty_job_gives_a_sheet_that_says_little_but_the_closing_words() -> None:
    text = " ".join(sheet_text(sheet(Job())).split())
    assert "unnamed machine" in text
    assert CLOSING in text


@pytest.mark.parametrize("text", ["a", "word " * 30, "W" * 200, "灰" * 99, "e\u0301" * 99, "1.5 mm " * 40, ""])
def test_wrapping_keeps_every_character_and_every_line_within_its_columns(text: str) -> None:
    lines = wrapped(text, 20, "- ", "  ")
    assert all(columns(line) <= 20 for line in lines)
    assert "".join(lines).replace(" ", "").removeprefix("-") == text.replace(" ", "")
