"""One machine is followed by keys alone."""

from __future__ import annotations

import time
from dataclasses import replace
from pathlib import Path

import pytest
from textual.pilot import Pilot

from driving import USUAL, WIDE, app_on, said, shown, typed, workspace_in
from stanchion.job.codec import dumps
from stanchion.planning.machine_story import StoryRow
from stanchion.ui.app import StanchionApp
from stanchion.ui.screens.jobs import JobsScreen
from stanchion.ui.screens.side_by_side import CompareScreen
from stanchion.ui.screens.story import StoryScreen
from story_jobs import occasion, ridden, weekends
from textual_private import messages
from timing import at_rest, eventually


def the_program(folder: Path, open_name: str = "") -> StanchionApp:
    """The program on the weekends, with one of the jobs open."""
    jobs = folder / "jobs"
    jobs.mkdir(parents=True, exist_ok=True)
    for name, job in weekends().items():
        (jobs / name).write_bytes(dumps(job))
    if open_name:
        workspace = workspace_in(folder)
        workspace.open(open_name)
        workspace.remember("front")
        workspace.close()
    return app_on(folder)


async def settled(pilot: Pilot[int]) -> None:
    """Until the story has been read and shown."""
    app = pilot.app
    assert isinstance(app, StanchionApp)

    def read() -> bool:
        return app.story.story is not None and isinstance(app.screen, StoryScreen) and not app.story.reading

    await eventually(pilot, read, lambda: shown(app))
    await at_rest(pilot)


def current(app: StanchionApp) -> StoryRow:
    assert isinstance(app.screen, StoryScreen)
    row = app.screen.chosen()
    assert row is not None
    return row


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_the_open_job_s_machine_is_followed_from_a_field_in_hand(tmp_path: Path, size: tuple[int, int]) -> None:
    app = the_program(tmp_path, "c.toml")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+f")
        await settled(pilot)
        text = shown(app)
        assert "STORY of Grey Mule" in text
        assert "6 of 6 rows" in text
        for words in ("2026-05-03", "run 2 11:40", "Fork preload", "112/120", "1:30.1", "Lake Ring"):
            assert words in text
        assert text.index("2026-05-03") < text.index("run 1 10:20") < text.index("2026-05-10")
        assert current(app).file == "c.toml"  # the latest
        assert "static 20.0 mm (ok), rider 33.0 mm" in text
        sags = ("sag front", "sag rear") if size == USUAL else ("rider F", "static F", "rider R", "static R")
        for plot in (*sags, "fork used", "shock used", "best lap"):
            assert plot in text
        assert "Red Heron" not in text


async def test_a_wide_terminal_shows_more_columns(tmp_path: Path) -> None:
    app = the_program(tmp_path, "c.toml")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        assert "inst. F" not in shown(app)
        await pilot.press("escape", "2")
        await settled(pilot)
        assert "inst. F" in shown(app)
        await pilot.resize_terminal(160, 40)
        await at_rest(pilot)
        assert "spring F" in shown(app)
        await pilot.resize_terminal(80, 24)
        await at_rest(pilot)
        assert "venue, changed" in shown(app)
        assert "inst. F" not in shown(app)


