"""A difference that is shown is that of the figures shown beside it, in every unit: who reads both can check it."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from complete_job import complete_job
from judgement_jobs import PROFILES, put
from stanchion.job.model import Job
from stanchion.job.spec import Kind
from stanchion.judgement.assess import assess
from stanchion.planning.machine_story import row_of
from stanchion.report.check import as_text
from stanchion.report.comparison import compared, comparison_lines
from stanchion.ui.predicted_lines import predicted_lines
from stanchion.units.known_units import DISPLAY_UNITS, Units
from stanchion.units.quantity import show, show_difference, show_settable, show_settable_difference
from stanchion.wording.finding_words import sentence

UNITS = st.builds(
    Units, lengths=st.sampled_from(DISPLAY_UNITS[Kind.LENGTH]), rates=st.sampled_from(DISPLAY_UNITS[Kind.RATE])
)
NUMBER = r"(\d+(?:\.\d+)?)"
KINDS = [kind for kind in Kind if kind not in (Kind.TIME, Kind.TURNS, Kind.COUNT)]


def around(value: float, by: float) -> st.SearchStrategy[float]:
    """Values as a person types them, and finer ones."""
    return st.floats(value - by, value + by).map(lambda one: round(one, 4))


@st.composite
def read_jobs(draw: st.DrawFn) -> Job:
    """A full job with other readings of sag, lengths and positions."""
    changed: dict[str, object] = {}
    for end, hanging, static, rider in (("front", 142.0, 122.0, 106.0), ("rear", 612.0, 604.0, 585.0)):
        for state, down in (("static", static), ("rider", rider)):
            changed[f"sag__{end}__{state}__down_mm"] = (draw(around(down, 5.0)),)
            changed[f"sag__{end}__{state}__up_mm"] = (draw(around(down + 4.0, 1.0)),)
        changed[f"sag__{end}__hanging_mm"] = (hanging,)
    changed["front__left__spring__free_length_mm"] = draw(around(250.0, 9.0))
    changed["front__fork_height_mm"] = draw(around(6.0, 4.0))
    changed["front__left__rebound__now"] = draw(around(10.0, 4.0))
    changed["front__left__adjuster__now"] = draw(around(4.0, 2.0))
    return put(complete_job(), **changed)


def apart(more: str, less: str) -> Decimal:
    return abs(Decimal(more) - Decimal(less))


@pytest.mark.parametrize("kind", KINDS)
@given(one=st.floats(-500, 500), other=st.floats(-500, 500), units=UNITS)
def test_of_any_two_values(kind: Kind, one: float, other: float, units: Units) -> None:
    first, second, by = (
        Decimal(text.partition(" ")[0].rstrip("°").replace("−", "-"))
        for text in (show(one, kind, units), show(other, kind, units), show_difference(one, other, kind, units))
    )
    assert first - second == by


@settings(max_examples=25)
@given(job=read_jobs(), units=UNITS)
def test_in_the_text_of_a_check_on_the_screen_and_in_warnings(job: Job, units: Units) -> None:
    found = assess(job, PROFILES)
    text = as_text("a.toml", job, found, units)
    states = re.findall(rf"^  (?:Machine alone|Rider aboard) +{NUMBER} (.*)$", text, re.MULTILINE)
    assert len(states) == 8  # as captured, then as predicted
    for (captured, _), (predicted, also) in zip(states[:4], states[4:], strict=True):
        matches = re.search(rf"measured {NUMBER} \S+ (more|less)", also)
        assert matches is None or Decimal(matches[1]) == apart(captured, predicted)

    rows = {
        line.plain.split()[0]: line.plain.replace("~", " ").split()[1:]
        for line in predicted_lines(found, units, 60)[:7]  # with a line each of what is in doubt, and of what is old
    }
    for predicted, captured, by in zip(rows["Predicted"], rows["Measured"], rows["Difference"], strict=True):
        assert by == "–" or Decimal(by.replace("−", "-")) == Decimal(captured) - Decimal(predicted)

    for finding in found.findings:
        matches = re.search(
            rf"{NUMBER} \S+ is {NUMBER} \S+ (below|above) its target {NUMBER}–{NUMBER}", sentence(finding, units)
        )
        if matches:
            sag, by, way, low, high = matches.groups()
            assert Decimal(by) == apart(sag, low if way == "below" else high)


def told_differences(one: Job, other: Job, units: Units) -> list[tuple[str, str, str]]:
    """Before, after and by how much, off every line of a comparison that tells all three."""
    rows = (row_of("a.toml", one, None, PROFILES), row_of("b.toml", other, None, PROFILES))
    lines = [line for _, line in comparison_lines(compared(*rows, units), 200)]
    found = (re.search(rf"{NUMBER}(?: \S+)? → {NUMBER}\D*\([+−]?{NUMBER} ", line) for line in lines)
    return [(matches[1], matches[2], matches[3]) for matches in found if matches]


@given(st.integers(0, 400), st.integers(0, 400), UNITS)
def test_of_any_two_lengths_that_turns_can_set(quarters: int, others: int, units: Units) -> None:
    one, other = quarters / 4.0, others / 4.0
    shown = [Decimal(show_settable(mm, Kind.LENGTH, units).split(" ")[0]) for mm in (one, other)]
    by = show_settable_difference(one, other, units).split(" ")[0].replace("−", "-")
    assert Decimal(by) == shown[0] - shown[1]


@settings(max_examples=25)
@given(one=read_jobs(), other=read_jobs(), units=UNITS)
def test_in_a_comparison(one: Job, other: Job, units: Units) -> None:
    for before, after, by in told_differences(one, other, units):
        assert Decimal(by) == apart(after, before)


def test_a_comparison_tells_before_after_and_the_difference() -> None:
    one = put(complete_job(), front__fork_height_mm=5.96, front__left__rebound__now=10.0)
    other = put(complete_job(), front__fork_height_mm=6.04, front__left__rebound__now=12.5)
    assert told_differences(one, other, Units()) == [("10", "12.5", "2.5")]  # both heights read 6.0
    other = put(other, front__fork_height_mm=6.06)
    assert ("6.0", "6.1", "0.1") in told_differences(one, other, Units())
