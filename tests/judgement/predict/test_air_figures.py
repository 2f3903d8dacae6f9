"""What height and warmth do to all the air of an end, worked by hand: in a mixed fork also to that trapped in the coil
leg, at an air shock also to the gas of its damper."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

from air_jobs import air_job, air_shock_job
from judgement_jobs import judged
from stanchion.job.model import STATES, Adjuster, Job, Leg, Spring
from stanchion.judgement.results.predicted import AirFigures, PredictedEnd

G, HERE = 9.80665, 0.101325
UP = HERE * (1.0 - 2.25577e-5 * 1000.0) ** 5.25588
"""1000 m up in the standard atmosphere (ISO 2533)."""
COIL = Leg(
    spring=Spring(rate_n_per_mm=3.0, free_length_mm=400.0, set_length_mm=390.0),
    adjuster=Adjuster(counting="none"),
    air_gap_mm=120.0,
)
COSINE = math.cos(math.radians(27.0))


def mixed() -> Job:
    job = air_job(right=COIL)
    return replace(job, front=replace(job.front, stanchion_outer_mm=48.0, stanchion_inner_mm=44.0))


def fork(x: float, outside: float = HERE, warm: float = 1.0, n_spring: float = 1.0, n_trapped: float = 1.0) -> float:
    """The air leg of air_jobs, and beside it 3 N/mm with 10 mm of preload and air closed at sea level."""
    main, ring = math.pi / 4 * 34.0**2, math.pi / 4 * (34.0**2 - 12.0**2)
    set_mpa = 0.83 + HERE
    balance = set_mpa * 380e3 / (380e3 - main * 12.0) * (45e3 + ring * 12.0) / 45e3
    out = main * (set_mpa * warm * math.pow(380e3 / (380e3 - main * x), n_spring) - outside)
    back = ring * (balance * warm * math.pow(45e3 / (45e3 + ring * x), n_spring) - outside)
    tube, least = math.pi / 4 * 48.0**2, math.pi / 4 * 44.0**2 * 120.0
    squeezed = (least + tube * 300.0) / (least + tube * (300.0 - x))
    trapped = tube * (HERE * warm * math.pow(squeezed, n_trapped) - outside)
    return out - back + 3.0 * (10.0 + x) + trapped


def sag(of: Callable[[float], float], load: float, hanging: float, most: float) -> float:
    def rests(force: float) -> float:
        return 0.0 if of(0.0) >= force else float(brentq(lambda at: of(at) - force, 0.0, most, xtol=1e-10))

    return rests(load) - rests(hanging)


def air_of(end: PredictedEnd) -> AirFigures:
    assert end.air is not None
    return end.air


LOADS = {"static": (56.0 - 12.0) * G * COSINE, "rider": (88.5 - 12.0) * G * COSINE}
HANGING = -12.0 * G * COSINE


@pytest.mark.parametrize(("name", "outside", "warm"), [("higher_mm", UP, 1.0), ("warmer_mm", HERE, 303.15 / 293.15)])
def test_the_air_trapped_in_the_coil_leg_of_a_mixed_fork_changes_too(name: str, outside: float, warm: float) -> None:
    p = judged(mixed()).predicted.front
    for state in STATES:
        now = sag(fork, LOADS[state], HANGING, 299.0)
        assert p.state(state).sag_mm.value == pytest.approx(now, abs=1e-6)
        then = sag(lambda x: fork(x, outside, warm), LOADS[state], HANGING, 299.0)
        assert getattr(air_of(p).state(state), name).value == pytest.approx(then - now, abs=1e-6)


def test_in_a_fast_stroke_the_springs_of_air_have_1_3_and_the_trapped_air_1_4() -> None:
    """The left leg has no air gap; what is trapped there is not known, and so no part is given for the air."""
    p = judged(mixed()).predicted.front
    for figure, n in (("fast_n", 1.3), ("fast_least_n", 1.2), ("fast_most_n", 1.4)):
        by_hand = fork(300.0, n_spring=n, n_trapped=1.4)
        assert getattr(air_of(p), figure).value == pytest.approx(by_hand, rel=1e-9)
    assert p.full_travel.fast_n.value == pytest.approx(fork(300.0, n_spring=1.3, n_trapped=1.4), rel=1e-9)
    assert p.full_travel.slow_n.value == pytest.approx(fork(300.0), rel=1e-9)


@pytest.mark.parametrize("volume_ml", [None, 90.0])
@pytest.mark.parametrize(("name", "outside", "warm"), [("higher_mm", UP, 1.0), ("warmer_mm", HERE, 303.15 / 293.15)])
def test_the_gas_of_the_damper_of_an_air_shock_changes_too(
    name: str, outside: float, warm: float, volume_ml: float | None
) -> None:
    """12 bar behind a 16 mm shaft, in 90 ml or taken as one force, through the pairs of air_jobs (SciPy's PCHIP)."""
    job = air_shock_job()
    job = replace(job, rear=replace(job.rear, gas_pressure_bar=12.0, gas_volume_ml=volume_ml))
    main, ring, shaft = (math.pi / 4 * d2 for d2 in (46.0**2, 46.0**2 - 16.0**2, 16.0**2))

    wheel = [0.0, 75.0, 150.0, 225.0, 300.0]
    path = PchipInterpolator(wheel, [0.38 * z + 0.0003 * z * z for z in wheel])

    def at_wheel(z: float, here: float = HERE, warm: float = 1.0) -> float:
        s = float(path(z))
        out = main * ((1.1 + HERE) * warm * 330e3 / (330e3 - main * s) - here)
        back = ring * ((0.9 + HERE) * warm * 60e3 / (60e3 + ring * s) - here)
        squeezed = 1.0 if volume_ml is None else volume_ml * 1e3 / (volume_ml * 1e3 - shaft * s)
        gas = shaft * ((1.2 + HERE) * warm * squeezed - here)
        return (out - back + gas) * float(path(z, 1))

    p = judged(job).predicted.rear
    for state, on_wheel in zip(STATES, (58.0, 111.5), strict=True):
        load, hanging = (on_wheel - 17.0) * G, -17.0 * G
        now = sag(at_wheel, load, hanging, 290.0)
        then = sag(lambda z: at_wheel(z, outside, warm), load, hanging, 290.0)
        assert p.state(state).sag_mm.value == pytest.approx(now, abs=1e-6)
        assert getattr(air_of(p).state(state), name).value == pytest.approx(then - now, abs=1e-6)
