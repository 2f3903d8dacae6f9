"""Readings with the front lifted that give no height: each is named, and nothing on the brakes is computed from it."""

from __future__ import annotations

import math
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from judgement_jobs import judged
from stanchion.base.bundled import shipped_data
from stanchion.job.codec import loads
from stanchion.job.model import Balance, Job, Lift
from stanchion.judgement.criteria.thresholds import HEIGHT_TO_EXPECT_MM
from stanchion.judgement.predict.balance import wheel_weights
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.report.check import as_text
from stanchion.wording.finding_words import reason, sentence

SAMPLE = Path(__file__).parents[3] / "sample_jobs" / "well_set.toml"
JOB = loads(SAMPLE.read_bytes()).job
"""The invented sport machine: 123 and 123 kg with its rider, wheelbase 1370 mm, tyre radii 298.5 and 318 mm."""
HEIGHT = 640.0


def reads(raised_mm: float, height_mm: float = HEIGHT) -> float:
    """What the front scale reads with the front lifted, by moments about the rear contact: the machine turned as one piece
    about the rear axle, worked in coordinates and not by the formula of the program."""
    wheelbase = wheelbase_with_rider()
    ahead, total, front, rear = 0.5 * wheelbase, 246.0, 298.5, 318.0
    low, high = 0.0, math.pi / 3.0
    for _ in range(80):  # the angle at which the front axle stands that much higher above the rear one
        angle = 0.5 * (low + high)
        up = rear + wheelbase * math.sin(angle) + (front - rear) * math.cos(angle) - front
        low, high = (angle, high) if up < raised_mm else (low, angle)
    centre = ahead * math.cos(angle) - (height_mm - rear) * math.sin(angle)
    axle = wheelbase * math.cos(angle) - (front - rear) * math.sin(angle)
    return total * centre / axle


def wheelbase_with_rider() -> float:
    """The wheelbase as the machine stands with its rider."""
    ahead = wheel_weights(JOB, judged(JOB), "rider").ahead_mm.value
    assert ahead is not None
    return 2.0 * ahead


def lifted(*rows: tuple[float, float]) -> Job:
    """The machine with readings of its front scale, rider aboard, suspension blocked."""
    lifts = tuple(Lift(raised_mm=raised, aboard_kg=round(kg, 1)) for raised, kg in rows)
    return replace(JOB, balance=Balance(lifts=lifts, blocked="yes"))


def doubts(job: Job) -> list[Finding]:
    return [one for one in judged(job).findings if one.code.startswith(("lift", "level"))]


def the_doubt(job: Job) -> Finding:
    """The one finding; and neither a height nor a figure on the brakes, each with the reason."""
    (found,) = doubts(job)
    assert found.severity is Severity.WARNING
    assessment = judged(job)
    height = wheel_weights(job, assessment, "rider")
    assert height.height_from == ""
    for figure in (height.height_mm, brakes_figures(job, assessment).slow.fork_used_mm):
        assert reason(figure) == "the height of the centre of mass is in doubt: see the warning on it"
    return found


def test_readings_of_one_machine_are_not_questioned() -> None:
    job = lifted(*((raised, reads(raised)) for raised in (250.0, 350.0, 450.0)))
    assert doubts(job) == []
    assert wheel_weights(job, judged(job), "rider").height_mm.value == pytest.approx(HEIGHT, abs=3.0)


def test_a_front_that_grows_heavier_as_it_is_lifted_is_questioned() -> None:
    """The centre of mass lies above the axles, so it moves back as the front is lifted."""
    found = the_doubt(lifted((350.0, 127.5)))
    assert found.where == ("balance", "lifts", 0, "aboard_kg")
    assert sentence(found).startswith(
        "Balance, front lifted, rider aboard: lifted by 350 mm, the front reads 127.5 kg, and 123.0 kg level. It has to"
    )


def test_a_height_that_no_machine_has_is_questioned() -> None:
    job = lifted((250.0, reads(250.0, 1500.0)))
    found = the_doubt(job)
    assert found.code == "lift_height_unlikely"
    assert found.values["height_mm"] == pytest.approx(1500.0, abs=5.0)
    assert "usual is 450–1000 mm" in sentence(found)
    text = as_text("it.toml", job, judged(job))
    assert "On the brakes        –  the height of the centre of mass is in doubt" in text


def test_one_reading_that_does_not_fit_the_others_is_named() -> None:
    right = [(raised, reads(raised)) for raised in (250.0, 350.0, 450.0)]
    for wrong in range(3):
        rows = [(raised, kg + (8.0 if at == wrong else 0.0)) for at, (raised, kg) in enumerate(right)]
        found = the_doubt(lifted(*rows))
        assert (found.code, found.where[2]) in (("lift_off_line", wrong), ("lift_height_unlikely", wrong))
        if found.code == "lift_off_line":
            assert found.values["expected_kg"] == pytest.approx(right[wrong][1], abs=1.0)


def test_a_level_reading_that_does_not_fit_the_lifted_ones_is_named() -> None:
    rows = [(raised, reads(raised) + 7.0) for raised in (250.0, 350.0, 450.0)]
    found = the_doubt(lifted(*rows))
    assert (found.code, found.where) == ("level_off_line", ("weights", "front_aboard_kg"))
    assert sentence(found).startswith(
        "Weights: front scale, rider reads 123.0 kg level; by the readings with the front"
    )


def test_of_two_readings_that_scatter_neither_is_blamed() -> None:
    """Through the level reading and either of two passes a line: nothing tells which of them is wrong."""
    found = the_doubt(lifted((250.0, reads(250.0) - 2.0), (400.0, reads(400.0) + 4.0)))
    assert found.code == "lifts_scatter"
    assert "Read each again" in sentence(found)


def test_a_front_hardly_lifted_gives_no_height() -> None:
    found = the_doubt(lifted((60.0, reads(60.0))))
    assert found.code == "lift_too_low"
    assert sentence(found).endswith("Lift the front by 250 mm or more.")


def test_a_height_entered_outside_what_machines_have_is_questioned_and_not_used() -> None:
    job = replace(JOB, balance=Balance(height_aboard_mm=1300.0))
    assessment = judged(job)
    assert [one.where for one in assessment.findings if one.code == "implausible"] == [("balance", "height_aboard_mm")]
    assert not brakes_figures(job, assessment).slow.fork_used_mm.known


def test_both_places_of_the_usual_heights_agree() -> None:
    rows = tomllib.loads(shipped_data("plausible.toml").decode("utf-8"))["range"]
    by_field = {row["at"][0]: (row["low"], row["high"]) for row in rows}
    assert by_field["balance.height_alone_mm"] == HEIGHT_TO_EXPECT_MM["static"]
    assert by_field["balance.height_aboard_mm"] == HEIGHT_TO_EXPECT_MM["rider"]
