"""Pairs pasted as lines or read from a file: what is read, what is passed over, and what is said of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from judgement_jobs import PROFILES, judged
from rates import WEIGHED
from stanchion.bench.pasted_pairs import LARGEST, lines_or_file, named_file, pair_rows, read_pairs, take_pairs
from stanchion.bench.session import Session
from stanchion.job.edit import value_at
from stanchion.units.known_units import METRIC, Units

TESTER = ("front", "left", "spring", "coils", "tester")
LINKAGE = ("rear", "linkage")
PAIRS = ((230.5, 180.0), (210.0, 370.5), (190.0, 560.0))


def session() -> Session:
    return Session(WEIGHED, PROFILES)


def readings_of(of: Session) -> list[tuple[float, float]]:
    return [(pair.length_mm, pair.force_n) for pair in value_at(of.job, TESTER)]


class TestLines:
    @pytest.mark.parametrize(
        "text",
        [
            "230.5\t180\n210\t370.5\n190\t560",
            "230,5\t180\r\n210\t370,5\r\n190\t560\r\n",
            "230,5;180\n210;370,5\n190;560",
            "230.5,180\n210,370.5\n190,560\n",
            "230.5, 180\n210, 370.5\n190, 560",
            "230,5 180\n210 370,5\n190   560",
            '"230,5","180"\n"210","370,5"\n"190","560"',
            "230.5 mm 180 N\n210 mm 370.5 N\n190 mm 560 N",
            "1. 230.5 180\n2. 210 370.5\n3. 190 560",
            "0;230,5;180\n1;210;370,5\n2;190;560",
        ],
    )
    def test_columns_are_parted_and_decimals_read_as_they_are_written(self, text: str) -> None:
        found = read_pairs(text, TESTER, METRIC)
        assert (found.pairs, found.headings, found.unread) == (PAIRS, 0, ())

    def test_headings_are_passed_over_and_said(self) -> None:
        of = session()
        said = take_pairs(
            of, TESTER, "Tester 4, 12.10.\nlength (mm);force (N)\n\n230,5;180\n210;370,5\n190;560", "a.csv"
        )
        assert readings_of(of) == [*PAIRS]
        assert said == "a.csv: 3 pairs taken, 2 headings skipped. Undo brings back what was there."

    def test_a_line_that_is_no_pair_is_named_and_the_others_are_taken(self) -> None:
        of = session()
        said = take_pairs(of, TESTER, "230.5 180\n210\n190 560\n170 750 3")
        assert readings_of(of) == [(230.5, 180.0), (190.0, 560.0)]
        assert "2 pairs taken. Not read: lines 2, 4 (two numbers are needed on a line, not 1)." in said

    def test_a_comma_that_may_be_either_is_not_guessed_at(self) -> None:
        assert read_pairs("230,5,180", TESTER, METRIC).unread == (1,)

    def test_bare_numbers_are_in_the_units_shown(self) -> None:
        of = session()
        of.units = Units(lengths="in")
        take_pairs(of, TESTER, "9.0 180\n8.0 370")
        assert readings_of(of)[0][0] == pytest.approx(9.0 * 25.4)

    def test_without_a_pair_nothing_changes(self) -> None:
        of = session()
        before = of.job
        assert "there are no pairs in it" in take_pairs(of, TESTER, "length force\nnothing here\n")
        assert of.job is before


class TestCompressions:
    def test_forces_that_rise_with_the_first_number_count_from_the_free_length(self) -> None:
        of = session()
        said = take_pairs(of, TESTER, "20 190\n40 380\n60 570")
        free = of.job.front.left.spring.free_length_mm
        assert free is not None
        assert readings_of(of) == [(free - 20, 190.0), (free - 40, 380.0), (free - 60, 570.0)]
        assert "as compressions from the free length" in said
        assert judged(of.job).springs.left.rate_measured_n_per_mm.value == pytest.approx(9.5)

    def test_without_a_free_length_it_is_asked_for(self) -> None:
        of = session()
        of.put(("front", "left", "spring", "free_length_mm"), None)
        assert "enter the free length first" in take_pairs(of, TESTER, "20 190\n40 380\n60 570")
        assert readings_of(of) == []

    def test_beyond_what_a_length_can_be_nothing_is_taken(self) -> None:
        of = session()
        assert "cannot be right: nothing was taken" in take_pairs(of, TESTER, "20 190\n300 380\n400 570")
        assert readings_of(of) == []


class TestList:
    def test_more_pairs_than_it_holds_are_taken_evenly_with_both_ends(self) -> None:
        of = session()
        said = take_pairs(of, TESTER, "\n".join(f"{250 - 0.5 * n} {4.75 * n + 10}" for n in range(200)))
        taken = readings_of(of)
        assert len(taken) == 12
        assert (taken[0][0], taken[-1][0]) == (250.0, 250 - 0.5 * 199)
        assert "12 of 200 pairs taken, evenly spread" in said

    def test_they_take_the_place_of_the_former_in_one_step_of_undo(self) -> None:
        of = session()
        take_pairs(of, TESTER, "230 180\n210 370")
        take_pairs(of, TESTER, "229 190\n209 380")
        of.undo()
        assert readings_of(of) == [(230.0, 180.0), (210.0, 370.0)]

    def test_a_linkage_takes_its_pairs_too(self) -> None:
        of = session()
        take_pairs(of, LINKAGE, "wheel shock\n30 12\n60 24.5\n90 37.5")
        assert [(pair.wheel_mm, pair.shock_mm) for pair in of.job.rear.linkage] == [(30, 12), (60, 24.5), (90, 37.5)]

    def test_only_lists_of_two_numbers_take_pairs(self) -> None:
        assert pair_rows((*TESTER, 3, "force_n")) == TESTER
        for path in (
            ("front", "left", "spring", "rate_n_per_mm"),
            ("runs", 0, "laps"),
            ("upkeep", "torques", 0, "what"),
        ):
            assert pair_rows(path) is None


class TestFile:
    def test_a_dropped_file_is_found_by_its_quoted_or_escaped_name(self, tmp_path: Path) -> None:
        file = tmp_path / "tester 4.csv"
        file.write_bytes("\ufeff230,5;180\n210;370,5\n".encode())
        for text in (str(file), f"'{file}'", str(file).replace(" ", "\\ "), f"file://{file}", "tester 4.csv\n"):
            found = lines_or_file(text, tmp_path)
            assert (found.source, read_pairs(found.text, TESTER, METRIC).pairs) == ("tester 4.csv", PAIRS[:2])
        assert named_file("absent.csv", tmp_path) is None

    @pytest.mark.parametrize("encoding", ["utf-16", "latin-1"])
    def test_other_encodings_of_spreadsheets_are_read(self, tmp_path: Path, encoding: str) -> None:
        file = tmp_path / "a.txt"
        file.write_bytes("Länge\tKraft\n230,5\t180\n".encode(encoding))
        assert read_pairs(lines_or_file(str(file), tmp_path).text, TESTER, METRIC).pairs == PAIRS[:1]

    @pytest.mark.parametrize(("data", "why"), [(b"1 2\n" * LARGEST, "too large"), (b"1\0\0\3", "not a text file")])
    def test_what_is_no_such_file_is_refused(self, tmp_path: Path, data: bytes, why: str) -> None:
        file = tmp_path / "a.dat"
        file.write_bytes(data)
        assert why in lines_or_file(str(file), tmp_path).refused
