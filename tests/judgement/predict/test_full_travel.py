"""The parts of the force at full travel: each by itself from first principles, their sum, and where they are shown."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from air_jobs import FLOATING, THREE, air_job, air_shock_job
from judgement_jobs import judged, put
from rates import WEIGHED, known
from stanchion.job.model import Job, Stops
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.report.sheet_tables import fork_facts, shock_facts
from stanchion.ui.predicted_lines import predicted_lines
from stanchion.units.known_units import METRIC, Units

FORK = put(
    WEIGHED,
    front__stanchion_outer_mm=43.0,
    front__stanchion_inner_mm=39.0,
    front__left__air_gap_mm=110.0,
    front__stops=Stops(touches_mm=100.0, rate_n_per_mm=40.0),
    rear__shaft_mm=16.0,
    rear__gas_pressure_bar=10.0,
    rear__gas_volume_ml=100.0,
    rear__wheel_travel_mm=150.0,
    rear__stops=Stops(touches_mm=48.0, rate_n_per_mm=100.0),
)
"""Travel 120 mm and stroke 60 mm at a ratio of 0.4, with air above the oil, gas and rubbers."""


def test_each_part_of_the_fork_by_hand() -> None:
    a = judged(FORK)
    of = a.predicted.front.full_travel
    slow, fast = of.slow_parts, of.fast_parts
    assert slow is not None
    assert fast is not None
    preload = known(a.front.left.preload_now_mm.value)
    assert slow.coil_n == pytest.approx(2 * 9.5 * (preload + 120.0))
    assert slow.rubber_n == pytest.approx(2 * 40.0 * 20.0)
    sealing, tube = math.pi / 4 * 43.0**2, math.pi / 4 * 39.0**2
    squeeze = (tube * 110.0 + sealing * 120.0) / (tube * 110.0)
    assert slow.trapped_n == pytest.approx(2 * sealing * 0.101325 * (squeeze - 1.0))
    assert fast.trapped_n == pytest.approx(2 * sealing * 0.101325 * (squeeze**1.4 - 1.0))
    assert (slow.air_spring_n, slow.gas_n) == (None, None)
    assert (fast.coil_n, fast.rubber_n) == (slow.coil_n, slow.rubber_n)


def test_each_part_at_the_rear_wheel_by_hand() -> None:
    a = judged(FORK)
    of = a.predicted.rear.full_travel
    assert of.slow_parts is not None
    preload, rate = known(a.rear.spring.preload_now_mm.value), FORK.rear.spring.rate_n_per_mm
    assert isinstance(rate, float)
    assert of.slow_parts.coil_n == pytest.approx(0.4 * rate * (preload + 60.0))
    assert of.slow_parts.rubber_n == pytest.approx(0.4 * 100.0 * 12.0)
    shaft = math.pi / 4 * 16.0**2
    gas = shaft * (1.101325 * 100e3 / (100e3 - shaft * 60.0) - 0.101325)
    assert of.slow_parts.gas_n == pytest.approx(0.4 * gas)


@pytest.mark.parametrize("job", [FORK, WEIGHED, air_job(THREE), air_job(FLOATING), air_shock_job()])
def test_the_parts_add_up_to_the_force_of_the_model(job: Job) -> None:
    """What the drawing of the force ends at, and the figures of trapped air and air springs."""
    a = judged(job)
    for end in ("front", "rear"):
        of = getattr(a.predicted, end).full_travel
        for force, parts in ((of.slow_n, of.slow_parts), (of.fast_n, of.fast_parts)):
            if parts is not None:
                assert parts.sum_n == pytest.approx(known(force.value), rel=1e-12)
        if of.slow_air_n.known:
            assert of.slow_parts.air_n == pytest.approx(known(of.slow_air_n.value))


def test_the_rubber_and_the_air_are_shown_each_by_itself() -> None:
    a = judged(FORK)
    slow = a.predicted.front.full_travel.slow_parts
    assert slow is not None
    coil, trapped, rubber = (f"{known(part):.0f} N" for part in (slow.coil_n, slow.trapped_n, slow.rubber_n))
    words = f"coil spring {coil}, trapped air {trapped}, rubber {rubber}"
    assert f"({words})" in as_text("one.toml", FORK, a)
    assert dict(fork_facts(FORK, a, METRIC).rows)["At full travel"] == (f"{slow.sum_n:.0f} N: {words}",)
    assert "gas " in dict(shock_facts(FORK, a, METRIC).rows)["At full travel"][0]
    shown = " ".join(line.plain.strip() for line in predicted_lines(a, METRIC, 60, FORK))
    assert f"Fork: {words}" in shown
    found = as_json("one.toml", FORK, a)["full_travel"]["front"]
    assert found["slow_parts"] == {"coil_n": slow.coil_n, "trapped_n": slow.trapped_n, "rubber_n": slow.rubber_n}


def test_a_coil_spring_alone_is_not_said_twice() -> None:
    plain = replace(WEIGHED, front=replace(WEIGHED.front, left=replace(WEIGHED.front.left, air_gap_mm=None)))
    assert "coil spring" not in as_text("one.toml", plain, judged(plain))


def test_the_step_of_the_air_gap_is_shown_in_the_unit_of_lengths() -> None:
    a = judged(FORK)
    heads = [
        next(line.plain for line in predicted_lines(a, units, 60, FORK) if line.plain.startswith("AT FULL"))
        for units in (METRIC, Units(lengths="in"))
    ]
    assert heads[0].split()[-4:] == ["gap", "−5", "gap", "+5"]
    assert heads[1].split()[-4:] == ["gap", "−.2", "gap", "+.2"]
