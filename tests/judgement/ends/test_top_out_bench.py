"""A top-out spring known by its readings on the bench only: it counts as if its rate and length were entered."""

from __future__ import annotations

import pytest

from judgement_jobs import codes, found, judged, put
from rates import WEIGHED, known
from stanchion.job.model import BenchPair, Job, TopOut
from stanchion.ui.form_lines import Row
from stanchion.ui.forms import front as front_form
from stanchion.units.known_units import METRIC
from stanchion.wording.finding_words import sentence

BENCH = tuple(BenchPair(travel_mm=x, force_n=30.0 * (20.0 - x)) for x in (0.0, 5.0, 10.0, 15.0))
"""30 N/mm over 20 mm, exactly."""


def with_top_out(top_out: TopOut, end: str = "front") -> Job:
    return put(WEIGHED, **{f"{end}__top_out": top_out})


ENTERED = TopOut(fitted="yes", rate_n_per_mm=30.0, works_over_mm=20.0)


@pytest.mark.parametrize("end", ["front", "rear"])
def test_predicted_sag_is_that_of_the_spring_entered(end: str) -> None:
    by_bench, entered = (judged(with_top_out(one, end)) for one in (TopOut(fitted="yes", bench=BENCH), ENTERED))
    of, alike = (getattr(a.predicted, end) for a in (by_bench, entered))
    assert known(of.static.sag_mm.value) == pytest.approx(known(alike.static.sag_mm.value))
    assert "top_out" not in of.omitted
    assert "30.00 N/mm over 20.0 mm" in sentence(found(by_bench, "top_out_by_bench"))


def test_what_is_entered_wins_and_a_difference_is_said() -> None:
    a = judged(with_top_out(TopOut(fitted="yes", rate_n_per_mm=24.0, works_over_mm=20.0, bench=BENCH)))
    other = judged(with_top_out(TopOut(fitted="yes", rate_n_per_mm=24.0, works_over_mm=20.0)))
    assert a.predicted.front.static.sag_mm == other.predicted.front.static.sag_mm
    assert "24.00 N/mm is entered, but the bench readings give 30.00 N/mm" in sentence(
        found(a, "top_out_bench_differs")
    )
    assert not {"top_out_by_bench", "top_out_bench_differs"} & {
        *codes(judged(with_top_out(TopOut(fitted="yes", rate_n_per_mm=30.0, works_over_mm=20.0, bench=BENCH))))
    }


def test_forces_that_rise_are_questioned() -> None:
    rising = tuple(BenchPair(travel_mm=x, force_n=100.0 + x) for x in (0.0, 5.0, 10.0))
    a = judged(with_top_out(TopOut(fitted="yes", bench=rising)))
    assert found(a, "top_out_bench_disordered").where == ("front", "top_out", "bench")
    assert "top_out" in a.predicted.front.omitted


def test_the_sheet_shows_what_counts_in_the_empty_fields() -> None:
    lines = front_form(with_top_out(TopOut(fitted="yes", bench=BENCH)), METRIC)
    shown = {line.cells[0]: line.texts for line in lines if isinstance(line, Row)}
    assert shown["front", "top_out", "rate_n_per_mm"] == ("30.00",)
    assert shown["front", "top_out", "works_over_mm"] == ("20.0",)
    assert ("front", "top_out", "bench", 4, "travel_mm") in shown
