"""Turns are advised as an adjuster can be set, and the sags promised are those of that setting, in every place."""

from __future__ import annotations

from dataclasses import replace
from typing import cast

import pytest

from judgement_jobs import FULL, PROFILES, judged, put, repeated, sag_end, split
from stanchion.job.edit import apply
from stanchion.job.model import ENDS, SIDES, STATES, Adjuster, End
from stanchion.judgement.sag.available_preload import AvailablePreload
from stanchion.judgement.sag.remedies import find_remedy
from stanchion.judgement.sag.response import ByRule
from stanchion.judgement.sag.targets import Aims
from stanchion.planning.spring_choice import choose
from stanchion.planning.spring_edits import as_edits
from stanchion.wording.finding_words import sentence

AIMS = Aims(targets={"static": (15, 25), "rider": (28, 38)}, slack_mm={"static": 0.3, "rider": 0.3})


def room(step_mm: float, end_mm: float = 9.0) -> AvailablePreload:
    ends = (-4.0, end_mm)
    return AvailablePreload(turned=ends, spacer=(0.0, 0.0), step_mm=step_mm, ends_mm=ends)


@pytest.mark.parametrize(
    ("sags", "step_mm", "end_mm", "turned_mm"),
    [
        ((25.0, 39.7), 0.5, 9.0, 6.5),  # the middle, 33 mm, is 6.7 mm away
        ((25.0, 39.7), 0.5, 6.7, 6.7),  # and there the adjuster is fully in
        ((16.4, 39.1), 1.5, 9.0, 1.5),  # 1.1 to 1.4 mm would bring both in: 1.5 leaves static sag 0.1 mm out, 0 more
        ((17.6, 40.4), 2.5, 9.0, 2.5),  # 2.4 to 2.6 mm: no middle to aim at, and only one setting that is right
        ((15.6, 38.4), 1.0, 9.0, 0.0),  # 0.4 to 0.6 mm: what is 0.4 mm out is left
    ],
)
def test_the_setting_next_to_what_is_wanted_that_is_right(
    sags: tuple[float, float], step_mm: float, end_mm: float, turned_mm: float
) -> None:
    response = ByRule({"static": sags[0], "rider": sags[1]}, 1.0, 1.0)
    remedy = find_remedy(response, AIMS, room(step_mm, end_mm))
    assert remedy.work == ("turns" if turned_mm else "none"), remedy
    assert remedy.turned_mm == pytest.approx(turned_mm)
    assert remedy.after_mm["rider"] == pytest.approx(sags[1] - turned_mm)


def test_a_step_that_takes_a_sag_far_out_is_not_asked_for() -> None:
    """1.1 to 1.4 mm would bring both in, and the least that is turned is 4 mm: that is no work for the adjuster."""
    assert find_remedy(ByRule({"static": 16.4, "rider": 39.1}, 1.0, 1.0), AIMS, room(4.0)).work == "spring"


def test_a_collar_without_ends_passes_the_edge_of_its_band_by_what_does_not_show() -> None:
    """Steps of 0.5 mm: 5.5 less leave 3.00 of 3 mm where 5.4994 reach the edge, 5.44 leave 2.94; an end is an end."""
    for edge_mm, lowest_mm in ((-5.4994, -5.5), (-5.44, -5.0)):
        collar = AvailablePreload(turned=(edge_mm, 3.5), spacer=(0.0, 0.0), step_mm=0.5)
        assert min(collar.settings(-5.3)) == lowest_mm
        assert min(replace(collar, ends_mm=(edge_mm, 3.5)).settings(-5.3)) == edge_mm


