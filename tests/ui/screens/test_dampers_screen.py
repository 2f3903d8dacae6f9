"""Damper sheets on the screen: a dynamometer's file is read by keys alone, and what it says is shown."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot

from driving import USUAL, WIDE, a_job, app_on, said, shown, typed
from invented_damper import SPEEDS, invented_sheet, outwards, resisting
from stanchion.bench.session import Session
from stanchion.job.model import Attached, Job
from stanchion.store.column_maps import load_column_maps
from stanchion.ui.app import StanchionApp
from stanchion.ui.damper_lines import damper_pages
from stanchion.units.known_units import METRIC
from timing import at_rest, eventually

TO_IMPORT = ("ctrl+x", "ctrl+d", "ctrl+r", "f7")


def file_in(folder: Path, name: str = "shock.csv", factor: float = 1.0, spoilt: str = "") -> Path:
    """The file of an invented damper, as a dynamometer might write it: decimal commas, m/s, time and displacement too."""
    lines = ["Invented dynamometer", "Time;Displacement;Velocity;Force;Clicks", "s;mm;m/s;N;-"]
    for at in (4, 8, 12):
        for way, stroke in ((1.0, "compression"), (-1.0, "rebound")):
            for v in SPEEDS:
                force = 180.0 + factor * (outwards(stroke, at, v) - 180.0)
                lines.append(f"1;25;{way * v / 1000:.4f};{force:.2f};{at}".replace(".", ","))
    lines.insert(6, spoilt)
    path = folder / name
    path.write_text("\n".join(lines), "utf-8")
    return path


def job_on(**rebound: float) -> Job:
    return a_job(("rear.rebound.now", rebound.get("now", 8.0)), ("rear.rebound.total", 24.0))


def session_of(app: StanchionApp) -> Session:
    current = app.workspace.current
    assert current is not None
    return current.session


async def chosen(pilot: Pilot[int], app: StanchionApp, path: Path) -> None:
    """Go to the import, type the path and choose the columns: speed in m/s, force, position."""
    await pilot.press(*TO_IMPORT)
    await eventually(pilot, lambda: "DAMPER SHEET FROM A FILE" in shown(app))
    await typed(pilot, str(path))
    await pilot.press("enter")
    await eventually(pilot, lambda: "3 Velocity m/s" in shown(app))
    await pilot.press("3", "tab", "plus", "down", "left", "4", "down", "down", "5")
    await eventually(pilot, lambda: "curves" in shown(app))


async def test_a_file_is_read_by_keys_alone_and_its_forces_are_shown(tmp_path: Path) -> None:
    app = app_on(tmp_path, job_on(), "adjusters")
    async with app.run_test(size=USUAL) as pilot:
        await chosen(pilot, app, file_in(tmp_path, spoilt="n/a;;;;"))
        assert "42 lines read: 6 curves. Not read: line 7: nothing in the column of the speed." in one_line(app)
        await pilot.press("f7")
        await eventually(pilot, lambda: "REBOUND, N" in shown(app))
        text = shown(app)
        # The gas by the mean of both strokes at 10 mm/s is 3.9 N less than it was: (15.0 − 22.8) / 2.
        assert row(text, "100 mm/s") == ["260", "224", "188", "−9"]
        session = session_of(app)
        assert [one.path for one in session.job.attached] == ["../shock.csv"]
        sheet = session.job.damper_sheets[0]
        assert (sheet.file, sheet.unread, sheet.damper, sheet.turned) == ("shock.csv", 1.0, "rear", "rebound")
        await pilot.press("ctrl+down")
        await at_rest(pilot)
        assert "COMPRESSION, N" in shown(app)
        await pilot.press("ctrl+z")
        await eventually(pilot, lambda: not session.job.damper_sheets)
        assert session.job.attached == ()


async def test_the_columns_are_kept_for_the_next_file_of_the_folder(tmp_path: Path) -> None:
    first, second = file_in(tmp_path), file_in(tmp_path, "later.csv", factor=0.9)
    app = app_on(tmp_path, job_on(), "adjusters")
    async with app.run_test(size=WIDE) as pilot:
        await chosen(pilot, app, first)
        await pilot.press("f7")
        await eventually(pilot, lambda: "REBOUND, N" in shown(app))
        await eventually(pilot, lambda: load_column_maps(app.workspace.places).of(tmp_path.as_posix()) is not None)
        await pilot.press("f7")
        await eventually(pilot, lambda: "DAMPER SHEET FROM A FILE" in shown(app))
        await typed(pilot, str(second))
        await pilot.press("f7")  # at once: it is read with the columns kept, and taken in
        await eventually(pilot, lambda: "change from sheet 1" in app_text_of_pages(app))
        sheets = session_of(app).job.damper_sheets
        assert [sheet.file for sheet in sheets] == ["shock.csv", "later.csv"]
        assert not any(path.suffix == ".toml" for path in tmp_path.iterdir())  # nothing beside the files


def app_text_of_pages(app: StanchionApp) -> str:
    session = session_of(app)
    count = len(session.job.damper_sheets)
    if count < 2:
        return ""
    pages = damper_pages(session.job, count - 1, session.units, 60, 24, plain=False)
    return "\n".join(line.plain for page in pages for line in page).casefold()


async def test_what_cannot_be_read_says_what_to_do_and_nothing_is_taken(tmp_path: Path) -> None:
    (tmp_path / "words.csv").write_text("only words", "utf-8")
    app = app_on(tmp_path, job_on(), "adjusters")
    async with app.run_test(size=USUAL) as pilot:
        await pilot.press(*TO_IMPORT)
        await eventually(pilot, lambda: "Type the path of the file" in shown(app))
        await typed(pilot, str(tmp_path / "none.csv"))
        await pilot.press("enter")
        await eventually(pilot, lambda: "cannot be read" in one_line(app))
        await pilot.press("escape")
        await eventually(pilot, lambda: "No damper sheet yet" in one_line(app))
        await pilot.press("f7")
        await eventually(pilot, lambda: "Type the path of the file" in shown(app))
        await typed(pilot, str(tmp_path / "words.csv"))
        await pilot.press("enter")
        await eventually(pilot, lambda: "no line with two numbers" in one_line(app))
        assert session_of(app).job.damper_sheets == ()


async def test_a_displacement_is_refused_as_speed_with_its_reason(tmp_path: Path) -> None:
    app = app_on(tmp_path, job_on(), "adjusters")
    async with app.run_test(size=USUAL) as pilot:
        await chosen(pilot, app, file_in(tmp_path))
        await pilot.press("up", "up", "up", "2")
        await eventually(pilot, lambda: "is a displacement. Speed is needed" in one_line(app))
        await pilot.press("f7")
        await at_rest(pilot)
        assert session_of(app).job.damper_sheets == ()


async def test_a_path_is_completed_by_tab(tmp_path: Path) -> None:
    path = file_in(tmp_path)
    app = app_on(tmp_path, job_on(), "adjusters")
    async with app.run_test(size=USUAL) as pilot:
        await pilot.press(*TO_IMPORT)
        await eventually(pilot, lambda: "Type the path of the file" in shown(app))
        await typed(pilot, str(path)[:-6])
        await eventually(pilot, lambda: "Tab completes:" in shown(app))
        await pilot.press("tab", "enter")
        await eventually(pilot, lambda: "3 Velocity m/s" in shown(app))


async def test_a_sheet_is_taken_out_and_brought_back(tmp_path: Path) -> None:
    job = replace(job_on(), damper_sheets=(invented_sheet(), replace(invented_sheet(), file="second.csv")))
    app = app_on(tmp_path, job, "adjusters")
    async with app.run_test(size=WIDE) as pilot:
        await pilot.press("ctrl+x", "ctrl+d", "ctrl+r")
        await eventually(pilot, lambda: "SECOND.CSV" in shown(app))
        await pilot.press("ctrl+d")
        session = session_of(app)
        await eventually(pilot, lambda: [sheet.file for sheet in session.job.damper_sheets] == ["second.csv"])
        await pilot.press("ctrl+z")
        await eventually(pilot, lambda: len(session.job.damper_sheets) == 2)


async def test_a_wrong_choice_on_the_import_form_is_undone_there_and_the_job_behind_stays(tmp_path: Path) -> None:
    """The key took back the last change of the job that the form hides."""
    app = app_on(tmp_path, job_on(), "adjusters")
    async with app.run_test(size=USUAL) as pilot:
        session = session_of(app)
        session.put(("rear", "rebound", "now"), 9.0)
        await chosen(pilot, app, file_in(tmp_path))
        await pilot.press("up", "up", "up", "2")
        await eventually(pilot, lambda: "is a displacement" in one_line(app))
        await pilot.press("ctrl+z")
        await eventually(pilot, lambda: "42 lines read: 6 curves" in one_line(app))
        await pilot.press("ctrl+y")
        await eventually(pilot, lambda: "is a displacement" in one_line(app))
        assert session.job.rear.rebound.now == 9.0


async def test_a_file_for_which_the_list_has_no_room_is_named(tmp_path: Path) -> None:
    full = tuple(Attached(path=f"{at}.jpg") for at in range(20))
    app = app_on(tmp_path, replace(job_on(), attached=full), "adjusters")
    async with app.run_test(size=USUAL) as pilot:
        await chosen(pilot, app, file_in(tmp_path))
        await pilot.press("f7")
        await eventually(
            pilot, lambda: "Its file is not attached: the list on Machine is full (20 files)." in said(app)
        )
        session = session_of(app)
        assert [sheet.file for sheet in session.job.damper_sheets] == ["shock.csv"]
        assert session.job.attached == full


@pytest.mark.parametrize("size", [(80, 24), (60, 16), (120, 40)])
async def test_every_page_fits_its_pane(size: tuple[int, int], tmp_path: Path) -> None:
    job = replace(job_on(), damper_sheets=(invented_sheet(), replace(invented_sheet(), file="second.csv")))
    app = app_on(tmp_path, job, "adjusters")
    async with app.run_test(size=size):
        units = session_of(app).units
        for at in (0, 1):
            for width, height in ((35, 16), (58, 30), (100, 40)):
                pages = damper_pages(job, at, units, width, height, plain=False)
                assert all(len(page) <= height for page in pages)
                assert all(line.cell_length <= width for page in pages for line in page)
                text = "\n".join(line.plain for page in pages for line in page)
                assert f"{resisting('rebound', 8.0, 100.0):.0f}" in text
                assert ("CHANGE FROM SHEET 1" in text) == (at == 1)


@pytest.mark.parametrize(
    ("gas", "words"),
    [
        ("entered", "Gas of 180 N taken out of the forces."),
        ("shock", "Forces as read: gas not taken out."),
        ("removed", ""),
    ],
)
def test_the_first_page_says_whether_the_forces_are_those_of_the_file(gas: str, words: str) -> None:
    job = replace(job_on(), damper_sheets=(replace(invented_sheet(), gas=gas),))
    first = [line.plain for line in damper_pages(job, 0, METRIC, 36, 17, plain=False)[0]]
    assert ("Gas" in first[1] or "gas" in first[1]) == bool(words)
    assert " ".join(first).count(words) >= 1


def one_line(app: StanchionApp) -> str:
    return " ".join(shown(app).split())


def row(text: str, head: str) -> list[str]:
    line = next(line for line in text.splitlines() if f"{head} " in line)
    return line.partition(head)[2].split()
