"""A motorcycle's springs computed from first principles, without the program's own mechanics.

Only the fields of a job are read; every formula is written out here again and solved with scipy, so that what the
program says of a job can be held against what the machine would do. Lengths in mm, forces in N, pressures in MPa.

Source of the formulas: Hooke's law, the ideal gas and a balance of forces; PCHIP by F. N. Fritsch and R. E. Carlson,
SIAM J. Numer. Anal. 17 (1980), as scipy has it.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

from rates import one_rate
from stanchion.job.model import SIDES, Front, Job, Leg, Rear, TopOut

G = 9.80665
"""Standard gravity [m/s²]."""
AMBIENT = 0.101325
"""Standard atmosphere [MPa]."""
Array = NDArray[np.float64]


@dataclass(frozen=True)
class TrueLeg:
    """One fork leg. Preload is referred to the damper's stop."""

    rate: float
    preload: float
    """With the adjuster where it stands; not used in a leg without a spring."""
    added: float
    """How much of it the adjuster adds."""
    reach: float
    """What the adjuster adds fully in."""
    installed: float
    """Installed preload as the workshop reads it: free length less set length, adjuster fully out."""
    top_out: tuple[float, float]
    """Rate and length of the top-out spring; (0, 0) without one."""
    air: tuple[float, float] | None
    """Area, and volume left at full travel; closed fully extended."""


@dataclass(frozen=True)
class TrueFork:
    """The fork with what it carries."""

    legs: tuple[TrueLeg, ...]
    travel: float
    cosine: float
    unsprung: float
    """Mass of wheel and sliders [kg]."""
    read_at: tuple[str, ...]

    def force(self, x: float, added: float = 0.0, spacer: float = 0.0, rate: float | None = None) -> float:
        """Force along the fork at a compression, with more preload at the adjusters and the springs."""
        total = 0.0
        for leg in self.legs:
            if leg.rate:
                squeezed = leg.preload + spacer + (added if leg.reach else 0.0) + x
                total += (leg.rate if rate is None else rate) * max(0.0, squeezed)
                total -= leg.top_out[0] * max(0.0, leg.top_out[1] - x)
            if leg.air is not None:
                area, least = leg.air
                total += area * AMBIENT * ((least + area * self.travel) / (least + area * (self.travel - x)) - 1.0)
        return total

    def _forces(self, x: Array, added: Array, spacer: Array, rate: Array | None) -> Array:
        """The same for many at once."""
        total: Any = np.zeros_like(x)
        for leg in self.legs:
            if leg.rate:
                k = leg.rate if rate is None else rate
                more = spacer + (added if leg.reach else 0.0)
                total = total + k * np.maximum(0.0, leg.preload + more + x)
                stiff, length = leg.top_out
                total = total - stiff * np.maximum(0.0, length - x)
            if leg.air is not None:
                area, least = leg.air
                whole = least + area * self.travel
                total = total + area * AMBIENT * (whole / (least + area * (self.travel - x)) - 1.0)
        return np.asarray(total)

    def along(self, vertical: float) -> float:
        """Part of a vertical load that acts along the fork."""
        return vertical * self.cosine

    @property
    def hanging(self) -> float:
        """Compression with the wheel hanging."""
        return self.rest(-self.unsprung * G)

    def rest(self, vertical: float, more: float = 0.0, rate: float | None = None) -> float:
        """Compression under a vertical load; with more preload at the springs, or another rate."""
        load = self.along(vertical)
        return _balance(lambda x: self.force(x, 0.0, more, rate) - load, self.travel)

    def sag(self, vertical: float, more: float = 0.0, rate: float | None = None) -> float:
        """Sag along the leg, from the hanging wheel."""
        return self.rest(vertical, more, rate) - self.rest(-self.unsprung * G, more, rate)

    def sags(self, loads: tuple[float, float], added: Array, spacer: Array, rate: Array | None = None) -> Array:
        """Both sags for many changes at once; a row each of static and rider."""
        load = np.array([[-self.unsprung * G], [loads[0]], [loads[1]]]) * self.cosine
        x = _balances(lambda at: self._forces(at, added, spacer, rate) - load, self.travel, (3, added.size))
        return np.asarray(x[1:] - x[0])


