"""Frequency and damping of both ends: as lines of a report, and as plain data."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from stanchion.job.model import ENDS, Job
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles, load_profiles
from stanchion.judgement.predict.damping import damping_figures
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.damping import DampingFigures, DampingRatio
from stanchion.planning.damping_compared import EarlierDamping, earlier_damping
from stanchion.report.json_data import JsonData
from stanchion.report.lines import named_line
from stanchion.units.known_units import Units
from stanchion.wording.damping_sentences import (
    DAMPING_ROWS,
    RATIO,
    Named,
    damping_lines,
    damping_notes,
    earlier_name,
    frequency_words,
    ratio_lines,
    wanted_words,
)

TITLE = "Frequency and damping, at rider sag"
Earlier = Callable[[DampingFigures], tuple[EarlierDamping, ...]]
"""What the figures of a job are compared with."""


def not_compared(_: DampingFigures) -> tuple[EarlierDamping, ...]:
    """With nothing."""
    return ()


def compared_with(
    job: Job, previous: Job | None, profiles: Profiles | None = None, before: Assessment | None = None
) -> Earlier:
    """What the figures of a job are compared with, once they are known.

    Args:
        job: the job.
        previous: the job it was carried from; None: not known.
        profiles: bands and targets; None: those that came with the program.
        before: what assess() gave for the previous job; None: it is judged when it is asked for.
    """
    judged_by = load_profiles() if profiles is None else profiles

    def earlier(figures: DampingFigures) -> tuple[EarlierDamping, ...]:
        known = before if before is not None or previous is None else assess(previous, judged_by)
        return earlier_damping(job, figures, previous, known, judged_by)

    return earlier


def damping_text(job: Job, assessment: Assessment, units: Units, earlier: Earlier) -> Iterator[str]:
    """The figures as a section of printed text, after an empty line.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        units: units to show.
        earlier: what they are compared with.
    """
    figures = damping_figures(job, assessment)
    yield from ("", TITLE)
    yield from (named_line(name, text) for name, text in damping_lines(figures, units))
    for one in earlier(figures):
        wanted = wanted_words(one)
        if wanted:
            yield named_line(f"Damped as {earlier_name(one)}", wanted)
    yield from (f"  {note}" for note in damping_notes(figures))


def damping_since(job: Job, a: Assessment, earlier: Earlier) -> Iterator[Named]:
    """What the dampers of both ends want beside earlier settings, with both frequencies, and their damping ratios by
    damper sheets; nothing without earlier settings.

    Args:
        job: the job.
        a: what assess() gave for it.
        earlier: what they are compared with.
    """
    figures = damping_figures(job, a)
    compared = [(one, words) for one in earlier(figures) if (words := wanted_words(one))]
    for one, words in compared:
        yield "Frequency", frequency_words(figures, one)
        yield "Damping", words
    ratios = [f"{name.lower()} {words.removeprefix(RATIO)}" for name, words in ratio_lines(figures) if RATIO in words]
    if compared and ratios:
        yield RATIO.strip().capitalize(), "; ".join(ratios)


def damping_json(data: JsonData, job: Job, assessment: Assessment, earlier: Earlier = not_compared) -> dict[str, Any]:
    """Both ends, how they go together, and what is wanted for earlier damping; see JSON in DEVELOPERS.md."""
    figures = damping_figures(job, assessment)
    fields = [field for _, field, _, _ in DAMPING_ROWS]
    return {
        "damping": {
            **{
                end: data.of(f"damping.{end}", figures.end(end), fields)
                | {"ratios": [_ratio(data, f"damping.{end}.ratios.{at}", one) for at, one in enumerate(of)]}
                for end in ENDS
                for of in (figures.end(end).ratios,)
            },
            "front_to_rear": data.plain("damping.front_to_rear", figures.front_to_rear),
            "as": [_since(data, f"damping.as.{at}", one) for at, one in enumerate(earlier(figures))],
        }
    }


def _since(data: JsonData, at: str, of: EarlierDamping) -> dict[str, Any]:
    """Damping wanted now over damping then."""
    return {
        "what": of.what,
        "date": of.on.isoformat(),
        "run": of.run + 1 if of.what == "run" else None,
        **{end: data.plain(f"{at}.{end}", of.damping[end]) for end in ENDS},
    }


def _ratio(data: JsonData, at: str, of: DampingRatio) -> dict[str, Any]:
    return data.of(at, of, ("stroke", "wheel_mm_per_s", "ratio"))
