"""Frequency and critical damping of both ends at rider sag: what they come to, and what is said where they cannot be."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

import make_samples
from judgement_jobs import judged, put
from stanchion.job.model import ENDS, Job
from stanchion.judgement.ends.loads import doubted_by
from stanchion.judgement.predict.damping import damping_figures
from stanchion.judgement.results.damping import DampingFigures
from stanchion.wording.finding_words import reason
from true_machines.machines import case
from true_machines.physics import G, TrueFork, loads_of

WELL_SET = make_samples.well_set()


def damping(job: Job) -> DampingFigures:
    return damping_figures(job, judged(job))


def test_a_machine_of_round_numbers() -> None:
    # Rear: 80 N/mm through a ratio of 0.5 = 20 N/mm at the wheel; 123 - 15 kg on it (the invented sport machine)
    rear = damping(WELL_SET).rear
    assert rear.wheel_rate_n_per_mm.value == pytest.approx(20.0)
    assert rear.sprung_kg.value == pytest.approx(108.0)
    assert rear.frequency_hz.value == pytest.approx(math.sqrt(20_000.0 / 108.0) / (2.0 * math.pi))
    assert rear.critical_n_s_per_m.value == pytest.approx(2.0 * math.sqrt(20_000.0 * 108.0))
    assert not rear.frequency_hz.estimate


def test_the_front_is_seen_vertically_and_with_the_air_in_it() -> None:
    figures = damping(WELL_SET)
    coils = 2.0 * 9.5 / math.cos(math.radians(23.5)) ** 2
    assert coils < (figures.front.wheel_rate_n_per_mm.value or 0.0) < 1.2 * coils
    ratio = (figures.front.frequency_hz.value or 0.0) / (figures.rear.frequency_hz.value or 1.0)
    assert figures.front_to_rear.value == pytest.approx(ratio)


def test_two_hundred_machines_of_known_springs_and_loads() -> None:
    checked = 0
    for seed in range(1, 201):
        made = case(seed, "exact")
        figures, assessment = damping(made.job), judged(made.job)
        for end in ENDS:
            machine, load = made.end(end), loads_of(made.true)[end][1]
            at = machine.rest(load)
            of = figures.end(end)
            if assessment.predicted.end(end).doubted:
                assert of.wheel_rate_n_per_mm.problem == doubted_by(made.job, end)
                continue
            if at in (0.0, machine.travel):
                assert of.wheel_rate_n_per_mm.problem in ("rider_topped_out", "rider_bottomed")
                continue
            step = 1e-4
            rate = (machine.force(at + step) - machine.force(at - step)) / (2.0 * step)
            if isinstance(machine, TrueFork):
                rate /= machine.cosine**2
            mass = load / G
            assert of.sprung_kg.value == pytest.approx(mass, rel=1e-9)
            # sags are rounded as a tape reads, so the machine stands a little beside where its load would bring it
            assert of.wheel_rate_n_per_mm.value == pytest.approx(rate, rel=0.02), (seed, end)
            assert of.frequency_hz.value == pytest.approx(math.sqrt(rate * 1000.0 / mass) / math.tau, rel=0.01)
            checked += 1
    assert checked > 300


def test_without_rake_only_the_rear_is_known() -> None:
    figures = damping(put(WELL_SET, geometry__rake_deg=None))
    assert figures.front.wheel_rate_n_per_mm.needs == (("geometry", "rake_deg"),)
    assert not figures.front_to_rear.known
    assert figures.rear.frequency_hz.known


def test_a_mass_by_shares_or_without_the_unsprung_mass_is_an_estimate() -> None:
    shares = replace(
        WELL_SET.weights, front_alone_kg=None, rear_alone_kg=None, front_aboard_kg=None, rear_aboard_kg=None
    )
    shares = replace(shares, machine_kg=170.0, front_share_pct=51.0, rider_front_share_pct=48.0)
    for weights in (shares, replace(WELL_SET.weights, rear_unsprung_kg=None)):
        rear = damping(replace(WELL_SET, weights=weights)).rear
        assert rear.sprung_kg.estimate
        assert rear.frequency_hz.estimate


def test_at_an_end_of_the_travel_there_is_no_frequency() -> None:
    job = put(WELL_SET, sag__rear__static__down_mm=(), sag__rear__static__up_mm=())
    job = put(job, sag__rear__rider__down_mm=(), sag__rear__rider__up_mm=(), rear__spring__rate_n_per_mm=10.0)
    rear = damping(job).rear
    assert rear.wheel_rate_n_per_mm.problem == "rider_bottomed"
    assert reason(rear.frequency_hz) == "at full travel with the rider aboard"
