"""Every figure says why, and what it says can be recomputed from its own text.

The sources of the formulas stand in their contracts; here each printed formula is evaluated with the printed numbers by
an evaluator of the tests (`tests/why_recomputed.py`), which knows none of the program's formulas.
"""

from __future__ import annotations

import math
import os
import re
import sys
from collections.abc import Iterator
from random import Random
from typing import Any

import pytest

from complete_job import complete_job
from random_edits import random_job
from stanchion.base.traced import Traced
from stanchion.job.codec import loads
from stanchion.job.model import Job
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import load_profiles
from stanchion.mechanics import preload
from stanchion.report.check_json import as_json
from stanchion.report.why import all_steps
from stanchion.report.why_figures import FollowedFigures, figure_json, figure_lines, figures_in, followed_figures
from stanchion.report.why_text import explained, explained_json
from stanchion.store.samples import samples
from stanchion.units.known_units import Units
from why_recomputed import off_as_shown, off_by

PROFILES = load_profiles()
JOBS = {sample.name: loads(sample.data).job for sample in samples()} | {"complete": complete_job()}
RANDOM_JOBS = int(os.environ.get("STANCHION_WHYS", "4"))
"""How many random jobs are explained; the long form takes 200."""
EXACT = 1e-9
SEARCHED = 1.1e-6
"""How near a search must come, in mm or N: the widest of `mechanics/` (`steady.py`: 1e-7 mm, and 1e-6 N at a lift)."""

FIXED = {
    r"sag\.\w+\.\w+\.coverage": "Student's t of a table, by the number of repeats",
    r"springs\..*shear_modulus_mpa": "of a table, by the kind of wire",
    r"(brakes\.(braking|slow|fast)_g|gas\.acceleration_g|travel_left\.(fast|slow)_g)": "the usual one, where none is entered",
    r"balance\.rider\.height(_expanded)?_mm": "the usual one, where the front was not lifted",
    r"travel_left\.(wanted_mm|ways\.\d+\.then)": "travel wanted by common practice; a setting that can be had",
    r"travel_left\.ways\.\d+\.then_expanded": "how sure another number is, by moving the readings",
    r"damp(ing|er_sheets)\..*(speed|wheel)_mm_per_s": "the speeds at which dampers are compared",
    r"gas\.effects\.\d+\.\w+": "the size of the small change that is tried, and how far the axle goes with it",
    r"gas\.chain\.(pitch_mm|axle_moves\.\d+\.links)": "pitch by the size of the chain; links are counted",
}
"""Numbers that stand in a table or are counted, so that no reading is in them; zeros need no reason."""
TOO_LONG = {
    **dict.fromkeys(
        ("shock.wheel_rate", "shock.shock_force", "statistics.combine"), "a smooth curve through many pairs"
    ),
    "air_spring.AirSpring.state": "three air chambers",
    "linkage_points.position_at": "a rocker between two links, whose places are found by circles",
    **dict.fromkeys(("", "vibration.damping_ratio"), "the mean of many speeds of a damper sheet"),
}
"""Formulas of some hundred to some thousand operations, which are not written out: by the formula, where they are met."""

QUICK = ("balance", "brakes", "damper_sheets", "linkage", "damping", "gas")
"""What is worked out on demand without trying changes one after another."""


def plain(job: Job) -> dict[str, float]:
    return dict(figures_in(as_json("", job, assess(job, PROFILES), PROFILES)))


