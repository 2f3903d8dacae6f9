"""A change is made as far as this machine allows and no further; where it cannot be made, the reason is the machine's."""

from __future__ import annotations

from typing import Any

import pytest

import make_samples
from judgement_jobs import PROFILES, judged, put, split
from points_jobs import LINK_MM, by_points
from stanchion.job.edit import dotted
from stanchion.job.model import Adjuster, Clicker, Job
from stanchion.job.spec import Progressive
from stanchion.judgement.criteria.riders_words import ChangeKind, ChangeRow
from stanchion.judgement.springs.stock import Stock, StockSpring
from stanchion.planning.change_edits import Hindered, change_edits
from stanchion.planning.whatif import compare

WELL = put(
    make_samples.well_set(),
    front__left__high_speed_compression=Clicker(now=8.0, total=16.0),
    rear__length_adjuster_mm=2.0,
)
"""The invented sport machine, with an adjuster for high-speed compression at the fork too."""


def row(do: ChangeKind, mm: float = 2.0) -> ChangeRow:
    return ChangeRow(do=do, clicks=2.0, turns=0.5, mm=mm, bar=0.2, steps=1.0)


def made(job: Job, do: ChangeKind, stock: Stock | None = None, mm: float = 2.0) -> dict[str, Any]:
    """What is set, by dotted path."""
    edits = change_edits(job, judged(job), row(do, mm), stock)
    assert isinstance(edits, tuple), edits
    return {dotted(edit.path): edit.value for edit in edits}


def hindered(job: Job, do: ChangeKind, stock: Stock | None = None) -> tuple[str, str]:
    """Why it cannot be made, and the field it needs."""
    found = change_edits(job, judged(job), row(do), stock)
    assert isinstance(found, Hindered), found
    return found.why, dotted(found.needs or ())


class TestDampers:
    def test_more_damping_is_fewer_clicks_out(self) -> None:
        assert made(WELL, "front_compression_more") == {"front.left.compression.now": 10.0}
        assert made(WELL, "front_compression_less") == {"front.left.compression.now": 14.0}
        assert made(WELL, "rear_rebound_more") == {"rear.rebound.now": 10.0}
        assert made(WELL, "rear_compression_less") == {"rear.low_speed_compression.now": 16.0}

    def test_one_counted_in_turns_goes_by_turns(self) -> None:
        assert made(WELL, "rear_fast_compression_more") == {"rear.high_speed_compression.now": 1.5}

    def test_both_legs_go_alike_and_as_far_as_the_nearer_end_allows(self) -> None:
        job = put(split(WELL), front__left__rebound__now=1.0, front__right__rebound__now=3.0)
        assert made(job, "front_rebound_more") == {"front.left.rebound.now": 0.0, "front.right.rebound.now": 2.0}

    def test_at_its_end_it_goes_no_further(self) -> None:
        closed = put(WELL, front__left__rebound__now=0.0)
        assert hindered(closed, "front_rebound_more") == ("closed", "front.left.rebound.now")
        opened = put(WELL, front__left__rebound__now=24.0)
        assert hindered(opened, "front_rebound_less") == ("open", "front.left.rebound.now")

    def test_outwards_the_range_must_have_been_counted(self) -> None:
        job = put(WELL, rear__rebound=Clicker(now=12.0))
        assert hindered(job, "rear_rebound_less") == ("range_unknown", "rear.rebound.total")
        assert made(job, "rear_rebound_more") == {"rear.rebound.now": 10.0}

    def test_a_position_that_is_not_recorded_is_asked_for(self) -> None:
        job = put(WELL, front__left__rebound=Clicker())
        assert hindered(job, "front_rebound_more") == ("not_recorded", "front.left.rebound.now")

    def test_an_adjuster_for_high_speed_that_nobody_recorded_is_none(self) -> None:
        job = put(WELL, front__left__high_speed_compression=Clicker())
        assert change_edits(job, judged(job), row("front_fast_compression_more")) is None

    def test_where_the_dampers_are_split_the_leg_that_has_it_is_turned(self) -> None:
        job = put(split(WELL), front__dampers_split=True, front__right__compression=Clicker())
        assert made(job, "front_compression_more") == {"front.left.compression.now": 10.0}
        one_missing = put(split(WELL), front__right__compression=Clicker())
        assert hindered(one_missing, "front_compression_more") == ("not_recorded", "front.right.compression.now")


