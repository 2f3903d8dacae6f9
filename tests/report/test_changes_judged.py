"""A change to be judged by riding is told whole on the sheet, in `check` and in its JSON: what, what for, the verdict."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from judgement_jobs import FULL, judged, put
from sheet_jobs import sheet
from stanchion.job.change import ChangeToRide, ExpectedEffect, Move
from stanchion.job.complaint import Complaint
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job, Run
from stanchion.job.proof import with_change
from stanchion.job.runs import new_run
from stanchion.planning.ridden_changes import logged
from stanchion.report.changes_judged import NO_VERDICT, TITLE, changes_judged
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.report.sheet_html import sheet_html
from stanchion.report.sheet_shape import Section
from stanchion.report.sheet_text import sheet_text
from stanchion.wording.finding_words import sentence

NOON = dt.datetime(2026, 5, 31, 12, 0)
WIDE = Complaint(where="exit", what="runs_wide")
TWO_OUT = ChangeToRide(
    complaints=(WIDE,),
    moves=(Move(path="rear.rebound.now", was="10.0", becomes="12.0"),),
    expected=ExpectedEffect(rear_rider_mm=31.0),
)
START = put(FULL, rear__rebound__now=10.0, front__left__rebound__now=9.0)
FIRST = replace(START, runs=(Run(time="11:00", complaints=(WIDE,), front=START.front, rear=START.rear),))
TOLD = (
    "Shock rebound 10 → 12 clicks from closed (2 clicks out). For: runs wide, corner exit. "
    "Expected: rear rider sag 31.0 mm. "
)


def made() -> Job:
    return put(replace(FIRST, changes=with_change(FIRST, TWO_OUT, NOON)), rear__rebound__now=12.0)


def ridden(job: Job) -> Job:
    for edit in logged(job, new_run(job, "12:40", NOON.date()), NOON):
        job = apply(job, edit)
    return job


def better() -> Job:
    return apply(ridden(made()), Edit(("runs", 1, "verdict"), "better"))


def test_each_state_of_a_change_has_one_line_until_it_has_its_verdict() -> None:
    listed = replace(FIRST, changes=(TWO_OUT,))
    assert list(changes_judged(listed)) == [("To be made:", TOLD.strip())]
    assert list(changes_judged(made())) == [("To be ridden:", f"{TOLD}Made 2026-05-31 12:00.")]
    assert list(changes_judged(ridden(made()))) == [("Run 2:", f"{TOLD}{NO_VERDICT[0].upper()}{NO_VERDICT[1:]}.")]
    assert list(changes_judged(better())) == [("Run 2:", f"{TOLD}Better than the run before.")]
    assert list(changes_judged(FIRST)) == []


def test_a_position_turned_by_hand_has_its_line_with_its_verdict() -> None:
    by_hand = ridden(put(FIRST, rear__rebound__now=12.0))
    changed = "Shock rebound 10 → 12 clicks from closed (2 clicks out). "
    assert [words for _, words in changes_judged(by_hand)] == [f"{changed}{NO_VERDICT[0].upper()}{NO_VERDICT[1:]}."]
    worse = apply(by_hand, Edit(("runs", 1, "verdict"), "worse"))
    assert list(changes_judged(worse)) == [("Run 2:", f"{changed}Worse than the run before.")]


def test_sheet_and_check_tell_the_same_lines() -> None:
    for job in (made(), ridden(made()), better()):
        ((head, words),) = changes_judged(job)
        (section,) = [part for part in sheet(job).parts if isinstance(part, Section) and part.title == TITLE]
        assert [(line.word, line.text) for line in section.lines] == [(head, words)]
        assert words in sheet_html(sheet(job)).replace("\N{NO-BREAK SPACE}", " ")
        assert words.split(". ")[0] in " ".join(sheet_text(sheet(job)).split())
        assert f"  {head} {words}" in as_text("a.toml", job, judged(job)).split("\n")
    assert TITLE not in as_text("a.toml", FIRST, judged(FIRST))


def test_the_three_warnings_stand_on_the_sheet_and_in_check() -> None:
    two = put(made(), front__left__rebound__now=11.0)
    again = put(ridden(made()), front__left__rebound__now=11.0)
    for job, code in (
        (two, "changed_together"),
        (ridden(two), "ridden_together"),
        (again, "changed_before_verdict"),
    ):
        (found,) = [one for one in judged(job).findings if one.code == code]
        assert sentence(found) in " ".join(sheet_text(sheet(job)).split())
        assert sentence(found) in " ".join(as_text("a.toml", job, judged(job)).split())


def test_the_json_has_the_change_before_it_is_ridden_and_with_its_run_after() -> None:
    data = as_json("a.toml", made(), judged(made()))
    (waiting,) = data["changes"]
    assert (waiting["made_on"], waiting["made_at"]) == ("2026-05-31", "12:00")
    assert waiting["complaints"] == [{"where": "exit", "what": "runs_wide"}]
    assert waiting["moves"] == [{"path": "rear.rebound.now", "was": "10.0", "becomes": "12.0"}]
    assert waiting["expected"]["rear_rider_mm"] == 31.0
    assert "changes.0.expected.trail_mm" in data["missing"]
    data = as_json("a.toml", better(), judged(better()))
    assert data["changes"] == []
    assert (data["runs"][1]["verdict"], data["runs"][1]["change"]["expected"]["rear_rider_mm"]) == ("better", 31.0)


def test_a_change_edited_by_hand_into_nonsense_is_told_as_none() -> None:
    for path in ("rear.no_such", "front.left", "runs.9.best_lap_s", "rear.linkage.pairs.4.wheel_mm", "changes"):
        odd = ChangeToRide(moves=(Move(path=path, was="1.0", becomes="2.0"),))
        job = replace(FIRST, changes=(replace(odd, made_on=NOON.date()), odd))
        assert all(words for _, words in changes_judged(job)), path
        as_json("a.toml", job, judged(job))
