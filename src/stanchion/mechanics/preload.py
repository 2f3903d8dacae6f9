"""Preload of one spring from its fitted lengths, and the range and headroom of its adjuster.

These hold alike for a fork spring and a shock spring. Fully out is least preload, fully in most. A position between
them is a fraction: 0 fully out, 1 fully in.
"""

from __future__ import annotations

import math

from stanchion.base.errors import OutOfRange
from stanchion.mechanics.limits import finite, not_negative, positive, within
from stanchion.mechanics.spring_curve import RateOrCurve, force_at

READING_SLACK = 1e-9
"""A reading that equals a limit may miss it by this much, by rounding."""


def installed_preload(free_mm: float, set_mm: float, added_mm: float = 0.0) -> float:
    """Preload with the adjuster fully out.

    .. math:: P_0 = L_f - L - a

    Args:
        free_mm: free length of the spring [mm], > 0.
        set_mm: set length [mm], > 0.
        added_mm: what the adjuster added where the set length was read [mm]; 0 where it was fully out.

    Returns:
        Installed preload [mm]; negative where the spring is loose.

    Raises:
        OutOfRange: a length is not above 0.

    Source:
        Definition.

    >>> installed_preload(250.0, 238.0)
    12.0
    >>> installed_preload(250.0, 234.0, added_mm=4.0)
    12.0
    """
    return positive("free length", free_mm) - positive("set length", set_mm) - finite("added preload", added_mm)


def adjuster_range(set_mm: float, set_in_mm: float, fraction_at: float = 0.0) -> float:
    """Preload that the adjuster adds from fully out to fully in.

    .. math:: R = (L - L_i) / (1 - f)

    Args:
        set_mm: set length at the position below [mm], > 0.
        set_in_mm: set length fully in [mm], > 0 and not longer than set_mm.
        fraction_at: where set_mm was read, 0 (fully out) to below 1 (fully in).

    Returns:
        Range [mm], >= 0.

    Raises:
        OutOfRange: fully in longer than the other set length (the readings are swapped), or both read fully in.

    Source:
        Definition.

    >>> adjuster_range(238.0, 230.0)
    8.0
    >>> adjuster_range(236.0, 230.0, fraction_at=0.25)
    8.0
    """
    positive("set length", set_mm)
    positive("set length fully in", set_in_mm)
    if set_in_mm > set_mm:
        raise OutOfRange(
            "set length fully in", set_in_mm, f"no longer than the set length read further out, {set_mm:g}"
        )
    if not 0.0 <= fraction_at < 1.0:
        raise OutOfRange("adjuster position of the set length", fraction_at, "from 0 to below 1")
    return (set_mm - set_in_mm) / (1.0 - fraction_at)


def range_from_pitch(pitch_mm: float, turns: float) -> float:
    """Preload that the adjuster adds over a number of turns of its thread.

    .. math:: R = p N

    Args:
        pitch_mm: preload added by one turn [mm], > 0.
        turns: turns, >= 0.

    Returns:
        Preload added [mm].

    Raises:
        OutOfRange: pitch not above 0, or turns negative.

    Source:
        Definition.

    >>> range_from_pitch(1.0, 8.0)
    8.0
    """
    return positive("thread pitch", pitch_mm) * not_negative("turns", turns)


def per_turn(range_mm: float, total_turns: float) -> float:
    """Preload added by one turn.

    .. math:: p = R / N

    Args:
        range_mm: adjuster range [mm], >= 0.
        total_turns: turns from fully out to fully in, > 0.

    Returns:
        Preload a turn [mm].

    Raises:
        OutOfRange: range negative, or turns not above 0.

    Source:
        Definition.

    >>> per_turn(8.0, 16.0)
    0.5
    """
    return not_negative("adjuster range", range_mm) / positive("turns in total", total_turns)


def turns_for(preload_mm: float, pitch_mm: float) -> float:
    """Turns of a thread that give a preload.

    .. math:: t = P / p

    Args:
        preload_mm: preload [mm], >= 0.
        pitch_mm: preload added by one turn [mm], > 0.

    Returns:
        Turns.

    Raises:
        OutOfRange: preload negative, or pitch not above 0.

    Source:
        Definition.

    >>> turns_for(6.0, 1.5)
    4.0
    """
    return not_negative("preload", preload_mm) / positive("thread pitch", pitch_mm)


def fraction_from_reading(reading: float, reading_out: float, reading_in: float) -> float:
    """Position of the adjuster from its reading.

    .. math:: f = (r - r_o) / (r_i - r_o)

    Turns count up from 0 fully out; rings or mm showing mostly count down (more showing is less preload).
    Either direction will do.

    Args:
        reading: present reading (turns, rings or mm).
        reading_out: reading fully out.
        reading_in: reading fully in, not the same.

    Returns:
        Fraction, 0 (fully out) to 1 (fully in).

    Raises:
        OutOfRange: both ends read the same, or the reading lies beyond them.

    Source:
        Definition.

    >>> fraction_from_reading(4.0, 0.0, 16.0)
    0.25
    >>> fraction_from_reading(5.0, reading_out=7.0, reading_in=1.0) == 1 / 3
    True
    """
    span = finite("reading fully in", reading_in) - finite("reading fully out", reading_out)
    if span == 0.0:
        raise OutOfRange("reading fully in", reading_in, "another reading than fully out")
    fraction = (reading - reading_out) / span
    if not -READING_SLACK <= fraction <= 1.0 + READING_SLACK:
        low, high = sorted((reading_out, reading_in))
        raise OutOfRange("adjuster reading", reading, f"from {low:g} to {high:g}")
    return min(max(fraction, 0.0), 1.0)


