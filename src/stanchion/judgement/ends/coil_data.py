"""Figures of a spring from its wire, its coils and a spring tester that do not depend on where it is fitted."""

from __future__ import annotations

import math
from functools import lru_cache

from stanchion.base.record import record
from stanchion.job.model import Coils, Path
from stanchion.judgement.criteria.thresholds import SLACK, TESTER_BENDS, TESTER_PAIR_OFF, TESTER_PAIR_SCATTERS
from stanchion.judgement.results.assessment import Band
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.mechanics.spring import (
    ORDINARY_MPA,
    ORDINARY_SOURCE,
    SPRING_STEEL_MPA,
    SPRING_STEEL_SOURCE,
    WIRES,
    Ends,
    active_coils,
    longest_solid_length,
    mean_coil_diameter,
    minimum_gaps,
    shear_modulus,
    solid_length,
    spring_index,
    spring_rate,
)
from stanchion.mechanics.spring_stress import (
    bergstraesser_factor,
    buckling_compression,
    direct_shear_factor,
    tensile_strength,
    torsion_stress,
)
from stanchion.mechanics.spring_tester import LEAST_TO_QUESTION, LEAST_TO_TELL, Bend, bend_of, off_the_others
from stanchion.mechanics.statistics import fit_line

_WIRES = {wire.key: wire for wire in WIRES}
_UNSURE = {"unknown": (SPRING_STEEL_MPA, SPRING_STEEL_SOURCE), "ordinary": (ORDINARY_MPA, ORDINARY_SOURCE)}
"""Bounds of the modulus where the kind of wire is not settled, and their source."""


@record(kw_only=True)
class CoilData:
    """What wire, coils and tester give."""

    shear_modulus_mpa: Figure
    shear_modulus_source: str
    active_coils: Figure
    rate_n_per_mm: Figure
    rate_range: Band | None
    measured_n_per_mm: Figure
    measured_uncertainty: Figure
    bend: Bend | None
    """How far the tester's readings bend; None where they lie on a line, within what can be told."""
    questioned: tuple[tuple[int, float], ...]
    """The rows of the readings that the others speak against, and how far each is off them [N]."""
    off_line: tuple[tuple[int, float], ...]
    """How far each complete reading is off the line through all of them [N], by its row; empty without such a line."""
    solid_length_mm: Figure
    solid_length_from: str
    required_clearance_mm: Figure
    mean_coil_mm: Figure
    stress_mpa_per_mm: Figure
    """Stress in the wire for each mm of compression, with Bergsträsser's factor."""
    share_per_mm: Figure
    """The same with the factor of direct shear, as a share of the strength of the wire."""

    def buckles_at(self, free_mm: Figure) -> Figure:
        """Compression at which the spring buckles where nothing guides it; absent where it never does."""
        found = derive(buckling_compression, free_mm, self.mean_coil_mm, self.shear_modulus_mpa)
        return absent("never_buckles") if found.value == math.inf else found


@lru_cache(maxsize=64)  # most keystrokes leave the coils unchanged
def coil_data(coils: Coils, at: Path) -> CoilData:
    """The figures of one spring.

    Args:
        coils: wire, coils and tester readings.
        at: path of the coils.
    """
    ends = Ends(coils.ends)
    wire = recorded(coils.wire_mm, (*at, "wire_mm"))
    total = recorded(coils.total_coils, (*at, "total_coils"))
    mean = derive(mean_coil_diameter, recorded(coils.outer_mm, (*at, "outer_mm")), wire)
    active = derive(lambda count: active_coils(count, ends), total)
    modulus, source, bounds = _modulus(coils, wire)
    rate = derive(spring_rate, modulus, wire, mean, active)
    spread = None
    if rate.value is not None and modulus.value is not None:
        spread = (rate.value * bounds[0] / modulus.value, rate.value * bounds[1] / modulus.value)
    solid, solid_from = _solid(coils, ends, wire, total)
    measured, uncertainty, bend = _measured(coils, at)
    torsion = derive(lambda g, d, coil, n: torsion_stress(g, d, coil, n, 1.0), modulus, wire, mean, active)
    index = derive(spring_index, mean, wire)
    return CoilData(
        shear_modulus_mpa=modulus,
        shear_modulus_source=source,
        active_coils=active,
        rate_n_per_mm=rate,
        rate_range=spread,
        measured_n_per_mm=measured,
        measured_uncertainty=uncertainty,
        bend=bend,
        questioned=_questioned(coils),
        off_line=_off_line(coils) if measured.known else (),
        solid_length_mm=solid,
        solid_length_from=solid_from if solid.known else "",
        required_clearance_mm=derive(minimum_gaps, wire, mean, active),
        mean_coil_mm=mean,
        stress_mpa_per_mm=derive(lambda mpa, c: mpa * bergstraesser_factor(c), torsion, index),
        share_per_mm=derive(
            lambda mpa, c, mm: mpa * direct_shear_factor(c) / tensile_strength(coils.wire, mm), torsion, index, wire
        ),
    )