@dataclass(frozen=True)
class TrueRear:
    """The shock with its linkage and what it carries."""

    rate: float
    preload: float
    added: float
    reach: float | None
    """What the collar adds fully in; None where it has no counted end."""
    installed: float
    gas: float
    top_out: tuple[float, float]
    travel: float
    unsprung: float
    ratio: float
    pairs: tuple[tuple[float, float], ...]

    def shock(self, z: float) -> float:
        """Shock travel."""
        return self._at(z)[0]

    def slope(self, z: float) -> float:
        """Motion ratio."""
        return self._at(z)[1]

    def _at(self, z: float) -> tuple[float, float]:
        """Shock travel and motion ratio."""
        if not self.pairs:
            return z * self.ratio, self.ratio
        knots, pieces = self._curve[1]
        i = min(max(bisect_right(knots, z) - 1, 0), len(pieces) - 1)
        c3, c2, c1, c0 = pieces[i]
        h = z - knots[i]
        return c0 + h * (c1 + h * (c2 + h * c3)), c1 + h * (2.0 * c2 + h * 3.0 * c3)

    @property
    def _curve(self) -> tuple[Any, tuple[list[float], list[list[float]]]]:
        made = _CURVES.get(self.pairs)
        if made is None:
            points = ((0.0, 0.0), *self.pairs)
            pchip = PchipInterpolator([p[0] for p in points], [p[1] for p in points])
            made = _CURVES[self.pairs] = (pchip, (pchip.x.tolist(), pchip.c.T.tolist()))
        return made

    def force(self, z: float, added: float = 0.0, rate: float | None = None) -> float:
        """Force at the wheel."""
        s, slope = self._at(z)
        along = (self.rate if rate is None else rate) * max(0.0, self.preload + added + s) + self.gas
        return (along - self.top_out[0] * max(0.0, self.top_out[1] - s)) * slope

    def _forces(self, z: Array, added: Array, rate: Array | None) -> Array:
        """The same for many at once."""
        s, slope = (z * self.ratio, self.ratio) if not self.pairs else (self._curve[0](z), self._curve[0](z, 1))
        k = self.rate if rate is None else rate
        stiff, length = self.top_out
        along = k * np.maximum(0.0, self.preload + added + s) + self.gas - stiff * np.maximum(0.0, length - s)
        return np.asarray(along * slope)

    @property
    def hanging(self) -> float:
        """Wheel travel with the wheel hanging."""
        return self.rest(-self.unsprung * G)

    def rest(self, vertical: float, more: float = 0.0, rate: float | None = None) -> float:
        """Wheel travel under a vertical load; with more preload, or another rate."""
        return _balance(lambda z: self.force(z, more, rate) - vertical, self.travel)

    def sag(self, vertical: float, more: float = 0.0, rate: float | None = None) -> float:
        """Sag at the wheel, from the hanging wheel."""
        return self.rest(vertical, more, rate) - self.rest(-self.unsprung * G, more, rate)

    def sags(self, loads: tuple[float, float], added: Array, rate: Array | None = None) -> Array:
        """Both sags for many changes at once."""
        load = np.array([[-self.unsprung * G], [loads[0]], [loads[1]]])
        z = _balances(lambda at: self._forces(at, added, rate) - load, self.travel, (3, added.size))
        return np.asarray(z[1:] - z[0])


_CURVES: dict[tuple[tuple[float, float], ...], tuple[Any, tuple[list[float], list[list[float]]]]] = {}


def _balance(surplus: Any, travel: float) -> float:
    """Where a surplus of force vanishes that grows with travel; a stop where it does not."""
    if surplus(0.0) >= 0.0:
        return 0.0
    if surplus(travel) <= 0.0:
        return travel
    return float(brentq(surplus, 0.0, travel, xtol=1e-9))


def _balances(surplus: Any, travel: float, shape: tuple[int, int]) -> Array:
    """The same for many at once, by halving."""
    low, high = np.zeros(shape), np.full(shape, travel)
    for _ in range(22):  # to less than a ten-thousandth of a millimetre
        middle = (low + high) / 2.0
        over = surplus(middle) > 0.0
        high, low = np.where(over, middle, high), np.where(over, low, middle)
    return np.asarray((low + high) / 2.0)


# --- from a job ---------------------------------------------------------------------------------------------------


def reading_point(top_out: tuple[float, float], read_at: str, rate: float, squeezed: float) -> float:
    """Compression at which a set length is read that leaves the spring squeezed so far."""
    stiff, length = top_out
    if not stiff or read_at == "stop":
        return 0.0
    # A loose spring does not push: the top-out spring then just touches.
    return length if read_at == "touching" else max(0.0, length - rate * max(0.0, squeezed) / stiff)


def as_read(top_out: tuple[float, float], read_at: str, rate: float, preload: float) -> float:
    """Free length less set length that a preload at the stop is read as."""
    stiff, length = top_out
    if not stiff or read_at == "stop":
        return preload
    if read_at == "touching" or preload + length <= 0.0:
        return preload + length
    pushed = (preload + length) / (1.0 + rate / stiff)
    return pushed if length - rate * pushed / stiff > 0.0 else preload


def as_at_stop(top_out: tuple[float, float], read_at: str, rate: float, squeezed: float) -> float:
    """Preload at the stop of a spring that is read as squeezed so far."""
    return squeezed - reading_point(top_out, read_at, rate, squeezed)


