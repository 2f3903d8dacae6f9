"""The errors that the readings of a job may have: one source for each reading, and one for each tape they share.

Numbers that were chosen or are only entered, such as braking to look at or a mass, count as exact.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, Literal

from stanchion.base.record import record
from stanchion.job.edit import value_at
from stanchion.job.model import ENDS, STATES, End, Job, Path, Readings
from stanchion.job.spec import Number, Part, Rows, middle_rate, specs_of
from stanchion.judgement.criteria.thresholds import (
    AIR_GAP_READING_MM,
    ANGLE_OFF_DEG,
    CALIPER_OFF_MM,
    COILS_COUNTED,
    PRESSURE_OFF,
    PRESSURE_READING_BAR,
    RATE_LABEL_OFF,
    SCALE_UNCERTAINTY_KG,
    SHARE_UNCERTAINTY,
    TAPE_DIVISION_MM,
    TEMPERATURE_OFF_C,
    USUAL_HEIGHT_MM,
)
from stanchion.judgement.ends.calibrated import calibrated_scales
from stanchion.judgement.ends.coil_data import tester_pairs
from stanchion.judgement.ends.instruments import (
    LENGTHS,
    POSITIONS,
    length_uncertainty,
    own_length,
    position_uncertainty,
    tape_scale_uncertainty,
)
from stanchion.judgement.sag.own_reading import own_reading
from stanchion.mechanics.propagation import ErrorSource
from stanchion.mechanics.sag import reading_scatter
from stanchion.mechanics.statistics import (
    NORMAL,
    Uncertainty,
    fit_line,
    limits_uncertainty,
    resolution_uncertainty,
)

Instrument = Literal[
    "tape",
    "tape_scale",
    "caliper",
    "scale",
    "calibration",
    "share",
    "gauge",
    "thermometer",
    "angle",
    "turns",
    "coils",
    "syringe",
    "label",
    "tester",
    "photo",
    "repeats",
    "mountings",
    "usual",
]
"""What a reading was taken with, or what else makes it uncertain."""


@record
class ErrorOf:
    """The name of a source of error."""

    by: Instrument
    at: Path
    """The reading; of a tape's scale, which all its readings share, the division of the tape."""


ReadingError = ErrorSource[Path, ErrorOf]

TAPE_AT: Path = ("sag", "tape_resolution_mm")

