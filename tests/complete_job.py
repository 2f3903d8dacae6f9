"""A job in which every field is filled in: an invented machine, for measuring how long judging takes."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import replace

from stanchion.job.model import (
    Adjuster,
    AirLeg,
    AsFound,
    Attached,
    Balance,
    BenchPair,
    Bleed,
    Calibration,
    ChainAndTyres,
    ChangeToRide,
    Clicker,
    Coils,
    Complaint,
    DamperCurve,
    DamperSheet,
    Damping,
    Drive,
    EndTargets,
    ExpectedEffect,
    Front,
    Geometry,
    Job,
    KnownMass,
    Leg,
    Lift,
    LinkagePair,
    Move,
    Occasion,
    Outside,
    Pixel,
    PointRead,
    PointsRead,
    Readings,
    Rear,
    Repeatability,
    RiddenChange,
    Run,
    Sag,
    SagEnd,
    ScaleCalibration,
    SecondSpring,
    Service,
    Spring,
    Stack,
    StacksThen,
    StopPair,
    Stops,
    Swingarm,
    Targets,
    TesterPair,
    TopOut,
    Torque,
    Upkeep,
    Weights,
)
from stanchion.job.spec import Progressive


def linkage(points: int) -> tuple[LinkagePair, ...]:
    """That many pairs of a linkage whose ratio rises from 0.34 to 0.42 over 120 mm."""
    wheels = [120.0 * (i + 1) / points for i in range(points)]
    return tuple(LinkagePair(wheel_mm=z, shock_mm=0.34 * z + 0.04 * z * z / 120.0) for z in wheels)


def _points() -> PointsRead:
    """A rocker on the frame, with every number that any way of reading gives."""

    def point(forward: float, up: float) -> PointRead:
        return PointRead(
            forward_mm=forward,
            up_mm=up,
            from_pivot_mm=round(math.hypot(forward, up)),
            from_axle_mm=round(math.hypot(forward + 569.0, up + 101.0)),
            right_px=2400.0 + 3.0 * forward,
            down_px=1500.0 - 3.0 * up,
        )

    return PointsRead(
        layout="rocker_on_frame",
        axle_below_mm=101.0,
        pivot=Pixel(right_px=2400.0, down_px=1500.0),
        axle=Pixel(right_px=693.0, down_px=1803.0),
        rocker=point(-60.0, -120.0),
        link_end=point(-38.0, -53.0),
        link_far=point(-188.0, -33.0),
        shock_moved=point(17.0, -169.0),
        shock_held=point(10.0, 145.0),
    )


CHAIN_AND_TYRES = ChainAndTyres(
    front_teeth=15.0,
    rear_teeth=44.0,
    axle_mark_mm=31.0,
    front_tyre="invented slick, medium",
    rear_tyre="invented slick, soft",
)


_SECOND = SecondSpring(  # recorded, but not fitted
    rate_n_per_mm=20.0, free_length_mm=60.0, solid_length_mm=30.0, divider_mm=6.0, stop_mm=25.0, gap_mm=40.0
)


_AIR = AirLeg(  # of another leg, not fitted now
    pressure_bar=8.3,
    set_at_c=20.0,
    in_use_c=45.0,
    wanted_bar=9.0,
    set_in=Outside(altitude_m=320.0, barometer_hpa=970.0),
    most_bar=13.0,
    bore_mm=34.0,
    length_mm=420.0,
    volume_ml=380.0,
    balance="pressure",
    port_mm=12.0,
    balance_bar=7.0,
    rod_mm=12.0,
    balance_length_mm=60.0,
    balance_ml=45.0,
    outer="own_area",
    outer_bar=1.5,
    outer_most_bar=4.0,
    outer_bore_mm=44.0,
    outer_tube_mm=28.0,
    outer_length_mm=470.0,
    outer_ml=420.0,
)


def complete_job(points: int = 12) -> Job:
    """The job, with that many linkage pairs."""
    left = Leg(
        spring=Spring(
            rate_n_per_mm=9.5,
            free_length_mm=250.0,
            set_length_mm=238.0,
            set_length_at=0.0,
            set_length_in_mm=230.0,
            coils=_coils(wire=4.6, outer=37.0, total=19.0, free=250.0, rate=9.5),
            second=_SECOND,
        ),
        read_at="assembled",
        adjuster=Adjuster(total_turns=16.0, pitch_mm=0.5, total_clicks=64.0, click_mm=0.125, now=4.0, base=4.0),
        stack=Stack(spacer_mm=100.0, washers_mm=(1.5, 1.5), seats_mm=(3.5,)),
        compression=Clicker(now=12.0, total=24.0, base=12.0),
        high_speed_compression=Clicker(now=2.0, total=4.0, unit="turns", base=2.0),
        rebound=Clicker(now=10.0, total=24.0, base=11.0),
        air_gap_mm=110.0,
        oil_volume_ml=505.0,
        solids_ml=60.0,
        bleed=Bleed(at_mm=0.0, pressure_bar=0.0, temperature_c=20.0, closed_in=Outside(altitude_m=320.0)),
        air=_AIR,
    )
    front = Front(
        left=left,
        right=replace(left, adjuster=replace(left.adjuster, now=4.5)),
        preload_difference_meant=True,
        travel_mm=120.0,
        packers_mm=2.0,
        fork_height_mm=6.0,
        stanchion_outer_mm=43.0,
        stanchion_inner_mm=39.0,
        top_out=TopOut(
            fitted="yes",
            rate_n_per_mm=30.0,
            works_over_mm=20.0,
            bench=(BenchPair(travel_mm=2.0, force_n=540.0), BenchPair(travel_mm=12.0, force_n=240.0)),
        ),
        top_out_legs="both",
        damper_rod_mm=12.0,
        gap_compared_mm=105.0,
        reserve_wanted_n=800.0,
        left_wanted_mm=8.0,
        stops=Stops(
            touches_mm=100.0, rate_n_per_mm=30.0, pairs=(StopPair(squeezed_mm=10.0, force_n=320.0),), hydraulic_mm=6.0
        ),
        oil="5W",
        temperature_c=40.0,
    )
    rear = Rear(
        spring=Spring(
            rate_n_per_mm=95.0,
            free_length_mm=180.0,
            set_length_mm=168.0,
            set_length_in_mm=155.0,
            coils=_coils(wire=11.0, outer=73.0, total=8.0, free=180.0, rate=95.0),
            second=_SECOND,
        ),
        collar=Adjuster(pitch_mm=1.5, total_turns=10.0, total_clicks=40.0, click_mm=0.375, now=2.0, base=1.5),
        stroke_mm=62.0,
        eye_to_eye_mm=312.0,
        length_adjuster_mm=2.0,
        shaft_mm=14.0,
        gas_pressure_bar=10.0,
        gas_volume_ml=95.0,
        gas_set_at_c=20.0,
        gas_set_in=Outside(altitude_m=320.0, barometer_hpa=970.0),
        temperature_c=35.0,
        air=_AIR,
        stops=Stops(
            touches_mm=48.0, rate_n_per_mm=90.0, pairs=(StopPair(squeezed_mm=8.0, force_n=900.0),), hydraulic_mm=3.0
        ),
        packers_mm=1.0,
        bump_rubber_mm=12.0,
        top_out=TopOut(fitted="no"),
        wheel_travel_mm=125.0,
        motion_ratio=0.38,
        linkage=linkage(points),
        points=_points(),
        link_mm=151.0,
        low_speed_compression=Clicker(now=14.0, total=24.0, base=12.0),
        high_speed_compression=Clicker(now=2.0, total=4.0, unit="turns", base=2.0),
        rebound=Clicker(now=12.0, total=24.0, base=12.0),
    )
    job = Job(
        job=Occasion(
            machine="Lantern 600 (invented)",
            rider="Test Rider",
            venue="Nowhere Ring (invented)",
            altitude_m=320.0,
            barometer_hpa=976.0,
            session="Practice 1",
            date=dt.date(2026, 5, 16),
            rider_mass_kg=78.0,
        ),
        front=front,
        rear=rear,
        sag=Sag(front=_sag_end(18.0, 31.0), rear=_sag_end(7.0, 28.0), tape_resolution_mm=1.0, fuel="half a tank"),
        weights=Weights(
            machine_kg=186.0,
            front_share_pct=51.0,
            rider_front_share_pct=46.0,
            front_unsprung_kg=15.0,
            rear_unsprung_kg=18.0,
            front_alone_kg=95.0,
            rear_alone_kg=91.0,
            front_aboard_kg=131.0,
            rear_aboard_kg=133.0,
        ),
        balance=Balance(
            braking_g=0.8,
            height_alone_mm=540.0,
            height_aboard_mm=640.0,
            blocked="yes",
            lifts=(
                Lift(raised_mm=250.0, alone_kg=89.5, aboard_kg=120.0),
                Lift(raised_mm=400.0, alone_kg=86.0, aboard_kg=112.5),
            ),
        ),
        repeatability=Repeatability(
            by="invented technician",
            alone_mm=0.6,
            alone_freedom=19.0,
            alone_on=dt.date(2026, 3, 7),
            aboard_mm=1.1,
            aboard_freedom=7.0,
            aboard_on=dt.date(2026, 3, 8),
            bench_mm=0.2,
            bench_freedom=9.0,
            bench_on=dt.date(2026, 3, 9),
        ),
        calibration=Calibration(
            front=ScaleCalibration(
                called="invented scale 1",
                calibrated_on=dt.date(2026, 3, 2),
                masses=(
                    KnownMass(true_kg=20.0, read_kg=20.1),
                    KnownMass(true_kg=60.0, read_kg=60.4),
                    KnownMass(true_kg=100.0, read_kg=100.5),
                ),
            ),
            rear=ScaleCalibration(
                called="invented scale 2",
                calibrated_on=dt.date(2026, 3, 2),
                masses=(
                    KnownMass(true_kg=20.0, read_kg=19.9),
                    KnownMass(true_kg=60.0, read_kg=59.9),
                    KnownMass(true_kg=100.0, read_kg=99.7),
                ),
            ),
            both=ScaleCalibration(
                called="invented scale 3",
                calibrated_on=dt.date(2025, 1, 5),
                masses=(
                    KnownMass(true_kg=25.0, read_kg=25.0),
                    KnownMass(true_kg=50.0, read_kg=50.2),
                    KnownMass(true_kg=75.0, read_kg=75.1),
                ),
            ),
        ),
        damping=Damping(front_rates_n_per_mm=(9.5, Progressive(8.5, 10.0)), rear_rates_n_per_mm=(90.0,)),
        geometry=Geometry(
            rake_deg=24.0,
            offset_mm=30.0,
            wheelbase_mm=1400.0,
            front_radius_mm=298.5,
            rear_radius_mm=315.0,
            measured="static",
            front_sag_mm=18.0,
            rear_sag_mm=7.0,
            fork_height_mm=4.0,
            length_adjuster_mm=0.0,
        ),
        swingarm=Swingarm(
            pivot_to_axle_mm=585.0,
            pivot_up_mm=425.0,
            arm_down_deg=10.8,
            sprocket_up_mm=440.0,
            sprocket_ahead_mm=62.0,
            measured="static",
            front_sag_mm=18.0,
            rear_sag_mm=7.0,
            fork_height_mm=4.0,
            length_adjuster_mm=0.0,
        ),
        drive=Drive(chain="520", links=112.0, axle_forward_mm=12.0, axle_back_mm=18.0, acceleration_g=0.6),
        damper_sheets=(
            DamperSheet(
                damper="rear",
                turned="compression",
                file="invented dynamometer.csv",
                sha256="0" * 64,
                unread=2.0,
                stroke_mm=30.0,
                temperature_c=38.0,
                gas="entered",
                gas_n=154.0,
                curves=tuple(
                    DamperCurve(
                        stroke=stroke,
                        position=at,
                        speeds_mm_per_s=(25.0, 100.0, 400.0),
                        forces_n=tuple(154.0 + way * (20.0 - at) * n for n in (4.0, 12.0, 30.0)),
                        spreads_n=(3.0, 4.0, 6.0),
                    )
                    for at in (8.0, 16.0)
                    for stroke, way in (("compression", 1.0), ("rebound", -1.0))
                ),
            ),
        ),
        attached=(Attached(path="files/lantern/fork.jpg"),),
        targets=Targets(
            front=EndTargets(preload_low_mm=8.0, preload_high_mm=15.0, source="invented manual, page 31"),
            rear=EndTargets(
                static_low_mm=5.0,
                static_high_mm=10.0,
                rider_low_mm=25.0,
                rider_high_mm=32.0,
                preload_low_mm=8.0,
                preload_high_mm=18.0,
                source="rider's own",
            ),
        ),
        upkeep=Upkeep(
            machine_hours=41.5,
            fork_oil=Service(on=dt.date(2026, 4, 2), at_hours=30.0),
            fork_seals=Service(on=dt.date(2026, 4, 2), at_hours=30.0),
            shock=Service(on=dt.date(2025, 11, 20), at_hours=22.0),
            front_teeth=15.0,
            rear_teeth=44.0,
            axle_mark_mm=31.0,
            wheelbase_mm=1400.0,
            front_tyre="invented slick, medium",
            rear_tyre="invented slick, soft",
            front_wanted_bar=2.3,
            rear_wanted_bar=1.7,
            torques=tuple(
                Torque(what=what, torque_nm=value, done=True, initials="TR")
                for what, value in (("axle nut", 100.0), ("pinch bolts", 22.0), ("top yoke", 24.0))
            ),
            ratio_with=CHAIN_AND_TYRES,
            geometry_with=CHAIN_AND_TYRES,
            swingarm_with=CHAIN_AND_TYRES,
            set_lengths_with=StacksThen(left_mm=106.5, right_mm=106.5),
        ),
    )
    run = Run(
        time="10:20",
        front_marker_mm=104.0,
        rear_marker_mm=47.0,
        best_lap_s=92.4,
        laps=8.0,
        front_cold_bar=2.0,
        front_hot_bar=2.3,
        rear_cold_bar=1.45,
        rear_hot_bar=1.75,
        front_cold_c=19.0,
        front_hot_c=62.0,
        rear_cold_c=19.0,
        rear_hot_c=71.0,
        air_c=18.0,
        ground_c=31.0,
        date=dt.date(2026, 5, 31),
        session="Practice 1",
        said="Pushes wide on the brakes.",
        complaints=(Complaint(where="straight_braking", what="runs_wide"), Complaint(where="exit", what="squats")),
        front=front,
        rear=rear,
    )
    moved = RiddenChange(
        made_on=dt.date(2026, 5, 31),
        made_at="10:50",
        complaints=(Complaint(where="straight_braking", what="runs_wide"),),
        at_once=2.0,
        expected=ExpectedEffect(
            front_static_mm=18.0,
            front_rider_mm=31.0,
            rear_static_mm=7.0,
            rear_rider_mm=28.0,
            fork_brakes_mm=71.0,
            trail_mm=97.0,
        ),
    )
    next_one = ChangeToRide(moves=(Move(path="rear.rebound.now", was="12.0", becomes="14.0"),))
    found = AsFound(on=job.job.date, front_cold_bar=2.1, rear_cold_bar=1.9, front=front, rear=rear, sag=job.sag)
    job = replace(job, found=found)
    raised = replace(front, fork_height_mm=5.0)
    second = replace(run, time="11:05", change=moved, verdict="better", front=raised)
    return replace(job, changes=(next_one,), runs=(run, second))


def _coils(*, wire: float, outer: float, total: float, free: float, rate: float) -> Coils:
    squeezed = [5.0 * (i + 1) for i in range(12)]
    return Coils(
        wire_mm=wire,
        outer_mm=outer,
        total_coils=total,
        wire="chrome_silicon",
        tester=tuple(TesterPair(length_mm=free - x, force_n=rate * x) for x in squeezed),
    )


def _sag_end(static: float, rider: float) -> SagEnd:
    def readings(sag: float) -> Readings:
        repeats = (-0.5, 0.0, 0.5, 0.0, 0.5)
        return Readings(
            down_mm=tuple(600.0 - sag - 2.0 + r for r in repeats), up_mm=tuple(600.0 - sag + 2.0 + r for r in repeats)
        )

    return SagEnd(hanging_mm=(600.0, 600.5, 599.5, 600.0, 600.0), static=readings(static), rider=readings(rider))
