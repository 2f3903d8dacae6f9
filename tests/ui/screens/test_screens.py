"""Every screen, driven by keys alone."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path

import pytest
from textual import events
from textual.events import Key

from complete_job import complete_job
from driving import USUAL, WIDE, a_job, app_on, bench, on_disk, said, shown, typed
from judgement_jobs import put
from stanchion.job.carry import identified
from stanchion.job.model import LinkagePair, Targets
from stanchion.ui.help_reference import GENERAL
from stanchion.ui.help_text import PARTS
from stanchion.ui.keys import KEYS
from stanchion.ui.screens.dialogs import CommandStrip, FindingsScreen, HelpScreen, Question
from stanchion.ui.screens.jobs import JobsScreen
from stanchion.ui.screens.new_job import NewJobScreen
from stanchion.ui.widgets.sheet import FormSheet
from textual_private import fault_of, messages
from timing import at_rest, eventually

SCREENS = [key.id.removeprefix("screen.") for key in KEYS if key.action.startswith("go('") or key.id == "screen.story"]
"""Every screen that a key leads to, by its name; the list of jobs among them."""


async def test_with_no_jobs_it_offers_a_new_one_or_a_sample(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert isinstance(app.screen, JobsScreen)
        text = shown(app)
        assert "no jobs here yet" in text
        assert "A new job" in text
        assert text.count("A copy of a sample") >= 4


async def test_a_new_job_is_begun_from_the_keyboard_and_is_on_disk_at_once(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("enter")
        await typed(pilot, "Grey Mule\nB. T.\nGravel Loop\n")
        await pilot.press("enter", "enter")
        await at_rest(pilot)
        assert bench(app).name_of == "front"
        job = on_disk(app)
        assert (job.job.machine, job.job.rider, job.job.venue) == ("Grey Mule", "B. T.", "Gravel Loop")
        assert job.job.date.isoformat() == "2026-05-31"


async def test_the_front_screen_is_filled_from_the_number_pad_and_recomputes_at_every_key(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        # rate, free length, set length, (at: fully out), set length fully in, (where read), (counting), turns, now
        await typed(pilot, "9.5\n250\n238\n\n230\n\n\n8\n3\n")
        leg = on_disk(app).front.left
        assert leg.spring.rate_n_per_mm == 9.5
        assert (leg.spring.free_length_mm, leg.spring.set_length_mm, leg.spring.set_length_in_mm) == (250, 238, 230)
        assert (leg.adjuster.total_turns, leg.adjuster.now) == (8, 3)
        assert app.session is not None
        figures = app.session.assessment.front.left
        # common practice, no published source: free 250, set 238 out, 230 in: installed 12, range 8, 1 mm a turn
        assert figures.installed_preload_mm.value == pytest.approx(12)
        assert figures.headroom_in_turns.value == pytest.approx(5)
        text = shown(app)
        assert "15.0 mm" in text  # preload now, 12 + 3 turns
        assert "in band" in text


async def test_a_use_without_a_band_shows_none_rather_than_one_from_0_to_0(tmp_path: Path) -> None:
    app = app_on(tmp_path, replace(put(complete_job(), job__use="soft-road", front__right=None), targets=Targets()))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert app.session is not None
        assert app.session.assessment.front.left.band is None
        assert "INSTALLED PRELOAD" in shown(app)
        assert "0–0" not in shown(app)


async def test_a_key_splits_the_legs_and_joins_them_again(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("front.left.spring.free_length_mm", 250.0)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7", "down", "tab")
        await typed(pilot, "253")
        job = on_disk(app)
        assert job.front.right is not None
        assert (job.front.left.spring.free_length_mm, job.front.right.spring.free_length_mm) == (250, 253)
        await pilot.press("f7")
        await at_rest(pilot)
        await pilot.press("down", "enter")
        await at_rest(pilot)
        assert on_disk(app).front.right is None
        await pilot.press("ctrl+z")
        assert on_disk(app).front.right == job.front.right


async def test_a_fork_with_one_spring_is_entered_by_saying_which_leg_has_none(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("front.left.spring.rate_n_per_mm", 10.0)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7", "tab", "tab", "tab")
        sheet = bench(app).sheet
        while sheet.at != ("front", "right", "spring_fitted"):
            await pilot.press("shift+tab")
        await pilot.press("plus")
        job = on_disk(app)
        assert job.front.right is not None
        assert not job.front.right.spring_fitted
        assert "no spring" in shown(app)


async def test_the_rear_screen_takes_spring_collar_and_measured_pairs(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "rear")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await typed(pilot, "95\n165\n152\n\n\n")  # rate, free, set, read at, set in
        await pilot.press("enter")  # counted in turns
        await typed(pilot, "1.5\n8\n2\n")  # pitch, turns, now
        await pilot.press("enter")  # one ratio stays empty
        for wheel, shock in ((0, 0), (40, 18), (80, 37), (130, 62)):
            await typed(pilot, f"{wheel}\n{shock}\n")
        rear = on_disk(app).rear
        assert rear.spring.rate_n_per_mm == 95
        assert (rear.collar.pitch_mm, rear.collar.total_turns, rear.collar.now) == (1.5, 8, 2)
        assert rear.linkage[-1] == LinkagePair(wheel_mm=130, shock_mm=62)
        assert app.session is not None
        assert app.session.assessment.rear.spring.preload_now_mm.value == pytest.approx(13 + 3)
        assert app.session.assessment.rear.wheel_rate_n_per_mm.known


async def test_the_rear_screen_says_how_well_the_pairs_tell_the_wheel_rate(tmp_path: Path) -> None:
    pairs = tuple(LinkagePair(wheel_mm=z, shock_mm=0.4 * z) for z in (60.0, 120.0))
    job = put(complete_job(), rear__linkage=pairs, sag__tape_resolution_mm=1.0)
    app = app_on(tmp_path, job, "rear")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert app.session is not None
        rear = app.session.assessment.rear
        expanded = rear.wheel_rate_uncertainty_n_per_mm.value
        assert expanded is not None
        assert f"{rear.wheel_rate_n_per_mm.value:.2f} N/mm ± {expanded:.2f}" in shown(app)
        assert f"0.400 at {rear.at_travel_mm:.1f} mm" in shown(app)


async def test_sag_is_taken_down_the_column_and_repeats_go_to_the_right(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "sag")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await typed(pilot, "620\n596\n600\n584\n589\n")
        await typed(pilot, "580\n572\n574\n549\n551\n")
        sag = on_disk(app).sag
        assert sag.front.hanging_mm == (620,)
        assert (sag.front.static.down_mm, sag.front.rider.up_mm) == ((596,), (589,))
        assert (sag.rear.hanging_mm, sag.rear.rider.up_mm) == ((580,), (551,))
        assert app.session is not None
        front = app.session.assessment.sag.front
        assert front.static.sag_mm.value == pytest.approx(620 - (596 + 600) / 2)
        assert front.rider.sag_mm.value == pytest.approx(620 - (584 + 589) / 2)
        bench(app).go_to(("sag", "front", "static", "down_mm", 1))
        await typed(pilot, "597")
        assert on_disk(app).sag.front.static.down_mm == (596, 597)


async def test_text_that_cannot_be_read_stays_with_its_reason_and_the_job_keeps_the_last_good_value(
    tmp_path: Path,
) -> None:
    app = app_on(tmp_path, a_job(("front.left.spring.free_length_mm", 250.0)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("down")
        await typed(pilot, "25.0.5")
        text = shown(app)
        assert "25.0.5" in text
        assert "the job keeps: 250.0 mm" in text  # 25 was no value, only how the text began
        assert on_disk(app).front.left.spring.free_length_mm == 250
        await pilot.press("down", "down", "up", "up")
        assert "25.0.5" in shown(app)
        await pilot.press("f6")
        await at_rest(pilot)
        assert "NOT READ" in shown(app)


async def test_a_typed_unit_is_read_and_the_value_read_back_is_shown(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await typed(pilot, "0.95 kg/mm")
        assert "9.32 N/mm" in shown(app)
        await pilot.press("down")
        await typed(pilot, "9 7/8 in")
        assert "250.8 mm" in shown(app)
        spring = on_disk(app).front.left.spring
        assert spring.rate_n_per_mm == pytest.approx(0.95 * 9.80665)  # kilogram-force, NIST SP 811 App. B.8
        assert spring.free_length_mm == pytest.approx(9.875 * 25.4)
        await pilot.press("up")
        assert bench(app).sheet.at == ("front", "left", "spring", "rate_n_per_mm")


async def test_plus_and_minus_step_a_value_by_its_natural_step(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("front.left.spring.rate_n_per_mm", 9.5)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("plus", "plus", "minus")
        assert on_disk(app).front.left.spring.rate_n_per_mm == 9.75
        await pilot.press("ctrl+z")
        assert on_disk(app).front.left.spring.rate_n_per_mm == 9.5


async def test_undo_and_redo_go_over_the_whole_job_across_screens(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await typed(pilot, "9.5\n250")
        await pilot.press("f5")
        await at_rest(pilot)
        await typed(pilot, "620\n")
        after = on_disk(app)
        for _ in range(3):
            await pilot.press("ctrl+z")
        assert identified(on_disk(app), "") == a_job()
        for _ in range(3):
            await pilot.press("ctrl+y")
        assert on_disk(app) == after


async def test_after_esc_every_command_is_one_letter(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        for letter, name in (("s", "sag"), ("r", "rear"), ("m", "machine"), ("f", "front")):
            await pilot.press("escape")
            assert isinstance(app.screen, CommandStrip)
            await pilot.press(letter)
            await at_rest(pilot)
            assert bench(app).name_of == name
        await pilot.press("escape", "h")
        await at_rest(pilot)
        assert isinstance(app.screen, HelpScreen)


async def test_enter_on_a_warning_goes_to_its_field(tmp_path: Path) -> None:
    job = a_job(("front.left.spring.free_length_mm", 250.0), ("front.left.spring.set_length_mm", 255.0))
    app = app_on(tmp_path, job, "machine")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f6")
        await at_rest(pilot)
        assert isinstance(app.screen, FindingsScreen)
        assert "FAULT" in shown(app)
        await pilot.press("enter")
        await at_rest(pilot)
        assert bench(app).name_of == "front"
        assert bench(app).sheet.at is not None


async def test_units_of_display_are_a_setting_and_the_file_stays_metric(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("front.left.spring.rate_n_per_mm", 9.80665)))
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("escape", "k")
        await at_rest(pilot)
        assert "kg/mm" in shown(app)
        assert "Rates in kg/mm." in shown(app)
        await pilot.press("escape", "6", "escape", "6")
        await at_rest(pilot)
        assert "Pressures in psi." in shown(app)
        assert "Pressures in kPa." not in shown(app)
        await typed(pilot, "0.9")
        assert on_disk(app).front.left.spring.rate_n_per_mm == pytest.approx(0.9 * 9.80665)
    again = app_on(tmp_path)
    assert again.workspace.preferences.settings.units.rates == "kg/mm"


async def test_jobs_are_filtered_as_typed_opened_and_carried_forward(tmp_path: Path) -> None:
    first = app_on(tmp_path, a_job(("sag.front.hanging_mm.0", 620.0), machine="Red Heron"))
    first.workspace.close()
    app = app_on(tmp_path, a_job(machine="Grey Mule"))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f9")
        await at_rest(pilot)
        assert "Red Heron" in shown(app)
        await typed(pilot, "hero")
        await at_rest(pilot)
        assert "Grey Mule" not in shown(app)
        await pilot.press("enter")
        await at_rest(pilot)
        assert app.session is not None
        assert app.session.job.job.machine == "Red Heron"
        source = app.workspace.open_name
        await pilot.press("f8")
        await at_rest(pilot)
        await typed(pilot, "Gravel Pit\n1.6.2026")  # from the venue to the date; what else was there stays
        await pilot.press("f8")
        await at_rest(pilot)
        job = on_disk(app)
        assert app.workspace.open_name != source
        assert job.job.carried_from == source
        assert job.job.machine == "Red Heron"
        assert (job.job.venue, job.job.date.isoformat()) == ("Gravel Pit", "2026-06-01")
        assert job.sag.front.hanging_mm == ()
        assert bench(app).sheet.at == ("sag", "front", "hanging_mm", 0)  # the rider waits: the first reading comes next
        await pilot.press("1", "4", "2", "enter")
        assert app.session.job.sag.front.hanging_mm == (142.0,)


async def test_no_message_covers_the_answers_to_a_question(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        app.say("Something that was done a moment ago.")
        await at_rest(pilot)
        assert len(messages(app)) == 1
        app.push_screen(Question("Which?", "", (("one", "This one"),)))
        await at_rest(pilot)
        assert "This one" in shown(app)
        assert len(messages(app)) == 0


async def test_a_message_lies_over_no_field_and_goes_at_the_next_key(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("stanchion.ui.messages.READ_S", 60.0)  # however slow the machine
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        before = shown(app).splitlines()
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        lines = shown(app).splitlines()
        assert "There is nothing to undo." in lines[0]
        assert lines[2:] == before[2:]  # field in hand, figures and warnings stay in sight
        await typed(pilot, "9")
        await at_rest(pilot)
        assert "There is nothing to undo." in shown(app)  # nobody has read it yet
        monkeypatch.setattr("stanchion.ui.messages.READ_S", 0.0)
        await typed(pilot, "5")
        await at_rest(pilot)
        assert "There is nothing to undo." not in shown(app)
        assert "Grey Mule" in shown(app).splitlines()[0]


async def test_it_opens_where_it_was_left(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "rear")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert bench(app).name_of == "rear"
        await pilot.press("f5")
        await at_rest(pilot)
        await pilot.press("ctrl+q")
    again = app_on(tmp_path)
    async with again.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert bench(again).name_of == "sag"


async def test_a_file_changed_by_somebody_else_is_asked_about_and_not_overwritten(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        path = app.workspace.places.jobs / app.workspace.open_name
        theirs = path.read_bytes().replace(b"Gravel Loop", b"Other Place")
        path.write_bytes(theirs)
        app.post_message(events.Paste("9.5"))  # at once: the question may come after the first key
        await eventually(pilot, lambda: "changed by somebody else" in shown(app), lambda: shown(app))
        await at_rest(pilot)
        assert path.read_bytes() == theirs
        await pilot.press("down", "down", "enter")  # take theirs
        await at_rest(pilot)
        assert app.session is not None
        assert app.session.job.job.venue == "Other Place"
        await pilot.press("ctrl+z")
        assert on_disk(app).front.left.spring.rate_n_per_mm == 9.5


async def test_notes_of_several_lines_are_written_and_kept(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "machine")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press(*["down"] * 9, "enter")
        await at_rest(pilot)
        await typed(pilot, "dives\non brakes")
        await pilot.press("escape")
        await at_rest(pilot)
        assert on_disk(app).job.notes == "dives\non brakes"


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_brackets_and_escapes_in_a_job_are_shown_as_text(tmp_path: Path, size: tuple[int, int]) -> None:
    hostile = "x[/foo]y [link=http://a]\x1b[31m\x9b31m\x00"
    job = a_job(("job.notes", hostile), ("front.oil", hostile), machine=hostile, rider=hostile)
    app = app_on(tmp_path, job, "machine")
    async with app.run_test(size=size) as pilot:
        await at_rest(pilot)
        for screen in ("machine", "front", "rear", "sag"):
            app.action_go(screen)
            await at_rest(pilot)
            for key in ("f6", "escape", "f9", "escape", "escape", "escape"):
                await pilot.press(key)
                await at_rest(pilot)
                text = shown(app)
                assert not any(ord(c) < 32 or 127 <= ord(c) < 160 for c in text.replace("\n", "")), (screen, key)
        assert fault_of(app) is None


async def test_in_a_small_window_typing_goes_on_and_nothing_is_lost(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await typed(pilot, "9")
        await pilot.resize_terminal(40, 10)
        await at_rest(pilot)
        await typed(pilot, ".")
        await pilot.resize_terminal(20, 5)
        await at_rest(pilot)
        await typed(pilot, "5")
        await at_rest(pilot)
        assert "9.5" in shown(app)
        await pilot.resize_terminal(*USUAL)
        await at_rest(pilot)
        assert on_disk(app).front.left.spring.rate_n_per_mm == 9.5


async def test_a_job_is_moved_to_the_bin_only_after_asking_and_never_the_open_one(tmp_path: Path) -> None:
    app_on(tmp_path, a_job(machine="Red Heron")).workspace.close()
    app = app_on(tmp_path, a_job(machine="Grey Mule"))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f9")
        await at_rest(pilot)
        await typed(pilot, "heron")
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        assert "bin" in shown(app)
        await pilot.press("enter")  # keep it
        await at_rest(pilot)
        assert len(list((tmp_path / "jobs").glob("*.toml"))) == 2
        await pilot.press("ctrl+d")
        await at_rest(pilot)
        await pilot.press("down", "enter")
        await at_rest(pilot)
        left = [path.name for path in (tmp_path / "jobs").glob("*.toml")]
        assert left == [app.workspace.open_name]
        assert [deleted.name for deleted in app.workspace.library.bin.list()] == ["2026-05-31-red-heron-b-t.toml"]


async def test_a_number_below_zero_is_typed_into_an_empty_field_that_may_hold_one(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("front", "fork_height_mm"))
        await typed(pilot, "-5")
        assert on_disk(app).front.fork_height_mm == -5


async def test_undo_first_takes_away_what_cannot_be_read_in_the_field_in_hand(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("front.left.spring.rate_n_per_mm", 9.5)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await typed(pilot, "x")
        assert app.session is not None
        assert app.session.drafts
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert "9.5 N/mm" in shown(app)
        assert on_disk(app).front.left.spring.rate_n_per_mm == 9.5


async def test_a_copy_is_saved_beside_the_job_and_work_goes_on_in_it(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        first = app.workspace.open_name
        await pilot.press("escape", "v")
        await at_rest(pilot)
        await typed(pilot, "9.5")
        assert on_disk(app).front.left.spring.rate_n_per_mm == 9.5
        assert app.workspace.open_name != first


async def test_a_reading_emptied_key_by_key_goes_when_the_field_is_left(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("sag.front.hanging_mm.0", 620.0)), "sag")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("backspace", "down", "up")
        await at_rest(pilot)
        assert on_disk(app).sag.front.hanging_mm == ()


async def test_a_minus_within_a_text_is_typed_and_does_not_step(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("front.left.spring.free_length_mm", 250.0)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("down")
        await typed(pilot, "9-7/8 in")
        text = app.session.text_of(("front", "left", "spring", "free_length_mm"))  # type: ignore[union-attr]
        value = on_disk(app).front.left.spring.free_length_mm
        assert value == pytest.approx(250.825) or (value == 250 and text == "9-7/8 in")


async def test_pairs_of_the_linkage_are_entered_with_enter_alone(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "rear")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        bench(app).go_to(("rear", "linkage", 0, "wheel_mm"))
        await typed(pilot, "0\n0\n50\n20\n100\n42\n")
        pairs = [(pair.wheel_mm, pair.shock_mm) for pair in on_disk(app).rear.linkage]
        assert pairs == [(0, 0), (50, 20), (100, 42)]


async def test_legs_that_differ_are_joined_only_after_asking(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(("front.left.spring.free_length_mm", 250.0)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7", "down", "tab")
        await typed(pilot, "245")
        await pilot.press("f7")
        await at_rest(pilot)
        await pilot.press("enter")  # keep them apart
        await at_rest(pilot)
        assert on_disk(app).front.right is not None
        await pilot.press("f7")
        await at_rest(pilot)
        await pilot.press("down", "enter")
        await at_rest(pilot)
        assert on_disk(app).front.right is None


async def test_enter_on_a_finding_about_sag_goes_to_a_reading_of_that_state(tmp_path: Path) -> None:
    readings = (("hanging_mm.0", 620.0), ("rider.down_mm.0", 600.0), ("rider.up_mm.0", 590.0))
    app = app_on(tmp_path, a_job(*((f"sag.front.{name}", value) for name, value in readings)), "front")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f6")
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        at = bench(app).sheet.at
        assert at is not None
        assert at[:3] == ("sag", "front", "rider")


async def test_the_hand_over_sheet_is_written_with_one_key_and_printed_with_two(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "bin").mkdir()
    monkeypatch.setenv("PATH", str(tmp_path / "bin"))  # no print command yet
    app = app_on(tmp_path, a_job(("front.left.spring.free_length_mm", 250.0)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+o")
        await at_rest(pilot)
        written = sorted(path.suffix for path in (tmp_path / "sheets").iterdir())
        assert written == [".html", ".txt"]
        stem = Path(app.workspace.open_name).stem
        [message] = messages(app)
        assert f"{stem}.txt" in message
        assert ".html" in message
        await pilot.press("escape", "8")
        await at_rest(pilot)
        assert f"no print command (lp or lpr). The sheet is in {tmp_path / 'sheets' / stem}.txt" in said(app)
        command = tmp_path / "bin" / "lp"
        command.write_text(f'#!/bin/sh\necho "$1" > {tmp_path / "taken"}\n')
        command.chmod(0o755)
        await pilot.press("escape", "8")
        await at_rest(pilot)
        assert (tmp_path / "taken").read_text() == f"{tmp_path / 'sheets' / stem}.txt\n"
        assert "sent to the printer" in said(app)


async def test_a_listed_job_is_compared_with_the_open_one(tmp_path: Path) -> None:
    app_on(tmp_path, a_job(("front.left.spring.rate_n_per_mm", 9.0), machine="Red Heron")).workspace.close()
    app = app_on(tmp_path, a_job(("front.left.spring.rate_n_per_mm", 9.5)))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f9")
        await at_rest(pilot)
        await typed(pilot, "heron")
        await pilot.press("ctrl+k")
        await at_rest(pilot)
        text = shown(app)
        assert "9.50 N/mm → 9.00 N/mm (−0.50 N/mm)" in text
        assert "Grey Mule → Red Heron" in text


@pytest.mark.parametrize("size", [USUAL, WIDE])
async def test_one_key_leads_to_each_reading_that_a_figure_waits_for(tmp_path: Path, size: tuple[int, int]) -> None:
    app = app_on(tmp_path, a_job(("sag.front.static.down_mm.0", 597.0)), "sag")
    async with app.run_test(size=size, notifications=True) as pilot:
        await at_rest(pilot)
        assert "needs L1" in shown(app)
        await pilot.press("down", "ctrl+a")
        await at_rest(pilot)
        assert bench(app).sheet.at == ("sag", "front", "hanging_mm", 0)
        await typed(pilot, "620")
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        assert bench(app).sheet.at == ("sag", "front", "rider", "down_mm", 0)
        await pilot.press("f3")
        await at_rest(pilot)
        assert "needs free length" in shown(app)
        await pilot.press("escape", "a")
        await at_rest(pilot)
        assert bench(app).sheet.at == ("front", "left", "spring", "free_length_mm")  # from the rate, missing too
        await pilot.press("f7")
        await at_rest(pilot)
        assert "both need free length" in shown(app)
        await typed(pilot, "250")
        await at_rest(pilot)
        assert "left needs set length" in shown(app)
        assert "right needs free length" in shown(app)


async def test_a_value_out_of_its_limits_is_refused_with_its_reason_in_view(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "rear")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        bench(app).sheet.go(("rear", "motion_ratio"))
        await typed(pilot, "2.1")
        await pilot.press("enter")
        await at_rest(pilot)
        text = " ".join(shown(app).split())
        assert "2.1 is outside 0.1 to 2" in text
        assert "0.476" in text
        assert on_disk(app).rear.motion_ratio is None


async def test_nothing_missing_is_said(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "sag")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        assert "No figure needs another reading." in shown(app)


async def test_a_screen_that_has_all_it_needs_leads_on_to_the_next_that_waits(tmp_path: Path) -> None:
    whole = put(complete_job(), rear__spring__set_length_mm=None, weights__rear_alone_kg=None)
    job = put(whole, weights__machine_kg=None, weights__front_share_pct=None)
    app = app_on(tmp_path, job, "sag")
    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        await pilot.press("ctrl+p")
        await at_rest(pilot)
        await pilot.press("ctrl+a")  # from the prediction, which waits for both
        await at_rest(pilot)
        first = bench(app).sheet.at
        await pilot.press("f5")
        await at_rest(pilot)
        await pilot.press("escape", "a")
        await at_rest(pilot)
        assert {first, bench(app).sheet.at} <= {("rear", "spring", "set_length_mm"), ("weights", "rear_alone_kg")}
        assert "Nothing more is missing on this screen. Next:" in shown(app)
        await pilot.press("f2")
        await at_rest(pilot)
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        assert bench(app).sheet.at == ("weights", "rear_alone_kg")


async def test_a_long_text_is_left_by_a_second_enter_or_tab_and_shown_on_one_line(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "machine")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        app.jump(("job", "notes"))
        await at_rest(pilot)
        for key in "runs wide":  # typed faster than the room for it opens, the space too
            app.screen.focused.post_message(Key("space" if key == " " else key, key))  # type: ignore[union-attr]
        await at_rest(pilot)
        assert "Enter twice, Tab or Esc accepts the text" in " ".join(shown(app).replace("┃", "").split())
        await typed(pilot, "\nmid\n\n")
        await at_rest(pilot)
        assert bench(app).sheet.at == ("weights", "front_alone_kg")
        assert on_disk(app).job.notes == "runs wide\nmid"
        assert "runs wide / mid" in shown(app)
        await pilot.press("up", "enter")
        await at_rest(pilot)
        await typed(pilot, ", twice")
        await pilot.press("tab")
        await at_rest(pilot)
        assert on_disk(app).job.notes == "runs wide\nmid, twice"
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert on_disk(app).job.notes == "runs wide\nmid"
        assert "�" not in " ".join(messages(app))


async def test_help_begins_with_the_keys_and_figures_of_the_screen_it_is_asked_on(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "front")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        for name in SCREENS:
            await pilot.press(*next(key.keys for key in KEYS if key.id in (name, f"screen.{name}")).split(","))
            await at_rest(pilot)
            await pilot.press("f1")
            await at_rest(pilot)
            assert isinstance(app.screen, HelpScreen), name
            lines = [line.strip("┃ ▁▂▃▄▅▆▇█") for line in shown(app).splitlines()]
            parts = [part for part in PARTS if name in part.screens]
            assert parts, name
            titles = [part.title.upper() for part in PARTS if part.title.upper() in lines]
            assert titles[: len(parts)] == [part.title.upper() for part in parts][: len(titles)], name
            own = [key for key in KEYS if key.on == name]
            assert ("KEYS OF THIS SCREEN" in lines) == bool(own), name
            assert all(any(key.words in line for line in lines) for key in own), name
            await pilot.press("escape")
            await at_rest(pilot)


def test_the_help_fits_a_window_of_eighty_columns_and_has_a_part_for_every_screen() -> None:
    beside_frame_and_scroll_bar = 75
    assert (
        max(len(line) for part in (*PARTS, *GENERAL) for line in part.text.splitlines()) <= beside_frame_and_scroll_bar
    )
    explained = {screen for part in PARTS for screen in part.screens}
    assert set(SCREENS) <= explained
    assert {key.on for key in KEYS if key.on} <= explained


async def test_keys_that_come_faster_than_a_small_screen_goes_end_nothing(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job())
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        rates = app.workspace.units.rates
        await pilot.press("escape")
        await at_rest(pilot)
        strip = app.screen
        assert isinstance(strip, CommandStrip)
        for letter in "kgk":  # all in its queue before the first is taken
            strip.post_message(Key(letter, letter))
        await at_rest(pilot)
        assert bench(app).name_of == "front"
        assert app.workspace.units.rates != rates  # the first was taken, the others were nobody's
        await pilot.press("f1")
        await at_rest(pilot)
        helping = app.screen
        assert isinstance(helping, HelpScreen)
        for _ in range(3):
            helping.dismiss(None)
        await at_rest(pilot)
        assert bench(app).name_of == "front"
    assert app.return_code in (0, None)


async def test_a_new_job_with_an_unreadable_date_goes_back_to_it_and_says_why(tmp_path: Path) -> None:
    app = app_on(tmp_path)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("enter")
        await at_rest(pilot)
        await typed(pilot, "Grey Mule\n\n\nx\n")
        assert "Date: a day is typed as" in shown(app)
        assert app.screen.query_one(".dialog").size.height < 14  # no taller than its fields
        await pilot.press("enter")
        await at_rest(pilot)
        screen = app.screen
        assert isinstance(screen, NewJobScreen)
        assert screen.query_one(FormSheet).at == ("job", "date")
        await typed(pilot, "1.6.2026\n")
        await at_rest(pilot)
        assert "Space changes it" in shown(app)
        await pilot.press("enter")
        await at_rest(pilot)
        assert on_disk(app).job.date.isoformat() == "2026-06-01"


async def test_a_message_said_again_stands_where_it_stood(tmp_path: Path) -> None:
    """It does not move down over the sheet, a line for every time it was said."""
    app = app_on(tmp_path, a_job(), "machine")

    def says(words: str) -> bool:
        return words in shown(app)

    async with app.run_test(size=USUAL, notifications=True) as pilot:
        await at_rest(pilot)
        for words in ("not read: 14 kg.", "not read: 15 kg.", "not read: 16 kg."):
            app.say(words, "unread")
            await eventually(pilot, partial(says, words), lambda: shown(app))
            await at_rest(pilot)
            lines = shown(app).split("\n")
            assert [at for at, line in enumerate(lines) if "not read:" in line] == [0]
