"""A second spring beside the main one: taken out where that alone does it, and what another spring replaces.

SHOCK, 95 N/mm and motion ratio 0.4, with a second spring that preload takes past its gap. By the balance of forces at
the shock, F = 95 (P + s) alone, and 95 (P + s) + k2 (P + s - gap) with both.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from judgement_jobs import FULL, PROFILES, advice, judged, put, repeated_sags
from stanchion.bench.spring_stock import SpringStock
from stanchion.job.edit import apply
from stanchion.job.model import Job, SecondSpring
from stanchion.judgement.springs.stock import Stock, StockSpring
from stanchion.planning.spring_choice import choose
from stanchion.planning.spring_edits import as_edits
from stanchion.report.check import as_text
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_text import sheet_text
from stanchion.store.paths import Places
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import headline, sentence

PRELOAD = 15.0
"""12 mm installed and 2 turns of 1.5 mm in."""


def both(static: float, rider: float, rate: float, gap: float) -> Job:
    """The shock with both springs under the loads that give these sags with the main one alone."""
    second = SecondSpring(arranged="side_by_side", rate_n_per_mm=rate, gap_mm=gap)

    def read(alone: float) -> float:
        load = 95 * (PRELOAD + 0.4 * alone)
        return max(0.0, ((load + rate * gap) / (95 + rate) - PRELOAD) / 0.4)

    return put(
        FULL, rear__stroke_mm=60.0, rear__spring__second=second, sag__rear=repeated_sags(read(static), read(rider))
    )


def test_the_second_spring_is_taken_out_where_that_alone_brings_both_sags_in() -> None:
    """Static 13 and rider 33 mm alone read 6.9 and 21.0 mm with both: 14 mm apart, and the targets ask for 15 or more."""
    job = both(13.0, 33.0, rate=40.0, gap=12.0)
    given = advice(job, "rear")
    assert given.values["second_out"] is True
    assert given.values["new_rate_n_per_mm"] == 95.0
    assert headline(given) == "Take out the second spring"
    assert "With the main spring alone, 95.00 N/mm" in sentence(given)
    # Both sags move alike with the collar: 20 mm apart before, 20 mm apart then.
    static, rider = given.values["static_after_mm"], given.values["rider_after_mm"]
    assert isinstance(static, float)
    assert isinstance(rider, float)
    assert rider - static == pytest.approx(20.0, abs=0.01)
    assert 5.0 <= static <= 10.0
    assert 25.0 <= rider <= 32.0


def test_the_second_spring_that_is_taken_out_goes_into_the_stock_where_one_is_kept(tmp_path: Path) -> None:
    job = both(13.0, 33.0, rate=40.0, gap=12.0)
    van = SpringStock(Places(tmp_path, tmp_path, tmp_path, tmp_path), METRIC)
    alone = choose(job, judged(job), PROFILES, "rear").options[0]
    assert alone.fittings[0].spring.alone
    assert not van.fit(alone, job, job)  # an empty stock is not begun unasked
    kept = StockSpring(end="rear", rate_n_per_mm=100.0, free_length_mm=165.0)
    van.session.exchange(Stock((kept,)))
    assert van.fit(alone, job, job)
    assert van.session.stock.rows == (kept, StockSpring(end="rear", rate_n_per_mm=40.0))


def test_every_place_says_the_same_and_it_keeps_what_it_promises() -> None:
    job = both(13.0, 33.0, rate=40.0, gap=12.0)
    assessment = judged(job)
    given = advice(job, "rear")
    said = " ".join(sentence(given).split())
    for text in (as_text("a", job, assessment), sheet_text(make_sheet(job, assessment))):
        assert said in " ".join(text.split())
    first = choose(job, assessment, PROFILES, "rear").options[0]
    assert first.fittings[0].spring.alone
    rates = [one.mean_rate_n_per_mm for one in choose(job, assessment, PROFILES, "rear").options]
    assert rates.count(95.0) == 2  # with the second and without, but no other spring of that rate
    assert first.best.rider_mm.value == pytest.approx(given.values["rider_after_mm"])
    fitted = job
    for edit in as_edits(first, job, set_adjuster=True):
        fitted = apply(fitted, edit)
    assert not fitted.rear.spring.second.fitted
    assert fitted.rear.spring.rate_n_per_mm == 95.0


def test_where_the_main_spring_alone_is_too_soft_the_one_advised_replaces_both() -> None:
    """Alone the sags lie 40 mm apart, and the targets allow 27; with both, 13 mm."""
    job = both(20.0, 60.0, rate=200.0, gap=14.0)
    given = advice(job, "rear")
    assert "second_out" not in {name for name, value in given.values.items() if value}
    assert given.values["replaces_both"] is True
    assert "It replaces both springs." in sentence(given)


def test_one_spring_replaces_only_itself() -> None:
    given = advice(put(FULL, sag__rear=repeated_sags(4.0, 45.0)), "rear")
    assert given.values["work"] == "spring"
    assert "replaces" not in sentence(given)


def test_a_spring_that_stands_on_another_is_not_left_alone() -> None:
    second = SecondSpring(arranged="end_to_end", rate_n_per_mm=200.0, stop_mm=20.0)
    job = put(FULL, rear__spring__second=second, sag__rear=repeated_sags(4.0, 15.0))
    rows = choose(job, judged(job), PROFILES, "rear").options
    assert not any(fitting.spring.alone for one in rows for fitting in one.fittings)
