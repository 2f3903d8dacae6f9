"""Whether an adjuster is near its end: findings, the advice after a run and the list of springs must say the same.

Near is less than a turn, or than 1 mm where turns are not known or clicks are counted: common practice, no published
source.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from judgement_jobs import FULL, PROFILES, codes, found, judged, put, split
from rates import WEIGHED
from stanchion.job.edit import apply
from stanchion.job.model import Adjuster, End, Job
from stanchion.job.runs import new_run
from stanchion.judgement.ends.adjuster import near_end
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.springs.fork_spring_swap import ForkSpringSwap
from stanchion.judgement.springs.rear_spring_swap import RearSpringSwap
from stanchion.judgement.springs.spring_swap import Span
from stanchion.judgement.springs.stock import Stock, StockSpring
from stanchion.planning.spring_choice import choose
from stanchion.planning.spring_edits import as_edits
from stanchion.wording.finding_words import headline, sentence

IN = frozenset({"adjuster_nearly_in", "adjuster_fully_in"})
OUT = frozenset({"adjuster_nearly_out", "adjuster_fully_out"})


VAN = Stock(
    tuple(StockSpring(end="front", rate_n_per_mm=6.9 + 0.05 * at, count=2, free_length_mm=250.0) for at in range(50))
)


@st.composite
def adjusters(draw: st.DrawFn) -> Adjuster:
    """Adjusters of every kind, half of them near an end, with data left out."""
    counting = draw(st.sampled_from(("turns", "clicks", "rings", "mm")))
    step = 1.0 if counting == "clicks" else 0.25
    steps = draw(st.integers(4, 48))
    near = draw(st.integers(0, 6))
    at = draw(st.sampled_from((min(near, steps), max(steps - near, 0), draw(st.integers(0, steps))))) * step
    per_step = draw(st.sampled_from((None, 0.05, 0.2, 0.25, 0.5, 1.0, 1.25, 1.5)))
    total = draw(st.sampled_from((None, steps * step, steps * step)))
    if counting == "clicks":
        return Adjuster(counting=counting, total_clicks=total, click_mm=per_step, now=at)
    if counting == "turns":
        return Adjuster(counting=counting, total_turns=total, pitch_mm=per_step, now=at)
    turns = draw(st.sampled_from((None, 5.0, 12.0)))
    ends = (steps * step, 0.0) if draw(st.booleans()) else (steps * step + 2.0, 2.0)
    return Adjuster(
        counting=counting,
        reading_out=None if total is None else ends[0],
        reading_in=ends[1],
        total_turns=turns,
        pitch_mm=per_step,
        now=ends[1] + at,
    )


def after_a_run(job: Job) -> Job:
    """The job after a run that used all travel at both ends."""
    job = put(job, front__travel_mm=120.0, rear__stroke_mm=60.0, rear__wheel_travel_mm=140.0)
    return replace(job, runs=(replace(new_run(job, "10:20"), front_marker_mm=118.0, rear_marker_mm=59.0),))


def said(assessment: Assessment, end: End) -> frozenset[str]:
    """What the findings say of the adjusters of an end."""
    return frozenset(one.code for one in assessment.findings if one.where[0] == end and one.code in IN | OUT)


def by_run(assessment: Assessment, end: End) -> bool:
    """Whether the advice after the run takes the adjuster of an end to be near fully in."""
    return any(
        one.code == "bottoms_adjuster_in" and one.where[2:] == (f"{end}_marker_mm",) and one.values["no_more"] != "band"
        for one in assessment.findings
    )


def span_of(job: Job, end: End) -> Span:
    """The adjusters of an end as the list of springs has them."""
    figures = judged(job)
    return ForkSpringSwap(job, figures.front).span if end == "front" else RearSpringSwap(job, figures.rear.spring).span


def assert_agree(job: Job, end: End) -> None:
    job = after_a_run(job)
    assessment = judged(job)
    found_near = said(assessment, end)
    assert by_run(assessment, end) is bool(found_near & IN), (found_near, job)
    span = span_of(job, end)
    if span.added_now_mm is not None and "adjuster_beyond_range" not in codes(assessment):
        assert span.near_end(span.added_now_mm) is bool(found_near), (found_near, span, job)


@settings(max_examples=60)
@given(adjusters(), st.sampled_from((None, 230.0, 237.5)))
def test_at_a_fork_all_three_say_the_same(adjuster: Adjuster, set_in_mm: float | None) -> None:
    job = put(FULL, front__left__adjuster=adjuster, front__left__spring__set_length_in_mm=set_in_mm)
    assert_agree(job, "front")


@settings(max_examples=60)
@given(adjusters(), st.sampled_from((None, 160.0)))
def test_at_a_shock_too(adjuster: Adjuster, set_in_mm: float | None) -> None:
    assert_agree(put(FULL, rear__collar=adjuster, rear__spring__set_length_in_mm=set_in_mm), "rear")


@pytest.mark.parametrize(("pitch_mm", "now", "near"), [(0.5, 15.0, False), (1.0, 7.25, True), (2.0, 3.25, True)])
def test_in_two_legs_with_other_threads_the_leg_near_its_end_counts(pitch_mm: float, now: float, near: bool) -> None:
    """The other leg has half a millimetre a turn and stands as far in, 1 mm or more before its end."""
    other = Adjuster(total_turns=8.0 / pitch_mm, pitch_mm=pitch_mm, now=now)
    job = put(split(FULL), front__left__adjuster__now=now * pitch_mm / 0.5, front__right__adjuster=other)
    assert_agree(job, "front")
    assert bool(said(judged(job), "front")) is near


@pytest.mark.parametrize(
    ("adjuster", "words"),
    [
        (Adjuster(total_turns=16.0, now=15.5), "only 0.5 turns left towards more"),
        (Adjuster(total_turns=16.0, now=0.5), "only 0.5 turns left towards less"),
        (Adjuster(counting="clicks", total_clicks=40.0, now=36.0), "only 4 clicks left towards more"),  # 0.8 mm
        (Adjuster(counting="clicks", total_clicks=40.0, now=4.0), "only 4 clicks left towards less"),
        (Adjuster(counting="mm", reading_out=8.0, reading_in=0.0, now=0.5), "only 0.5 mm left towards more"),
        (Adjuster(counting="rings", reading_out=8.0, reading_in=0.0, now=7.5), "only 0.5 mm left towards less"),
        (Adjuster(pitch_mm=0.5, now=15.5), "only 0.5 turns left towards more"),  # 8 mm by the set lengths
        (Adjuster(counting="clicks", total_clicks=40.0, now=35.0), ""),  # 1 mm
        (Adjuster(counting="clicks", total_clicks=6.0, now=5.0), ""),  # one click, 1.3 mm
        (Adjuster(counting="mm", reading_out=8.0, reading_in=0.0, now=1.0), ""),
    ],
)
def test_what_is_left_is_said_as_it_is_counted(adjuster: Adjuster, words: str) -> None:
    """The set lengths of FULL give 8 mm of range."""
    assessment = judged(put(FULL, front__left__adjuster=adjuster))
    sentences = [sentence(one) for one in assessment.findings if one.code in IN | OUT]
    assert len(sentences) == bool(words)
    assert all(words in one for one in sentences)


def test_springs_put_in_as_chosen_stand_near_an_end_where_the_list_said_so() -> None:
    verdicts = set()
    for counted in (
        Adjuster(total_turns=16.0, now=4.0),
        Adjuster(counting="clicks", total_clicks=40.0, now=10.0),
        Adjuster(counting="mm", reading_out=8.0, reading_in=0.0, now=4.0),
    ):
        job = put(WEIGHED, geometry__rake_deg=24.0, front__left__adjuster=counted)
        assessment = judged(job)
        for option in choose(job, assessment, PROFILES, "front", VAN).options:
            if not option.verdict.startswith("suits") or option.fitted_now:
                continue
            fitted = job
            for edit in as_edits(option, job, set_adjuster=True):
                fitted = apply(fitted, edit)
            verdicts.add(near := "near_end" in option.verdict)
            assert bool(said(judged(fitted), "front")) is near, (option.verdict, fitted.front)
    assert verdicts == {True, False}


def test_a_collar_without_counted_ends_is_at_no_end_and_says_what_keeps_it_from_more() -> None:
    """The band for a track shock is full at its upper end: no more preload, though nothing is known of the thread."""
    base = put(FULL, rear__collar__total_turns=None, rear__collar__now=0.0)
    band = judged(base).rear.spring.band
    assert band is not None
    job = after_a_run(put(base, rear__spring__set_length_mm=180.0 - band[1] + 0.5))
    assessment = judged(job)
    assert said(assessment, "rear") == frozenset()
    finding = found(assessment, "bottoms_adjuster_in")
    assert headline(finding) == "Bottoms, little or no preload to add"
    assert "with little or no room for more preload" in sentence(finding)
    assert "adjuster" not in sentence(finding)


def test_less_than_a_turn_or_a_millimetre_is_near() -> None:
    assert near_end(1.5, None, 2.0, in_clicks=False)
    assert not near_end(0.5, 1.0, 0.5, in_clicks=False)
    assert not near_end(1.0, None, None, in_clicks=False)
    assert not near_end(None, 1.0, None, in_clicks=True)
    assert near_end(None, 0.0, None, in_clicks=True)
