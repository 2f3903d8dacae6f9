"""The figures of a trial, now and after the change."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.model import ENDS, SIDES, STATES, Drive, End, Path, Side, State, Swingarm
from stanchion.job.spec import Kind
from stanchion.judgement.criteria.thresholds import DAMPING_SHOWN_PCT
from stanchion.judgement.ends.points_law import link_rise
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.predict.damping import damping_figures, damping_wanted
from stanchion.judgement.predict.gas import gas_figures
from stanchion.judgement.predict.geometry import change_of, geometry_figures, shifted, state_for_geometry
from stanchion.judgement.results.figures import Figure, derive, recorded
from stanchion.mechanics.equilibrium import Limit
from stanchion.mechanics.geometry import front_rise, rear_rise
from stanchion.mechanics.shock import length_adjuster_rise
from stanchion.planning.axle_in_trial import axle_lower_mm, axle_rows, with_axle_back
from stanchion.planning.both_jobs import ZERO, BothJobs

_TOPPED_OUT = Limit.TOPPED_OUT.value
_FORK_HEIGHT: Path = ("front", "fork_height_mm")
_LENGTH: Path = ("rear", "length_adjuster_mm")
_RAKE: Path = ("geometry", "rake_deg")
_SPRING_ROWS: tuple[tuple[str, Kind], ...] = (
    ("installed_preload_mm", Kind.LENGTH),
    ("preload_now_mm", Kind.LENGTH),
    ("headroom_out_mm", Kind.LENGTH),
    ("headroom_out_turns", Kind.TURNS),
    ("headroom_in_mm", Kind.LENGTH),
    ("headroom_in_turns", Kind.TURNS),
)
_GEOMETRY_ROWS: tuple[tuple[str, Kind], ...] = (
    ("rake_deg", Kind.ANGLE),
    ("trail_mm", Kind.LENGTH),
    ("normal_trail_mm", Kind.LENGTH),
    ("wheelbase_mm", Kind.LENGTH),
)


@record(kw_only=True)
class WhatifRow:
    """One figure now and after the change."""

    where: Path
    """The part of the machine: ("front",), ("front", "left"), ("rear",), ("geometry",) or ("swingarm",)."""
    code: str
    """Which figure; whatif_sentences.py has its name."""
    kind: Kind
    present: Figure
    changed: Figure
    both_legs: bool = False
    """Whether one leg is entered for both."""
    topped_out: tuple[bool, bool] = (False, False)
    """For a sag: whether the end is topped out now and after the change, so that its millimetres mean nothing."""

    @property
    def change(self) -> float | None:
        """By how much it changes; None where either is not known."""
        if self.present.value is None or self.changed.value is None:
            return None
        return self.changed.value - self.present.value


def whatif_rows(compared: BothJobs, state: State) -> Iterator[WhatifRow]:
    """All figures of a trial, end by end."""
    heights = _heights(compared, state)
    of_job, of_changed = compared.braking
    back_mm = compared.axle.goes_mm
    now = brakes_figures(compared.job, compared.present, with_ends=False, braking=of_job).slow
    then = brakes_figures(
        compared.changed, compared.after, with_ends=False, braking=of_changed, axle_back_mm=back_mm
    ).slow
    damping = _damping_wanted(compared)
    for end in ENDS:
        where: Path = (end,)
        for one in STATES:
            foreseen = compared.present.predicted.end(end).state(one)
            then_mm, then_limit = compared.predicted_then(end, one)
            topped_out = (foreseen.limit == _TOPPED_OUT, then_limit == _TOPPED_OUT)
            yield _row(where, f"{one}_predicted", foreseen.sag_mm, then_mm, topped_out)
        for one in STATES:
            measured, expected = compared.measured(end, one), compared.expected(end, one)
            topped_out = compared.topped_out(end, one) if measured.known else (False, False)
            yield _row(where, f"{one}_captured", measured, expected, topped_out)
        yield _row(where, "rise", ZERO, heights[end])
        if end == "front":
            yield _row(where, "brakes_fork_mm", now.fork_used_mm, then.fork_used_mm)
        else:
            load = (now.rear_kg, then.rear_kg)
            yield WhatifRow(where=where, code="brakes_rear_kg", kind=Kind.MASS, present=load[0], changed=load[1])
        yield from damping[end]
        yield from _spring_rows(compared, end)
    yield from _geometry_rows(compared, state)
    yield _row(("geometry",), "brakes_trail_mm", now.trail_mm, then.trail_mm)
    yield from _gas_rows(compared)


def _gas_rows(compared: BothJobs) -> Iterator[WhatifRow]:
    """Rows on the gas, where swingarm or chain is recorded now or after the change."""
    both = ((compared.job, compared.present), (compared.changed, compared.after))
    if all((job.swingarm, job.drive) == (Swingarm(), Drive()) for job, _ in both):
        return
    for code, before, after in axle_rows(compared.axle):
        yield _row(("swingarm",), code, before, after)
    now = gas_figures(compared.job, compared.present, whole=False)
    then = gas_figures(compared.changed, compared.after, whole=False, axle_back_mm=compared.axle.goes_mm)
    for code, kind, one, other in (
        ("gas_anti_squat_pct", Kind.SHARE, now.stands.anti_squat_pct, then.stands.anti_squat_pct),
        ("gas_rear_mm", Kind.LENGTH, _up(now.rear_squats_mm), _up(then.rear_squats_mm)),
        ("gas_front_kg", Kind.MASS, now.front_kg, then.front_kg),
    ):
        yield WhatifRow(where=("swingarm",), code=code, kind=kind, present=one, changed=other)


def _up(squats_mm: Figure) -> Figure:
    """How much higher the rear stands on the gas than at rider sag."""
    return derive(lambda down: 0.0 - down, squats_mm)


def _row(
    where: Path, code: str, present: Figure, changed: Figure, topped_out: tuple[bool, bool] = (False, False)
) -> WhatifRow:
    return WhatifRow(where=where, code=code, kind=Kind.LENGTH, present=present, changed=changed, topped_out=topped_out)


def _damping_wanted(compared: BothJobs) -> dict[End, tuple[WhatifRow, ...]]:
    """For each end the damping it wants after the change, as a share of that now; no row where that stays."""
    now, then = (
        damping_figures(*of)
        for of in (
            (compared.job, compared.present, compared.springs),
            (compared.changed, compared.after, compared.springs_after),
        )
    )
    found: dict[End, tuple[WhatifRow, ...]] = {}
    for end, factor in damping_wanted(then, now).items():
        share = derive(lambda wanted: 100.0 * wanted, factor)
        row = WhatifRow(where=(end,), code="damping_pct", kind=Kind.SHARE, present=Figure(100.0), changed=share)
        found[end] = (row,) if row.change is not None and abs(row.change) >= DAMPING_SHOWN_PCT else ()
    return found


def _spring_rows(compared: BothJobs, end: End) -> Iterator[WhatifRow]:
    both_legs = not (compared.job.front.split or compared.changed.front.split)
    if end == "rear":
        figures = (compared.present.rear.spring, compared.after.rear.spring)
        coils = (compared.present.springs.rear, compared.after.springs.rear)
        yield from _of_spring(("rear",), figures, coils)
        yield from _change_over_row(compared, ("rear",), "rear")
        return
    for side in SIDES[:1] if both_legs else SIDES:
        legs = (compared.present.front.leg(side), compared.after.front.leg(side))
        springs = (getattr(compared.present.springs, side), getattr(compared.after.springs, side))
        yield from _of_spring(("front", side), legs, springs, both_legs=both_legs)
        yield from _change_over_row(compared, ("front", side), side, both_legs=both_legs)


def _of_spring(
    where: Path, figures: tuple[object, object], coils: tuple[object, object], *, both_legs: bool = False
) -> Iterator[WhatifRow]:
    sources = [(name, kind, figures) for name, kind in _SPRING_ROWS]
    sources.append(("coil_bind_clearance_mm", Kind.LENGTH, coils))
    for name, kind, (now, then) in sources:
        clicks = kind is Kind.TURNS and getattr(then, "turned_in", "") == "clicks"
        yield WhatifRow(
            where=where,
            code=name.replace("turns", "clicks") if clicks else name,
            kind=Kind.COUNT if clicks else kind,
            present=getattr(now, name),
            changed=getattr(then, name),
            both_legs=both_legs,
        )


def _change_over_row(
    compared: BothJobs, where: Path, place: Side | End, *, both_legs: bool = False
) -> Iterator[WhatifRow]:
    """Travel at which two springs in one change over, where there are two now or after the change."""
    found = [
        next((one.at_mm for one in a.change_overs if one.place == place), None)
        for a in (compared.present, compared.after)
    ]
    if found != [None, None]:
        now, then = (Figure() if one is None else one for one in found)
        yield replace(_row(where, "change_over_mm", now, then), both_legs=both_legs)


def _heights(compared: BothJobs, state: State) -> dict[End, Figure]:
    """How far each end of the machine rises, vertically."""
    job, changed = compared.job, compared.changed
    height = change_of(changed.front.fork_height_mm, _FORK_HEIGHT, job.front.fork_height_mm, _FORK_HEIGHT)
    rake = recorded(job.geometry.rake_deg, _RAKE)
    return {
        "front": derive(front_rise, compared.moved("front", state), height, rake),
        "rear": derive(rear_rise, compared.moved("rear", state), _length_rise(compared)),
    }


def _length_rise(compared: BothJobs) -> Figure:
    """Rise at the wheel from a change of the length of shock or link, or from the axle moved along the swingarm."""
    length = change_of(compared.changed.rear.length_adjuster_mm, _LENGTH, compared.job.rear.length_adjuster_mm, _LENGTH)
    ratio = compared.present.rear.motion_ratio
    by_length = ZERO if length.value == 0.0 else derive(length_adjuster_rise, length, ratio)
    by_link = link_rise(compared.changed.rear, compared.job.rear.link_mm, compared.job.swingarm.pivot_to_axle_mm)
    by_axle = Figure(axle_lower_mm(compared.job, ratio, compared.axle.goes_mm))
    return derive(lambda shock, link, axle: shock + link + axle, by_length, by_link, by_axle)


def _geometry_rows(compared: BothJobs, state: State) -> Iterator[WhatifRow]:
    """Rows of geometry, in the state of the job's own, with each end moved as the change moves it."""
    now = compared.present.geometry
    geometry_state = state_for_geometry(compared.present.sag, compared.present.predicted.sag)
    if geometry_state.state != "extended":
        geometry_state = shifted(geometry_state, compared.moved("front", state), compared.moved("rear", state))
    ratio = compared.after.rear.motion_ratio
    moved = with_axle_back(compared.changed, ratio, compared.axle.goes_mm)
    then = geometry_figures(moved, geometry_state, ratio)
    for name, kind in _GEOMETRY_ROWS:
        yield WhatifRow(
            where=("geometry",), code=name, kind=kind, present=getattr(now, name), changed=getattr(then, name)
        )
