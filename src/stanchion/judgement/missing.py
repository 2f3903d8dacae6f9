"""What is still to be measured: one note for each part, in the order the readings are taken."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stanchion.job.model import ENDS, SIDES, Job, Path
from stanchion.judgement.criteria.profiles import Profile
from stanchion.judgement.ends.air_leg import air_of_leg
from stanchion.judgement.ends.rear import air_of_shock
from stanchion.judgement.results.assessment import Assessment, FrontFigures, PreloadFigures, RearFigures, SagFigures
from stanchion.judgement.results.figures import Figure
from stanchion.judgement.results.findings import Finding, Severity

_ORDER = (
    "rate_n_per_mm",
    "stop_mm",
    "gap_mm",
    "free_length_mm",
    "set_length_mm",
    "set_length_at",
    "set_length_in_mm",
    "total_turns",
    "total_clicks",
    "pitch_mm",
    "click_mm",
    "reading_out",
    "reading_in",
    "now",
    "pressure_bar",
    "bore_mm",
    "length_mm",
    "balance",
    "port_mm",
    "balance_bar",
    "rod_mm",
    "balance_length_mm",
    "outer_bar",
    "outer_bore_mm",
    "outer_tube_mm",
    "outer_length_mm",
    "motion_ratio",
    "linkage",
    "hanging_mm",
    "static",
    "rider",
    "down_mm",
    "up_mm",
    "travel_mm",
    "wheel_travel_mm",
)
PARTS = ("machine", "front", "rear", "sag", "predict")
"""The parts of a job that are measured, in the order of the screens."""
_PLACE = {name: place for place, name in enumerate(_ORDER)}


def missing_findings(
    job: Job, profile: Profile, front: FrontFigures, rear: RearFigures, sag: SagFigures
) -> Iterator[Finding]:
    """One note for each part with figures that need further readings."""
    for side in SIDES if job.front.split else SIDES[:1]:
        figures = front.left if side == "left" else front.right
        if figures.has_spring:
            values: dict[str, object] = {} if job.front.split else {"both_legs": True}
            yield from _note(("front", side), _spring(figures), values)
        elif job.front.leg(side).air.fitted:
            values = {} if job.front.split else {"both_legs": True}
            yield from _note(("front", side), (air_of_leg(job, side).known,), values)
    air = air_of_shock(job)
    sprung = _spring(rear.spring) if air is None else (air.known,)
    yield from _note(("rear",), (*sprung, rear.motion_ratio, rear.wheel_rate_n_per_mm), {})
    for end in ENDS:
        figures_there = sag.end(end)
        waiting = [
            figure
            for state in (figures_there.static, figures_there.rider)
            for figure in (state.sag_mm, state.stiction_mm)
        ]
        travel = _travel_for_targets(job, profile, end)
        if not all(figure.known or figure.problem for figure in waiting) or travel.needs:
            yield from _note(("sag", end), (*waiting, travel), {})


def next_missing(part: str, a: Assessment, after: Path | None) -> Path | None:
    """The next missing reading of a part; after the last one, the first again.

    Where the part lacks none, the first one of the next part that does. None where no reading is missing.

    Args:
        part: "machine", "front", "rear", "sag" or "predict".
        a: the assessment of the job.
        after: the field in hand.
    """
    at = PARTS.index(part)
    for other in (*PARTS[at:], *PARTS[:at]):
        needs = _missing_readings(other, a)
        if needs:
            return needs[(needs.index(after) + 1) % len(needs)] if after in needs else needs[0]
    return None


def _missing_readings(part: str, a: Assessment) -> list[Path]:
    """The readings that the figures of a part lack, each once, in the order they are taken."""
    needs: dict[Path, None] = {}
    if part in ("machine", "predict"):
        for end in ENDS:
            predicted = a.predicted.end(end)
            for figure in (predicted.static.sag_mm, predicted.rider.sag_mm, predicted.turns_for_target):
                needs.update(dict.fromkeys(() if figure.known else figure.needs))
    own = ("geometry",) if part in ("machine", "predict") else (part,)
    for finding in a.findings:
        if finding.code == "missing" and finding.where[:1] == own:
            needs.update(dict.fromkeys(finding.values["needs"]))  # type: ignore[call-overload]
    return [path for path in needs if part != "machine" or path[0] in ("job", "weights", "geometry")]


def _spring(figures: PreloadFigures) -> tuple[Figure, ...]:
    return (
        figures.preload_force_n,
        figures.greatest_preload_mm,
        figures.mm_per_turn,
        figures.headroom_in_mm,
        figures.headroom_in_turns,
    )


def _travel_for_targets(job: Job, profile: Profile, end: str) -> Figure:
    """The travel where a target is a share of it and it is not recorded; otherwise a known figure."""
    front = end == "front"
    of_end = profile.front if front else profile.rear
    shares = any(target and target.as_share_of_travel for target in (of_end.static_sag, of_end.rider_sag))
    travel = job.front.travel_mm if front else job.rear.wheel_travel_mm
    path: Path = ("front", "travel_mm") if front else ("rear", "wheel_travel_mm")
    return Figure(needs=(path,)) if shares and travel is None else Figure(0.0)


def _note(where: Path, figures: Iterable[Figure], values: dict[str, object]) -> Iterator[Finding]:
    needs: dict[Path, None] = {}
    for figure in figures:
        if not figure.known:
            needs.update(dict.fromkeys(figure.needs))
    if needs:
        yield Finding("missing", Severity.NOTE, where, {"needs": tuple(sorted(needs, key=_place)), **values})


def _place(path: Path) -> tuple[int, ...]:
    return tuple(_PLACE[step] for step in path if isinstance(step, str) and step in _PLACE)
