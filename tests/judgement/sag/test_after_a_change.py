"""What is said of sags after a change, and of adjusters at their ends beside the advice on sag (common practice, no
published source)."""

from __future__ import annotations

import pytest

from judgement_jobs import FULL, PLAIN_FORK, codes, found, judged, put, repeated, sag_end
from stanchion.job.codec import loads
from stanchion.job.edit import Edit, apply
from stanchion.job.measured import noted
from stanchion.job.model import Job, Path, Sag
from stanchion.store.samples import samples
from stanchion.wording.finding_words import sentence

SOFT = next(loads(sample.data).job for sample in samples() if sample.name == "soft_springs")
RIDER: Path = ("job", "rider_mass_kg")


def entered(job: Job, path: Path, value: object) -> Job:
    return noted(apply(job, Edit(path, value)), path, job)


class TestMeasureAgain:
    def test_another_rider_is_named_and_the_rider_state_alone_is_to_be_measured(self) -> None:
        job = entered(SOFT, RIDER, 75.0)
        advice = judged(job).sag.rear.advice
        assert advice is not None
        assert sentence(advice).startswith(
            "Rear sag: rider sag was read before the rider was changed. Measure it again with this rider aboard"
        )
        assert judged(job).sag.rear.static.verdict_now != "stale"

    def test_what_was_changed_is_named(self) -> None:
        job = entered(SOFT, ("front", "left", "stack", "spacer_mm"), 98.0)
        advice = judged(job).sag.front.advice
        assert advice is not None
        assert sentence(advice).startswith("Front sag was read before a change of spacer. Measure it again, alone and")

    def test_no_advice_is_not_said_beside_predicted_advice(self) -> None:
        job = put(entered(SOFT, RIDER, 75.0), weights__front_aboard_kg=121.0, weights__rear_aboard_kg=124.0)
        assessment = judged(job)
        target, again = assessment.predicted.front.target, assessment.sag.front.advice
        assert target is not None
        assert again is not None
        assert target.values["rider_by_load"] is True  # static sag was read, and stays valid
        assert "no advice" not in sentence(again)
        assert "until then the advice goes by predicted sag" in sentence(again)
        assert target in assessment.findings

    def test_without_a_prediction_there_is_no_advice_until_then(self) -> None:
        unrated = put(FULL, front__left__spring__rate_n_per_mm=None)
        again = judged(entered(unrated, ("front", "left", "stack", "spacer_mm"), 98.0)).sag.front.advice
        assert again is not None
        assert sentence(again).endswith("until then there is no advice.")

    def test_advice_on_a_run_says_that_the_rider_was_changed(self) -> None:
        def of_run(job: Job) -> str:
            return next(sentence(f) for f in judged(job).findings if f.code.startswith("bottoms_"))

        assert "The rider was changed" not in of_run(SOFT)
        assert "The rider was changed: if another one rode, ride again to judge." in of_run(entered(SOFT, RIDER, 75.0))


class TestAdjusterAtItsEnd:
    def at(self, turns: float, static: float, rider: float, installed: float = 12.0) -> Job:
        job = put(
            FULL,
            **{
                **PLAIN_FORK,
                "front__left__spring__set_length_mm": 250.0 - installed,
                "front__left__spring__set_length_in_mm": 242.0 - installed,
            },
        )
        job = put(job, front__left__adjuster__now=turns)
        return put(job, sag=Sag(front=repeated(sag_end(static, rider)), rear=FULL.sag.rear))

    def test_near_the_limit_no_longer_spacer_is_named(self) -> None:
        job = put(self.at(8.0, 20.0, 33.0, installed=14.0), sag=Sag())
        assert "preload_near_limit" in codes(judged(job))
        assert "longer spacer or" not in sentence(found(judged(job), "adjuster_fully_in"))

    @pytest.mark.parametrize(("turns", "code"), [(8.0, "adjuster_fully_in"), (0.0, "adjuster_fully_out")])
    def test_where_the_sags_suit_no_other_spring_is_named(self, turns: float, code: str) -> None:
        words = sentence(found(judged(self.at(turns, 20.0, 33.0)), code))
        assert "nothing more can be" in words
        assert "spring" not in words

    def test_where_preload_is_to_be_taken_off_none_more_is_spoken_of(self) -> None:
        assessment = judged(self.at(8.0, 15.0, 27.0))
        assert any(code.startswith("less_preload") for code in codes(assessment))
        assert "more preload needs" not in sentence(found(assessment, "adjuster_fully_in"))

    def test_where_more_is_needed_it_says_what_gives_it(self) -> None:
        assessment = judged(self.at(8.0, 26.0, 39.5, installed=10.0))
        assert "needs" in sentence(found(assessment, "adjuster_fully_in"))

    def test_turns_advised_by_prediction_are_among_the_findings(self) -> None:
        job = put(
            FULL,
            **PLAIN_FORK,
            sag=Sag(),
            weights__front_alone_kg=90.0,
            weights__rear_alone_kg=90.0,
            weights__front_aboard_kg=110.0,
            weights__rear_aboard_kg=150.0,
        )
        assessment = judged(job)
        target = assessment.predicted.front.target
        assert target is not None
        assert target.values["work"] == "turns"
        assert target in assessment.findings