SAGS: dict[End, tuple[float, float]] = {"front": (23.0, 39.3), "rear": (12.5, 34.3)}
COUNTED = (
    Adjuster(counting="turns", total_turns=13.0, pitch_mm=1.2, now=4.1),
    Adjuster(counting="clicks", total_clicks=39.0, click_mm=0.4, now=11.0),
    Adjuster(counting="rings", reading_out=8.0, reading_in=0.0, pitch_mm=1.3, now=6.0),
    Adjuster(counting="rings", reading_out=8.0, reading_in=0.0, now=6.0),
    Adjuster(counting="mm", reading_out=14.0, reading_in=0.0, now=10.7),
)
WHOLE = put(FULL, **{f"sag__{end}": repeated(sag_end(*sags)) for end, sags in SAGS.items()})
LENGTHS = {"rear": "rear__spring__set_length", "front": "front__left__spring__set_length"}


@pytest.mark.parametrize("counted", COUNTED, ids=lambda one: one.counting)
@pytest.mark.parametrize("end", ENDS)
def test_advice_list_and_figures_give_one_setting_and_its_sags(end: End, counted: Adjuster) -> None:
    """The present position is no whole step, so that nothing agrees by chance; the sags are by hand."""
    job = put(WHOLE, **{"rear__collar" if end == "rear" else "front__left__adjuster": counted})
    job = put(job, **{f"{LENGTHS[end]}_in_mm": 156.0 if end == "rear" else 226.0})
    assessment = judged(job)
    advice = assessment.sag.end(end).advice
    assert advice is not None
    assert advice.values["work"] == "turns", advice
    predicted = assessment.predicted.end(end)
    assert predicted.target == advice
    mm, per = cast(float, advice.values["preload_mm"]), predicted.turns_for_target.value
    assert predicted.mm_for_target.value == pytest.approx(mm)
    if per is not None:
        step = 1.0 if counted.counting == "clicks" else 0.25
        assert per == pytest.approx(round(per / step) * step, abs=1e-9)
        assert advice.values["turns"] == pytest.approx(per)
    (fitted,) = [one for one in choose(job, assessment, PROFILES, end).options if one.fitted_now]
    assert fitted.best.rider_mm.value == pytest.approx(advice.values["rider_after_mm"], abs=0.05)
    assert fitted.best.static_mm.value == pytest.approx(advice.values["static_after_mm"], abs=0.05)
    (edit,) = as_edits(fitted, job, set_adjuster=True)
    then = judged(apply(job, edit))
    now_mm, then_mm = (
        (one.rear.spring if end == "rear" else one.front.left).preload_now_mm.value or 0.0 for one in (assessment, then)
    )
    assert then_mm - now_mm == pytest.approx(mm, abs=1e-3)
    share = 0.4 if end == "rear" else 1.0  # the shock's motion ratio; both legs have the same springs
    for state, sag_mm in zip(STATES, SAGS[end], strict=True):
        assert advice.values[f"{state}_after_mm"] == pytest.approx(sag_mm - mm / share)


def test_where_the_legs_differ_each_has_its_spacer_and_its_turns() -> None:
    """Spacers of 100 and 103 mm; 16 turns of 0.5 mm on the left, 10 of 0.8 mm on the right."""
    legs = {
        "front__right__stack__spacer_mm": 103.0,
        "front__right__adjuster__total_turns": 10.0,
        "front__right__adjuster__now": 2.5,
    }
    job = put(split(WHOLE), sag__front=repeated(sag_end(20.0, 41.0)), **legs)
    said = judged(job).sag.front.advice
    assert said is not None
    assert "Add 4.0 mm of preload (left 8 turns, right 5 turns in)" in sentence(said)
    lengths = {f"front__{side}__spring__set_length{name}": mm for side in SIDES for name, mm in LOW_AT.items()}
    low = judged(put(job, sag__front=repeated(sag_end(25.0, 46.0)), **lengths)).sag.front.advice
    assert low is not None
    words = "longer by 6.0 mm (left to 106.0 mm, right to 109.0 mm) and turn the adjuster 3.0 mm in (left 6 turns, "
    assert words + "right 3.75 turns)" in sentence(low)


LOW_AT = {"_mm": 241.0, "_in_mm": 233.0}
"""9 mm installed of the band's 8 to 15 (common practice, no published source)."""