class TestPreload:
    def test_turns_follow_from_the_thread(self) -> None:
        assert made(WELL, "front_preload_more") == {"front.left.adjuster.now": 6.0}
        assert made(WELL, "rear_preload_less", mm=1.6) == {"rear.collar.now": 0.5}

    def test_it_stops_at_fully_in(self) -> None:
        assert made(put(WELL, front__left__adjuster__now=7.5), "front_preload_more") == {"front.left.adjuster.now": 8.0}
        job = put(WELL, front__left__adjuster__now=8.0)
        assert hindered(job, "front_preload_more") == ("fully_in", "front.left.adjuster.now")
        job = put(WELL, front__left__adjuster__now=0.0)
        assert hindered(job, "front_preload_less") == ("fully_out", "front.left.adjuster.now")

    def test_rings_go_the_way_they_are_read(self) -> None:
        rings = Adjuster(counting="rings", total_turns=8.0, reading_out=5.0, reading_in=1.0, now=3.0)
        job = put(WELL, front__left__adjuster=rings)
        assert made(job, "front_preload_more") == {"front.left.adjuster.now": 2.0}
        assert made(job, "front_preload_less") == {"front.left.adjuster.now": 4.0}

    def test_without_an_adjuster_it_is_said_so(self) -> None:
        job = put(WELL, front__left__adjuster=Adjuster(counting="none"))
        assert hindered(job, "front_preload_more") == ("no_adjuster", "")

    def test_an_end_sprung_by_air_is_set_by_its_pressure(self) -> None:
        air = make_samples.air_fork()
        now = air.front.left.air.pressure_bar or 0.0
        assert made(air, "front_preload_more") == {"front.left.air.pressure_bar": pytest.approx(now + 0.2)}
        most = put(air, front__left__air__most_bar=now)
        assert hindered(most, "front_preload_more") == ("pressure_most", "front.left.air.pressure_bar")
        unknown = put(air, front__left__air__most_bar=None)
        assert hindered(unknown, "front_preload_more") == ("range_unknown", "front.left.air.most_bar")
        assert made(air, "front_preload_less") == {"front.left.air.pressure_bar": pytest.approx(now - 0.2)}


class TestSprings:
    def test_without_a_stock_it_is_the_next_rate_that_is_sold_and_the_old_coils_go(self) -> None:
        found = made(WELL, "front_spring_stiffer")
        assert found.pop("front.left.spring.rate_n_per_mm") == 9.75
        assert list(found) == ["front.left.spring.coils"]
        assert made(WELL, "rear_spring_softer")["rear.spring.rate_n_per_mm"] == 77.5

    def test_with_a_stock_only_what_is_in_it_and_enough_of_it(self) -> None:
        rows = (
            StockSpring(end="front", rate_n_per_mm=9.75, free_length_mm=250.0, count=1),
            StockSpring(end="front", rate_n_per_mm=10.0, free_length_mm=240.0, count=2),
            StockSpring(end="front", rate_n_per_mm=10.5, free_length_mm=250.0, count=2),
            StockSpring(end="front", rate_n_per_mm=11.0, count=2),
        )
        assert made(WELL, "front_spring_stiffer", Stock(rows))["front.left.spring.rate_n_per_mm"] == 10.5
        assert hindered(WELL, "front_spring_softer", Stock(rows)) == ("not_in_stock", "front.left.spring.rate_n_per_mm")
        assert hindered(WELL, "front_spring_stiffer", Stock(rows[:1]))[0] == "not_in_stock"
        assert made(WELL, "rear_spring_stiffer", Stock(rows))["rear.spring.rate_n_per_mm"] == 82.5

    def test_a_rising_rate_has_no_next_step(self) -> None:
        job = put(WELL, front__left__spring__rate_n_per_mm=Progressive(8.5, 10.5))
        assert hindered(job, "front_spring_stiffer")[0] == "no_one_rate"


class TestAirGapAndHeights:
    def test_an_air_gap_stops_at_what_the_manual_allows(self) -> None:
        job = put(WELL, front__air_gap_least_mm=109.0)
        assert made(job, "front_air_gap_less", mm=5.0) == {"front.left.air_gap_mm": 109.0}
        at_least = put(WELL, front__air_gap_least_mm=110.0)
        assert hindered(at_least, "front_air_gap_less") == ("gap_least", "front.left.air_gap_mm")
        assert made(at_least, "front_air_gap_more", mm=5.0) == {"front.left.air_gap_mm": 115.0}

    def test_without_a_least_one_the_usual_limit_holds(self) -> None:
        assert hindered(put(WELL, front__left__air_gap_mm=40.0), "front_air_gap_less")[0] == "gap_least"
        assert hindered(put(WELL, front__left__air_gap_mm=250.0), "front_air_gap_more")[0] == "gap_most"

    def test_tubes_go_down_until_they_are_flush(self) -> None:
        assert made(WELL, "front_lower") == {"front.fork_height_mm": 8.0}
        assert made(put(WELL, front__fork_height_mm=1.0), "front_higher") == {"front.fork_height_mm": 0.0}
        assert hindered(put(WELL, front__fork_height_mm=0.0), "front_higher")[0] == "tubes_flush"

    def test_a_shock_is_not_set_shorter_than_its_datum(self) -> None:
        assert made(WELL, "rear_higher") == {"rear.length_adjuster_mm": 4.0}
        assert made(WELL, "rear_lower") == {"rear.length_adjuster_mm": 0.0}
        assert hindered(put(WELL, rear__length_adjuster_mm=0.0), "rear_lower")[0] == "at_datum"
        assert hindered(put(WELL, rear__length_adjuster_mm=None), "rear_higher")[0] == "not_recorded"

    @pytest.mark.parametrize("do", ["rear_higher", "rear_lower"])
    def test_without_a_length_adjuster_the_link_moves_the_rear_the_way_wanted(self, do: ChangeKind) -> None:
        job = put(by_points(), rear__length_adjuster_mm=None, rear__link_mm=LINK_MM)
        (length,) = made(job, do, mm=1.0).values()
        assert abs(length - LINK_MM) == pytest.approx(1.0)
        rise = compare(job, put(job, rear__link_mm=length), PROFILES).row(("rear",), "rise").change or 0.0
        assert (rise > 0.0) is (do == "rear_higher")
