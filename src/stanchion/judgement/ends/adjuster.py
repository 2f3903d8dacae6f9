"""Range, position and headroom of a preload adjuster, from turns, rings or mm, and when it is near its end."""

from __future__ import annotations

from typing import Literal

from stanchion.base.record import record
from stanchion.job.ends import STEPS
from stanchion.job.model import Adjuster, Path, Spring
from stanchion.judgement.criteria.thresholds import (
    ADJUSTER_STEP,
    FEW_MM_LEFT,
    FEW_TURNS_LEFT,
    MOST_COUNTED,
    SLACK,
)
from stanchion.judgement.results.figures import Figure, absent, derive, first_known, recorded
from stanchion.mechanics.preload import (
    READING_SLACK,
    added_preload,
    adjuster_range,
    fraction_from_reading,
    headroom_in,
    headroom_out,
    per_turn,
    range_from_pitch,
    turns_for,
)

_ZERO = Figure(0.0)
_NO_ADJUSTER = absent("no_adjuster")


@record(kw_only=True)
class AdjusterRange:
    """Range, position and headroom of one adjuster."""

    range_mm: Figure
    per_turn_mm: Figure
    added_where_read_mm: Figure
    """Preload it added at the position where the set length was read."""
    added_now_mm: Figure
    out_mm: Figure
    in_mm: Figure
    out_turns: Figure
    in_turns: Figure
    fraction_now: Figure
    """0 fully out, 1 fully in."""
    range_from_lengths_mm: Figure
    range_from_thread_mm: Figure
    """The range found in two ways, for comparison."""
    range_from_pitch_mm: Figure
    """The range from pitch and turns alone; it differs from `range_from_thread_mm` only where the adjuster is read in
    mm."""
    no_fully_out: bool = False
    """Whether this is a threaded collar whose ends were not counted, so that "fully out" is not defined."""
    step_mm: float | None = None
    """Preload of the least that it is turned; None where that is not known."""
    stays: bool = False
    """Whether it is still where it was when the set length was read."""
    in_clicks: bool = False
    """Whether it is counted in clicks, so that what is said of turns counts clicks."""

    @property
    def left_in_mm(self) -> float | None:
        """Preload left to add, also where the turns to fully in were not counted; None where it is not known."""
        if self.in_mm.value is not None or self.range_mm.value is None or self.added_now_mm.value is None:
            return self.in_mm.value
        return max(0.0, self.range_mm.value - self.added_now_mm.value)

    @property
    def left_in_turns(self) -> float | None:
        """The same in turns, or in clicks."""
        if self.in_turns.value is not None or self.left_in_mm is None or not self.per_turn_mm.value:
            return self.in_turns.value
        return self.left_in_mm / self.per_turn_mm.value

    @property
    def at_end(self) -> Literal["", "in", "out"]:
        """The end that it is at."""
        fraction, out_turns = self.fraction_now.value, self.out_turns.value
        left = self.left_in_mm if self.left_in_turns is None else self.left_in_turns
        if (fraction is not None and fraction >= 1 - SLACK) or (left is not None and left <= SLACK):
            return "in"
        none_out = (fraction is not None and fraction <= SLACK) or (out_turns is not None and out_turns <= SLACK)
        return "out" if none_out and not self.no_fully_out else ""

    @property
    def near(self) -> Literal["", "in", "out"]:
        """The end that it is near, or at: the nearer where its range is so short that both are near. A collar whose
        ends were not counted has no fully out."""
        if self.at_end:
            return self.at_end
        left_in, left_out = (self.left_in_mm, self.left_in_turns), (self.out_mm.value, self.out_turns.value)
        near_in, near_out = (
            near_end(mm, turns, self.per_turn_mm.value, in_clicks=self.in_clicks) for mm, turns in (left_in, left_out)
        )
        if near_in and near_out:
            both = zip(left_in, left_out, strict=True)
            near_in = next((i <= o for i, o in both if i is not None and o is not None), False)
        if near_in:
            return "in"
        return "out" if near_out and not self.no_fully_out else ""


_NONE = AdjusterRange(
    range_mm=_ZERO,
    per_turn_mm=_NO_ADJUSTER,
    added_where_read_mm=_ZERO,
    added_now_mm=_ZERO,
    out_mm=_ZERO,
    in_mm=_ZERO,
    out_turns=_ZERO,
    in_turns=_ZERO,
    fraction_now=_NO_ADJUSTER,
    range_from_lengths_mm=_NO_ADJUSTER,
    range_from_thread_mm=_NO_ADJUSTER,
    range_from_pitch_mm=_NO_ADJUSTER,
)


