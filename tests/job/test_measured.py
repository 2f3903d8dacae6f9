"""A measurement is noted with the chain and tyres that were on."""

from __future__ import annotations

from dataclasses import replace

import pytest

from complete_job import CHAIN_AND_TYRES, complete_job
from stanchion.job.measured import carried_along, noted, on_now
from stanchion.job.model import ChainAndTyres, Geometry, Job, LinkagePair, Path

OTHER = replace(complete_job(), upkeep=replace(complete_job().upkeep, front_teeth=16.0))


def test_what_is_on_now_is_what_upkeep_says() -> None:
    assert on_now(complete_job().upkeep) == CHAIN_AND_TYRES


@pytest.mark.parametrize(
    ("path", "name"),
    [
        (("rear", "motion_ratio"), "ratio_with"),
        (("rear", "linkage", 0, "wheel_mm"), "ratio_with"),
        (("geometry", "rake_deg"), "geometry_with"),
    ],
)
def test_a_measurement_entered_belongs_to_what_is_on_now(path: Path, name: str) -> None:
    after = noted(OTHER, path)
    assert getattr(after.upkeep, name) == on_now(OTHER.upkeep)
    other = ({"ratio_with", "geometry_with"} - {name}).pop()
    assert getattr(after.upkeep, other) == CHAIN_AND_TYRES
    assert replace(after, upkeep=OTHER.upkeep) == OTHER


def test_any_other_entry_notes_nothing() -> None:
    assert noted(OTHER, ("rear", "stroke_mm")) is OTHER


def test_the_next_occasion_takes_what_was_not_known_from_what_was_on() -> None:
    job = replace(OTHER, upkeep=replace(OTHER.upkeep, ratio_with=ChainAndTyres(front_teeth=15.0)))
    along = carried_along(job)
    assert along.ratio_with == CHAIN_AND_TYRES
    assert along.geometry_with == CHAIN_AND_TYRES


def test_what_was_never_measured_is_noted_with_nothing() -> None:
    rear = replace(OTHER.rear, motion_ratio=None, linkage=())
    along = carried_along(replace(OTHER, rear=rear, geometry=Geometry()))
    assert (along.ratio_with, along.geometry_with) == (ChainAndTyres(), ChainAndTyres())
    pairs: Job = replace(OTHER, rear=replace(rear, linkage=(LinkagePair(wheel_mm=0.0, shock_mm=0.0),)))
    assert carried_along(pairs).ratio_with != ChainAndTyres()
