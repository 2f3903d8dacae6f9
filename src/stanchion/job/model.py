"""A job: one machine and rider on one occasion. It holds only what a person recorded, never a derived number.

The tree is frozen; an edit gives a new tree (see edit.py). Lengths are in mm, rates in N/mm, masses in kg,
pressures in bar as gauges read them. None means "not recorded". Fork and shock (ends.py), sag (sag.py), upkeep
(upkeep.py) and others are declared in modules of their own; all parts have their name here.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

from stanchion.base.record import record
from stanchion.job.air import AirLeg
from stanchion.job.attached import Attached
from stanchion.job.balance import Balance, Lift
from stanchion.job.calibration import Calibration, KnownMass, ScaleCalibration
from stanchion.job.change import MOST_CHANGES, VERDICTS, ChangeToRide, ExpectedEffect, Move, RiddenChange
from stanchion.job.complaint import MOST_COMPLAINTS, Complaint
from stanchion.job.damper_sheet import MOST_SHEETS, DamperCurve, DamperSheet
from stanchion.job.damping import Damping
from stanchion.job.ends import (
    Adjuster,
    Bleed,
    Clicker,
    Coils,
    Front,
    Leg,
    LinkagePair,
    Rear,
    SecondSpring,
    Spring,
    Stack,
    TesterPair,
)
from stanchion.job.linkage_points import Pixel, PointRead, PointsRead
from stanchion.job.outside import ALTITUDES_M, BAROMETER_HPA, Outside
from stanchion.job.places import ENDS, SIDES, STATES, Comment, End, Path, Side, State, comments_kept
from stanchion.job.repeatability import Repeatability
from stanchion.job.sag import Readings, Sag, SagEnd
from stanchion.job.spec import Kind, choice, day, flag, number, optional_part, part, rows, text
from stanchion.job.stops import BenchPair, StopPair, Stops, TopOut
from stanchion.job.swingarm import Drive, Swingarm
from stanchion.job.targets import EndTargets, Targets
from stanchion.job.upkeep import ChainAndTyres, Service, StacksThen, Torque, Upkeep

__all__ = [
    "ENDS",
    "SIDES",
    "STATES",
    "Adjuster",
    "AirLeg",
    "AsFound",
    "Attached",
    "Balance",
    "BenchPair",
    "Bleed",
    "Calibration",
    "ChainAndTyres",
    "ChangeToRide",
    "Clicker",
    "Coils",
    "Comment",
    "Complaint",
    "DamperCurve",
    "DamperSheet",
    "Damping",
    "Drive",
    "End",
    "EndTargets",
    "ExpectedEffect",
    "Front",
    "Geometry",
    "Job",
    "KnownMass",
    "Leg",
    "Lift",
    "LinkagePair",
    "Move",
    "Occasion",
    "Outside",
    "Path",
    "Pixel",
    "PointRead",
    "PointsRead",
    "Readings",
    "Rear",
    "Repeatability",
    "Returning",
    "RiddenChange",
    "Run",
    "Sag",
    "SagEnd",
    "ScaleCalibration",
    "SecondSpring",
    "Service",
    "Setup",
    "Side",
    "Spring",
    "Stack",
    "StacksThen",
    "State",
    "StopPair",
    "Stops",
    "Swingarm",
    "Targets",
    "TesterPair",
    "TopOut",
    "Torque",
    "Upkeep",
    "Weights",
]


@record(kw_only=True)
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
    aboard_rider_kg: float | None = number(Kind.MASS, 20, 250, 0.5)
    """Mass of the rider who was aboard then, once another one's is entered from a trial [kg]; None: the same rider."""
    aboard_rider_at: str = choice("both", "front", "rear")
    """The scales that were read with that rider: once one is read anew, only the other."""


@record(kw_only=True)
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


@record(kw_only=True)
class Run:
    """One run on the track, with the settings that were ridden."""

    date: dt.date | None = day()
    """The day; None: that of the job."""
    session: str = text(30)
    """The session it was ridden in, as it is called."""
    time: str = text(20, clock=True)
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
    complaints: tuple[Complaint, ...] = rows(Complaint, MOST_COMPLAINTS)
    """The same in standard words."""
    change: RiddenChange | None = optional_part(RiddenChange)
    """The change that it was ridden with for the first time, where it was recorded as such."""
    verdict: str = choice(*VERDICTS)
    """What the rider says of it against the run before."""
    front: Front | None = optional_part(Front)
    """The fork as it was ridden."""
    rear: Rear | None = optional_part(Rear)
    """The shock as it was ridden."""
    comments: tuple[Comment, ...] = comments_kept()
    """Comments of the file in this run, with paths that begin at it."""


