"""The machine from the side in characters: to scale, with what the scales read under its wheels, and only where it helps."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from sheet_jobs import JOBS
from stanchion.job.codec import loads
from stanchion.job.model import Weights
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.judgement.predict.side_points import side_points
from stanchion.mechanics.geometry import Baseline
from stanchion.report.sheet_shape import Mark, Measure, SidePose, SideView, Travel
from stanchion.report.side_view import side_view
from stanchion.store.samples import samples
from stanchion.ui.side_drawing import side_lines
from stanchion.units.known_units import METRIC

GEOMETRY = Baseline(rake_deg=24.0, offset_mm=30.0, wheelbase_mm=1400.0, front_radius_mm=300.0, rear_radius_mm=310.0)


def millimetres(mm: float) -> Measure:
    return Measure(f"{mm:.1f}", "mm", f"{mm:.1f} mm")


ABOARD = SidePose(
    state="rider",
    name="rider aboard",
    parts=side_points(GEOMETRY, 492.0, (700.0, 620.0)),
    fork_used_mm=33.0,
    rear_used_mm=28.0,
    rake=Measure("24.00", "°", "24.00°"),
    trail=millimetres(100.0),
    wheelbase=millimetres(1400.0),
    front_load=Measure("130.0", "kg", "130.0 kg"),
    rear_load=Measure("120.0", "kg", "120.0 kg"),
)
BRAKING = replace(
    ABOARD,
    state="brakes",
    name="on the brakes, 0.90 g",
    parts=side_points(replace(GEOMETRY, rake_deg=20.0, wheelbase_mm=1372.0), 420.0),
    rake=Measure("20.00", "°", "20.00°"),
    wheelbase=millimetres(1372.0),
)
VIEW = SideView(
    poses=(ABOARD,),
    fork=Travel(
        "Fork",
        Mark("full travel", 120.0, "120.0 mm"),
        (Mark("static", 20.0, "20.0 mm"), Mark("deepest", 110.0, "110.0 mm")),
    ),
    rear=None,
)
BOTH = replace(VIEW, poses=(ABOARD, BRAKING))


def drawn(view: SideView, width: int, height: int, *, plain: bool = False, **options: Any) -> list[str]:
    return [str(line) for line in side_lines(view, width, height, plain=plain, **options)]


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
    assert "to scale; G centre of mass" in drawn(VIEW, 60, 20, whole=True)
    assert not any(line.startswith("Rear") for line in lines)


def test_it_is_left_out_where_it_would_not_be_legible() -> None:
    assert drawn(VIEW, 43, 30) == []
    assert drawn(VIEW, 60, 13) == []
    unloaded = drawn(
        replace(VIEW, poses=(replace(ABOARD, front_load=Measure(), rear_load=Measure()),), fork=None), 60, 20
    )
    assert "kg" not in "".join(unloaded)
    old = replace(
        VIEW, fork=Travel("Fork", Mark("full travel", 120.0, "120.0 mm"), (Mark("static", 20.0, "", old=True),))
    )
    assert drawn(old, 60, 20)[-1] == "S alone; a sag is old"


@pytest.mark.parametrize("plain", [False, True])
def test_another_state_is_dotted_on_the_same_ground_and_the_first_one_stays_whole(*, plain: bool) -> None:
    """Told apart without colour: the other state has fewer dots, in ASCII points for stars."""
    lines = drawn(BOTH, 60, 22, plain=plain, state="brakes", whole=True)
    assert any("dotted: rider aboard" in line for line in lines)
    assert not any("dotted" in line for line in drawn(VIEW, 60, 22, plain=plain))
    both, alone = (
        "".join(line for line in of if "*" in line and "rake" not in line)
        for of in (lines, drawn(VIEW, 60, 22, plain=plain))
    )
    assert ("." in both) is plain
    assert "." not in alone


def test_the_dive_is_drawn_as_far_as_it_is() -> None:
    """Where the axle is nearer the yokes by 72 mm, the leg is that much shorter, and the other end of the machine keeps
    its place on the ground."""
    legs = [next(part.points for part in pose.parts if part.name == "leg") for pose in BOTH.poses]
    long = [math.dist(*leg) for leg in legs]
    assert long[0] - long[1] == pytest.approx(72.0)
    rear = [next(part.points for part in pose.parts if part.name == "rear_wheel") for pose in BOTH.poses]
    assert rear[0] == rear[1]


def test_the_numbers_of_the_states_stand_beside_one_another() -> None:
    lines = drawn(BOTH, 56, 30, state="brakes", whole=True)
    assert ["rider", "brakes"] in [line.split() for line in lines]
    row = next(line for line in lines if line.startswith("Rake"))
    assert row.split() == ["Rake,", "°", "24.00", "20.00"]
    assert next(line for line in lines if line.startswith("Wheelbase")).split()[2:] == ["1400.0", "1372.0"]
    assert not any(line.startswith("Fork travel used") for line in lines)


def test_where_the_drawing_has_no_room_its_numbers_have() -> None:
    lines = drawn(BOTH, 29, 18, state="brakes", whole=True)
    assert lines[0].split() == ["rider", "brakes"]
    assert all(len(line) <= 29 for line in lines)
    assert not any("ON THE BRAKES" in line for line in lines)


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
        assert view.standing.rake.text.endswith("~") is view.standing.trail.text.endswith("~") is estimate
