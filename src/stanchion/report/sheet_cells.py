"""Cells of the tables of the hand-over sheet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from stanchion.job.model import Adjuster, Clicker, End, Leg, Rear, Spring, State
from stanchion.job.spec import Kind
from stanchion.judgement.results.assessment import Band, PreloadFigures
from stanchion.judgement.results.figures import Figure
from stanchion.report.lines import NONE, figure, recorded_text
from stanchion.units.known_units import Units
from stanchion.units.quantity import plain, show, show_settable
from stanchion.units.spans import show_span
from stanchion.wording.positions import DAMPERS, showing, turns_or_clicks
from stanchion.wording.verdicts import STATE_WORDS

NO_SPRING = "no spring"


def headroom(of: PreloadFigures, way: Literal["out", "in"], units: Units) -> str:
    """What an adjuster has left one way, in length and in turns or clicks."""
    mm, turns = (
        (of.headroom_out_mm, of.headroom_out_turns) if way == "out" else (of.headroom_in_mm, of.headroom_in_turns)
    )
    length = settable(mm, units)
    about = "about " if turns.estimate else ""
    counted = NONE if turns.value is None else about + turns_or_clicks(turns.value, of.turned_in)
    return ", ".join(text for text in (length, counted) if text != NONE) or NONE


def settable(of: Figure, units: Units) -> str:
    """A length that follows from where the adjuster stands."""
    if of.value is None:
        return NONE
    return ("about " if of.estimate else "") + show_settable(of.value, Kind.LENGTH, units)


def clicks(clicker: Clicker) -> str:
    """A damper's position and range."""
    if clicker.now is None:
        return NONE
    of = f" of {clicker.total:g}" if clicker.total is not None else ""
    return f"{clicker.now:g}{of} {clicker.unit}"


def band(of: Band | None, units: Units) -> str:
    """A target from its low to its high end."""
    if of is None:
        return NONE
    return show_span(*of, Kind.LENGTH, units, between="–")


def state_name(end: End, state: State) -> str:
    """One state at one end, in words."""
    return f"{end.capitalize()}, {STATE_WORDS[state]}"


def set_lengths(spring: Spring | str, units: Units) -> str:
    """Set length with the adjuster out and in, and where it was read."""
    if isinstance(spring, str):
        return spring
    out, fully_in = (recorded_text(mm, Kind.LENGTH, units) for mm in (spring.set_length_mm, spring.set_length_in_mm))
    if out == fully_in == NONE:
        return NONE
    at = f" (at {spring.set_length_at:g})" if spring.set_length_at else ""
    return f"{out.partition(' ')[0] if not at and fully_in != NONE else out}{at} / {fully_in}"


def stack_cell(leg: Leg, figures: PreloadFigures, units: Units) -> str:
    """The pieces of a spacer stack and their sum."""
    pieces = [leg.stack.spacer_mm, *leg.stack.washers_mm, *leg.stack.seats_mm]
    known = [_piece(piece, units) for piece in pieces if piece is not None]
    total = figure(figures.stack_mm, Kind.LENGTH, units)
    return f"{' + '.join(known)} = {total}" if len(known) > 1 and total != NONE else total


def _piece(length_mm: float, units: Units) -> str:
    """A piece of a stack as it was entered in mm; in another unit as far as a length is shown."""
    if units.lengths == "mm":
        return plain(length_mm, Kind.LENGTH, units)
    return f"{float(show(length_mm, Kind.LENGTH, units).split()[0]):g}"


def position(adjuster: Adjuster) -> str:
    """Where a preload adjuster stands, and how far it goes."""
    if adjuster.counting == "none":
        return "no adjuster"
    if adjuster.now is None:
        return NONE
    of = f" of {adjuster.total:g}" if adjuster.from_out and adjuster.total is not None else ""
    return f"{adjuster.now:g}{of} {adjuster.counting}{showing(adjuster.counting)}"


def preload_from(adjuster: Adjuster) -> str:
    """What the position of a preload adjuster is counted from."""
    if adjuster.counting not in ("rings", "mm"):
        return "fully out"
    ends = (("out", adjuster.reading_out), ("in", adjuster.reading_in))
    known = ", ".join(f"{reading:g} fully {end}" for end, reading in ends if reading is not None)
    return f"read off: {known}" if known else "read off the adjuster"


def dampers_of(part: Leg | Rear) -> Iterator[tuple[str, str, Clicker]]:
    """The dampers of a leg or of the shock: their fields and the words for them."""
    for name, words in DAMPERS.items():
        clicker = getattr(part, name, None)
        if clicker is not None:
            yield name, words, clicker


def less_packers(full: float | None, packers: float | None, units: Units) -> str:
    """Travel or stroke as recorded, and the packers that shorten it."""
    if full is None or not packers:
        return recorded_text(full, Kind.LENGTH, units)
    return f"{show(full, Kind.LENGTH, units)}, packers {show(packers, Kind.LENGTH, units)}"
