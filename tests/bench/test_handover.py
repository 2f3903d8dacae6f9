"""Sheets and tables are written whole or not at all, and never over a file by mistake."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from stanchion.base.errors import BadQuantity, NotSaved
from stanchion.bench.handover import sheet_of, write_sheet
from stanchion.store.disk import Disk
from stanchion.store.samples import samples


def test_an_existing_file_is_not_overwritten_unless_forced(tmp_path: Path) -> None:
    out = tmp_path / "sheet.txt"
    write_sheet(out, "one\n")
    with pytest.raises(NotSaved, match="left alone"):
        write_sheet(out, "two\n")
    assert out.read_text("utf-8") == "one\n"
    write_sheet(out, "two\n", force=True)
    assert out.read_text("utf-8") == "two\n"


def test_line_ends_are_written_as_they_are(tmp_path: Path) -> None:
    write_sheet(tmp_path / "a.csv", "a\r\nb\r\n")
    assert (tmp_path / "a.csv").read_bytes() == b"a\r\nb\r\n"


def test_a_file_named_as_a_job_is_not_overwritten_even_by_force_or_through_a_link(tmp_path: Path) -> None:
    job = tmp_path / "job.TOML"
    job.write_text("precious")
    link = tmp_path / "sheet.html"
    link.symlink_to(job)
    for path in (job, link):
        with pytest.raises(NotSaved, match="has the ending of a job file"):
            write_sheet(path, "sheet", force=True)
    assert job.read_text() == "precious"


def test_forced_through_a_link_the_file_it_points_to_is_written_and_keeps_its_mode(tmp_path: Path) -> None:
    behind, link = tmp_path / "behind.html", tmp_path / "link.html"
    behind.write_text("old")
    behind.chmod(0o640)
    link.symlink_to(behind)
    write_sheet(link, "new", force=True)
    assert link.is_symlink()
    assert behind.read_text() == "new"
    assert behind.stat().st_mode & 0o777 == 0o640


@pytest.mark.skipif(sys.platform == "win32", reason="no such device on Windows")
def test_a_device_is_written_to_and_not_replaced(tmp_path: Path) -> None:
    write_sheet(Path(os.devnull), "sheet", force=True)
    assert not Path(os.devnull).is_file()


def test_when_the_disk_is_full_the_old_sheet_stays_and_no_half_of_a_new_one_remains(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> int:
        raise OSError(28, "No space left on device")

    out = tmp_path / "sheet.txt"
    write_sheet(out, "one")
    monkeypatch.setattr(Disk, "write", full)
    with pytest.raises(NotSaved, match="the disk is full"):
        write_sheet(out, "two", force=True)
    assert {path.name: path.read_text() for path in tmp_path.iterdir()} == {"sheet.txt": "one"}


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(NotSaved, match="nowhere"):
        write_sheet(tmp_path / "nowhere" / "sheet.txt", "one")


def test_a_job_file_is_turned_into_a_sheet_beside_the_job_it_came_from(tmp_path: Path) -> None:
    for sample in samples():
        (tmp_path / f"{sample.name}.toml").write_bytes(sample.data)
    assert "CHANGED SINCE" in sheet_of(tmp_path / "carried_forward.toml", str(tmp_path))


@pytest.mark.parametrize(
    ("config", "asked", "shown"),
    [
        ("", "", ("mm", "N/mm")),
        ('[units]\nlengths = "in"\nrates = "lb/in"\n', "", ("in", "lb/in")),
        ('[units]\nlengths = "in"\n', "mm,kg/mm", ("mm", "kg/mm")),
        ("", "lb/in", ("mm", "lb/in")),
    ],
)
def test_the_sheet_is_in_the_units_of_the_settings_or_in_those_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, config: str, asked: str, shown: tuple[str, str]
) -> None:
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path))
    (tmp_path / "config").mkdir()
    (tmp_path / "config" / "config.toml").write_text(config)
    (tmp_path / "job.toml").write_bytes(next(sample.data for sample in samples() if sample.name == "well_set"))
    lines = sheet_of(tmp_path / "job.toml", None, asked).split("\n")
    for name, unit in zip(("Free length", "Spring rate"), shown, strict=True):
        assert next(line for line in lines if name in line).endswith(f" {unit}")


def test_a_unit_there_is_not_is_named(tmp_path: Path) -> None:
    with pytest.raises(
        BadQuantity, match="no unit 'furlong' to show: choose mm, in, N/mm, kg/mm, lb/in, kg, lb, bar, kPa or psi"
    ):
        sheet_of(tmp_path / "job.toml", str(tmp_path), "furlong")
