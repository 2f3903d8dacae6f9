"""Every threshold stands once, with its unit and its source."""

from __future__ import annotations

import ast
import math
import re
from collections.abc import Iterator
from pathlib import Path as File

import pytest

import stanchion
from stanchion.judgement.criteria import thresholds
from stanchion.judgement.criteria.thresholds import LEAST_FOR_A_SPRING_MM
from stanchion.mechanics.sag import SINGLE_READING_UNCERTAINTY_MM

SOURCE = File(stanchion.__file__).parent
ELSEWHERE = {
    # steps and tolerances of a numerical method
    "judgement/springs/rate_search.py": "how the edges of the window are searched",
    "judgement/springs/suggested_spring.py": "how many steps are searched",
    "judgement/springs/fork_spring_swap.py": "rounds of the search for a rate",
    "judgement/sag/response.py": "how a sag is searched",
    "judgement/sag/air_advice.py": "how far a pressure is searched",
    "planning/travel_left_sure.py": "an effect too small to divide by",
    # how much is looked at or shown
    "judgement/predict/air_figures.py": "the steps whose effect on sag is shown",
    "planning/on_travel.py": "what can be seen in a drawing",
    "judgement/springs/candidates.py": "how many rates and pairs are listed",
    "judgement/springs/stock.py": "rows of the stock",
    "judgement/criteria/profiles.py": "sizes of a file of profiles",
    "judgement/criteria/riders_words.py": "sizes of a file of the rider's words",
    "judgement/track/tyres.py": "rows of a table",
    "planning/braking_of_runs.py": "how many runs are looked at",
    "planning/what_helped.py": "how many earlier changes are listed",
    "planning/one_rate.py": "points of a curve, and the step its slope is taken over",
    "planning/spring_edits.py": "decimals written",
    "judgement/predict/change_over.py": "where a compression without end is looked at, and a ratio that is no division by zero",
    "judgement/predict/gas.py": "small changes whose effect is shown, and points of a curve",
    "judgement/predict/points_figures.py": "points of a curve",
    "planning/travel_left.py": "how far a change is searched",
    "planning/spring_choice.py": "rows of a list, and decimals written",
    # what things are
    "judgement/predict/chain.py": "a chain has links in pairs",
    # stand-ins that drop out of every figure
    "judgement/springs/spring_swap.py": "the spring an end is built with before another is put in",
    "judgement/ends/end_model.py": "the travel where none is recorded",
    "judgement/ends/set_length_reading.py": "the length of a top-out spring that is not recorded",
    "judgement/predict/side_states.py": "the drawn length of a leg whose yokes are not recorded",
    "judgement/ends/fork_model.py": "air too small to be computed",
}
"""Modules with numbers of another kind, and what those are."""


def constants(file: File) -> Iterator[tuple[str, ast.expr, str]]:
    """Name, value and the text below of every constant of a module."""
    body = ast.parse(file.read_text("utf-8")).body
    for statement, after in zip(body, [*body[1:], None], strict=True):
        targets = statement.targets if isinstance(statement, ast.Assign) else [getattr(statement, "target", None)]
        value = getattr(statement, "value", None)
        text = after.value.value if isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant) else ""
        for target in targets:
            if isinstance(target, ast.Name) and re.fullmatch(r"_?[A-Z][A-Z0-9_]*", target.id) and value is not None:
                yield target.id, value, str(text)


def is_number(value: ast.expr) -> bool:
    if isinstance(value, ast.UnaryOp):
        return is_number(value.operand)
    if isinstance(value, ast.Tuple):
        return bool(value.elts) and all(map(is_number, value.elts))
    return isinstance(value, ast.Constant) and type(value.value) in (int, float)


def test_a_threshold_says_its_unit_and_its_source() -> None:
    numbers = list(constants(File(thresholds.__file__)))
    assert len(numbers) > 50
    for name, _, text in numbers:
        flat = " ".join(text.split())
        assert re.match(r"\[[^\]]+\] \S", flat), f"{name} gives no unit"
        assert "Common practice, no published source" in flat or "Chosen here" in flat, f"{name} gives no source"


def test_no_other_module_of_judging_has_a_threshold() -> None:
    found: dict[str, list[str]] = {}
    for room in ("judgement", "planning"):
        for file in (SOURCE / room).rglob("*.py"):
            names = [name for name, value, _ in constants(file) if is_number(value)]
            if names and file != File(thresholds.__file__):
                found[file.relative_to(SOURCE).as_posix()] = names
    assert set(found) == set(ELSEWHERE), {where: found.get(where) for where in set(found) ^ set(ELSEWHERE)}


def test_a_threshold_of_the_wrong_kind_would_be_found() -> None:
    planted = ast.parse("A_MM = 3.0\nB = (0.1, -2)\nC = 'x'\nD = (1, 'x')").body
    values = [statement.value for statement in planted if isinstance(statement, ast.Assign)]
    assert [is_number(value) for value in values] == [True, True, False, False]


def test_another_spring_is_worth_what_a_pair_of_readings_can_tell() -> None:
    """Chosen here: the standard uncertainty of the mean of two readings, read once each."""
    assert pytest.approx(SINGLE_READING_UNCERTAINTY_MM / math.sqrt(2.0), abs=0.01) == LEAST_FOR_A_SPRING_MM
