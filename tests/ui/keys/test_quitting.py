"""The key that quits does so from every screen and dialog, and loses nothing that was typed."""

from __future__ import annotations

from pathlib import Path

import pytest

from complete_job import complete_job
from driving import USUAL, a_job, app_on, on_disk, shown, typed, workspace_in
from stanchion.base.errors import NotSaved
from stanchion.ui.commands.changes import VerdictQuestion
from stanchion.ui.screens.app_screen import Dialog
from stanchion.ui.screens.bin import BinScreen
from stanchion.ui.screens.calibration import CalibrationScreen
from stanchion.ui.screens.complaint_dialog import ComplaintDialog
from stanchion.ui.screens.dialogs import CommandStrip, FindingsScreen, HelpScreen, Question, WriteText
from stanchion.ui.screens.entry import EntryScreen
from stanchion.ui.screens.guide import GuideScreen
from stanchion.ui.screens.lessons import LessonList, LessonScreen
from stanchion.ui.screens.new_job import NewJobScreen
from stanchion.ui.screens.one_rate import OneRateScreen
from stanchion.ui.screens.side_by_side import CompareScreen, MergeScreen
from stanchion.ui.screens.stock import StockScreen
from stanchion.ui.screens.study import StudyScreen
from stanchion.ui.screens.why import WhyScreen
from timing import at_rest, eventually

SAID = ("runs", 0, "said")

LEADS_TO: dict[type[object], tuple[str, tuple[str, ...]]] = {
    CommandStrip: ("front", ("escape",)),
    FindingsScreen: ("front", ("f6",)),
    HelpScreen: ("front", ("f1",)),
    NewJobScreen: ("front", ("ctrl+n",)),
    WriteText: ("runs", ("ctrl+a", "o", "w", "n", "enter")),
    ComplaintDialog: ("runs", ("ctrl+a",)),
    Question: ("runs", ("ctrl+d",)),
    VerdictQuestion: ("runs", ("ctrl+k",)),
    BinScreen: ("front", ("f9", "f7")),
    CompareScreen: ("front", ("f9", "ctrl+k")),
    GuideScreen: ("front", ("ctrl+r",)),
    OneRateScreen: ("springs", ("ctrl+r",)),
    StockScreen: ("springs", ("f7",)),
    WhyScreen: ("front", ("f12",)),
    LessonList: ("front", ("f1", "enter")),
    LessonScreen: ("front", ("f1", "enter", "enter")),
    StudyScreen: ("sag", ("ctrl+d", "down", "enter")),
    CalibrationScreen: ("sag", ("ctrl+d", "end", "enter", "enter")),
}
"""The screen to begin on, and the keys that lead to each screen over another one."""


def test_every_dialog_is_tried() -> None:
    def below(kind: type[object]) -> set[type[object]]:
        return {kind, *(deeper for one in kind.__subclasses__() for deeper in below(one))}

    assert below(Dialog) - {Dialog, EntryScreen} == {kind for kind in LEADS_TO if issubclass(kind, Dialog)} | {
        MergeScreen
    }


@pytest.mark.parametrize("kind", LEADS_TO)
async def test_it_quits_from_every_screen_over_another(tmp_path: Path, kind: type[object]) -> None:
    screen, keys = LEADS_TO[kind]
    app = app_on(tmp_path, complete_job(), screen)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        for key in keys:
            await pilot.press(key)
            await at_rest(pilot)
        assert isinstance(app.screen, kind)
        before = on_disk(app)
        await pilot.press("ctrl+q")
        await eventually(pilot, lambda: not app.is_running, lambda: shown(app))
    assert app.return_code == 0
    assert on_disk(app) == before


async def test_it_quits_from_a_merge_and_leaves_both_copies_as_they_are(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("rear.rebound.now", 12.0)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        path = app.workspace.places.jobs / app.workspace.open_name
        copy = path.with_name(f"{path.stem} (copy).toml")
        copy.write_bytes(path.read_bytes().replace(b"Gravel Loop", b"Other Place"))
        app.merging.look_for_copies()
        await eventually(pilot, lambda: bool(app.copies))
        app.merging.merge_copy(copy.name)
        await eventually(pilot, lambda: isinstance(app.screen, MergeScreen))
        both = path.read_bytes(), copy.read_bytes()
        await pilot.press("ctrl+q")
        await eventually(pilot, lambda: not app.is_running)
    assert app.return_code == 0
    assert (path.read_bytes(), copy.read_bytes()) == both


async def test_a_text_being_written_is_taken_over_first(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        await typed(pilot, "own\n")
        await typed(pilot, "Chatters on the brakes")
        await pilot.press("ctrl+q")
        await eventually(pilot, lambda: not app.is_running)
    assert "Chatters on the brakes" in on_disk(app).runs[-1].said


async def test_words_that_fit_no_complaint_are_kept_as_the_riders_own(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        await typed(pilot, "sings in fifth")
        await pilot.press("ctrl+q")
        await eventually(pilot, lambda: not app.is_running)
    assert on_disk(app).runs[-1].said.endswith("brakes. sings in fifth")


async def test_a_text_that_is_too_long_stays_open_and_says_so(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "runs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        await typed(pilot, "own\n")
        await at_rest(pilot)
        assert isinstance(app.screen, WriteText)
        app.screen.query_one("TextArea").insert("long " * 1000)  # type: ignore[attr-defined]
        await pilot.press("ctrl+q")
        await at_rest(pilot)
        assert isinstance(app.screen, WriteText)
        assert "shorten it" in shown(app)


async def test_a_new_job_with_something_typed_is_begun_first(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(machine="Damson"))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+n")
        await at_rest(pilot)
        await typed(pilot, "Quince")
        await pilot.press("ctrl+q")
        await eventually(pilot, lambda: not app.is_running)
    assert app.return_code == 0
    assert on_disk(app).job.machine == "Quince"


async def test_without_anything_typed_no_job_is_begun(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+n", "ctrl+q")
        await eventually(pilot, lambda: not app.is_running)
    assert len(list(app.workspace.places.jobs.glob("*.toml"))) == 1


async def test_a_new_job_with_a_date_that_cannot_be_read_stays_open_at_that_field(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+n")
        await at_rest(pilot)
        await typed(pilot, "Quince\n\n\n99.99.99\n")
        await pilot.press("ctrl+q")
        await at_rest(pilot)
        assert isinstance(app.screen, NewJobScreen)
        assert "Quince" in shown(app)


async def test_the_field_of_the_spring_stock_in_which_one_types_is_saved(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        await pilot.press("tab")
        await typed(pilot, "9.25")
        await pilot.press("ctrl+q")
        await eventually(pilot, lambda: not app.is_running)
    assert [row.rate_n_per_mm for row in workspace_in(tmp_path).spring_stock.session.stock.rows] == [9.25]


async def test_a_spring_stock_that_cannot_be_written_is_said_before_quitting(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = app_on(tmp_path, complete_job(), "springs")

    def full() -> None:
        raise NotSaved("'stock.toml' is not saved: the disk is full.")

    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        monkeypatch.setattr(app.workspace.spring_stock, "save", full)
        await pilot.press("tab")
        await typed(pilot, "9.25")
        await pilot.press("ctrl+q")
        await at_rest(pilot)
        assert app.is_running
        assert isinstance(app.screen, Question)
        assert "'stock.toml' is not saved" in shown(app)
