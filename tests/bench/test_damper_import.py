"""A dynamometer's file as a damper sheet: an invented damper whose law is known, written in many dialects, comes back."""

from __future__ import annotations

import hashlib
import random
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from invented_damper import GAS_N, SPEEDS, job_with, outwards, resisting
from stanchion.base.errors import BadQuantity, NotOpened
from stanchion.bench.damper_import import ReadSheet, read_sheet
from stanchion.bench.table_file import LARGEST, column_at, number_in, read_table, table_in, text_in
from stanchion.job.damper_columns import DamperColumns
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job
from stanchion.judgement.predict.damper_sheets import sheet_figures

LBF_N = 4.4482216152605  # NIST SP 811, App. B.8
KGF_N = 9.80665  # NIST SP 811, App. B.8, exact
COLUMNS = DamperColumns(speed="Velocity", force="Force", position="Clicks", stroke_by="speed_below")


def text_of(
    *,
    delimiter: str = ";",
    comma: bool = False,
    speed_factor: float = 1.0,
    force_factor: float = 1.0,
    speed_sign: float = 1.0,
    force_sign: float = 1.0,
    head: str = "",
    end: str = "\n",
) -> str:
    """The file of the invented damper: speed below 0 in rebound, force outwards, at 4, 8 and 12 clicks."""
    lines = [delimiter.join(("Velocity", "Force", "Clicks"))]
    for at in (4, 8, 12):
        for way, stroke in ((1.0, "compression"), (-1.0, "rebound")):
            for v in SPEEDS:
                numbers = (speed_sign * way * v / speed_factor, force_sign * outwards(stroke, at, v) / force_factor)
                cells = [f"{number:.7f}" for number in numbers] + [str(at)]
                lines.append(delimiter.join(cell.replace(".", ",") if comma else cell for cell in cells))
    return head + end.join(lines) + end


def assert_is_the_damper(read: ReadSheet) -> None:
    """Every force of the sheet is that of the law."""
    curves = read.sheet.curves
    assert {(c.stroke, c.position) for c in curves} == {
        (s, at) for s in ("compression", "rebound") for at in (4, 8, 12)
    }
    for curve in curves:
        assert curve.speeds_mm_per_s == pytest.approx(SPEEDS, abs=1e-3)
        for v, force in zip(SPEEDS, curve.forces_n, strict=True):
            assert force == pytest.approx(outwards(curve.stroke, curve.position or 0.0, v), abs=0.011)
    assert read.unread == ()
    assert read.lines == 6 * len(SPEEDS)


@pytest.mark.parametrize(
    ("changes", "columns"),
    [
        ({}, {}),
        ({"delimiter": ","}, {}),
        ({"delimiter": "\t", "comma": True}, {}),
        ({"comma": True, "end": "\r\n"}, {}),
        ({"end": "\r"}, {}),
        ({"speed_factor": 1000.0}, {"speed_unit": "m/s"}),
        ({"speed_factor": 25.4, "force_factor": LBF_N}, {"speed_unit": "in/s", "force_unit": "lbf"}),
        ({"force_factor": KGF_N}, {"force_unit": "kgf"}),
        ({"speed_sign": -1.0}, {"stroke_by": "speed_above"}),
        ({"force_sign": -1.0}, {"signs": "minus_plus"}),
        ({"head": "# shock of an invented machine\n% 20 °C\n\nDynamometer;X\n;;\n"}, {}),
        ({"delimiter": ","}, {"speed": "1", "force": "2", "position": "3"}),
        ({}, {"speed": "1 Velocity", "force": "force"}),
    ],
)
def test_the_damper_comes_back_from_every_dialect(changes: dict[str, object], columns: dict[str, Any]) -> None:
    file = table_in(text_of(**changes), "invented.csv")  # type: ignore[arg-type]
    assert_is_the_damper(read_sheet(file, replace(COLUMNS, **columns)))


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le-bom", "cp1252"])
def test_encodings_are_told_by_their_marks(encoding: str, tmp_path: Path) -> None:
    text = text_of(head="# Dämpfer, 20 °C\n", comma=True)
    path = tmp_path / "a file.csv"
    path.write_bytes(b"\xff\xfe" + text.encode("utf-16-le") if encoding == "utf-16-le-bom" else text.encode(encoding))
    file = read_table(path)
    assert_is_the_damper(read_sheet(file, COLUMNS))
    assert file.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()