def added_preload(range_mm: float, fraction: float) -> float:
    """Preload that the adjuster adds at a position.

    .. math:: a = f R

    Args:
        range_mm: adjuster range [mm], >= 0.
        fraction: position, 0 to 1.

    Returns:
        Preload added [mm].

    Raises:
        OutOfRange: range negative, or fraction outside 0 to 1.

    Source:
        Definition.

    >>> added_preload(8.0, 0.25)
    2.0
    """
    return within("adjuster position", fraction, 0.0, 1.0) * not_negative("adjuster range", range_mm)


def preload_now(installed_mm: float, added_mm: float) -> float:
    """Preload at the present position.

    .. math:: P = P_0 + a

    Args:
        installed_mm: installed preload [mm]; negative where loose.
        added_mm: what the adjuster adds [mm].

    Returns:
        Preload now [mm].

    Raises:
        OutOfRange: an argument is infinite or not a number.

    Source:
        Definition.

    >>> preload_now(12.0, 8.0)
    20.0
    """
    return finite("installed preload", installed_mm) + finite("added preload", added_mm)


def preload_force(spring: RateOrCurve, preload_mm: float) -> float:
    """Force of the spring at full extension.

    .. math:: F = k max(0, P)

    Args:
        spring: rate [N/mm], > 0, or curve of the spring.
        preload_mm: preload [mm]; a loose spring gives no force.

    Returns:
        Force [N], >= 0.

    Raises:
        OutOfRange: rate not above 0.

    Source:
        Hooke's law.

    >>> preload_force(9.5, 20.0)
    190.0
    >>> preload_force(9.5, -2.0)
    0.0
    """
    return force_at(spring, preload_mm)


def headroom_out(total: float, fraction: float) -> float:
    """Headroom of the adjuster towards less preload.

    .. math:: h_o = f R

    Args:
        total: the whole range, in mm or in turns, >= 0.
        fraction: position, 0 to 1.

    Returns:
        Headroom, in the unit of total.

    Raises:
        OutOfRange: total negative, or fraction outside 0 to 1.

    Source:
        Definition.

    >>> headroom_out(16.0, 0.25)
    4.0
    """
    return within("adjuster position", fraction, 0.0, 1.0) * not_negative("adjuster range", total)


def headroom_in(total: float, fraction: float) -> float:
    """Headroom of the adjuster towards more preload.

    .. math:: h_i = (1 - f) R

    Args:
        total: the whole range, in mm or in turns, >= 0.
        fraction: position, 0 to 1.

    Returns:
        Headroom, in the unit of total.

    Raises:
        OutOfRange: total negative, or fraction outside 0 to 1.

    Source:
        Definition.

    >>> headroom_in(16.0, 0.25)
    12.0
    """
    return (1.0 - within("adjuster position", fraction, 0.0, 1.0)) * not_negative("adjuster range", total)


def settings_beside(change_mm: float, step_mm: float, left_mm: tuple[float, float]) -> tuple[float, ...]:
    """The changes of preload next to a wanted one that an adjuster can be set to.

    Args:
        change_mm: the change wanted.
        step_mm: preload of the least that is turned, > 0.
        left_mm: the changes that take it to its ends, fully out (0 or less) and fully in; infinite where not known.

    Returns:
        Whole steps from where it stands, and an end that comes before the next step; the nearest first.

    Raises:
        OutOfRange: step not above 0, or a change infinite or not a number.

    Source:
        Definition.

    >>> settings_beside(1.7, 0.25, (-2.0, 6.0)), settings_beside(5.9, 0.25, (-2.0, 5.95))
    ((1.75, 1.5), (5.95, 5.75))
    """
    steps = finite("change of preload", change_mm) / positive("step of the adjuster", step_mm)
    below = math.floor(steps + READING_SLACK)
    ends = (min(max(number * step_mm, left_mm[0]), left_mm[1]) for number in (below, below + 1))
    return tuple(sorted(dict.fromkeys(ends), key=lambda mm: abs(mm - change_mm)))


def new_spacer(
    old_spacer_mm: float, old_free_mm: float, new_free_mm: float, old_installed_mm: float, wanted_installed_mm: float
) -> float:
    """Spacer to cut for a spring of another free length, or for another installed preload.

    .. math:: s' = s + (L_f - L_f') + (P_0' - P_0)

    Washers and seats stay the same.

    Args:
        old_spacer_mm: spacer now [mm], >= 0.
        old_free_mm: free length of the spring now fitted [mm], > 0.
        new_free_mm: free length of the spring to be fitted [mm], > 0.
        old_installed_mm: installed preload now [mm].
        wanted_installed_mm: installed preload wanted [mm].

    Returns:
        Length of the new spacer [mm], >= 0.

    Raises:
        OutOfRange: a length is not above 0, or no spacer is short enough (the new spring is too long).

    Source:
        Common practice, no published source; it follows from the lengths in the leg adding up.

    >>> new_spacer(100.0, 250.0, 240.0, 12.0, 12.0)
    110.0
    >>> new_spacer(100.0, 250.0, 250.0, 18.0, 12.0)
    94.0
    """
    shorter = positive("free length", old_free_mm) - positive("new free length", new_free_mm)
    more = finite("wanted installed preload", wanted_installed_mm) - finite("installed preload", old_installed_mm)
    return not_negative("new spacer", not_negative("spacer", old_spacer_mm) + shorter + more)
