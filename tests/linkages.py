"""Linkages of rigid links with their geometry, worked out apart from the program: what pairs are read from in tests.

Lengths and angles are of the size that is usual (common practice, no published source). Side view, swingarm pivot at
(0, 0), the axle at 520 to 600 mm.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import lru_cache
from itertools import islice

import numpy as np

Path = Callable[[float], float]
"""Shock travel for a wheel travel, both from full extension [mm]."""


def straight_shock(rng: np.random.Generator) -> Path:
    """A shock from swingarm to frame: its length by the law of cosines."""
    arm, foot, start = rng.uniform(520, 600), rng.uniform(180, 260), rng.uniform(-0.25, -0.05)
    frame, between = rng.uniform(250, 380), rng.uniform(1.2, 1.9) - rng.uniform(0.0, 0.4)

    def length(angle: float) -> float:
        return math.sqrt(foot**2 + frame**2 - 2 * foot * frame * math.cos(between - angle))

    return lambda z: length(start) - length(math.asin(math.sin(start) + z / arm))


def rocker(rng: np.random.Generator) -> Path | None:
    """A rocker on the frame, a link from swingarm to rocker, the shock from rocker to frame; None where it cannot close."""
    arm, start = rng.uniform(520, 600), rng.uniform(-0.25, -0.05)
    foot = complex(rng.uniform(80, 160), rng.uniform(-60, -20))
    pivot = complex(rng.uniform(-20, 60), rng.uniform(-140, -90))
    link, short, long = rng.uniform(90, 150), rng.uniform(50, 90), rng.uniform(50, 110)
    side, bent = rng.choice([-1, 1]), rng.uniform(-2.5, 2.5)
    top = pivot + complex(rng.uniform(-40, 40), rng.uniform(280, 340))

    def length(z: float) -> float:
        angle = math.asin(math.sin(start) + z / arm)
        to = foot * complex(math.cos(angle), math.sin(angle)) - pivot  # triangle of link and rocker over this side
        along = (short**2 - link**2 + abs(to) ** 2) / (2 * abs(to))
        joint = to / abs(to) * complex(along, side * math.sqrt(short**2 - along**2))
        return abs(pivot + joint / short * long * complex(math.cos(bent), math.sin(bent)) - top)

    try:
        whole = length(0.0)
        length(302.0)
    except ValueError:
        return None
    return lambda z: whole - length(z)


def ratio(path: Path, z: float, step: float = 0.01) -> float:
    """Motion ratio by central difference."""
    return (path(z + step) - path(z - step)) / (2 * step)


def ratio_slope(path: Path, z: float, step: float = 0.05) -> float:
    """How fast it changes, by central difference."""
    return (path(z + step) - 2 * path(z) + path(z - step)) / step**2


def usual(rng: np.random.Generator, travel: float) -> Iterator[Path]:
    """Linkages with a rocker, one after the other: ratio 0.35 to 0.6 over all, rising by up to half."""
    while True:
        path = rocker(rng)
        if path is None or not 0.35 < path(travel) / travel < 0.6:
            continue
        start, end = ratio(path, 1.0), ratio(path, travel)
        if 0.1 < start < end < 1.5 * start and min(ratio(path, z) for z in np.linspace(1.0, travel, 9)) > 0.1:
            yield path


@lru_cache
def usual_ones(travel: float, count: int = 60) -> tuple[Path, ...]:
    """So many of these, always the same."""
    return tuple(islice(usual(np.random.default_rng(1), travel), count))


def read_pairs(
    path: Path, rng: np.random.Generator, travel: float, gap: float, step: float
) -> tuple[tuple[float, float], ...]:
    """Pairs about so far apart, the last at full travel, read with a tape of this division."""
    wheel = np.arange(gap, travel + 0.1, gap)
    wheel[:-1] += rng.uniform(-gap / 6, gap / 6, len(wheel) - 1)
    wheel[-1] = travel - rng.uniform(0.0, step)
    return tuple((float(round(z / step) * step), round(path(z) / step) * step) for z in wheel)
