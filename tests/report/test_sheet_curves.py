"""The force curve of each end beside that of the job before, where it was changed."""

from __future__ import annotations

import re

import pytest

from judgement_jobs import PROFILES, put
from stanchion.bench.handover import sheet_for
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.report.sheet_curves import force_curves
from stanchion.report.sheet_shape import ForceCurve
from stanchion.store.samples import samples
from stanchion.units.known_units import METRIC, Units

SOFT = next(loads(sample.data).job for sample in samples() if sample.name == "soft_springs")
STIFFER = put(SOFT, front__left__spring__rate_n_per_mm=10.5)


def curves(now: Job, then: Job | None, units: Units = METRIC) -> list[ForceCurve]:
    before = None if then is None else assess(then, PROFILES)
    return list(force_curves(now, assess(now, PROFILES, then), then, before, units))


def test_only_the_end_that_was_changed_is_drawn_with_both_curves() -> None:
    (fork,) = curves(STIFFER, SOFT)
    assert fork.name == "Force along the fork"
    preload, travel = 20.0 + 8.0, 120.0  # installed and the adjuster fully in; both legs
    more = fork.now[-1][1] - fork.before[-1][1]
    assert more == pytest.approx(2 * (10.5 - 8.0) * (preload + travel), abs=0.5)
    assert fork.now[0][1] - fork.before[0][1] == pytest.approx(2 * (10.5 - 8.0) * preload, abs=0.5)
    assert (fork.at_full, fork.at_full_before, fork.since) == ("3498 N", "2758 N", "2026-05-16")
    (rear,) = curves(put(SOFT, rear__spring__rate_n_per_mm=100.0), SOFT)
    assert rear.name == "Force at the rear wheel"


def test_nothing_is_drawn_where_nothing_changed_or_nothing_is_known() -> None:
    assert not curves(SOFT, SOFT)
    assert not curves(SOFT, None)
    assert not curves(STIFFER, Job())
    assert not curves(put(SOFT, front__left__rebound__now=3.0), SOFT)


def test_the_sheet_draws_it_in_two_lines_with_words_beside() -> None:
    page = sheet_for(STIFFER, PROFILES, SOFT, Units(masses="lb"), html=True)
    lines = dict(re.findall(r'<polyline class="(\w+)" fill="none" points="([^"]+)"', page))
    assert set(lines) == {"before", "curve"}
    ends = {name: float(points.rsplit(",", 1)[1]) for name, points in lines.items()}
    assert ends["curve"] < ends["before"], "the stiffer one is above"
    assert "now: 786.4 lbf at full travel; 2026-05-16: 620.1 lbf" in page  # 3498.1 N and 2758.1 N / 4.4482216 N
    assert "polyline" not in sheet_for(SOFT, PROFILES, SOFT, html=True)
    assert "polyline" not in sheet_for(STIFFER, PROFILES, None, html=True)