def test_forces_without_a_sign_and_strokes_in_columns_of_their_own() -> None:
    lines = ["Velocity mm/s;Compression N;Rebound N"]
    lines += [f"{v};{outwards('compression', 8, v)};{-outwards('rebound', 8, v)}" for v in SPEEDS]
    columns = DamperColumns(
        speed="1", force="2", rebound_force="3", stroke_by="two_columns", signs="both_plus", position_all=8.0
    )
    read = read_sheet(table_in("\n".join(lines), "a.csv"), columns)
    forces = {curve.stroke: curve.forces_n for curve in read.sheet.curves}
    assert forces["compression"] == pytest.approx([outwards("compression", 8, v) for v in SPEEDS], abs=0.01)
    assert forces["rebound"] == pytest.approx([outwards("rebound", 8, v) for v in SPEEDS], abs=0.01)
    assert {curve.position for curve in read.sheet.curves} == {8.0}


def test_the_sign_of_the_force_tells_the_stroke_where_gas_was_taken_out() -> None:
    lines = [f"{v};{way * resisting(s, 8, v)}" for s, way in (("compression", 1), ("rebound", -1)) for v in SPEEDS]
    columns = DamperColumns(speed="1", force="2", stroke_by="force_sign")
    read = read_sheet(table_in("v;F\n" + "\n".join(lines), "a.csv"), columns)
    assert {c.stroke: c.forces_n[-1] for c in read.sheet.curves} == pytest.approx(
        {"compression": resisting("compression", 8, 500.0), "rebound": -resisting("rebound", 8, 500.0)}
    )
    with pytest.raises(BadQuantity, match="does not tell which stroke"):
        read_sheet(table_in("v;F\n" + "\n".join(lines), "a.csv"), replace(columns, signs="both_plus"))


def test_a_second_line_of_headings_holds_the_units() -> None:
    text = text_of().replace("Velocity;Force;Clicks", "Velocity;Force;Clicks\nmm/s;N;-")
    file = table_in(text, "a.csv")
    assert file.columns == ("1 Velocity mm/s", "2 Force N", "3 Clicks -")
    assert_is_the_damper(read_sheet(file, replace(COLUMNS, speed="1", force="2 Force N", position="3")))


def test_stroke_and_temperature_are_the_mean_of_their_columns() -> None:
    text = "v;F;stroke;T\n" + "".join(f"{v};{2 * v};50;{t}\n-{v};-{2 * v};50;{t}\n" for v, t in ((50, 68), (100, 86)))
    columns = DamperColumns(speed="v", force="F", stroke="stroke", temperature="T", temperature_unit="°F")
    sheet = read_sheet(table_in(text, "a.csv"), columns).sheet
    assert (sheet.stroke_mm, sheet.temperature_c) == (50.0, 25.0)  # 68 and 86 °F are 20 and 30 °C


@pytest.mark.parametrize(
    ("spoilt", "words"),
    [
        ("abc;100;4", "'abc' in the column of the speed"),
        ("100;;4", "nothing in the column of the force"),
        ("100", "nothing in the column of the adjuster's position"),
        ("100;12 N;4", "'12 N' in the column of the force"),
        ("100;1.234,5;4", "'1.234,5' in the column of the force"),
        ("100,5;200;4", "'100,5' has a comma where the other lines have a point"),
        ("1e9;100;4", "'1e9' cannot be right for the speed"),
        ("100;1e400;4", "in the column of the force"),
        ("100;nan;4", "'nan' in the column of the force"),
        ("100;100;-3", "'-3' cannot be right for the adjuster's position"),
        ('"100;100;4', "in the column of the speed"),
    ],
)
def test_a_spoilt_line_is_named_and_the_others_are_read(spoilt: str, words: str) -> None:
    lines = text_of().splitlines()
    lines.insert(5, spoilt)
    read = read_sheet(table_in("\n".join(lines), "a.csv"), COLUMNS)
    assert [at for at, _ in read.unread] == [6]
    assert words in read.unread[0][1]
    assert read.sheet.unread == 1.0
    assert "Not read: line 6: " in read.words
    assert_is_the_damper(replace(read, unread=()))


@pytest.mark.parametrize(
    ("columns", "words"),
    [
        ({"speed": ""}, "Choose the column of the speed."),
        ({"force": "Kraft"}, "no column 'Kraft' for the force"),
        ({"force": "Velocity"}, "One column is chosen twice"),
        ({"force": "9"}, "no column '9'"),
        ({"signs": "minus_plus"}, "push the way it is moved"),
        ({"stroke_by": "speed_above"}, "push the way it is moved"),
        ({"stroke_by": "two_columns"}, "Choose the column of the force in rebound."),
    ],
)
def test_columns_that_cannot_be_right_are_refused_with_what_to_do(columns: dict[str, Any], words: str) -> None:
    with pytest.raises(BadQuantity, match=words):
        read_sheet(table_in(text_of(), "a.csv"), replace(COLUMNS, **columns))


