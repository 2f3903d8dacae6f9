"""The fork and the shock as they are recorded, with their springs, adjusters, dampers and linkage."""

from __future__ import annotations

from stanchion.base.record import record
from stanchion.job.air import AirLeg
from stanchion.job.linkage_points import PointsRead
from stanchion.job.outside import Outside
from stanchion.job.places import Side
from stanchion.job.spec import Kind, Rate, choice, flag, many, number, optional_part, part, rows, text
from stanchion.job.stops import Stops, TopOut


@record(kw_only=True)
class TesterPair:
    """One reading of a spring tester."""

    length_mm: float | None = number(Kind.LENGTH, 1, 1000, 1)
    """Length of the spring in the tester [mm]."""
    force_n: float | None = number(Kind.FORCE, 0, 50_000, 10)
    """Force it gives there [N]."""


@record(kw_only=True)
class Coils:
    """A spring as it can be measured on the bench, marked or not."""

    wire_mm: float | None = number(Kind.LENGTH, 0.5, 30, 0.1)
    """Wire diameter [mm]."""
    outer_mm: float | None = number(Kind.LENGTH, 5, 150, 0.5)
    """Outer diameter of the coil [mm]."""
    total_coils: float | None = number(Kind.COUNT, 2, 60, 0.25)
    """All coils, end coils included."""
    ends: str = choice("closed_ground", "closed", "open_ground", "open")
    """How the ends are finished."""
    wire: str = choice(
        "unknown",
        "ordinary",
        "en_10270_1",
        "en_10270_2",
        "music",
        "hard_drawn",
        "oil_tempered",
        "chrome_silicon",
        "chrome_vanadium",
        "stainless",
    )
    """Kind of wire, which settles its shear modulus."""
    solid_length_mm: float | None = number(Kind.LENGTH, 1, 800, 0.5)
    """Solid length as measured [mm]; it wins over the calculated one."""
    tester: tuple[TesterPair, ...] = rows(TesterPair, 12)
    """Readings of a spring tester."""


@record(kw_only=True)
class SecondSpring:
    """A second spring that works with a main spring as one."""

    arranged: str = choice("none", "end_to_end", "side_by_side")
    """How they stand: on each other, or beside (or inside) each other; none: there is no second spring."""
    rate_n_per_mm: float | None = number(Kind.RATE, 0.1, 1000, 0.25)
    """Its rate [N/mm]."""
    free_length_mm: float | None = number(Kind.LENGTH, 1, 1000, 0.5)
    """Its own length, unloaded [mm]."""
    solid_length_mm: float | None = number(Kind.LENGTH, 1, 800, 0.5)
    """Its own length with all coils touching [mm]."""
    divider_mm: float | None = number(Kind.LENGTH, 0, 200, 0.5)
    """Height of what stands between two springs end to end [mm]; None: nothing."""
    stop_mm: float | None = number(Kind.LENGTH, 0.5, 500, 0.5)
    """How far the softer of two springs end to end gives way until a stop takes it [mm]; None: its coils touch."""
    gap_mm: float | None = number(Kind.LENGTH, 0, 500, 0.5)
    """How far the main spring is compressed when a spring beside it is reached [mm]; None: by the free lengths."""

    @property
    def fitted(self) -> bool:
        """Whether there is a second spring."""
        return self.arranged != "none"


@record(kw_only=True)
class Spring:
    """A main spring and the lengths it has when fitted."""

    rate_n_per_mm: Rate | None = number(Kind.RATE, 0.1, 1000, 0.25, two=True)
    """Rate as labelled or measured [N/mm]; the two of a progressive spring."""
    free_length_mm: float | None = number(Kind.LENGTH, 10, 1000, 0.5)
    """Length out of the fork or shock, unloaded [mm]; of two springs end to end, both with what is between them."""
    set_length_mm: float | None = number(Kind.LENGTH, 10, 1000, 0.5)
    """Length fitted, suspension extended, at the adjuster position below [mm]."""
    set_length_at: float | None = number(Kind.COUNT, 0, 200, 0.5)
    """Adjuster reading at which the set length was read, counted as the adjuster is; None: fully out."""
    set_length_in_mm: float | None = number(Kind.LENGTH, 10, 1000, 0.5)
    """Length fitted with the adjuster fully in [mm]."""
    coils: Coils = part(Coils)
    """Wire, coils and tester readings."""
    second: SecondSpring = part(SecondSpring)
    """A second spring that works with it."""


STEPS = {"clicks": 1.0, "turns": 0.25}
"""What one press of + or - turns, by what is counted: a click, or a quarter of a turn."""


