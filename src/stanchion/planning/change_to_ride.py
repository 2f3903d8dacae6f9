"""Choosing a change that is to be judged by riding: the settings it alters and what is expected of it."""

from __future__ import annotations

from collections.abc import Iterable

from stanchion.base.record import record
from stanchion.job.change import ChangeToRide, ExpectedEffect
from stanchion.job.complaint import Complaint
from stanchion.job.diff import Difference
from stanchion.job.edit import Edit, apply
from stanchion.job.model import End, Job, State
from stanchion.job.proof import AT, moves_of, with_change
from stanchion.job.returning import AT as LIST_AT
from stanchion.job.returning import returning, setup_of
from stanchion.job.spec import Number, specs_of
from stanchion.judgement.criteria.profiles import Profiles
from stanchion.judgement.criteria.thresholds import NOT_SHOWN_MM
from stanchion.judgement.work.work_list import work_between
from stanchion.planning.whatif import WhatIf, compare
from stanchion.planning.whatif_rows import WhatifRow


@record
class ChosenChange:
    """A change, and the job as it would be with it."""

    change: ChangeToRide
    after: Job
    differences: tuple[Difference, ...]
    """The settings it alters, each before and after."""


def chosen_change(
    job: Job,
    edits: Iterable[Edit],
    profiles: Profiles,
    previous: Job | None = None,
    complaints: Iterable[Complaint] = (),
) -> ChosenChange | None:
    """A change as it is recorded; None where the edits leave nothing to do on the machine.

    Args:
        job: the job as the machine is.
        edits: what is changed.
        profiles: bands and targets.
        previous: the job it was carried from, where it is to hand.
        complaints: what it is meant to help against.

    Raises:
        BadEdit: the job refuses one of the edits.
    """
    after = job
    for edit in edits:
        after = apply(after, edit)
    items = work_between(setup_of(job), setup_of(after)).items
    found = tuple(dict.fromkeys(one for item in items for one in (*item.changes, *item.along)))
    moves = moves_of(found)
    if not moves:
        return None
    expected = expected_of(compare(job, after, profiles, previous))
    change = ChangeToRide(complaints=tuple(complaints), moves=moves, expected=expected)
    return ChosenChange(change, after, found)


def expected_of(seen: WhatIf) -> ExpectedEffect:
    """What a trial says that the change moves: of each sag the one by the measured sag, else the predicted. A figure
    that stays as it is is left out."""

    def moved(row: WhatifRow) -> float | None:
        now, then = row.present.value, row.changed.value
        stays = now is not None and then is not None and abs(then - now) < NOT_SHOWN_MM
        return None if stays else then

    def sag(end: End, state: State) -> float | None:
        for code in (f"{state}_captured", f"{state}_predicted"):
            row = seen.row((end,), code)
            if row.changed.value is not None and not row.topped_out[1]:
                return moved(row)
        return None

    return ExpectedEffect(
        **_recorded(
            {
                "front_static_mm": sag("front", "static"),
                "front_rider_mm": sag("front", "rider"),
                "rear_static_mm": sag("rear", "static"),
                "rear_rider_mm": sag("rear", "rider"),
                "fork_brakes_mm": moved(seen.row(("front",), "brakes_fork_mm")),
                "trail_mm": moved(seen.row(("geometry",), "trail_mm")),
            }
        )
    )


def _recorded(figures: dict[str, float | None]) -> dict[str, float | None]:
    """The figures as they are recorded; none that lies beyond the limits of its field, as it could not be read back."""
    specs = specs_of(ExpectedEffect)
    kept: dict[str, float | None] = {}
    for name, value in figures.items():
        of = specs[name]
        within = isinstance(of, Number) and value is not None and of.low <= value <= of.high
        kept[name] = round(value, 2) if within and value is not None else None
    return kept


def on_work_list(job: Job, chosen: ChosenChange, title: str) -> tuple[Edit, ...]:
    """The edits that put a change on the work list, and record it as still to be made.

    Args:
        job: the job as the machine is.
        chosen: the change.
        title: what it is, in words.
    """
    list_of = returning(job, setup_of(chosen.after), job="", run=None, title=title)
    return Edit(LIST_AT, list_of), Edit(AT, with_change(job, chosen.change, None))
