"""A change that is judged by riding: what is set otherwise, for which complaint, and what is expected of it."""

from __future__ import annotations

import datetime as dt
from typing import Literal, get_args

from stanchion.base.record import record
from stanchion.job.complaint import MOST_COMPLAINTS, Complaint
from stanchion.job.spec import Kind, day, number, part, rows, text

Verdict = Literal["not_said", "better", "same", "worse"]
"""What the rider says of a run against the one before it."""
VERDICTS: tuple[Verdict, ...] = get_args(Verdict)
MOST_CHANGES = 3
"""Changes that wait for their run, at most."""
MOST_MOVES = 24
"""Settings of one change, at most."""


@record(kw_only=True)
class Move:
    """One setting that a change alters."""

    path: str = text(48)
    """The setting, as the file spells it: rear.rebound.now."""
    was: str = text(80)
    """Its value before, as JSON; empty: not recorded."""
    becomes: str = text(80)
    """Its value after, as JSON; empty: not recorded."""


@record(kw_only=True)
class ExpectedEffect:
    """What the job said, when the change was chosen, that it would do. Empty: not known."""

    front_static_mm: float | None = number(Kind.LENGTH, -500, 500, 1)
    """Front static sag [mm]."""
    front_rider_mm: float | None = number(Kind.LENGTH, -500, 500, 1)
    """Front rider sag [mm]."""
    rear_static_mm: float | None = number(Kind.LENGTH, -500, 500, 1)
    """Rear static sag [mm]."""
    rear_rider_mm: float | None = number(Kind.LENGTH, -500, 500, 1)
    """Rear rider sag [mm]."""
    fork_brakes_mm: float | None = number(Kind.LENGTH, -500, 1000, 1)
    """Fork travel used on the brakes, steady [mm]."""
    trail_mm: float | None = number(Kind.LENGTH, -1000, 1000, 1)
    """Trail [mm]."""


@record(kw_only=True)
class ChangeToRide:
    """One change that is still to be ridden, of one or more settings that belong together."""

    made_on: dt.date | None = day()
    """The day it was made on the machine; None: still to be made."""
    made_at: str = text(20, clock=True)
    """When, on that day."""
    complaints: tuple[Complaint, ...] = rows(Complaint, MOST_COMPLAINTS)
    """What it is meant to help against; empty: not said."""
    moves: tuple[Move, ...] = rows(Move, MOST_MOVES)
    """The settings, each before and after."""
    expected: ExpectedEffect = part(ExpectedEffect)
    """What is expected of it."""


@record(kw_only=True)
class RiddenChange:
    """What was recorded of the change that a run was ridden with for the first time; its settings are those that differ
    from the run before."""

    made_on: dt.date | None = day()
    """The day it was made on the machine."""
    made_at: str = text(20, clock=True)
    """When, on that day."""
    complaints: tuple[Complaint, ...] = rows(Complaint, MOST_COMPLAINTS)
    """What it was meant to help against; empty: not said."""
    at_once: float | None = number(Kind.COUNT, 1, 200, 1)
    """How many changes the run was ridden with at once; None: one."""
    expected: ExpectedEffect = part(ExpectedEffect)
    """What was expected of it."""
