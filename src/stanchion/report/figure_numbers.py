"""The figures of a job as numbers by the dotted paths of `check --json`, and how sure each of them is."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import partial
from typing import Any

from stanchion.job.edit import dotted
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles, load_profiles
from stanchion.judgement.results.balance import Braking
from stanchion.planning.braking_of_runs import braking_to_look_at
from stanchion.planning.how_sure import HowSure, PartOf, how_sure
from stanchion.report.balance import braked_json
from stanchion.report.check_json import figures_json
from stanchion.report.damping import damping_json
from stanchion.report.gas import gas_json
from stanchion.report.json_data import JsonData
from stanchion.wording.how_sure_words import part_words

MOST_PARTS = 5
"""How many parts of an uncertainty are given."""
_NOT_READ = ("uncertainty", "expanded", "coverage", "spread", "for_target")
"""Figures that say themselves how sure another one is, and what advice rounds to whole steps."""
_TABLES = (
    "gas.effects",
    "gas.chain.axle_moves",
    "brakes.lower",
    "brakes.higher",
    "brakes.braking_g",
    "brakes.slow_g",
    "brakes.fast_g",
)
"""Figures that are differences to others, or were chosen."""


def figure_numbers(
    job: Job, profiles: Profiles, previous: Job | None = None, braking: Braking | None = None, *, key: str = ""
) -> dict[str, float]:
    """Every figure of a job that is known and may be uncertain, by its path in `check --json`.

    Args:
        job: the job.
        profiles: bands and targets.
        previous: the job it was carried from; None: not known.
        braking: the deceleration to look at; None: as entered, else the usual one.
        key: the one key of `check --json` wanted, so that what stands under others is left out; empty: all.
    """
    data = JsonData()
    assessment = assess(job, profiles, previous)
    figures_json(data, job, assessment)
    if key in ("", "balance", "brakes"):
        braked_json(data, job, assessment, with_ends=False, braking=braking)
    if key in ("", "damping"):
        damping_json(data, job, assessment)
    if key in ("", "gas"):
        gas_json(data, job, assessment, whole=False)
    return {at: value for at, value in data.numbers.items() if _may_be_unsure(at) and math.isfinite(value)}


def sure_figures(job: Job, profiles: Profiles | None = None, previous: Job | None = None) -> Mapping[str, HowSure]:
    """How sure each figure of a job is, by its path in `check --json`.

    Args:
        job: the job.
        profiles: bands and targets; None: those that came with the program.
        previous: the job it was carried from; None: not known.
    """
    judged_by = load_profiles() if profiles is None else profiles
    braking = braking_to_look_at(job, judged_by)
    return how_sure(job, partial(figure_numbers, profiles=judged_by, previous=previous, braking=braking)).figures


def uncertainty_json(job: Job, profiles: Profiles | None = None, previous: Job | None = None) -> dict[str, Any]:
    """How sure each figure is, as plain data; those that rest on no reading are left out.

    Args:
        job: the job.
        profiles: bands and targets; None: those that came with the program.
        previous: the job it was carried from; None: not known.
    """
    known = sure_figures(job, profiles, previous)
    return {at: _one(of) for at, of in known.items() if of.parts}


def _one(of: HowSure) -> dict[str, Any]:
    return {
        "standard": of.uncertainty.standard,
        "expanded": of.uncertainty.expanded,
        "parts": [_part(part) for part in of.parts[:MOST_PARTS]],
    }


def _part(part: PartOf) -> dict[str, Any]:
    name = part.name
    return {"reading": dotted(name.at), "by": name.by, "text": part_words(part), "standard": abs(part.effect)}


def _may_be_unsure(at: str) -> bool:
    name = at.rsplit(".", 1)[-1]
    return not (at.startswith(_TABLES) or any(word in name for word in _NOT_READ))
