"""The pressure an air spring has in use, and the one to set cold for what is wanted there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from air_jobs import air_job, air_shock_job, with_air, with_shock_air
from judgement_jobs import codes, judged
from stanchion.job.model import Outside
from stanchion.mechanics.gas import ambient_pressure
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json

USED = {"in_use_c": 50.0, "wanted_bar": 9.0, "set_at_c": 20.0}
WARMED = 323.15 / 293.15


def test_air_keeps_its_volume_and_so_its_pressure_follows_absolute_temperature() -> None:
    """p2 = p1 T2/T1, both absolute."""
    (leg,) = judged(with_air(air_job(), **USED)).predicted.front.air_in_use
    assert leg.in_use_bar.value == pytest.approx((8.3 + 1.01325) * WARMED - 1.01325)
    assert leg.set_bar.value == pytest.approx((9.0 + 1.01325) / WARMED - 1.01325)
    assert leg.set_c.value == 20.0
    (shock,) = judged(with_shock_air(air_shock_job(), **USED, bore_mm=None)).predicted.rear.air_in_use
    assert shock.in_use_bar.value == pytest.approx((11.0 + 1.01325) * WARMED - 1.01325)  # no area is needed


def test_where_it_was_set_and_what_it_is_now_count() -> None:
    job = with_air(air_job(), **USED, set_in=Outside(altitude_m=1500.0))
    job = replace(job, job=replace(job.job, altitude_m=0.0), front=replace(job.front, temperature_c=10.0))
    (leg,) = judged(job).predicted.front.air_in_use
    assert leg.in_use_bar.value == pytest.approx((8.3 + ambient_pressure(1500.0) * 10) * WARMED - 1.01325)
    assert leg.set_bar.value == pytest.approx((9.0 + 1.01325) * 283.15 / 323.15 - 1.01325)


def test_check_and_json_say_it_and_without_a_temperature_nothing_is_said() -> None:
    job = with_air(air_job(), **USED)
    text = as_text("x.toml", job, judged(job))
    assert "left: for 9.00 bar there, set 8.07 bar at 20.0 °C" in text
    front = as_json("x.toml", job, judged(job))["predicted"]["front"]
    assert front["air_in_use"]["left"]["set_bar"] == pytest.approx(8.0706, abs=1e-3)
    assert judged(air_job()).predicted.front.air_in_use == ()


def test_air_of_unknown_size_is_said_to_be_compared_only() -> None:
    assert "air_compared_only" in codes(judged(with_air(air_job(), bore_mm=None)))
    assert "air_compared_only" not in codes(judged(air_job()))
