"""Machines on the brakes from the entries of a job, against a solver of another kind: all balances at once, in coordinates.

The program goes round between travels and loads, and knows the machine by rake, trail and wheelbase. Here the frame is a
rigid body with a steering axis, both wheels are circles on the ground, and scipy finds pitch, travels and deceleration
together. Forces are written out from the entries: weights in kg, lengths of springs, air gap and tubes.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq, fsolve

import make_samples
from judgement_jobs import judged, put
from stanchion.job.model import Job, Sag
from stanchion.judgement.predict.brakes import brakes_figures

G = 9.80665
AMBIENT_MPA = 0.101325
BASE = put(
    replace(make_samples.well_set(), sag=Sag()),
    front__left__solids_ml=None,
    balance__braking_g=0.7,
)
"""The invented sport machine without sags, so that it stands where its springs and scales put it."""


def a_job(draw: random.Random) -> Job:
    """A machine like it, everything that counts on the brakes drawn anew."""
    front, rear = round(draw.uniform(112.0, 130.0), 1), round(draw.uniform(112.0, 130.0), 1)
    return put(
        BASE,
        balance__braking_g=round(draw.uniform(0.1, 0.85), 3),
        balance__height_aboard_mm=round(draw.uniform(540.0, 680.0), 1),
        balance__lifts=(),
        front__left__spring__rate_n_per_mm=round(draw.uniform(8.5, 11.0), 2),
        front__left__spring__set_length_mm=round(draw.uniform(232.0, 242.0), 1),
        front__left__spring__set_length_in_mm=round(draw.uniform(222.0, 224.0), 1),
        front__left__adjuster__now=0.0,
        front__left__air_gap_mm=round(draw.uniform(95.0, 150.0), 1),
        front__stanchion_outer_mm=round(draw.uniform(41.0, 48.0), 1),
        front__stanchion_inner_mm=round(draw.uniform(36.0, 40.0), 1),
        rear__spring__rate_n_per_mm=round(draw.uniform(75.0, 95.0), 1),
        rear__collar__now=0.0,
        rear__spring__set_length_mm=round(draw.uniform(152.0, 158.0), 1),
        swingarm__pivot_to_axle_mm=(arm := round(draw.uniform(500.0, 620.0), 1)),
        swingarm__pivot_up_mm=round(320.0 + arm * math.sin(math.radians(draw.uniform(0.0, 16.0))), 1),
        rear__motion_ratio=round(draw.uniform(0.46, 0.52), 3),
        rear__stroke_mm=70.0,
        weights__front_aboard_kg=front,
        weights__rear_aboard_kg=rear,
        weights__front_alone_kg=front - 36.5,
        weights__rear_alone_kg=rear - 39.5,
        weights__front_unsprung_kg=round(draw.uniform(10.0, 17.0), 1),
        weights__rear_unsprung_kg=round(draw.uniform(11.0, 19.0), 1),
        geometry__rake_deg=round(draw.uniform(22.0, 27.0), 2),
        geometry__offset_mm=round(draw.uniform(24.0, 36.0), 1),
        geometry__wheelbase_mm=round(draw.uniform(1340.0, 1450.0), 1),
        geometry__front_sag_mm=round(draw.uniform(25.0, 40.0), 1),
        geometry__rear_sag_mm=round(draw.uniform(20.0, 35.0), 1),
        geometry__front_radius_mm=round(draw.uniform(290.0, 306.0), 1),
        geometry__rear_radius_mm=round(draw.uniform(308.0, 326.0), 1),
    )


class Body:
    """The frame as measured: x forward from the rear contact, z up, level."""

    def __init__(self, job: Job) -> None:
        self.job = job
        of, leg, rear = job.geometry, job.front.left, job.rear
        self.rake = math.radians(of.rake_deg or 0.0)
        self.front_radius, self.rear_radius = of.front_radius_mm or 0.0, of.rear_radius_mm or 0.0
        self.front_axle = np.array([of.wheelbase_mm or 0.0, self.front_radius])
        self.rear_axle = np.array([0.0, self.rear_radius])
        self.arm = job.swingarm.pivot_to_axle_mm or 0.0
        pivot_up = job.swingarm.pivot_up_mm or 0.0
        self.pivot = np.array([math.sqrt(self.arm**2 - (pivot_up - self.rear_radius) ** 2), pivot_up])
        self.fork_read, self.rear_read = of.front_sag_mm or 0.0, of.rear_sag_mm or 0.0
        self.front_kg, self.rear_kg = job.weights.front_aboard_kg or 0.0, job.weights.rear_aboard_kg or 0.0
        self.mass = self.front_kg + self.rear_kg
        self.front_unsprung, self.rear_unsprung = (
            job.weights.front_unsprung_kg or 0.0,
            job.weights.rear_unsprung_kg or 0.0,
        )
        spring = leg.spring
        self.rate, self.preload = spring.rate_n_per_mm, (spring.free_length_mm or 0.0) - (spring.set_length_mm or 0.0)
        self.travel = job.front.travel_mm or 0.0
        self.outer = math.pi / 4.0 * (job.front.stanchion_outer_mm or 0.0) ** 2
        self.least = math.pi / 4.0 * (job.front.stanchion_inner_mm or 0.0) ** 2 * (leg.air_gap_mm or 0.0)
        shock = rear.spring
        self.shock_rate = shock.rate_n_per_mm
        self.shock_preload = (shock.free_length_mm or 0.0) - (shock.set_length_mm or 0.0)
        self.ratio = rear.motion_ratio or 0.0
        self.gas = (rear.gas_pressure_bar or 0.0) * 0.1 * math.pi / 4.0 * (rear.shaft_mm or 0.0) ** 2

    def fork_force(self, x: float, exponent: float) -> float:
        whole = self.least + self.outer * self.travel
        air: float = AMBIENT_MPA * self.outer * ((whole / (whole - self.outer * x)) ** exponent - 1.0)
        return 2.0 * (float(self.rate) * (self.preload + x) + air)  # type: ignore[arg-type]

    def rear_force(self, z: float) -> float:
        return self.ratio * (float(self.shock_rate) * (self.shock_preload + self.ratio * z) + self.gas)  # type: ignore[arg-type]

    def axles(self, x: float, z: float) -> tuple[np.ndarray, np.ndarray]:
        """Both axles on the frame, the ends moved; the rear one on the circle about the pivot."""
        along = np.array([-math.sin(self.rake), math.cos(self.rake)])
        up = float(self.rear_axle[1]) + z - self.rear_read
        behind = math.sqrt(self.arm**2 - (float(self.pivot[1]) - up) ** 2)
        return self.front_axle + (x - self.fork_read) * along, np.array([float(self.pivot[0]) - behind, up])

    def stand(self, x: float, z: float) -> None:
        """From here on level as it stands with the ends there: travel of the rear wheel is then counted upright so."""
        turn = self.pitch(x, z)
        front, rear = self.axles(x, z)
        self.pivot = turned(self.pivot - rear, turn) + np.array([0.0, self.rear_radius])
        self.rear_axle = np.array([0.0, self.rear_radius])
        self.front_axle = turned(front - rear, turn) + self.rear_axle
        self.rake -= turn
        self.fork_read, self.rear_read = x, z

    def pitch(self, x: float, z: float) -> float:
        """Nose down, by which both wheels touch the ground."""
        front, rear = self.axles(x, z)

        def apart(turn: float) -> float:
            return float(turned(front - rear, turn)[1]) - (self.front_radius - self.rear_radius)

        return float(brentq(apart, -0.4, 0.4, xtol=1e-15))


def turned(point: np.ndarray, nose_down: float) -> np.ndarray:
    cosine, sine = math.cos(nose_down), math.sin(nose_down)
    return np.array([point[0] * cosine + point[1] * sine, point[1] * cosine - point[0] * sine])


def standing(body: Body) -> tuple[float, float]:
    """Travels with the rider, by the scales: the rake is the one entered, as the program's prediction of sag has it."""
    load = (body.front_kg - body.front_unsprung) * G * math.cos(body.rake)
    on_rear = (body.rear_kg - body.rear_unsprung) * G
    x = float(brentq(lambda x: body.fork_force(x, 1.0) - load, 0.0, body.travel, xtol=1e-12))
    z = float(brentq(lambda z: body.rear_force(z) - on_rear, 0.0, 125.0, xtol=1e-12))
    return x, z


