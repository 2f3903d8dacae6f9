"""Comparing a job with the same job changed: the effect on sag, height, adjusters and geometry."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from stanchion.base.record import record
from stanchion.job.diff import SPLIT, Difference, differences
from stanchion.job.measured import is_note, noted
from stanchion.job.model import ENDS, SIDES, STATES, End, Job, Path, Side, State
from stanchion.job.spec import Kind
from stanchion.judgement.assess import assess
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.criteria.thresholds import TOPPED_OUT_MM
from stanchion.judgement.ends.other_rider import converted_from
from stanchion.judgement.predict.brakes import brakes_figures
from stanchion.judgement.predict.geometry import change_of, geometry_figures, shifted, state_for_geometry
from stanchion.judgement.predict.loaded_machine import LoadedMachine, loaded_machine, travel_under
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.figures import Figure, absent, derive, recorded
from stanchion.judgement.results.findings import Finding
from stanchion.judgement.sag.sag_advice import NO_ADVICE
from stanchion.mechanics.equilibrium import Limit
from stanchion.mechanics.geometry import front_rise, rear_rise
from stanchion.mechanics.shock import length_adjuster_rise
from stanchion.planning.preload_effect import PreloadEffect, preload_effects

_ZERO = Figure(0.0)
_TOPPED_OUT = Limit.TOPPED_OUT.value
_FORK_HEIGHT: Path = ("front", "fork_height_mm")
_LENGTH: Path = ("rear", "length_adjuster_mm")
_RAKE: Path = ("geometry", "rake_deg")
_RIDER: Path = ("job", "rider_mass_kg")
_NOT_SPRING_OR_AIR = {
    *("fork_height_mm", "oil", "oil_volume_ml", "compression", "rebound", "stack", "dampers_split"),
    *("preload_difference_meant", "low_speed_compression", "high_speed_compression"),
    *("length_adjuster_mm", "eye_to_eye_mm", "base"),
}
"""Fields of fork and shock that affect neither springs nor air."""
_NOT_RELIABLE = NO_ADVICE - {"inputs_doubted", "check_before_spring"}
"""Advice that says that the readings cannot be relied on."""
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
    """The part of the machine: ("front",), ("front", "left"), ("rear",) or ("geometry",)."""
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


@record(kw_only=True)
class WhatIf:
    """A job and the same job changed, side by side."""

    differences: tuple[Difference, ...]
    """The changes."""
    rows: tuple[WhatifRow, ...]
    state: str
    """The state for which the change of height and the geometry are given: "rider", "static" or "extended"."""
    preload: tuple[PreloadEffect, ...]
    """Effects of a change of preload, by end and state; only where nothing else was changed at the springs of that
    end."""
    present: Assessment
    changed: Assessment
    appeared: tuple[Finding, ...]
    """Findings that the change brings, worst first."""
    gone: tuple[Finding, ...]
    """Findings that the change removes."""
    rider_by_scales_kg: float | None = None
    """Mass taken for the rider who was on the scales, where the change is to another rider."""

    @property
    def worst(self) -> tuple[Finding | None, Finding | None]:
        """The worst finding now and after the change."""
        return next(iter(self.present.findings), None), next(iter(self.changed.findings), None)

    def row(self, where: Path, code: str) -> WhatifRow:
        """One row."""
        return next(row for row in self.rows if (row.where, row.code) == (where, code))


def compare(job: Job, changed: Job, profiles: Profiles, previous: Job | None = None) -> WhatIf:
    """Compare a job with the same job changed. Pure, and fast enough to run at every keystroke.

    The sag to expect is what the job says once the change is part of it: the measured one where that stands, else what
    the changed springs give under the loads as the old sags correct them. Heights are worked out from where the springs
    come to rest, not from sag: on a top-out spring the machine rises while its sag stays the same.

    Args:
        job: the job.
        changed: the same job with something changed.
        profiles: bands and targets.
        previous: the job it was carried from.
    """
    found = tuple(one for one in differences(job, changed) if not is_note(one.path))
    changed = _as_tried(job, changed, found)
    present, after = assess(job, profiles, previous), assess(changed, profiles, previous)
    springs, springs_after = loaded_machine(job, present), loaded_machine(changed, after)
    compared = _BothJobs(job, changed, present, after, springs, springs_after, found)
    geometry_state = state_for_geometry(present.sag, present.predicted.sag)
    state: State = "static" if geometry_state.state == "static" else "rider"
    return WhatIf(
        differences=found,
        rows=tuple(_rows(compared, state)),
        state=geometry_state.state,
        preload=tuple(
            effect
            for end in ENDS
            if not compared.inputs_doubted(end)
            for effect in preload_effects(end, compared.springs, compared.springs_after)
        ),
        present=present,
        changed=after,
        appeared=_only_in(after.findings, present.findings),
        gone=_only_in(present.findings, after.findings),
        rider_by_scales_kg=converted_from(changed),
    )


def _as_tried(job: Job, changed: Job, found: Iterable[Difference]) -> Job:
    """The changed job with notes of what was fitted, and who was aboard, when something was measured."""
    for one in found:
        changed = noted(changed, one.path, job, tried=True)
    return changed


def _only_in(findings: tuple[Finding, ...], others: tuple[Finding, ...]) -> tuple[Finding, ...]:
    known = {(finding.code, finding.where) for finding in others}
    return tuple(finding for finding in findings if (finding.code, finding.where) not in known)


@record
class _BothJobs:
    """Both jobs with their assessments and loaded machines."""

    job: Job
    changed: Job
    present: Assessment
    after: Assessment
    springs: LoadedMachine
    springs_after: LoadedMachine
    differences: tuple[Difference, ...]

    def moved(self, end: End, state: State) -> Figure:
        """How much further an end is into its travel after the change."""
        if self._unaffected(end, state):
            return _ZERO
        if self._remeasured(end):
            return self._between_readings(end, state)
        if self.inputs_doubted(end):
            return absent("inputs_doubted")
        return derive(_less, self.springs_after.travel(end, state), self.springs.travel(end, state))

    def measured(self, end: End, state: State) -> Figure:
        """Sag as measured; absent where its readings cannot be relied on or are out of date."""
        if self._advice_code(end) in _NOT_RELIABLE:
            return absent("readings_doubtful")
        return self.present.sag.end(end).state(state).sag_mm

    def expected(self, end: End, state: State) -> Figure:
        """Sag to expect when it is measured again."""
        measured = self.measured(end, state)
        if self._remeasured(end) or not measured.known:
            return self.after.sag.end(end).state(state).sag_mm
        after = self.after.sag.end(end).state(state)
        if self._unaffected(end, state) or not after.changed:
            return after.sag_mm
        if self.inputs_doubted(end):
            return absent("inputs_doubted")
        foreseen = self.after.predicted.end(end).state(state)
        return derive(lambda mm, _: mm, foreseen.sag_mm, foreseen.carried_n)  # none where the load is doubted

    def predicted_then(self, end: End, state: State) -> tuple[Figure, str]:
        """Sag to predict after the change, and the stop it rests on: by scales and masses alone where it is now."""
        after = self.after.predicted.end(end).state(state)
        now, then = (a.sag.end(end).state(state) for a in (self.present, self.after))
        if now.changed or not then.changed:
            return after.sag_mm, after.limit
        model = self.springs_after.end(end)
        sag = derive(lambda mm: mm - model.unloaded.travel_mm, travel_under(model, after.load_n))
        load_n = after.load_n.value
        return sag, "" if load_n is None or not sag.known else model.equilibrium(load_n).limit.value

    def topped_out(self, end: End, state: State) -> tuple[bool, bool]:
        """Whether an end whose sag was measured is topped out now, and whether it is expected to be after the
        change."""
        now = self.present.sag.end(end).state(state).topped_out
        if self._remeasured(end):
            return now, self.after.sag.end(end).state(state).topped_out
        if self._unaffected(end, state):
            return now, now
        if self.inputs_doubted(end):
            return now, False
        model, load_n = self.springs_after.end(end), self.springs_after.load(end, state).value
        pressed_out = (
            model.computable.known and load_n is not None and model.equilibrium(load_n).limit is Limit.TOPPED_OUT
        )
        expected = self.expected(end, state).value
        return now, pressed_out or (now and expected is not None and expected <= TOPPED_OUT_MM)

    def inputs_doubted(self, end: End) -> bool:
        """Whether entries for an end must be wrong, so that nothing is concluded from them."""
        return self._advice_code(end) == "inputs_doubted"

    def _advice_code(self, end: End) -> str:
        advice = self.present.sag.end(end).advice
        return advice.code if advice is not None else ""

    def _between_readings(self, end: End, state: State) -> Figure:
        return derive(_less, *(a.sag.end(end).state(state).sag_mm for a in (self.after, self.present)))

    def _remeasured(self, end: End) -> bool:
        return any(difference.path[:2] == ("sag", end) for difference in self.differences)

    def _unaffected(self, end: End, state: State) -> bool:
        """Whether no change affects this end in this state."""
        return not any(_moves(difference.path, end, state) for difference in self.differences)


def _moves(path: Path, end: End, state: State) -> bool:
    if path[0] == end:
        return path != SPLIT and not _NOT_SPRING_OR_AIR.intersection(path)
    if path == _RIDER:
        return state == "rider"
    return path[0] == "weights" or path[:2] == ("sag", end) or (path == ("geometry", "rake_deg") and end == "front")


# --- rows ---------------------------------------------------------------------------------------------------------


def _rows(compared: _BothJobs, state: State) -> Iterator[WhatifRow]:
    heights = _heights(compared, state)
    now, then = (
        brakes_figures(job, a, with_ends=False).slow
        for job, a in ((compared.job, compared.present), (compared.changed, compared.after))
    )
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
        yield _row(where, "rise", _ZERO, heights[end])
        if end == "front":
            yield _row(where, "brakes_fork_mm", now.fork_used_mm, then.fork_used_mm)
        else:
            load = (now.rear_kg, then.rear_kg)
            yield WhatifRow(where=where, code="brakes_rear_kg", kind=Kind.MASS, present=load[0], changed=load[1])
        yield from _spring_rows(compared, end)
    yield from _geometry_rows(compared, state)
    yield _row(("geometry",), "brakes_trail_mm", now.trail_mm, then.trail_mm)


def _row(
    where: Path, code: str, present: Figure, changed: Figure, topped_out: tuple[bool, bool] = (False, False)
) -> WhatifRow:
    return WhatifRow(where=where, code=code, kind=Kind.LENGTH, present=present, changed=changed, topped_out=topped_out)


def _spring_rows(compared: _BothJobs, end: End) -> Iterator[WhatifRow]:
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
    compared: _BothJobs, where: Path, place: Side | End, *, both_legs: bool = False
) -> Iterator[WhatifRow]:
    """Travel at which two springs in one change over, where there are two now or after the change."""
    found = [
        next((one.at_mm for one in a.change_overs if one.place == place), None)
        for a in (compared.present, compared.after)
    ]
    if found != [None, None]:
        now, then = (Figure() if one is None else one for one in found)
        yield replace(_row(where, "change_over_mm", now, then), both_legs=both_legs)


def _heights(compared: _BothJobs, state: State) -> dict[End, Figure]:
    """How far each end of the machine rises, vertically."""
    job, changed = compared.job, compared.changed
    height = change_of(changed.front.fork_height_mm, _FORK_HEIGHT, job.front.fork_height_mm, _FORK_HEIGHT)
    rake = recorded(job.geometry.rake_deg, _RAKE)
    return {
        "front": derive(front_rise, compared.moved("front", state), height, rake),
        "rear": derive(rear_rise, compared.moved("rear", state), _length_rise(compared)),
    }


def _length_rise(compared: _BothJobs) -> Figure:
    """Rise at the wheel from a change of shock length."""
    length = change_of(compared.changed.rear.length_adjuster_mm, _LENGTH, compared.job.rear.length_adjuster_mm, _LENGTH)
    return _ZERO if length.value == 0.0 else derive(length_adjuster_rise, length, compared.present.rear.motion_ratio)


def _geometry_rows(compared: _BothJobs, state: State) -> Iterator[WhatifRow]:
    """Rows of geometry, in the state of the job's own, with each end moved as the change moves it."""
    now = compared.present.geometry
    geometry_state = state_for_geometry(compared.present.sag, compared.present.predicted.sag)
    if geometry_state.state != "extended":
        geometry_state = shifted(geometry_state, compared.moved("front", state), compared.moved("rear", state))
    then = geometry_figures(compared.changed, geometry_state, compared.after.rear.motion_ratio)
    for name, kind in _GEOMETRY_ROWS:
        yield WhatifRow(
            where=("geometry",), code=name, kind=kind, present=getattr(now, name), changed=getattr(then, name)
        )


def _less(a: float, b: float) -> float:
    return a - b
