"""Where another spring is asked for: its rate, how it is installed and the sags to expect, the same in every place.

Expected numbers are worked out here by the balance of forces along the fork: W = sum of k (P + x).
"""

from __future__ import annotations

from pathlib import Path
from typing import cast

import pytest

import stanchion
from judgement_jobs import PROFILES, judged, put, repeated, sag_end
from stanchion.job.codec import loads
from stanchion.job.edit import apply
from stanchion.job.model import ENDS, End, Job, SagEnd
from stanchion.judgement.assess import assess
from stanchion.judgement.results.findings import Finding
from stanchion.judgement.springs.stock import Stock, StockSpring
from stanchion.planning.spring_choice import choose
from stanchion.planning.spring_edits import as_edits
from stanchion.report.check import as_text
from stanchion.report.check_json import as_json
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_text import sheet_text
from stanchion.units.known_units import Units
from stanchion.wording.finding_words import sentence
from true_machines.machines import case

SAMPLES = Path(stanchion.__file__).parents[2] / "sample_jobs"
SOFT = loads((SAMPLES / "soft_springs.toml").read_bytes()).job


def advice(job: Job, end: End = "front") -> Finding:
    given = judged(job).predicted.end(end).target
    assert given is not None
    return given


def one_line(text: str) -> str:
    return " ".join(text.split())


class TestTheSoftSprings:
    """Fork of 2 x 8 N/mm with 20 mm installed and 8 mm more at the adjuster: rider 34.5, static 12.33 mm."""

    RATE, INSTALLED = 10.25, 11.5
    """The standard step whose sags lie best, with the middle of the band 8 to 15 mm."""

    def test_the_advice_names_rate_preload_turns_and_both_sags(self) -> None:
        given = advice(SOFT).values
        carried = [2.0 * 8.0 * (28.0 + sag_mm) for sag_mm in (37.0 / 3.0, 34.5)]
        turned_mm = cast(float, given["new_turns"])  # 1 mm a turn
        static, rider = (n / (2.0 * self.RATE) - self.INSTALLED - turned_mm for n in carried)
        assert (given["new_rate_n_per_mm"], given["new_installed_mm"], given["each"]) == (10.25, 11.5, True)
        assert given["rider_after_mm"] == pytest.approx(33.6, abs=0.05)
        # Trapped air carries a few newton more.
        assert rider == pytest.approx(cast(float, given["rider_after_mm"]), abs=0.6)
        assert static == pytest.approx(cast(float, given["static_after_mm"]), abs=0.6)
        assert sentence(advice(SOFT)).endswith(
            "fit a stiffer spring with less preload, about 10.25 N/mm each with 11.5 mm installed, adjuster 3.75 turns "
            "in; expect rider 33.6 mm, static 15.9 mm."
        )

    def test_every_place_says_the_same(self) -> None:
        assessment = judged(SOFT)
        said = (
            "about 10.25 N/mm each with 11.5 mm installed, adjuster 3.75 turns in; expect rider 33.6 mm, static 15.9 mm"
        )
        assert one_line(as_text("a", SOFT, assessment)).count(said) == 2  # as a finding, and for the target
        assert said in one_line(sheet_text(make_sheet(SOFT, assessment)))
        assert said in str(as_json("a", SOFT, assessment))
        first = choose(SOFT, assessment, PROFILES, "front").options[0]
        assert (first.mean_rate_n_per_mm, first.installed_mm) == (self.RATE, self.INSTALLED)
        assert first.best.rider_mm.value == advice(SOFT).values["rider_after_mm"]
        assert first.best.static_mm.value == advice(SOFT).values["static_after_mm"]

    def test_what_is_promised_comes_about(self) -> None:
        unread = put(SOFT, sag__front=SagEnd(), front__left__spring__rate_n_per_mm=7.5)
        promised = advice(unread).values
        first = choose(unread, judged(unread), PROFILES, "front").options[0]
        job = unread
        for edit in as_edits(first, job, set_adjuster=True):
            job = apply(job, edit)
        after = judged(job).predicted.front
        assert after.rider.sag_mm.value == pytest.approx(promised["rider_after_mm"], abs=0.01)
        assert after.static.sag_mm.value == pytest.approx(promised["static_after_mm"], abs=0.01)

    def test_in_other_units(self) -> None:
        assert "about 58.5 lb/in each with 0.453 in installed" in sentence(
            advice(SOFT), Units(lengths="in", rates="lb/in")
        )