@record(kw_only=True)
class Adjuster:
    """What sets preload: a fork cap's adjuster, or the collar of a shock."""

    counting: str = choice("turns", "clicks", "rings", "mm", "none")
    """How its position is read: turns or clicks from fully out, rings showing, mm showing, or there is no adjuster."""
    total_turns: float | None = number(Kind.TURNS, 0.1, 200, 0.5)
    """Turns from fully out to fully in."""
    pitch_mm: float | None = number(Kind.LENGTH, 0.05, 20, 0.25)
    """Preload added by one turn, from the thread [mm]."""
    total_clicks: float | None = number(Kind.COUNT, 1, 400, 1)
    """Clicks from fully out to fully in."""
    click_mm: float | None = number(Kind.LENGTH, 0.005, 20, 0.05)
    """Preload added by one click [mm]."""
    reading_out: float | None = number(Kind.COUNT, 0, 500, 0.5)
    """Rings or mm showing when fully out."""
    reading_in: float | None = number(Kind.COUNT, 0, 500, 0.5)
    """Rings or mm showing when fully in."""
    now: float | None = number(Kind.COUNT, 0, 500, 0.25)
    """Present position, counted as said above."""
    base: float | None = number(Kind.COUNT, 0, 500, 0.25)
    """The base setting that positions are compared with, counted as said above; None: the first run's serves."""

    @property
    def from_out(self) -> bool:
        """Whether turns or clicks are counted, in from fully out."""
        return self.counting in ("turns", "clicks")

    @property
    def total_name(self) -> str:
        """The field of its whole range."""
        return "total_clicks" if self.counting == "clicks" else "total_turns"

    @property
    def total(self) -> float | None:
        """Turns or clicks from fully out to fully in."""
        return self.total_clicks if self.counting == "clicks" else self.total_turns

    @property
    def step_name(self) -> str:
        """The field of the preload that one turn or click adds."""
        return "click_mm" if self.counting == "clicks" else "pitch_mm"

    @property
    def step_mm(self) -> float | None:
        """Preload added by one turn, or by one click where these are counted [mm]."""
        return self.click_mm if self.counting == "clicks" else self.pitch_mm

    @property
    def ends(self) -> tuple[float | None, float | None]:
        """The lowest and the highest position it can have; None where it is not known."""
        if self.from_out:
            return 0.0, self.total
        if self.reading_out is None or self.reading_in is None:
            return None, None
        return min(self.reading_out, self.reading_in), max(self.reading_out, self.reading_in)


@record(kw_only=True)
class Clicker:
    """A damper adjuster, counted from fully in (closed)."""

    now: float | None = number(Kind.COUNT, 0, 200, 1)
    """Clicks or turns out from fully in."""
    total: float | None = number(Kind.COUNT, 0.25, 200, 1)
    """Clicks or turns from fully in to fully out."""
    unit: str = choice("clicks", "turns")
    """What is counted."""
    base: float | None = number(Kind.COUNT, 0, 200, 1)
    """The base setting that positions are compared with, out from fully in; None: the first run's serves."""

    @property
    def ends(self) -> tuple[float | None, float | None]:
        """The lowest and the highest position it can have; None where it is not known."""
        return 0.0, self.total


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
    closed_in: Outside = part(Outside)
    """Where it was closed or bled, if the machine was carried here since."""


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
    """Compression damping; at low speed where there is an adjuster for high speed too."""
    high_speed_compression: Clicker = part(Clicker)
    """High-speed compression damping, which few forks have."""
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
    air: AirLeg = part(AirLeg)
    """The air that springs it, where it has no coil spring."""

    @property
    def coil_fitted(self) -> bool:
        """Whether it has a coil spring."""
        return self.spring_fitted and not self.air.fitted


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
    damper_rod_mm: float | None = number(Kind.LENGTH, 0, 60, 0.5)
    """Diameter of what stands in the oil's surface, damper rod or cartridge [mm]; None: nothing."""
    gap_compared_mm: float | None = number(Kind.LENGTH, 0, 500, 5)
    """Another air gap, to compare its force with [mm]."""
    reserve_wanted_n: float | None = number(Kind.FORCE, 0, 20_000, 50)
    """Force that the fork should have at full travel beyond the load with the rider [N]."""
    left_wanted_mm: float | None = number(Kind.LENGTH, 0, 100, 1)
    """Travel that should be left where the marker of the latest run went deepest [mm]."""
    top_out: TopOut = part(TopOut)
    """The top-out spring."""
    top_out_legs: str = choice("unknown", "sprung", "both", "left", "right")
    """Which legs have it, also where both are entered as one. Not known: taken to be those with a main spring, coil
    or air."""
    stops: Stops = part(Stops)
    """Bump rubber or cone, and hydraulic stop, in each leg."""
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

    @property
    def main_springs(self) -> tuple[Side, ...]:
        """The sides whose legs have a coil spring; where neither has, those that are sprung by air."""
        sides: tuple[Side, ...] = ("left", "right")
        return tuple(side for side in sides if self.leg(side).coil_fitted) or tuple(
            side for side in sides if self.leg(side).air.fitted
        )

    def top_out_of(self, side: Side) -> TopOut:
        """The top-out spring of that leg; said not to be fitted in a leg that has none."""
        if self.top_out.fitted != "yes" or self.top_out_legs in ("both", side):
            return self.top_out
        if self.top_out_legs in ("unknown", "sprung") and side in self.main_springs:
            return self.top_out
        return TopOut(fitted="no")


