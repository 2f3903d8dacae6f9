"""What the rider reported that is a matter of safety is a warning until it is judged better, or taken out."""

from __future__ import annotations

from dataclasses import replace

import make_samples
from judgement_jobs import judged, put
from stanchion.job.complaint import SAFETY, Complaint
from stanchion.job.model import Job, Run
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.wording.finding_words import sentence

WELL = make_samples.well_set()
SHAKES = Run(complaints=(Complaint(what="shakes", where="straight"),))


def reported(*runs: Run) -> list[Finding]:
    job: Job = replace(WELL, runs=runs)
    return [one for one in judged(job).findings if one.code == "safety_reported"]


def test_a_report_is_a_warning_with_what_to_inspect() -> None:
    (one,) = reported(SHAKES)
    assert (one.severity, one.where) == (Severity.WARNING, ("runs", 0, "complaints"))
    assert sentence(one) == (
        "Reported on run 1: it shakes, on the straight. Inspect steering head, wheels and their bearings, tyres, axles "
        "and steering damper before it is ridden again."
    )


def test_every_matter_of_safety_says_what_to_inspect() -> None:
    said = set()
    for what in SAFETY:
        (one,) = reported(Run(complaints=(Complaint(what=what),)))
        said.add(sentence(one))
    assert len(said) == len(SAFETY)
    assert all("Inspect" in words for words in said)


def test_it_stands_until_a_later_run_is_judged_better_or_it_is_taken_out() -> None:
    assert reported(SHAKES, Run(), Run(verdict="same"), Run(verdict="worse"))
    assert not reported(SHAKES, Run(verdict="better"))
    assert reported(SHAKES, replace(SHAKES, verdict="better")), "reported again"
    assert not reported(Run())
    assert not reported(Run(complaints=(Complaint(what="dives", where="turn_in"),)))


def test_a_closed_damper_is_a_note() -> None:
    job = put(WELL, front__left__rebound__now=0.0, rear__low_speed_compression__now=0.0)
    found = [one for one in judged(job).findings if one.code == "clicker_closed"]
    assert {one.severity for one in found} == {Severity.NOTE}
    assert [one.where[-2] for one in found] == ["rebound", "low_speed_compression"]
    assert "fully closed" in sentence(found[1])
    assert not [one for one in judged(WELL).findings if one.code == "clicker_closed"]
