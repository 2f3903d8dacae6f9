"""The sample jobs are sound, invented, and show what they were made to show."""

from __future__ import annotations

from math import cos, pi, radians
from statistics import mean

import pytest

import make_samples
from stanchion.bundled import bundled_files
from stanchion.job.codec import dumps, loads
from stanchion.job.model import ENDS, SIDES, STATES, Job, Readings, SagEnd
from stanchion.samples import samples

JOBS = {name: loads(data).job for name, data in bundled_files("sample_jobs")}
MEASURED = [name for name, job in JOBS.items() if job.sag.front.hanging_mm]

# Masses, shares and rakes of the invented scenario, as make_samples.py states them.
G = 9.80665
SPORT_FRONT_N = (170 * 0.51 - 13) * G * cos(radians(23.5))
SPORT_REAR_N = (170 * 0.49 - 15) * G
OFF_ROAD_FRONT_N = (110 * 0.48 - 12) * G * cos(radians(27))


def sag_of(end: SagEnd, state: Readings) -> float:
    return mean(end.hanging_mm) - (mean(state.down_mm) + mean(state.up_mm)) / 2


class TestFiles:
    @pytest.mark.parametrize("name", JOBS)
    def test_the_file_is_what_its_maker_gives(self, name: str) -> None:
        """After a change of the format or of the samples: python tests/make_samples.py"""
        assert dict(bundled_files("sample_jobs"))[name] == dumps(make_samples.SAMPLES[name]())

    def test_every_sample_ships(self) -> None:
        assert set(JOBS) == set(make_samples.SAMPLES)

    @pytest.mark.parametrize("name", JOBS)
    def test_it_opens_as_a_whole_file_that_nobody_edited(self, name: str) -> None:
        loaded = loads(dict(bundled_files("sample_jobs"))[name])
        assert not loaded.edited_by_hand
        assert not loaded.read_only
        assert loaded.job.unknown == ()

    @pytest.mark.parametrize("name", JOBS)
    def test_it_says_that_it_is_invented(self, name: str) -> None:
        occasion = JOBS[name].job
        assert occasion.sample
        assert "(invented)" in occasion.venue
        assert "invented" in occasion.notes.splitlines()[0]
        assert all(len(part) == 2 and part.endswith(".") for part in occasion.rider.split())  # initials, nobody's name

    def test_each_has_a_title_of_its_own_that_fits_a_line(self) -> None:
        titles = [sample.title for sample in samples()]
        assert len(set(titles)) == len(titles) >= 6
        assert all(0 < len(title) <= 56 for title in titles)

    def test_the_well_set_machine_comes_first(self) -> None:
        assert samples()[0].name == "well_set"

    def test_the_one_carried_forward_stands_beside_the_one_it_came_from(self) -> None:
        assert JOBS["carried_forward.toml"].job.carried_from in JOBS


