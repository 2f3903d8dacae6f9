"""Choosing springs and keeping the stock of springs, by keys alone."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

from air_jobs import air_job
from complete_job import complete_job
from driving import USUAL, WIDE, a_job, app_on, bench, on_disk, shown, typed, workspace_in
from judgement_jobs import FULL, put, repeated, sag_end
from sheet_jobs import JOBS
from stanchion.job.model import End, Sag, SagEnd, Weights
from stanchion.job.spec import Progressive
from stanchion.judgement.springs.stock import Stock, StockSpring
from stanchion.planning.spring_choice import SpringChoice
from stanchion.store.samples import samples
from stanchion.ui.app import StanchionApp
from stanchion.ui.screens.springs import SpringsScreen
from stanchion.ui.screens.stock import StockScreen
from stanchion.ui.screens.trial import TrialScreen
from stanchion.ui.springs_lines import WITHOUT_TRIAL
from stanchion.ui.widgets.choices import Choices
from timing import at_rest


def springs_for(app: StanchionApp, end: End) -> SpringChoice:
    assert app.session is not None
    return app.workspace.spring_stock.choose(app.session, end)


async def test_springs_are_ranked_and_one_key_tries_them_beside_what_is_fitted(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert isinstance(app.screen, SpringsScreen)
        text = shown(app)
        assert re.search(
            r"\d to \d+\.\d\d N/mm each bring both into target; \d+\.\d\d is best with 11\.5 mm",
            " ".join(text.split()),
        )
        assert "bring both into target" in " ".join(text.split())
        assert "standard steps" in text
        assert "F7 stock" in text.splitlines()[-1]
        before = on_disk(app)
        choice = springs_for(app, "front")
        await pilot.press("enter")
        await at_rest(pilot)
        assert isinstance(app.screen, TrialScreen)
        assert app.trial is not None
        tried = app.trial.copy.job.front.left.spring.rate_n_per_mm
        assert tried == choice.options[0].fittings[0].spring.rate_n_per_mm
        assert on_disk(app) == before
        await pilot.press("f7")
        await at_rest(pilot)
        assert on_disk(app).front.left.spring.rate_n_per_mm == tried


async def test_where_no_rate_does_the_list_names_the_one_that_the_advice_asks_for(tmp_path: Path) -> None:
    job = put(FULL, sag__front=repeated(sag_end(10.0, 44.0)))
    app = app_on(tmp_path, job, "springs")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        text = " ".join(shown(app).split())
        assert "no rate brings both sags in" in text
        assert "about 11.25 N/mm each comes closest" in text
        assert next(iter(springs_for(app, "front").options)).mean_rate_n_per_mm == 11.25
        await pilot.press("f5")
        await at_rest(pilot)
        assert "11.25 N/mm" in " ".join(shown(app).split())


async def test_where_the_right_rate_lies_between_usual_steps_list_and_advice_name_the_same_one(tmp_path: Path) -> None:
    # Off-road, 4 mm of preload at least: static sag of 30 mm takes 33.5 N/mm or less, sags 80 mm apart 33.1 or more.
    job = put(
        FULL,
        job__use="off-road",
        rear__spring__rate_n_per_mm=40.0,
        rear__spring__set_length_mm=176.0,
        rear__collar__now=2.0 / 1.5,
        sag__tape_resolution_mm=0.1,
        sag__rear=repeated(sag_end(18.5, 84.7)),
    )
    app = app_on(tmp_path, job, "springs")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        await pilot.press("tab")
        await at_rest(pilot)
        text = " ".join(shown(app).split())
        assert "no usual step lies there, and about 32.50 N/mm comes closest" in text
        assert "sags stay out of target" in text
        await pilot.press("f5")
        await at_rest(pilot)
        assert "32.50 N/mm" in " ".join(shown(app).split())


async def test_the_springs_fitted_now_are_shown_as_they_stand(tmp_path: Path) -> None:
    workspace = workspace_in(tmp_path)
    workspace.create_from(next(one.data for one in samples() if one.name == "soft_springs"))
    workspace.remember("springs")
    workspace.close()
    app = StanchionApp(workspace_in(tmp_path))
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        [now] = [line.split() for line in shown(app).splitlines() if " now " in line]
        assert app.session is not None
        assert "preload over the limit" in " ".join(now)
        assert float(now[7]) == 20.0  # rate ×2 now static rider turns, to in, installed: as it stands


async def test_the_stock_is_typed_in_kept_and_used(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        assert isinstance(app.screen, StockScreen)
        await pilot.press("tab")
        for value in ("9", "250", "2"):
            await typed(pilot, value)
            await pilot.press("tab")
        await pilot.press("escape")
        await at_rest(pilot)
        assert "springs in stock" in shown(app)
        assert "9.00" in shown(app)
    again = workspace_in(tmp_path)
    assert [(row.rate_n_per_mm, row.free_length_mm, row.count) for row in again.spring_stock.session.stock.rows] == [
        (9, 250, 2)
    ]


async def test_springs_that_are_fitted_leave_the_van_and_those_taken_out_go_into_it(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    row = StockSpring(rate_n_per_mm=9.0, free_length_mm=250.0, count=3, solid_length_mm=100.0)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        van, session = app.workspace.spring_stock.session, app.session
        assert session is not None
        van.exchange(Stock((row,)))
        full, job = van.stock, session.job
        old = job.front.left.spring
        [option] = [one for one in springs_for(app, "front").options if one.used == (0, 0)]
        assert isinstance(app.screen, SpringsScreen)
        app.screen.try_springs(option)
        await at_rest(pilot)
        assert van.stock == full  # a trial takes nothing
        await pilot.press("f7")
        await at_rest(pilot)
        assert session.job.front.left.spring.rate_n_per_mm == 9.0
        assert [(one.rate_n_per_mm, one.free_length_mm, one.count) for one in van.stock.rows] == [
            (9.0, 250.0, 1),
            (old.rate_n_per_mm, old.free_length_mm, 2),
        ]
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert (session.job, van.stock) == (job, full)
        await pilot.press("ctrl+y")
        await at_rest(pilot)
        assert [one.count for one in van.stock.rows] == [1, 2]
    assert [one.count for one in workspace_in(tmp_path).spring_stock.session.stock.rows] == [1, 2]


async def test_springs_tried_before_the_job_was_left_leave_the_van_once_they_are_fitted(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    row = StockSpring(rate_n_per_mm=9.0, free_length_mm=250.0, count=3, solid_length_mm=100.0)
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        workspace, van = app.workspace, app.workspace.spring_stock.session
        van.exchange(Stock((row,)))
        [option] = [one for one in springs_for(app, "front").options if one.used == (0, 0)]
        assert isinstance(app.screen, SpringsScreen)
        app.screen.try_springs(option)
        await at_rest(pilot)
        name = workspace.open_name
        workspace.create(complete_job())
        assert not workspace.trial_in_hand
        workspace.open(name)
        app.refresh_screens()
        await at_rest(pilot)
        assert workspace.trial_in_hand
        await pilot.press("f7")
        await at_rest(pilot)
        assert app.session is not None
        assert app.session.job.front.left.spring.rate_n_per_mm == 9.0
        assert [one.count for one in van.stock.rows] == [1, 2]


async def test_a_spring_taken_away_comes_back_with_undo_and_the_job_is_not_touched(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        before = on_disk(app)
        await pilot.press("f7")
        await at_rest(pilot)
        await pilot.press("tab")
        await typed(pilot, "9.25")
        await pilot.press("tab", "f8")
        assert "9.25" not in shown(app)
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert "9.25" in shown(app)
        await pilot.press("escape")
        assert on_disk(app) == before


async def test_a_field_of_the_stock_is_told_with_its_unit_and_what_was_undone_is_no_longer_told(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        text = shown(app)
        assert all(head in text for head in ("N/mm", "free mm", "wire mm", "coil mm"))
        assert "Spring 1, for the fork or the shock: front · Space changes it" in text
        await pilot.press("tab")
        await typed(pilot, "9.5")
        await pilot.press("tab")
        await typed(pilot, "2")
        await at_rest(pilot)
        assert "Spring 1, free length: 2 mm is outside" in shown(app)
        await pilot.press("ctrl+z")
        await at_rest(pilot)
        assert "outside" not in shown(app)
        await pilot.press("shift+tab")
        await at_rest(pilot)
        assert "Spring 1, rate: 9.50 N/mm" in shown(app)
        await typed(pilot, "0.95")  # kg/mm, typed as N/mm: usual is 4 to 12 (common practice, no published source)
        await at_rest(pilot)
        assert "outside the usual 4–12 N/mm: check the number and the unit; 0.95 kg/mm would be 9.32 N/mm" in " ".join(
            shown(app).split()
        )


async def test_a_count_that_is_not_whole_is_refused_with_the_reason(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        await pilot.press("tab", "tab", "tab")
        await typed(pilot, "1.5")
        await at_rest(pilot)
        assert "whole number" in shown(app)


async def test_the_other_end_is_a_key_away(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "FRONT: " in shown(app)
        await pilot.press("tab")
        await at_rest(pilot)
        assert "REAR: " in shown(app)
        before = on_disk(app)
        choice = springs_for(app, "rear")
        await pilot.press("down", "enter")
        await at_rest(pilot)
        assert app.trial is not None
        assert app.trial.copy.job.rear.spring.rate_n_per_mm == choice.options[1].fittings[0].spring.rate_n_per_mm
        assert on_disk(app) == before


async def test_without_loads_it_says_what_the_choice_waits_for_and_offers_nothing_to_fit(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "no rate can be worked out: needs" in " ".join(shown(app).split())
        assert "static rider" not in shown(app)  # no heads over nothing
        before = on_disk(app)
        await pilot.press("enter", "tab", "enter")
        await at_rest(pilot)
        assert on_disk(app) == before
        assert isinstance(app.screen, SpringsScreen | TrialScreen)


async def test_a_choice_that_rests_on_estimated_loads_and_no_sag_says_so(tmp_path: Path) -> None:
    job = replace(complete_job(), sag=Sag())
    masses = replace(Weights(), machine_kg=180.0, front_share_pct=51.0, rider_front_share_pct=47.0)
    masses = replace(masses, front_unsprung_kg=14.0, rear_unsprung_kg=17.0)
    app = app_on(tmp_path, put(replace(job, weights=masses), job__rider_mass_kg=78.0), "springs")
    async with app.run_test(size=WIDE) as pilot:
        await at_rest(pilot)
        assert "Rests on estimated loads." in " ".join(shown(app).split())
        await pilot.press("ctrl+p")
        await at_rest(pilot)
        assert "loads are estimated from mass and share" in " ".join(shown(app).split())


async def test_no_spring_is_taken_away_where_there_is_none(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        await pilot.press("f7")
        await at_rest(pilot)
        await pilot.press("f8")
        assert isinstance(app.screen, StockScreen)
        assert app.workspace.spring_stock.session.stock.rows == ()


async def test_no_name_is_cut_and_unlike_legs_show_both_preloads(tmp_path: Path) -> None:
    """At 80 columns the mark of a progressive pair, and the preload of the right leg, were not shown."""
    for name, rate, row in (
        ("soft_springs", Progressive(8.5, 10.5), r"8\.50–10\.50 ×2 now "),
        ("mismatched_lengths", 9.5, r" 9\.50 ×2 now .* 12\.0/7\.0 "),
    ):
        job = put(JOBS[name], front__left__spring__rate_n_per_mm=rate)
        if name == "soft_springs":  # its sags were measured with its own springs
            job = put(job, sag__front=SagEnd())
        app = app_on(tmp_path / name, job, "springs")
        async with app.run_test(size=USUAL) as pilot:
            await at_rest(pilot)
            assert re.search(row, shown(app)), shown(app)
            listed = "".join(str(option.prompt) for option in app.screen.query_one(Choices).options)
            assert "…" not in listed
            if name == "mismatched_lengths":
                fitting = " ".join(shown(app).split())
                assert re.search(r"left: free 250\.0 mm, .* mm; right: free 245\.0 mm, .* mm", fitting), fitting


async def test_the_head_names_no_rate_outside_its_window(tmp_path: Path) -> None:
    """15.16 N/mm by the difference of both sags stood beside a window of 8.14 to 13.94, and read as a second answer."""
    app = app_on(tmp_path, JOBS["soft_springs"], "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        choice, text = springs_for(app, "front"), " ".join(shown(app).split())
        window, other = choice.window_n_per_mm, choice.by_two_sags_n_per_mm.value
        assert window is not None
        assert other is not None
        assert other > window[1]
        assert "By the difference" not in text
        mid_mm = choice.options[0].mid.static_mm.value
        target = app.session.assessment.sag.front.static.target if app.session else None
        assert mid_mm is not None
        assert target is not None
        assert ("adjuster at mid" in text) == (mid_mm >= target[0])


async def test_an_end_sprung_by_air_shows_the_pressure_to_set_in_place_of_springs(tmp_path: Path) -> None:
    app = app_on(tmp_path, air_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        text = " ".join(shown(app).split())
        assert "FRONT: sprung by air, so there is no spring to choose. F3 has its pressure; ^P says what" in text
        assert "static rider" not in text  # heads of columns with nothing below them
        assert text.count("Set 9.30 bar (now 8.30 bar)") == 1  # as a warning, or else in place of the list


async def test_the_reading_that_the_choice_waits_for_is_one_key_away(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert "no rate can be worked out" in shown(app)
        assert "^A missing" in shown(app)
        await pilot.press("ctrl+a")
        await at_rest(pilot)
        assert bench(app).sheet.at == ("weights", "front_alone_kg")


async def test_the_list_says_that_it_leaves_out_what_is_on_trial(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job(), "springs")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        assert WITHOUT_TRIAL not in shown(app)
        assert app.trial is not None
        app.trial.copy.put(("front", "left", "adjuster", "now"), 1.0)
        app.refresh_screens()
        await at_rest(pilot)
        assert WITHOUT_TRIAL in shown(app)
        app.trial.drop()
        app.refresh_screens()
        await at_rest(pilot)
        assert WITHOUT_TRIAL not in shown(app)
