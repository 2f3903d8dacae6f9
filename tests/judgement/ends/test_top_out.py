"""Which legs of a fork have the top-out spring, and what follows from it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from scipy.optimize import brentq

from air_jobs import air_job
from judgement_jobs import FULL, codes, found, judged, put
from stanchion.job.codec import dumps, loads
from stanchion.job.model import AirLeg, Job, Leg, Side, TopOut
from stanchion.report.sheet_tables import fork_facts
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import sentence

TOP_OUT = TopOut(fitted="yes", rate_n_per_mm=30.0, works_over_mm=20.0)
EMPTY = Leg(spring_fitted=False)


def one_spring(legs: str = "unknown", *, left: bool = True) -> Job:
    """A fork with its spring, 9.5 N/mm at 14 mm of preload, in one leg."""
    job = put(FULL, front__top_out=TOP_OUT, front__top_out_legs=legs)
    leg = job.front.left
    return put(job, front__left=leg if left else EMPTY, front__right=EMPTY if left else leg)


def hangs(job: Job) -> float | None:
    return judged(job).marker_references["front"].hanging_mm.value


@pytest.mark.parametrize(
    ("legs", "springs"),
    [("unknown", 1), ("sprung", 1), ("left", 1), ("right", 1), ("both", 2)],
)
@pytest.mark.parametrize("left", [True, False])
def test_every_top_out_spring_that_is_said_to_be_there_pulls(legs: str, springs: int, left: bool) -> None:
    """By hand: 9.5 (14 + x) = n 30 (20 - x), wherever the springs stand."""
    assert hangs(one_spring(legs, left=left)) == pytest.approx((springs * 600 - 9.5 * 14) / (springs * 30 + 9.5))


def test_what_was_taken_is_said_until_somebody_says_which() -> None:
    finding = found(judged(one_spring()), "top_out_legs_taken")
    assert finding.where == ("front", "top_out_legs")
    assert sentence(finding).endswith("in the leg with the main spring. Enter which legs have one.")
    assert "top_out_legs_taken" not in codes(judged(one_spring("sprung")))
    two_springs = put(FULL, front__top_out=TOP_OUT, front__right=FULL.front.left)
    assert "top_out_legs_taken" not in codes(judged(two_springs))
    assert "top_out_legs_taken" not in codes(judged(put(one_spring(), front__top_out__fitted="no")))


def test_a_length_read_in_a_leg_without_the_top_out_spring_is_read_on_the_stop() -> None:
    leg = replace(FULL.front.left, read_at="touching")
    job = put(one_spring("right"), front__left=leg)
    assert judged(job).front.left.read_at_mm == 0.0
    assert judged(put(job, front__top_out_legs="left")).front.left.read_at_mm == 20.0


def air_leg_at(x: float) -> float:
    """Force of a leg of 34 mm bore, 380 ml and 2 bar without a balance chamber, slowly: by hand, p V = const."""
    area, ambient = math.pi / 4 * 34.0**2, 0.101325
    return area * ((0.2 + ambient) * 380_000.0 / (380_000.0 - area * x) - ambient)


@pytest.mark.parametrize(("legs", "springs"), [("unknown", 1), ("sprung", 1), ("left", 1), ("right", 1), ("both", 2)])
def test_a_fork_sprung_by_air_in_one_leg_hangs_on_its_top_out_spring(legs: str, springs: int) -> None:
    """By hand: air (x) = n 30 (20 - x) less what the wheel pulls, 12 kg along a fork raked 27°."""
    job = air_job(AirLeg(fitted=True, pressure_bar=2.0, bore_mm=34.0, volume_ml=380.0, balance="none"))
    job = put(job, front__top_out=TOP_OUT, front__top_out_legs=legs)
    pulled = 12.0 * 9.80665 * math.cos(math.radians(27.0))
    by_hand = brentq(lambda x: air_leg_at(x) + pulled - springs * 30.0 * (20.0 - x), 0.0, 20.0)
    assert hangs(job) == pytest.approx(by_hand, abs=1e-3)
    assert ("top_out_legs_taken" in codes(judged(job))) == (legs == "unknown")


def test_two_springs_and_one_top_out_spring() -> None:
    """By hand: 2 · 9.5 (14 + x) = 30 (20 - x)."""
    job = put(FULL, front__top_out=TOP_OUT, front__top_out_legs="left", front__right=FULL.front.left)
    assert hangs(job) == pytest.approx((600 - 19 * 14) / 49)
    assert found(judged(job), "top_out_reads_lower").values["share"] == pytest.approx(30 / 49)


def test_the_sheet_says_which_legs_have_it() -> None:
    rows = dict(fork_facts(one_spring("both"), judged(one_spring("both")), METRIC).rows)
    assert list(rows["Top-out spring"]) == ["fitted, both legs"]


@pytest.mark.parametrize(("legs", "springs"), [("unknown", 2), ("sprung", 2), ("both", 2), ("left", 1), ("right", 1)])
def test_it_counts_in_the_leg_named_where_both_are_entered_as_one(legs: str, springs: int) -> None:
    """By hand: 2 · 9.5 (14 + x) = n 30 (20 - x); the same as where each leg is entered."""
    job = put(FULL, front__top_out=TOP_OUT, front__top_out_legs=legs)
    assert hangs(job) == pytest.approx((springs * 600 - 19 * 14) / (springs * 30 + 19))
    assert hangs(job) == pytest.approx(hangs(put(job, front__right=job.front.left)))
    rows = dict(fork_facts(job, judged(job), METRIC).rows)
    assert ("," in next(iter(rows["Top-out spring"]))) == (legs != "unknown")


@pytest.mark.parametrize("named", ["left", "right"])
@pytest.mark.parametrize("read_at", ["stop", "touching", "assembled"])
def test_only_the_leg_named_is_read_off_the_stop_where_both_are_entered_as_one(named: str, read_at: str) -> None:
    """Touching, by hand: the leg named has 14 - 20 mm at the stop and comes loose there, the other 14 mm."""
    leg = replace(FULL.front.left, read_at=read_at)
    job = put(FULL, front__top_out=TOP_OUT, front__top_out_legs=named, front__left=leg)
    apart = put(job, front__right=leg)
    if read_at == "assembled":
        # xr = max(0, 20 - 9.5 u / 30): 16.2 at 12 mm and 13.667 at 20, so that the range is 8 + 2.533 mm. Two legs
        # entered as one have one adjuster; entered apart, the other's range is what was read in it.
        opposite: Side = "right" if named == "left" else "left"
        assert judged(job).front.leg(opposite).adjuster_range_mm.value == pytest.approx(8.0 + 9.5 * 8.0 / 30.0)
        apart = put(apart, **{f"front__{opposite}__spring__set_length_in_mm": 230.0 - 9.5 * 8.0 / 30.0})
    assert hangs(job) == pytest.approx(hangs(apart))
    if read_at == "touching":
        # 9.5 (14 + x) + 9.5 max(0, x - 6) = 30 (20 - x), with x beyond 6
        assert hangs(job) == pytest.approx((600 - 9.5 * 8) / 49)
    one, other = judged(job), judged(apart)
    assert one.front.rate_n_per_mm == other.front.rate_n_per_mm
    assert one.front.leg(named).read_at_mm == other.front.leg(named).read_at_mm  # type: ignore[arg-type]
    assert one.predicted.front.rider.sag_mm.value == pytest.approx(other.predicted.front.rider.sag_mm.value)
    assert codes(one).count("read_off_the_stop") == codes(other).count("read_off_the_stop")
    assert all(finding.where[:2] != ("front", "right") for finding in one.findings)
    for note in (sentence(each) for each in one.findings if each.code == "read_off_the_stop"):
        assert f"off the stop in the {named} leg, which alone has a top-out spring: installed" in note
    both = judged(put(job, front__top_out_legs="both"))
    assert "which alone" not in "".join(map(sentence, both.findings))


def test_it_is_kept_in_the_file_and_one_without_it_opens_unchanged() -> None:
    written = dumps(one_spring("both"))
    assert b'top_out_legs = "both"' in written
    assert loads(written).job == one_spring("both")
    assert b"top_out_legs" not in dumps(one_spring())
