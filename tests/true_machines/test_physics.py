"""The truth that verdicts are held against: by hand, one way of solving against the other, and the program's own."""

from __future__ import annotations

import math

import numpy as np
import pytest

from judgement_jobs import PROFILES
from stanchion.job.model import ENDS, STATES
from stanchion.judgement.assess import assess
from true_machines.machines import case
from true_machines.physics import AMBIENT, TrueFork, TrueLeg, TrueRear, as_at_stop, as_read, loads_of

PLAIN = TrueLeg(9.5, 16.0, 4.0, 8.0, 12.0, (0.0, 0.0), None)


def fork(*legs: TrueLeg) -> TrueFork:
    """A fork of 120 mm that stands upright, its wheel without weight."""
    return TrueFork(legs=legs, travel=120.0, cosine=1.0, unsprung=0.0, read_at=("stop",) * len(legs))


def test_two_springs_push_with_rate_times_preload_and_travel() -> None:
    assert fork(PLAIN, PLAIN).rest(2 * 9.5 * (16.0 + 20.0)) == pytest.approx(20.0)


def test_a_top_out_spring_holds_the_hanging_wheel_where_both_springs_balance() -> None:
    # 9.5 (12 + x) = 30 (20 - x)
    leg = TrueLeg(9.5, 12.0, 0.0, 0.0, 12.0, (30.0, 20.0), None)
    assert fork(leg, leg).hanging == pytest.approx((30.0 * 20.0 - 9.5 * 12.0) / (30.0 + 9.5))


def test_air_pressed_into_half_its_room_pushes_with_one_atmosphere() -> None:
    area = math.pi / 4.0 * 43.0**2
    leg = TrueLeg(0.0, 0.0, 0.0, 0.0, 0.0, (0.0, 0.0), (area, 0.25 * area * 120.0))
    # Room for 150 mm at full extension, 75 mm left at 75 mm of travel.
    assert fork(leg).force(75.0) == pytest.approx(area * AMBIENT)


def test_a_shock_pushes_the_wheel_with_its_force_times_the_motion_ratio() -> None:
    rear = TrueRear(95.0, 12.0, 0.0, 10.0, 12.0, 100.0, (0.0, 0.0), 130.0, 15.0, 0.4, ())
    assert rear.rest(0.4 * (95.0 * (12.0 + 10.0) + 100.0)) == pytest.approx(25.0)


def test_an_assembled_reading_and_the_stop_say_the_same() -> None:
    for squeezed in (-3.0, 2.0, 8.0, 14.0):
        at_stop = as_at_stop((30.0, 12.0), "assembled", 9.5, squeezed)
        assert as_read((30.0, 12.0), "assembled", 9.5, at_stop) == pytest.approx(squeezed)


@pytest.mark.parametrize("seed", range(1, 13))
def test_one_by_one_and_many_at_once_give_the_same_sags(seed: int) -> None:
    made = case(seed, "exact")
    for end in ENDS:
        loads = loads_of(made.true)[end]
        machine = made.end(end)
        many = (
            machine.sags(loads, np.zeros(2), np.array([0.0, 1.5]))
            if isinstance(machine, TrueFork)
            else machine.sags(loads, np.array([0.0, 1.5]))
        )
        for at, more in enumerate((0.0, 1.5)):
            assert many[:, at] == pytest.approx([machine.sag(load, more) for load in loads], abs=2e-3)


@pytest.mark.parametrize("seed", range(1, 41))
def test_the_program_predicts_what_a_machine_of_known_springs_and_loads_does(seed: int) -> None:
    made = case(seed, "exact")
    predicted = assess(made.job, PROFILES).predicted
    for end in ENDS:
        for state, sag in zip(STATES, made.sags(end), strict=True):
            assert predicted.end(end).state(state).sag_mm.value == pytest.approx(sag, abs=1e-3)
