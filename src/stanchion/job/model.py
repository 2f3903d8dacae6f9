"""A job: one machine and rider on one occasion. Only what a person recorded stands here, never a derived number.

The tree is frozen; an edit gives a new tree (see edit.py). Lengths are in mm, rates in N/mm, masses in kg,
pressures in bar as gauges read them. None means "not recorded".
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Any, Literal

from stanchion.job.spec import Kind, choice, day, flag, many, number, optional_part, part, rows, text

Path = tuple[str | int, ...]
"""Where a value stands in a job, as names and list positions: ("front", "left", "spring", "free_length_mm")."""

Side = Literal["left", "right"]
End = Literal["front", "rear"]
State = Literal["static", "rider"]
SIDES: tuple[Side, Side] = ("left", "right")
ENDS: tuple[End, End] = ("front", "rear")
STATES: tuple[State, State] = ("static", "rider")


@dataclass(frozen=True, slots=True, kw_only=True)
class Spring:
    """A main spring and the lengths it has when fitted."""

    rate_n_per_mm: float | None = number(Kind.RATE, 0.1, 1000, 0.25)
    """Rate as labelled or measured [N/mm]."""
    free_length_mm: float | None = number(Kind.LENGTH, 10, 1000, 0.5)
    """Length out of the fork or shock, unloaded [mm]."""
    set_length_mm: float | None = number(Kind.LENGTH, 10, 1000, 0.5)
    """Length fitted, suspension extended, at the adjuster position below [mm]."""
    set_length_at: float | None = number(Kind.COUNT, 0, 200, 0.5)
    """Adjuster reading at which the set length was read, counted as the adjuster is; None: fully out."""
    set_length_in_mm: float | None = number(Kind.LENGTH, 10, 1000, 0.5)
    """Length fitted with the adjuster fully in [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjuster:
    """What sets preload: a fork cap's adjuster, or the collar of a shock."""

    counting: str = choice("turns", "rings", "mm", "none")
    """How its position is read: turns from fully out, rings showing, mm showing, or there is no adjuster."""
    total_turns: float | None = number(Kind.TURNS, 0.1, 200, 0.5)
    """Turns from fully out to fully in."""
    pitch_mm: float | None = number(Kind.LENGTH, 0.05, 20, 0.25)
    """Preload added by one turn, from the thread [mm]."""
    reading_out: float | None = number(Kind.COUNT, 0, 500, 0.5)
    """Rings or mm showing when fully out."""
    reading_in: float | None = number(Kind.COUNT, 0, 500, 0.5)
    """Rings or mm showing when fully in."""
    now: float | None = number(Kind.COUNT, 0, 500, 0.25)
    """Present position, counted as said above."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clicker:
    """A damper adjuster, counted from fully in (closed)."""

    now: float | None = number(Kind.COUNT, 0, 200, 1)
    """Clicks or turns out from fully in."""
    total: float | None = number(Kind.COUNT, 0.25, 200, 1)
    """Clicks or turns from fully in to fully out."""
    unit: str = choice("clicks", "turns")
    """What is counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """What stands between the spring and its abutment, piece by piece."""

    spacer_mm: float | None = number(Kind.LENGTH, 0, 500, 0.5)
    """Length of the spacer tube [mm]."""
    washers_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 50, 0.5, most=4)
    """Thickness of each washer [mm]."""
    seats_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 100, 0.5, most=3)
    """Height of each spring seat [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """One fork leg."""

    spring_fitted: bool = flag(default=True)
    """False for the leg without a spring in a fork that has one spring."""
    spring: Spring = part(Spring)
    """The main spring."""
    read_at: str = choice("stop", "touching", "assembled")
    """Where the set length was read: on the damper's mechanical stop, drawn out until the top-out spring just
    touches, or assembled with the main spring pushing against the top-out spring."""
    adjuster: Adjuster = part(Adjuster)
    """The preload adjuster in the cap."""
    stack: Stack = part(Stack)
    """Spacer, washers and seats."""
    compression: Clicker = part(Clicker)
    """Compression damping."""
    rebound: Clicker = part(Clicker)
    """Rebound damping."""
    air_gap_mm: float | None = number(Kind.LENGTH, 0, 500, 5)
    """From the top of the stanchion down to the oil, fork fully compressed, spring and spacer out [mm]."""
    oil_volume_ml: float | None = number(Kind.VOLUME, 0, 3000, 10)
    """Oil put in [ml]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TopOut:
    """The short spring that works against the main spring near full extension."""

    fitted: str = choice("unknown", "yes", "no")
    """Whether there is one."""
    rate_n_per_mm: float | None = number(Kind.RATE, 0.1, 1000, 1)
    """Its rate [N/mm]."""
    works_over_mm: float | None = number(Kind.LENGTH, 0, 150, 1)
    """Length over which it works, from the mechanical stop [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Front:
    """The fork."""

    left: Leg = part(Leg)
    """Left leg as the rider sits; both legs where right is None."""
    right: Leg | None = optional_part(Leg)
    """Right leg where it is entered apart; None: as the left."""
    preload_difference_meant: bool = flag()
    """The legs are set to different preloads on purpose."""
    dampers_split: bool = flag()
    """The legs have dampers of different types, so their clicks need not match."""
    travel_mm: float | None = number(Kind.LENGTH, 20, 500, 5)
    """Full travel along the leg [mm]."""
    fork_height_mm: float | None = number(Kind.LENGTH, -100, 200, 1)
    """Tube edge (not the cap) above the top yoke [mm]."""
    stanchion_outer_mm: float | None = number(Kind.LENGTH, 10, 100, 1)
    """Outer diameter of the sliding tube [mm]."""
    stanchion_inner_mm: float | None = number(Kind.LENGTH, 5, 100, 1)
    """Inner diameter of the tube that holds the air [mm]."""
    top_out: TopOut = part(TopOut)
    """The top-out spring."""
    oil: str = text(60)
    """Oil grade."""

    @property
    def split(self) -> bool:
        """Whether the legs are entered apart."""
        return self.right is not None

    def leg(self, side: Side) -> Leg:
        """The leg on that side; the left one serves for both until they are split."""
        return self.left if side == "left" or self.right is None else self.right


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkagePair:
    """One measured point of the linkage, spring off."""

    wheel_mm: float | None = number(Kind.LENGTH, 0, 500, 10)
    """Vertical wheel travel from full extension [mm]."""
    shock_mm: float | None = number(Kind.LENGTH, 0, 300, 5)
    """Shock travel there [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rear:
    """The rear shock and what joins it to the wheel."""

    spring: Spring = part(Spring)
    """The shock spring."""
    collar: Adjuster = part(Adjuster)
    """The threaded ring (or other adjuster) that sets preload."""
    stroke_mm: float | None = number(Kind.LENGTH, 10, 300, 1)
    """Full stroke of the shock [mm]."""
    eye_to_eye_mm: float | None = number(Kind.LENGTH, 100, 700, 1)
    """Length between the mounting eyes, extended [mm]."""
    length_adjuster_mm: float | None = number(Kind.LENGTH, -20, 50, 0.5)
    """Shock length adjuster, mm added from its datum [mm]."""
    shaft_mm: float | None = number(Kind.LENGTH, 4, 40, 1)
    """Diameter of the shock shaft [mm]."""
    gas_pressure_bar: float | None = number(Kind.PRESSURE, 0, 40, 0.5)
    """Gas pressure above ambient [bar]."""
    wheel_travel_mm: float | None = number(Kind.LENGTH, 20, 500, 5)
    """Full vertical travel of the wheel [mm]."""
    motion_ratio: float | None = number(Kind.RATIO, 0.1, 2, 0.01)
    """Shock travel over wheel travel as one number, where pairs were not measured."""
    linkage: tuple[LinkagePair, ...] = rows(LinkagePair, 12)
    """Measured pairs; they win over the one number."""
    low_speed_compression: Clicker = part(Clicker)
    """Low-speed compression damping."""
    high_speed_compression: Clicker = part(Clicker)
    """High-speed compression damping."""
    rebound: Clicker = part(Clicker)
    """Rebound damping."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """The readings of one state at one end."""

    down_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 2000, 0.5, most=5)
    """Pushed down and let rise slowly [mm]."""
    up_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 2000, 0.5, most=5)
    """Lifted and let settle slowly [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SagEnd:
    """Sag readings at one end."""

    gauge: str = choice("length", "travel")
    """A length that shrinks as the suspension moves, or a gauge that reads travel used directly."""
    hanging_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 2000, 0.5, most=5)
    """L1: the length with the wheel hanging clear [mm]; not used with a gauge that reads travel."""
    static: Readings = part(Readings)
    """Machine alone."""
    rider: Readings = part(Readings)
    """Rider aboard, in riding position, in full gear."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sag:
    """The sag capture."""

    front: SagEnd = part(SagEnd)
    """Length along the leg."""
    rear: SagEnd = part(SagEnd)
    """Axle to a marked point straight above it."""
    tape_resolution_mm: float | None = number(Kind.LENGTH, 0.01, 10, 0.5)
    """Smallest division of the tape [mm]; None: 1 mm is taken."""
    fuel: str = text(40)
    """Fuel aboard when measured."""

    def end(self, end: End) -> SagEnd:
        """The readings at that end."""
        return self.front if end == "front" else self.rear


@dataclass(frozen=True, slots=True, kw_only=True)
class Occasion:
    """Who, what, when and where."""

    machine: str = text(60)
    """The machine, as the workshop calls it."""
    rider: str = text(60)
    """The rider."""
    venue: str = text(60)
    """Where."""
    date: dt.date = day(dt.date(2000, 1, 1))
    """When."""
    use: str = text(30, default="track")
    """What the machine is set up for: names the profile of bands and targets."""
    rider_mass_kg: float | None = number(Kind.MASS, 20, 250, 0.5)
    """The rider in full gear [kg]."""
    carried_from: str = text(120)
    """File name of the job this one was carried forward from."""
    sample: bool = flag()
    """An invented job that came with the program."""
    notes: str = text(2000, lines=20)
    """Anything else."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One machine and rider on one occasion."""

    job: Occasion = part(Occasion)
    """Who, what, when and where."""
    front: Front = part(Front)
    """The fork."""
    rear: Rear = part(Rear)
    """The shock."""
    sag: Sag = part(Sag)
    """The sag readings."""
    unknown: tuple[tuple[Path, Any], ...] = ()
    """Keys of the file that this version does not know, kept to be written back."""
