"""A caution is never cut, and never the weakest text on the screen."""

from __future__ import annotations

from pathlib import Path

import pytest

from complete_job import complete_job
from driving import USUAL, all_taken, app_on, shown
from judgement_jobs import FULL, put, repeated, sag_end
from stanchion.judgement.criteria.cautions import CAUTIONS
from stanchion.judgement.results.codes import Caution
from stanchion.ui.present import caution_lines
from stanchion.ui.screens.job_screen import CAUTIONS_OF_WORK
from stanchion.wording.finding_words import caution
from timing import at_rest


@pytest.mark.parametrize("code", CAUTIONS)
def test_the_first_is_whole_however_little_room_there_is(code: Caution) -> None:
    for width in (40, 58, 78, 118):
        lines = caution_lines([code, *CAUTIONS], width, 1)
        words = " ".join(line.plain.strip() for line in lines)
        assert words in {f"CAUTION {caution(code, brief=brief)}" for brief in (False, True)}, width
        assert all(line.cell_length <= width for line in lines), width
        assert not any("muted" in str(span.style) for line in lines for span in line.spans), width


def test_at_eighty_columns_one_line_is_enough() -> None:
    assert {code: len(caution_lines([code], 78, 1)) for code in CAUTIONS} == dict.fromkeys(CAUTIONS, 1)


def test_of_more_only_those_that_are_whole() -> None:
    lines = caution_lines(CAUTIONS, 50, 5)
    words = "\n".join(line.plain for line in lines).replace("\n  ", " ").split("\n")
    whole = {f"CAUTION {caution(code, brief=brief)}" for code in CAUTIONS for brief in (False, True)}
    assert set(words) <= whole
    assert len(words) >= 2


def test_every_caution_belongs_to_the_work_of_some_screen() -> None:
    assert set(CAUTIONS_OF_WORK) == set(CAUTIONS)


async def test_what_an_advice_asks_for_stands_before_a_second_caution(tmp_path: Path) -> None:
    job = put(FULL, sag__front=repeated(sag_end(22.7, 47.3)))
    app = app_on(tmp_path, job, "sag")
    async with app.run_test(size=USUAL) as pilot:
        await at_rest(pilot)
        lines = shown(app).splitlines()
        at = next(at for at, line in enumerate(lines) if "WARNING Front sag: spring too soft" in line)
        assert "+" in lines[at]
        assert lines[at + 1].strip().startswith("Fit a stiffer one, about ")
        assert [line.strip()[:7] for line in lines if "CAUTION" in line] == ["CAUTION"]


async def test_each_screen_shows_the_cautions_of_its_own_work(tmp_path: Path) -> None:
    app = app_on(tmp_path, complete_job())
    async with app.run_test(size=USUAL) as pilot:
        for key, expected in (
            ("f3", "CAUTION Fork caps"),
            ("f4", "CAUTION Shock springs"),
            ("f5", "CAUTION Before taking weight off"),
            ("ctrl+p", "CAUTION The manual"),
            ("ctrl+l", "CAUTION Before riding"),
            ("ctrl+u", "CAUTION After work"),
        ):
            await pilot.press(key)
            await all_taken(app)
            cautions = [line for line in shown(app).splitlines() if "CAUTION" in line]
            assert [line.strip()[: len(expected)] for line in cautions] == [expected], key
