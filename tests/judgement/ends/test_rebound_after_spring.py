"""Another spring went in and rebound stayed: said once, with the way to turn, until it is turned or confirmed."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

import make_samples
from judgement_jobs import PROFILES, put
from stanchion.job.carry import carried
from stanchion.job.codec import dumps, loads
from stanchion.job.model import AsFound, Damping, Job, Run
from stanchion.job.spec import Progressive
from stanchion.judgement.assess import assess
from stanchion.judgement.ends.rebound_after_spring import had_other_springs
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.wording.finding_words import sentence

BEFORE = make_samples.well_set()  # 9.5 N/mm with rebound 10 out in the fork, 80 N/mm with 12 out at the shock
CODES = ("rebound_for_stiffer", "rebound_for_softer", "rebound_out_for_stiffer", "rebound_in_for_softer")


def job(**changes: object) -> Job:
    return put(carried(BEFORE, "a.toml", dt.date(2026, 5, 17)), **changes)


def findings(now: Job, previous: Job | None = BEFORE) -> list[Finding]:
    return [one for one in assess(now, PROFILES, previous).findings if one.code in CODES]


def only(now: Job, previous: Job | None = BEFORE) -> Finding:
    (found,) = findings(now, previous)
    return found


def test_the_same_springs_say_nothing() -> None:
    assert findings(job()) == []
    assert findings(BEFORE, None) == []


def test_a_stiffer_fork_spring_wants_rebound_turned_in() -> None:
    found = only(job(front__left__spring__rate_n_per_mm=12.0))
    assert (found.code, found.severity) == ("rebound_for_stiffer", Severity.WARNING)  # sqrt(12 / 9.5) = 1.124
    assert found.where == ("front", "left", "rebound", "now")
    assert sentence(found) == (
        "Fork, both legs: 12.00 N/mm is fitted, in the job before 9.50 N/mm; rebound still stands 10 clicks out. The "
        "stiffer spring wants more rebound damping. Turn rebound in; Damping says by how much. If rebound is right as it "
        "stands, confirm it there."
    )


def test_a_softer_shock_spring_wants_it_turned_out() -> None:
    found = only(job(rear__spring__rate_n_per_mm=70.0))
    assert (found.code, found.severity, found.where[0]) == ("rebound_for_softer", Severity.NOTE, "rear")
    assert "wants less rebound damping. Turn rebound out" in sentence(found)  # sqrt(70 / 80) = 0.935


@pytest.mark.parametrize(
    ("rate", "severity"),
    [(84.0, None), (88.1, None), (88.3, Severity.NOTE), (96.7, Severity.NOTE), (96.9, Severity.WARNING)],
)
def test_from_five_per_cent_it_is_a_note_and_from_ten_a_warning(rate: float, severity: Severity | None) -> None:
    found = findings(job(rear__spring__rate_n_per_mm=rate))  # 80 x 1.05² = 88.2, 80 x 1.1² = 96.8
    assert [one.severity for one in found] == ([] if severity is None else [severity])


def test_it_goes_once_rebound_is_turned_or_confirmed_or_the_spring_is_back() -> None:
    stiffer = job(front__left__spring__rate_n_per_mm=12.0)
    assert findings(put(stiffer, front__left__rebound__now=8.0)) == []
    confirmed = replace(stiffer, damping=Damping(front_rates_n_per_mm=(12.0, 12.0)))
    assert findings(confirmed) == []
    assert findings(put(confirmed, front__left__spring__rate_n_per_mm=11.0)) != []
    assert findings(put(stiffer, front__left__spring__rate_n_per_mm=9.5)) == []


def test_rebound_turned_the_wrong_way_still_warns_and_says_which_way() -> None:
    stiffer = job(front__left__spring__rate_n_per_mm=12.0, front__left__rebound__now=14.0)
    found = only(stiffer)
    assert (found.code, found.severity) == ("rebound_out_for_stiffer", Severity.WARNING)
    assert "rebound was turned out, the wrong way, to 14 clicks out. The stiffer spring wants more" in (sentence(found))
    softer = only(job(rear__spring__rate_n_per_mm=70.0, rear__rebound__now=10.0))
    assert softer.code == "rebound_in_for_softer"
    assert "turned in, the wrong way, to 10 clicks out" in sentence(softer)
    assert "Turn rebound out" in sentence(softer)
    ridden = replace(stiffer, runs=(Run(front=put(stiffer, front__left__rebound__now=10.0).front, rear=BEFORE.rear),))
    assert only(ridden).code == "rebound_out_for_stiffer"  # turned out from where it stood with the spring before
    confirmed = replace(stiffer, damping=Damping(front_rates_n_per_mm=(12.0, 12.0)))
    assert findings(confirmed) == []


def test_other_springs_to_compare_with_are_known_or_not() -> None:
    assert not had_other_springs(BEFORE, None)
    assert not had_other_springs(job(), BEFORE)
    assert had_other_springs(job(front__left__spring__rate_n_per_mm=12.0, front__left__rebound__now=8.0), BEFORE)


def test_the_latest_settings_with_another_spring_count() -> None:
    stiffer = job(front__left__spring__rate_n_per_mm=12.0)
    run = Run(front=put(BEFORE, front__left__rebound__now=12.0).front, rear=BEFORE.rear)
    assert findings(replace(stiffer, runs=(run,))) == []  # turned in since that run, whatever the job before had
    as_now = put(replace(stiffer, runs=(run,)), front__left__rebound__now=12.0)
    assert "in an earlier run 9.50 N/mm" in sentence(only(as_now))
    ridden = Run(front=stiffer.front, rear=stiffer.rear)
    assert only(replace(stiffer, runs=(ridden,))).code == "rebound_for_stiffer"  # ridden with, and never turned
    found = AsFound(on=dt.date(2026, 5, 17), front=BEFORE.front, rear=BEFORE.rear)
    assert "as found 9.50 N/mm" in sentence(only(replace(stiffer, found=found), None))


def test_at_its_end_it_says_so_instead_of_turn_it() -> None:
    closed = put(BEFORE, front__left__rebound__now=0.0)
    found = only(put(closed, front__left__spring__rate_n_per_mm=12.0), closed)
    assert (
        "Rebound is fully in: more takes work inside the damper; Damping says by how much. If rebound is right as"
        in sentence(found)
    )


def test_what_cannot_be_compared_says_nothing() -> None:
    for now in (
        job(front__left__spring__rate_n_per_mm=None),
        job(front__left__spring__rate_n_per_mm=12.0, front__left__rebound__now=None),
        job(front__left__spring__rate_n_per_mm=12.0, front__left__rebound__unit="turns"),
        job(rear__spring__rate_n_per_mm=100.0, rear__spring__second__arranged="end_to_end"),
    ):
        assert findings(now) == []


def test_progressive_springs_count_by_their_middle() -> None:
    found = only(job(front__left__spring__rate_n_per_mm=Progressive(11.0, 13.0)))
    assert found.values["rate_now"] == pytest.approx(12.0)


def test_a_confirmation_is_kept_in_the_file_and_not_carried_on() -> None:
    confirmed = replace(BEFORE, damping=Damping(front_rates_n_per_mm=(12.0,), rear_rates_n_per_mm=(80.0,)))
    assert loads(dumps(confirmed)).job == confirmed
    assert carried(confirmed, "a.toml", dt.date(2026, 5, 17)).damping == Damping()
