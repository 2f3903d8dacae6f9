"""Preload at the edges of its band: what does not show beyond one is inside, and turns advised bring it inside.

The bands, 8 to 18 mm for a shock and 8 to 15 mm for a fork on the track, are common practice, no published source.
"""

from __future__ import annotations

from typing import cast

import pytest

from judgement_jobs import FULL, judged, put, repeated_sags
from stanchion.job.model import Adjuster, Job
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.findings import Finding
from stanchion.wording.finding_words import headline, sentence

COLLAR = Adjuster(counting="turns", pitch_mm=1.5, now=22.0)
"""A bare collar whose ends were not counted; a quarter of a turn is 0.375 mm of preload."""


def shock(preload_mm: float, static: float, rider: float) -> Job:
    spring = {"rear__spring__set_length_mm": 180.0 - preload_mm, "rear__spring__set_length_at": 22.0}
    return put(FULL, rear__collar=COLLAR, sag__rear=repeated_sags(static, rider), **spring)


def fork(installed_mm: float, static: float, rider: float, *, spacer_mm: float = 100.0) -> Job:
    lengths = {
        "front__left__spring__set_length_mm": 250.0 - installed_mm,
        "front__left__spring__set_length_in_mm": 242.0 - installed_mm,
        "front__left__stack__spacer_mm": spacer_mm,
    }
    return put(FULL, sag__front=repeated_sags(static, rider), **lengths)


def advice(assessment: Assessment, end: str) -> Finding:
    found = assessment.sag.end("rear" if end == "rear" else "front").advice
    assert found is not None
    return found


def on_preload(assessment: Assessment) -> set[str]:
    return {one.code for one in assessment.findings if one.code.startswith("preload_")}


@pytest.mark.parametrize("preload_mm", [7.96, 8.0, 18.0, 18.04])
def test_a_collar_beyond_its_band_by_what_does_not_show_is_in_it(preload_mm: float) -> None:
    found = judged(shock(preload_mm, 7.5, 28.5))
    assert advice(found, "rear").code == "pair_suits"
    assert on_preload(found) == set()


@pytest.mark.parametrize(("installed_mm", "codes"), [(7.96, set()), (15.04, {"preload_near_limit"})])
def test_so_is_installed_preload_of_a_fork(installed_mm: float, codes: set[str]) -> None:
    found = judged(fork(installed_mm, 20.0, 33.0))
    assert advice(found, "front").code == "pair_suits"
    assert on_preload(found) == codes


@pytest.mark.parametrize("preload_mm", [7.5, 7.7, 7.9, 18.1, 18.3, 18.6])
def test_turns_that_bring_a_collar_into_its_band_are_whole_steps_and_are_not_asked_back(preload_mm: float) -> None:
    """Both sags are right as they stand, and stay so."""
    said = advice(judged(shock(preload_mm, 7.5, 28.5)), "rear")
    assert said.code == ("add_preload" if preload_mm < 8.0 else "less_preload")
    side = "below" if preload_mm < 8.0 else "above"
    assert f"Preload is perhaps {side} its band: recheck the lengths first." in sentence(said)
    assert headline(said) == f"Preload {side} its band: turn the collar"
    turns = cast(float, said.values["turns"]) * (1.0 if said.values["turned_way"] == "in" else -1.0)
    assert turns * 4.0 == pytest.approx(round(turns * 4.0))
    static, rider = (cast(float, said.values[f"{state}_after_mm"]) for state in ("static", "rider"))
    then = judged(put(shock(preload_mm, static, rider), rear__collar__now=22.0 + turns))
    assert then.rear.spring.verdict == "in"
    assert on_preload(then) == set()
    assert advice(then, "rear").code in ("pair_suits", "pair_borderline")


@pytest.mark.parametrize(("preload_mm", "static", "rider"), [(18.06, 6.2, 31.7), (19.9, 5.2, 28.5), (20.1, 5.2, 28.5)])
def test_no_sag_is_spoilt_and_no_spring_changed_for_the_band_of_a_collar_alone(
    preload_mm: float, static: float, rider: float
) -> None:
    said = advice(judged(shock(preload_mm, static, rider)), "rear")
    assert said.code == "pair_edge_recheck"
    assert ("perhaps" in sentence(said)) is (preload_mm == 18.06)
    assert sentence(said).endswith("out of band. Recheck both lengths; if they are right, go by the sags.")


def test_a_sag_at_the_edge_is_not_said_to_be_in_target_beside_preload_over_its_limit() -> None:
    for static, words in ((20.0, "both sags are in target"), (15.3, "Static sag is too close to the edge")):
        said = advice(judged(fork(16.0, static, 33.0, spacer_mm=0.0)), "front")
        assert said.code == "pair_suits_over_limit"
        assert words in sentence(said)
        assert ("both sags are in target" in sentence(said)) is ("right" in headline(said))