def steps_of(of: FollowedFigures) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every step of every figure, each once, as plain data, with the first figure that rests on it."""
    seen = set[int]()
    for path, number in of.by_path.items():
        for one in all_steps(number):
            if id(one.number) not in seen:
                seen.add(id(one.number))
                yield path, explained_json(explained(one, of.job, path if one.number is number else ""), {})


def contradictions(of: FollowedFigures) -> list[str]:
    """Every step that its own formula does not give."""
    found = []
    for path, step in steps_of(of):
        if step["lines"] and not off_by(step) <= (SEARCHED if step["solved"] else EXACT):
            found.append(f"{path}: {step['name']} {step['lines']}")
    return found


def printed_wrong(of: FollowedFigures) -> list[str]:
    """Every step whose printed numbers do not give its figure within their rounding."""
    wrong = []
    for path, step in steps_of(of):
        if len(step["figures"]) == 1:  # a line of its own for a part repeats what stands in the first
            off, may = off_as_shown(step)
            if not off <= 1.01 * may + (SEARCHED if step["solved"] else EXACT * max(1.0, abs(step["value"]))):
                wrong.append(f"{path}: {step['name']}: {step['figures'][0]} is {step['value']}")
    return wrong


def without_why(of: FollowedFigures) -> list[str]:
    """Figures of which nobody could say why they are what they are."""
    without = [path for path, number in of.by_path.items() if type(number) is not Traced and number != 0.0]
    return [path for path in without if not any(re.fullmatch(row, path) for row in FIXED)]


def not_written_out(of: FollowedFigures) -> set[str]:
    """Formulas that are too long to be written out."""
    whys = [one for number in of.by_path.values() for one in all_steps(number)]
    too_long = [one.named for one in whys if one.operations and one.written is None]
    return {"" if named is None else named.formula for named in too_long}


@pytest.mark.parametrize("name", JOBS)
def test_every_figure_is_recomputed_from_its_own_text(name: str) -> None:
    of = followed_figures(JOBS[name], PROFILES, keys=() if name == "well_set" else QUICK)
    known = plain(JOBS[name])
    assert of.by_path == pytest.approx({path: known[path] for path in of.by_path}, rel=1e-12), "the very figure"
    assert contradictions(of) == []
    assert printed_wrong(of) == []
    assert without_why(of) == []
    assert not_written_out(of) <= set(TOO_LONG)


@pytest.mark.parametrize("seed", range(RANDOM_JOBS))
def test_so_are_those_of_random_jobs(seed: int) -> None:
    """All but what is worked out on demand, of which the samples and the job with every field have each kind."""
    job = random_job(Random(seed))
    of = followed_figures(job, PROFILES, keys=("front",))
    known = plain(job)
    assert of.by_path == pytest.approx({path: known[path] for path in of.by_path}, rel=1e-12, abs=1e-12)
    assert contradictions(of) == []


def test_it_is_explained_in_the_trade_s_words() -> None:
    of = followed_figures(JOBS["well_set"], PROFILES, keys=("front",))
    assert list(figure_lines(of, "front.left.installed_preload_mm", 80)) == [
        "Installed preload, fork, each leg: 12.0 mm",
        "  = free length − set length",
        "  = 250 − 238",
        "    250.0 mm  free length (Fork, left: free length, 2026-05-16)",
        "    238.0 mm  set length (Fork, left: set length, 2026-05-16)",
        "  Source: Definition.",
    ]


def test_units_are_the_chosen_ones_and_the_formula_in_those_of_the_file() -> None:
    of = followed_figures(JOBS["well_set"], PROFILES, keys=("front",))
    lines = list(figure_lines(of, "front.left.installed_preload_mm", 80, Units(lengths="in")))
    assert lines[0] == "Installed preload, fork, each leg: 0.472 in"
    assert lines[2:4] == ["  = 250 − 238", "    9.843 in  free length (Fork, left: free length, 2026-05-16)"]


def test_what_is_searched_for_is_stated_by_its_equation() -> None:
    of = followed_figures(JOBS["well_set"], PROFILES, keys=("predicted",))
    steps = figure_json(of, "predicted.front.rider.sag_mm")["steps"]
    (travel,) = (step for step in steps if step["name"] == "Travel of the fork")
    assert travel["solved"]
    assert travel["words"] == ["force along the fork = load along the fork"]


def test_judging_at_a_key_follows_nothing() -> None:
    before = sys.getprofile()
    followed_figures(JOBS["well_set"], PROFILES, keys=("front",))
    assert sys.getprofile() is before
    numbers = plain(JOBS["well_set"]).values()
    assert {type(number) for number in numbers} == {float}
    assert vars(preload)["math"] is math
    assert "max" not in vars(preload)


def test_both_legs_and_limits_are_said_in_words() -> None:
    of = followed_figures(JOBS["well_set"], PROFILES, keys=("predicted", "front"))
    sag, turns = (
        figure_json(of, path)["steps"] for path in ("predicted.front.rider.sag_mm", "front.left.headroom_in_turns")
    )
    force = next(step for step in sag if step["name"] == "Force along the fork")
    assert force["words"][0] == "one leg + one leg"
    assert force["words"][1].startswith("one leg = spring rate × ")
    assert {"Area by stanchion outside dia.", "Area by stanchion inside dia."} <= {step["name"] for step in sag}
    place = next(step for step in turns if step["name"] == "Position of the adjuster")
    assert place["words"] == ["(adjuster now / adjuster turns, total, held between 0 and 1)"]
