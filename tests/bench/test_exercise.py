"""Worked pages: their numbers are the program's own, and each exercise is unsolved at first, wrong ways stay unsolved,
and the way a technician would take solves it."""

from __future__ import annotations

import re

import pytest

from judgement_jobs import PROFILES
from stanchion.bench.exercise import exercise_in, exercise_job, page_of, progress_words, sample_job
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job
from stanchion.report.figure_numbers import figure_numbers
from stanchion.report.lesson_figures import CODES, EXERCISES, PLACE, LessonCode, figure_words, judged
from stanchion.units.known_units import Units
from stanchion.wording.lesson_sentences import GOALS, LESSONS

UNITS = Units()
LEG = ("front", "left")
SOLVED: dict[LessonCode, tuple[tuple[tuple[str, ...], float], ...]] = {
    "preload_band": (
        ((*LEG, "spring", "set_length_mm"), 238.0),
        ((*LEG, "spring", "set_length_in_mm"), 230.0),
        ((*LEG, "adjuster", "now"), 4.0),
    ),
    "pair_of_sags": (
        ((*LEG, "spring", "rate_n_per_mm"), 10.25),
        ((*LEG, "spring", "set_length_mm"), 238.5),
        ((*LEG, "spring", "set_length_in_mm"), 230.5),
        ((*LEG, "adjuster", "now"), 3.75),
    ),
    "coil_bind": (((*LEG, "spring", "coils", "total_coils"), 17.0),),
    "air_gap": (((*LEG, "air_gap_mm"), 100.0),),
    "trail": ((("front", "fork_height_mm"), 0.0),),
    "anti_squat": ((("upkeep", "front_teeth"), 16.0),),
    "damping_ratio": (((*LEG, "rebound", "now"), 7.0),),
}
"""How each is solved in the program."""
NOT_SOLVED: dict[LessonCode, tuple[tuple[tuple[str, ...], float], ...]] = {
    "preload_band": (
        ((*LEG, "spring", "set_length_mm"), 238.0),
        ((*LEG, "spring", "set_length_in_mm"), 230.0),
    ),
    "pair_of_sags": (((*LEG, "spring", "set_length_mm"), 236.0), ((*LEG, "spring", "set_length_in_mm"), 228.0)),
    "coil_bind": (((*LEG, "spring", "set_length_mm"), 242.0), ((*LEG, "spring", "set_length_in_mm"), 234.0)),
    "air_gap": (((*LEG, "spring", "rate_n_per_mm"), 10.5),),
    "trail": ((("front", "fork_height_mm"), 5.0),),
    "anti_squat": ((("upkeep", "rear_teeth"), 46.0),),
    "damping_ratio": (((*LEG, "rebound", "now"), 4.0),),
}
"""What looks like a way, and leaves something unreached."""


def after(job: Job, edits: tuple[tuple[tuple[str, ...], float], ...]) -> Job:
    for path, value in edits:
        job = apply(job, Edit(path, value))
    return job


@pytest.mark.parametrize("code", CODES)
def test_an_exercise_is_unsolved_until_it_is_solved(code: LessonCode) -> None:
    begun = exercise_job(code)
    assert exercise_in(begun) == code
    count = len(EXERCISES[code].goals)
    assert f"of {count} reached. Left: " in progress_words(begun, PROFILES, UNITS)
    assert "Left: " in progress_words(after(begun, NOT_SOLVED[code]), PROFILES, UNITS)
    solved = progress_words(after(begun, SOLVED[code]), PROFILES, UNITS)
    assert f"solved. All {count} reached." in solved, solved


@pytest.mark.parametrize("code", CODES)
def test_every_number_of_an_example_is_the_programs_own(code: LessonCode) -> None:
    job = sample_job(EXERCISES[code].sample)
    numbers = figure_numbers(job, PROFILES)
    parts = dict(page_of(code, UNITS).parts)
    example = next(text for heading, text in parts.items() if heading.startswith("Worked example"))
    template = LESSONS[code].example
    assert not re.search(r"\d\.\d", template)  # none is typed
    figures = [found[2] for found in PLACE.finditer(template) if not found[1] and "." in found[2]]
    shown = [name for name in figures if name in numbers]
    assert len(shown) >= 2
    for name in shown:
        assert figure_words(name, numbers[name], UNITS) in example
    for text in parts.values():
        assert "[[" not in text


def test_an_example_follows_the_units_chosen() -> None:
    inches = " ".join(text for _, text in page_of("trail", Units(lengths="in")).parts)
    millimetres = " ".join(text for _, text in page_of("trail", UNITS).parts)
    assert " in," in inches
    assert " in," not in millimetres


def test_a_job_that_is_no_copy_is_no_exercise() -> None:
    sample = sample_job("well_set")
    assert exercise_in(sample) is None
    assert progress_words(sample, PROFILES, UNITS) == ""
    named_alike = apply(exercise_job("trail"), Edit(("job", "sample"), False))
    assert exercise_in(named_alike) is None


def test_every_goal_has_a_name_and_every_page_a_sample_that_gives_its_figures() -> None:
    for code in CODES:
        of = judged(sample_job(EXERCISES[code].sample), PROFILES)
        for goal in EXERCISES[code].goals:
            assert goal.figure in GOALS
            assert goal.figure in of.numbers


def test_the_numbers_an_exercise_names_are_those_it_is_checked_by() -> None:
    """What is asked for stands in a sentence and in a goal: both must say the same."""
    named: dict[LessonCode, tuple[str, ...]] = {
        "preload_band": ("at least 2 turns",),
        "air_gap": ("150 to 300 N",),
        "trail": ("at least 1.3 mm", "more than 0.3°"),
        "anti_squat": ("at least 2 points", "within 0.3 mm"),
        "damping_ratio": ("within 0.015",),
    }
    checked: dict[LessonCode, tuple[tuple[float | None, float | None], ...]] = {
        "air_gap": ((150.0, 300.0),),
        "trail": ((1.3, None), (None, 0.3)),
        "anti_squat": ((None, -2.0), (-0.3, 0.3)),
        "damping_ratio": ((-0.015, 0.015),),
    }
    for code, phrases in named.items():
        assert all(phrase in " ".join(LESSONS[code].exercise.split()) for phrase in phrases)
    for code, expected in checked.items():
        of = judged(sample_job(EXERCISES[code].sample), PROFILES)
        for goal, ends in zip(EXERCISES[code].goals, expected, strict=False):
            bounds = goal.bounds(of, of)
            for bound, more in zip(bounds, ends, strict=True):
                assert (bound is None) == (more is None)
                if bound is not None and more is not None:
                    assert bound - of.numbers[goal.figure] == pytest.approx(more)
    turns = EXERCISES["preload_band"].goals[1].bounds
    of = judged(sample_job("soft_springs"), PROFILES)
    assert turns(of, of) == (2.0, None)