def _modulus(coils: Coils, wire_mm: Figure) -> tuple[Figure, str, tuple[float, float]]:
    """Shear modulus, its source, and the bounds it lies in.

    Where the kind of wire is not settled, the middle of its range is taken, as an estimate with bounds: a rate of
    "8.9 to 9.4" is enough to tell an unmarked spring from the next one.
    """
    kind = _WIRES.get(coils.wire)
    if kind is None:
        bounds, source = _UNSURE[coils.wire]
        return Figure(sum(bounds) / 2.0, estimate=True), source, bounds
    modulus = derive(lambda mm: shear_modulus(kind, mm), wire_mm)
    return modulus, kind.source, (modulus.value or 0.0, modulus.value or 0.0)


def _solid(coils: Coils, ends: Ends, wire: Figure, total: Figure) -> tuple[Figure, str]:
    """Solid length and its source: measured, or the longest that coils and wire allow."""
    if coils.solid_length_mm is not None:
        return Figure(coils.solid_length_mm), "measured"
    longest = derive(lambda count, mm: longest_solid_length(count, mm, ends), total, wire)
    nominal = derive(lambda count, mm: solid_length(count, mm, ends), total, wire)
    return longest, "nominal" if nominal.value == longest.value else "standard_limit"


def tester_pairs(coils: Coils) -> list[tuple[float, float]]:
    """The complete readings of the spring tester: length and force."""
    return [(p.length_mm, p.force_n) for p in coils.tester if p.length_mm is not None and p.force_n is not None]


def _measured(coils: Coils, at: Path) -> tuple[Figure, Figure, Bend | None]:
    """Rate by a spring tester, its standard uncertainty, and how the readings bend where no one rate fits them."""
    pairs = tester_pairs(coils)
    if len(pairs) < 2:
        waits = Figure(needs=((*at, "tester"),))
        return waits, waits, None
    pressed = [-length for length, _ in pairs]  # a shorter spring gives more force
    forces = [force for _, force in pairs]
    if max(pressed) - min(pressed) <= SLACK:
        return absent("tester_one_length"), absent("tester_one_length"), None
    if len(pairs) == 2:
        slope, uncertainty = (forces[1] - forces[0]) / (pressed[1] - pressed[0]), absent("tester_two_readings")
    else:
        line = fit_line(pressed, forces)
        slope, uncertainty = line.slope, Figure(line.slope_uncertainty)
    if slope <= 0.0:
        return absent("tester_falls"), absent("tester_falls"), None
    bend = bend_of(pressed, forces) if len(pairs) >= LEAST_TO_TELL else None
    if bend is not None and _bends(bend):
        return absent("tester_bends"), absent("tester_bends"), bend
    return Figure(slope), uncertainty, None


_TesterRow = tuple[int, float, float]
"""A complete reading: its row, length and force."""


def _tester_rows(coils: Coils) -> list[_TesterRow]:
    return [
        (row, pair.length_mm, pair.force_n)
        for row, pair in enumerate(coils.tester)
        if pair.length_mm is not None and pair.force_n is not None
    ]


def _off_line(coils: Coils) -> tuple[tuple[int, float], ...]:
    """How far each reading is off the line through all of them; nothing where two of them are all there are."""
    rows = _tester_rows(coils)
    if len(rows) <= len(("first", "last")):
        return ()
    line = fit_line([-length for _, length, _ in rows], [force for *_, force in rows])
    return tuple((row, force - line.intercept + line.slope * length) for row, length, force in rows)


def _questioned(coils: Coils) -> tuple[tuple[int, float], ...]:
    """The readings that are further from the others than a tester is wrong, and how far: the worst first, each without
    those before it."""
    rows, found = _tester_rows(coils), []
    while (off := _furthest_off(rows)) is not None:
        found.append(off)
        rows = [row for row in rows if row[0] != off[0]]
    return tuple(found)


def _furthest_off(rows: list[_TesterRow]) -> tuple[int, float] | None:
    if len({length for _, length, _ in rows}) < LEAST_TO_QUESTION:
        return None
    found = off_the_others([-length for _, length, _ in rows], [force for *_, force in rows])
    off_n, most_n = abs(found.off_n), TESTER_PAIR_OFF * max(force for *_, force in rows)
    return (rows[found.at][0], off_n) if off_n > most_n and off_n > TESTER_PAIR_SCATTERS * found.scatter_n else None


def _bends(bend: Bend) -> bool:
    """Whether the slope changes by more than the share that counts, and by more than twice its uncertainty."""
    change = abs(bend.last_n_per_mm - bend.first_n_per_mm)
    return change > TESTER_BENDS * abs(bend.first_n_per_mm) + SLACK and change > 2.0 * bend.uncertainty_n_per_mm
