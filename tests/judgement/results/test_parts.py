"""An error of the program while it judges one part of a job leaves the other parts standing."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

import pytest

from judgement_jobs import FULL, PROFILES, assert_sound, codes, figures_in, judged, put
from stanchion.base.bundled import bundled_files
from stanchion.job.codec import loads
from stanchion.job.model import Job, Run
from stanchion.judgement import unjudged
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.cautions import CAUTIONS
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.judgement.results.parts import WHERE
from stanchion.judgement.track.marker_reference import with_hanging_as_ridden
from stanchion.judgement.track.run_figures import run_figures
from stanchion.wording.finding_words import NOT_JUDGED, reason, sentence

RIDDEN = put(
    FULL,
    runs=(Run(front_marker_mm=100.0, rear_marker_mm=40.0),),
    geometry__rake_deg=24.0,
    job__rider_mass_kg=80.0,
    upkeep__machine_hours=10.0,
    upkeep__shock__at_hours=4.0,
)
PARTS_OF_AN_ASSESSMENT = {
    "front_figures": ("front", ("front",)),
    "shock_figures": ("rear", ("rear",)),
    "springs_figures": ("springs", ("springs",)),
    "measure_end": ("sag", ("sag",)),
    "predict": ("prediction", ("predicted",)),
    "end_models": ("prediction", ()),
    "geometry_figures": ("geometry", ("geometry",)),
    "marker_references": ("runs", ("marker_references",)),
    "with_hanging_as_ridden": ("runs", ()),
    "run_figures": ("runs", ("run",)),
    "upkeep_figures": ("upkeep", ("upkeep",)),
    "front_adjustment": ("front", ()),
    "rear_adjustment": ("rear", ()),
    "coil_findings": ("springs", ()),
    "both_ends": ("sag", ()),
    "geometry_findings": ("geometry", ()),
    "run_findings": ("runs", ()),
    "tyre_findings": ("runs", ()),
    "upkeep_findings": ("upkeep", ()),
    "_travel_findings": ("checks", ()),
    "previous_findings": ("checks", ()),
    "_work_findings": ("work_list", ()),
    "implausible": ("checks", ()),
    "missing_findings": ("checks", ()),
    "cautions_for": ("cautions", ()),
}
"""Every function that judging calls: the part told of where it fails, and the figures that are absent then."""


def spoil(monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    def fails(*given: object, **named: object) -> Any:
        raise ZeroDivisionError("float division by zero")

    monkeypatch.setattr(f"stanchion.judgement.assess.{name}", fails)


@pytest.mark.parametrize("name", PARTS_OF_AN_ASSESSMENT)
def test_a_part_that_fails_is_absent_and_told_and_the_rest_stands(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    part, absent = PARTS_OF_AN_ASSESSMENT[name]
    whole = assess(RIDDEN, PROFILES)
    spoil(monkeypatch, name)
    left = assess(RIDDEN, PROFILES)
    assert_sound(left)
    assert [fault.part for fault in left.faults if fault.part == part]
    assert all(isinstance(fault.error, ZeroDivisionError) for fault in left.faults)
    found_ones = [finding for finding in left.findings if finding.code == "part_not_judged"]
    assert [finding.values["part"] for finding in found_ones] == [part]
    assert found_ones[0].severity is Severity.WARNING
    assert sentence(found_ones[0]).startswith(
        f"{dict(NOT_JUDGED)[part]}: not judged, because of a fault in the program"
    )
    for of in absent:
        figures = list(figures_in(getattr(left, of)))
        assert any(reason(figure) == "fault in the program, please report" for figure in figures)
        assert of == "sag" or not any(figure.known for figure in figures if figure is not None)
    for of in {"front", "rear", "springs", "upkeep"} - {*absent} - LEANING.get(name, set()):
        assert getattr(left, of) == getattr(whole, of)


LEANING = {"front_figures": {"springs"}, "shock_figures": {"springs"}, "measure_end": {"rear"}, "predict": set()}
"""What else of these is worked out from a part that failed."""


def test_everything_that_judges_can_fail_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in PARTS_OF_AN_ASSESSMENT:
        spoil(monkeypatch, name)
    left = assess(RIDDEN, PROFILES)
    assert_sound(left)
    assert not [figure for figure in figures_in(left) if figure.known]
    assert {finding.values["part"] for finding in left.findings} == {*WHERE}
    assert left.cautions == CAUTIONS  # what may be needed is shown rather than left out


def test_every_part_has_its_name_and_what_stands_for_it() -> None:
    assert set(WHERE) == set(NOT_JUDGED)
    assert all(
        len(sentence(Finding("part_not_judged", Severity.WARNING, WHERE[part], {"part": part}))) <= 160
        for part in WHERE
    )
    spare = {
        "front": unjudged.FRONT,
        "rear": unjudged.REAR.figures,
        "springs": unjudged.SPRINGS,
        "predicted": unjudged.PREDICTED,
        "geometry": unjudged.GEOMETRY,
        "run": unjudged.RUN,
        "marker_references": unjudged.MARKER_REFERENCES,
        "upkeep": unjudged.UPKEEP,
        "change_overs": (),
    }
    assert {field.name for field in fields(Assessment)} == {*spare, "sag", "findings", "cautions", "faults"}
    assert all(figure.problem == "program_fault" for one in spare.values() for figure in figures_in(one))


def sample(name: str) -> Job:
    return loads(dict(bundled_files("sample_jobs"))[f"{name}.toml"]).job


def test_a_spring_that_is_loose_at_both_sags_has_no_rate_to_compare() -> None:
    """A free length of 16 mm, the beginning of 165: the spring is loose at both sags, and nothing there carries."""
    job = put(sample("well_set"), rear__spring__free_length_mm=16.0)
    loose = judged(job)
    rates = loose.predicted.rear.working_rate
    assert rates.rate_n_per_mm.known
    assert reason(rates.predicted_n_per_mm) == "the spring is loose there and carries nothing"
    assert "spring_loose" in codes(loose)
    assert not {"working_rate_high", "working_rate_low"} & {*codes(loose)}


def test_where_the_wheels_hung_on_the_latest_run_is_worked_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []

    def counted(*given: Any) -> Any:
        asked.append(given)
        return with_hanging_as_ridden(*given)

    for module in ("assess", "track.run_figures"):
        monkeypatch.setattr(f"stanchion.judgement.{module}.with_hanging_as_ridden", counted)
    assert assess(RIDDEN, PROFILES).run == run_figures(RIDDEN, 0, assess(RIDDEN, PROFILES).marker_references)
    assert len(asked) == 3  # once for each of these three
