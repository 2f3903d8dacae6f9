"""Jobs for the tests of judgement and report: invented machines, built so that their figures come out round."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any, cast

from stanchion.job.edit import Edit, apply, spec_at
from stanchion.job.model import (
    ENDS,
    Adjuster,
    End,
    Front,
    Job,
    Leg,
    LinkagePair,
    Occasion,
    Path,
    Readings,
    Rear,
    Sag,
    SagEnd,
    Spring,
    Stack,
)
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Finding, Severity
from stanchion.wording import finding_words

PROFILES = load_profiles()

LEG = Leg(
    spring=Spring(rate_n_per_mm=9.5, free_length_mm=250.0, set_length_mm=238.0, set_length_in_mm=230.0),
    adjuster=Adjuster(total_turns=16.0, now=4.0),
    stack=Stack(spacer_mm=100.0, washers_mm=(1.5,), seats_mm=(3.5,)),
)
"""12 mm installed and 8 mm of range (common practice, no published source), 4 of 16 turns in."""

SHOCK = Rear(
    spring=Spring(rate_n_per_mm=95.0, free_length_mm=180.0, set_length_mm=168.0),
    collar=Adjuster(pitch_mm=1.5, total_turns=10.0, now=2.0),
    motion_ratio=0.4,
)
PLAIN_FORK: dict[str, Any] = {
    "front__left__spring__rate_n_per_mm": 9.5,
    "front__left__spring__free_length_mm": 250.0,
    "front__left__spring__set_length_mm": 238.0,
    "front__left__spring__set_length_in_mm": 230.0,
    "front__left__adjuster__total_turns": 8.0,
    "front__left__adjuster__now": 4.0,
    "front__travel_mm": 120.0,
    "front__top_out__fitted": "no",
    "geometry__rake_deg": 24.0,
}
"""For put(): 2 x 9.5 N/mm, 12 mm installed, 4 of 8 turns and mm in, no top-out spring; invented."""
PAIRS = tuple(LinkagePair(wheel_mm=z, shock_mm=s) for z, s in ((30.0, 10.5), (60.0, 21.5), (90.0, 33.0), (120.0, 45.0)))


def sag_end(static: float, rider: float, stiction: float = 2.0, rider_stiction: float | None = None) -> SagEnd:
    """Readings, once each off L1 = 600, that give these sags."""
    other = stiction if rider_stiction is None else rider_stiction
    return SagEnd(hanging_mm=(600.0,), static=around(600.0 - static, stiction), rider=around(600.0 - rider, other))


def repeated(of: SagEnd, times: int = 3) -> SagEnd:
    """The same readings, each taken so many times alike: what is left to doubt is the tape's own step."""

    def state(readings: Readings) -> Readings:
        return Readings(down_mm=readings.down_mm * times, up_mm=readings.up_mm * times)

    return replace(of, hanging_mm=of.hanging_mm * times, static=state(of.static), rider=state(of.rider))


def repeated_sags(static: float, rider: float, stiction: float = 2.0, rider_stiction: float | None = None) -> SagEnd:
    """Readings that give these sags, each taken three times alike, so that half a millimetre counts."""
    return repeated(sag_end(static, rider, stiction, rider_stiction))


def around(middle: float, stiction: float) -> Readings:
    """Down and up readings about a length."""
    return Readings(down_mm=(middle - stiction / 2,), up_mm=(middle + stiction / 2,))


FULL = Job(
    job=Occasion(machine="Lantern 600 (invented)", rider="Test Rider", use="track"),
    front=Front(left=LEG, top_out=replace(Front().top_out, fitted="no")),
    rear=SHOCK,
    sag=Sag(front=sag_end(20.0, 33.0), rear=sag_end(7.5, 28.5)),
)
"""Track, every sag in the middle of its target."""


def put(job: Job, **changes: Any) -> Job:
    """The job with values put at dotted paths, written with __ for the dots."""
    for name, value in changes.items():
        job = apply(job, Edit(tuple(name.split("__")), value))
    return job


def split(job: Job, right: Leg | None = None) -> Job:
    """The job with its right leg entered apart."""
    return put(job, front__right=job.front.left if right is None else right)


def judged(job: Job, previous: Job | None = None) -> Assessment:
    """What the program that came with its own profiles says; whatever job a test judges, it is sound."""
    assessment = assess(job, PROFILES, previous)
    assert_sound(assessment)
    assert not assessment.faults, assessment.faults
    return assessment


def assert_sound(assessment: Assessment) -> None:
    """Every finding and every figure without a value leads to a place of the job, and has the words it needs."""
    ends = [(assessment.sag.end(end).advice, assessment.predicted.end(end).target) for end in ENDS]
    for finding in (*assessment.findings, *(found for both in ends for found in both if found is not None)):
        spec_at(finding.where)  # raises where there is no such place
        assert isinstance(finding.severity, Severity)
        lacking = {name for name in needed(finding) if finding.values.get(name) is None}
        assert not lacking, (finding, lacking)
        if finding.code == "missing":
            assert all(spec_at(path) for path in cast(tuple[Path, ...], finding.values["needs"]))
    assert all(finding_words.caution(code) for code in assessment.cautions)
    assert_reasons(assessment)


def assert_reasons(node: object) -> None:
    """Every figure in it that is not known has a reason, and what it waits for is a place of the job."""
    for figure in figures_in(node):
        if figure.needs or not figure.known:
            assert_reason(replace(figure, value=None), known=figure.known)


@cache
def assert_reason(figure: Figure, *, known: bool) -> None:
    """The same of one figure. The same few reasons stand in every assessment: each is looked at once."""
    assert all(spec_at(path) for path in figure.needs)
    assert known or finding_words.reason(figure) != "not computed", figure


def needed(finding: Finding) -> frozenset[str]:
    """The values a finding's sentence cannot do without."""
    by_wording = {"end"} if finding.code.startswith("target_") else set()
    return named_in(finding_words._words(finding).sentence) - by_wording


NEVER_IN = frozenset({type(None), str, bool, int, float})
"""What most of an assessment is, and holds no figure."""


@cache
def named_in(sentence: str) -> frozenset[str]:
    """The values named in a sentence outside of its square brackets, without those that wording makes itself."""
    always = re.sub(r"\[[^\]]*\]", "", sentence)
    return frozenset(re.findall(r"\{(\w+)", always)) - {"where", "path", *(f"{it}_text" for it in finding_words.CODED)}


def figures_in(node: object) -> Iterator[Figure]:
    """Every figure there is in what was judged."""
    kind: type = type(node)
    if kind in NEVER_IN:
        return
    if isinstance(node, Figure):
        yield node
    elif names := fields_in(kind):
        for name in names:
            yield from figures_in(getattr(node, name))
    elif isinstance(node, Mapping):
        for item in node.values():
            yield from figures_in(item)
    elif isinstance(node, tuple | list):
        for item in node:
            yield from figures_in(item)


@cache
def fields_in(kind: type) -> tuple[str, ...]:
    """The fields of a record."""
    return tuple(field.name for field in fields(kind)) if is_dataclass(kind) else ()


def advice(job: Job, end: End) -> Finding:
    """What the sags of one end ask for."""
    given = judged(job).sag.end(end).advice
    assert given is not None
    return given


def found(assessment: Assessment, code: str) -> Finding:
    """The one finding of that code."""
    [finding] = [finding for finding in assessment.findings if finding.code == code]
    return finding


def codes(assessment: Assessment) -> list[str]:
    """Every code found."""
    return [finding.code for finding in assessment.findings]