def on_the_brakes(job: Job, braking_g: float, exponent: float) -> tuple[float, float, float, float]:
    """Fork travel, rear travel, rear load in kg, and rake in degrees."""
    body = Body(job)
    x0, z0 = standing(body)
    body.stand(x0, z0)
    wheelbase0 = float(body.front_axle[0])
    whole = np.array([body.front_kg / body.mass * wheelbase0, body.job.balance.height_aboard_mm or 0.0])
    unsprung = (
        (body.front_unsprung, np.array([wheelbase0, body.front_radius])),
        (body.rear_unsprung, np.array([0.0, body.rear_radius])),
    )
    sprung_kg = body.mass - body.front_unsprung - body.rear_unsprung
    sprung = (body.mass * whole - sum(kg * at for kg, at in unsprung)) / sprung_kg
    fixed = sprung  # where it lies on the frame, which is level now

    def placed(x: float, z: float) -> tuple[float, np.ndarray, float]:
        turn = body.pitch(x, z)
        front, rear = body.axles(x, z)
        base = float(turned(front - rear, turn)[0])
        now = turned(fixed - rear, turn) + np.array([0.0, body.rear_radius])
        centre = sprung_kg * now + body.front_unsprung * np.array([base, body.front_radius])
        centre = (centre + body.rear_unsprung * np.array([0.0, body.rear_radius])) / body.mass
        return turn, centre, base

    def front_load(x: float, z: float, a: float) -> float:
        """Moments about the rear contact."""
        _, centre, base = placed(x, z)
        return float(body.mass * G * (centre[0] + a * centre[1]) / base)

    def along(x: float, z: float, a: float) -> float:
        rake = body.rake - placed(x, z)[0]
        upright = front_load(x, z, a) - body.front_unsprung * G
        return upright * math.cos(rake) + (body.mass - body.front_unsprung) * a * G * math.sin(rake)

    def about_pivot(x: float, z: float, a: float) -> float:
        """Moment of the spring about the pivot less that of the load and of the wheel's own mass [N mm]."""
        turn, _, _ = placed(x, z)
        to_axle = body.axles(x, z)[1] - body.pivot
        level = turned(to_axle, turn)
        load = (body.mass - body.rear_unsprung) * G - front_load(x, z, a)
        return float(
            (body.rear_force(z) - besides_rear) * -to_axle[0]
            - (load * -level[0] + body.rear_unsprung * a * G * level[1])
        )

    besides = body.fork_force(x0, exponent) - along(x0, z0, 0.0)  # what the springs carry at rest beyond the masses
    besides_rear = body.rear_force(z0) - (body.mass * G - front_load(x0, z0, 0.0) - body.rear_unsprung * G)

    def unbalanced(at: np.ndarray) -> list[float]:
        x, z = float(at[0]), float(at[1])
        return [
            body.fork_force(x, exponent) - along(x, z, braking_g) - besides,
            about_pivot(x, z, braking_g) / body.arm,
        ]

    x, z = (float(one) for one in fsolve(unbalanced, [x0 + 30.0, max(0.0, z0 - 15.0)], xtol=1e-10))
    if z < 0.0:  # topped out: the rear carries what it carries, the fork alone is sought
        z = 0.0
        x = float(brentq(lambda x: unbalanced(np.array([x, 0.0]))[0], 0.0, body.travel + 1.0, xtol=1e-10))
    else:
        assert np.abs(unbalanced(np.array([x, z]))).max() < 1e-4  # newtons
    rear_kg = body.mass - front_load(x, z, braking_g) / G
    return x, z, rear_kg, math.degrees(body.rake - placed(x, z)[0])


@pytest.mark.parametrize("seed", [17, 2026])
def test_a_hundred_machines_stand_where_the_other_solver_puts_them(seed: int) -> None:
    draw, compared = random.Random(seed), 0
    for _ in range(100):
        job = a_job(draw)
        figures = brakes_figures(job, judged(job))
        for exponent, of in ((1.0, figures.slow), (1.4, figures.fast)):
            x, z, rear_kg, rake = on_the_brakes(job, job.balance.braking_g or 0.0, exponent)
            if x >= (job.front.travel_mm or 0.0) or rear_kg < 0.0:
                continue
            assert of.fork_used_mm.value == pytest.approx(x, abs=1e-4), job
            assert of.rear_used_mm.value == pytest.approx(z, abs=1e-4)
            assert of.rear_kg.value == pytest.approx(rear_kg, abs=1e-4)
            assert of.rake_deg.value == pytest.approx(rake, abs=1e-5)
            compared += 1
    assert compared > 120