@record(kw_only=True)
class LinkagePair:
    """One measured point of the linkage, spring off."""

    wheel_mm: float | None = number(Kind.LENGTH, 0, 500, 10)
    """Vertical wheel travel from full extension [mm]."""
    shock_mm: float | None = number(Kind.LENGTH, 0, 300, 5)
    """Shock travel there [mm]."""


@record(kw_only=True)
class Rear:
    """The rear shock and what joins it to the wheel."""

    spring: Spring = part(Spring)
    """The shock spring."""
    collar: Adjuster = part(Adjuster)
    """The threaded ring (or other adjuster) that sets preload."""
    stroke_mm: float | None = number(Kind.LENGTH, 10, 300, 1)
    """Full stroke of the shock [mm]."""
    eye_to_eye_mm: float | None = number(Kind.LENGTH, 100, 700, 1)
    """Length between the mounting eyes, extended, with the length adjuster at its datum [mm]."""
    length_adjuster_mm: float | None = number(Kind.LENGTH, -20, 50, 0.5)
    """Shock length adjuster, mm added from its datum [mm]."""
    shaft_mm: float | None = number(Kind.LENGTH, 4, 40, 1)
    """Diameter of the shock shaft [mm]."""
    gas_pressure_bar: float | None = number(Kind.PRESSURE, 0, 40, 0.5)
    """Gas pressure above ambient, shock extended [bar]."""
    gas_volume_ml: float | None = number(Kind.VOLUME, 1, 2000, 5)
    """Volume of the gas with the shock extended [ml]."""
    gas_set_at_c: float | None = number(Kind.TEMPERATURE, -40, 150, 1)
    """Temperature of the shock when its gas pressure was set [°C]."""
    gas_set_in: Outside = part(Outside)
    """Where its gas pressure was set, if the machine was carried here since."""
    air: AirLeg = part(AirLeg)
    """The air that springs it, where it has no coil spring."""
    temperature_c: float | None = number(Kind.TEMPERATURE, -40, 200, 1)
    """Temperature of the shock now [°C]; None: as when its pressure was set."""
    packers_mm: float | None = number(Kind.LENGTH, 0, 60, 1)
    """Rigid packers on the shock shaft [mm]; None: none."""
    bump_rubber_mm: float | None = number(Kind.LENGTH, 0, 60, 1)
    """Free height of the bump rubber on the shaft [mm]."""
    stops: Stops = part(Stops)
    """The bump rubber's force, and a hydraulic stop."""
    top_out: TopOut = part(TopOut)
    """A top-out spring inside the shock, which few have."""
    wheel_travel_mm: float | None = number(Kind.LENGTH, 20, 500, 5)
    """Full vertical travel of the wheel [mm]."""
    motion_ratio: float | None = number(Kind.RATIO, 0.1, 2, 0.01)
    """Shock travel over wheel travel as one number, where pairs were not measured."""
    linkage: tuple[LinkagePair, ...] = rows(LinkagePair, 12)
    """Measured pairs; they win over the one number, unless the points are used."""
    points: PointsRead = part(PointsRead)
    """The points of the linkage."""
    link_mm: float | None = number(Kind.LENGTH, 10, 600, 0.5)
    """Length of the link as fitted, between centres [mm]; None: as the points have it."""
    low_speed_compression: Clicker = part(Clicker)
    """Low-speed compression damping."""
    high_speed_compression: Clicker = part(Clicker)
    """High-speed compression damping."""
    rebound: Clicker = part(Clicker)
    """Rebound damping."""

    @property
    def by_points(self) -> bool:
        """Whether the points of the linkage give the motion ratio."""
        return self.points.used == "points"