async def test_from_the_list_the_chosen_job_s_machine_is_followed_and_esc_leads_back(tmp_path: Path) -> None:
    app = the_program(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await typed(pilot, "heron")
        await pilot.press("ctrl+f")
        await settled(pilot)
        assert "STORY of Red Heron" in shown(app)
        await pilot.press("escape")
        await at_rest(pilot)
        assert isinstance(app.screen, JobsScreen)


async def test_typing_filters_and_esc_clears(tmp_path: Path) -> None:
    app = the_program(tmp_path, "c.toml")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+f")
        await settled(pilot)
        await typed(pilot, "lake b.")
        await at_rest(pilot)
        assert "2 of 6 rows" in shown(app)
        await pilot.press("escape")
        await at_rest(pilot)
        assert "6 of 6 rows" in shown(app)
        await pilot.press("escape")
        await at_rest(pilot)
        assert app.current_mode == "front"


async def test_enter_opens_the_job_of_an_occasion_and_goes_to_a_run(tmp_path: Path) -> None:
    app = the_program(tmp_path, "c.toml")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+f")
        await settled(pilot)
        await pilot.press("up", "up", "up", "enter")
        await at_rest(pilot)
        assert app.workspace.open_name == "a.toml"
        assert app.current_mode == "runs"
        assert "RUN 2, TRAVEL USED" in shown(app)
        await pilot.press("ctrl+f")
        await settled(pilot)
        await pilot.press("up", "up", "enter")
        await at_rest(pilot)
        assert app.workspace.open_name == "b.toml"


async def test_a_marked_run_is_compared_with_the_one_under_the_bar(tmp_path: Path) -> None:
    app = the_program(tmp_path, "c.toml")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+f")
        await settled(pilot)
        await pilot.press("up", "f7", "up", "up")
        await at_rest(pilot)
        assert "compare with the mark" in shown(app)
        await pilot.press("ctrl+k")
        await at_rest(pilot)
        assert isinstance(app.screen, CompareScreen)
        text = shown(app)
        assert "From b.toml, run 1 to a.toml, run 2" in text
        assert "Best lap 1:30.1 → 1:31.8 (+1.7 s)" in text
        await pilot.press("escape")
        await at_rest(pilot)
        assert current(app).at == 1  # back where we were, the mark still there
        assert "►" in shown(app)


async def test_without_a_mark_it_is_compared_with_the_open_job_as_it_is_now(tmp_path: Path) -> None:
    app = the_program(tmp_path, "c.toml")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert app.session is not None
        app.session.put(("front", "left", "adjuster", "now"), 10.0)
        await pilot.press("ctrl+f")
        await settled(pilot)
        assert current(app).job.front.left.adjuster.now == 10.0  # in hand, whatever is on disk yet
        await pilot.press("up", "up", "ctrl+k")
        await at_rest(pilot)
        text = shown(app)
        assert "From b.toml to c.toml" in text
        assert "Fork preload 8 → 10 turns (2 turns in)" in text


async def test_the_open_job_is_not_compared_with_itself(tmp_path: Path) -> None:
    app = the_program(tmp_path, "c.toml")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+f")
        await settled(pilot)
        assert (current(app).file, current(app).at) == ("c.toml", None)
        await pilot.press("ctrl+k")
        await at_rest(pilot)
        assert not isinstance(app.screen, CompareScreen)
        assert "the open job itself" in messages(app)[-1]


async def test_a_file_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    app = the_program(tmp_path, "c.toml")
    (tmp_path / "jobs" / "torn.toml").write_bytes(b"no = toml = here")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+f")
        await settled(pilot)
        assert "1 UNREADABLE below" in shown(app)
        await pilot.press("pagedown")
        await at_rest(pilot)
        text = " ".join(shown(app).split())
        assert "UNREADABLE torn.toml" in text
        assert "torn.toml: the file is cut short" in text


async def test_reading_is_stopped_with_esc_and_what_was_read_is_shown(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = the_program(tmp_path, "c.toml")
    read = app.workspace.library.open

    def read_and_wait(path: Path) -> object:
        opened = read(path)
        while app.story.reading and not app.story.stopping:  # a folder that takes its time
            time.sleep(0.01)
        return opened

    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        monkeypatch.setattr(app.workspace.library, "open", read_and_wait)
        await pilot.press("ctrl+f")
        await at_rest(pilot)
        assert "Esc stops" in shown(app)
        await pilot.press("escape")
        await settled(pilot)
        assert "STOPPED at " in shown(app)
        assert isinstance(app.screen, StoryScreen)


async def test_hostile_text_steers_nothing(tmp_path: Path) -> None:
    app = the_program(tmp_path)
    job = occasion(20, machine="x[/foo]y \x1b[31m", rider="[@click=app.quit]go", venue="\x1b]0;t\x07")
    job = replace(job, runs=(ridden(job, "[b]9\x1b", 90.0, 100.0, said="[link=x]\x1b[2J"),))
    (tmp_path / "jobs" / "y.toml").write_bytes(dumps(job))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await typed(pilot, "foo")
        await pilot.press("ctrl+f")
        await settled(pilot)
        text = shown(app)
        assert "STORY of x[/foo]y" in text
        assert "\x1b" not in text
        assert "\x07" not in text


async def test_jobs_of_one_day_are_told_apart_in_the_list(tmp_path: Path) -> None:
    app = the_program(tmp_path)
    (tmp_path / "jobs" / "x-2.toml").write_bytes(dumps(weekends()["x.toml"]))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        text = shown(app)
        assert "no. 1, " in text
        assert "no. 2, " in text
        assert text.count("no. ") == 2


async def test_with_no_job_at_all_the_list_is_shown(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+f")
        await at_rest(pilot)
        assert isinstance(app.screen, JobsScreen)


async def test_asked_for_again_the_same_machine_is_read_anew(tmp_path: Path) -> None:
    app = the_program(tmp_path, "c.toml")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f9")
        await at_rest(pilot)
        await typed(pilot, "heron")
        await pilot.press("ctrl+f")
        await settled(pilot)
        (tmp_path / "jobs" / "x-2.toml").write_bytes(dumps(occasion(11, machine="Red Heron")))
        await pilot.press("ctrl+f")
        await settled(pilot)
        text = shown(app)
        assert "STORY of Red Heron" in text
        assert "2 of 2 rows" in text


async def test_with_no_job_open_and_none_marked_there_is_nothing_to_compare_with(tmp_path: Path) -> None:
    app = the_program(tmp_path)
    async with app.run_test(size=WIDE, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+f")
        await settled(pilot)
        await pilot.press("ctrl+k")
        await at_rest(pilot)
        assert "Mark a row with F7 first" in said(app)
        assert isinstance(app.screen, StoryScreen)
        await pilot.press("escape")
        await at_rest(pilot)
        assert isinstance(app.screen, JobsScreen)


async def test_where_no_row_fits_the_filter_no_key_does_harm(tmp_path: Path) -> None:
    app = the_program(tmp_path, "c.toml")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+f")
        await settled(pilot)
        await typed(pilot, "nothing has this")
        await at_rest(pilot)
        assert "0 of 6 rows" in shown(app)
        for key in ("up", "down", "pageup", "f7", "ctrl+k", "enter", "ctrl+up", "ctrl+down"):
            await pilot.press(key)
            await at_rest(pilot)
            assert isinstance(app.screen, StoryScreen), key
        assert app.workspace.open_name == "c.toml"


async def test_a_mark_is_taken_away_with_the_key_that_set_it(tmp_path: Path) -> None:
    app = the_program(tmp_path, "c.toml")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+f")
        await settled(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        assert isinstance(app.screen, StoryScreen)
        assert app.screen.marked is current(app)
        await pilot.press("f7")
        await at_rest(pilot)
        assert app.screen.marked is None


async def test_a_folder_that_cannot_be_read_tells_no_story_and_says_why(tmp_path: Path) -> None:
    app = the_program(tmp_path, "c.toml")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        app.workspace.library.places = replace(app.workspace.library.places, jobs=tmp_path / "jobs" / "c.toml")
        app.workspace.library.listing.folder = tmp_path / "jobs" / "c.toml"
        await pilot.press("ctrl+f")
        await at_rest(pilot)
        assert "The jobs folder cannot be read: " in shown(app)
        assert not app.story.reading
