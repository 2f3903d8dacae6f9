"""An invented off-road machine whose left leg is sprung by air and whose right leg holds the damper."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from stanchion.job.model import AirLeg, Front, Geometry, Job, Leg, LinkagePair, Occasion, Rear, TopOut, Weights

AIR = AirLeg(
    fitted=True,
    pressure_bar=8.3,
    set_at_c=20.0,
    most_bar=13.0,
    bore_mm=34.0,
    volume_ml=380.0,
    balance="port",
    port_mm=12.0,
    rod_mm=12.0,
    balance_ml=45.0,
)


THREE = replace(
    AIR,
    pressure_bar=6.4,
    outer="own_area",
    outer_bar=1.5,
    outer_most_bar=4.0,
    outer_bore_mm=44.0,
    outer_tube_mm=28.0,
    outer_ml=420.0,
)
"""The same with an outer chamber around the cartridge."""
FLOATING = replace(AIR, outer="floating", outer_bar=14.5, outer_most_bar=20.0, outer_ml=90.0)
"""The same with one behind a floating piston."""


def air_job(air: AirLeg = AIR, right: Leg | None = None) -> Job:
    """The job, with the air of its left leg, and its right leg where that is not the damper's."""
    return Job(
        job=Occasion(machine="Bramble 300 (invented)", use="off-road", rider_mass_kg=86.0),
        front=Front(
            left=Leg(air=air),
            right=Leg(spring_fitted=False) if right is None else right,
            travel_mm=300.0,
            top_out=TopOut(fitted="no"),
        ),
        geometry=Geometry(rake_deg=27.0),
        weights=Weights(
            front_unsprung_kg=12.0,
            rear_unsprung_kg=17.0,
            front_alone_kg=56.0,
            rear_alone_kg=58.0,
            front_aboard_kg=88.5,
            rear_aboard_kg=111.5,
        ),
    )


def with_air(job: Job, **changes: Any) -> Job:
    """The job with other values of the air of its left leg."""
    left = replace(job.front.left, air=replace(job.front.left.air, **changes))
    return replace(job, front=replace(job.front, left=left))


SHOCK_AIR = AirLeg(
    fitted=True,
    pressure_bar=11.0,
    set_at_c=20.0,
    most_bar=20.0,
    bore_mm=46.0,
    volume_ml=330.0,
    balance="pressure",
    balance_bar=9.0,
    rod_mm=16.0,
    balance_ml=60.0,
)


def air_shock_job(air: AirLeg = SHOCK_AIR) -> Job:
    """The same machine with a shock sprung by air too, on a linkage of which pairs were measured."""
    pairs = tuple(LinkagePair(wheel_mm=z, shock_mm=0.38 * z + 0.0003 * z * z) for z in (75.0, 150.0, 225.0, 300.0))
    job = air_job()
    rear = Rear(air=air, stroke_mm=145.0, wheel_travel_mm=300.0, linkage=pairs, shaft_mm=16.0)
    return replace(job, rear=rear)


def with_shock_air(job: Job, **changes: Any) -> Job:
    """The job with other values of the air of its shock."""
    return replace(job, rear=replace(job.rear, air=replace(job.rear.air, **changes)))
