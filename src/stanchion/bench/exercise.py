"""An exercise of the help: a copy of a sample to solve it on, and how far it is."""

from __future__ import annotations

from functools import lru_cache

from stanchion.base.record import record
from stanchion.job.codec import loads
from stanchion.job.edit import Edit, apply
from stanchion.job.model import Job
from stanchion.judgement.criteria.profiles import Profiles, load_profiles
from stanchion.report.lesson_figures import (
    CODES,
    EXERCISES,
    Judged,
    LessonCode,
    bounds_words,
    figure_words,
    filled_in,
    goal_states,
    judged,
    lesson_of,
    started,
)
from stanchion.store.samples import samples
from stanchion.units.known_units import Units
from stanchion.wording import lesson_sentences as words
from stanchion.wording.american import worded


@record(kw_only=True)
class Page:
    """One worked page, with its numbers."""

    title: str
    parts: tuple[tuple[str, str], ...]
    """Heading and text of each part."""


def sample_job(name: str) -> Job:
    """A sample as it came."""
    return loads(next(one.data for one in samples() if one.name == name)).job


@lru_cache(maxsize=len(CODES))
def _judged_sample(name: str) -> tuple[Job, Judged]:
    job = sample_job(name)
    return job, judged(job, load_profiles())


def page_of(code: LessonCode, units: Units) -> Page:
    """A worked page: its example has the numbers of the sample, its exercise those it begins with."""
    lesson, sample = lesson_of(code), EXERCISES[code].sample
    job, of = _judged_sample(sample)
    begun = started(job, code)
    return Page(
        title=lesson.title,
        parts=(
            (words.DECIDED, lesson.decided),
            (words.EXAMPLE.format(sample=sample), filled_in(lesson.example, job, of, units)),
            (words.MISLEADS, lesson.misleads),
            (words.MANUAL, lesson.manual),
            (words.EXERCISE, filled_in(lesson.exercise, begun, of, units)),
        ),
    )


def exercise_job(code: LessonCode) -> Job:
    """The copy on which an exercise is solved."""
    name = words.MACHINE.format(title=lesson_of(code).title)
    return apply(started(sample_job(EXERCISES[code].sample), code), Edit(("job", "machine"), name))


def exercise_in(job: Job) -> LessonCode | None:
    """Which exercise a job is the copy of; None: of none."""
    if not job.job.sample:
        return None
    named = {words.MACHINE.format(title=lesson_of(code).title): code for code in CODES}
    return named.get(job.job.machine)


def progress_words(job: Job, profiles: Profiles, units: Units) -> str:
    """What of an exercise is reached, and what is left to do next; empty where the job is no exercise."""
    code = exercise_in(job)
    if code is None:
        return ""
    _, sample = _judged_sample(EXERCISES[code].sample)
    states, title = goal_states(code, sample, judged(job, profiles)), lesson_of(code).title.lower()
    left = [
        words.ONE_LEFT.format(
            name=words.GOALS[one.figure],
            value=words.NOT_KNOWN if one.value is None else figure_words(one.figure, one.value, units),
            bounds=bounds_words(one.figure, one.bounds, units),
        )
        for one in states
        if not one.reached
    ]
    if not left:
        return worded(words.REACHED.format(title=title, count=len(states)))
    reached = len(states) - len(left)
    more = words.MORE_LEFT.format(more=len(left) - 1) if len(left) > 1 else ""
    said = words.LEFT.format(title=title, reached=reached, count=len(states), left=left[0], more=more)
    return worded(said)
