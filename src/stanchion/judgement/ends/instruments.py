"""How far one reading may be off, by what it was taken with."""

from __future__ import annotations

from stanchion.job.ends import STEPS
from stanchion.job.model import Adjuster, Repeatability, Spring
from stanchion.judgement.criteria.thresholds import ADJUSTER_STEP, TAPE_SCALE_OFF
from stanchion.mechanics.statistics import Uncertainty, limits_uncertainty, resolution_uncertainty, together

LENGTHS = ("free_length_mm", "set_length_mm", "set_length_in_mm")
"""Fields of a spring that are read with a tape."""
POSITIONS = ("total_turns", "now", "reading_out", "reading_in")
"""Fields of an adjuster that are counted or read."""


def tape_scale_uncertainty(length_mm: float) -> float:
    """Standard uncertainty of a length from the scale of a tape that was never checked [mm]; every reading of that tape
    shares it."""
    return limits_uncertainty(TAPE_SCALE_OFF) * length_mm


def position_uncertainty(adjuster: Adjuster, position: float | None, *, counted: bool) -> float:
    """Standard uncertainty of a position of a preload adjuster, counted as it is: none where clicks are counted, nor at
    its ends.

    Args:
        adjuster: the adjuster.
        position: the reading; None: there is none.
        counted: whether it is a position between the ends, and not an end itself.
    """
    at_end = counted and position in adjuster.ends
    if position is None or adjuster.counting in ("clicks", "none") or at_end:
        return 0.0
    return resolution_uncertainty(min(ADJUSTER_STEP, STEPS.get(adjuster.counting, ADJUSTER_STEP)))


def own_length(own: Repeatability) -> Uncertainty | None:
    """How sure one length of a spring is by the technician's own study at the bench [mm]; None: there is none."""
    found = own.of("bench")
    return None if found is None else Uncertainty(*found)


def length_uncertainty(tape_mm: float, own: Uncertainty | None) -> Uncertainty:
    """How sure one length of a spring is, by the division of the tape and, where there is one, by the study [mm]; the
    tape's scale is not in it."""
    tape = Uncertainty(resolution_uncertainty(tape_mm))
    return tape if own is None else together(own, tape)


def lengths_of(spring: Spring) -> tuple[str, ...]:
    """The lengths of a spring that were read."""
    return tuple(name for name in LENGTHS if getattr(spring, name) is not None)


def difference_expanded(difference_mm: float, tape_mm: float, own: Uncertainty | None) -> float:
    """Half-width of the interval that holds the difference of two lengths read with one tape with about 95 % [mm]; of
    the tape's scale only what it does to the difference counts.

    Args:
        difference_mm: how far the lengths differ.
        tape_mm: smallest division of the tape [mm].
        own: how sure one length is by the technician's own study [mm]; None: there is none.
    """
    one = length_uncertainty(tape_mm, own)
    return together(one, one, Uncertainty(tape_scale_uncertainty(abs(difference_mm)))).expanded
