"""The records of a machine on the gas: chain and swingarm, anti-squat, and what small changes do to it."""

from __future__ import annotations

from typing import Literal

from stanchion.base.record import record
from stanchion.judgement.results.figures import Figure

GasChange = Literal["rear_up", "axle_back", "sprocket_up", "pivot_up", "front_tooth", "rear_tooth"]
"""A small change of the machine: its rear, its axle, front sprocket, pivot, one tooth more."""


@record(kw_only=True)
class SquatFigures:
    """Lines and angles of the machine from the side."""

    arm_deg: Figure
    """The swingarm, from pivot to axle below horizontal."""
    chain_deg: Figure
    """The upper run of the chain, rising towards the front sprocket."""
    squat_deg: Figure
    """From the rear contact to where the line of the chain meets that of the swingarm."""
    transfer_deg: Figure
    """The load transfer line, from the rear contact."""
    anti_squat_pct: Figure
    """Share of the load transfer that chain and swingarm carry; above 100 % the rear rises on the gas."""


@record(kw_only=True)
class OverTravel:
    """Anti-squat at one travel of the rear wheel, the fork as with the rider."""

    rear_used_mm: float
    """From the hanging wheel."""
    anti_squat_pct: float


@record(kw_only=True)
class GasEffect:
    """What a small change does."""

    change: GasChange
    amount: float
    """How much is changed [mm, or teeth]."""
    axle_back_mm: Figure
    """How far the axle moves back with the same chain; 0 where the chain has no part in it."""
    fits: bool | None
    """Whether its slots let the axle go there; None where that is not known."""
    anti_squat_pct: Figure
    """Change of anti-squat at rider sag, in points."""
    rear_squats_mm: Figure
    """Change of how far the rear squats on the gas; below 0 it squats less."""
    trail_mm: Figure
    """Change of trail with the rider, off the gas."""
    wheelbase_mm: Figure
    """Change of the wheelbase with the rider, off the gas."""


@record(kw_only=True)
class AxleMove:
    """How far the axle moves for one tooth more or less."""

    end: Literal["front", "rear"]
    """Which sprocket."""
    teeth: float
    """Teeth it then has."""
    back_mm: Figure
    """How far the axle moves back with the same chain; below 0: forward."""
    fits: bool | None
    """Whether its slots allow that; None where that is not known."""
    links: Figure
    """The even number of links with which the axle stays nearest to where it is."""


@record(kw_only=True)
class ChainFigures:
    """The chain and its length."""

    pitch_mm: Figure
    needed_links: Figure
    """Links of a taut chain where pivot, axle and front sprocket lie on one line: whole or not."""
    taut_back_mm: Figure
    """How far the axle goes back until the chain is taut where it is tightest; below 0: forward."""
    hangs: Literal["short", "slack", ""]
    """Whether the chain is too short where the axle stands, or slacker than the tape can be wrong by."""
    taut_fits: bool | None
    """Whether its slots let the axle go there; None where that is not known."""
    axle_moves: tuple[AxleMove, ...]


@record(kw_only=True)
class GasFigures:
    """A machine with its rider on the gas."""

    acceleration_g: Figure
    """Acceleration looked at; an estimate where none is entered."""
    stands: SquatFigures
    """At rider sag, off the gas."""
    anti_squat_there_pct: Figure
    """Anti-squat as it stands on the gas."""
    rear_squats_mm: Figure
    """How far the rear squats from rider sag; below 0 it rises."""
    fork_extends_mm: Figure
    """How far the fork extends from rider sag, along the leg."""
    fork_used_mm: Figure
    """Fork travel from the hanging wheel."""
    rear_used_mm: Figure
    """Rear wheel travel from the hanging wheel."""
    ahead_mm: Figure
    """Centre of mass ahead of the rear contact there."""
    height_mm: Figure
    """Its height there."""
    front_kg: Figure
    """Load left on the front wheel, as a scale would show it."""
    rear_kg: Figure
    """Load on the rear wheel."""
    rake_deg: Figure
    trail_mm: Figure
    """Along the ground."""
    wheelbase_mm: Figure
    """Between the axles."""
    front_lifts_g: Figure
    """Acceleration at which the front wheel carries nothing."""
    over_travel: tuple[OverTravel, ...] = ()
    """Anti-squat from the hanging wheel to full travel; empty where it is not known."""
    over_travel_unknown: Figure | None = None
    """An absent figure that says what the end of the travel needs; None where it is known."""
    effects: tuple[GasEffect, ...] = ()
    """What small changes do; empty where anti-squat is not known."""
    chain: ChainFigures