READ_BY: Mapping[tuple[str, str], Instrument] = {
    **{("Spring", name): "tape" for name in LENGTHS},
    ("Spring", "set_length_at"): "turns",
    ("Spring", "rate_n_per_mm"): "label",
    **{("SecondSpring", name): "tape" for name in ("free_length_mm", "solid_length_mm", "stop_mm", "gap_mm")},
    ("SecondSpring", "divider_mm"): "caliper",
    ("SecondSpring", "rate_n_per_mm"): "label",
    ("Coils", "wire_mm"): "caliper",
    ("Coils", "outer_mm"): "caliper",
    ("Coils", "total_coils"): "coils",
    ("Coils", "solid_length_mm"): "tape",
    **{("Adjuster", name): "turns" for name in POSITIONS},
    ("Leg", "air_gap_mm"): "syringe",
    **{("Front", name): "tape" for name in ("travel_mm", "fork_height_mm")},
    **{("Front", name): "caliper" for name in ("packers_mm", "stanchion_outer_mm", "stanchion_inner_mm")},
    ("Front", "damper_rod_mm"): "caliper",
    ("Front", "temperature_c"): "thermometer",
    **{("Rear", name): "tape" for name in ("stroke_mm", "eye_to_eye_mm", "wheel_travel_mm", "link_mm")},
    **{("Rear", name): "caliper" for name in ("length_adjuster_mm", "shaft_mm", "packers_mm", "bump_rubber_mm")},
    ("Rear", "gas_pressure_bar"): "gauge",
    **{("Rear", name): "thermometer" for name in ("gas_set_at_c", "temperature_c")},
    **{("AirLeg", name): "gauge" for name in ("pressure_bar", "balance_bar", "outer_bar")},
    **{("AirLeg", name): "thermometer" for name in ("set_at_c", "in_use_c")},
    **{("AirLeg", name): "caliper" for name in ("bore_mm", "rod_mm", "outer_bore_mm", "outer_tube_mm")},
    **{("AirLeg", name): "tape" for name in ("length_mm", "port_mm", "balance_length_mm", "outer_length_mm")},
    **{("Bleed", name): "tape" for name in ("at_mm",)},
    ("Bleed", "pressure_bar"): "gauge",
    ("Bleed", "temperature_c"): "thermometer",
    ("TopOut", "works_over_mm"): "tape",
    ("TopOut", "rate_n_per_mm"): "label",
    ("Stops", "touches_mm"): "tape",
    **{("LinkagePair", name): "tape" for name in ("wheel_mm", "shock_mm")},
    **{("PointRead", name): "tape" for name in ("forward_mm", "up_mm", "from_pivot_mm", "from_axle_mm")},
    **{("PointRead", name): "photo" for name in ("right_px", "down_px")},
    ("PointsRead", "axle_below_mm"): "tape",
    **{("Weights", f"{end}_{name}_kg"): "scale" for end in ENDS for name in ("alone", "aboard", "unsprung")},
    **{("Weights", name): "share" for name in ("front_share_pct", "rider_front_share_pct")},
    ("Geometry", "rake_deg"): "angle",
    **{("Geometry", name): "tape" for name in ("wheelbase_mm", "front_radius_mm", "rear_radius_mm")},
    **{("Geometry", name): "tape" for name in ("fork_height_mm", "front_sag_mm", "rear_sag_mm")},
    **{("Geometry", name): "caliper" for name in ("offset_mm", "length_adjuster_mm")},
    **{("Swingarm", name): "tape" for name in ("pivot_to_axle_mm", "pivot_up_mm", "sprocket_up_mm")},
    **{("Swingarm", name): "tape" for name in ("sprocket_ahead_mm", "front_sag_mm", "rear_sag_mm", "fork_height_mm")},
    ("Swingarm", "length_adjuster_mm"): "caliper",
    ("Swingarm", "arm_down_deg"): "angle",
    ("Lift", "raised_mm"): "tape",
    **{("Lift", name): "scale" for name in ("alone_kg", "aboard_kg")},
}
"""What each field of a part is read with."""
SAME_READING: Mapping[Path, tuple[Path, ...]] = {
    ("front", "fork_height_mm"): (("geometry", "fork_height_mm"), ("swingarm", "fork_height_mm")),
    ("rear", "length_adjuster_mm"): (("geometry", "length_adjuster_mm"), ("swingarm", "length_adjuster_mm")),
}
"""Fields that were read once and written twice, as long as they hold the same."""
_READ = ("front", "rear", "weights", "geometry", "swingarm", "balance")
"""Parts of a job whose readings count: not the runs, and not what was found or is returned to."""
_HEIGHT: Path = ("balance", "height_aboard_mm")


def reading_errors(job: Job) -> tuple[ReadingError, ...]:
    """Every source of error in the readings of a job, in the order of the job.

    Args:
        job: the job.
    """
    found = [*_of_sag(job), *_of_fields(job), *_of_tester(job), *_of_scales(job), *_of_usual_height(job)]
    return (*found, *_of_tape(job, found))


def tape_mm(job: Job) -> float:
    """Smallest division of the tape [mm]."""
    return job.sag.tape_resolution_mm or TAPE_DIVISION_MM


def standard_of(job: Job, path: Path, by: Instrument) -> float:
    """Standard uncertainty of one reading by its instrument, in its unit; 0 where it is exact.

    Args:
        job: the job.
        path: the reading.
        by: what it was taken with.
    """
    value = value_at(job, path)
    size = abs(middle_rate(value))
    if by == "turns":
        return _of_position(job, path, size)
    if by == "photo":
        return resolution_uncertainty(max(1.0, tape_mm(job) / _mm_per_pixel(job)))
    fixed: dict[Instrument, float] = {
        "tape": resolution_uncertainty(tape_mm(job)),
        "caliper": limits_uncertainty(CALIPER_OFF_MM),
        "scale": SCALE_UNCERTAINTY_KG,
        "share": 100.0 * SHARE_UNCERTAINTY,
        "gauge": limits_uncertainty(max(PRESSURE_READING_BAR, PRESSURE_OFF * size)),
        "thermometer": limits_uncertainty(TEMPERATURE_OFF_C),
        "angle": limits_uncertainty(ANGLE_OFF_DEG),
        "coils": resolution_uncertainty(COILS_COUNTED),
        "syringe": limits_uncertainty(AIR_GAP_READING_MM),
        "label": limits_uncertainty(RATE_LABEL_OFF * size),
    }
    return fixed[by]


# --- fields that hold one reading -------------------------------------------------------------------------------------


def _of_fields(job: Job) -> Iterator[ReadingError]:
    copies = {copy: path for path, also in SAME_READING.items() for copy in also}
    for path, by in _read_fields(job):
        original = copies.get(path)
        if original is not None and value_at(job, original) == value_at(job, path):
            continue
        standard, freedom = standard_of(job, path, by), math.inf
        if path[-1] in LENGTHS:
            one = length_uncertainty(tape_mm(job), own_length(job.repeatability))
            standard, freedom = one.standard, one.freedom
        if standard > 0.0:
            also = [copy for copy in SAME_READING.get(path, ()) if value_at(job, copy) == value_at(job, path)]
            yield ErrorSource(ErrorOf(by, path), tuple((at, standard) for at in (path, *also)), freedom)


