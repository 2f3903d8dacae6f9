"""What the drawing of the machine from the side shows: its states with their points in mm, and both travels."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from stanchion.job.model import STATES, End, Job, State
from stanchion.job.spec import Kind
from stanchion.judgement.predict.side_states import side_states
from stanchion.judgement.results.assessment import Assessment
from stanchion.judgement.results.balance import Braking
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.side import RIDING, SideState, Standing
from stanchion.report.sheet_shape import Mark, Measure, SidePose, SideView, Travel
from stanchion.units.known_units import Units
from stanchion.units.quantity import show, unit_name
from stanchion.wording.figure_names import FIGURE_NAMES
from stanchion.wording.side_sentences import standing_words

FORK, REAR = "Fork", "Rear wheel"
"""Names of the travels that are drawn."""
_ESTIMATE = "~"
"""After a figure that is an estimate."""


def side_view(
    job: Job, a: Assessment, units: Units, *, riding: Sequence[Standing] = RIDING, braking: Braking | None = None
) -> SideView | None:
    """The machine from the side, where its steering geometry and both tyres are known.

    Args:
        job: the job.
        a: what assess() gave for it.
        units: units to show.
        riding: which of the states in which it brakes or drives.
        braking: the deceleration to look at; None: as entered, else the usual one.
    """
    poses = tuple(_pose(state, units) for state in side_states(job, a, riding=riding, braking=braking))
    if not poses:
        return None
    known = {travel.name: travel for travel in travels(job, a, units)}
    return SideView(poses=poses, fork=known.get(FORK), rear=known.get(REAR))


def _pose(state: SideState, units: Units) -> SidePose:
    """One state as it is drawn."""
    return SidePose(
        state=state.state,
        name=standing_words(state),
        parts=state.parts,
        fork_used_mm=state.fork_used_mm.value or 0.0,
        rear_used_mm=state.rear_used_mm.value,
        rake=measure(state.rake_deg, Kind.ANGLE, units),
        trail=measure(state.trail_mm, Kind.LENGTH, units),
        wheelbase=measure(state.wheelbase_mm, Kind.LENGTH, units),
        fork_used=measure(state.fork_used_mm, Kind.LENGTH, units),
        rear_used=measure(state.rear_used_mm, Kind.LENGTH, units),
        front_load=measure(state.front_kg, Kind.MASS, units),
        rear_load=measure(state.rear_kg, Kind.MASS, units),
    )


def measure(figure: Figure, kind: Kind, units: Units) -> Measure:
    """A figure as the drawing has it."""
    if figure.value is None:
        return Measure()
    text, unit = show(figure.value, kind, units), unit_name(kind, units)
    mark = _ESTIMATE if figure.estimate else ""
    return Measure(text.removesuffix(unit).rstrip() + mark, unit, text + mark)


ROWS: tuple[tuple[str, str], ...] = (
    (FIGURE_NAMES["rake_deg"], "rake"),
    (FIGURE_NAMES["trail_mm"], "trail"),
    (FIGURE_NAMES["wheelbase_mm"], "wheelbase"),
    (FIGURE_NAMES["fork_used_mm"], "fork_used"),
    (FIGURE_NAMES["rear_used_mm"], "rear_used"),
    (FIGURE_NAMES["front_kg"], "front_load"),
    (FIGURE_NAMES["rear_kg"], "rear_load"),
)
"""The numbers that differ between the states: name, field of SidePose."""


def travels(job: Job, a: Assessment, units: Units) -> Iterator[Travel]:
    """The fork's travel and the rear wheel's, where they are known and there is a sag to show on them; on the fork's
    also how deep the latest run went.

    Args:
        job: the job.
        a: what assess() gave for it.
        units: units to show.
    """
    used = a.run.front.used_mm.value if a.run is not None else None
    for end, name, full, deepest in (
        ("front", FORK, job.front.travel_mm, used),
        ("rear", REAR, job.rear.wheel_travel_mm, None),
    ):
        marks = [mark for state in STATES if (mark := _on_travel(a, end, state, units)) is not None]  # type: ignore[arg-type]
        if full is not None and marks:
            marks += [length_mark("deepest", deepest, units)] if deepest is not None else []
            yield Travel(name, length_mark("full travel", full, units), tuple(marks))


def _on_travel(a: Assessment, end: End, state: State, units: Units) -> Mark | None:
    """A sag on the travel: as read, or as predicted where that is old; None where none was read."""
    of, foreseen = a.sag.end(end).state(state), a.predicted.sag(end, state)
    if of.shown_mm.value is None:
        return None
    if of.is_old and foreseen.value is not None:
        return replace(length_mark(state, foreseen.value, units), predicted=True)
    return length_mark(state, of.shown_mm.value, units, old=of.is_old)


def length_mark(name: str, mm: float, units: Units, *, old: bool = False) -> Mark:
    """A place on a drawing by its length."""
    return Mark(name, mm, show(mm, Kind.LENGTH, units), old)
