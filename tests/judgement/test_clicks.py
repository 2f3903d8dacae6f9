"""A preload adjuster counted in clicks: all figures are those of one counted in turns, and clicks are what is shown."""

from __future__ import annotations

import json
from typing import Any

import pytest

from judgement_jobs import FULL, PROFILES, put, repeated, sag_end, split
from stanchion.job.diff import Difference
from stanchion.job.model import Adjuster, Job, Run
from stanchion.job.returning import setup_of
from stanchion.judgement.assess import assess
from stanchion.judgement.results.assessment import Assessment, PreloadFigures
from stanchion.judgement.work.work_list import work_between
from stanchion.planning.whatif import compare
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.report.export import export_csv
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_text import sheet_text
from stanchion.wording.changes import changes_in_words
from stanchion.wording.finding_words import sentence
from stanchion.wording.work_sentences import item_words

TURNS = {"total_turns": 16.0, "pitch_mm": 0.5, "now": 4.0}
CLICKS = {"total_clicks": 16.0, "click_mm": 0.5, "now": 4.0}
TOO_DEEP = put(FULL, sag__front=repeated(sag_end(24.0, 40.5)), sag__rear=repeated(sag_end(9.0, 31.0)))


def adjusted(job: Job, counting: str, **values: float | None) -> Job:
    """The job with both ends' adjusters counted so."""
    of = Adjuster(counting=counting, **values)
    return put(job, front__left__adjuster=of, rear__collar=of)


def figures(of: Assessment) -> tuple[PreloadFigures, PreloadFigures]:
    return of.front.left, of.rear.spring


@pytest.mark.parametrize("left_out", [(), ("total",), ("step",), ("now",), ("total", "step")])
@pytest.mark.parametrize("job", [FULL, split(FULL), TOO_DEEP, put(FULL, front__left__spring__set_length_at=2.0)])
def test_clicks_give_what_as_many_turns_give(job: Job, left_out: tuple[str, ...]) -> None:
    def values(of: dict[str, float], total: str, step: str) -> dict[str, float | None]:
        names = {"total": total, "step": step, "now": "now"}
        return {**of, **dict.fromkeys([names[one] for one in left_out])}

    turns = assess(adjusted(job, "turns", **values(TURNS, "total_turns", "pitch_mm")), PROFILES)
    clicks = assess(adjusted(job, "clicks", **values(CLICKS, "total_clicks", "click_mm")), PROFILES)
    for one, other in zip(figures(turns), figures(clicks), strict=True):
        assert other.turned_in == "clicks"
        for name in ("installed_preload_mm", "preload_now_mm", "mm_per_turn", "headroom_in_turns", "headroom_out_mm"):
            assert getattr(one, name).value == getattr(other, name).value, name
    assert [one.code for one in turns.findings] == [one.code for one in clicks.findings]


def test_advice_and_headroom_are_said_in_whole_clicks() -> None:
    job = adjusted(TOO_DEEP, "clicks", total_clicks=40.0, click_mm=0.2, now=4.0)
    a = assess(job, PROFILES)
    words = " ".join(sentence(one) for one in a.findings)
    assert "Add 6.2 mm of preload (31 clicks in)" in words
    assert "turn" not in words.replace("turn the adjuster", "")
    advice = a.sag.front.advice
    assert advice is not None
    turns = advice.values["turns"]
    assert isinstance(turns, float)
    assert turns == pytest.approx(round(turns), abs=1e-6)  # and the mm beside it are those of whole clicks
    text = as_text("one.toml", job, a)
    assert "36 clicks" in text
    assert "One click" in text
    sheet = sheet_text(make_sheet(job, a))
    assert "4 of 40 clicks" in sheet
    assert "36 clicks" in sheet


def test_near_its_end_and_contradicting_lengths_are_said_in_clicks() -> None:
    near = adjusted(FULL, "clicks", total_clicks=16.0, click_mm=0.5, now=15.5)
    assert "has only 0.5 clicks left towards more preload" in " ".join(map(sentence, assess(near, PROFILES).findings))
    wrong = adjusted(FULL, "clicks", total_clicks=16.0, click_mm=1.0, now=4.0)
    found = [one for one in assess(wrong, PROFILES).findings if one.code == "pitch_disagrees"]
    assert [one.where[-1] for one in found] == ["click_mm"]
    assert "by clicks" in sentence(found[0])
    far = adjusted(FULL, "clicks", total_clicks=400.0, click_mm=1.0)
    assert any("all clicks together" in sentence(one) for one in assess(far, PROFILES).findings)


def test_json_and_csv_keep_turns_and_clicks_apart() -> None:
    job = adjusted(FULL, "clicks", **CLICKS)
    a = assess(job, PROFILES)
    found: Any = json.loads(json.dumps(as_json("one.toml", job, a)))
    assert found["rear"]["headroom_in_turns"] is None
    assert found["rear"]["headroom_in_clicks"] == 12.0
    assert found["missing"]["rear.headroom_in_turns"] == "counted in clicks"
    head, row = (line.split(",") for line in export_csv([("one.toml", job, a)]).splitlines())
    cells = dict(zip(head, row, strict=True))
    assert (cells["derived.rear.headroom_in_turns"], cells["derived.rear.headroom_in_clicks"]) == ("", "12")


def test_changes_and_the_way_back_are_counted_in_clicks() -> None:
    job = adjusted(FULL, "clicks", **CLICKS)
    back = put(job, rear__collar__now=7.0)
    change = Difference(("rear", "collar", "now"), 4.0, 7.0)
    assert changes_in_words([change], back) == ("Shock preload 3 clicks in",)
    items = [one for one in work_between(setup_of(job), setup_of(back)).items if one.kind == "collar"]
    assert [item_words(one) for one in items] == ["Shock preload: 3 clicks in (from 4 to 7 clicks)"]
    too_far = put(job, rear__collar__now=20.0)
    items = [one for one in work_between(setup_of(job), setup_of(too_far)).items if one.kind == "collar"]
    assert [(one.problem, one.values["missing_mm"]) for one in items] == [("beyond_range", 2.0)]
    in_turns = put(job, rear__collar=Adjuster(counting="turns", total_turns=8.0, now=4.0))
    items = [one for one in work_between(setup_of(job), setup_of(in_turns)).items if one.kind == "collar"]
    assert [one.changes[-1].new for one in items] == [8.0]  # by its share of the range, in whole clicks


def test_a_trial_shows_what_is_left_in_clicks() -> None:
    job = adjusted(put(FULL, runs=(Run(front=FULL.front),)), "clicks", **CLICKS)
    after = put(job, rear__collar__now=6.0)
    rows = {(row.where, row.code): row for row in compare(job, after, PROFILES).rows}
    row = rows[("rear",), "headroom_in_clicks"]
    assert (row.present.value, row.changed.value) == (12.0, 10.0)
