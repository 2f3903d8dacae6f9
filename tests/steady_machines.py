"""Invented machines for what they do on the brakes and on the gas."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from stanchion.mechanics.fork import Fork, ForkLeg, TrappedAir
from stanchion.mechanics.geometry import Baseline
from stanchion.mechanics.linkage import through_pairs
from stanchion.mechanics.rear import RearEnd
from stanchion.mechanics.steady import Machine
from stanchion.mechanics.swingarm import ArmLine

AIR = TrappedAir(area_mm2=1452.2, least_volume_mm3=1194.6 * 110.0)
FORK = Fork((ForkLeg(rate_n_per_mm=9.5, preload_mm=14.0, air=AIR),) * 2, 120.0)
REAR = RearEnd(
    rate_n_per_mm=90.0,
    preload_mm=9.0,
    linkage=through_pairs([(30.0, 14.0), (60.0, 28.6), (90.0, 43.8), (125.0, 62.0)]),
    travel_mm=125.0,
)
STANDS = Baseline(rake_deg=23.5, offset_mm=30.0, wheelbase_mm=1370.0, front_radius_mm=298.5, rear_radius_mm=318.0)
MACHINE = Machine(
    stands=STANDS,
    mass_kg=246.0,
    ahead_mm=685.0,
    height_mm=620.0,
    front_unsprung_kg=13.0,
    rear_unsprung_kg=15.0,
    fork=FORK,
    fork_mm=34.0,
    rear=REAR,
    rear_mm=27.0,
)
"""Invented, much like the sport machine of the samples."""

machines = st.builds(
    lambda rate, preload, height, ahead, rake, top_out, mass: replace(
        MACHINE,
        stands=replace(STANDS, rake_deg=rake),
        fork=Fork(
            (ForkLeg(rate_n_per_mm=rate, preload_mm=preload, air=AIR, top_out_rate_n_per_mm=25.0, top_out_mm=top_out),)
            * 2,
            120.0,
        ),
        height_mm=height,
        ahead_mm=ahead,
        mass_kg=mass,
    ),
    st.floats(5.0, 20.0),
    st.floats(0.0, 20.0),
    st.floats(450.0, 750.0),
    st.floats(550.0, 800.0),
    st.floats(18.0, 30.0),
    st.floats(0.0, 30.0),
    st.floats(120.0, 350.0),
)

on_an_arm = st.builds(
    lambda machine, length, down: replace(machine, arm=ArmLine(length_mm=length, down_deg=down)),
    machines,
    st.floats(480.0, 640.0),
    st.floats(-5.0, 18.0),
)
"""The same with their swingarm."""
