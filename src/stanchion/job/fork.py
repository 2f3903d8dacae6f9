"""The fork, leg by leg."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.adjusters import Adjuster, Clicker
from stanchion.job.places import Side
from stanchion.job.spec import Kind, choice, flag, many, number, optional_part, part, text
from stanchion.job.springs import Spring, TopOut


@record(kw_only=True)
class Stack:
    """The pieces between the spring and its abutment."""

    spacer_mm: float | None = number(Kind.LENGTH, 0, 500, 0.5)
    """Length of the spacer tube [mm]."""
    washers_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 50, 0.5, most=4)
    """Thickness of each washer [mm]."""
    seats_mm: tuple[float, ...] = many(Kind.LENGTH, 0, 100, 0.5, most=3)
    """Height of each spring seat [mm]."""


@record(kw_only=True)
class Bleed:
    """The state of the trapped air when the leg was closed or last bled."""

    at_mm: float | None = number(Kind.LENGTH, 0, 500, 5)
    """Compression then, along the leg [mm]; None: fully extended."""
    pressure_bar: float | None = number(Kind.PRESSURE, -0.9, 10, 0.1)
    """Pressure above ambient then [bar]; None: none."""
    temperature_c: float | None = number(Kind.TEMPERATURE, -40, 150, 1)
    """Temperature of the air then [°C]; None: as now."""


@record(kw_only=True)
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
    solids_ml: float | None = number(Kind.VOLUME, 0, 2000, 5)
    """Volume of what is in the air space at full travel: spring, spacer, cap [ml]; None: not counted."""
    bleed: Bleed = part(Bleed)
    """The trapped air when the leg was closed or last bled."""


@record(kw_only=True)
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
    """Full travel along the leg, without packers [mm]."""
    packers_mm: float | None = number(Kind.LENGTH, 0, 100, 1)
    """Rigid packers that shorten the travel [mm]; None: none."""
    fork_height_mm: float | None = number(Kind.LENGTH, -100, 200, 1)
    """Tube edge (not the cap) above the top yoke [mm]."""
    stanchion_outer_mm: float | None = number(Kind.LENGTH, 10, 100, 1)
    """Outer diameter of the sliding tube [mm]."""
    stanchion_inner_mm: float | None = number(Kind.LENGTH, 5, 100, 1)
    """Inner diameter of the tube that holds the air [mm]."""
    top_out: TopOut = part(TopOut)
    """The top-out spring."""
    top_out_legs: str = choice("unknown", "sprung", "both", "left", "right")
    """Which legs of a fork entered leg by leg have it: those with a main spring, both, or one. Not known: taken to be
    those with a main spring."""
    air_gap_least_mm: float | None = number(Kind.LENGTH, 0, 500, 5)
    """Least air gap the fork's manual allows [mm]."""
    oil: str = text(60)
    """Oil grade."""
    temperature_c: float | None = number(Kind.TEMPERATURE, -40, 150, 1)
    """Temperature of the fork now [°C]; None: as when it was bled."""

    @property
    def split(self) -> bool:
        """Whether the legs are entered apart."""
        return self.right is not None

    def leg(self, side: Side) -> Leg:
        """The leg on that side; the left one serves for both until they are split."""
        return self.left if side == "left" or self.right is None else self.right

    def top_out_of(self, side: Side) -> TopOut:
        """The top-out spring of that leg; said not to be fitted in a leg that has none."""
        if self.top_out.fitted != "yes" or self.right is None or self.top_out_legs in ("both", side):
            return self.top_out
        if self.top_out_legs in ("unknown", "sprung") and self.leg(side).spring_fitted:
            return self.top_out
        return TopOut(fitted="no")