def _read_fields(job: Job) -> Iterator[tuple[Path, Instrument]]:
    for name in _READ:
        yield from _below(getattr(job, name), (name,))


def _below(node: Any, at: Path) -> Iterator[tuple[Path, Instrument]]:
    """The readings below a part of a job that count, each with what it is read with."""
    if getattr(node, "fitted", True) is False:  # air, or a second spring, of another time
        return
    kind: type = type(node)
    for name, spec in specs_of(kind).items():
        value = getattr(node, name)
        if value is None or (name == "points" and value.used != "points"):
            continue
        if isinstance(spec, Part):
            yield from _below(value, (*at, name))
        elif isinstance(spec, Rows):
            for row, one in enumerate(value):
                yield from _below(one, (*at, name, row))
        elif isinstance(spec, Number):
            by = READ_BY.get((kind.__name__, name))
            if by is not None:
                yield (*at, name), by


def _of_position(job: Job, path: Path, size: float) -> float:
    """Standard uncertainty of a position of a preload adjuster: none at its ends, nor where clicks are counted."""
    at = path[:-2] if path[-2] == "spring" else path[:-1]
    if path[-2] == "spring":
        at = (*at, "collar" if path[0] == "rear" else "adjuster")
    return position_uncertainty(value_at(job, at), size, counted=path[-1] in ("now", "set_length_at"))


def _mm_per_pixel(job: Job) -> float:
    """Millimetres that one pixel of the photograph of the linkage stands for; 1 where that is not known."""
    pivot, axle, arm_mm = job.rear.points.pivot, job.rear.points.axle, job.swingarm.pivot_to_axle_mm
    across = math.hypot(
        (axle.right_px or 0.0) - (pivot.right_px or 0.0), (axle.down_px or 0.0) - (pivot.down_px or 0.0)
    )
    return arm_mm / across if arm_mm and across else 1.0


def _of_usual_height(job: Job) -> Iterator[ReadingError]:
    """The height of the centre of mass with the rider, where the usual one is taken."""
    balance = job.balance
    if balance.height_aboard_mm is None and not any(lift.aboard_kg is not None for lift in balance.lifts):
        low, high = USUAL_HEIGHT_MM
        yield ErrorSource(ErrorOf("usual", _HEIGHT), ((_HEIGHT, (high - low) / 2.0 / NORMAL),))


USUAL_WHERE_EMPTY: Mapping[Path, float] = {_HEIGHT: sum(USUAL_HEIGHT_MM) / 2.0}
"""What is taken where nothing is recorded, and an error is counted from."""


# --- readings that are repeated ---------------------------------------------------------------------------------------


def _of_sag(job: Job) -> Iterator[ReadingError]:
    """Those of the sag readings: of repeats, of mountings, and of the tape's division, as mechanics/sag has them."""
    for end in ENDS:
        recorded, at = job.sag.end(end), ("sag", end)
        if recorded.gauge == "length" and recorded.hanging_mm:
            own = own_reading(job.repeatability, "alone")
            yield from _repeated((*at, "hanging_mm"), recorded.hanging_mm, tape_mm(job), own)
        for state in STATES:
            yield from _of_state(job, end, state, recorded.static if state == "static" else recorded.rider)


def _of_state(job: Job, end: End, state: str, readings: Readings) -> Iterator[ReadingError]:
    at: Path = ("sag", end, state)
    (down_at, downs), (up_at, ups) = ((*at, "down_mm"), readings.down_mm), ((*at, "up_mm"), readings.up_mm)
    own = own_reading(job.repeatability, "alone" if state == "static" else "aboard")
    if not downs or not ups:
        yield from _repeated(down_at, downs, tape_mm(job), own)
        return
    down, up = reading_scatter(downs, tape_mm(job), own), reading_scatter(ups, tape_mm(job), own)
    if state == "static" or len(downs) == len(ups) == 1:
        yield _scatter(down_at, downs, down)
        yield _scatter(up_at, ups, up)
    elif len(downs) == len(ups):  # each pair belongs to one mounting
        pairs = list(zip(downs, ups, strict=True))
        middle = reading_scatter([(low + high) / 2.0 for low, high in pairs], tape_mm(job), own)
        of_two = None if own is None else own.times(math.sqrt(2.0))
        apart = reading_scatter([high - low for low, high in pairs], tape_mm(job), of_two)
        yield _both(down_at, up_at, readings, (middle.standard, middle.standard), middle.freedom)
        yield _both(up_at, down_at, readings, (-apart.standard / 2.0, apart.standard / 2.0), apart.freedom)
    else:
        freedom, most = min(down.freedom, up.freedom), (down.standard + up.standard) / 2.0
        yield _both(down_at, up_at, readings, (down.standard, up.standard), freedom)
        yield _both(up_at, down_at, readings, (-most, most), freedom)
    division = [
        0.0 if len(taken) == 1 and own is None else resolution_uncertainty(tape_mm(job)) for taken in (downs, ups)
    ]
    yield _both(down_at, up_at, readings, (division[0], division[1]), math.inf, by="tape")


