"""Writes the sample jobs: python tests/make_samples.py

The scenario is invented: the Marmalade Cup, a one-make weekend of a club that does not exist, at a track and a field
that do not exist. Machines, riders and readings are invented too. What stands on the scales is the masses below, rounded
to half a kilogram; the readings are what springs, gas and trapped air (squeezed slowly) give under them, rounded as a
tape reads and spread a little. tests/store/test_samples.py works both out again.

Sport machine: 170 kg ready to ride, 51 % of it on the front; 13 kg unsprung in front, 15 kg behind; rake 23.5 degrees;
rider 48 % on the front. So 722 N of sprung load in front, 662 N along the fork, and 670 N behind. Centre of mass 530 mm
up alone, 638 mm with the rider; the front scale is read with the wheel on blocks, suspension blocked.
Road machine: 210 kg, 50 % in front; 16 and 18 kg unsprung; rake 25 degrees; rider 46 % on the front.
Off-road machine: 114 kg, 49 % in front; 12 and 17 kg unsprung; rake 27 degrees; rider 38 % on the front.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

from invented_dynamometer import fork_sheet
from stanchion.job.codec import dumps
from stanchion.job.linkage_points import PointRead, PointsRead
from stanchion.job.model import (
    Adjuster,
    AirLeg,
    Balance,
    Clicker,
    Coils,
    Front,
    Geometry,
    Job,
    Leg,
    Lift,
    LinkagePair,
    Occasion,
    Readings,
    Rear,
    Sag,
    SagEnd,
    SecondSpring,
    Service,
    Spring,
    Stack,
    TopOut,
    Torque,
    Upkeep,
    Weights,
)
from stanchion.job.runs import new_run
from stanchion.job.spec import Progressive
from stanchion.job.swingarm import Drive, Swingarm

FOLDER = Path(__file__).parents[1] / "sample_jobs"
SATURDAY = dt.date(2026, 5, 16)
RING = "Windfall Ring (invented)"


def notes(shows: str, *more: str) -> str:
    """The first line says what the sample shows; the last that it is invented, rider and all."""
    invented = "Machine, rider, venue and readings are invented; they are nobody's setup to copy."
    return "\n".join((f"{shows} (invented)", *more, invented))


# The one-make machine of the cup, as it leaves the workshop.
SPORT_LEG = Leg(
    spring=Spring(rate_n_per_mm=9.5, free_length_mm=250.0, set_length_mm=238.0, set_length_in_mm=230.0),
    adjuster=Adjuster(counting="turns", total_turns=8.0, pitch_mm=1.0, now=4.0),
    stack=Stack(spacer_mm=96.0, washers_mm=(1.5, 1.5), seats_mm=(4.0,)),
    compression=Clicker(now=12.0, total=24.0),
    rebound=Clicker(now=10.0, total=24.0),
    air_gap_mm=110.0,
    oil_volume_ml=505.0,
)
SPORT_FRONT = Front(
    left=SPORT_LEG,
    travel_mm=120.0,
    fork_height_mm=6.0,
    stanchion_outer_mm=43.0,
    stanchion_inner_mm=39.0,
    top_out=TopOut(fitted="no"),
    oil="5W fork oil",
)
SPORT_REAR = Rear(
    spring=Spring(rate_n_per_mm=80.0, free_length_mm=165.0, set_length_mm=156.0, set_length_in_mm=146.0),
    collar=Adjuster(counting="turns", total_turns=10.0, pitch_mm=1.0, now=2.0),
    stroke_mm=64.0,
    eye_to_eye_mm=312.0,
    length_adjuster_mm=0.0,
    shaft_mm=14.0,
    gas_pressure_bar=10.0,
    wheel_travel_mm=125.0,
    motion_ratio=0.5,
    low_speed_compression=Clicker(now=14.0, total=24.0),
    high_speed_compression=Clicker(now=2.0, total=4.0, unit="turns"),
    rebound=Clicker(now=12.0, total=24.0),
)
REAR_SAG = SagEnd(
    hanging_mm=(612.0, 612.0, 612.0),
    static=Readings(down_mm=(603.5, 603.0, 603.5), up_mm=(605.5, 605.0, 605.5)),
    rider=Readings(down_mm=(583.5, 583.0, 583.5), up_mm=(585.5, 585.5, 586.0)),
)


FORK_COILS = Coils(wire_mm=4.6, outer_mm=36.6, total_coils=16.25, ends="closed_ground", wire="en_10270_2")
SHOCK_COILS = Coils(wire_mm=9.5, outer_mm=69.5, total_coils=6.75, ends="closed_ground", wire="en_10270_2")
SOLIDS_ML = 40.0  # the spacer tube about 20, the cap with its adjuster about 20
UNSPRUNG = Weights(front_unsprung_kg=13.0, rear_unsprung_kg=15.0)
SPORT_GEOMETRY = Geometry(
    rake_deg=23.5,
    offset_mm=30.0,
    wheelbase_mm=1370.0,
    front_radius_mm=298.5,
    rear_radius_mm=318.0,
    measured="rider",
    front_sag_mm=33.0,
    rear_sag_mm=27.5,
    fork_height_mm=6.0,
    length_adjuster_mm=0.0,
)


LIFTED = Balance(
    braking_g=0.9,
    blocked="yes",
    lifts=(
        Lift(raised_mm=250.0, alone_kg=81.5, aboard_kg=112.0),
        Lift(raised_mm=350.0, alone_kg=79.5, aboard_kg=107.5),
        Lift(raised_mm=450.0, alone_kg=77.0, aboard_kg=102.5),
    ),
)


# Its swingarm 560 mm long and 12 degrees down as the geometry was measured, the front sprocket 55 mm ahead of the pivot
# and 12 mm above it; 15 and 44 teeth, pitch 15.875 mm.
SPORT_SWINGARM = Swingarm(
    pivot_to_axle_mm=560.0, pivot_up_mm=434.5, sprocket_up_mm=446.5, sprocket_ahead_mm=55.0, measured="geometry"
)
# Its shock stands straight between swingarm and frame, 274 mm from the pivot and square to the swingarm at half travel:
# motion ratio 0.5.
SPORT_POINTS = PointsRead(
    layout="straight",
    axle_below_mm=116.5,
    shock_moved=PointRead(forward_mm=-268.0, up_mm=-57.0),
    shock_held=PointRead(forward_mm=-312.0, up_mm=238.0),
)
SPORT_DRIVE = Drive(chain="520", links=108.0, axle_forward_mm=20.0, axle_back_mm=20.0, acceleration_g=0.5)


def well_set() -> Job:
    """Springs, preload and sag all where they belong; the adjusters near the middle."""
    return Job(
        job=Occasion(
            machine="Quince no. 4",
            rider="A. Q.",
            venue=RING,
            date=SATURDAY,
            use="track",
            rider_mass_kg=76.0,
            sample=True,
            notes=notes(
                "A well-set machine",
                "Marmalade Cup, a club weekend that does not exist. Nothing to put right: see how it looks when all suits.",
            ),
        ),
        front=replace(
            SPORT_FRONT,
            left=replace(SPORT_LEG, spring=replace(SPORT_LEG.spring, coils=FORK_COILS), solids_ml=SOLIDS_ML),
        ),
        rear=replace(SPORT_REAR, spring=replace(SPORT_REAR.spring, coils=SHOCK_COILS), points=SPORT_POINTS),
        weights=replace(UNSPRUNG, front_alone_kg=86.5, rear_alone_kg=83.5, front_aboard_kg=123.0, rear_aboard_kg=123.0),
        geometry=SPORT_GEOMETRY,
        swingarm=SPORT_SWINGARM,
        drive=SPORT_DRIVE,
        upkeep=Upkeep(front_teeth=15.0, rear_teeth=44.0, axle_mark_mm=28.0),
        balance=LIFTED,
        sag=Sag(
            front=SagEnd(
                hanging_mm=(142.0, 142.0, 142.0),
                static=Readings(down_mm=(122.0, 122.0, 122.5), up_mm=(127.0, 126.5, 127.0)),
                rider=Readings(down_mm=(106.0, 106.0, 106.5), up_mm=(111.5, 111.0, 111.0)),
            ),
            rear=REAR_SAG,
            tape_resolution_mm=1.0,
            fuel="half a tank",
        ),
    )


def soft_springs() -> Job:
    """Springs for a light rider held up by a long spacer and an adjuster screwed home; after two runs."""
    job = came_in_soft()
    first = replace(
        new_run(job, "10:20"),
        front_marker_mm=117.0,
        rear_marker_mm=47.0,
        best_lap_s=74.6,
        laps=7.0,
        front_cold_bar=2.1,
        front_hot_bar=2.45,
        rear_cold_bar=1.5,
        rear_hot_bar=1.85,
        front_hot_c=52.0,
        rear_hot_c=60.0,
        air_c=19.0,
        ground_c=28.0,
        said="Dives and runs wide on the brakes.",
    )
    job = replace(job, rear=replace(job.rear, rebound=replace(job.rear.rebound, now=10.0)), runs=(first,))
    second = replace(
        new_run(job, "11:40"),
        front_marker_mm=118.0,
        rear_marker_mm=46.0,
        best_lap_s=74.1,
        laps=9.0,
        front_cold_bar=2.06,
        front_hot_bar=2.4,
        rear_cold_bar=1.46,
        rear_hot_bar=1.8,
        front_hot_c=55.0,
        rear_hot_c=63.0,
        air_c=22.0,
        ground_c=34.0,
        said="Rear calmer out of the hairpin. Still dives.",
    )
    return replace(job, runs=(first, second))


SOFT_UPKEEP = Upkeep(
    machine_hours=38.5,
    fork_oil=Service(on=dt.date(2026, 2, 14), at_hours=21.0),
    fork_seals=Service(on=dt.date(2026, 2, 14), at_hours=21.0),
    shock=Service(on=dt.date(2025, 11, 8), at_hours=12.0),
    front_teeth=15.0,
    rear_teeth=44.0,
    axle_mark_mm=28.0,
    front_tyre="slick, soft (invented)",
    rear_tyre="slick, soft (invented)",
    front_wanted_bar=2.4,
    rear_wanted_bar=1.8,
    torques=(
        Torque(what="Front axle (value invented)", torque_nm=61.0, done=True, initials="AV"),
        Torque(what="Axle pinch bolts (value invented)", torque_nm=21.0, done=True, initials="AV"),
        Torque(what="Top yoke (value invented)", torque_nm=23.0),
    ),
)


def came_in_soft() -> Job:
    """The machine with soft springs as it came in."""
    leg = replace(
        SPORT_LEG,
        spring=Spring(rate_n_per_mm=8.0, free_length_mm=250.0, set_length_mm=230.0, set_length_in_mm=222.0),
        adjuster=replace(SPORT_LEG.adjuster, now=8.0),
        stack=replace(SPORT_LEG.stack, spacer_mm=104.0),
    )
    return Job(
        job=Occasion(
            machine="Damson no. 11",
            rider="M. O.",
            venue=RING,
            date=SATURDAY,
            use="track",
            rider_mass_kg=90.0,
            sample=True,
            notes=notes(
                "Soft springs held up by too much preload",
                "Came in with the springs of a lighter rider and a long spacer. It tops out over crests and dives on the brakes.",
            ),
        ),
        front=replace(SPORT_FRONT, left=leg),
        rear=replace(SPORT_REAR, collar=replace(SPORT_REAR.collar, now=3.0)),
        upkeep=SOFT_UPKEEP,
        weights=replace(UNSPRUNG, front_alone_kg=86.5, rear_alone_kg=83.5, front_aboard_kg=130.0, rear_aboard_kg=130.0),
        geometry=SPORT_GEOMETRY,
        damper_sheets=(fork_sheet(),),
        sag=Sag(
            front=SagEnd(
                hanging_mm=(142.0, 142.0, 142.0),
                static=Readings(down_mm=(127.0, 127.5, 127.0), up_mm=(132.0, 132.0, 132.5)),
                rider=Readings(down_mm=(105.0, 104.5, 105.0), up_mm=(110.0, 110.5, 110.0)),
            ),
            rear=SagEnd(
                hanging_mm=(612.0, 612.0),
                static=Readings(down_mm=(605.5, 605.5), up_mm=(607.5, 607.0)),
                rider=Readings(down_mm=(582.5, 582.5), up_mm=(584.5, 585.0)),
            ),
            tape_resolution_mm=1.0,
            fuel="half a tank",
        ),
    )


def mismatched_lengths() -> Job:
    """A spring of 245 mm in the right leg, of 250 mm in the left, over the same spacer."""
    left = replace(SPORT_LEG, adjuster=replace(SPORT_LEG.adjuster, now=5.0))
    right = replace(left, spring=replace(left.spring, free_length_mm=245.0))
    return Job(
        job=Occasion(
            machine="Medlar no. 7",
            rider="T. V.",
            venue=RING,
            date=SATURDAY,
            use="track",
            rider_mass_kg=72.0,
            sample=True,
            notes=notes(
                "Springs of two lengths in one fork",
                "One leg was opened over the winter and closed again with another spring on the same spacer.",
            ),
        ),
        front=replace(SPORT_FRONT, left=left, right=right),
        rear=SPORT_REAR,
        weights=replace(UNSPRUNG, machine_kg=170.0, front_share_pct=51.0, rider_front_share_pct=48.0),
        geometry=Geometry(rake_deg=23.5),
        sag=Sag(
            front=SagEnd(
                hanging_mm=(142.0, 142.0),
                static=Readings(down_mm=(120.0, 120.5), up_mm=(125.5, 125.5)),
                rider=Readings(down_mm=(105.5, 105.0), up_mm=(110.5, 110.5)),
            ),
            rear=SagEnd(
                hanging_mm=(612.0, 612.0),
                static=Readings(down_mm=(603.5, 603.0), up_mm=(605.5, 605.0)),
                rider=Readings(down_mm=(585.0, 584.5), up_mm=(586.5, 587.0)),
            ),
            tape_resolution_mm=1.0,
            fuel="half a tank",
        ),
    )


def half_filled() -> Job:
    """A machine just rolled in: labels read, nothing measured on it yet."""
    leg = Leg(
        spring=Spring(rate_n_per_mm=9.0, free_length_mm=250.0),
        adjuster=Adjuster(counting="turns", total_turns=8.0),
        compression=Clicker(total=24.0),
    )
    return Job(
        job=Occasion(
            machine="Sorrel no. 23",
            rider="E. K.",
            venue=RING,
            date=SATURDAY + dt.timedelta(days=1),
            use="track",
            sample=True,
            notes=notes(
                "A new job, half filled in",
                "Rolled in at noon. Springs read from their labels; still to do: all the rest.",
            ),
        ),
        front=Front(left=leg, travel_mm=120.0),
        rear=Rear(spring=Spring(rate_n_per_mm=80.0, free_length_mm=165.0), collar=Adjuster(pitch_mm=1.0)),
    )


def off_road() -> Job:
    """Long travel, no adjuster on the fork, and a linkage measured in pairs."""
    leg = Leg(
        spring=Spring(rate_n_per_mm=4.0, free_length_mm=470.0, set_length_mm=466.0),
        adjuster=Adjuster(counting="none"),
        stack=Stack(spacer_mm=18.0, washers_mm=(1.5, 1.5)),
        compression=Clicker(now=11.0, total=22.0),
        rebound=Clicker(now=12.0, total=22.0),
        air_gap_mm=150.0,
        oil_volume_ml=640.0,
        solids_ml=60.0,
    )
    # Measured with the spring off: the shock moves more for each 50 mm of wheel travel as the wheel comes up.
    pairs = ((0.0, 0.0), (50.0, 18.5), (100.0, 38.0), (150.0, 59.0), (200.0, 81.5), (250.0, 105.0), (304.0, 132.0))
    return Job(
        job=Occasion(
            machine="Nettle",
            rider="J. P.",
            venue="Muddy Acre (invented)",
            date=SATURDAY + dt.timedelta(days=8),
            use="off-road",
            rider_mass_kg=86.0,
            sample=True,
            notes=notes(
                "An off-road machine with a measured linkage",
                "Practice for the Bramble Scramble, which does not exist.",
            ),
        ),
        front=Front(
            left=leg,
            travel_mm=300.0,
            fork_height_mm=5.0,
            stanchion_outer_mm=48.0,
            stanchion_inner_mm=43.0,
            top_out=TopOut(fitted="no"),
            oil="5W fork oil",
        ),
        rear=Rear(
            spring=Spring(rate_n_per_mm=48.0, free_length_mm=260.0, set_length_mm=256.0, set_length_in_mm=246.0),
            collar=Adjuster(counting="turns", total_turns=10.0, pitch_mm=1.0, now=1.0),
            stroke_mm=132.0,
            eye_to_eye_mm=478.0,
            shaft_mm=16.0,
            gas_pressure_bar=10.0,
            wheel_travel_mm=304.0,
            linkage=tuple(LinkagePair(wheel_mm=wheel, shock_mm=shock) for wheel, shock in pairs),
            low_speed_compression=Clicker(now=12.0, total=24.0),
            high_speed_compression=Clicker(now=1.5, total=3.0, unit="turns"),
            rebound=Clicker(now=11.0, total=24.0),
        ),
        weights=Weights(
            front_unsprung_kg=12.0,
            rear_unsprung_kg=17.0,
            front_alone_kg=56.0,
            rear_alone_kg=58.0,
            front_aboard_kg=88.5,
            rear_aboard_kg=111.5,
        ),
        geometry=Geometry(
            rake_deg=27.0,
            offset_mm=22.0,
            wheelbase_mm=1480.0,
            front_radius_mm=345.0,
            rear_radius_mm=335.0,
            measured="static",
            front_sag_mm=39.0,
            rear_sag_mm=36.0,
            fork_height_mm=5.0,
        ),
        sag=Sag(
            front=SagEnd(
                hanging_mm=(905.0, 905.0),
                static=Readings(down_mm=(861.0, 862.0), up_mm=(870.0, 870.0)),
                rider=Readings(down_mm=(830.5, 830.0), up_mm=(840.5, 840.0)),
            ),
            rear=SagEnd(
                hanging_mm=(688.0, 688.0),
                static=Readings(down_mm=(651.0, 651.5), up_mm=(653.5, 653.0)),
                rider=Readings(down_mm=(585.5, 585.5), up_mm=(588.0, 588.0)),
            ),
            tape_resolution_mm=1.0,
            fuel="full tank",
        ),
    )


def air_fork() -> Job:
    """The off-road machine with another fork: its left leg is sprung by air, its right leg holds the damper."""
    machine = off_road()
    left = Leg(
        air=AirLeg(
            fitted=True,
            pressure_bar=9.6,
            set_at_c=18.0,
            most_bar=13.0,
            bore_mm=34.0,
            volume_ml=380.0,
            balance="port",
            port_mm=12.0,
            rod_mm=12.0,
            balance_ml=54.0,
        ),
    )
    right = Leg(
        spring_fitted=False,
        compression=Clicker(now=12.0, total=24.0),
        rebound=Clicker(now=10.0, total=24.0),
    )
    return replace(
        machine,
        job=replace(
            machine.job,
            machine="Thistle",
            venue="High Meadow (invented)",
            altitude_m=640.0,
            date=SATURDAY + dt.timedelta(days=15),
            notes=notes(
                "An off-road machine with an air fork", "The pressure was set at the venue, before sag was taken."
            ),
        ),
        front=replace(machine.front, left=left, right=right, dampers_split=True, temperature_c=18.0),
        sag=replace(
            machine.sag,
            front=SagEnd(
                hanging_mm=(905.0, 905.0),
                static=Readings(down_mm=(862.5, 863.0), up_mm=(872.5, 873.0), pressures_bar=(9.6,)),
                rider=Readings(down_mm=(825.5, 826.0), up_mm=(835.5, 836.0), pressures_bar=(9.6,)),
            ),
        ),
    )


def carried_forward() -> Job:
    """The well-set machine a month on: stiffer, shorter springs on the old spacer, sag not yet taken."""
    before = well_set()
    coils = replace(FORK_COILS, total_coils=15.5)
    spring = replace(SPORT_LEG.spring, rate_n_per_mm=10.0, free_length_mm=245.0, coils=coils)
    return replace(
        before,
        job=replace(
            before.job,
            date=SATURDAY + dt.timedelta(days=28),
            carried_from="well_set.toml",
            notes=notes(
                "Carried forward, with shorter springs",
                "The springs to hand were 245 mm long. The spacer of the 250 mm springs is still in.",
            ),
        ),
        front=replace(before.front, left=replace(before.front.left, spring=spring)),
        sag=Sag(),
    )


def progressive_fork() -> Job:
    """Progressive fork springs by their label, too soft for the rider: to be replaced by springs of one rate."""
    leg = replace(
        SPORT_LEG,
        spring=Spring(
            rate_n_per_mm=Progressive(6.5, 9.5), free_length_mm=300.0, set_length_mm=286.0, set_length_in_mm=278.0
        ),
        adjuster=replace(SPORT_LEG.adjuster, now=6.0),
        stack=Stack(spacer_mm=60.0, washers_mm=(1.5,), seats_mm=(4.0,)),
        compression=Clicker(now=10.0, total=20.0),
        rebound=Clicker(now=10.0, total=20.0),
        air_gap_mm=130.0,
        solids_ml=SOLIDS_ML,
    )
    return Job(
        job=Occasion(
            machine="Bullace",
            rider="I. W.",
            venue="Hedgerow Lanes (invented)",
            date=SATURDAY + dt.timedelta(days=15),
            use="road",
            rider_mass_kg=84.0,
            sample=True,
            notes=notes(
                "A progressive fork spring to be replaced",
                "Sits deep in the fork with its rider. Which one rate instead? ^G, then ^R.",
            ),
        ),
        front=replace(SPORT_FRONT, left=leg, travel_mm=125.0),
        rear=replace(
            SPORT_REAR,
            spring=Spring(rate_n_per_mm=95.0, free_length_mm=170.0, set_length_mm=161.5, set_length_in_mm=151.5),
            collar=replace(SPORT_REAR.collar, now=1.0),
        ),
        weights=Weights(
            front_unsprung_kg=16.0,
            rear_unsprung_kg=18.0,
            front_alone_kg=105.0,
            rear_alone_kg=105.0,
            front_aboard_kg=143.5,
            rear_aboard_kg=150.5,
        ),
        geometry=Geometry(rake_deg=25.0),
        sag=Sag(
            front=SagEnd(
                hanging_mm=(158.0, 158.0),
                static=Readings(down_mm=(124.0, 124.0), up_mm=(128.5, 128.5)),
                rider=Readings(down_mm=(105.0, 105.0), up_mm=(110.0, 110.0)),
            ),
            rear=SagEnd(
                hanging_mm=(610.0, 610.0),
                static=Readings(down_mm=(595.0, 595.5), up_mm=(597.5, 597.0)),
                rider=Readings(down_mm=(576.5, 576.0), up_mm=(578.5, 579.0)),
            ),
            tape_resolution_mm=1.0,
            fuel="full tank",
        ),
    )


def two_springs() -> Job:
    """The well-set machine with a second spring in the shock, which is reached after the sags."""
    job = replace(well_set(), swingarm=Swingarm(), drive=Drive())
    second = SecondSpring(
        arranged="side_by_side", rate_n_per_mm=25.0, free_length_mm=129.0, solid_length_mm=70.0, gap_mm=36.0
    )
    return replace(
        job,
        job=replace(
            job.job,
            machine="Cornel no. 3",
            rider="L. N.",
            notes=notes(
                "A shock with two springs",
                "A second spring inside the first, to hold the last third. ^P shows where they change over.",
            ),
        ),
        rear=replace(job.rear, spring=replace(job.rear.spring, second=second)),
    )


SAMPLES = {
    "well_set.toml": well_set,
    "soft_springs.toml": soft_springs,
    "mismatched_lengths.toml": mismatched_lengths,
    "half_filled.toml": half_filled,
    "off_road.toml": off_road,
    "air_fork.toml": air_fork,
    "carried_forward.toml": carried_forward,
    "progressive_fork.toml": progressive_fork,
    "two_springs.toml": two_springs,
}


if __name__ == "__main__":
    for name, job in SAMPLES.items():
        (FOLDER / name).write_bytes(dumps(job()))
