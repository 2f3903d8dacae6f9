"""What the rider complains of, in standard words: where on the track, and what the machine does there."""

from __future__ import annotations

from typing import Literal, get_args

from stanchion.base.record import record
from stanchion.job.spec import choice

Where = Literal["anywhere", "straight_braking", "turn_in", "middle", "exit", "straight", "bumps", "jumps"]
"""Where it happens: anywhere (or not said), braking in a straight line, turning in, the middle of the corner, its exit,
the straight, bumps, jumps and landings."""
What = Literal[
    "other",
    "dives",
    "will_not_turn",
    "runs_wide",
    "chatters",
    "pumps",
    "kicks",
    "packs_down",
    "tops_out",
    "vague",
    "harsh",
    "shakes",
    "squats",
    "spins_up",
    "brake",
    "bearing",
    "loose",
]
"""What the machine does; other: none of these words fits, and what the rider said stands in the run's own text."""

PLACES: tuple[Where, ...] = get_args(Where)
COMPLAINTS: tuple[What, ...] = get_args(What)
SAFETY: frozenset[What] = frozenset({"shakes", "brake", "bearing", "loose"})
"""Complaints that lead to an inspection, never to a setting."""
MOST_COMPLAINTS = 6


@record(kw_only=True)
class Complaint:
    """One complaint of the rider about a run."""

    where: Where = choice(*PLACES)
    """Where it happens: one of PLACES."""
    what: What = choice(*COMPLAINTS)
    """What the machine does there: one of COMPLAINTS."""
