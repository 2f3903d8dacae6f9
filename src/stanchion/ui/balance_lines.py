"""The machine on the brakes, its weights and its centre of mass, as lines of styled text. Pure."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence

from textual.content import Content

from stanchion.base.text import clean
from stanchion.job.model import STATES, Path, State
from stanchion.job.spec import Kind
from stanchion.judgement.results.balance import BrakesFigures, WheelWeights
from stanchion.judgement.results.figures import Figure
from stanchion.planning.braking_of_runs import BrakingOfRuns
from stanchion.planning.travel_left import TravelLeft
from stanchion.report.sheet_shape import SideView
from stanchion.ui import present
from stanchion.ui.paging import packed, pages_of
from stanchion.ui.side_drawing import state_block
from stanchion.units.known_units import METRIC, Units, is_file_unit
from stanchion.units.quantity import show, unit_name
from stanchion.wording.american import worded
from stanchion.wording.balance_sentences import (
    BRAKES_ROWS,
    NONE,
    brakes_notes,
    do_words,
    ends_early,
    g_words,
    is_estimate,
    range_of,
)
from stanchion.wording.figure_names import FIGURE_NAMES as NAMES
from stanchion.wording.figure_names import ON_THE_BRAKES
from stanchion.wording.finding_words import reason
from stanchion.wording.travel_left_sentences import left_lines, left_name

MUTED = "$text-muted"
NAME = 17
TABLE_NAME, CELL = 14, 10
LEAST_ROWS = 24
"""Lines from which every row and every note has room."""
BRIEF_ROWS = 2
"""Lines of the first note in few words."""
BRIEFLY: Mapping[str, str] = {"rear_lifts_first": "rear lifts first"}
"""Why there is no figure, where a small window has no room for the whole reason."""
LESS_NEEDED = ("rear_used_mm", "wheelbase_mm")
Weights = Mapping[State, WheelWeights]


def balance_pages(
    brakes: BrakesFigures,
    weights: Weights,
    units: Units,
    width: int,
    height: int,
    *,
    ridden: BrakingOfRuns | None = None,
    left: TravelLeft | None = None,
    at: Path | None = None,
    view: SideView | None = None,
    plain: bool = False,
) -> list[list[Content]]:
    """The figures of the screen in pages: on the brakes, the machine drawn there, the weights, and what they rest on.

    Args:
        brakes: the machine on the brakes.
        weights: weights and centre of mass of both states.
        units: display units.
        width: columns there are.
        height: lines there are; where they are few the rows that matter least are left out.
        ridden: the braking that the fork markers of the runs stand for.
        left: what leaves some travel on the brakes.
        at: the current field. What to do for its reading comes first, with the weights that it changes.
        view: the machine from the side; None: not known, or not to be drawn.
        plain: in ASCII.
    """
    full = height >= LEAST_ROWS
    notes = [*_notes(brakes, weights, units, width, brief=not full)]
    do = do_words(at)
    if do:
        steps = [Content.styled("DO NOW", "$primary bold"), *map(Content, textwrap.wrap(do, max(20, width)))]
        lines = [*steps, *_weights(weights, units), *_on_brakes(brakes, units, width, full=full), *notes]
        return pages_of(lines, width, height)
    first = notes[:BRIEF_ROWS]
    by_runs = [*_ridden(ridden, width, full=full)] if ridden is not None and ridden.runs else []
    figures = [*_on_brakes(brakes, units, width, full=full)]
    to_leave = [*_to_leave(left, units, width)] if left is not None and len(figures) > BRIEF_ROWS else []
    leaves_out = () if full else ("rear_kg", "front_share_pct") if by_runs else ("rear_kg",)
    weighed = [*_weights(weights, units, leaves_out)]
    braked = [figures[0], *by_runs, *figures[1:]]
    drawn = state_block(view, "brakes", width, height - len(braked) - 1 if full else height - 1, plain=plain)
    drawn = drawn or state_block(view, "brakes", width, height - 1, plain=plain)
    if full:
        return packed([braked, drawn, to_leave, notes, weighed], height)
    return packed([[*braked, *first, *weighed], to_leave, notes[len(first) :], drawn], height)


def _to_leave(left: TravelLeft, units: Units, width: int) -> Iterator[Content]:
    """What leaves the travel wanted, each way under its own name."""
    yield Content.styled(left_name(left, units).replace("To leave", "TO LEAVE"), "$primary bold")
    for name, words in left_lines(left, units):
        yield from _wrapped(f"{name.strip().capitalize()}: {words}" if name.startswith(" ") else words, width)


def _ridden(of: BrakingOfRuns, width: int, *, full: bool) -> Iterator[Content]:
    """What the markers stand for: all runs together, and each by itself where there is room."""
    known = [g for run in of.known for g in (run.slow_g, run.fast_g)]
    label = Content.styled(f"{NAMES['ridden_g']} ", MUTED)
    if known:
        low, high = (pick((g for g in known), key=lambda g: g.value or 0.0) for pick in (min, max))
        yield label + Content.styled(_ranged(low, high, None, METRIC), "$figure bold")
    else:
        yield label + Content.styled(present.why_not(of.runs[-1].slow_g, max(1, width - NAME - 1)), MUTED)
    if not full:
        return
    for run in of.runs:
        name = Content.styled(f"  run {run.at + 1}".ljust(NAME), MUTED)
        if run.middle_g.known:
            yield name + Content.styled(_ranged(run.slow_g, run.fast_g, None, METRIC), "$figure")
        else:
            yield from _wrapped(f"  run {run.at + 1}: {clean(reason(run.slow_g))}", width)


def _on_brakes(brakes: BrakesFigures, units: Units, width: int, *, full: bool) -> Iterator[Content]:
    usual = ", usual" if brakes.braking.source == "usual" else ""
    at = "as ridden" if brakes.braking.source == "ridden" else g_words(brakes.braking_g.value or 0.0) + usual
    yield Content.styled(f"{ON_THE_BRAKES.upper()}, {at}", "$primary bold")
    known = [row for row in BRAKES_ROWS if _known(brakes, row[1])]
    if not known:
        yield from _wrapped(clean(reason(brakes.slow.fork_used_mm)), width)
        return
    early = ends_early(brakes)
    for name, field, kind in BRAKES_ROWS:
        if field in LESS_NEEDED and not full:
            continue
        slow, fast = getattr(brakes.slow, field), getattr(brakes.fast, field)
        label = Content.styled(worded(name).ljust(NAME), MUTED)
        if slow.value is None and fast.value is None:
            why, room = present.why_not(slow, width), max(1, width - NAME)
            brief = BRIEFLY.get(slow.problem) if len(why) > room else None
            yield label + Content.styled(brief or present.why_not(slow, room), MUTED)
            continue
        style = "$warn bold" if early and field in ("fork_left_mm", "fork_ends_g") else "$figure bold"
        yield label + Content.styled(_ranged(slow, fast, kind, units), style)


def _ranged(slow: Figure, fast: Figure, kind: Kind | None, units: Units) -> str:
    """Two figures as a range, with the mark of an estimate where they are one."""
    return (present.ESTIMATED if is_estimate(slow, fast) else "") + range_of(slow, fast, kind, units)


def _known(brakes: BrakesFigures, field: str) -> bool:
    return any(getattr(of, field).known for of in (brakes.slow, brakes.fast))


def _weights(weights: Weights, units: Units, leaves_out: Sequence[str] = ()) -> Iterator[Content]:
    mass, length = unit_name(Kind.MASS, units), unit_name(Kind.LENGTH, units)
    head = f"WEIGHT, {mass}, {length}".ljust(TABLE_NAME) + "alone".rjust(CELL) + "rider".rjust(CELL)
    yield Content.styled(head, "$primary bold")
    for field, kind, doubt in (
        ("front_kg", Kind.MASS, ""),
        ("rear_kg", Kind.MASS, ""),
        ("front_share_pct", Kind.SHARE, ""),
        ("ahead_mm", Kind.LENGTH, "ahead_expanded_mm"),
        ("height_mm", Kind.LENGTH, "height_expanded_mm"),
    ):
        if field in leaves_out:
            continue  # where room is short
        line = Content.styled(worded(NAMES[field]).ljust(TABLE_NAME), MUTED)
        for state in STATES:
            figure: Figure = getattr(weights[state], field)
            sure: Figure = getattr(weights[state], doubt) if doubt else Figure()
            line += Content.styled(_cell(figure, sure, kind, units).rjust(CELL), "$figure bold")
        yield line


def _cell(figure: Figure, sure: Figure, kind: Kind, units: Units) -> str:
    """A figure with its expanded uncertainty where that is known; lengths to a mm, or to a tenth of another unit."""
    if figure.value is None:
        return NONE
    value, *doubt = (
        _rounded(show(one.value, kind, units).split(" ")[0], kind, units)
        for one in (figure, sure)
        if one.value is not None
    )
    mark = present.ESTIMATED if figure.estimate else ""
    return f"{mark}{value}" + (f"±{doubt[0]}" if doubt else "")


def _rounded(text: str, kind: Kind, units: Units) -> str:
    """A number as a cell has it."""
    if kind is not Kind.LENGTH:
        return text
    return f"{float(text):.0f}" if is_file_unit(kind, units) else f"{float(text):.1f}"


def _notes(brakes: BrakesFigures, weights: Weights, units: Units, width: int, *, brief: bool) -> Iterator[Content]:
    for note in brakes_notes(brakes, weights["rider"], units, brief=brief):
        yield from _wrapped(note, width)


def _wrapped(text: str, width: int) -> Iterator[Content]:
    yield from (Content.styled(line, MUTED) for line in textwrap.wrap(text, max(20, width), break_on_hyphens=False))


def balance_short(brakes: BrakesFigures, units: Units) -> Iterator[Content]:
    """What matters most on the brakes, a line each, for a window with no room beside the form."""
    for name, field, kind in BRAKES_ROWS:
        if field in ("fork_used_mm", "fork_left_mm", "rear_kg", "trail_mm") and _known(brakes, field):
            slow, fast = getattr(brakes.slow, field), getattr(brakes.fast, field)
            at = range_of(brakes.braking.slow_g, brakes.braking.fast_g, None, METRIC)
            yield Content.styled(f"{worded(name)} at {at} ", MUTED) + Content.styled(
                _ranged(slow, fast, kind, units), "$figure bold"
            )
