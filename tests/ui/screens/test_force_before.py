"""The force curve of the job before is drawn in grey beside the present one, on one scale, where it was changed."""

from __future__ import annotations

import pytest

from judgement_jobs import PROFILES, put
from stanchion.bench.session import Session
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.store.samples import samples
from stanchion.ui.figure_rows import MUTED
from stanchion.ui.plot import curve
from stanchion.ui.predicted_lines import picture_lines

SOFT = next(loads(sample.data).job for sample in samples() if sample.name == "soft_springs")
STIFFER = put(SOFT, front__left__spring__rate_n_per_mm=10.5)
GREY = "grey: 2026-05-16, 2758 N"


def picture(now: Job, before: Job | None, *, plain: bool) -> tuple[str, int]:
    """The picture as text, and how many of its plotted cells are grey."""
    lines = picture_lines(Session(now, PROFILES, before), "front", 28, 16, plain=plain)
    plotted = lines[2:-4]
    grey = sum(
        len(line.plain[span.start : span.end].replace(" ", "").replace("\u2800", ""))
        for line in plotted
        for span in line.spans
        if str(span.style) == MUTED
    )
    return "\n".join(line.plain for line in lines), grey


@pytest.mark.parametrize("plain", [False, True])
def test_both_curves_stand_on_one_scale_where_the_force_was_changed(*, plain: bool) -> None:
    text, grey = picture(STIFFER, SOFT, plain=plain)
    assert "3498 N at full travel" in text
    assert GREY in text
    assert grey > 5
    for before in (STIFFER, None):
        text, grey = picture(STIFFER, before, plain=plain)
        assert "grey" not in text


def test_a_curve_beside_a_higher_one_does_not_reach_the_top() -> None:
    low, high = [(0.0, 0.0), (100.0, 50.0)], [(0.0, 0.0), (100.0, 100.0)]
    assert curve(low, 10, 4, plain=True, beside=high)[0] == " " * 10
    assert curve(low, 10, 4, plain=True)[0].endswith("*")
    assert curve(high, 10, 4, plain=True, beside=low) == curve(high, 10, 4, plain=True)
    assert all(line[6:].strip() == "" for line in curve([(0.0, 0.0), (50.0, 100.0)], 10, 4, plain=True, beside=high))
