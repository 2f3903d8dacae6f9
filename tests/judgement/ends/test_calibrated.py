"""Readings of calibrated scales are corrected in one place, for everything alike, and it is said."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from judgement_jobs import FULL, put
from stanchion.job.carry import carried
from stanchion.job.model import STATES, Balance, Calibration, Job, KnownMass, Lift, ScaleCalibration
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.judgement.ends.calibrated import corrected
from stanchion.judgement.predict.balance import balance_figures
from stanchion.judgement.reading_errors import reading_errors
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.report.figure_numbers import sure_figures
from stanchion.wording.finding_words import sentence

PROFILES = load_profiles()
DAY = dt.date(2026, 5, 3)
WEIGHED = put(
    FULL,
    job__date=DAY,
    geometry__wheelbase_mm=1400.0,
    weights__front_alone_kg=95.0,
    weights__rear_alone_kg=91.0,
    weights__front_aboard_kg=131.0,
    weights__rear_aboard_kg=133.0,
)
WEIGHED = replace(
    WEIGHED, balance=Balance(blocked="yes", lifts=(Lift(raised_mm=250.0, alone_kg=89.5, aboard_kg=120.0),))
)


def made(*pairs: tuple[float, float], on: dt.date = DAY) -> ScaleCalibration:
    masses = tuple(KnownMass(true_kg=true_kg, read_kg=read_kg) for true_kg, read_kg in pairs)
    return ScaleCalibration(called="blue", calibrated_on=on, masses=masses)


ONE_PERCENT = made((0.0, 0.0), (50.0, 50.5), (100.0, 101.0))
LOW = made((20.0, 19.8), (60.0, 59.7), (100.0, 99.9))


def calibrated(**scales: ScaleCalibration) -> Job:
    return replace(WEIGHED, calibration=Calibration(**scales))


def of_scales(job: Job) -> list[Finding]:
    codes = ("scale_corrected", "scale_off", *(f"scale_calibration_{name}" for name in ("doubted", "short", "old")))
    return [finding for finding in assess(job, PROFILES).findings if finding.code in codes]


def test_the_front_scale_alone_is_corrected_also_with_the_front_lifted() -> None:
    after = corrected(calibrated(front=ONE_PERCENT))
    assert after.weights.front_alone_kg == pytest.approx(95.0 * (1.0 - 1.0 / 101.0))
    assert after.weights.front_aboard_kg == pytest.approx(131.0 * (1.0 - 1.0 / 101.0))
    assert after.weights.rear_alone_kg == 91.0
    assert after.balance.lifts[0].alone_kg == pytest.approx(89.5 * (1.0 - 1.0 / 101.0))
    assert corrected(after) is after


def test_one_scale_for_both_wheels_gives_way_to_one_of_their_own() -> None:
    after = corrected(calibrated(both=ONE_PERCENT, rear=made((0.0, 0.0), (50.0, 50.0), (100.0, 100.0))))
    assert after.weights.front_alone_kg == pytest.approx(95.0 * (1.0 - 1.0 / 101.0))
    assert after.weights.rear_alone_kg == 91.0


@pytest.mark.parametrize("scales", [{"front": ONE_PERCENT}, {"front": LOW, "rear": ONE_PERCENT}, {"both": LOW}])
def test_everything_is_as_if_the_corrected_readings_had_been_typed(scales: dict[str, ScaleCalibration]) -> None:
    job = calibrated(**scales)
    typed = corrected(job)
    one, other = assess(job, PROFILES), assess(typed, PROFILES)
    assert (one.sag, one.predicted, one.geometry, one.springs) == (
        other.sag,
        other.predicted,
        other.geometry,
        other.springs,
    )
    said = of_scales(job)
    assert said
    assert [finding for finding in one.findings if finding not in said] == list(other.findings)
    balances = balance_figures(job, one), balance_figures(typed, other)
    for state in STATES:
        of_job, of_typed = (balance.states[state] for balance in balances)
        assert of_job.front_kg == of_typed.front_kg
        assert of_job.height_mm == of_typed.height_mm
        assert of_job.ahead_mm == of_typed.ahead_mm


def test_a_small_correction_is_a_note_and_a_scale_far_off_a_warning_at_its_largest_reading() -> None:
    (small,) = of_scales(calibrated(front=LOW))
    assert (small.code, small.severity, small.where) == (
        "scale_corrected",
        Severity.NOTE,
        ("weights", "front_aboard_kg"),
    )
    assert sentence(small).startswith("Front scale (blue) reads 0.1 kg low at 131.0 kg: corrected to 131.1 kg, ")
    assert "calibrated 2026-05-03" in sentence(small)
    (far,) = of_scales(calibrated(front=ONE_PERCENT))
    assert (far.code, far.severity) == ("scale_off", Severity.WARNING)
    assert "1.3 kg high at 131.0 kg: corrected to 129.7 kg" in sentence(far)


def test_a_calibration_that_cannot_be_right_or_is_too_short_corrects_nothing() -> None:
    for calibration, code in (
        (made((10.0, 22.0), (40.0, 88.0), (60.0, 132.0)), "scale_calibration_doubted"),
        (made((20.0, 20.5), (60.0, 60.5)), "scale_calibration_short"),
        (made((20.0, 20.0), (21.0, 20.0), (22.0, 20.0)), "scale_calibration_short"),
        (made((20.0, 20.0), (20.0, 20.0), (20.0, 20.00000000000001)), "scale_calibration_short"),
    ):
        job = calibrated(front=calibration)
        assert corrected(job).weights == job.weights
        assert [finding.code for finding in of_scales(job)] == [code]
        assert not any(source.name.by == "calibration" for source in reading_errors(job))


def test_a_calibration_of_more_than_a_year_ago_is_noted() -> None:
    within, beyond = (replace(LOW, calibrated_on=DAY - dt.timedelta(days=days)) for days in (365, 366))
    assert [finding.code for finding in of_scales(calibrated(rear=within))] == ["scale_corrected"]
    assert "scale_calibration_old" in [finding.code for finding in of_scales(calibrated(rear=beyond))]


def test_nothing_is_said_of_a_scale_that_nothing_was_read_on() -> None:
    job = replace(put(FULL, weights__front_alone_kg=None, weights__front_aboard_kg=None), balance=Balance())
    assert of_scales(replace(job, calibration=Calibration(front=LOW))) == []


def test_the_line_is_part_of_how_sure_what_was_weighed_is_and_exact_masses_add_nothing() -> None:
    name = "balance.static.ahead_mm"
    plain, exact, scattered = (
        sure_figures(job, PROFILES)[name].uncertainty.standard
        for job in (
            WEIGHED,
            calibrated(both=ONE_PERCENT),
            calibrated(front=made((0.0, 0.9), (50.0, 50.0), (100.0, 100.9))),
        )
    )
    assert exact == pytest.approx(plain, rel=0.02)
    assert scattered > 1.02 * plain


def test_the_next_job_has_the_calibrations_too() -> None:
    job = calibrated(front=LOW)
    assert carried(job, "before.toml", DAY).calibration == job.calibration