class TestReadingsAreWhatTheSpringsWouldGive:
    """Force balance along the leg and at the wheel, g of NIST SP 811, friction and trapped air left out."""

    @pytest.mark.parametrize("name", ["well_set.toml", "soft_springs.toml", "mismatched_lengths.toml"])
    def test_front_static_sag_of_the_sport_machine(self, name: str) -> None:
        front, sag = JOBS[name].front, JOBS[name].sag.front
        assert sag_of(sag, sag.static) == pytest.approx(along(JOBS[name], SPORT_FRONT_N), abs=1.5)
        assert front.travel_mm is not None
        assert sag_of(sag, sag.rider) < front.travel_mm / 2

    @pytest.mark.parametrize("name", ["well_set.toml", "soft_springs.toml", "mismatched_lengths.toml"])
    def test_front_rider_sag_of_the_sport_machine(self, name: str) -> None:
        sag, mass = JOBS[name].sag.front, known(JOBS[name].job.rider_mass_kg)
        load = SPORT_FRONT_N + mass * 0.48 * G * cos(radians(23.5))
        assert sag_of(sag, sag.rider) == pytest.approx(along(JOBS[name], load), abs=1.5)

    @pytest.mark.parametrize("name", ["well_set.toml", "soft_springs.toml", "mismatched_lengths.toml"])
    def test_rear_sag_of_the_sport_machine(self, name: str) -> None:
        sag, mass = JOBS[name].sag.rear, known(JOBS[name].job.rider_mass_kg)
        assert sag_of(sag, sag.static) == pytest.approx(at_the_wheel(JOBS[name], SPORT_REAR_N), abs=1.5)
        rider = SPORT_REAR_N + mass * 0.52 * G
        assert sag_of(sag, sag.rider) == pytest.approx(at_the_wheel(JOBS[name], rider), abs=1.5)

    def test_front_sag_of_the_off_road_machine(self) -> None:
        job = JOBS["off_road.toml"]
        sag, mass = job.sag.front, known(job.job.rider_mass_kg)
        assert sag_of(sag, sag.static) == pytest.approx(along(job, OFF_ROAD_FRONT_N), abs=1.5)
        rider = OFF_ROAD_FRONT_N + mass * 0.35 * G * cos(radians(27))
        assert sag_of(sag, sag.rider) == pytest.approx(along(job, rider), abs=1.5)

    @pytest.mark.parametrize("name", MEASURED)
    def test_lifted_reads_longer_than_pushed_down(self, name: str) -> None:
        for end in ENDS:
            for state in (JOBS[name].sag.end(end).static, JOBS[name].sag.end(end).rider):
                assert len(state.down_mm) == len(state.up_mm) >= 2
                assert min(state.up_mm) > max(state.down_mm)

    def test_the_linkage_s_pairs_rise_and_end_within_the_stroke(self) -> None:
        rear = JOBS["off_road.toml"].rear
        wheel, shock = ([getattr(pair, name) for pair in rear.linkage] for name in ("wheel_mm", "shock_mm"))
        assert wheel == sorted(set(wheel))
        assert shock == sorted(set(shock))
        assert rear.stroke_mm is not None
        assert shock[-1] <= rear.stroke_mm


def preload(job: Job, side: str) -> float:
    leg = job.front.leg("left" if side == "left" else "right")
    return (
        known(leg.spring.free_length_mm)
        - known(leg.spring.set_length_mm)
        + (leg.adjuster.now or 0.0) * (leg.adjuster.pitch_mm or 0.0)
    )


def along(job: Job, load_n: float) -> float:
    """Compression of the fork under a load along it: both springs, no top-out spring."""
    rates = [job.front.leg(side).spring.rate_n_per_mm or 0.0 for side in SIDES]
    forces = sum(rate * preload(job, side) for rate, side in zip(rates, SIDES, strict=True))
    return (load_n - forces) / sum(rates)


def at_the_wheel(job: Job, load_n: float) -> float:
    """Wheel travel under a load, one motion ratio: spring and gas."""
    rear = job.rear
    spring, collar, ratio = rear.spring, rear.collar, known(rear.motion_ratio)
    preload_mm = known(spring.free_length_mm) - known(spring.set_length_mm) + known(collar.now) * known(collar.pitch_mm)
    gas_n = known(rear.gas_pressure_bar) * 0.1 * pi / 4 * known(rear.shaft_mm) ** 2
    return ((load_n / ratio - gas_n) / known(spring.rate_n_per_mm) - preload_mm) / ratio


def known(value: float | None) -> float:
    assert value is not None
    return value


class TestWhatIsRecorded:
    def test_the_common_practice_fork_gives_12_mm_installed_8_mm_of_range_and_20_mm_at_most(self) -> None:
        """Common practice, no published source: free 250, set 238 fully out, 230 fully in."""
        spring = JOBS["well_set.toml"].front.left.spring
        assert (spring.free_length_mm, spring.set_length_mm, spring.set_length_in_mm) == (250, 238, 230)

    def test_the_half_filled_job_has_no_sag_and_no_set_length(self) -> None:
        job = JOBS["half_filled.toml"]
        assert job.front.left.spring.set_length_mm is None
        assert not any(job.sag.end(end).hanging_mm for end in ENDS)

    def test_the_carried_job_has_its_sag_still_to_take(self) -> None:
        sag = JOBS["carried_forward.toml"].sag
        readings = [
            sag.end(end).static if state == "static" else sag.end(end).rider for end in ENDS for state in STATES
        ]
        assert all(not state.down_mm and not state.up_mm for state in readings)

    def test_road_and_track_are_not_the_only_uses_shown(self) -> None:
        assert {job.job.use for job in JOBS.values()} == {"track", "off-road"}
