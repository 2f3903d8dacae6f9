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
class TesterPair:
    """One reading of a spring tester."""

    length_mm: float | None = number(Kind.LENGTH, 1, 1000, 1)
    """Length of the spring in the tester [mm]."""
    force_n: float | None = number(Kind.FORCE, 0, 50_000, 10)
    """Force it gives there [N]."""


@dataclass(frozen=True, slots=True, kw_only=True)
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
    coils: Coils = part(Coils)
    """Wire, coils and tester readings."""


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
class Bleed:
    """The state of the trapped air when the leg was closed or last bled."""

    at_mm: float | None = number(Kind.LENGTH, 0, 500, 5)
    """Compression then, along the leg [mm]; None: fully extended."""
    pressure_bar: float | None = number(Kind.PRESSURE, -0.9, 10, 0.1)
    """Pressure above ambient then [bar]; None: none."""
    temperature_c: float | None = number(Kind.TEMPERATURE, -40, 150, 1)
    """Temperature of the air then [°C]; None: as now."""


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
    solids_ml: float | None = number(Kind.VOLUME, 0, 2000, 5)
    """Volume of what stands in the air space at full travel: spring, spacer, cap [ml]; None: left out."""
    bleed: Bleed = part(Bleed)
    """The trapped air when the leg was closed or last bled."""


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
    packers_mm: float | None = number(Kind.LENGTH, 0, 60, 1)
    """Rigid packers on the shock shaft [mm]; None: none."""
    bump_rubber_mm: float | None = number(Kind.LENGTH, 0, 60, 1)
    """Free height of the bump rubber on the shaft [mm]."""
    top_out: TopOut = part(TopOut)
    """A top-out spring inside the shock, which few have."""
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
class Weights:
    """What the springs carry. Scale readings under each wheel win over masses and shares."""

    machine_kg: float | None = number(Kind.MASS, 30, 600, 1)
    """The machine, fuel as noted [kg]."""
    front_share_pct: float | None = number(Kind.SHARE, 20, 80, 0.5)
    """Share of the machine on the front wheel [%]."""
    rider_front_share_pct: float | None = number(Kind.SHARE, 5, 80, 1)
    """Share of the rider on the front wheel [%]."""
    front_unsprung_kg: float | None = number(Kind.MASS, 2, 60, 0.5)
    """Wheel, brakes and fork lowers [kg]."""
    rear_unsprung_kg: float | None = number(Kind.MASS, 2, 80, 0.5)
    """Wheel, brake, chain and what of the swingarm moves with it [kg]."""
    front_alone_kg: float | None = number(Kind.MASS, 10, 400, 0.5)
    """Scale under the front wheel, machine alone [kg]."""
    rear_alone_kg: float | None = number(Kind.MASS, 10, 400, 0.5)
    """Scale under the rear wheel, machine alone [kg]."""
    front_aboard_kg: float | None = number(Kind.MASS, 10, 500, 0.5)
    """Scale under the front wheel, rider aboard [kg]."""
    rear_aboard_kg: float | None = number(Kind.MASS, 10, 500, 0.5)
    """Scale under the rear wheel, rider aboard [kg]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Geometry:
    """Steering geometry as measured, and the state the machine was in then."""

    rake_deg: float | None = number(Kind.ANGLE, 5, 50, 0.1)
    """Rake, from vertical [degrees]."""
    offset_mm: float | None = number(Kind.LENGTH, -20, 150, 0.5)
    """Fork offset, square to the steering axis [mm]."""
    wheelbase_mm: float | None = number(Kind.LENGTH, 700, 2500, 1)
    """Between the axles [mm]."""
    front_radius_mm: float | None = number(Kind.LENGTH, 100, 500, 0.5)
    """Radius of the front tyre, loaded [mm]."""
    rear_radius_mm: float | None = number(Kind.LENGTH, 100, 500, 0.5)
    """Radius of the rear tyre, loaded [mm]."""
    measured: str = choice("extended", "static", "rider")
    """State in which it was measured: suspension extended, machine alone, rider aboard."""
    front_sag_mm: float | None = number(Kind.LENGTH, 0, 400, 1)
    """Front sag then, along the leg [mm]; 0 if extended."""
    rear_sag_mm: float | None = number(Kind.LENGTH, 0, 400, 1)
    """Rear sag then, at the wheel [mm]; 0 if extended."""
    fork_height_mm: float | None = number(Kind.LENGTH, -100, 200, 1)
    """Fork height then [mm]."""
    length_adjuster_mm: float | None = number(Kind.LENGTH, -20, 50, 0.5)
    """Shock length adjuster then [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Service:
    """When something was last renewed."""

    on: dt.date | None = day()
    """The day; None: not known."""
    at_hours: float | None = number(Kind.COUNT, 0, 100_000, 1)
    """What the hour meter read then."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Torque:
    """One fastener to tighten by the manual."""

    what: str = text(40)
    """Which."""
    torque_nm: float | None = number(Kind.TORQUE, 0.1, 500, 1)
    """Torque the manual gives [N·m]."""
    done: bool = flag()
    """Tightened to it on this occasion."""
    initials: str = text(12)
    """Who did it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainAndTyres:
    """The chain and tyres that were on when something was measured; what is left empty was not known then."""

    front_teeth: float | None = number(Kind.COUNT, 5, 60, 1)
    """Teeth of the front sprocket."""
    rear_teeth: float | None = number(Kind.COUNT, 10, 120, 1)
    """Teeth of the rear sprocket."""
    axle_mark_mm: float | None = number(Kind.LENGTH, 0, 200, 1)
    """Where the rear axle stood [mm]."""
    front_tyre: str = text(60)
    """Front tyre."""
    rear_tyre: str = text(60)
    """Rear tyre."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Upkeep:
    """What was done to the machine besides setting it up, and how chain and tyres stand."""

    machine_hours: float | None = number(Kind.COUNT, 0, 100_000, 1)
    """What the hour meter reads now."""
    fork_oil: Service = part(Service)
    """Fork oil."""
    fork_seals: Service = part(Service)
    """Fork seals."""
    shock: Service = part(Service)
    """Oil, gas and seals of the shock."""
    front_teeth: float | None = number(Kind.COUNT, 5, 60, 1)
    """Teeth of the front sprocket."""
    rear_teeth: float | None = number(Kind.COUNT, 10, 120, 1)
    """Teeth of the rear sprocket."""
    axle_mark_mm: float | None = number(Kind.LENGTH, 0, 200, 1)
    """Where the rear axle stands, on the scale of the swingarm or from its end [mm]."""
    wheelbase_mm: float | None = number(Kind.LENGTH, 700, 2500, 1)
    """Between the axles, as set [mm]."""
    front_tyre: str = text(60)
    """Front tyre: make, compound, size."""
    rear_tyre: str = text(60)
    """Rear tyre: make, compound, size."""
    front_wanted_bar: float | None = number(Kind.PRESSURE, 0, 6, 0.05)
    """Pressure the front tyre should have hot, above ambient [bar]."""
    rear_wanted_bar: float | None = number(Kind.PRESSURE, 0, 6, 0.05)
    """Pressure the rear tyre should have hot [bar]."""
    torques: tuple[Torque, ...] = rows(Torque, 30)
    """What is to be tightened by the manual."""
    ratio_with: ChainAndTyres = part(ChainAndTyres)
    """What was on when the motion ratio was last measured."""
    geometry_with: ChainAndTyres = part(ChainAndTyres)
    """What was on when the geometry was last measured."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One run on the track, with the settings that were ridden."""

    time: str = text(20)
    """When it began."""
    front_marker_mm: float | None = number(Kind.LENGTH, 0, 500, 1)
    """Deepest point of the marker on the stanchion, along the leg [mm]."""
    rear_marker_mm: float | None = number(Kind.LENGTH, 0, 300, 1)
    """Deepest point of the marker on the shock shaft [mm]."""
    marker_from: str = choice("hanging", "static")
    """Where the markers count from: the wheel hanging, or the machine standing alone."""
    best_lap_s: float | None = number(Kind.TIME, 1, 3600, 0.1)
    """Best lap [s]."""
    laps: float | None = number(Kind.COUNT, 0, 500, 1)
    """Laps ridden."""
    front_cold_bar: float | None = number(Kind.PRESSURE, 0, 6, 0.05)
    """Front tyre, cold, above ambient [bar]."""
    front_hot_bar: float | None = number(Kind.PRESSURE, 0, 6, 0.05)
    """Front tyre, hot [bar]."""
    rear_cold_bar: float | None = number(Kind.PRESSURE, 0, 6, 0.05)
    """Rear tyre, cold [bar]."""
    rear_hot_bar: float | None = number(Kind.PRESSURE, 0, 6, 0.05)
    """Rear tyre, hot [bar]."""
    front_cold_c: float | None = number(Kind.TEMPERATURE, -40, 60, 1)
    """Front tyre when its cold pressure was read [°C]; None: as the air."""
    front_hot_c: float | None = number(Kind.TEMPERATURE, -40, 200, 1)
    """Front tyre when its hot pressure was read [°C]."""
    rear_cold_c: float | None = number(Kind.TEMPERATURE, -40, 60, 1)
    """Rear tyre when its cold pressure was read [°C]; None: as the air."""
    rear_hot_c: float | None = number(Kind.TEMPERATURE, -40, 200, 1)
    """Rear tyre when its hot pressure was read [°C]."""
    air_c: float | None = number(Kind.TEMPERATURE, -40, 60, 1)
    """Air [°C]."""
    ground_c: float | None = number(Kind.TEMPERATURE, -40, 90, 1)
    """Track surface [°C]."""
    said: str = text(800, lines=10)
    """What the rider said."""
    front: Front | None = optional_part(Front)
    """The fork as it was ridden."""
    rear: Rear | None = optional_part(Rear)
    """The shock as it was ridden."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """What the machine was set to at one time."""

    front: Front | None = optional_part(Front)
    """The fork; None: not recorded."""
    rear: Rear | None = optional_part(Rear)
    """The shock; None: not recorded."""
    upkeep: Upkeep | None = optional_part(Upkeep)
    """Chain and tyres; None: not recorded."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Returning:
    """The setup the machine is being returned to: a work list that has been begun and not finished.

    Both setups are kept here, so that the list outlives the file it came from. What is done and what is left is not
    recorded: it follows from how the job stands.
    """

    job: str = text(120)
    """File name of the job returned to; empty: this one."""
    run: float | None = number(Kind.COUNT, 1, 1000, 1)
    """Which run of it, counted from 1; None: the job as it stood."""
    title: str = text(200)
    """What is returned to, in words."""
    to: Setup = part(Setup)
    """The setup returned to."""
    start: Setup = part(Setup)
    """The setup the work began from."""


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
    carried_id: str = text(40)
    """The id of that job, so that another job under the same name is not taken for it; empty: not known."""
    id: str = text(40)
    """What tells this job from every other and is the same in all copies of it; empty in files from before it was
    written."""
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
    weights: Weights = part(Weights)
    """What the springs carry."""
    geometry: Geometry = part(Geometry)
    """Steering geometry as measured."""
    upkeep: Upkeep = part(Upkeep)
    """What was done to the machine."""
    runs: tuple[Run, ...] = rows(Run, 60)
    """Runs on the track, in the order they were ridden."""
    returning: Returning | None = optional_part(Returning)
    """The work list in hand; None: there is none."""
    unknown: tuple[tuple[Path, Any], ...] = ()
    """Keys of the file that this version does not know, kept to be written back."""