def _repeated(
    at: Path, taken: Sequence[float], division_mm: float, own_mm: Uncertainty | None
) -> Iterator[ReadingError]:
    """The errors of a reading alone: its scatter, and the tape where it was repeated, or is apart from the scatter."""
    if taken:
        yield _scatter(at, taken, reading_scatter(taken, division_mm, own_mm))
    if len(taken) > 1 or (taken and own_mm is not None):
        yield ErrorSource(ErrorOf("tape", at), _each(at, taken, resolution_uncertainty(division_mm)))


def _scatter(at: Path, taken: Sequence[float], scatter: Uncertainty) -> ReadingError:
    return ErrorSource(ErrorOf("repeats", at), _each(at, taken, scatter.standard), scatter.freedom)


def _both(
    named: Path,
    other: Path,
    readings: Readings,
    by_mm: tuple[float, float],
    freedom: float,
    *,
    by: Instrument = "mountings",
) -> ReadingError:
    """A source that moves the pushed-down and the lifted readings by so much each."""
    down_at = named if named[-1] == "down_mm" else other
    up_at = other if named[-1] == "down_mm" else named
    moves = (*_each(down_at, readings.down_mm, by_mm[0]), *_each(up_at, readings.up_mm, by_mm[1]))
    return ErrorSource(ErrorOf(by, named), moves, freedom)


def _each(at: Path, taken: Sequence[float], by: float) -> tuple[tuple[Path, float], ...]:
    return tuple(((*at, n), by) for n in range(len(taken)))


def _of_tester(job: Job) -> Iterator[ReadingError]:
    """Those of spring testers: the forces of a spring are wrong by one share, as uncertain as the line through them."""
    springs: list[Path] = [("front", "left", "spring"), ("rear", "spring")]
    if job.front.split:
        springs.append(("front", "right", "spring"))
    for at in springs:
        spring = value_at(job, at)
        pairs = tester_pairs(spring.coils)
        if len(pairs) < 3 or len({length for length, _ in pairs}) < 2:
            continue
        line = fit_line([-length for length, _ in pairs], [force for _, force in pairs])
        if line.slope <= 0.0 or line.slope_uncertainty <= 0.0:
            continue
        rows = (*at, "coils", "tester")
        share = line.slope_uncertainty / line.slope
        moves = tuple(
            ((*rows, n, "force_n"), share * pair.force_n)
            for n, pair in enumerate(spring.coils.tester)
            if pair.force_n is not None and pair.length_mm is not None
        )
        yield ErrorSource(ErrorOf("tester", rows), moves, len(pairs) - 2.0)


def _of_scales(job: Job) -> Iterator[ReadingError]:
    """Those of the lines that readings of calibrated scales are corrected by, which all readings of a scale share: the
    line as a whole too high or too low, and too steep or too flat."""
    for one in calibrated_scales(job):
        line = one.line
        if line is None or not one.believed or line.deviation == 0.0:
            continue
        moved = tuple((path, line.offset_uncertainty) for path, _ in one.readings)
        yield ErrorSource(ErrorOf("calibration", one.at), moved, line.freedom)
        turned = tuple((path, line.slope_uncertainty * (kg - line.about)) for path, kg in one.readings)
        yield ErrorSource(ErrorOf("calibration", (*one.at, "masses")), turned, line.freedom)


# --- what readings share ----------------------------------------------------------------------------------------------


def _of_tape(job: Job, found: Iterable[ReadingError]) -> Iterator[ReadingError]:
    """The scale of the tape, which is wrong by one share of every length read with it."""
    read: dict[Path, float] = {}
    for source in found:
        if source.name.by in ("tape", "repeats", "mountings"):
            read |= {path: tape_scale_uncertainty(value_at(job, path)) for path, _ in source.moves}
    if read:
        yield ErrorSource(ErrorOf("tape_scale", TAPE_AT), tuple(read.items()))
