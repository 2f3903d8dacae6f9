"""Damping ratios and clicks by damper sheets, against dampers whose law is known: force proportional to speed, and to
how far the adjuster stands from 20 clicks out. Invented; formulas written out here.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

import make_samples
from judgement_jobs import PROFILES, judged, put
from stanchion.job.model import DamperCurve, DamperSheet, Job
from stanchion.judgement.predict.damping import damping_figures
from stanchion.judgement.results.damping import DampingFigures
from stanchion.planning.damping_compared import earlier_damping
from stanchion.planning.whatif import compare
from stanchion.report.check_json import as_json
from stanchion.units.known_units import METRIC
from stanchion.wording.damping_sentences import damping_lines, damping_notes, wanted_words

SPEEDS = (10.0, 50.0, 100.0, 250.0, 500.0)
PER_CLICK = 0.25
"""N·s/mm for each click in from 20 out, in rebound; half as much in compression whatever the click."""


def sheet(damper: str) -> DamperSheet:
    curves = [
        DamperCurve(
            stroke="rebound",
            position=at,
            speeds_mm_per_s=SPEEDS,
            forces_n=tuple(-PER_CLICK * (20.0 - at) * speed for speed in SPEEDS),
        )
        for at in (4.0, 10.0, 16.0)
    ]
    curves += [replace(one, stroke="compression", forces_n=tuple(1.0 * v for v in SPEEDS)) for one in curves]
    return DamperSheet(damper=damper, turned="rebound", gas="removed", curves=tuple(curves))


WELL_SET = make_samples.well_set()  # rebound 10 out in the fork, 12 at the shock; rake 23.5°, one motion ratio of 0.5
MEASURED = replace(WELL_SET, damper_sheets=(sheet("front"), sheet("rear")))


def damping(job: Job) -> DampingFigures:
    return damping_figures(job, judged(job))


def ratios(job: Job, end: str) -> dict[tuple[str, float], float | None]:
    figures = damping(job)
    of = figures.front if end == "front" else figures.rear
    return {(one.stroke, one.wheel_mm_per_s): one.ratio.value for one in of.ratios}


def test_the_shock_acts_at_the_wheel_by_the_square_of_its_motion_ratio() -> None:
    critical = 2.0 * math.sqrt(20_000.0 * 108.0)
    of = ratios(MEASURED, "rear")
    for speed in (100.0, 250.0):
        assert of["rebound", speed] == pytest.approx(PER_CLICK * 8.0 * 1000.0 * 0.25 / critical)
        assert of["compression", speed] == pytest.approx(1000.0 * 0.25 / critical)


def test_both_legs_act_on_the_front_wheel_through_the_rake() -> None:
    figures, squared = damping(MEASURED).front, math.cos(math.radians(23.5)) ** 2
    critical = 2.0 * math.sqrt((figures.wheel_rate_n_per_mm.value or 0.0) * 1000.0 * 110.0)
    of = ratios(MEASURED, "front")
    assert of["rebound", 100.0] == pytest.approx(2.0 * PER_CLICK * 10.0 * 1000.0 / squared / critical)
    one_leg = replace(MEASURED, damper_sheets=(sheet("left"),))
    assert set(ratios(one_leg, "front").values()) == {None}  # the other leg was not measured


def test_turning_rebound_changes_its_ratio_and_leaving_the_positions_measured_gives_none() -> None:
    before = ratios(MEASURED, "rear")["rebound", 100.0] or 0.0
    assert ratios(put(MEASURED, rear__rebound__now=8.0), "rear")["rebound", 100.0] == pytest.approx(1.5 * before)
    assert ratios(put(MEASURED, rear__rebound__now=18.0), "rear")["rebound", 100.0] is None


@pytest.mark.parametrize(("rate_then", "to"), [(60.0, 11.0), (55.0, 10.0), (110.0, 13.0)])
def test_clicks_for_another_spring_count_out_from_fully_in(rate_then: float, to: float) -> None:
    # (20 - to) / (20 - 12) = sqrt(80 / rate_then): 10.8, 10.4, 13.2 out; more damping is fewer clicks out
    before = put(MEASURED, rear__spring__rate_n_per_mm=rate_then)
    (earlier,) = earlier_damping(MEASURED, damping(MEASURED), before, judged(before), PROFILES)
    assert earlier.rebound["rear"].value == pytest.approx(20.0 - 8.0 * math.sqrt(80.0 / rate_then), abs=1e-6)
    assert f"(12 clicks out now, {to:.0f} wanted by its damper sheet)" in wanted_words(earlier)
    on_the_way = put(MEASURED, rear__rebound__now=12.0 + math.copysign(0.25, to - 12.0))
    (earlier,) = earlier_damping(on_the_way, damping(on_the_way), before, judged(before), PROFILES)
    assert f" clicks out now, {to:.0f} wanted by its damper sheet)" in wanted_words(earlier)
    turned = put(MEASURED, rear__rebound__now=to)
    (earlier,) = earlier_damping(turned, damping(turned), before, judged(before), PROFILES)
    assert f"({to:.0f} clicks out now, as wanted by its damper sheet)" in wanted_words(earlier)


def test_without_a_sheet_the_words_stand_alone() -> None:
    before = put(WELL_SET, rear__spring__rate_n_per_mm=60.0)
    (earlier,) = earlier_damping(WELL_SET, damping(WELL_SET), before, judged(before), PROFILES)
    assert "rear about 15 % more rebound damping." in wanted_words(earlier)
    assert ratios(WELL_SET, "rear") == {}
    assert "dynamometer" in " ".join(damping_notes(damping(WELL_SET)))
    assert "dynamometer" not in " ".join(damping_notes(damping(MEASURED)))
    one_end = replace(WELL_SET, damper_sheets=(sheet("front"),))
    assert "Rear: the damping ratio needs a damper sheet" in " ".join(damping_notes(damping(one_end)))


def test_check_and_json_give_the_ratios() -> None:
    lines = dict(damping_lines(damping(MEASURED), METRIC))
    assert lines["Rear rebound"] == "damping ratio 0.17 at 100 mm/s, 0.17 at 250 mm/s"  # 500 / 2939
    data = as_json("a.toml", MEASURED, judged(MEASURED))["damping"]["rear"]["ratios"]
    assert [(one["stroke"], one["wheel_mm_per_s"]) for one in data][-1] == ("rebound", 250.0)


def test_a_trial_of_another_spring_or_rider_says_what_rebound_it_wants() -> None:
    seen = compare(WELL_SET, put(WELL_SET, rear__spring__rate_n_per_mm=96.8), PROFILES)
    row = seen.row(("rear",), "damping_pct")
    assert row.present.value == 100.0
    assert row.changed.value == pytest.approx(110.0, abs=0.2)
    assert not any(one.code == "damping_pct" and one.where == ("front",) for one in seen.rows)
    seen = compare(WELL_SET, put(WELL_SET, job__rider_mass_kg=96.0), PROFILES)
    assert {one.where for one in seen.rows if one.code == "damping_pct"} == {("front",), ("rear",)}
    seen = compare(WELL_SET, put(WELL_SET, front__fork_height_mm=8.0), PROFILES)
    assert not any(one.code == "damping_pct" for one in seen.rows)


def test_a_ratio_with_the_gas_by_the_mean_of_both_strokes_is_an_estimate() -> None:
    """That mean puts half the difference of the strokes into the gas: here compression resists 4.0 N·s/mm and rebound
    2.5, so 7.5 N at 10 mm/s, and compression at the shaft's 50 mm/s counts 192.5 N instead of 200."""
    curves = [curve for curve in sheet("rear").curves if curve.position == 10.0]
    stiffer = [replace(c, forces_n=tuple(4.0 * v for v in SPEEDS)) if c.stroke == "compression" else c for c in curves]
    by_mean = replace(sheet("rear"), gas="mean", curves=tuple(stiffer))
    job = put(replace(WELL_SET, damper_sheets=(by_mean,)), rear__rebound__now=10.0)
    removed = replace(job, damper_sheets=(replace(by_mean, gas="removed"),))
    for one, estimate in ((job, True), (removed, False)):
        figures = damping(one)
        assert {ratio.ratio.estimate for ratio in figures.rear.ratios} == {estimate}
        lines = dict(damping_lines(figures, METRIC))
        assert ("(estimate)" in lines["Rear compression"]) is estimate
    of, without = ratios(job, "rear"), ratios(removed, "rear")
    assert (of["compression", 100.0] or 0.0) / (without["compression", 100.0] or 1.0) == pytest.approx(192.5 / 200.0)
