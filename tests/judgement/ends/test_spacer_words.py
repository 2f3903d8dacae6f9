"""No spacer is advised that takes installed preload out of its band, or further out: in no finding, in neither way."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import product

import pytest

from judgement_jobs import FULL, judged, put, sag_end, split
from stanchion.job.model import Job, SagEnd
from stanchion.judgement.assess import assess
from stanchion.judgement.results.assessment import Assessment
from stanchion.wording.finding_words import sentence
from true_machines.judged import PROFILES
from true_machines.machines import case

SHORTER = re.compile(r"shorter spacer|spacer shorter", re.IGNORECASE)
NEVER = re.compile(r"(never|not fit) a longer spacer", re.IGNORECASE)
FREE, BAND = 250.0, (8.0, 15.0)
"""The free length of the springs of the full job, and the band of the track profile (common practice, no published
source)."""


def contradictions(assessment: Assessment, low: float, high: float) -> Iterator[str]:
    """Sentences on the fork that ask for a spacer the wrong way."""
    installed = [figures.installed_preload_mm.value for figures in (assessment.front.left, assessment.front.right)]
    known = [mm for mm in installed if mm is not None]
    target = assessment.predicted.front.target
    findings = [*assessment.findings, *([] if target is None else [target])]
    for text in [NEVER.sub("", sentence(finding)) for finding in findings if "rear" not in finding.where]:
        if (
            known
            and max(known) > high + 0.001
            and re.search(r"longer spacer|spacer (\S+ )?longer", text, re.IGNORECASE)
        ):
            yield f"{known}: {text}"
        if known and min(known) < low - 0.001 and SHORTER.search(text):
            yield f"{known}: {text}"


def fork(installed_mm: float, position: float, sags: SagEnd) -> Job:
    return put(
        FULL,
        front__left__spring__set_length_mm=FREE - installed_mm,
        front__left__spring__set_length_in_mm=FREE - installed_mm - 8.0,
        front__left__adjuster__now=position,
        sag__front=sags,
    )


@pytest.mark.parametrize("installed_mm", [-2.0, 0.0, 3.0, 7.5, 8.0, 12.0, 14.5, 15.0, 15.5, 20.0])
def test_a_spacer_only_towards_the_band(installed_mm: float) -> None:
    sags = (SagEnd(), sag_end(12.0, 34.0), sag_end(8.0, 24.0), sag_end(30.0, 46.0))
    for position, read, longer_before in product((0.0, 8.0), sags, (-5.0, 0.0, 5.0)):
        before = put(FULL, front__left__spring__free_length_mm=FREE + longer_before)
        assessment = judged(fork(installed_mm, position, read), previous=before)
        assert not list(contradictions(assessment, *BAND)), (position, longer_before)


@pytest.mark.parametrize("installed_mm", [3.0, 12.0, 20.0])
@pytest.mark.parametrize("shorter_mm", [4.0, 12.0])
def test_a_spacer_for_the_shorter_of_two_springs_keeps_to_the_band(installed_mm: float, shorter_mm: float) -> None:
    job = split(fork(installed_mm, 4.0, SagEnd()))
    job = put(job, front__right__spring__free_length_mm=FREE - shorter_mm)
    assert not list(contradictions(judged(job), *BAND))


def test_fully_out_with_preload_below_its_band_takes_a_softer_spring() -> None:
    low = [sentence(one) for one in judged(fork(6.0, 0.0, SagEnd())).findings if one.code == "adjuster_fully_out"]
    assert low == [
        (
            "Fork, both legs: the preload adjuster is fully out and can take off no more. Do not force it: at this "
            "installed preload only a softer spring gives more sag."
        )
    ]
    within = [sentence(one) for one in judged(fork(12.0, 0.0, SagEnd())).findings if one.code == "adjuster_fully_out"]
    assert "a shorter spacer or a softer spring" in within[0]


def test_random_machines() -> None:
    for seed in range(6001, 6101):
        made = case(seed)
        profile = PROFILES.get(made.job.job.use)
        band = None if profile is None else profile.front.installed_preload
        if band is not None:
            assert not list(contradictions(assess(made.job, PROFILES), band.low, band.high)), seed
