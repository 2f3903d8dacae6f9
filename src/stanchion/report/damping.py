"""Frequency and damping of both ends: as lines of a report, and as plain data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from stanchion.job.model import ENDS, Job
from stanchion.judgement.predict.damping import damping_figures
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.damping import DampingRatio
from stanchion.planning.damping_compared import since_job
from stanchion.report.json_data import JsonData
from stanchion.report.lines import named_line
from stanchion.units.known_units import Units
from stanchion.wording.damping_sentences import (
    DAMPING_ROWS,
    Named,
    damping_lines,
    damping_notes,
    frequency_words,
    wanted_words,
)


def damping_text(job: Job, assessment: Assessment, units: Units) -> Iterator[str]:
    """The figures as a section of printed text, after an empty line; nothing where no frequency is known.

    Args:
        job: the job.
        assessment: what assess() gave for it.
        units: units to show.
    """
    figures = damping_figures(job, assessment)
    if not any(figures.end(end).frequency_hz.known for end in ENDS):
        return
    yield from ("", "Frequency and damping, at rider sag")
    yield from (named_line(name, text) for name, text in damping_lines(figures, units))
    yield from (f"  {note}" for note in damping_notes(figures))


def damping_since(job: Job, a: Assessment, previous: Job | None, before: Assessment | None) -> Iterator[Named]:
    """What the dampers of both ends want beside the job before, and both frequencies; nothing without such a job.

    Args:
        job: the job.
        a: what assess() gave for it.
        previous: the job it was carried from; None: not known.
        before: what assess() gave for that.
    """
    figures = damping_figures(job, a)
    for earlier in since_job(job, figures, previous, before):
        wanted = wanted_words(earlier)
        if wanted:
            yield "Frequency", frequency_words(figures, earlier)
            yield "Damping", wanted


def damping_json(data: JsonData, job: Job, assessment: Assessment) -> dict[str, Any]:
    """Both ends, and how they go together; see JSON in DEVELOPERS.md."""
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
        }
    }


def _ratio(data: JsonData, at: str, of: DampingRatio) -> dict[str, Any]:
    return data.of(at, of, ("stroke", "wheel_mm_per_s", "ratio"))
