"""A technician's own study takes the place of what is assumed of a reading."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from judgement_jobs import FULL
from stanchion.base.errors import OutOfRange
from stanchion.job.model import Job, Occasion, Readings, Repeatability, Sag, SagEnd
from stanchion.job.study import Study
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.judgement.sag.own_reading import repeatability_of, study_result
from stanchion.mechanics.statistics import Uncertainty, together
from stanchion.report.figure_numbers import sure_figures

PROFILES = load_profiles()
ALONE = (
    ((512.0, 512.5, 512.0), (511.5, 512.0, 512.5)),
    ((516.0, 516.5, 516.0), (516.5, 515.5, 516.0)),
    ((622.0, 621.5, 622.0), (622.5, 622.0, 621.5)),
    ((626.0, 626.5, 626.5), (626.0, 627.0, 626.0)),
)


def study(on: dt.date, by: str = "A", of: str = "alone") -> Study:
    return Study(of="alone" if of == "alone" else "aboard", on=on, by=by, helper="B", readings=ALONE)


def job(own: Repeatability) -> Job:
    once = Readings(down_mm=(518.0,), up_mm=(522.0,))
    end = SagEnd(hanging_mm=(548.0,), static=once, rider=Readings(down_mm=(508.0,), up_mm=(513.0,)))
    return Job(job=Occasion(use="track"), sag=Sag(front=end), repeatability=own)


def test_one_reading_of_each_state_goes_by_the_study_of_that_state() -> None:
    own = Repeatability(alone_mm=0.4, alone_freedom=19.0, aboard_mm=0.9, aboard_freedom=8.0)
    plain, by_study = (assess(job(one), PROFILES).sag.front for one in (Repeatability(), own))
    assert plain.static.single_readings
    assert not by_study.static.single_readings
    division = 1.0 / 12**0.5
    hanging = together(Uncertainty(0.4, 19.0), Uncertainty(division))
    static = together(Uncertainty(0.4 / 2**0.5, 38.0), Uncertainty(division))
    assert by_study.static.uncertainty_mm.value == pytest.approx(together(hanging, static).standard)
    rider = together(Uncertainty(0.9 / 2**0.5, 16.0), Uncertainty(division))
    whole = together(hanging, rider)
    assert by_study.rider.uncertainty_mm.value == pytest.approx(whole.standard)
    assert by_study.rider.expanded_mm.value == pytest.approx(whole.expanded, rel=0.02)
    narrower, wider = by_study.static.expanded_mm.value, plain.static.expanded_mm.value
    assert narrower is not None
    assert wider is not None
    assert narrower < wider


def test_a_study_of_the_machine_alone_says_nothing_of_the_rider_aboard() -> None:
    by_study = assess(job(Repeatability(alone_mm=0.3, alone_freedom=19.0)), PROFILES).sag.front
    assert not by_study.static.single_readings
    assert by_study.rider.single_readings


def test_a_better_known_sag_is_no_longer_borderline() -> None:
    """Target of the track profile: the same sag near its edge is told apart by a technician who reads well."""
    target = assess(job(Repeatability()), PROFILES).sag.front.rider.target
    assert target is not None
    down = 548.0 - target[1] - 2.0
    at_edge = job(Repeatability())
    rider = Readings(down_mm=(down - 1.0,), up_mm=(down + 1.0,))
    at_edge = replace(at_edge, sag=Sag(front=replace(at_edge.sag.front, rider=rider)))
    assert assess(at_edge, PROFILES).sag.front.rider.verdict == "borderline"
    own = Repeatability(alone_mm=0.3, alone_freedom=19.0, aboard_mm=0.3, aboard_freedom=19.0)
    assert assess(replace(at_edge, repeatability=own), PROFILES).sag.front.rider.verdict == "above"


def test_the_latest_study_of_each_kind_by_whoever_made_the_last_one_is_noted() -> None:
    old, new = study(dt.date(2026, 1, 1)), replace(study(dt.date(2026, 3, 1)), of="alone")
    others = study(dt.date(2026, 2, 1), by="C", of="aboard")
    noted = repeatability_of([old, others, new])
    assert (noted.by, noted.alone_on, noted.aboard_mm) == ("A", dt.date(2026, 3, 1), None)
    assert noted.alone_mm == pytest.approx(study_result(new).one.standard_mm, abs=1e-4)
    assert repeatability_of([]) == Repeatability()


def test_a_study_that_is_not_whole_counts_for_nothing() -> None:
    part = replace(study(dt.date(2026, 1, 1)), readings=ALONE[:3])
    assert repeatability_of([part]) == Repeatability()
    with pytest.raises(OutOfRange):
        study_result(replace(part, readings=()))


def test_lengths_at_the_bench_go_by_their_study_in_preload() -> None:
    """Installed preload is free length less set length: two readings of the study, and two divisions of the tape."""
    own = Repeatability(bench_mm=0.4, bench_freedom=9.0)
    plain, by_study = (sure_figures(replace(FULL, repeatability=one), PROFILES) for one in (Repeatability(), own))
    name = "front.left.installed_preload_mm"
    assert plain[name].uncertainty.standard < by_study[name].uncertainty.standard
    shares = {part.name.at[-1]: abs(part.effect) for part in by_study[name].parts if part.name.by == "tape"}
    assert shares["free_length_mm"] == pytest.approx((0.4**2 + 1.0 / 12.0) ** 0.5, rel=1e-3)
    assert shares["set_length_mm"] == pytest.approx((0.4**2 + 1.0 / 12.0) ** 0.5, rel=1e-3)
    of_each = (0.4**2 + 1.0 / 12.0) ** 2 / (0.4**4 / 9.0)
    assert by_study[name].uncertainty.freedom == pytest.approx(2.0 * of_each, rel=1e-3)
