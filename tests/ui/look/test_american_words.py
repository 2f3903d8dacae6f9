"""American words on every screen, sheet and check: by one command, kept in the settings; what a person typed stays."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import get_args

import pytest
from textual.widgets import Static

from complete_job import complete_job
from driving import a_job, app_on, bench, said, shown, typed
from judgement_jobs import put
from stanchion.commands.command_line import run
from stanchion.job.codec import dumps
from stanchion.job.model import Job, Torque
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.judgement.results.codes import Caution
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_html import sheet_html
from stanchion.report.sheet_text import sheet_text
from stanchion.store.paths import Places
from stanchion.store.settings import load_settings
from stanchion.ui.keys import KEYS
from stanchion.wording.american import BRITISH, choose_wording
from stanchion.wording.caution_sentences import BRIEF
from stanchion.wording.finding_words import caution
from timing import at_rest

MACHINE, VENUE, NOTES, SAID = "Grey Stanchion 600", "Tyre Yard", "yoke bolts, mudguard off", "colour of the discs"
TYRE, TORQUE = "soft 120/70 tyre", "top yoke"
TALL = (120, 110)


@pytest.fixture(autouse=True)
def british_again() -> Iterator[None]:
    """The wording holds for the whole program: as it was, for the tests that follow."""
    yield
    choose_wording("british")


def british_in(text: str) -> list[str]:
    """The British words in a text, but for those a person typed and the program's name."""
    for typed_text in (
        MACHINE,
        "Grey Stanchion",
        "grey-stanchion",
        VENUE,
        NOTES,
        SAID,
        TYRE,
        TORQUE,
    ):  # also as a list cuts it
        text = re.sub(re.escape(typed_text), "", text, flags=re.IGNORECASE)
    return [match[0] for match in BRITISH.finditer(re.sub(r"(?i)stanchion(?= \d| \w+ --|:)", "", text))]


def a_full_job() -> Job:
    job = put(complete_job(), job__machine=MACHINE, job__venue=VENUE, job__notes=NOTES)
    return replace(
        job,
        runs=tuple(replace(one, said=SAID) for one in job.runs),
        upkeep=replace(job.upkeep, front_tyre=TYRE, torques=(Torque(what=TORQUE, torque_nm=22.0),)),
    )


async def test_every_screen_speaks_american_and_leaves_what_was_typed(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_full_job(), "machine")
    async with app.run_test(size=TALL) as pilot:
        await at_rest(pilot)
        assert "Front tyre radius" in shown(app)
        await pilot.press("escape")
        await typed(pilot, "9")
        assert "Trade words in American English." in said(app)
        await pilot.press("up")
        await at_rest(pilot)
        assert "Front tire radius" in shown(app)
        seen = ""
        for key in KEYS:
            if key.id.startswith("screen.") or key.id == "jobs":
                await pilot.press(key.keys)
                await at_rest(pilot)
                seen += shown(app)
                if key.on == "" and key.id != "screen.warnings":
                    await pilot.press("escape")
                    await at_rest(pilot)
                    seen += shown(app)
                await pilot.press("escape")
                await at_rest(pilot)
        assert not british_in(seen)
        for text in (MACHINE, VENUE, NOTES, SAID, TYRE, TORQUE, "tire", "Fork tube", "Colors"):
            assert text in seen, text
        await pilot.press("f3", "f1")
        await at_rest(pilot)
        whole = str(app.screen.query_one("#help-text", Static).render())
        assert not british_in(whole)
        assert app.workspace.places.config.joinpath("config.toml").exists()
    settings = load_settings(Places(tmp_path / "jobs", tmp_path / "config", tmp_path / "state", tmp_path / "cache"))
    assert settings.settings.wording == "us"
    assert not settings.problems


async def test_help_finds_terms_by_their_american_and_other_names(tmp_path: Path) -> None:
    app = app_on(tmp_path, a_job(), "front")
    async with app.run_test(size=(80, 24)) as pilot:
        await at_rest(pilot)
        await pilot.press("f1")
        await at_rest(pilot)
        for word, found in (
            ("race sag", "Rider sag: "),
            ("laden", "Rider sag: "),
            ("free sag", "Static sag: "),
            ("unladen", "Static sag: "),
            ("triple clamp", "Yokes: "),
            ("fork tube", "stanchion"),
            ("tire", "tyre"),
            ("xyz", "Nothing has these words"),
        ):
            await typed(pilot, word)
            await at_rest(pilot)
            assert found in shown(app), word
            assert f"Help on: {word}" in shown(app)
            await pilot.press(*["backspace"] * len(word))
        await at_rest(pilot)
        assert "KEYS OF THIS SCREEN" in shown(app)
        await pilot.press("escape")
        await at_rest(pilot)
        assert bench(app).name_of == "front"


def test_sheet_check_and_work_list_speak_american() -> None:
    job = a_full_job()
    assessment = assess(job, load_profiles())
    keys = str(_keys(as_json("x", job, assessment)))
    choose_wording("us")
    texts = [as_text("x", job, assessment), sheet_text(make_sheet(job, assessment))]
    texts.append(re.sub(r"<style>.*?</style>", "", sheet_html(make_sheet(job, assessment)), flags=re.DOTALL))
    for text in texts:
        assert not british_in(text)
    assert MACHINE in texts[1]
    assert "top triple" in texts[1]
    assert "top yoke" in texts[1]
    assert str(_keys(as_json("x", job, assessment))) == keys
    assert not [
        code for code in get_args(Caution) if british_in(caution(code)) or british_in(caution(code, brief=True))
    ]
    assert all(len(caution(code, brief=True)) <= 70 for code in BRIEF)


def _keys(data: object) -> object:
    if isinstance(data, dict):
        return {key: _keys(value) for key, value in data.items()}
    return [_keys(one) for one in data] if isinstance(data, list) else None


def test_a_verb_speaks_american_where_asked_and_as_the_settings_say(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("STANCHION_HOME", str(tmp_path))
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs" / "one.toml").write_bytes(dumps(a_full_job()))
    run(["sheet", "one.toml"])
    assert "top yoke" in capsys.readouterr().out
    run(["sheet", "one.toml", "--us"])
    assert "top triple" in capsys.readouterr().out
    (tmp_path / "config").mkdir(exist_ok=True)
    (tmp_path / "config" / "config.toml").write_text('wording = "us"\n')
    run(["sheet", "one.toml"])
    assert "top triple" in capsys.readouterr().out
