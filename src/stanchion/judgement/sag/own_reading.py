"""How well the technician's readings repeat: what studies give, and what a job has noted of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from stanchion.job.repeatability import STUDIED, Repeatability, Studied
from stanchion.job.study import Study
from stanchion.judgement.results.own_readings import OwnReading, StudyResult
from stanchion.mechanics.statistics import Uncertainty

if TYPE_CHECKING:
    from stanchion.mechanics.gauge_study import GaugeStudy


def own_reading(own: Repeatability, studied: Studied) -> Uncertainty | None:
    """The standard uncertainty of one reading [mm] with its degrees of freedom; None where there is no study of it.

    The division of the tape is not in it.

    >>> own_reading(Repeatability(alone_mm=0.6, alone_freedom=19.0), "alone")
    Uncertainty(standard=0.6, freedom=19.0)
    """
    found = own.of(studied)
    return None if found is None else Uncertainty(*found)


def _said(one: Uncertainty) -> OwnReading:
    return OwnReading(standard_mm=one.standard, freedom=one.freedom, expanded_mm=one.expanded)


def noted_readings(own: Repeatability) -> dict[Studied, OwnReading]:
    """What a job has noted of each kind of reading."""
    found = {of: own_reading(own, of) for of in STUDIED}
    return {of: _said(one) for of, one in found.items() if one is not None}


def _analysed(study: Study) -> GaugeStudy:
    """Studies are few, so the module is imported only then."""
    from stanchion.mechanics.gauge_study import gauge_study  # noqa: PLC0415

    return gauge_study(study.readings)


def study_result(study: Study) -> StudyResult:
    """What a whole study gives.

    Raises:
        OutOfRange: the study is not whole.
    """
    found = _analysed(study)
    return StudyResult(
        one=_said(found.one_reading),
        repeats_mm=found.repeatability.standard,
        repeats_freedom=found.repeatability.freedom,
        between_people_mm=found.between_people,
        by_place_mm=None if found.pooled else found.by_place,
        anybody_mm=found.together,
    )


def latest_of(studies: Sequence[Study], by: str) -> tuple[Study, ...]:
    """The latest whole study of each kind by one person; of two on one day the later in the list."""
    found: dict[Studied, Study] = {}
    for study in studies:
        before = found.get(study.of)
        if study.by == by and study.complete and (before is None or before.on <= study.on):
            found[study.of] = study
    return tuple(found.values())


def repeatability_of(studies: Sequence[Study]) -> Repeatability:
    """What is noted in a job of the studies of the person who made the last one; nothing where there is none."""
    whole = [study for study in studies if study.complete]
    if not whole:
        return Repeatability()
    by = whole[-1].by
    noted = Repeatability(by=by)
    for study in latest_of(studies, by):
        one = _analysed(study).one_reading
        values: dict[str, Any] = {"mm": round(one.standard, 4), "freedom": round(one.freedom, 2), "on": study.on}
        noted = replace(noted, **{f"{study.of}_{name}": value for name, value in values.items()})
    return noted
