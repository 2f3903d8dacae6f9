"""What the sags of both ends say together."""

from __future__ import annotations

from judgement_jobs import judged, put
from sheet_jobs import JOBS


def test_pressure_at_one_end_and_a_spring_at_the_other_are_judged_each_by_itself() -> None:
    """An air fork at its highest pressure, and a shock spring that is too soft, both for targets of the track."""
    job = put(JOBS["air_fork"], job__use="track", front__left__air__most_bar=9.6)
    codes = [finding.code for finding in judged(job).findings]
    assert {"air_at_most", "too_soft"} <= set(codes)
    assert not {"part_not_judged", "both_ends_sag_much", "both_ends_sag_little"} & set(codes)
