"""The hand-over sheet as text: one page, and nothing lost without a word."""

from __future__ import annotations

import pytest

from complete_job import complete_job
from judgement_jobs import put
from sheet_jobs import JOBS, brimful, hostile, sheet
from stanchion.job.model import Job
from stanchion.report.sheet import CLOSING
from stanchion.report.sheet_fit import LEAST, columns, fitted, set_line, wrapped
from stanchion.report.sheet_shape import Line, Section
from stanchion.report.sheet_text import LINES, WIDTH, sheet_text
from stanchion.units.known_units import Units

WORST = {"letters": brimful("W"), "wide": brimful("灰"), "words": brimful("wide word "), "hostile": hostile()}


@pytest.mark.parametrize("name", sorted(JOBS | WORST))
def test_it_prints_on_one_page(name: str) -> None:
    lines = sheet_text(sheet((JOBS | WORST)[name])).splitlines()
    assert len(lines) <= LINES
    assert [line for line in lines if columns(line) > WIDTH] == []


@pytest.mark.parametrize("name", sorted(JOBS | WORST))
def test_settings_cautions_and_closing_words_are_always_whole(name: str) -> None:
    of = sheet((JOBS | WORST)[name])
    text = " ".join(sheet_text(of).split())
    assert text.endswith(CLOSING)
    for words in (*of.cautions, *(name for table in (of.setup, of.sag) for name, _ in table.rows)):
        assert words in text


def test_a_cell_that_is_longer_than_its_column_goes_on_below_and_is_not_cut() -> None:
    of = sheet(WORST["letters"])
    stack = dict(of.setup.rows)["Spacer stack"][0].replace(" + ", "+")
    lines = sheet_text(of).splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("  Spacer stack"))
    column = lines[at].index("100.25")
    pieces = [line[column : column + 18] for line in lines[at : at + 5]]
    assert stack.replace(" ", "") in "".join(pieces).replace(" ", "")


def test_a_number_is_not_parted_from_its_unit() -> None:
    for name in JOBS:
        for line in sheet_text(sheet(JOBS[name])).splitlines():
            assert line.strip() not in ("mm", "clicks", "turns", "mm.")


def test_targets_in_inches_stand_on_one_line_with_their_unit() -> None:
    lines = sheet_text(sheet(JOBS["well_set"], units=Units(lengths="in"))).splitlines()
    start = next(number for number, line in enumerate(lines) if line.startswith("SAG "))
    assert [line.split("in target")[0].rstrip()[-2:] for line in lines[start + 1 : start + 5]] == ["in"] * 4


def test_however_long_the_notes_warnings_go_first_and_what_is_left_out_is_counted() -> None:
    job = put(JOBS["soft_springs"], job__notes="\n".join(["a line of notes"] * 20))
    text = sheet_text(sheet(job))
    assert "FAULT" in text
    assert "No room on this page for: Upkeep (4), Notes (20)." in " ".join(text.split())
    assert " ".join(text.split()).endswith(CLOSING)


def test_an_invented_sample_says_that_it_is_one() -> None:
    assert "INVENTED SAMPLE" in sheet_text(sheet(JOBS["well_set"]))
    assert "INVENTED SAMPLE" not in sheet_text(sheet(complete_job()))


def test_an_empty_job_gives_a_sheet_that_says_little_but_the_closing_words() -> None:
    text = " ".join(sheet_text(sheet(Job())).split())
    assert "unnamed machine" in text
    assert text.endswith(CLOSING)


class TestRoom:
    SECTIONS = (
        Section("Warnings", tuple(Line("WARNING", f"number {i} " + "word " * 20) for i in range(6))),
        Section("Notes", tuple(Line("", f"note {i}") for i in range(9))),
    )

    @pytest.mark.parametrize("room", range(60))
    def test_sections_never_take_more_lines_than_there_are(self, room: int) -> None:
        shown = fitted(self.SECTIONS, room, WIDTH)
        takes = sum(2 + sum(len(set_line(line, WIDTH)) for line in one.lines) for one in shown if one.lines)
        assert takes <= room

    def test_with_room_for_all_nothing_is_cut(self) -> None:
        assert [one.whole for one in fitted(self.SECTIONS, 60, WIDTH)] == [True, True]

    def test_the_first_section_is_served_first_and_the_second_is_begun(self) -> None:
        warnings, notes = fitted(self.SECTIONS, 2 + 4 + LEAST, WIDTH)
        assert [line.text.split()[1] for line in warnings.lines] == ["0", "1"]
        assert (len(notes.lines), notes.of, notes.whole) == (1, 9, False)

    def test_a_line_cut_short_ends_with_an_ellipsis_and_keeps_its_word(self) -> None:
        (shown,) = fitted(self.SECTIONS[:1], LEAST, WIDTH)
        (line,) = shown.lines
        assert line.word == "WARNING"
        assert line.text.startswith("number 0")
        assert line.text.endswith("…")
        assert not shown.whole


@pytest.mark.parametrize("text", ["a", "word " * 30, "W" * 200, "灰" * 99, "e\u0301" * 99, "1.5 mm " * 40, ""])
def test_wrapping_keeps_every_character_and_every_line_within_its_columns(text: str) -> None:
    lines = wrapped(text, 20, "- ", "  ")
    assert all(columns(line) <= 20 for line in lines)
    assert "".join(lines).replace(" ", "").removeprefix("-") == text.replace(" ", "")


def test_with_room_for_one_line_only_it_is_the_worst_warning() -> None:
    warnings, notes = fitted(TestRoom.SECTIONS, LEAST, WIDTH)
    assert len(warnings.lines) == 1
    assert notes.lines == ()