@pytest.mark.parametrize(
    ("heading", "what"),
    [
        ("Displacement", "displacement"),
        ("Weg mm", "displacement"),
        ("Position [mm]", "displacement"),
        ("Time", "time"),
        ("Zeit s", "time"),
        ("t (s)", "time"),
    ],
)
def test_times_and_displacements_are_no_speeds(heading: str, what: str) -> None:
    text = text_of().replace("Velocity", heading)
    with pytest.raises(BadQuantity, match=f"is a {what}. Speed is needed"):
        read_sheet(table_in(text, "a.csv"), replace(COLUMNS, speed="1"))


@pytest.mark.parametrize(
    "heading", ["Velocity", "Speed mm/s", "Geschwindigkeit [in/s]", "v", "Shaft speed (stroke 50 mm)"]
)
def test_speeds_are_taken_as_such(heading: str) -> None:
    text = text_of().replace("Velocity", heading)
    assert_is_the_damper(read_sheet(table_in(text, "a.csv"), replace(COLUMNS, speed="1")))


def test_more_positions_than_a_sheet_holds_are_refused() -> None:
    text = "v;F;c\n" + "".join(f"100;{200 + at};{at}\n-100;-{200 + at};{at}\n" for at in range(9))
    with pytest.raises(BadQuantity, match="9 positions of the adjuster, and a sheet holds 8"):
        read_sheet(table_in(text, "a.csv"), DamperColumns(speed="v", force="F", position="c"))