def near_end(left_mm: float | None, turns: float | None, per_turn_mm: float | None, *, in_clicks: bool) -> bool:
    """Whether so little of an adjuster is left that it is near its end: less than a turn, or than 1 mm of preload where
    its turns are not known. A click is no turn, so one that is counted in clicks is judged in mm.

    Findings, the advice after a run and the list of springs all ask this.

    Args:
        left_mm: preload left towards that end; None: not known.
        turns: turns left, or clicks; None: not counted.
        per_turn_mm: preload of one of them; None: not known.
        in_clicks: whether it is counted in clicks.

    >>> near_end(0.75, 0.5, 1.5, in_clicks=False), near_end(0.75, None, 0.5, in_clicks=False)
    (True, False)
    >>> near_end(0.75, None, None, in_clicks=False), near_end(0.75, 3.0, 0.25, in_clicks=True)
    (True, True)
    """
    if not in_clicks:
        if turns is None and left_mm is not None and per_turn_mm:
            turns = left_mm / per_turn_mm
        if turns is not None:
            return turns < FEW_TURNS_LEFT - SLACK
    if turns is not None and turns <= SLACK:
        return True
    return left_mm is not None and left_mm < FEW_MM_LEFT - SLACK


def reach(spring: Spring, adjuster: Adjuster, spring_at: Path, adjuster_at: Path, *, by_thread: bool) -> AdjusterRange:
    """Work out range, position and headroom of an adjuster. Where it is counted in clicks, a turn stands for a click.

    The range comes from the two set lengths; where they are not both known, from thread pitch and turns; where mm
    are read, from the readings at both ends.

    Args:
        spring: the spring it acts on, with its set lengths.
        adjuster: the adjuster as recorded.
        spring_at: path of the spring.
        adjuster_at: path of the adjuster.
        by_thread: whether missing data should ask for the thread (a collar) before a second set length (a fork cap).

    Returns:
        Every figure, known or with what is missing for it.
    """
    if adjuster.counting == "none":
        return _NONE
    counts_turns = adjuster.from_out
    total = recorded(adjuster.total, (*adjuster_at, adjuster.total_name))
    pitch = recorded(adjuster.step_mm, (*adjuster_at, adjuster.step_name))
    now = recorded(adjuster.now, (*adjuster_at, "now"))
    if counts_more_than_any(adjuster):
        now = absent("adjuster_reading_unlikely")
    ends = (_ZERO, total) if counts_turns else _ring_ends(adjuster, adjuster_at)
    fraction_now = _fraction(now, *ends)
    read_at = None if spring.set_length_at is None else Figure(spring.set_length_at)
    fraction_read = _ZERO if read_at is None else _fraction(read_at, *ends)

    from_lengths = _range_from_lengths(spring, spring_at, fraction_read)
    from_pitch = from_thread = derive(range_from_pitch, pitch, total)
    if adjuster.counting == "mm":
        from_thread = first_known(derive(lambda a, b: abs(a - b), *ends), from_thread)
    range_mm = _best(from_lengths, from_thread, by_thread=by_thread)
    per_turn_mm = first_known(derive(per_turn, range_mm, total), pitch)

    def added(position: Figure, fraction: Figure) -> Figure:
        by_range = derive(added_preload, range_mm, fraction)
        if by_range.known or fraction.problem or range_mm.problem:
            return by_range
        if counts_turns:
            by_turns = derive(range_from_pitch, pitch, position)
            return by_turns if by_turns.known or by_thread else by_range
        if adjuster.counting == "mm":
            return first_known(by_range, derive(lambda a, b: abs(a - b), ends[0], position))
        return by_range

    added_now = added(now, fraction_now)
    # Turns from fully out are headroom as they stand, even where the total was never counted.
    counted = counts_turns and not fraction_now.problem
    out_turns = now if counted else derive(headroom_out, total, fraction_now)
    in_mm, in_turns = derive(headroom_in, range_mm, fraction_now), derive(headroom_in, total, fraction_now)
    if not counts_turns:  # rings and mm come to turns by the pitch where the turns were not counted
        out_turns = first_known(out_turns, derive(turns_for, added_now, pitch))
        in_turns = first_known(in_turns, derive(turns_for, in_mm, pitch))
    return AdjusterRange(
        range_mm=range_mm,
        per_turn_mm=per_turn_mm,
        added_where_read_mm=_ZERO if read_at is None else added(read_at, fraction_read),
        added_now_mm=added_now,
        out_mm=added_now,
        in_mm=in_mm,
        out_turns=out_turns,
        in_turns=in_turns,
        fraction_now=fraction_now,
        range_from_lengths_mm=from_lengths,
        range_from_thread_mm=from_thread,
        range_from_pitch_mm=from_pitch,
        no_fully_out=by_thread and range_mm.value is None and not range_mm.problem and not _counted_out(adjuster),
        step_mm=_step(adjuster, range_mm, per_turn_mm),
        stays=_stays(spring, adjuster),
        in_clicks=adjuster.counting == "clicks",
    )