@record(kw_only=True)
class Setup:
    """What the machine was set to at one time."""

    front: Front | None = optional_part(Front)
    """The fork; None: not recorded."""
    rear: Rear | None = optional_part(Rear)
    """The shock; None: not recorded."""
    upkeep: Upkeep | None = optional_part(Upkeep)
    """Chain and tyres; None: not recorded."""
    drive: Drive | None = optional_part(Drive)
    """Size and links of the chain; None: not recorded."""


@record(kw_only=True)
class AsFound:
    """The machine as it came, before anything was touched. Positions that were not taken then are empty."""

    on: dt.date | None = day()
    """When it was taken."""
    front_cold_bar: float | None = number(Kind.PRESSURE, 0, 6, 0.05)
    """Front tyre, cold, above ambient [bar]."""
    rear_cold_bar: float | None = number(Kind.PRESSURE, 0, 6, 0.05)
    """Rear tyre, cold [bar]."""
    front: Front | None = optional_part(Front)
    """The fork."""
    rear: Rear | None = optional_part(Rear)
    """The shock."""
    sag: Sag | None = optional_part(Sag)
    """Sag as it was then."""


@record(kw_only=True)
class Returning:
    """The setup the machine is being returned to: a work list that has been begun and not finished.

    Both setups are kept here, so that the list does not depend on the file it came from. What is done is not
    recorded: it follows from the job.
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


@record(kw_only=True)
class Occasion:
    """Who, what, when and where."""

    machine: str = text(60)
    """The machine, as the workshop calls it."""
    rider: str = text(60)
    """The rider."""
    venue: str = text(60)
    """Where."""
    altitude_m: float | None = number(Kind.ALTITUDE, *ALTITUDES_M, 50)
    """Height above sea level there [m]."""
    barometer_hpa: float | None = number(Kind.BAROMETER, *BAROMETER_HPA, 1)
    """What a barometer reads there, not reduced to sea level [hPa]."""
    date: dt.date = day(dt.date(2000, 1, 1))
    """When."""
    session: str = text(30)
    """The session of the first run, as it is called; each run has its own from then on."""
    use: str = text(30, default="track")
    """What the machine is set up for: names the profile of bands and targets."""
    rider_mass_kg: float | None = number(Kind.MASS, 20, 250, 0.5)
    """The rider in full gear [kg]."""
    carried_from: str = text(120)
    """File name of the job this one was carried forward from."""
    carried_id: str = text(40)
    """The id of that job, so that another job under the same name is not taken for it; empty: not known."""
    id: str = text(40)
    """Identifies this job among all others, and is the same in all copies of it; empty in files from before it was
    written."""
    sample: bool = flag()
    """An invented job that came with the program."""
    notes: str = text(2000, lines=20)
    """Anything else."""

    @property
    def outside(self) -> Outside:
        """What tells the pressure of the air there."""
        return Outside(altitude_m=self.altitude_m, barometer_hpa=self.barometer_hpa)


@record(kw_only=True)
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
    balance: Balance = part(Balance)
    """Height of the centre of mass, and the braking to look at."""
    swingarm: Swingarm = part(Swingarm)
    """Where swingarm and front sprocket lie, as measured."""
    repeatability: Repeatability = part(Repeatability)
    """How well the technician's readings repeat, by a study."""
    calibration: Calibration = part(Calibration)
    """How the scales were calibrated that it was weighed on."""
    damping: Damping = part(Damping)
    """What the technician says of the damping."""
    drive: Drive = part(Drive)
    """The chain, how far the axle can move, and the acceleration to look at."""
    targets: Targets = part(Targets)
    """Targets and bands of this machine or rider alone."""
    upkeep: Upkeep = part(Upkeep)
    """What was done to the machine."""
    attached: tuple[Attached, ...] = rows(Attached, 20)
    """Files that belong to it, such as photographs."""
    damper_sheets: tuple[DamperSheet, ...] = rows(DamperSheet, MOST_SHEETS)
    """What a dynamometer measured of its dampers, the latest last."""
    runs: tuple[Run, ...] = rows(Run, 60)
    """Runs on the track, in the order they were ridden."""
    changes: tuple[ChangeToRide, ...] = rows(ChangeToRide, MOST_CHANGES)
    """Changes that are still to be ridden: made, or on the work list."""
    found: AsFound | None = optional_part(AsFound)
    """The machine as it was found; None: not recorded."""
    returning: Returning | None = optional_part(Returning)
    """The current work list; None: there is none."""
    unknown: tuple[tuple[Path, Any], ...] = ()
    """Keys of the file that this version does not know, kept to be written back."""
    comments: tuple[Comment, ...] = comments_kept()
    """Comments of the file, kept to be written back; those of a run go with that run."""