def test_a_damper_that_stands_still_is_refused() -> None:
    with pytest.raises(BadQuantity, match="stands still"):
        read_sheet(table_in("v;F\n0.1;200\n0.2;210\n", "a.csv"), DamperColumns(speed="v", force="F"))


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "no line with two numbers"),
        (b"PK\x03\x04\x00\x00\x00", "not a text file"),
        (b"only words\nand more\n", "no line with two numbers"),
        (b"v,F\n10,5,200,3\n", "commas between its columns and before its decimals"),
    ],
)
def test_what_holds_no_table_is_refused_with_what_to_do(data: bytes, words: str, tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes(data)
    with pytest.raises(NotOpened, match=words):
        read_table(path)


def test_files_that_are_missing_too_large_or_folders_are_refused(tmp_path: Path) -> None:
    with pytest.raises(NotOpened, match="cannot be read"):
        read_table(tmp_path / "none.csv")
    with pytest.raises(NotOpened, match="cannot be read"):
        read_table(tmp_path)
    large = tmp_path / "large.csv"
    with large.open("wb") as file:
        file.truncate(LARGEST + 1)
    with pytest.raises(NotOpened, match="larger than 20 MB"):
        read_table(large)


def test_200_random_files_give_their_damper_back() -> None:
    """Law, units, dialect and order at random: what was read is the law at the speeds written."""
    rng = random.Random(17)
    for _ in range(200):
        low, high, gas = rng.uniform(0.3, 6.0), rng.uniform(0.1, 3.0), rng.uniform(0.0, 400.0)
        speeds = sorted(rng.sample(range(5, 2000, 25), rng.randint(1, 14)))
        speed_unit, speed_factor = rng.choice((("mm/s", 1.0), ("m/s", 1000.0), ("in/s", 25.4)))
        force_unit, force_factor = rng.choice((("N", 1.0), ("lbf", LBF_N), ("kgf", KGF_N)))
        delimiter = rng.choice(";\t")
        rows = []
        for way in (1.0, -1.0):
            for v in speeds:
                force = gas + way * (low if way > 0 else high) * v
                cells = ["note", f"{way * v / speed_factor:.8f}", f"{force / force_factor:.8f}"]
                rows.append(delimiter.join(cells))
        rng.shuffle(rows)
        text = delimiter.join(("", "speed", "load")) + "\n" + "\n".join(rows)
        text = text.replace(".", rng.choice(".,"))
        columns = DamperColumns(speed="speed", force="load", speed_unit=speed_unit, force_unit=force_unit)
        sheet = read_sheet(table_in(text, "a.csv"), columns).sheet
        for curve in sheet.curves:
            way, slope = (1.0, low) if curve.stroke == "compression" else (-1.0, high)
            assert curve.speeds_mm_per_s == pytest.approx(speeds, abs=0.01)
            assert curve.forces_n == pytest.approx([gas + way * slope * v for v in speeds], abs=0.02)
        assert apply(Job(), Edit(("damper_sheets",), (sheet,))).damper_sheets == (sheet,)


@settings(max_examples=200, deadline=None)
@given(
    st.binary(max_size=400) | st.text(st.sampled_from("0123456789.,;-+e\t\n\r\"'# vF"), max_size=300).map(str.encode)
)
def test_any_bytes_give_a_sheet_or_a_reason(data: bytes) -> None:
    try:
        file = table_in(text_in(data, "any.csv"), "any.csv")
        read = read_sheet(file, DamperColumns(speed="1", force="2"))
    except (NotOpened, BadQuantity):
        return
    assert read.lines + len(read.unread) == len(file.rows)
    assert apply(Job(), Edit(("damper_sheets",), (read.sheet,))).damper_sheets == (read.sheet,)


@given(st.text(max_size=60))
def test_a_cell_holds_an_ordinary_number_or_none(cell: str) -> None:
    value = number_in(cell)
    assert value is None or abs(value) < 1e300


def test_a_column_is_named_by_heading_or_number_and_never_guessed() -> None:
    file = table_in("Force;Force;2\n1;2;3\n", "a.csv")
    found = {name: column_at(file, name) for name in ("Force", "1", "2", "1 Force", "3", "3 2", "0", "-1", "Fo", "")}
    assert found == {
        "Force": None, "1": 0, "2": 2, "1 Force": 0, "3": 2, "3 2": 2, "0": None, "-1": None, "Fo": None, "": None,
    }  # fmt: skip


def test_gas_is_left_in_the_forces_that_are_kept() -> None:
    read = read_sheet(table_in(text_of(), "a.csv"), COLUMNS)
    slowest = [curve.forces_n[0] for curve in read.sheet.curves if curve.position == 8.0]
    assert sum(slowest) / 2 == pytest.approx(GAS_N, abs=15.0)  # the strokes differ a little at 10 mm/s


def test_a_column_of_clicks_chosen_for_the_stroke_is_asked_about() -> None:
    text = "v;F;Klick\n" + "".join(f"{v};{2 * v};10\n-{v};-{2 * v};10\n" for v in (50, 100))
    columns = DamperColumns(speed="v", force="F", stroke="Klick")
    assert "Column 3, 'Klick', is chosen for the stroke: check" in read_sheet(table_in(text, "a.csv"), columns).words
    as_stroke = read_sheet(table_in(text.replace("Klick", "stroke"), "a.csv"), replace(columns, stroke="stroke"))
    assert "check" not in as_stroke.words


STANDSTILL = "v;F\n0;12,5\n0,2;11,5\n50;220,5\n100;402,0\n-50;-410,0\n-100;-760,5\n"


def test_gas_is_what_the_file_reads_at_standstill() -> None:
    read = read_sheet(table_in(STANDSTILL, "a.csv"), DamperColumns(speed="v", force="F"))
    assert (read.sheet.gas, read.sheet.gas_n) == ("entered", 12.0)
    assert "Gas at standstill 12 N" in read.words
    forces = {curve.stroke: curve.forces_n for curve in sheet_figures(job_with(read.sheet), 0).curves}
    assert forces["compression"] == pytest.approx((208.5, 390.0))
    assert forces["rebound"] == pytest.approx((422.0, 772.5))


@pytest.mark.parametrize("text", [STANDSTILL.replace("0;12,5", "0;-40"), STANDSTILL.replace("\n0;12,5\n0,2;11,5", "")])
def test_without_gas_at_standstill_none_is_entered(text: str) -> None:
    read = read_sheet(table_in(text, "a.csv"), DamperColumns(speed="v", force="F"))
    assert (read.sheet.gas, read.sheet.gas_n) == ("mean", None)
    assert not sheet_figures(job_with(read.sheet), 0).gas_n.known  # 50 mm/s is too fast for the mean


def test_unsigned_columns_of_both_strokes_do_not_tell_gas_at_standstill() -> None:
    columns = DamperColumns(speed="1", force="2", rebound_force="3", stroke_by="two_columns", signs="both_plus")
    read = read_sheet(table_in("v;C;R\n0;12;12\n50;100;150\n100;200;300\n", "a.csv"), columns)
    assert read.sheet.gas_n is None
