"""Targets of the job's own count before those of its profile, and nothing else of the profile changes."""

from __future__ import annotations

import pytest

from judgement_jobs import put
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.own_targets import own_target_findings, profile_for
from stanchion.judgement.criteria.profiles import PreloadBand, Target, load_profiles
from stanchion.planning.spring_choice import choose
from stanchion.report.check_json import as_json
from stanchion.report.sheet import make_sheet
from stanchion.report.sheet_shape import Section
from stanchion.ui.predicted_lines import predicted_lines
from stanchion.units.known_units import METRIC

PROFILES = load_profiles()
TRACK = PROFILES.by_name["track"]


def test_only_what_is_own_and_whole_replaces_the_standard() -> None:
    job = put(
        Job(),
        targets__front__rider_low_mm=30.0,
        targets__front__rider_high_mm=40.0,
        targets__front__static_low_mm=18.0,
        targets__rear__preload_low_mm=14.0,
        targets__rear__preload_high_mm=10.0,
        targets__front__source="manual",
    )
    profile = profile_for(job, PROFILES)
    assert profile.front.rider_sag == Target(low=30, high=40, source="manual")
    assert (profile.front.static_sag, profile.rear) == (TRACK.front.static_sag, TRACK.rear)
    assert [(found.code, found.where) for found in own_target_findings(job)] == [
        ("own_target_half", ("targets", "front", "static_high_mm")),
        ("own_target_order", ("targets", "rear", "preload_low_mm")),
    ]


@pytest.mark.parametrize(
    ("low", "high", "use", "band"),
    [
        (10.0, 20.0, "track", PreloadBand(low=10, high=20, limit=20, source="")),  # the maker's limit, not the usual 15
        (8.0, 12.0, "track", PreloadBand(low=8, high=12, limit=15, source="")),
        (10.0, 30.0, "soft-road", PreloadBand(low=10, high=30, source="")),
    ],
)
def test_an_own_band_keeps_the_limit_of_the_profile_unless_it_goes_beyond_it(
    low: float, high: float, use: str, band: PreloadBand
) -> None:
    job = put(Job(), job__use=use, targets__front__preload_low_mm=low, targets__front__preload_high_mm=high)
    assert profile_for(job, PROFILES).front.installed_preload == band


def test_an_own_band_below_what_counts_as_loose_is_believed() -> None:
    job = put(Job(), targets__rear__preload_low_mm=1.0, targets__rear__preload_high_mm=6.0)
    assert profile_for(job, PROFILES).rear.installed_preload == PreloadBand(low=1, high=6, loose_below=1, source="")


def test_the_source_is_named_on_every_report() -> None:
    job = put(
        Job(),
        sag__front__hanging_mm=(150.0,),
        sag__front__rider__down_mm=(113.0,),
        sag__front__rider__up_mm=(117.0,),
        targets__front__rider_low_mm=36.0,
        targets__front__rider_high_mm=44.0,
        targets__front__preload_low_mm=10.0,
        targets__front__preload_high_mm=20.0,
        targets__front__source="manual, page 31",
    )
    a = assess(job, PROFILES)
    assert (a.sag.front.rider.target, a.sag.front.rider.target_source) == ((36.0, 44.0), "manual, page 31")
    assert a.sag.front.static.target_source is None
    section = next(
        part for part in make_sheet(job, a).parts if isinstance(part, Section) and part.title == "Own targets"
    )
    assert [line.text for line in section.lines] == [
        "Front, rider aboard: manual, page 31",
        "Front, preload band: manual, page 31",
    ]
    assert any("own rider target: manual, page 31" in line.plain for line in predicted_lines(a, METRIC, 60))
    data = as_json("a", job, a)
    assert data["sag"]["front"]["rider"]["target_own"] is True
    assert data["targets"]["front"] == {
        "rider_low_mm": 36.0,
        "rider_high_mm": 44.0,
        "preload_low_mm": 10.0,
        "preload_high_mm": 20.0,
        "source": "manual, page 31",
    }
    assert choose(job, a, PROFILES, "front") is not None
