"""The machine from the side in characters: to scale, with what the scales read under its wheels, and only where it helps."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sheet_jobs import JOBS
from stanchion.job.codec import loads
from stanchion.job.model import Weights
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.report.sheet import side_view
from stanchion.report.sheet_shape import Mark, SideView, Travel
from stanchion.store.samples import samples
from stanchion.ui.side_drawing import side_lines
from stanchion.units.known_units import METRIC

VIEW = SideView(
    state="rider aboard",
    rake_deg=24.0,
    rake="24.00°",
    trail=Mark("trail", 100.0, "100.0 mm"),
    wheelbase=Mark("wheelbase", 1400.0, "1400.0 mm"),
    offset_mm=30.0,
    front_radius_mm=300.0,
    rear_radius_mm=310.0,
    front_sag_mm=33.0,
    rear_sag_mm=28.0,
    fork=Travel(
        "Fork",
        Mark("full travel", 120.0, "120.0 mm"),
        (Mark("static", 20.0, "20.0 mm"), Mark("deepest", 110.0, "110.0 mm")),
    ),
    rear=None,
    front_load="130.0 kg",
    rear_load="120.0 kg",
)


def drawn(view: SideView, width: int, height: int, *, plain: bool = False) -> list[str]:
    return [str(line) for line in side_lines(view, width, height, plain=plain)]


@pytest.mark.parametrize("plain", [False, True])
@pytest.mark.parametrize("width", [44, 54, 80])
def test_the_wheels_are_as_far_apart_as_the_wheelbase_on_the_scale_of_the_wheels(width: int, *, plain: bool) -> None:
    lines = drawn(VIEW, width, 24, plain=plain)
    ground = next(at for at, line in enumerate(lines) if "kg" in line) - 1
    bar = lines[ground + 2]
    apart = bar.index("┤") - bar.index("├")
    scale_mm = 1400.0 / apart
    rows_mm = 2.0 * scale_mm  # a character is about twice as high as wide
    high = ground - next(
        at for at, line in enumerate(lines[1:], 1) if line[: bar.index("├") + 6].strip(" \u2800") and "rake" not in line
    )
    assert high + 1 == pytest.approx(620.0 / rows_mm, abs=1.5)
    assert all(len(line) <= width for line in lines)
    assert plain == ("*" in lines[ground])


def test_loads_stand_under_their_wheels_and_sags_on_their_travel() -> None:
    lines = drawn(VIEW, 60, 20)
    loads = next(line for line in lines if "kg" in line)
    bar = lines[lines.index(loads) + 1]
    for words, end in (("120.0 kg", "├"), ("130.0 kg", "┤")):
        middle = loads.index(words) + len(words) / 2
        assert middle == pytest.approx(bar.index(end) + 0.5, abs=1.0)
    assert " wheelbase 1400.0 mm " in bar
    assert any("rake 24.00°, trail 100.0 mm" in line for line in lines)
    fork = next(line for line in lines if line.startswith("Fork"))
    inside = fork[5 : fork.index("┤") + 1]
    assert inside.index("S") == pytest.approx((len(inside) - 1) * 20 / 120, abs=1)
    assert inside.index("M") == pytest.approx((len(inside) - 1) * 110 / 120, abs=1)
    assert lines[-1] == "S alone, M deepest"
    assert not any(line.startswith("Rear") for line in lines)


def test_it_is_left_out_where_it_would_not_be_legible() -> None:
    assert drawn(VIEW, 43, 30) == []
    assert drawn(VIEW, 60, 14) == []
    unloaded = drawn(replace(VIEW, front_load="", rear_load="", fork=None), 60, 20)
    assert "kg" not in "".join(unloaded)
    old = replace(
        VIEW, fork=Travel("Fork", Mark("full travel", 120.0, "120.0 mm"), (Mark("static", 20.0, "", old=True),))
    )
    assert drawn(old, 60, 20)[-1] == "S alone; a sag is old"


def test_every_sample_with_its_geometry_is_drawn() -> None:
    views = []
    for sample in samples():
        job = loads(sample.data).job
        view = side_view(job, assess(job, load_profiles()), METRIC)
        views += [view] if view is not None else []
    assert views
    assert all(len(drawn(view, 54, 20)) >= 14 for view in views)


def test_the_drawing_marks_estimates_as_the_table_beside_it_does() -> None:
    job = JOBS["carried_forward"]
    without_scales = replace(Weights(), machine_kg=170.0, front_share_pct=51.0, rider_front_share_pct=48.0)
    shared = replace(job, weights=without_scales)
    for estimate, of in ((True, shared), (False, JOBS["well_set"])):
        a = assess(of, load_profiles())
        view = side_view(of, a, METRIC)
        assert view is not None
        assert a.geometry.rake_deg.estimate is estimate
        assert view.rake.endswith("~") is view.trail.text.endswith("~") is estimate