def top_out_of(part: TopOut) -> tuple[float, float]:
    """Rate and length of a top-out spring."""
    if part.fitted != "yes":
        return (0.0, 0.0)
    return (part.rate_n_per_mm or 0.0, part.works_over_mm or 0.0)


def fork_of(job: Job) -> TrueFork:
    """The fork of a job in which everything that matters is filled in."""
    front = job.front
    travel = (front.travel_mm or 0.0) - (front.packers_mm or 0.0)
    legs = tuple(_leg(front, front.leg(side), travel) for side in SIDES)
    return TrueFork(
        legs=legs,
        travel=travel,
        cosine=math.cos(math.radians(job.geometry.rake_deg or 0.0)),
        unsprung=job.weights.front_unsprung_kg or 0.0,
        read_at=tuple(front.leg(side).read_at for side in SIDES),
    )


def _leg(front: Front, leg: Leg, travel: float) -> TrueLeg:
    air = None
    if leg.air_gap_mm is not None and front.stanchion_outer_mm and front.stanchion_inner_mm:
        area = math.pi / 4.0 * front.stanchion_outer_mm**2
        air = (area, math.pi / 4.0 * front.stanchion_inner_mm**2 * leg.air_gap_mm - (leg.solids_ml or 0.0) * 1000.0)
    spring = leg.spring
    if not leg.spring_fitted:
        return TrueLeg(0.0, 0.0, 0.0, 0.0, 0.0, (0.0, 0.0), air)
    top_out = top_out_of(front.top_out)
    rate, free, fitted = one_rate(spring.rate_n_per_mm), spring.free_length_mm or 0.0, spring.set_length_mm or 0.0
    at_stop = free - fitted - reading_point(top_out, leg.read_at, rate, free - fitted)
    reach, added = 0.0, 0.0
    if leg.adjuster.counting == "turns" and spring.set_length_in_mm is not None:
        squeezed = free - spring.set_length_in_mm
        reach = squeezed - reading_point(top_out, leg.read_at, rate, squeezed) - at_stop
        added = reach * (leg.adjuster.now or 0.0) / (leg.adjuster.total_turns or 1.0)
    return TrueLeg(rate, at_stop + added, added, reach, free - fitted, top_out, air)


def rear_of(job: Job) -> TrueRear:
    """The rear end of a job in which everything that matters is filled in."""
    rear: Rear = job.rear
    spring, collar = rear.spring, rear.collar
    pitch, now = collar.pitch_mm or 0.0, collar.now or 0.0
    read_at = spring.set_length_at or 0.0
    installed = (spring.free_length_mm or 0.0) - (spring.set_length_mm or 0.0) - pitch * read_at
    pairs = tuple((p.wheel_mm or 0.0, p.shock_mm or 0.0) for p in rear.linkage)
    made = TrueRear(
        rate=one_rate(spring.rate_n_per_mm),
        preload=installed + pitch * now,
        added=pitch * now,
        reach=None if collar.total_turns is None else pitch * collar.total_turns,
        installed=installed,
        gas=(rear.gas_pressure_bar or 0.0) * 0.1 * math.pi / 4.0 * (rear.shaft_mm or 0.0) ** 2,
        top_out=top_out_of(rear.top_out),
        travel=rear.wheel_travel_mm or 0.0,
        unsprung=job.weights.rear_unsprung_kg or 0.0,
        ratio=rear.motion_ratio or 0.0,
        pairs=pairs,
    )
    ends = [made.travel] + ([pairs[-1][0]] if pairs else [])
    if rear.stroke_mm is not None:
        stroke = rear.stroke_mm - (rear.packers_mm or 0.0)
        if made.shock(min(ends)) > stroke:
            ends.append(float(brentq(lambda z: made.shock(z) - stroke, 0.0, min(ends))))
    return replace(made, travel=min(ends))


def loads_of(job: Job) -> dict[str, tuple[float, float]]:
    """Vertical sprung load at each end, machine alone and rider aboard."""
    w = job.weights
    machine, rider = w.machine_kg or 0.0, job.job.rider_mass_kg or 0.0
    share, rider_share = (w.front_share_pct or 0.0) / 100.0, (w.rider_front_share_pct or 0.0) / 100.0
    front = machine * share if w.front_alone_kg is None else w.front_alone_kg
    rear = machine * (1.0 - share) if w.rear_alone_kg is None else w.rear_alone_kg
    front_aboard = front + rider * rider_share if w.front_aboard_kg is None else w.front_aboard_kg
    rear_aboard = rear + rider * (1.0 - rider_share) if w.rear_aboard_kg is None else w.rear_aboard_kg
    below_front, below_rear = w.front_unsprung_kg or 0.0, w.rear_unsprung_kg or 0.0
    return {
        "front": ((front - below_front) * G, (front_aboard - below_front) * G),
        "rear": ((rear - below_rear) * G, (rear_aboard - below_rear) * G),
    }