def test_where_no_rate_is_known_the_advice_says_why() -> None:
    without = put(SOFT, front__left__spring__rate_n_per_mm=None, weights__front_aboard_kg=None)
    words = sentence(advice(without))
    assert "with less preload. No rate can be named: needs the rider's share on the front" in words
    without = put(SOFT, rear__motion_ratio=None, sag__rear=repeated(sag_end(6.0, 40.0)))
    words = sentence(advice(without, "rear"))
    assert "Fit a stiffer one. To know which rate, enter motion ratio." in words


def test_with_installed_preload_at_its_limit_the_new_springs_get_a_new_spacer() -> None:
    job = put(
        SOFT,
        sag__front=SagEnd(),
        front__left__spring__set_length_mm=235.0,
        front__left__spring__set_length_in_mm=227.0,
        front__left__adjuster__now=1.0,
    )
    given = advice(job)
    assert given.code == "stiffer_at_limit"
    assert given.values["installed_mm"] == 15.0
    assert given.values["new_installed_mm"] == 11.5


def test_random_machines_are_told_the_first_row_of_the_list() -> None:
    told = 0
    for seed in range(5001, 5151):
        job = case(seed).job
        assessment = assess(job, PROFILES)
        for end in ENDS:
            given = assessment.predicted.end(end).target
            if given is None or given.values.get("way") not in ("stiffer", "softer"):
                continue
            rate = cast("float | None", given.values.get("new_rate_n_per_mm"))
            if rate is None:
                assert "rate_problem" in given.values or "rate_needs" in given.values, seed
                continue
            first = choose(job, assessment, PROFILES, end).options[0]
            assert first.mean_rate_n_per_mm == rate, seed
            assert first.best.rider_mm.value == pytest.approx(given.values["rider_after_mm"]), seed
            now = [fitting.spring.rate_n_per_mm for fitting in first.fittings]
            assert not first.fitted_now, (seed, now)
            told += 1
    assert told >= 20


@pytest.mark.parametrize(("seed", "end"), [(25, "rear"), (37, "front"), (64, "rear"), (102, "rear")])
def test_no_rate_that_is_sold_lies_better_than_the_one_advised(seed: int, end: End) -> None:
    """Every rate of the window is listed as a spring in stock; by the order of that list none comes before it."""
    job = case(seed).job
    assessment = assess(job, PROFILES)
    target = assessment.predicted.end(end).target
    assert target is not None
    named = cast(float, target.values["new_rate_n_per_mm"])
    window = choose(job, assessment, PROFILES, end).window_n_per_mm
    assert window is not None
    step, legs = (0.25, 2) if end == "front" else (2.5, 1)
    numbers = range(int(window[0] / step) + 1, int(window[1] / step) + 1)
    in_stock = tuple(StockSpring(end=end, rate_n_per_mm=step * number, count=legs) for number in numbers)
    listed = choose(job, assessment, PROFILES, end, Stock(in_stock)).options
    alike = [one for one in listed if len({f.spring.rate_n_per_mm for f in one.fittings}) == 1 and one.used]
    assert alike[0].mean_rate_n_per_mm == named, (named, [one.mean_rate_n_per_mm for one in alike])
    assert len(alike) > 10


def test_the_list_turns_no_spring_loose_either() -> None:
    """2 mm installed and loose below 3 mm: one millimetre stays in, in the list as in the advice."""
    job = case(1201278).job
    assessment = assess(job, PROFILES)
    given = assessment.sag.rear.advice
    assert given is not None
    band = PROFILES.by_name[job.job.use].end("rear").installed_preload
    assert band is not None
    assert band.loose_below == 3.0
    rows = choose(job, assessment, PROFILES, "rear").options
    assert all(one.installed_mm + one.added_mm >= 3.0 - 1e-6 for one in rows)
    assert rows[0].fitted_now
    turns = rows[0].turns_for_target.value
    assert turns is not None
    assert -turns == pytest.approx(given.values["turns"])