def counts_more_than_any(adjuster: Adjuster) -> bool:
    """Whether it is read further than any adjuster counts, where the ends of this one are not recorded.

    Args:
        adjuster: the preload adjuster.
    """
    most = MOST_COUNTED.get(adjuster.counting)
    ends = (adjuster.total,) if adjuster.from_out else (adjuster.reading_out, adjuster.reading_in)
    return most is not None and adjuster.now is not None and None in ends and adjuster.now > most


def _step(adjuster: Adjuster, range_mm: Figure, per_turn_mm: Figure) -> float | None:
    """Preload of the least that it is turned: a click, a quarter of a turn, or of what is read where no thread
    is known."""
    if per_turn_mm.value:
        return STEPS.get(adjuster.counting, ADJUSTER_STEP) * per_turn_mm.value
    if adjuster.counting == "mm":
        return ADJUSTER_STEP
    out, into = adjuster.reading_out, adjuster.reading_in
    if adjuster.counting != "rings" or out is None or into is None or out == into or not range_mm.value:
        return None
    return ADJUSTER_STEP * range_mm.value / abs(out - into)


def _counted_out(adjuster: Adjuster) -> bool:
    """Whether the job records where the adjuster is fully out."""
    return (adjuster.total if adjuster.from_out else adjuster.reading_out) is not None


def _stays(spring: Spring, adjuster: Adjuster) -> bool:
    """Whether the set length was read at the present position of the adjuster; no count or pitch is needed then."""
    if spring.set_length_at is None:
        return adjuster.from_out and adjuster.now == 0.0
    return adjuster.now is not None and abs(adjuster.now - spring.set_length_at) <= READING_SLACK


def _ring_ends(adjuster: Adjuster, at: Path) -> tuple[Figure, Figure]:
    return (
        recorded(adjuster.reading_out, (*at, "reading_out")),
        recorded(adjuster.reading_in, (*at, "reading_in")),
    )


def _fraction(position: Figure, fully_out: Figure, fully_in: Figure) -> Figure:
    """Position of the adjuster, 0 fully out to 1 fully in; absent with the problem where it lies beyond its ends."""
    if fully_out.value is not None and fully_in.value is not None:
        if fully_out.value == fully_in.value:
            return absent("adjuster_ends_equal")
        if position.value is not None:
            low, high = sorted((fully_out.value, fully_in.value))
            if not low - READING_SLACK <= position.value <= high + READING_SLACK:
                return absent("adjuster_beyond_range")
    return derive(fraction_from_reading, position, fully_out, fully_in)


def _range_from_lengths(spring: Spring, at: Path, fraction_read: Figure) -> Figure:
    set_length = recorded(spring.set_length_mm, (*at, "set_length_mm"))
    set_in = recorded(spring.set_length_in_mm, (*at, "set_length_in_mm"))
    if set_length.value is not None and set_in.value is not None and set_in.value > set_length.value + READING_SLACK:
        return absent("set_lengths_order")
    if (
        set_length.known
        and set_in.known
        and fraction_read.value is not None
        and fraction_read.value >= 1 - READING_SLACK
    ):
        return absent("set_length_read_fully_in")
    return derive(adjuster_range, set_length, set_in, fraction_read)


def _best(from_lengths: Figure, from_thread: Figure, *, by_thread: bool) -> Figure:
    if from_lengths.known or from_lengths.problem == "set_lengths_order":
        return from_lengths
    if from_thread.known:
        return from_thread
    return from_thread if by_thread else from_lengths
